//! The glue: state, threads, clock, files, command line. The only layer that knows all the others.
