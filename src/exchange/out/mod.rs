//! What leaves the program: tables, points, routes and calendars, as text.

pub mod calendar;
pub mod cells;
pub mod lists;
pub mod route;
