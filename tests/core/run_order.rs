//! The order of a run where disease is about: clean yards first, those with a suspicion after them, quarantine last.

use lidnote::domain::bar::{Bar, BarKind, BarOn};
use lidnote::domain::change::Change;
use lidnote::domain::ids::{BarId, RunId, YardId};
use lidnote::domain::place::Place;
use lidnote::domain::run_order::{Base, RunOrder, RunStop};
use lidnote::domain::yard::Yard;
use lidnote::planner::outlook::Outlook;
use lidnote::planner::run::lights::Lights;
use lidnote::planner::run::plan::{in_quarantine, plan, service_seconds, work_on};
use lidnote::planner::run::propose::propose;

use crate::kit::{Kit, day};

const TODAY: &str = "2026-11-24";

/// Three yards on one road from the base, the nearest under quarantine, the next with disease suspected; one hive each.
fn three_yards() -> (Kit, [YardId; 3]) {
    let mut kit = Kit::default();
    // The clock of a place at 160 degrees east, so that the day's light falls into its hours.
    let clock = Change::SetSetting { name: "utc_offset".to_owned(), value: 660.0 };
    kit.apply(&clock, day(TODAY));
    let mut yard = |name: &str, lon: f64| {
        let id = YardId(kit.id());
        let placed = Yard { place: Place::new(-40.0, lon), ..Yard::named(id, name) };
        kit.apply(&Change::PutYard(Box::new(placed)), day(TODAY));
        let hive = kit.hive(id, "B1");
        (id, hive)
    };
    let (near, _) = yard("Near", 160.02);
    let (middle, ill) = yard("Middle", 160.04);
    let (far, _) = yard("Far", 160.06);
    kit.enter(ill, "2026-11-20", "x");
    let quarantine = Bar {
        id: BarId::from_number(1),
        on: BarOn::Yard(near),
        kind: BarKind::Quarantine,
        from: day("2026-11-10"),
        until: Some(day(TODAY)),
        reason: "order 14".to_owned(),
        by: String::new(),
        permit: None,
        lifted: None,
    };
    kit.apply(&Change::PutBar(quarantine), day(TODAY));
    (kit, [near, middle, far])
}

fn order(kit: &Kit, yards: &[YardId], on: &str) -> Vec<YardId> {
    let run = RunOrder {
        id: RunId::from_number(1),
        day: day(on),
        vehicle: String::new(),
        base: Base { name: "Home".to_owned(), place: Place::new(-40.0, 160.0).expect("a place") },
        leave: 480,
        stops: yards.iter().map(|yard| RunStop { yard: *yard, locked: false }).collect(),
        left_out: Vec::new(),
    };
    let outlook = Outlook::new(&kit.world, day(on));
    let mut lights = Lights::default();
    let proposed = propose(&kit.world, &outlook, &run, false, &mut lights, &|| false).expect("a run");
    let planned = plan(&kit.world, &outlook, &proposed.run, &mut lights).expect("times");
    planned.stops.iter().map(|stop| stop.yard).collect()
}

#[test]
fn yards_with_disease_come_after_clean_ones_and_quarantine_last() {
    let (kit, [near, middle, far]) = three_yards();
    assert_eq!(order(&kit, &[near, middle, far], TODAY), [far, middle, near]);
    assert!(in_quarantine(&kit.world, near, day(TODAY)) && !in_quarantine(&kit.world, near, day("2026-11-25")));
    assert!(!in_quarantine(&kit.world, far, day(TODAY)), "it is the yard's that is named");
    assert_eq!(order(&kit, &[near, middle, far], "2026-11-25").last(), Some(&middle), "the quarantine is over");
}

#[test]
fn a_stop_takes_as_long_as_its_work_or_as_the_yard_says() {
    let mut kit = Kit::default();
    let yard = kit.yard("Heath yard");
    let hive = kit.hive(yard, "B1");
    kit.enter(hive, "2026-11-14", "/q +q");
    let outlook = Outlook::new(&kit.world, day(TODAY));
    let work = work_on(&outlook, yard, day(TODAY));
    assert_eq!(work.len(), 1, "the acceptance look");
    let minutes = |kit: &Kit| service_seconds(&kit.world, yard, &work) / 60;
    let by_kind = minutes(&kit);
    let look = kit.world.settings.minutes_look() as u32;
    assert!(by_kind >= look && look > 0, "{by_kind}");
    // Where the yard has minutes of its own, they count as soon as they are more.
    let own = |kit: &mut Kit, minutes: u32| {
        let yard = Yard { minutes: Some(minutes), ..Yard::clone(&kit.world.yards[&yard]) };
        kit.apply(&Change::PutYard(Box::new(yard)), day(TODAY));
    };
    let longer = Change::SetSetting { name: "minutes_look".to_owned(), value: f64::from(look + 10) };
    kit.apply(&longer, day(TODAY));
    assert_eq!(minutes(&kit), by_kind + 10, "a look takes its minutes");
    own(&mut kit, 1);
    assert_eq!(minutes(&kit), look + 10);
    own(&mut kit, 200);
    assert_eq!(minutes(&kit), 200);
}
