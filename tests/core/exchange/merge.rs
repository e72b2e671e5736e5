//! An export comes back into a register that knows its hives: what it adds is taken, the rest stays.

use std::collections::{BTreeMap, BTreeSet};

use lidnote::domain::day::Day;
use lidnote::domain::decide::decide;
use lidnote::domain::fact::Fact;
use lidnote::domain::fold_text::fold;
use lidnote::domain::grammar::describe::describe_record;
use lidnote::domain::ids::YardId;
use lidnote::domain::world::World;
use lidnote::exchange::any;
use lidnote::exchange::table::changes::changes;
use lidnote::exchange::table::export::programme_csv;
use lidnote::exchange::table::headings::Field;
use lidnote::exchange::table::held_back::held_back_csv;
use lidnote::exchange::table::preview::{Existing, Options, Preview, Will};
use proptest::prelude::*;
use uuid::Uuid;

use super::round_trip::first_difference;
use super::same_content::relabelled;
use super::{Register, day, problems};
use crate::properties::{goes_on, random_world};

fn update() -> Options {
    Options { existing: Existing::Update, ..Options::default() }
}

/// The world with a file brought in, the preview, and the facts.
fn with_file(world: &World, file: &str, options: &Options, on: Day, first_id: u128) -> (World, Preview, Vec<Fact>) {
    let preview = any::read(file.as_bytes(), options, world, on).unwrap();
    let mut next = first_id;
    let mut mint = || {
        next += 1;
        Uuid::from_u128(next)
    };
    let change = changes(&preview, &mut mint, "Import");
    let facts = decide(world, &change, on).unwrap_or_else(|refusal| panic!("{refusal:?}\n{file}"));
    let mut after = world.clone();
    after.advance_all(&facts);
    (after, preview, facts)
}

/// Nothing that was known before is gone or says less: what a table that names no ids can tell apart from another thing.
fn only_adds(before: &World, after: &World) -> bool {
    let within = |one: &[String], other: &[String]| {
        let mut rest = other.iter();
        one.iter().all(|wanted| rest.any(|it| it == wanted))
    };
    let new_yards = after.yards.keys().all(|id| before.yards.contains_key(id) || *id >= YardId::from_number(3));
    let yards = new_yards && before.yards.iter().all(|(id, yard)| after.yards.get(id) == Some(yard));
    let sources = before.sources.iter().all(|(id, source)| after.sources.get(id) == Some(source));
    let parcels = before.parcels.iter().all(|(id, parcel)| after.parcels.get(id) == Some(parcel));
    let queens = before.queens.iter().all(|(id, queen)| {
        after.queens.get(id).is_some_and(|later| {
            let stays = |held: bool, later: bool| !held || later;
            stays(!queen.birth.is_unknown(), !later.birth.is_unknown())
                && stays(queen.dot.is_some(), later.dot.is_some())
                && stays(queen.source.is_some(), later.source.is_some())
        })
    });
    let later_ones = new_are_last(&before.colonies, &after.colonies)
        && new_are_last(&before.parcels, &after.parcels)
        && new_are_last(&before.plans, &after.plans)
        && new_are_last(&before.bars, &after.bars)
        && new_are_last(&before.runs, &after.runs);
    let colonies = before.colonies.iter().all(|(id, held)| {
        let later = &after.colonies[id];
        let names = |colony: &lidnote::domain::colony::Colony| -> Vec<String> {
            colony.names.iter().map(|it| format!("{it:?}")).collect()
        };
        let stands = |colony: &lidnote::domain::colony::Colony| -> Vec<String> {
            colony.stands.iter().map(|it| format!("{it:?}")).collect()
        };
        let moved = held.founded != later.founded;
        let lid = later.lid.on > held.lid.on
            || (later.lid.on == held.lid.on
                && later.lid.printed == held.lid.printed
                && (later.lid.stale || !held.lid.stale));
        (moved || (within(&names(held), &names(later)) && within(&stands(held), &stands(later)))) && lid
    });
    let plans = before.plans.iter().all(|(id, held)| {
        let later = &after.plans[id];
        later.moved.starts_with(&held.moved)
            && (later.colony, later.made, later.method, later.source, later.parcel)
                == (held.colony, held.made, held.method, held.source, held.parcel)
            && (later.moved.len() > held.moved.len()
                || (later.give_on, later.dequeen_on) == (held.give_on, held.dequeen_on))
            && (held.called_off.is_none() || later.called_off == held.called_off)
    });
    let bars = before.bars.iter().all(|(id, held)| {
        let later = &after.bars[id];
        held.lifted.is_none() && lidnote::domain::bar::Bar { lifted: None, ..later.clone() } == *held || later == held
    });
    let runs = before.runs.iter().all(|(id, held)| after.runs.get(id) == Some(held));
    later_ones && yards && sources && parcels && queens && colonies && plans && bars && runs
}

/// What is new has the last ids, as minted ones have.
fn new_are_last<K: Ord, T, U>(before: &BTreeMap<K, T>, after: &BTreeMap<K, U>) -> bool {
    let last = before.keys().max();
    after.keys().all(|id| before.contains_key(id) || Some(id) > last)
}

/// No two hives and no two records could be taken for each other: a table names no ids.
fn is_told_apart(world: &World) -> bool {
    let mut hives = BTreeSet::new();
    let apart = world.colonies.values().all(|colony| {
        let names: BTreeSet<String> = colony.names.iter().map(|named| fold(&named.name)).collect();
        let yards: BTreeSet<YardId> = colony.stands.iter().map(|stand| stand.yard).collect();
        let told: Vec<_> = names.iter().flat_map(|name| yards.iter().map(move |yard| (name.clone(), *yard))).collect();
        told.into_iter().all(|told| hives.insert(told))
    });
    let mut records = BTreeSet::new();
    let all = world.records.values().flat_map(|records| records.iter());
    apart
        && all.into_iter().all(|record| {
            let says = format!("{}: {}", record.day.near(day(ON)), describe_record(world, record));
            let mut place = record.colony;
            let mut was = vec![(place, says)];
            for amended in record.amended.iter().rev() {
                place = amended.left.as_ref().map_or(place, |left| left.colony);
                was.push((place, amended.was.split_once(", ").map_or(String::new(), |(_, said)| said.to_owned())));
            }
            was.dedup();
            was.into_iter().all(|said| records.insert(said))
        })
}

/// A register made of the changes that these bytes say.
fn begun(bytes: &[u8]) -> World {
    goes_on(&random_world(&[]), bytes, 1000, |_, after| is_told_apart(after))
}

/// The rows that do something, with what is said of them.
fn doing(preview: &Preview) -> Vec<(u32, Will, &str)> {
    let doing = preview.rows.iter().filter(|row| row.will != Will::Same);
    doing.map(|row| (row.row, row.will, row.says.as_str())).collect()
}

/// The world with further changes that these bytes say.
fn grown(world: &World, bytes: &[u8], first_record: u128) -> World {
    goes_on(world, bytes, first_record, |before, after| is_told_apart(after) && only_adds(before, after))
}

fn check_same(one: &World, other: &World, preview: &Preview, file: &str) {
    let difference = first_difference(&relabelled(one), &relabelled(other));
    assert_eq!(difference, None, "{:?}\n{file}", doing(preview));
}

/// The facts taken back in their order leave what was before.
fn check_one_undo(before: &World, after: &World, facts: Vec<Fact>) {
    let mut world = after.clone();
    facts.into_iter().rev().for_each(|fact| world.advance(&fact.inverse()));
    assert_eq!(&world, before);
}

const ON: &str = "2026-11-24";

proptest! {
    #![proptest_config(ProptestConfig { cases: 96, ..ProptestConfig::default() })]

    #[test]
    fn what_a_copy_recorded_comes_back_whole(
        first in prop::collection::vec(prop::num::u8::ANY, 0..2000),
        more in prop::collection::vec(prop::num::u8::ANY, 0..1200),
    ) {
        let here = begun(&first);
        let there = grown(&here, &more, 5000);
        let file = programme_csv(&there);
        let (after, preview, facts) = with_file(&here, &file, &update(), day(ON), 1 << 64);
        prop_assert_eq!(problems(&preview), Vec::new(), "{}", file);
        check_same(&after, &there, &preview, &file);
        check_one_undo(&here, &after, facts);
        let (again, preview, facts) = with_file(&after, &file, &update(), day(ON), 1 << 65);
        prop_assert_eq!((doing(&preview), facts.len()), (Vec::new(), 0));
        prop_assert!(again == after);
    }

    #[test]
    fn an_older_file_takes_nothing_away(
        first in prop::collection::vec(prop::num::u8::ANY, 0..2000),
        more in prop::collection::vec(prop::num::u8::ANY, 0..1200),
    ) {
        let there = begun(&first);
        let details = |before: &World, after: &World| {
            is_told_apart(after) && only_adds(before, after) && before.queens.iter().all(|(id, queen)| after.queens.get(id) == Some(queen))
        };
        let here = goes_on(&there, &more, 5000, details);
        let file = programme_csv(&there);
        let (after, preview, facts) = with_file(&here, &file, &update(), day(ON), 1 << 64);
        prop_assert_eq!((doing(&preview), facts.len()), (Vec::new(), 0), "{}\n{}", file, programme_csv(&here));
        prop_assert!(after == here);
    }

    #[test]
    fn two_copies_run_together_as_previewed(
        first in prop::collection::vec(prop::num::u8::ANY, 0..1500),
        one in prop::collection::vec(prop::num::u8::ANY, 0..800),
        other in prop::collection::vec(prop::num::u8::ANY, 0..800),
        existing in prop_oneof![Just(Existing::Ask), Just(Existing::Skip), Just(Existing::Update)],
    ) {
        let both = random_world(&first);
        let here = goes_on(&both, &one, 5000, |_, _| true);
        let there = goes_on(&both, &other, 9000, |_, _| true);
        let file = programme_csv(&there);
        let options = Options { existing, ..Options::default() };
        let (after, preview, facts) = with_file(&here, &file, &options, day(ON), 1 << 64);
        let added = after.living().count() as i64 - here.living().count() as i64;
        if existing != Existing::Update {
            prop_assert!(added <= i64::from(preview.totals.hives_added));
            prop_assert_eq!(preview.totals.changed, 0);
        }
        if existing == Existing::Skip {
            let known = here.colonies.iter().all(|(id, held)| after.colonies.get(id) == Some(held));
            prop_assert!(known, "skip leaves what is there");
        }
        check_one_undo(&here, &after, facts);
        let (_, preview, facts) = with_file(&after, &file, &options, day(ON), 1 << 65);
        let doubled = preview.totals.hives_added + preview.totals.changed;
        prop_assert_eq!((doubled, facts.len()), (0, 0), "{:?}\n{}", doing(&preview), file);
    }
}

/// A register as it stood when it was copied.
const COPIED: &str = "\
entry,yard,latitude,longitude,hive,known since,queen born,dot,origin,introduced,method,dequeened,last look,found,words,note,\
ended,why ended,give on,called,other hive,lifted by
yard,Heath,-40.1,160.2,,,,,,,,,,,,,,,,,,
yard,Kelp,-40.2,160.3,,,,,,,,,,,,,,,,,,
hive,Heath,,,B1,2026-01-01,2025,white,mated,,,,2026-11-01,e l b,,,,,,,,
visit,Heath,,,B1,,,,,,,,2026-11-10,eq,,,,,,,,
hive,Heath,,,B2,2026-01-01,2024,,mated,,,,2026-11-01,e l b,,,,,,,,
plan,Heath,,,B2,2026-11-02,,,,,caged queen,,,,,,,,2026-11-28,,,
hive,Kelp,,,B1,2026-02-01,,,,,,,,,,,,,,,,
";

/// The file with rows replaced and added.
fn edited(replaced: &[(&str, &str)], added: &str) -> String {
    let mut text = COPIED.to_owned();
    for (from, to) in replaced {
        assert!(text.contains(from), "{from} is not in the file");
        text = text.replace(from, to);
    }
    text + added
}

/// What the rows of the edited file do that do not stay the same.
fn check_rows(replaced: &[(&str, &str)], added: &str, expected: &[(u32, Will, &str)]) -> Register {
    let mut register = Register::with(COPIED);
    let before = register.world.clone();
    let file = edited(replaced, added);
    let asked = register.preview(&file, &Options::default());
    assert!(doing(&asked).iter().all(|(_, will, _)| *will == Will::HoldBack), "{:?}", doing(&asked));
    register.bring_in(&file, &Options { existing: Existing::Skip, ..Options::default() });
    assert_eq!(register.world, before, "skip leaves all as it is");
    let preview = register.bring_in(&file, &update());
    assert_eq!(doing(&preview), expected);
    for row in preview.rows.iter().filter(|row| row.will == Will::HoldBack) {
        assert!(row.problems.iter().all(|problem| !problem.remedy.is_empty()));
    }
    let more = preview.rows.iter().filter(|row| row.will == Will::Add).count();
    assert_eq!(preview.totals.more.all() as usize, more, "{:?}", preview.totals.more);
    register
}

#[test]
fn what_a_file_adds_is_taken() {
    let added = "\
visit,Heath,,,B1,,,,,,,,2026-11-20,e l,late in the day,,,,,,,
named,Heath,,,B2,2026-01-01,,,,,,,,,,,,,,B2,,
named,Heath,,,B2,2026-11-15,,,,,,,,,,,,,,B9,,
plan,Kelp,,,B1,2026-11-16,,,,,mature cell,,,,,,,,2026-11-30,,,
";
    let register = check_rows(
        &[("hive,Heath,,,B2,", "hive,Heath,,,B9,"), ("plan,Heath,,,B2,", "plan,Heath,,,B9,"), (",white,", ",blue,")],
        &added.replace("named,Heath,,,B2,", "named,Heath,,,B9,"),
        &[
            (4, Will::Change, "Dot: white to blue"),
            (6, Will::Change, "Name: B2 to B9"),
            (9, Will::Add, "20 Nov: Eggs, larvae (late in the day)"),
            (11, Will::Add, ""),
            (12, Will::Add, "Plan for 30 Nov"),
        ],
    );
    assert_eq!((register.world.colonies.len(), register.world.plans.len()), (3, 2));
    let b9 = register.world.living().find(|it| it.name() == "B9").unwrap();
    assert_eq!(b9.names.len(), 2);
}

#[test]
fn what_contradicts_is_held_back_row_by_row() {
    check_rows(
        &[
            ("2026-11-10,eq,", "2026-11-10,d,"),
            ("B2,2026-01-01,2024", "B2,2026-03-01,2023"),
            ("2026-11-28", "2026-12-03"),
        ],
        "",
        &[
            (5, Will::HoldBack, "The register says of B1 on 10 Nov: Eggs, her seen"),
            (6, Will::HoldBack, "B2 is known since 1 Jan in the register"),
            (7, Will::HoldBack, "The register has this plan for 28 Nov"),
        ],
    );
    check_rows(
        &[("plan,Heath,,,B2,2026-11-02,,,,,caged queen,,,,,,,,2026-11-28,,,\n", "")],
        "plan,Heath,,,B2,2026-11-20,,,,,virgin,,,,,,,,2026-12-05,,,\nvisit,Kelp,,,B1,,,,,,,,2026-01-05,e,,,,,,,,\n",
        &[(8, Will::HoldBack, "B2 has a plan for 28 Nov"), (9, Will::HoldBack, "B1 is known only since 1 Feb")],
    );
}

#[test]
fn an_end_is_taken_with_what_follows_and_not_against_a_later_visit() {
    let b2 = "hive,Heath,,,B2,2026-01-01,2024,,mated,,,,2026-11-01,e l b,,,";
    let plan = "plan,Heath,,,B2,2026-11-02,,,,,caged queen,,,,,,,,2026-11-28,,,\n";
    let register =
        check_rows(&[(b2, &format!("{b2}2026-11-20")), (plan, "")], "", &[(6, Will::Change, "Ended 20 Nov, gone")]);
    let plan = register.world.plans.values().next().unwrap();
    assert_eq!(plan.called_off, Some(day("2026-11-20")), "a plan of which the file does not know falls");
    let b1 = "hive,Heath,,,B1,2026-01-01,2025,white,mated,,,,2026-11-01,e l b,,,";
    check_rows(
        &[(b1, &format!("{b1}2026-11-05")), ("visit,Heath,,,B1,,,,,,,,2026-11-10,eq,,,,,,,,\n", "")],
        "",
        &[(4, Will::HoldBack, "B1 would end 5 Nov, gone, and was visited 10 Nov")],
    );
}

#[test]
fn a_yard_that_lies_where_another_did_has_another_name() {
    let register = check_rows(&[("Kelp", "Tide Mill")], "", &[(3, Will::Change, "")]);
    assert_eq!((register.world.yards.len(), register.world.colonies.len()), (2, 3));
    assert!(register.world.yards.values().any(|yard| yard.name == "Tide Mill"));
}

#[test]
fn rows_held_back_can_be_corrected_and_brought_in_alone() {
    let mut register = Register::with(COPIED);
    let file = edited(&[], "visit,Heath,,,B1,,,,,,,,2026-11-31,e l,,,,,,,,\n");
    let preview = register.bring_in(&file, &update());
    assert_eq!(problems(&preview), [(9, Some(Field::LastLook), "31 November does not exist")]);
    let held = held_back_csv(&preview).unwrap().replace("2026-11-31", "2026-11-21");
    let preview = register.bring_in(&held, &update());
    assert_eq!(doing(&preview), [(2, Will::Add, "21 Nov: Eggs, larvae")]);
    let b1 = register.world.living().find(|it| it.name() == "B1").unwrap().id;
    assert_eq!(register.world.records_of(b1).len(), 3);
    assert_eq!(doing(&register.preview(&held, &update())), []);
}

#[test]
fn a_parcel_that_came_before_this_one_was_sent_is_another() {
    let headings = "entry,parcel,parcel kind,parcel count,parcel sent,parcel arrived\n";
    let mut register = Register::with(&format!("{headings}parcel,1,caged queens,5,,2026-11-01\n"));
    register.bring_in(&format!("{headings}parcel,1,caged queens,5,2026-11-05,\n"), &update());
    assert_eq!(register.world.parcels.len(), 2);
    register.bring_in(&format!("{headings}parcel,1,caged queens,5,2026-10-30,\n"), &update());
    let sent: Vec<_> = register.world.parcels.values().map(|parcel| parcel.sent).collect();
    assert_eq!(sent, [Some(day("2026-10-30")), Some(day("2026-11-05"))], "more is known of the first");
}

#[test]
fn a_hive_renamed_here_leaves_no_room_for_its_new_name_in_a_yard_of_the_file() {
    let headings = "entry,yard,latitude,longitude,hive,known since,called,stood in\nyard,Heath,-40.1,160.2,,,,\n";
    let renamed = "hive,Heath,,,B9,2026-01-01,,\nnamed,Heath,,,B9,2026-01-01,B2,\nnamed,Heath,,,B9,2026-11-20,B9,\n";
    let mut register = Register::with(&format!("{headings}{renamed}"));
    let moved = "yard,Moor,-40.3,160.4,,,,\nhive,Moor,,,B2,2026-01-01,,\nstood,Moor,,,B2,2026-01-01,,Heath\n\
                 stood,Moor,,,B2,2026-11-10,,Moor\nhive,Moor,,,B9,2026-03-01,,\n";
    let preview = register.bring_in(&format!("{headings}{moved}"), &update());
    let held = || doing(&preview).into_iter().filter(|(_, will, _)| *will == Will::HoldBack);
    assert_eq!(held().map(|(row, ..)| row).collect::<Vec<_>>(), [4, 6, 7], "neither may have it");
    let hives: Vec<_> = register.world.living().map(|colony| colony.name().to_owned()).collect();
    assert_eq!(hives, ["B9"]);
}
