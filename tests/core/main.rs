//! Tests that need files or several layers, in one binary so that they link once.

#![allow(clippy::unwrap_used, clippy::expect_used)] // a test that cannot read its data has failed

mod amending;
mod choosing;
mod cli;
mod decide;
mod edges;
mod examples;
mod exchange;
mod kill;
mod kit;
mod paper;
mod parcels;
mod properties;
mod register;
mod register_properties;
mod rules;
mod run_order;
mod run_solver;
mod taking_over;
mod things;
