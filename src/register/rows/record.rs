//! The row of a record: columns of its own, because there are many and all are read at the start.

use rusqlite::types::ValueRef;
use rusqlite::{Connection, OptionalExtension as _, Row, params};
use serde::{Deserialize, Serialize};
use uuid::Uuid;

use crate::domain::day::Day;
use crate::domain::ids::{ColonyId, ParcelId, QueenId, RecordId};
use crate::domain::record::{Happening, Record};
use crate::domain::visit::{Given, Visit};
use crate::register::rows::Image;
use crate::register::rows::codes::{
    BAR_LIFTED, COVERAGES, METHODS, RECEIVED, SPLIT_OFF, VISIT, WHICH, code, did_bits, did_of, old_queen_code,
    old_queen_of, seen_bits, seen_of, value,
};

/// The columns in the order they are read and written.
const COLUMNS: &str = "colony, day, id, by_whom, words, kind, coverage, seen, did, closed_cells, begun_cells, temper, \
     other, queen_to, method, queen, parcel, old_queen, emerged, cells, why, together, struck, amended";

/// A record as its row: what is nothing or zero is left out of its image and is NULL in the file.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub(crate) struct RecordRow {
    pub(crate) colony: Uuid,
    pub(crate) day: i32,
    pub(crate) id: Uuid,
    by_whom: String,
    words: String,
    kind: u8,
    #[serde(skip_serializing_if = "Option::is_none")]
    coverage: Option<u8>,
    #[serde(skip_serializing_if = "Option::is_none")]
    seen: Option<u32>,
    #[serde(skip_serializing_if = "Option::is_none")]
    did: Option<u32>,
    #[serde(skip_serializing_if = "Option::is_none")]
    closed_cells: Option<u8>,
    #[serde(skip_serializing_if = "Option::is_none")]
    begun_cells: Option<u8>,
    #[serde(skip_serializing_if = "Option::is_none")]
    temper: Option<u8>,
    #[serde(skip_serializing_if = "Option::is_none")]
    other: Option<Uuid>,
    #[serde(skip_serializing_if = "Option::is_none")]
    queen_to: Option<Uuid>,
    #[serde(skip_serializing_if = "Option::is_none")]
    method: Option<u8>,
    #[serde(skip_serializing_if = "Option::is_none")]
    queen: Option<Uuid>,
    #[serde(skip_serializing_if = "Option::is_none")]
    parcel: Option<Uuid>,
    #[serde(skip_serializing_if = "Option::is_none")]
    old_queen: Option<i32>,
    #[serde(skip_serializing_if = "Option::is_none")]
    emerged: Option<i32>,
    #[serde(skip_serializing_if = "Option::is_none")]
    cells: Option<u8>,
    #[serde(skip_serializing_if = "Option::is_none")]
    why: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    together: Option<Uuid>,
    #[serde(skip_serializing_if = "Option::is_none")]
    struck: Option<u8>,
    #[serde(skip_serializing_if = "Option::is_none")]
    amended: Option<String>,
}

impl RecordRow {
    /// The row of a record.
    pub(crate) fn of(record: &Record) -> Result<Self, serde_json::Error> {
        let Record { id, colony, day, by, words, what, together, struck, amended } = record;
        let mut row = Self {
            colony: colony.0,
            day: day.number(),
            id: id.0,
            by_whom: by.clone(),
            words: words.clone(),
            together: *together,
            struck: struck.then_some(1),
            amended: if amended.is_empty() { None } else { Some(serde_json::to_string(amended)?) },
            ..Self::default()
        };
        match what {
            Happening::Visit(visit) => row.put_visit(visit),
            Happening::Which(which) => row.kind = code(&WHICH, which),
            Happening::Received(colony) => (row.kind, row.other) = (RECEIVED, Some(colony.0)),
            Happening::SplitOff(colony) => (row.kind, row.other) = (SPLIT_OFF, Some(colony.0)),
            Happening::BarLifted { why } => (row.kind, row.why) = (BAR_LIFTED, Some(why.clone())),
        }
        Ok(row)
    }

    fn put_visit(&mut self, visit: &Visit) {
        let Visit { coverage, seen, did, gave, temper, lids_swapped } = visit;
        self.kind = VISIT;
        self.coverage = some(code(&COVERAGES, coverage));
        self.seen = some(seen_bits(seen));
        (self.closed_cells, self.begun_cells) = (seen.closed_cells, seen.begun_cells);
        self.did = some(did_bits(did));
        self.queen_to = did.queen_to.map(|colony| colony.0);
        self.temper = *temper;
        self.other = lids_swapped.map(|colony| colony.0);
        if let Some(Given { method, queen, parcel, old_queen, emerged, cells, against_bar }) = gave {
            self.method = Some(code(&METHODS, method));
            self.queen = Some(queen.0);
            self.parcel = parcel.map(|parcel| parcel.0);
            self.old_queen = old_queen_code(*old_queen);
            self.emerged = emerged.map(Day::number);
            self.cells = Some(*cells);
            self.why.clone_from(against_bar);
        }
    }

    /// The record of the row; the error says which column holds what has no meaning.
    pub(crate) fn record(mut self) -> Result<Record, String> {
        let what = match self.kind {
            VISIT => Happening::Visit(Box::new(self.visit()?)),
            RECEIVED => Happening::Received(self.other.map(ColonyId).ok_or("a colony received without its id")?),
            SPLIT_OFF => Happening::SplitOff(self.other.map(ColonyId).ok_or("a colony split off without its id")?),
            BAR_LIFTED => Happening::BarLifted { why: self.why.take().unwrap_or_default() },
            kind => Happening::Which(value(&WHICH, kind).ok_or_else(|| format!("kind {kind}"))?),
        };
        let amended = match self.amended {
            None => Vec::new(),
            Some(text) => serde_json::from_str(&text).map_err(|error| format!("amendments: {error}"))?,
        };
        Ok(Record {
            id: RecordId(self.id),
            colony: ColonyId(self.colony),
            day: day(self.day)?,
            by: self.by_whom,
            words: self.words,
            what,
            together: self.together,
            struck: self.struck.is_some(),
            amended,
        })
    }

    fn visit(&mut self) -> Result<Visit, String> {
        let coverage = self.coverage.unwrap_or(0);
        let (seen, did) = (self.seen.unwrap_or(0), self.did.unwrap_or(0));
        Ok(Visit {
            coverage: value(&COVERAGES, coverage).ok_or_else(|| format!("coverage {coverage}"))?,
            seen: seen_of(seen, self.closed_cells, self.begun_cells).ok_or_else(|| format!("seen {seen}"))?,
            did: did_of(did, self.queen_to.map(ColonyId)).ok_or_else(|| format!("did {did}"))?,
            gave: self.method.map(|method| self.given(method)).transpose()?,
            temper: self.temper,
            lids_swapped: self.other.map(ColonyId),
        })
    }

    fn given(&mut self, method: u8) -> Result<Given, String> {
        Ok(Given {
            method: value(&METHODS, method).ok_or_else(|| format!("method {method}"))?,
            queen: self.queen.map(QueenId).ok_or("a queen given without her id")?,
            parcel: self.parcel.map(ParcelId),
            old_queen: old_queen_of(self.old_queen).ok_or("the old queen's day")?,
            emerged: self.emerged.map(day).transpose()?,
            cells: self.cells.unwrap_or(1),
            against_bar: self.why.take(),
        })
    }

    /// Reads the row from a statement over [`select`]. Columns that can only be NULL are not asked for: a season's
    /// records are many.
    pub(crate) fn read(row: &Row<'_>) -> rusqlite::Result<Self> {
        let mut read = Self {
            colony: uuid(row, 0)?,
            day: row.get(1)?,
            id: uuid(row, 2)?,
            by_whom: row.get(3)?,
            words: row.get(4)?,
            kind: row.get(5)?,
            other: uuid_or_null(row, 12)?,
            why: row.get(20)?,
            together: uuid_or_null(row, 21)?,
            struck: row.get(22)?,
            amended: row.get(23)?,
            ..Self::default()
        };
        if read.kind == VISIT {
            read.coverage = row.get(6)?;
            read.seen = row.get(7)?;
            read.did = row.get(8)?;
            read.closed_cells = row.get(9)?;
            read.begun_cells = row.get(10)?;
            read.temper = row.get(11)?;
            read.queen_to = uuid_or_null(row, 13)?;
            read.method = row.get(14)?;
        }
        if read.method.is_some() {
            read.queen = uuid_or_null(row, 15)?;
            read.parcel = uuid_or_null(row, 16)?;
            read.old_queen = row.get(17)?;
            read.emerged = row.get(18)?;
            read.cells = row.get(19)?;
        }
        Ok(read)
    }
}

fn some<T: Default + PartialEq>(value: T) -> Option<T> {
    (value != T::default()).then_some(value)
}

fn day(number: i32) -> Result<Day, String> {
    Day::from_number(number).ok_or_else(|| format!("day {number}"))
}

/// The id in that column.
pub(crate) fn uuid(row: &Row<'_>, column: usize) -> rusqlite::Result<Uuid> {
    let bytes = row.get_ref(column)?.as_blob()?;
    Uuid::from_slice(bytes).map_err(|_| rusqlite::Error::from(rusqlite::types::FromSqlError::InvalidType))
}

fn uuid_or_null(row: &Row<'_>, column: usize) -> rusqlite::Result<Option<Uuid>> {
    if row.get_ref(column)? == ValueRef::Null { Ok(None) } else { uuid(row, column).map(Some) }
}

/// The statement that reads records; `then` is what follows the table's name.
pub(crate) fn select(then: &str) -> String {
    format!("SELECT {COLUMNS} FROM record {then}")
}

/// The image of the record in the file now.
pub(crate) fn read(conn: &Connection, id: Uuid) -> rusqlite::Result<Option<String>> {
    let row = conn.prepare_cached(&select("WHERE id = ?1"))?.query_row([id.as_bytes()], RecordRow::read).optional()?;
    row.map(|row| serde_json::to_string(&row).map_err(not_stored)).transpose()
}

/// Writes the image, and says whether the file held the record as it was to be.
pub(crate) fn write(conn: &Connection, image: &Image) -> rusqlite::Result<bool> {
    if image.before.is_some() {
        if read(conn, image.key)? != image.before {
            return Ok(false);
        }
        conn.prepare_cached("DELETE FROM record WHERE id = ?1")?.execute([image.key.as_bytes()])?;
    }
    let Some(after) = &image.after else { return Ok(true) };
    let row: RecordRow = serde_json::from_str(after).map_err(not_stored)?;
    let marks = (1..=24).map(|at| format!("?{at}")).collect::<Vec<_>>().join(", ");
    let sql = format!("INSERT INTO record ({COLUMNS}) VALUES ({marks}) ON CONFLICT DO NOTHING");
    let blob = |id: Option<Uuid>| id.map(Uuid::into_bytes);
    let written = conn.prepare_cached(&sql)?.execute(params![
        row.colony.as_bytes(),
        row.day,
        row.id.as_bytes(),
        row.by_whom,
        row.words,
        row.kind,
        row.coverage,
        row.seen,
        row.did,
        row.closed_cells,
        row.begun_cells,
        row.temper,
        blob(row.other),
        blob(row.queen_to),
        row.method,
        blob(row.queen),
        blob(row.parcel),
        row.old_queen,
        row.emerged,
        row.cells,
        row.why,
        blob(row.together),
        row.struck,
        row.amended,
    ])?;
    Ok(written == 1)
}

fn not_stored(error: serde_json::Error) -> rusqlite::Error {
    rusqlite::Error::ToSqlConversionFailure(Box::new(error))
}

#[cfg(test)]
mod tests {
    use proptest::option::of;
    use proptest::prelude::*;

    use crate::domain::queen::Dot;
    use crate::domain::record::{Amended, Left, Which};
    use crate::domain::visit::{Coverage, Did, Disease, InCage, Marked, Method, OldQueen, Seen, TestFrame, Unopened};
    use crate::register::migrate;

    use super::*;

    fn a_day() -> impl Strategy<Value = Day> {
        (700_000..760_000).prop_filter_map("a day", Day::from_number)
    }

    fn id() -> impl Strategy<Value = Uuid> {
        any::<u128>().prop_map(Uuid::from_u128)
    }

    fn coverage() -> impl Strategy<Value = Coverage> {
        let unopened = [Unopened::Weather, Unopened::Time, Unopened::NotFound].map(Coverage::Unopened);
        prop_oneof![Just(Coverage::Full), Just(Coverage::Part), prop::sample::select(unopened.to_vec())]
    }

    fn seen() -> impl Strategy<Value = Seen> {
        let diseases = [
            Disease::NotNamed,
            Disease::AmericanFoulbrood,
            Disease::EuropeanFoulbrood,
            Disease::Chalkbrood,
            Disease::Other,
        ];
        let cage = of(prop::sample::select(vec![InCage::Alive, InCage::Dead]));
        let disease = of(prop::sample::select(diseases.to_vec()));
        (any::<[bool; 11]>(), of(any::<u8>()), of(any::<u8>()), cage, disease).prop_map(
            |(is, closed_cells, begun_cells, cage, disease)| Seen {
                eggs: is[0],
                larvae: is[1],
                capped: is[2],
                her: is[3],
                another: is[4],
                closed_cells,
                begun_cells,
                opened_cell: is[5],
                nothing: is[6],
                cage,
                drone_layer: is[7],
                laying_workers: is[8],
                disease,
                swarmed: is[9],
                dead: is[10],
            },
        )
    }

    fn did() -> impl Strategy<Value = Did> {
        let marked = of(of(prop::sample::select(Dot::ALL.to_vec())).prop_map(|dot| Marked { dot }));
        let frame = of(any::<bool>().prop_map(|marked| TestFrame { marked }));
        (any::<[bool; 5]>(), of(id()), frame, marked).prop_map(|(is, queen_to, test_frame, marked)| Did {
            dequeened: is[0],
            queen_to: queen_to.map(ColonyId),
            queen_not_found: is[1],
            cells_cut: is[2],
            cells_left: is[3],
            cage_off: is[4],
            test_frame,
            marked,
        })
    }

    fn given() -> impl Strategy<Value = Given> {
        let old =
            prop_oneof![Just(OldQueen::AsRecorded), Just(OldQueen::NotFound), a_day().prop_map(OldQueen::RemovedOn),];
        let method = prop::sample::select(Method::ALL.to_vec());
        (method, id(), of(id()), old, of(a_day()), any::<u8>(), of(".*")).prop_map(
            |(method, queen, parcel, old_queen, emerged, cells, against_bar)| Given {
                method,
                queen: QueenId(queen),
                parcel: parcel.map(ParcelId),
                old_queen,
                emerged,
                cells,
                against_bar,
            },
        )
    }

    fn happening() -> impl Strategy<Value = Happening> {
        let visit = (coverage(), seen(), did(), of(given()), of(any::<u8>()), of(id())).prop_map(
            |(coverage, seen, did, gave, temper, swapped)| {
                let lids_swapped = swapped.map(ColonyId);
                Happening::Visit(Box::new(Visit { coverage, seen, did, gave, temper, lids_swapped }))
            },
        );
        let which = prop::sample::select(vec![Which::Lost, Which::Superseded, Which::SameAfterAll]);
        prop_oneof![
            6 => visit,
            1 => which.prop_map(Happening::Which),
            1 => id().prop_map(|id| Happening::Received(ColonyId(id))),
            1 => id().prop_map(|id| Happening::SplitOff(ColonyId(id))),
            1 => ".*".prop_map(|why| Happening::BarLifted { why }),
        ]
    }

    fn a_record() -> impl Strategy<Value = Record> {
        let amended = (a_day(), ".*", ".*", ".*").prop_map(|(on, by, reason, was)| {
            let left = (!was.is_empty()).then(|| Left { colony: ColonyId(Uuid::nil()), day: on, said: was.clone() });
            Amended { on, by, reason, was, left }
        });
        let amended = prop::collection::vec(amended, 0..3);
        (id(), id(), a_day(), ".*", ".*", happening(), of(id()), any::<bool>(), amended).prop_map(
            |(record, colony, day, by, words, what, together, struck, amended)| Record {
                id: RecordId(record),
                colony: ColonyId(colony),
                day,
                by,
                words,
                what,
                together,
                struck,
                amended,
            },
        )
    }

    proptest! {
        #[test]
        fn a_record_comes_back_from_its_image_and_from_its_row(record in a_record()) {
            let row = RecordRow::of(&record).expect("a row");
            prop_assert_eq!(row.clone().record(), Ok(record));
            let after = serde_json::to_string(&row).expect("an image");
            let image = Image { thing: crate::register::rows::Thing::Record, key: row.id, before: None, after: Some(after) };
            let mut conn = Connection::open_in_memory().expect("memory");
            migrate::bring_up(&mut conn, migrate::STEPS).expect("tables");
            conn.pragma_update(None, "foreign_keys", 0).expect("its colony is not needed here");
            prop_assert_eq!(write(&conn, &image), Ok(true));
            prop_assert_eq!(write(&conn, &image), Ok(false), "it is there already");
            prop_assert_eq!(read(&conn, row.id), Ok(image.after.clone()));
            prop_assert_eq!(write(&conn, &image.inverse()), Ok(true));
            prop_assert_eq!(read(&conn, row.id), Ok(None));
        }
    }
}
