//! The rules of the trade: plain functions on plain data. No clock, no disk, no screen, no threads.
//!
//! In reading order: the plain things (`ids`, `day`, `place`, `settings`, `yard`, `queen`, `colony`, `visit`, `record`,
//! `parcel`, `plan`, `bar`, `run_order`), all of them together ([`world`]), what the beekeeper can decide ([`change`]),
//! what a decision does ([`fact`]), and why one is refused ([`refusal`]). What follows from the records on a day: what
//! brood proves ([`brood`]), how a colony stands and what is due there ([`standing`], [`work`]), and the note for its lid
//! ([`lid_note`]).

pub mod bar;
pub mod birth_words;
pub mod brood;
pub mod capital;
pub mod carried_off;
pub mod change;
pub mod choose;
pub mod colony;
pub mod day;
pub mod day_words;
pub mod decide;
pub mod evening;
pub mod fact;
pub mod fold_text;
pub mod found;
pub mod grammar;
pub mod ids;
pub mod in_hand;
pub mod initials;
pub mod lid_note;
pub mod name;
pub mod parcel;
pub mod place;
pub mod place_words;
pub mod plan;
pub mod queen;
pub mod rates;
pub mod record;
pub mod refusal;
pub mod run_order;
pub mod settings;
pub mod standing;
pub mod visit;
pub mod work;
pub mod world;
pub mod yard;
