//! Lid labels, run sheets and the calibration page: a job in, PDF bytes out. No files, no clock.
//!
//! A job holds finished words; nothing here knows a hive from a queen. Begin at [`job`], then `labels` and
//! `run_sheet`, which lay a job out, then `letters` (shaping and widths) and `canvas` (ink, in millimetres).

pub mod calibration;
mod canvas;
mod document;
pub mod job;
mod label_style;
pub mod labels;
mod letters;
pub mod of_world;
pub mod remarks;
mod run_page;
mod run_rows;
pub mod run_sheet;
mod run_sketch;
mod setting;
pub mod sheet;
pub mod sheet_text;
