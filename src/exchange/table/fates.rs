//! What becomes of the things an export tells of hives that are in the register already: which of them are there, which
//! take the place of what is there, and which are left.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use uuid::Uuid;

use crate::domain::colony::{Colony, Stand};
use crate::domain::day::Day;
use crate::domain::ids::{PlanId, QueenId, RecordId};
use crate::domain::plan::Plan;
use crate::domain::yard::Spot;
use crate::exchange::table::plan::{NewPlan, NewRecord, QueenKey};

/// What of the told hives is in the register already, and what becomes of it.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Known {
    /// By the number among the told hives.
    pub hives: BTreeMap<usize, KnownHive>,
    /// By the number among the told records; those that are not here are new.
    pub records: BTreeMap<usize, Fate<RecordId>>,
    /// By the number among the told plans; those that are not here are new.
    pub plans: BTreeMap<usize, Fate<PlanId>>,
    /// Plans of the register that fall because their hive has ended.
    pub fallen: Vec<Plan>,
    pub queens: BTreeMap<QueenKey, QueenId>,
    /// Evenings of the register, by their number in the file.
    pub evenings: BTreeMap<u32, Uuid>,
    /// New hives that cannot come in, by their number among the told ones.
    pub dropped: BTreeSet<usize>,
}

/// A hive of the register of which the file tells, and what is taken from the file.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct KnownHive {
    pub held: Arc<Colony>,
    pub take: TakeOf,
}

impl KnownHive {
    /// The register's hive with what is taken from the one that is told.
    pub fn merged_with(&self, told: &Colony, today: Day) -> Colony {
        let mut colony = Colony::clone(&self.held);
        let take = &self.take;
        if take.names {
            colony.names.clone_from(&told.names);
        }
        if take.stands {
            colony.stands.clone_from(&told.stands);
        }
        if let (Some(spot), Some(yard)) = (take.spot, colony.yard()) {
            colony.stands.retain(|stand| stand.from < today);
            colony.stands.push(Stand { yard, spot: Some(spot), from: today });
        }
        if take.lid {
            colony.lid.clone_from(&told.lid);
        }
        if take.founded {
            let first = self.held.founded;
            if let Some(named) = colony.names.first_mut().filter(|named| named.from == first) {
                named.from = told.founded;
            }
            if let Some(stand) = colony.stands.first_mut().filter(|stand| stand.from == first) {
                stand.from = told.founded;
            }
            colony.founded = told.founded;
        }
        if take.how {
            colony.how = told.how;
        }
        if take.began_with {
            colony.began_with = told.began_with;
        }
        if take.ended {
            colony.ended.clone_from(&told.ended);
        }
        if take.note {
            colony.note.clone_from(&told.note);
        }
        if take.corrected {
            colony.corrected.clone_from(&told.corrected);
        }
        colony
    }
}

impl Known {
    /// Nothing is taken of hives that are there.
    pub fn leave_all(&mut self, records: &[NewRecord], plans: &[NewPlan]) {
        let hives = &mut self.hives;
        for known in hives.values_mut() {
            known.take = TakeOf::default();
        }
        let told = records.iter().enumerate().filter(|(_, it)| hives.contains_key(&it.hive));
        self.records.extend(told.map(|(at, _)| (at, Fate::Leave)));
        let told = plans.iter().enumerate().filter(|(_, it)| hives.contains_key(&it.hive));
        self.plans.extend(told.map(|(at, _)| (at, Fate::Leave)));
        self.fallen.clear();
    }
}

/// Which of a hive's own things are taken from the file; the others stay as they are in the register.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct TakeOf {
    pub names: bool,
    pub stands: bool,
    pub lid: bool,
    pub founded: bool,
    pub how: bool,
    pub began_with: bool,
    pub ended: bool,
    pub note: bool,
    pub corrected: bool,
    /// It moved to this spot of its yard on the day of the import.
    pub spot: Option<Spot>,
}

impl TakeOf {
    /// Something is taken.
    pub fn any(&self) -> bool {
        *self != Self::default()
    }
}

/// What becomes of a told thing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Fate<T> {
    /// It takes the place of this one.
    Instead(T),
    /// It is there already, or is held back.
    Leave,
}
