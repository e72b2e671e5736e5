//! What befell single hives in past seasons: deaths, sales, splits, moves, new names, swapped places, slips of the pen.

use lidnote::domain::change::{Amendment, Change};
use lidnote::domain::colony::{End, EndWhy, FirstQueen, Founding};
use lidnote::domain::day::Day;
use lidnote::domain::ids::{ColonyId, RecordId};
use lidnote::domain::record::{Happening, Record};
use lidnote::domain::visit::Coverage;

use crate::maker::Done;
use crate::story::{Story, Task, on};

/// Winters that some colonies did not survive.
const DIED: &[(&str, &str)] = &[
    ("2024-09-04", "NG20 TM05 WC10 CV22 SM11 BH16 NF09 TK02"),
    ("2025-09-04", "NG33 TM21 WC28 CV09 SM30 BH04 LF13 WI03 AH17"),
    ("2026-09-04", "DW12 TH07 BH22"),
];

/// Rows of past seasons' sheets: the day, codes, hives, and after how many days their yards are seen to.
const ROWS: &[(&str, &str, &str, &[i32])] = &[
    ("2023-11-20", "s", "TF17", &[28, 36]),
    ("2024-11-05", "s", "SM22", &[28, 36]),
    ("2025-10-30", "s", "FC11", &[28, 36]),
    ("2025-11-12", "s", "CV30", &[28, 36]),
    ("2024-09-28", "d", "NG05 CS11", &[3, 13, 20]),
    ("2025-01-30", "d", "CB29", &[3, 13, 20]),
    ("2025-09-29", "d", "SW14 WI30", &[3, 13, 20]),
    ("2024-11-20", "/q +n", "BS10 BS13", &[7, 14]),
    ("2025-10-15", "/q +n", "QS25", &[7, 14]),
    ("2025-11-25", "/q", "TM14 TM18 TM25", &[]),
    ("2025-11-26", "+v25", "TM14 TM18 TM25", &[14, 27, 39]),
    ("2025-10-12", "/q", "OR03 OR09", &[]),
    ("2025-10-18", "c3 +s", "OR03 OR09", &[22, 29]),
    ("2024-10-12", "eq c2", "MR09 L30", &[7, 14]),
];

/// Writes single events of past seasons into the calendar.
pub fn plan(story: &mut Story) -> Done {
    for (day, names) in DIED {
        own(story, day, move |story, day| end(story, names, day, EndWhy::Died, "found dead after the winter"))?;
    }
    own(story, "2025-04-17", |story, day| {
        end(story, "BP30 BP31 BP32 BP33 BP34", day, EndWhy::Sold, "to a beekeeper at Kelping")
    })?;
    own(story, "2024-04-17", |story, day| Ok(rename(story, day)))?;
    own(story, "2025-05-02", |story, day| shift(story, "WC", day))?;
    own(story, "2025-08-29", |story, day| shift(story, "CE", day))?;
    for (day, one, other) in [("2025-02-20", "GC08", "GC09"), ("2025-12-10", "AH10", "AH11")] {
        own(story, day, move |story, day| {
            Ok(Change::SwapPlaces { one: story.colony(one)?, other: story.colony(other)?, day })
        })?;
    }
    for (day, from, to) in [("2024-10-26", "2024-10-27", 8), ("2025-10-26", "2025-10-27", 8)] {
        own(story, day, move |story, day| Ok(split(story, day, to)))?;
        // The daughters' cells go in a day later; their yards are seen to like those of a parcel.
        for after in [16, 29, 41] {
            let day = on(from)?.plus(after);
            (0..story.plots.len()).for_each(|plot| story.plan(day, Task::Follow(plot, false)));
        }
    }
    for (day, codes, hives, follow) in ROWS {
        let day = on(day)?;
        for name in hives.split(' ') {
            let hive = story.hive(name)?;
            let plot = story.hives[hive].plot;
            let by = story.plots[plot].by;
            story.plan(day, Task::Type(hive, (*codes).to_owned(), by, None));
            follow.iter().for_each(|after| story.plan(day.plus(*after), Task::Follow(plot, false)));
        }
    }
    for (day, name, slip) in [
        ("2024-01-29", "CS14", Slip::Day),
        ("2024-09-16", "BS21", Slip::Words),
        ("2025-01-28", "TT06", Slip::Struck),
        ("2025-09-17", "L09", Slip::Hive("L10")),
        ("2026-01-27", "MR17", Slip::Words),
        ("2026-09-15", "OR21", Slip::Day),
    ] {
        own(story, day, move |story, _| amend(story, name, slip))?;
    }
    Ok(())
}

fn own(story: &mut Story, day: &str, make: impl Fn(&mut Story, Day) -> Done<Change> + 'static) -> Done {
    let day = on(day)?;
    story.plan(day, Task::Own(Box::new(move |story| make(story, day))));
    Ok(())
}

/// Colonies end, and their numbers are free.
fn end(story: &mut Story, names: &str, day: Day, why: EndWhy, words: &str) -> Done<Change> {
    let mut colonies = Vec::new();
    for name in names.split(' ') {
        let hive = story.hive(name)?;
        colonies.extend(story.hives[hive].colony.take());
    }
    Ok(Change::End { colonies, end: End { day, why, by: "MK".to_owned(), words: words.to_owned() } })
}

/// The boxes of South Stile get the yard's letters painted on.
fn rename(story: &Story, day: Day) -> Change {
    let hives = story.hives.iter().filter(|hive| story.plots[hive.plot].prefix == "SS");
    let names = hives.filter_map(|hive| Some((hive.colony?, hive.name.clone()))).collect();
    Change::Rename { names, day }
}

/// Six hives of Cliff End spend a winter at West Croft.
fn shift(story: &mut Story, to: &str, day: Day) -> Done<Change> {
    let plot = story.plots.iter().position(|plot| plot.prefix == to).ok_or("no such yard")?;
    let mut moved = Vec::new();
    for number in 1..=6 {
        let hive = story.hive(&format!("CE{number:02}"))?;
        let Some(colony) = story.hives[hive].colony else { continue };
        let spot = if to == "CE" { story.spot(hive) } else { lidnote::domain::yard::Spot { row: 9, place: number } };
        moved.push((colony, story.yards[plot], Some(spot)));
    }
    Ok(Change::Move { to: moved, day })
}

/// Free numbers are taken by daughters of their neighbours, which get a cell a day later.
fn split(story: &mut Story, day: Day, most: usize) -> Change {
    let mut changes = Vec::new();
    for hive in 0..story.hives.len() {
        if changes.len() == most || story.hives[hive].colony.is_some() {
            continue;
        }
        let plot = story.hives[hive].plot;
        let strong = story.of_plot(plot).into_iter().find(|other| story.is_quiet(*other, day));
        let Some(parent) = strong.and_then(|other| story.hives[other].colony) else { continue };
        let by = story.plots[plot].by;
        let daughter = story.founded(hive, day, Founding::SplitFrom(parent), FirstQueen::None);
        story.hives[hive].colony = Some(daughter.id);
        let records = [RecordId(story.maker.mint()), RecordId(story.maker.mint())];
        changes.push(Change::Split {
            parent,
            daughter: Box::new(daughter),
            queen_goes: false,
            records,
            by: by.to_owned(),
        });
        story.plan(day.plus(1), Task::Type(hive, "+c".to_owned(), by, None));
    }
    Change::Several { title: format!("{} colonies split", changes.len()), changes }
}

#[derive(Clone, Copy)]
enum Slip {
    Day,
    Words,
    Struck,
    Hive(&'static str),
}

/// The last find of a hive is put right.
fn amend(story: &mut Story, name: &str, slip: Slip) -> Done<Change> {
    let world = story.maker.world();
    let colony: ColonyId = story.colony(name)?;
    let plain = |record: &&Record| match &record.what {
        Happening::Visit(visit) => visit.gave.is_none() && visit.coverage == Coverage::Full && !visit.did.dequeened,
        _ => false,
    };
    let record = world.records_of(colony).iter().rev().find(plain).ok_or("no find")?;
    let (reason, by) = match slip {
        Slip::Day => ("entered a day late", "AR"),
        Slip::Words => ("words were left out", "JT"),
        Slip::Struck => ("this hive was not opened", "MK"),
        Slip::Hive(_) => ("lids were mixed up", "MK"),
    };
    let amendment = Amendment::of(colony, record.id, reason, by);
    Ok(Change::Amend(Box::new(match slip {
        Slip::Day => Amendment { day: Some(record.day.plus(-1)), ..amendment },
        Slip::Words => Amendment { words: Some("drone brood in the honey super".to_owned()), ..amendment },
        Slip::Struck => Amendment { strike: true, ..amendment },
        Slip::Hive(to) => Amendment { to: Some(story.colony(to)?), ..amendment },
    })))
}
