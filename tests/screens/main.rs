//! The screens driven by role and label, without a display.

mod card;
mod card_stage;
mod run;
mod run_stage;
