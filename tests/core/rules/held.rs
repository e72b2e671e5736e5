//! Which bars hold, since when and until when, and in which order they are told.

use lidnote::domain::bar::{Bar, BarKind, BarOn};
use lidnote::domain::day::Day;
use lidnote::domain::ids::BarId;
use lidnote::domain::place::Hemisphere;
use lidnote::domain::standing::bars::{plan_allowed, season_bar};
use lidnote::domain::standing::{Identity, LidState};
use lidnote::domain::visit::Method::{self, Caged, Nuc};

use super::hives::{B14, Hives, day};

fn iso(text: &str) -> Day {
    Day::from_iso(text).expect("a day")
}

#[test]
fn the_season_bar_says_when_the_season_ended_and_when_it_begins() {
    let mut hives = Hives::new();
    let bar = |hives: &Hives, on: &str| {
        season_bar(&hives.world, iso(on)).map(|bar| (bar.from.iso(), bar.until.expect("an end").iso(), bar.reason))
    };
    let south = |from: &str, until: &str, begins: &str| {
        Some((from.to_owned(), until.to_owned(), format!("the season begins {begins}")))
    };
    for on in ["2026-09-01", "2026-12-31", "2027-01-01", "2027-03-31"] {
        assert_eq!(bar(&hives, on), None, "in the south {on}");
    }
    for on in ["2027-04-01", "2027-05-15", "2027-08-31"] {
        assert_eq!(bar(&hives, on), south("2027-04-01", "2027-08-31", "1 Sep"), "in the south {on}");
    }
    hives.world.firm.hemisphere = Hemisphere::North;
    for on in ["2026-03-01", "2026-06-15", "2026-09-30"] {
        assert_eq!(bar(&hives, on), None, "in the north {on}");
    }
    // It goes over the turn of the year.
    for on in ["2026-10-01", "2026-12-31", "2027-01-01", "2027-02-28"] {
        assert_eq!(bar(&hives, on), south("2026-10-01", "2027-02-28", "1 Mar"), "in the north {on}");
    }
}

fn by_hand(number: u128, kind: BarKind, from: &str) -> Bar {
    Bar {
        id: BarId::from_number(number),
        on: BarOn::Colony(B14),
        kind,
        from: day(from),
        until: None,
        reason: String::new(),
        by: "MK".to_owned(),
        permit: None,
        lifted: None,
    }
}

#[test]
fn bars_are_told_the_hardest_first() {
    let mut hives = Hives::new();
    for bar in [
        by_hand(1, BarKind::Weather, "1 Nov"),
        by_hand(2, BarKind::Quarantine, "9 Nov"),
        by_hand(3, BarKind::Quarantine, "5 Nov"),
    ] {
        hives.world.bars.insert(bar.id, bar);
    }
    let standing = hives.standing("24 Nov");
    let told: Vec<(BarKind, Day)> = standing.bars.iter().map(|bar| (bar.kind, bar.from)).collect();
    let quarantine = |on| (BarKind::Quarantine, day(on));
    assert_eq!(told, [quarantine("5 Nov"), quarantine("9 Nov"), (BarKind::Weather, day("1 Nov"))]);
}

#[test]
fn a_permit_opens_a_quarantine_and_nothing_else() {
    let allowed = |kind, permit: &str| {
        let mut hives = Hives::new();
        let bar = Bar { permit: Some(permit.to_owned()), ..by_hand(1, kind, "1 Nov") };
        hives.world.bars.insert(bar.id, bar);
        plan_allowed(&hives.world, B14, Caged, day("24 Nov"), true).is_ok()
    };
    assert!(allowed(BarKind::Quarantine, "permit 7") && !allowed(BarKind::Quarantine, ""));
    assert!(!allowed(BarKind::AmericanFoulbrood, "permit 7"));
}

#[test]
fn laying_workers_leave_only_the_uniting_open_whoever_says_so() {
    let mut hives = Hives::new();
    let bar = by_hand(1, BarKind::LayingWorkers, "1 Nov");
    hives.world.bars.insert(bar.id, bar);
    let open: Vec<Method> = Method::ALL
        .into_iter()
        .filter(|method| plan_allowed(&hives.world, B14, *method, day("24 Nov"), true).is_ok())
        .collect();
    assert_eq!(open, [Nuc, Method::OwnRaising]);
}

#[test]
fn a_swarm_bars_until_its_queen_should_lay() {
    let mut hives = Hives::new();
    hives.saw("1 Nov", "s");
    let kinds = |on: &str| hives.standing(on).bars.iter().map(|bar| bar.kind).collect::<Vec<_>>();
    assert_eq!(kinds("6 Dec"), [BarKind::Swarming], "D+35");
    assert_eq!(kinds("7 Dec"), []);
}

#[test]
fn disease_rests_a_hive_that_ended_no_more_and_forgets_no_queen() {
    let mut hives = Hives::given(Caged);
    hives.saw("24 Nov", "q x1");
    let standing = hives.standing("24 Nov");
    assert_eq!(standing.identity, Identity::Seen(day("24 Nov")));
    assert_eq!(standing.lid_state(day("24 Nov")), LidState::Barred);
    // What is suspected later without its name does not take the name away.
    hives.saw("26 Nov", "x");
    assert_eq!(hives.standing("26 Nov").bars[0].kind, BarKind::AmericanFoulbrood);
    let mut named = Hives::new();
    named.saw("24 Nov", "x2");
    named.saw("26 Nov", "x");
    assert_eq!(named.standing("26 Nov").bars[0].kind, BarKind::Disease);
    hives.saw("28 Nov", "z");
    let ended = hives.standing("28 Nov");
    assert!(ended.bars.is_empty() && ended.work.is_empty() && ended.clock.is_none());
    assert_eq!(ended.lid_state(day("28 Nov")), LidState::Quiet);
    hives.saw("30 Nov", "e");
    assert_eq!(hives.outcome("30 Nov").sentence, "Noted after the colony's death.");
}
