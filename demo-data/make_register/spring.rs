//! This spring's programme, up to the day the demo is shown.

use std::collections::BTreeSet;

use lidnote::domain::bar::{Bar, BarKind, BarOn};
use lidnote::domain::change::{Amendment, Change};
use lidnote::domain::day::Day;
use lidnote::domain::ids::{BarId, ParcelId, PlanId, RunId};
use lidnote::domain::parcel::{Parcel, ParcelKind};
use lidnote::domain::place::Place;
use lidnote::domain::plan::Plan;
use lidnote::domain::run_order::{Base, RunOrder, RunStop};
use lidnote::domain::visit::Method;

use crate::maker::Done;
use crate::past::HOME;
use crate::story::{Age, Bought, Story, Task, on};

/// Rows of this spring's sheets: day in October or November 2026, by whom, codes, parcel, hives.
type Rows = (&'static str, &'static str, &'static str, &'static str, &'static str);

const ROWS: &[Rows] = &[
    // Old tales that are open on the day: late layers, cells of late October, own raising.
    ("10-10", "MK", "/q", "", "BR07 BR21"),
    ("10-11", "MK", "+c", "cells 11 Oct", "BR07 BR21"),
    ("10-26", "MK", "n", "", "BR07"),
    ("10-26", "MK", "b", "", "BR21"),
    ("11-05", "MK", "e", "", "BR07"),
    ("11-05", "MK", "eq", "", "BR21"),
    ("10-24", "MK", "/q", "", "WB01 WB08"),
    ("10-25", "MK", "+c", "cells 25 Oct", "WB01 WB08"),
    ("11-09", "MK", "n", "", "WB01"),
    ("11-09", "MK", "b", "", "WB08"),
    ("10-26", "MK", "/q", "", "AH40"),
    ("10-27", "MK", "+c", "cells 25 Oct", "AH40"),
    ("11-11", "MK", "q", "", "AH40"),
    ("10-27", "JT", "/q", "", "K01 K03 K06 K12"),
    ("10-28", "JT", "+c", "cells 28 Oct", "K01 K03 K06 K12"),
    ("11-12", "JT", "n", "", "K01 K06"),
    ("11-12", "JT", "b", "", "K03 K12"),
    ("10-27", "MK", "/q", "", "TK05 TK11 TK19 GR04 GR15 FP02 FP09 FP15"),
    ("10-28", "MK", "+c", "cells 28 Oct", "TK05 TK11 TK19 GR04 GR15 FP02 FP09 FP15"),
    ("11-12", "MK", "q", "", "TK05 GR04 FP09"),
    ("11-12", "MK", "n", "", "TK11 TK19 GR15 FP02 FP15"),
    ("11-03", "MK", "/q", "", "B09"),
    ("11-04", "MK", "+c", "cells 4 Nov", "B09"),
    ("11-03", "JT", "/q", "", "SF12"),
    ("11-04", "JT", "+c", "cells 4 Nov", "SF12"),
    // The Broom parcel of 5 November.
    ("11-06", "MK", "/q +q", "Broom 5 Nov", "TP11"),
    ("11-07", "MK", "/q +q", "Broom 5 Nov", "B36"),
    ("11-08", "MK", "/q +q", "Broom 5 Nov", "GC02 GC05 AH31 TK24 CB06 CB17"),
    ("11-10", "MK", "/q +q", "Broom 5 Nov", "B22 WB17"),
    ("11-12", "JT", "/q +q", "Broom 5 Nov", "K02 K05 K09 K11 K14 K16 K18"),
    ("11-17", "MK", "n", "", "AH31"),
    ("11-18", "MK", "q", "", "TK24"),
    ("11-18", "MK", "k", "", "CB06 CB17"),
    // Cells of 9 November and later.
    ("11-08", "MK", "/q", "", "AH03 AH08 AH22 NF04 NF13 NF19 NF25 NF30"),
    ("11-09", "MK", "+c", "cells 9 Nov", "AH03 AH08 AH22 NF04 NF13 NF19 NF25 NF30"),
    ("11-11", "JT", "/q", "", "CS02 CS08 CS15 CS21 CS30 CS37"),
    ("11-12", "JT", "+c", "cells 12 Nov", "CS02 CS08 CS15 CS21 CS30 CS37"),
    ("11-15", "AR", "/q", "", "SW01 SW04 SW05 SW09 SW12 SW16 SW18 SW22 SW25 SW27 SW31 SW33 SW38"),
    ("11-16", "AR", "+c", "cells 16 Nov", "SW01 SW04 SW05 SW09 SW12 SW16 SW18 SW22 SW25 SW27 SW31 SW33 SW38"),
    ("11-16", "JT", "/q", "", "CV03 CV07 CV12 CV16 CV20 CV25 CV29 CV34 CV41 CV46"),
    ("11-17", "JT", "+c", "cells 16 Nov", "CV03 CV07 CV12 CV16 CV20 CV25 CV29 CV34 CV41 CV46"),
    ("11-18", "MK", "/q", "", "DW01 DW03 DW06 DW08 DW11 DW13 DW16 DW18 DW21 DW23 DW26 DW28"),
    ("11-19", "MK", "+c", "cells 19 Nov", "DW01 DW03 DW06 DW08 DW11 DW13 DW16 DW18 DW21 DW23 DW26 DW28"),
    ("11-19", "MK", "/q", "", "LF02 LF04 LF07 LF09 LF11 LF14 LF17 LF19 LF22 LF25"),
    ("11-20", "MK", "+c", "cells 19 Nov", "LF02 LF04 LF07 LF09 LF11 LF14 LF17 LF19 LF22 LF25"),
    // Colonies that raised their own, and more cells.
    ("10-24", "JT", "/q", "", "HL02 HL05"),
    ("10-30", "JT", "c3 +s", "", "HL02 HL05"),
    ("11-21", "JT", "e", "", "HL02"),
    ("11-21", "JT", "elq", "", "HL05"),
    ("11-18", "JT", "/q", "", "HL09 HL11 HL14 HL18 HL21 HL25 HL28 HL32 HL36 HL39"),
    ("11-19", "JT", "+c", "cells 19 Nov", "HL09 HL11 HL14 HL18 HL21 HL25 HL28 HL32 HL36 HL39"),
    // The Thrift parcel of 12 November.
    ("11-13", "JT", "/q +q", "Thrift 12 Nov", "K07"),
    ("11-14", "MK", "/q +q", "Thrift 12 Nov", "B03 B04 B14 B15 B19 GC11 GC19 GC23 TP03 TP07"),
    ("11-14", "AR", "/q +q", "Thrift 12 Nov", "MR05 MR12 MR21 L08 L15"),
    ("11-14", "JT", "/q +q", "Thrift 12 Nov", "SF09"),
    ("11-16", "AR", "/q +q", "Thrift 12 Nov", "TF02 TF09 TF14 TF20"),
    ("11-16", "JT", "/q +q", "Thrift 12 Nov", "TT04 TT08 TT13"),
    // The Tansy parcel of 15 November.
    ("11-16", "MK", "/q +q", "Tansy 15 Nov", "QS03 QS10 QS17"),
    ("11-16", "AR", "/q +q", "Tansy 15 Nov", "HC04 HC11"),
    (
        "11-17",
        "AR",
        "/q +q",
        "Tansy 15 Nov",
        "WI02 WI05 WI07 WI11 WI14 WI18 WI20 WI23 WI26 WI29 WI31 WI35 WI38 WI40 WI43",
    ),
    ("11-18", "AR", "/q +q", "Tansy 15 Nov", "FC03 FC06 FC10 FC13 FC17 FC21 FC24 FC28"),
    // The Farside parcel of 19 November.
    ("11-20", "AR", "/q +p", "Farside 19 Nov", "L22"),
    (
        "11-20",
        "JT",
        "/q +q",
        "Farside 19 Nov",
        "WC02 WC04 WC06 WC09 WC12 WC15 WC18 WC20 WC23 WC27 WC30 WC33 WC36 WC39 WC42",
    ),
    ("11-20", "JT", "?q", "", "WC07 WC25 WC44"),
    (
        "11-21",
        "JT",
        "/q +q",
        "Farside 19 Nov",
        "SK01 SK03 SK05 SK07 SK09 SK11 SK13 SK15 SK17 SK19 SK21 SK23 SK25 SK27 SK29 SK31 SK33 SK35",
    ),
    ("11-21", "JT", "?q", "", "SK10 SK22 SK34"),
    ("11-22", "JT", "?q", "", "WC07 WC25 WC44"),
    // Colonies that wait for their queens.
    ("11-13", "MK", "/q", "", "B27 AH19"),
    ("11-15", "JT", "/q", "", "SF04"),
    ("11-17", "AR", "/q", "", "OR07 OR12"),
    ("11-20", "MK", "/q", "", "B28 B29"),
    ("11-20", "JT", "-r", "", "B27"),
    ("11-22", "JT", "c2 /c", "", "SF04"),
    // What went wrong.
    ("10-20", "JT", "lb", "", "NG12"),
    ("11-20", "JT", "w", "", "NG12"),
    ("11-20", "MK", "x2 ' sunken cappings, smell", "", "B33"),
    ("11-22", "MK", "c3 /c", "", "B22"),
    ("11-22", "MK", "c4", "", "WB17"),
    // Accepted at the last look.
    ("11-22", "JT", "eq", "", "K02 K05 K14 K18"),
    ("11-22", "JT", "e t3", "", "K09 K11"),
    ("11-22", "JT", "eq t3", "", "K16"),
    ("11-23", "JT", "eq", "", "K07"),
    // What the hive card of B14 tells.
    ("10-30", "MK", "t2 ' requeen: third season, temper 2", "", "B14"),
    ("11-02", "JT", "lb t2 ' 4 combs of brood", "", "B15"),
];

const FIRST: &str = "B06 B08 B13 B20 B21 B25 B35 H22";
const SECOND: &str = "B02 B07 B11 B17 B23 B24 B26 B30 B34 B37 H01 H09 H11 H13 H16 H20";
const OLDER: &str = "B31 B33 H05 H06 H07 H12 H18 H21";
const UNKNOWN: &str = "B12 H19";

/// Whether this spring's sheets tell of a hive.
pub fn on_a_sheet(name: &str) -> bool {
    ROWS.iter().any(|row| row.4.split(' ').any(|it| it == name))
}

/// Hives this spring tells of, and how old their queens were before.
pub fn age_before(name: &str) -> Option<Age> {
    let among = |list: &str| list.split(' ').any(|it| it == name);
    for (list, age) in [(FIRST, Age::First), (SECOND, Age::Second), (OLDER, Age::Older), (UNKNOWN, Age::Unknown)] {
        if among(list) {
            return Some(age);
        }
    }
    let numbered = |prefix: &str| name.strip_prefix(prefix).is_some_and(|rest| rest.parse::<u32>().is_ok());
    let third = numbered("B") || numbered("H") || on_a_sheet(name);
    third.then_some(Age::Third)
}

fn day(month_day: &str) -> Done<Day> {
    on(&format!("2026-{month_day}"))
}

/// Writes this spring into the calendar.
pub fn plan(story: &mut Story) -> Done {
    let caged = ParcelKind::CagedQueens;
    let cells = ParcelKind::Cells;
    for (key, source, kind, arrives, count, dead) in [
        ("cells 11 Oct", "Tansy", cells, "10-11", 2, 0),
        ("cells 25 Oct", "Tansy", cells, "10-25", 4, 0),
        ("cells 28 Oct", "Tansy", cells, "10-28", 13, 0),
        ("cells 4 Nov", "Broom", cells, "11-04", 2, 0),
        ("Broom 5 Nov", "Broom", caged, "11-05", 18, 1),
        ("cells 9 Nov", "Tansy", cells, "11-09", 8, 0),
        ("cells 12 Nov", "Broom", cells, "11-12", 8, 0),
        ("Thrift 12 Nov", "Thrift", caged, "11-12", 25, 0),
        ("Tansy 15 Nov", "Tansy", caged, "11-15", 29, 1),
        ("cells 16 Nov", "Tansy", cells, "11-16", 24, 0),
        ("cells 19 Nov", "Tansy", cells, "11-19", 34, 0),
        ("Farside 19 Nov", "Farside Queens", caged, "11-19", 40, 2),
        ("Thrift 23 Nov", "Thrift", caged, "11-23", 24, 0),
    ] {
        let bought = Bought { key: key.to_owned(), source, kind, count, dead };
        story.plan(day(arrives)?, Task::Arrive(bought));
    }
    for (key, on) in [
        ("cells 11 Oct", "10-12"),
        ("cells 25 Oct", "10-27"),
        ("cells 28 Oct", "10-29"),
        ("cells 4 Nov", "11-05"),
        ("cells 9 Nov", "11-10"),
        ("cells 12 Nov", "11-13"),
        ("cells 16 Nov", "11-18"),
        ("cells 19 Nov", "11-21"),
        ("Broom 5 Nov", "11-13"),
        ("Tansy 15 Nov", "11-19"),
    ] {
        story.plan(day(on)?, Task::PutAway(key.to_owned()));
    }
    for on in ["10-16", "10-31", "11-11", "11-18", "11-22"] {
        story.tasks.entry(day(on)?).or_default().insert(0, Task::Print);
    }
    waiting(story)?;
    farside(story)?;
    for (on, by, codes, parcel, hives) in ROWS {
        for name in hives.split(' ') {
            let parcel = (!parcel.is_empty()).then(|| (*parcel).to_owned());
            let task = Task::Type(story.hive(name)?, (*codes).to_owned(), by, parcel);
            story.plan(day(on)?, task);
        }
    }
    own(story, "11-06", wrong_row)?;
    own(story, "11-09", |story| {
        let plot = story.plots.iter().position(|plot| plot.name == "Marl Pit").ok_or("no Marl Pit")?;
        let on = BarOn::Yard(story.yards[plot]);
        bar(story, on, BarKind::Quarantine, None, "inspector's order 14")
    })?;
    own(story, "11-09", |story| {
        let on = BarOn::Colony(story.colony("H15")?);
        bar(story, on, BarKind::Treatment, Some("11-30"), "mite strips")
    })?;
    own(story, "11-22", run)
}

fn own(story: &mut Story, on: &str, make: impl Fn(&mut Story) -> Done<Change> + 'static) -> Done {
    story.plan(day(on)?, Task::Own(Box::new(make)));
    Ok(())
}

/// The Broom parcel that is late, and the colonies that wait for it.
fn waiting(story: &mut Story) -> Done {
    own(story, "11-06", |story| {
        let id = ParcelId(story.maker.mint());
        story.parcels.insert("Broom late".to_owned(), id);
        let parcel = awaited(story, id, "Broom", ParcelKind::CagedQueens, 12, "11-14")?;
        let plans = plans(story, "B27 AH19 SF04", Method::Caged, "Broom late", "11-06", "11-14", Some("11-13"))?;
        Ok(several("Broom parcel ordered, 3 introductions planned", vec![Change::PutParcel(parcel), plans]))
    })?;
    own(story, "11-16", |story| {
        let parcel = story.parcels.get("Broom late").copied().ok_or("no parcel")?;
        Ok(Change::ParcelLate { parcel, promised: day("11-25")?, day: day("11-16")? })
    })?;
    own(story, "11-16", |story| {
        let first = plans(story, "OR07 OR12", Method::Caged, "Broom late", "11-16", "11-25", Some("11-17"))?;
        let second = plans(story, "B28 B29", Method::Caged, "Broom late", "11-16", "11-25", Some("11-20"))?;
        Ok(several("4 introductions planned", vec![first, second]))
    })?;
    own(story, "11-20", |story| {
        let world = story.maker.world();
        let parcel = story.parcels.get("Broom late").and_then(|id| world.parcels.get(id)).cloned();
        let parcel = parcel.ok_or("no parcel")?;
        Ok(Change::PutParcel(Parcel { sent: Some(day("11-20")?), ..parcel }))
    })?;
    own(story, "11-21", |story| {
        let id = ParcelId(story.maker.mint());
        story.parcels.insert("Tansy cells".to_owned(), id);
        let mut parcel = awaited(story, id, "Tansy", ParcelKind::Cells, 44, "12-01")?;
        parcel.grafted = Some(day("11-21")?);
        let hives: Vec<String> = old_ones(story, "TM", 22).into_iter().chain(old_ones(story, "BP", 22)).collect();
        let plans = plans(story, &hives.join(" "), Method::Cell, "Tansy cells", "11-21", "12-03", Some("12-02"))?;
        Ok(several("44 Tansy cells grafted, introductions planned", vec![Change::PutParcel(parcel), plans]))
    })
}

/// Hives of a yard whose queens are old, or not known.
fn old_ones(story: &Story, prefix: &str, most: usize) -> Vec<String> {
    let of_yard = |hive: &&crate::story::Hive| story.plots[hive.plot].prefix == prefix && hive.age != Age::First;
    let living = story.hives.iter().filter(of_yard).filter(|hive| hive.colony.is_some());
    living.take(most).map(|hive| hive.name.clone()).collect()
}

/// The Farside parcel: forty planned for, six old queens not found.
fn farside(story: &mut Story) -> Done {
    let hives: BTreeSet<&str> = ROWS
        .iter()
        .filter(|row| row.3 == "Farside 19 Nov" || row.2 == "?q")
        .flat_map(|row| row.4.split(' '))
        .filter(|name| *name != "L22")
        .collect();
    let hives: Vec<&str> = hives.into_iter().collect();
    let hives = hives.join(" ");
    own(story, "11-19", move |story| {
        let (west, sky): (Vec<&str>, Vec<&str>) = hives.split(' ').partition(|name| name.starts_with("WC"));
        let first = plans(story, &west.join(" "), Method::Caged, "Farside 19 Nov", "11-19", "11-20", Some("11-20"))?;
        let second = plans(story, &sky.join(" "), Method::Caged, "Farside 19 Nov", "11-19", "11-21", Some("11-21"))?;
        Ok(several("39 introductions planned", vec![first, second]))
    })?;
    own(story, "11-21", |story| {
        let world = story.maker.world();
        let mut moved = Vec::new();
        for name in ["WC07", "WC25", "WC44", "SK10", "SK22", "SK34"] {
            let colony = story.colony(name)?;
            let plan = world.plans_of(colony).last().map(|plan| plan.id).ok_or("no plan")?;
            moved.push((plan, day("11-26")?, Some(day("11-26")?)));
        }
        Ok(Change::MovePlans { plans: moved, day: day("11-21")?, why: "old queen not found".to_owned() })
    })
}

fn awaited(story: &Story, id: ParcelId, source: &str, kind: ParcelKind, count: u32, due: &str) -> Done<Parcel> {
    Ok(Parcel {
        id,
        source: story.sources.get(source).copied(),
        kind,
        count,
        dead: 0,
        gone: 0,
        sent: None,
        due: Some(day(due)?),
        promised: None,
        arrived: None,
        grafted: None,
        born: lidnote::domain::queen::Birth::default(),
        dot: None,
        closed: false,
        note: String::new(),
    })
}

fn plans(
    story: &mut Story,
    names: &str,
    method: Method,
    parcel: &str,
    made: &str,
    give: &str,
    dequeen: Option<&str>,
) -> Done<Change> {
    let world = story.maker.world();
    let parcel = story.parcels.get(parcel).copied();
    let source = parcel.and_then(|id| world.parcels.get(&id)).and_then(|parcel| parcel.source);
    let mut plans = Vec::new();
    for name in names.split(' ') {
        plans.push(Plan {
            id: PlanId(story.maker.mint()),
            colony: story.colony(name)?,
            method,
            source: source.or(if method == Method::Cell {
                story.sources.get("Tansy")
            } else {
                story.sources.get("Broom")
            }
            .copied()),
            parcel,
            give_on: day(give)?,
            dequeen_on: dequeen.map(day).transpose()?,
            made: day(made)?,
            called_off: None,
            moved: Vec::new(),
        });
    }
    Ok(Change::Plan { plans, overrule_soft: false })
}

fn several(title: &str, changes: Vec<Change>) -> Change {
    Change::Several { title: title.to_owned(), changes }
}

/// The find of 2 November was of B14: the sheet's rows were mixed up.
fn wrong_row(story: &mut Story) -> Done<Change> {
    let world = story.maker.world();
    let (wrong, right) = (story.colony("B15")?, story.colony("B14")?);
    let record = world.records_of(wrong).iter().rev().find(|record| record.words == "4 combs of brood");
    let record = record.map(|record| record.id).ok_or("no such find")?;
    let amendment = Amendment::of(wrong, record, "was put on B15, wrong row of the sheet", "JT");
    Ok(Change::Amend(Box::new(Amendment { to: Some(right), ..amendment })))
}

fn bar(story: &mut Story, on: BarOn, kind: BarKind, until: Option<&str>, reason: &str) -> Done<Change> {
    Ok(Change::PutBar(Bar {
        id: BarId(story.maker.mint()),
        on,
        kind,
        from: day("11-09")?,
        until: until.map(day).transpose()?,
        reason: reason.to_owned(),
        by: "MK".to_owned(),
        permit: None,
        lifted: None,
    }))
}

/// The run that is set for Wednesday. Broom Flat comes last: disease is suspected there.
fn run(story: &mut Story) -> Done<Change> {
    let mut stops = Vec::new();
    for name in ["Old Ropewalk", "Turnpike", "Ash Hollow", "Far Paddock", "Broom Flat"] {
        let plot = story.plots.iter().position(|plot| plot.name == name).ok_or("no such yard")?;
        stops.push(RunStop { yard: story.yards[plot], locked: false });
    }
    Ok(Change::PutRun(RunOrder {
        id: RunId(story.maker.mint()),
        day: day("11-25")?,
        vehicle: "North truck".to_owned(),
        base: Base { name: HOME.0.to_owned(), place: Place::new(HOME.1, HOME.2).ok_or("no such place")? },
        leave: 450,
        stops,
        left_out: Vec::new(),
    }))
}
