//! The glue: state, threads, clock, files, command line. The only layer that knows all the others.

pub mod cli;
pub mod clock;
pub mod files;
pub mod jobs;
pub mod outputs;
pub mod packs;
pub mod prefs;
pub mod wake;
pub mod worker;
