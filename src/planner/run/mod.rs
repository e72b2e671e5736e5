//! One vehicle's run on one day: what is due becomes stops, the solver puts them in order.

pub mod lights;
pub mod load;
pub mod plan;
pub mod propose;
pub mod solver;
pub mod work_words;
