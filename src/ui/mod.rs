//! Everything drawn. Reads the world, writes only to an outbox of actions; never sees the register, files or threads.

pub mod action;
pub mod glyph;
pub mod map;
pub mod scene;
pub mod theme;
pub mod widgets;
