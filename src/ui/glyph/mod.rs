//! The hive and the stack: a box whose fill is the queen's age, under a lid whose form is what is due.
//!
//! Many glyphs go into one mesh: `let pen = Pen::new(ui); pen.hive(&mut mesh, top_left, 28.0, fill, lid);` then
//! `ui.painter().add(mesh)`. One glyph among words: `hive_widget(ui, 20.0, fill, lid, "B14, first season, due")`.

mod form;
mod marks;
mod pen;
mod quads;
#[cfg(test)]
mod tests;
mod widget;

pub use form::StackSize;
pub use marks::{count, selection};
pub use pen::{Pen, age_bar};
pub use widget::{hive_widget, stack_widget};

use egui::Color32;

use crate::domain::standing::{AgeClass, LidState};
use crate::ui::theme::Tokens;

/// What fills the box: how old the queen is, or that there is none; where the map is coloured by the last look, the first
/// five say how long ago that was.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Fill {
    /// First season.
    First,
    /// Second season.
    Second,
    /// Third season.
    Third,
    /// Fourth season or older.
    Older,
    /// There is a queen of unknown age: a field of dots.
    Unknown,
    /// No queen: a ring.
    Queenless,
    /// No queen on purpose, hers is awaited: a double ring.
    Waiting,
}

/// A whole yard as one box.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stack {
    /// Hives of each fill, in the order of [`Fill::ALL`] (youngest on top).
    pub bands: [u32; 7],
    /// The most urgent state in the yard.
    pub lid: LidState,
    /// The whole yard is barred: a stroke through the box whatever the lid.
    pub barred: bool,
}

impl Fill {
    /// Youngest first, then the unknown, then those without a queen.
    pub const ALL: [Self; 7] =
        [Self::First, Self::Second, Self::Third, Self::Older, Self::Unknown, Self::Queenless, Self::Waiting];

    /// As said in a glyph's accessible name.
    pub fn words(self) -> &'static str {
        match self {
            Self::First => "first season",
            Self::Second => "second season",
            Self::Third => "third season",
            Self::Older => "older",
            Self::Unknown => "age not known",
            Self::Queenless => "queenless",
            Self::Waiting => "waiting for her queen",
        }
    }

    /// The colour of the box inside its outline.
    pub fn color(self, t: &Tokens) -> Color32 {
        match self {
            Self::First => t.age_1,
            Self::Second => t.age_2,
            Self::Third => t.age_3,
            Self::Older => t.age_4,
            Self::Unknown | Self::Queenless | Self::Waiting => t.glyph_empty,
        }
    }
}

/// The colour of the bar that is the lid.
pub fn lid_color(lid: LidState, t: &Tokens) -> Color32 {
    match lid {
        LidState::Quiet => t.lid_quiet,
        LidState::Due => t.lid_due,
        LidState::Late | LidState::Action => t.lid_late,
        LidState::Barred => t.lid_barred,
    }
}

impl From<AgeClass> for Fill {
    fn from(age: AgeClass) -> Self {
        match age {
            AgeClass::First => Self::First,
            AgeClass::Second => Self::Second,
            AgeClass::Third => Self::Third,
            AgeClass::Older => Self::Older,
            AgeClass::Unknown => Self::Unknown,
            AgeClass::Queenless => Self::Queenless,
            AgeClass::Waiting => Self::Waiting,
        }
    }
}
