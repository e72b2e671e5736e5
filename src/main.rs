//! Starts Lidnote.
fn main() {}
