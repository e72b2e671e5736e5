//! The screens driven by role and label, without a display.

#![allow(clippy::unwrap_used, clippy::expect_used)] // a test that cannot find its control has failed

#[path = "../core/kit.rs"]
#[allow(dead_code)] // the tests of the core use the rest of it
mod kit;

mod card;
mod card_stage;
mod evening;
mod import;
mod keys;
mod map;
mod map_stage;
mod not_recorded;
mod programme;
mod run;
mod run_stage;
mod setup;
mod several;
mod small;
mod start;
mod tab_order;
mod window_stage;
