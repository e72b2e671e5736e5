//! The screens driven by role and label, without a display.

mod run;
mod run_stage;
