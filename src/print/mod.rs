//! Lid labels and run sheets: a job in, PDF bytes out. No files.
