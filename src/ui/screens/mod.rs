//! The screens. Each shows the scene, keeps its own drafts, and pushes actions to the outbox.

pub mod bands;
pub mod evening;
pub mod form;
pub mod map;
pub mod programme;
pub mod run;
pub mod setup;
pub mod start;
