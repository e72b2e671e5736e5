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

use crate::ui::theme::Tokens;

/// What fills the box: how old the queen is, or that there is none.
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

/// How the lid lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Lid {
    /// Nothing due: a thin bar.
    Quiet,
    /// A window is open: a thick bar.
    Due,
    /// The latest day has passed: a thick bar with a gap.
    Late,
    /// Introduction failed or queenless: the bar is lifted at an angle.
    Action,
    /// Not to be requeened: a thick dark bar, and a stroke through the box.
    Barred,
}

/// A whole yard as one box.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stack {
    /// Hives of each fill, in the order of [`Fill::ALL`] (youngest on top).
    pub bands: [u32; 7],
    /// The most urgent state in the yard.
    pub lid: Lid,
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

impl Lid {
    /// Least urgent first, barred last.
    pub const ALL: [Self; 5] = [Self::Quiet, Self::Due, Self::Late, Self::Action, Self::Barred];

    /// As said in a glyph's accessible name.
    pub fn words(self) -> &'static str {
        match self {
            Self::Quiet => "nothing due",
            Self::Due => "due",
            Self::Late => "late",
            Self::Action => "needs action",
            Self::Barred => "barred",
        }
    }

    /// The colour of the bar.
    pub fn color(self, t: &Tokens) -> Color32 {
        match self {
            Self::Quiet => t.lid_quiet,
            Self::Due => t.lid_due,
            Self::Late | Self::Action => t.lid_late,
            Self::Barred => t.lid_barred,
        }
    }
}
