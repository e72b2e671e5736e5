//! Tests that need files or several layers, in one binary so that they link once.

mod run_solver;
