//! The rules of due work as tables: what was given, done and found, and what it means.

mod ages;
mod aurell;
mod bars;
mod corners;
mod finds;
mod hives;
mod issue;
mod lids;
mod pairs;
mod properties;
mod waiting;
