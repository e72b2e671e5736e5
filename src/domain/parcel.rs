//! Queens or cells that arrive together.

use serde::{Deserialize, Serialize};

use crate::domain::day::Day;
use crate::domain::ids::{ParcelId, SourceId};
use crate::domain::queen::{Birth, Dot};

/// A parcel. How many were given follows from the records that name it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Parcel {
    /// Its id.
    pub id: ParcelId,
    /// The breeder or own line.
    pub source: Option<SourceId>,
    /// What it holds.
    pub kind: ParcelKind,
    /// How many were sent, dead ones included.
    pub count: u32,
    /// How many were dead on arrival, or died in hand.
    pub dead: u32,
    /// How many left it other than into a colony (sold, given away, returned).
    pub gone: u32,
    /// The day it was sent.
    pub sent: Option<Day>,
    /// The day it was first due.
    pub due: Option<Day>,
    /// The day now promised, where it is late.
    pub promised: Option<Day>,
    /// The day it arrived; nothing: still awaited.
    pub arrived: Option<Day>,
    /// For cells: the day of the graft.
    pub grafted: Option<Day>,
    /// When its queens were born (emerged), known, bounded or unknown. Always unknown for cells: their queens emerge in the
    /// hives. Left out of the row where unknown, so that rows of older forms of the file stay as they are.
    #[serde(default, skip_serializing_if = "is_unknown")]
    pub born: Birth,
    /// The dot they came with; none for cells.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub dot: Option<Dot>,
    /// Put away by hand although some are left.
    pub closed: bool,
    /// Free words.
    pub note: String,
}

/// What a parcel holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum ParcelKind {
    /// Mated queens in cages.
    CagedQueens,
    /// Mature queen cells.
    Cells,
    /// Virgin queens.
    Virgins,
}

impl ParcelKind {
    /// `Caged queens`.
    pub fn words(self) -> &'static str {
        match self {
            Self::CagedQueens => "Caged queens",
            Self::Cells => "Mature cells",
            Self::Virgins => "Virgins",
        }
    }
}

impl Parcel {
    /// The day it is expected: the promised one, else the one it was first due.
    pub fn expected(&self) -> Option<Day> {
        self.promised.or(self.due)
    }

    /// Alive on arrival and not gone elsewhere.
    pub fn usable(&self) -> u32 {
        self.count.saturating_sub(self.dead).saturating_sub(self.gone)
    }
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "serde hands fields over by reference")]
fn is_unknown(born: &Birth) -> bool {
    born.is_unknown()
}
