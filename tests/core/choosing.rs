//! Hives founded, found and chosen in words.

use lidnote::domain::change::Change;
use lidnote::domain::choose::{Chosen, choose};
use lidnote::domain::colony::{Colony, End, EndWhy, FirstQueen, Founding};
use lidnote::domain::fold_text::{HitOn, search};
use lidnote::domain::found::{Many, ManyError, Numbering, found_many};
use lidnote::domain::ids::{ColonyId, YardId};
use lidnote::domain::yard::{Layout, Spot};

use crate::kit::{Kit, day};

/// Two yards: `Heath yard` with H01 to H12 in three rows, `Broom Flat` with B03 to B10 on two pallets.
fn two_yards() -> (Kit, Vec<ColonyId>) {
    let mut kit = Kit::default();
    let heath = kit.yard("Heath yard");
    let broom = kit.yard("Broom Flat");
    let mut all = found(&mut kit, heath, "12 hives in 3 rows", "H", 1);
    all.extend(found(&mut kit, broom, "2 pallets", "B", 3));
    (kit, all)
}

fn many(kit: &mut Kit, yard: YardId, text: &str, before: &str, first: u32) -> Result<Many, ManyError> {
    let ids: Vec<_> = (0..100).map(|_| kit.id()).collect();
    let mut ids = ids.into_iter();
    let mut mint = || ids.next().expect("fewer than a hundred hives");
    found_many(&kit.world, yard, text, Numbering { before, first }, day("2026-09-01"), &mut mint)
}

fn found(kit: &mut Kit, yard: YardId, text: &str, before: &str, first: u32) -> Vec<ColonyId> {
    let many = many(kit, yard, text, before, first).expect("hives");
    let ids = many.colonies.iter().map(|colony| colony.id).collect();
    if let Some(layout) = many.layout {
        let mut yard = kit.world.yards[&yard].as_ref().clone();
        yard.layout = layout;
        kit.apply(&Change::PutYard(Box::new(yard)), day("2026-09-01"));
    }
    kit.apply(&Change::Found { colonies: many.colonies, queens: Vec::new() }, day("2026-09-01"));
    ids
}

fn names(kit: &Kit, ids: &[ColonyId]) -> String {
    ids.iter().map(|id| kit.world.colonies[id].name()).collect::<Vec<_>>().join(" ")
}

fn chosen(kit: &Kit, among: &[ColonyId], text: &str) -> Chosen {
    choose(&kit.world, among, text, day("2026-11-24"))
}

#[test]
fn hives_are_chosen_as_it_is_said() {
    let (kit, all) = two_yards();
    let heath = &all[..12];
    for (text, expected) in [
        ("all except 7 and 12", "H01 H02 H03 H04 H05 H06 H08 H09 H10 H11"),
        ("all but 7, 12", "H01 H02 H03 H04 H05 H06 H08 H09 H10 H11"),
        ("except 1-10", "H11 H12"),
        ("1-3", "H01 H02 H03"),
        ("1 to 3 and 12", "H01 H02 H03 H12"),
        ("H03-H05", "H03 H04 H05"),
        ("h03-05", "H03 H04 H05"),
        ("7", "H07"),
        ("row 2", "H05 H06 H07 H08"),
        ("rows 1 and 3 except 2", "H01 H03 H04 H09 H10 H11 H12"),
        ("rows 2-3 without row 3", "H05 H06 H07 H08"),
        ("", ""),
    ] {
        let got = chosen(&kit, heath, text);
        assert_eq!(names(&kit, &got.chosen), expected, "{text}");
        assert_eq!(got.chosen.len() + got.left_out.len(), 12, "{text}");
        assert_eq!(got.not_understood, Vec::<String>::new(), "{text}");
    }
}

#[test]
fn a_yards_name_narrows_what_follows() {
    let (kit, all) = two_yards();
    let got = chosen(&kit, &all, "Heath yard, all except 3 to 12");
    assert_eq!((names(&kit, &got.chosen), got.left_out.len()), ("H01 H02".to_owned(), 10));
    let got = chosen(&kit, &all, "broom flat 3, 5");
    assert_eq!(names(&kit, &got.chosen), "B03 B05");
    let got = chosen(&kit, &all, "Broom Flat except pallet 2");
    assert_eq!(names(&kit, &got.chosen), "B03 B04 B05 B06");
    let got = chosen(&kit, &all, "Heath yard 1, Broom Flat");
    assert_eq!(names(&kit, &got.chosen), "H01 B03 B04 B05 B06 B07 B08 B09 B10");
    let got = chosen(&kit, &all, "all except Heath yard");
    assert_eq!(got.chosen.len(), 8);
    // Without a yard a number means every hive of that number.
    assert_eq!(names(&kit, &chosen(&kit, &all, "5").chosen), "H05 B05");
}

#[test]
fn words_that_fit_nothing_are_given_back() {
    let (kit, all) = two_yards();
    let got = chosen(&kit, &all, "Heath yard, 7, 99 and the green ones");
    assert_eq!(names(&kit, &got.chosen), "H07");
    assert_eq!(got.not_understood, ["99", "green", "ones"]);
    assert_eq!(chosen(&kit, &all, "row 9").not_understood, ["row 9"]);
}

#[test]
fn many_hives_are_founded_from_a_few_words() {
    let mut kit = Kit::default();
    let yard = kit.yard("Heath yard");
    let rows = many(&mut kit, yard, "40 hives in 4 rows", "H", 1).expect("hives");
    assert_eq!((rows.colonies.len(), rows.layout), (40, None));
    assert_eq!(rows.words, "40 hives in 4 rows, H01 to H40, queens unknown");
    assert_eq!(rows.colonies[39].spot(), Some(Spot { row: 4, place: 10 }));
    let pallets = many(&mut kit, yard, "12 pallets", "P", 1).expect("hives");
    assert_eq!((pallets.colonies.len(), pallets.layout), (48, Some(Layout::Pallets)));
    assert_eq!(pallets.colonies[47].spot(), Some(Spot { row: 12, place: 4 }));
    let nucs = many(&mut kit, yard, "30 nucs, queens unknown", "N", 1).expect("nucs");
    assert!(nucs.colonies.iter().all(|nuc| nuc.how == Founding::Nuc && nuc.began_with == FirstQueen::Unknown));
    let bare = many(&mut kit, yard, "8 nucs without queens", "N", 1).expect("nucs");
    assert!(bare.colonies.iter().all(|nuc| nuc.began_with == FirstQueen::None));
}

#[test]
fn taken_names_and_spots_are_passed_over() {
    let mut kit = Kit::default();
    let yard = kit.yard("Heath yard");
    found(&mut kit, yard, "3 hives", "H", 2);
    let more = many(&mut kit, yard, "4 hives in 1 row", "h", 1).expect("hives");
    let names: Vec<&str> = more.colonies.iter().map(Colony::name).collect();
    assert_eq!(names, ["h01", "h05", "h06", "h07"]);
    assert_eq!(more.colonies[0].spot(), Some(Spot { row: 2, place: 1 }));
    kit.apply(&Change::Found { colonies: more.colonies, queens: Vec::new() }, day("2026-09-01"));
    let error = many(&mut kit, yard, "2 pallets", "P", 1).expect_err("rows stand there");
    assert_eq!(error.to_string(), "The hives of Heath yard stand in rows. Found these in rows too");
}

#[test]
fn words_that_name_no_hives_are_refused_with_a_way_out() {
    let mut kit = Kit::default();
    let yard = kit.yard("Heath yard");
    for text in ["", "hives", "0 hives", "4 rows", "5000 hives", "9 hives on 2 pallets", "3 hives in 9 rows", "4 cows"]
    {
        let error = many(&mut kit, yard, text, "H", 1).expect_err(text);
        assert!(!error.what.is_empty() && !error.remedy.is_empty(), "{text}");
    }
}

#[test]
fn search_finds_present_and_former_names_with_accents_folded() {
    let mut kit = Kit::default();
    let yard = kit.yard("Ōkāreka");
    let today = day("2026-11-24");
    let old = kit.hive(yard, "B14");
    kit.apply(&Change::Rename { names: vec![(old, "C02".to_owned())], day: day("2026-10-01") }, today);
    let sold = kit.hive(yard, "B140");
    let end = End { day: day("2026-11-01"), why: EndWhy::Sold, by: String::new(), words: String::new() };
    kit.apply(&Change::End { colonies: vec![sold], end }, today);
    let hits = search(&kit.world, "okareka");
    assert_eq!(hits[0].what, HitOn::Yard(yard));
    let hits = search(&kit.world, "b14");
    assert_eq!(hits.iter().map(|hit| hit.what).collect::<Vec<_>>(), [HitOn::Colony(old), HitOn::Colony(sold)]);
    assert_eq!(hits[0].former, Some((day("2026-09-01"), day("2026-09-30"))));
    assert_eq!(hits[1].former, Some((day("2026-09-01"), day("2026-11-01"))));
    assert_eq!(search(&kit.world, "c02")[0].former, None);
    for both in ["okareka c0", "c02 okareka", "C02, Ōkāreka", "okareka/c02"] {
        assert_eq!(search(&kit.world, both)[0].what, HitOn::Colony(old), "{both}");
    }
    assert_eq!(search(&kit.world, "  "), Vec::new());
}
