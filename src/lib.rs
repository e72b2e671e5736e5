//! Lidnote: queens, due looks and yard runs for a beekeeper with many yards.
//!
//! The layers, each allowed to use only those named after the arrow:
//!
//! ```text
//! domain   -> nothing
//! roads    -> domain
//! planner  -> domain, roads
//! register -> domain
//! print    -> domain, planner
//! exchange -> domain, planner
//! ui       -> domain, planner
//! app      -> all of them
//! ```
//!
//! `tests/architecture.rs` holds the table. Begin reading at `domain::world`, `domain::decide` and
//! `domain::standing`.

pub mod app;
pub mod domain;
pub mod exchange;
pub mod planner;
pub mod print;
pub mod register;
pub mod roads;
pub mod ui;
