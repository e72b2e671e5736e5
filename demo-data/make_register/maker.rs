//! Writes the register change by change, with instants and ids of its own, so that every run writes the same.

use std::error::Error;
use std::path::Path;
use std::sync::Arc;

use chrono::{DateTime, Utc};
use lidnote::domain::change::{Change, NewVisit, Occasion};
use lidnote::domain::day::Day;
use lidnote::domain::grammar::codes::parse;
use lidnote::domain::grammar::resolve::{Choice, resolve};
use lidnote::domain::ids::ColonyId;
use lidnote::domain::in_hand::draw::Hand;
use lidnote::domain::queen::Queen;
use lidnote::domain::world::World;
use lidnote::register::Register;
use uuid::{Builder, Uuid};

/// What is done here either works or says why not.
pub type Done<T = ()> = Result<T, Box<dyn Error>>;

/// Days from 1 January of year 1 (day 1) to 1 January 1970.
const EPOCH: i64 = 719_163;
/// Changes are typed in from 18:00 on, eleven hours ahead of UTC.
const EVENING_MS: i64 = (18 - 11) * 3_600_000;
/// Between one change and the next.
const PAUSE_MS: i64 = 40_000;

/// One hive's row of an evening, as it is typed.
pub struct Row {
    /// The colony.
    pub colony: ColonyId,
    /// The codes.
    pub codes: String,
    /// What is known of a queen given.
    pub choice: Choice,
}

/// The register while it is made.
pub struct Maker {
    register: Register,
    clock: i64,
    tail: [u8; 10],
}

impl Maker {
    /// A new register in that file.
    pub fn create(path: &Path, tail: [u8; 10]) -> Done<Self> {
        Ok(Self { register: Register::create(path)?, clock: 0, tail })
    }

    /// What is known now.
    pub fn world(&self) -> Arc<World> {
        self.register.world()
    }

    /// The register, when all is written.
    pub fn finish(self) -> Register {
        self.register
    }

    /// A new id, later than all before it.
    pub fn mint(&mut self) -> Uuid {
        self.clock += 1;
        Builder::from_unix_timestamp_millis(self.clock as u64, &self.tail).into_uuid()
    }

    /// Goes on to a day's evening, or further into it. Ids that a change needs are minted after this.
    pub fn sit_down(&mut self, day: Day) {
        let evening = (i64::from(day.number()) - EPOCH) * 86_400_000 + EVENING_MS;
        self.clock = evening.max((self.clock / 1000 + 1) * 1000 + PAUSE_MS);
    }

    /// Applies a change on a day.
    pub fn apply(&mut self, change: &Change, day: Day) -> Done {
        let at: DateTime<Utc> = DateTime::from_timestamp_millis(self.clock).ok_or("no such moment")?;
        self.register.apply(change, day, at).map_err(|error| format!("{day}: {error}"))?;
        Ok(())
    }

    /// Records rows of one day by one person as one change.
    pub fn visits(&mut self, day: Day, by: &str, rows: &[Row], evening: bool) -> Done {
        if rows.is_empty() {
            return Ok(());
        }
        self.sit_down(day);
        let together = self.mint();
        let world = self.world();
        let mut visits: Vec<NewVisit> = Vec::new();
        let mut queens: Vec<Queen> = Vec::new();
        for row in rows {
            let codes = parse(&row.codes).map_err(|error| format!("{}: {error}", row.codes))?;
            let made = resolve(&mut Hand::of(&world), row.colony, day, by, &codes, &row.choice, &mut || self.mint());
            let (visit, new) = made.map_err(|error| format!("{day} {}: {error}", row.codes))?;
            visits.push(visit);
            queens.extend(new);
        }
        let occasion = if evening { Occasion::Evening(together) } else { Occasion::Find };
        self.apply(&Change::Visits { occasion, visits, queens }, day)
    }
}
