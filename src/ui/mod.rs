//! Everything drawn. Reads the world, writes only to an outbox of actions; never sees the register, files or threads.

pub mod action;
pub mod card;
pub mod event;
mod given_from;
pub mod glyph;
pub mod import_model;
pub mod map;
pub mod scene;
pub mod screens;
pub mod shell;
pub mod state;
pub mod theme;
pub mod widgets;
pub mod window;
pub mod written;
