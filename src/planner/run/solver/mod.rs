//! Orders the stops of one run. Plain numbers in, plain numbers out: seconds of the day, seconds of driving.
//!
//! [`solve::solve`] is the way in. Up to [`problem::EXACT_STOPS`] stops the order is proven shortest by dynamic
//! programming: `exact` finds the least total time, `driving` the least driving within it, `choice` which stops to
//! leave out when not all fit. Above that `search` looks for a good order, and says that it is no more; `course` walks
//! along its candidates. [`timetable::timetable`] gives the times of any order, with what is wrong with it.

mod choice;
mod course;
mod driving;
mod exact;
pub mod problem;
mod random;
mod search;
pub mod solve;
#[cfg(test)]
mod tests;
pub mod timetable;
pub mod watch;
