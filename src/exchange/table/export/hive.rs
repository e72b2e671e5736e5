//! A hive's own row, and the rows that belong to it.

use crate::domain::bar::BarOn;
use crate::domain::colony::{Colony, EndWhy, FirstQueen, Founding};
use crate::domain::day::Day;
use crate::domain::plan::Plan;
use crate::domain::record::{Happening, Record};
use crate::domain::visit::Visit;
use crate::domain::yard::Spot;
use crate::exchange::table::cells::founding_word;
use crate::exchange::table::export::names::Names;
use crate::exchange::table::export::{Row, record, row, things, yes};
use crate::exchange::table::headings::Field;

/// All rows of a hive: its own, its names and places where they changed, its records, plans and bars.
pub(super) fn block(names: &mut Names<'_>, colony: &Colony) -> Vec<Row> {
    let world = names.world;
    let here =
        Here { yard: colony.yard().map_or("", |yard| names.yard(yard)).to_owned(), hive: colony.name().to_owned() };
    let mut own = own_row(names, &here, colony);
    let records = world.records_of(colony.id);
    let taken = first_records(names, colony, records, &mut own);
    let mut rows = vec![own];
    let corrected = colony.corrected.iter().map(|it| record::amended_row(names, &here, "corrected", it));
    rows.extend(corrected);
    rows.extend(names_of(&here, colony));
    rows.extend(stands_of(names, &here, colony));
    for record in records.iter().skip(taken) {
        rows.extend(record::rows(names, &here, record));
    }
    rows.extend(world.plans_of(colony.id).into_iter().flat_map(|plan| plan_rows(names, &here, plan)));
    rows.extend(things::bars(world, BarOn::Colony(colony.id), &here.yard, &here.hive));
    rows
}

/// The yard and the hive a row is about.
pub(super) struct Here {
    yard: String,
    hive: String,
}

impl Here {
    /// A row of that kind about the hive.
    pub fn row(&self, entry: &str, cells: &[(Field, &str)]) -> Row {
        let mut all = row(&[(Field::Entry, entry), (Field::Yard, &self.yard), (Field::Hive, &self.hive)]);
        all.extend(row(cells));
        all
    }
}

fn own_row(names: &Names<'_>, here: &Here, colony: &Colony) -> Row {
    let mut cells = here.row("hive", &[(Field::Since, &colony.founded.iso()), (Field::Note, &colony.note)]);
    cells.extend(spot_cells(colony.spot()));
    if colony.how != Founding::Known {
        cells.push((Field::Founding, founding_word(colony.how).to_owned()));
    }
    if let Founding::SplitFrom(parent) = colony.how {
        cells.push((Field::Parent, names.hive(parent).to_owned()));
    }
    if let Some(end) = &colony.ended {
        cells.push((Field::Ended, end.day.iso()));
        cells.push((Field::EndWhy, end.why.word().to_owned()));
        cells.push((Field::EndedBy, end.by.clone()));
        cells.push((Field::EndWords, end.words.clone()));
        if let EndWhy::UnitedInto(into) = end.why {
            cells.push((Field::UnitedInto, names.hive(into).to_owned()));
        }
    }
    cells.push((Field::Label, colony.lid.printed.join("\n")));
    cells.push((Field::LabelDay, colony.lid.on.map(Day::iso).unwrap_or_default()));
    cells.push((Field::LabelWanted, yes(colony.lid.stale).to_owned()));
    cells
}

fn spot_cells(spot: Option<Spot>) -> Row {
    let cells = |spot: Spot| vec![(Field::Row, spot.row.to_string()), (Field::Place, spot.place.to_string())];
    spot.map(cells).unwrap_or_default()
}

/// Its names, where it had others or got the first one later than it was founded.
fn names_of(here: &Here, colony: &Colony) -> Vec<Row> {
    match colony.names.as_slice() {
        [one] if one.from == colony.founded => Vec::new(),
        all => {
            let named =
                all.iter().map(|it| here.row("named", &[(Field::Since, &it.from.iso()), (Field::Called, &it.name)]));
            named.collect()
        }
    }
}

/// Where it stood, where it was moved or came to its first place later than it was founded.
fn stands_of(names: &Names<'_>, here: &Here, colony: &Colony) -> Vec<Row> {
    match colony.stands.as_slice() {
        [one] if one.from == colony.founded => Vec::new(),
        all => {
            let stood = all.iter().map(|stand| {
                let mut cells =
                    here.row("stood", &[(Field::Since, &stand.from.iso()), (Field::StoodIn, names.yard(stand.yard))]);
                cells.extend(spot_cells(stand.spot));
                cells
            });
            stood.collect()
        }
    }
}

/// The first queen, and the first records where the hive's own row can tell them: how many of them it has told.
fn first_records(names: &mut Names<'_>, colony: &Colony, records: &[Record], cells: &mut Row) -> usize {
    if colony.began_with == FirstQueen::None {
        cells.push((Field::Queen, "none".to_owned()));
    }
    let visits: Vec<(&Record, &Visit)> = records.iter().map_while(plain_visit).collect();
    if let FirstQueen::Recorded(queen) = colony.began_with {
        cells.extend(record::queen_cells(names, queen));
        let Some((first, visit)) = visits.first().filter(|(_, visit)| visit.gave.is_none()) else { return 0 };
        cells.extend(record::find_cells(names.world, first, visit));
        return 1;
    }
    let [(first, visit), rest @ ..] = visits.as_slice() else { return 0 };
    let Some(gave) = &visit.gave else {
        cells.extend(record::find_cells(names.world, first, visit));
        return 1;
    };
    if colony.began_with == FirstQueen::None && names.is_shared(gave.queen) {
        // The cell under queen holds one of the two: none, or her number.
        return 0;
    }
    cells.extend(record::given_cells(names, first, gave));
    let find = Visit { gave: None, ..Visit::clone(visit) };
    let bare = first.by.is_empty() && first.words.is_empty() && find == Visit::default();
    match rest.first() {
        Some((next, find)) if bare && find.gave.is_none() && next.day != first.day => {
            cells.extend(record::find_cells(names.world, next, find));
            2
        }
        _ if bare => 1,
        _ => {
            cells.extend(record::find_cells(names.world, first, visit));
            1
        }
    }
}

/// A visit that can be told in the hive's own row: neither amended nor entered with an evening, and naming no other hive.
fn plain_visit(record: &Record) -> Option<(&Record, &Visit)> {
    let Happening::Visit(visit) = &record.what else { return None };
    let plain = !record.struck
        && record.amended.is_empty()
        && record.together.is_none()
        && visit.lids_swapped.is_none()
        && visit.did.queen_to.is_none();
    plain.then_some((record, visit))
}

/// A plan, and when its days were moved.
fn plan_rows(names: &Names<'_>, here: &Here, plan: &Plan) -> Vec<Row> {
    let iso = |day: Option<Day>| day.map(Day::iso).unwrap_or_default();
    let own = here.row(
        "plan",
        &[
            (Field::Method, plan.method.words()),
            (Field::Source, names.source(plan.source)),
            (Field::Parcel, &names.parcel(plan.parcel)),
            (Field::GiveOn, &plan.give_on.iso()),
            (Field::DequeenOn, &iso(plan.dequeen_on)),
            (Field::Since, &plan.made.iso()),
            (Field::CalledOff, &iso(plan.called_off)),
        ],
    );
    let moved = plan.moved.iter().map(|moved| {
        let cells =
            [(Field::LastLook, moved.on.iso()), (Field::GiveOn, moved.from.iso()), (Field::Words, moved.why.clone())];
        here.row("plan moved", &cells.each_ref().map(|(field, text)| (*field, text.as_str())))
    });
    std::iter::once(own).chain(moved).collect()
}
