//! The rules of the trade: plain functions on plain data. No clock, no disk, no screen, no threads.
