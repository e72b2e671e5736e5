//! Tests that need files or several layers, in one binary so that they link once.

#![allow(clippy::unwrap_used, clippy::expect_used)] // a test that cannot read its data has failed

mod kill;
mod paper;
mod register;
mod register_properties;
mod run_solver;
mod things;
