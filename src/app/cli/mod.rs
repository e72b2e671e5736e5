//! Lidnote without a window: the same code paths, results on standard output, messages on standard error.

pub mod args;
