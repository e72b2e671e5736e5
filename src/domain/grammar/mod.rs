//! The short grammar of evening entry: codes in any order, with or without spaces, that say what was seen and done.
//!
//! [`codes::parse`] reads them, [`print::codes_of`] writes them, [`resolve::resolve`] makes a visit of them at one hive,
//! [`plain_words::read_found`] takes plain words for them (imports), and [`describe::describe`] says a visit as a
//! sentence. [`hints::HINTS`] lists every code for the screen and the paper.

pub mod codes;
pub mod contradiction;
pub mod describe;
pub mod hints;
pub mod plain_words;
pub mod print;
mod reader;
pub mod resolve;
