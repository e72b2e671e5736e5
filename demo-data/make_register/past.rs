//! How it began, and the three seasons before this spring.

use lidnote::domain::change::Change;
use lidnote::domain::colony::{FirstQueen, Founding};
use lidnote::domain::day::Day;
use lidnote::domain::ids::{QueenId, SourceId, YardId};
use lidnote::domain::parcel::ParcelKind;
use lidnote::domain::place::{Hemisphere, Place};
use lidnote::domain::queen::{Birth, Dot, Origin, Queen, Source};
use lidnote::domain::settings::Firm;
use lidnote::domain::yard::{Gate, Yard};

use crate::maker::Done;
use crate::story::{Age, Bought, Story, Task, on};

/// Where runs begin: Port Sallow (`island.rs` of the map's generator).
pub const HOME: (&str, f64, f64) = ("Port Sallow shed", -40.07475, 159.91451);

/// A parcel of past seasons and the queens' age it gives: key, source, kind, arrival, whose hives.
const WAVES: [(&str, &str, ParcelKind, &str, Age); 14] = [
    ("a1", "Thrift", ParcelKind::CagedQueens, "2023-10-10", Age::Older),
    ("a2", "Farside Queens", ParcelKind::CagedQueens, "2023-11-07", Age::Older),
    ("b1", "Thrift", ParcelKind::CagedQueens, "2024-10-08", Age::Third),
    ("b2", "Farside Queens", ParcelKind::CagedQueens, "2024-10-29", Age::Third),
    ("b3", "Tansy", ParcelKind::Cells, "2024-11-12", Age::Third),
    ("b4", "Broom", ParcelKind::CagedQueens, "2024-11-25", Age::Third),
    ("b5", "Tansy", ParcelKind::CagedQueens, "2024-12-09", Age::Third),
    ("c1", "Thrift", ParcelKind::CagedQueens, "2025-10-06", Age::Second),
    ("c2", "Broom", ParcelKind::CagedQueens, "2025-10-20", Age::Second),
    ("c3", "Farside Queens", ParcelKind::CagedQueens, "2025-11-04", Age::Second),
    ("c4", "Tansy", ParcelKind::Cells, "2025-11-17", Age::Second),
    ("c5", "Thrift", ParcelKind::CagedQueens, "2025-12-02", Age::Second),
    ("d1", "Thrift", ParcelKind::CagedQueens, "2026-10-05", Age::First),
    ("d2", "Tansy", ParcelKind::Cells, "2026-10-12", Age::First),
];

/// The firm, its sources and its yards.
pub fn begin(story: &mut Story) -> Done {
    let day = on("2023-08-28")?;
    story.maker.sit_down(day);
    let firm = Firm {
        name: "Wrackmore Bees".to_owned(),
        home: Place::new(HOME.1, HOME.2),
        home_name: HOME.0.to_owned(),
        hemisphere: Hemisphere::South,
        demo_day: Some(on("2026-11-23")?),
    };
    let mut changes =
        vec![Change::SetFirm(Box::new(firm)), Change::SetSetting { name: "utc_offset".to_owned(), value: 660.0 }];
    for (name, own) in [("Thrift", true), ("Broom", true), ("Tansy", true), ("Farside Queens", false)] {
        let id = SourceId(story.maker.mint());
        story.sources.insert(name, id);
        changes.push(Change::PutSource(Source { id, name: name.to_owned(), own }));
    }
    for plot in 0..story.plots.len() {
        let id = YardId(story.maker.mint());
        story.yards.push(id);
        let it = &story.plots[plot];
        let mut yard = Yard { place: Place::new(it.lat, it.lon), layout: it.layout, ..Yard::named(id, &it.name) };
        furnish(&mut yard);
        changes.push(Change::PutYard(Box::new(yard)));
    }
    story.maker.apply(&Change::Several { title: "Firm, sources and 42 yards".to_owned(), changes }, day)?;
    found(story, on("2023-09-01")?)
}

/// How one gets into a yard, and what to beware of.
fn furnish(yard: &mut Yard) {
    let (access, hazards, gate, note): (&str, &[&str], Option<(u16, u16)>, &str) = match yard.name.as_str() {
        "Broom Flat" => ("Off Ninefold road, gate on the south side, chain and hook", &[], None, "Shelter belt north"),
        "Ash Hollow" => ("Track past the wool shed; ring the Harts first", &["soft after rain"], None, ""),
        "Windbreak" => ("Second gate, shut it behind you", &["no signal", "wind"], None, ""),
        "Nettle Gully" => ("On foot from the culvert, 120 m", &["steep"], None, ""),
        "Gorse Cutting" => ("Lay-by at the cutting", &["blind bend"], None, ""),
        "Two Pines" => ("Gate code 0417", &[], Some((420, 1140)), ""),
        "Stone Fold" => ("Farm road, keep left", &["bull in the next field"], None, ""),
        "Thrift Ford" => ("Through the ford, not after heavy rain", &["ford"], None, ""),
        "Turnpike" => ("Yard of the old toll house", &[], Some((480, 1080)), ""),
        "Mill Race" => ("Mill gate, key on the hook behind the board", &["deep water"], Some((450, 1020)), ""),
        "Limekiln" => ("Quarry road", &["loose edge"], Some((360, 960)), "Lorries until 16:00"),
        "Heath yard" => ("Track from the Peat Cut road", &["fire district"], None, ""),
        "Gull Rock" => ("Cliff track, four wheels driven", &["no signal", "cliff"], None, ""),
        "Old Ropewalk" => ("Behind the rope works", &[], Some((420, 1050)), ""),
        "Quarry Shelf" => ("Tell the quarry office", &["blasting on Fridays"], Some((420, 930)), ""),
        "Hazel Copse" => ("Stile, then 60 m", &["wasps in the bank"], None, ""),
        "Cliff End" => ("Lighthouse road to its end", &["no signal", "cliff"], None, ""),
        "Sallow Meadow" => ("River gate", &["floods"], None, ""),
        "Marl Pit" => ("Pit road; leave the truck at the road", &[], None, ""),
        _ => ("", &[], None, ""),
    };
    access.clone_into(&mut yard.access);
    yard.hazards = hazards.iter().map(|&it| it.to_owned()).collect();
    yard.gate = gate.map(|(opens, closes)| Gate { opens, closes });
    note.clone_into(&mut yard.note);
    yard.hygiene_group = match yard.name.as_str() {
        "Broom Flat" | "Gorse Cutting" | "Ninefold Ford" | "Mill Race" => "Ninefold".to_owned(),
        "Windbreak" | "Gull Rock" | "Two Pines" => "Broomhead".to_owned(),
        "Thrift Head" | "Thrift Ford" | "Sheepwash" => "Thrift Bay".to_owned(),
        _ => String::new(),
    };
    yard.minutes = match yard.name.as_str() {
        "Nettle Gully" | "Gull Rock" => Some(25),
        "Windbreak" => Some(18),
        _ => None,
    };
}

/// The colonies that were there when the register began.
fn found(story: &mut Story, day: Day) -> Done {
    story.maker.sit_down(day);
    let mut changes = Vec::new();
    for plot in 0..story.plots.len() {
        let (mut colonies, mut queens) = (Vec::new(), Vec::new());
        for hive in story.of_plot(plot) {
            // Some numbers are painted on boxes only later.
            let later = !story.hives[hive].sure
                && matches!(story.hives[hive].age, Age::Second | Age::Third)
                && story.chance.percent(14);
            if later {
                continue;
            }
            let known = story.hives[hive].age != Age::Unknown;
            let queen = known.then(|| first_queen(story, hive, day));
            let began = queen.as_ref().map_or(FirstQueen::Unknown, |queen| FirstQueen::Recorded(queen.id));
            let colony = story.founded(hive, day, Founding::Known, began);
            story.hives[hive].colony = Some(colony.id);
            colonies.push(colony);
            queens.extend(queen);
        }
        changes.push(Change::Found { colonies, queens });
    }
    story.maker.apply(&Change::Several { title: "Hives of 42 yards, as they stand".to_owned(), changes }, day)
}

fn first_queen(story: &mut Story, hive: usize, day: Day) -> Queen {
    let old = if story.hives[hive].age == Age::Older { (190, 330) } else { (330, 700) };
    let birth = day.plus(-story.chance.between(old.0, old.1));
    let exact = story.chance.percent(40);
    let source = story.chance.weighted(&[(4, "Thrift"), (3, "Broom"), (2, "Tansy"), (2, "Farside Queens")]);
    Queen {
        id: QueenId(story.maker.mint()),
        birth: if exact { Birth::between(birth, birth.plus(7)) } else { Birth::in_month(birth.year(), birth.month()) },
        origin: Origin::Mated,
        source: story.sources.get(source).copied(),
        dot: story.chance.percent(75).then(|| Dot::of_year(birth.year())),
        words: String::new(),
    }
}

/// Writes the past seasons and the early spring into the calendar.
pub fn plan(story: &mut Story) -> Done {
    for at in 0..WAVES.len() {
        wave(story, at)?;
    }
    for year in [2023, 2024, 2025, 2026] {
        let spring = on(&format!("{year}-09-08"))?;
        checks(story, spring);
        if year < 2026 {
            let next = year + 1;
            checks(story, on(&format!("{next}-01-19"))?);
            for (month_day, last) in [("02-16", false), ("03-08", true), ("03-24", true), ("04-14", true)] {
                let day = on(&format!("{next}-{month_day}"))?;
                (0..story.plots.len()).for_each(|plot| story.plan(day, Task::Follow(plot, last)));
            }
            story.plan(on(&format!("{year}-12-01"))?, Task::Print);
            story.plan(on(&format!("{next}-03-26"))?, Task::Print);
            story.plan(on(&format!("{next}-10-28"))?, Task::Refill);
        }
    }
    Ok(())
}

/// Every yard is looked through: three yards a day, a person.
fn checks(story: &mut Story, from: Day) {
    for by in ["MK", "JT", "AR"] {
        let plots: Vec<usize> = (0..story.plots.len()).filter(|plot| story.plots[*plot].by == by).collect();
        for (at, plot) in plots.into_iter().enumerate() {
            let day = from.plus((at / 3) as i32);
            story.plan(day, Task::Check(plot));
        }
    }
}

/// A parcel of past seasons: which hives it goes to, and the visits that follow.
fn wave(story: &mut Story, at: usize) -> Done {
    let (key, source, kind, arrives, age) = WAVES[at];
    let season = &WAVES.iter().filter(|it| it.4 == age).map(|it| it.0).collect::<Vec<_>>();
    let (of, mine) = (season.len(), season.iter().position(|it| *it == key).unwrap_or(0));
    let arrives = on(arrives)?;
    let plots: Vec<usize> = (0..story.plots.len()).filter(|plot| plot % of == mine).collect();
    let mut count = 0;
    for (place, plot) in plots.into_iter().enumerate() {
        // Cells do not keep: they go in within four days.
        let a_day = if kind == ParcelKind::Cells { 6 } else { 3 };
        let day0 = arrives.plus(1 + (place / a_day) as i32);
        let mut hives = Vec::new();
        for hive in story.of_plot(plot) {
            let it = &story.hives[hive];
            let wanted = it.age == age && !(it.sure && age == Age::Older && story.plots[plot].prefix == "B");
            // Queens of hives whose turn comes later are old by then.
            let worn = !it.sure && it.age == Age::First && age == Age::Third && story.chance.percent(45);
            let spared = age == Age::Older && story.chance.percent(45);
            if (wanted && !spared) || worn {
                hives.push(hive);
            }
        }
        count += hives.len() as u32;
        let by = story.plots[plot].by;
        for hive in hives {
            let sure = story.hives[hive].sure;
            if kind == ParcelKind::Cells {
                story.plan(day0.plus(-1), Task::Type(hive, "/q".to_owned(), by, None));
                story.plan(day0, Task::Type(hive, "+c".to_owned(), by, Some(key.to_owned())));
                continue;
            }
            let codes = match story.chance.below(100) {
                0..3 if !sure => "?q",
                3..15 if source == "Farside Queens" => "/q +p",
                _ => "/q +q",
            };
            story.plan(day0, Task::Type(hive, codes.to_owned(), by, Some(key.to_owned())));
        }
        let follow: &[i32] =
            if kind == ParcelKind::Cells { &[15, 28, 30, 40, 47] } else { &[3, 4, 10, 17, 19, 27, 34] };
        for days in follow {
            story.plan(day0.plus(*days), Task::Follow(plot, false));
        }
    }
    let cells = kind == ParcelKind::Cells;
    let (dead, spare) = if cells { (0, 3) } else { (count / 30 + 1, count / 10 + 8) };
    let bought = Bought { key: key.to_owned(), source, kind, count: count + dead + spare, dead };
    story.tasks.entry(arrives).or_default().insert(0, Task::Arrive(bought));
    story.plan(arrives.plus(if cells { 12 } else { 30 }), Task::PutAway(key.to_owned()));
    Ok(())
}
