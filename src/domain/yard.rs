//! A yard: where hives stand, how one gets in, what to beware of, and how its hives are laid out.

use serde::{Deserialize, Serialize};

use crate::domain::ids::YardId;
use crate::domain::place::Place;

/// A yard as it is known now.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Yard {
    /// Its id.
    pub id: YardId,
    /// Its name, unique among the yards (case and accents aside).
    pub name: String,
    /// Where it lies; a yard may be known before its place is.
    pub place: Option<Place>,
    /// How one gets in: gate code, track, whom to call.
    pub access: String,
    /// When the gate is open.
    pub gate: Option<Gate>,
    /// What to beware of there: no signal, steep, cattle, fire district.
    pub hazards: Vec<String>,
    /// Yards of one group share tools without washing between them; empty: a group of its own.
    pub hygiene_group: String,
    /// How its hives are laid out.
    pub layout: Layout,
    /// Usual minutes of service at the yard, hives included; more where the due work takes more. Nothing: reckoned by
    /// the settings.
    pub minutes: Option<u32>,
    /// Free words.
    pub note: String,
}

impl Yard {
    /// A yard of which only the name is known.
    pub fn named(id: YardId, name: &str) -> Self {
        Self {
            id,
            name: name.to_owned(),
            place: None,
            access: String::new(),
            gate: None,
            hazards: Vec::new(),
            hygiene_group: String::new(),
            layout: Layout::Rows,
            minutes: None,
            note: String::new(),
        }
    }
}

/// Gate hours in minutes since midnight, local time: 0 to 1440, `opens` before `closes`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Gate {
    /// First minute one can get in.
    pub opens: u16,
    /// Minute by which one must be out.
    pub closes: u16,
}

/// How the hives of a yard are laid out.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Layout {
    /// In rows; a spot is a row and a place in it.
    #[default]
    Rows,
    /// On pallets of four; a spot is a pallet and one of its corners.
    Pallets,
}

/// Where in the yard a hive stands. Both numbers count from 1; on pallets `place` is the corner, 1 to 4.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub struct Spot {
    /// Row, or pallet.
    pub row: u16,
    /// Place in the row, or corner of the pallet.
    pub place: u16,
}
