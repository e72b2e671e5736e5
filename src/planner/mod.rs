//! Pure functions of the world, a day and limits: what is due where, and the run.

pub mod outlook;
pub mod run;
pub mod strip;
