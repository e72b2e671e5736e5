//! The lid note of every state, as the table of the house has it.

use lidnote::domain::colony::{Lid, Named};
use lidnote::domain::standing::LidNote;
use lidnote::domain::visit::Method::{self, Caged, Cell, Nuc, OwnRaising, PushIn, Virgin};
use lidnote::domain::visit::OldQueen;

use super::hives::{B14, Hives, day};

#[track_caller]
fn lines(hives: &Hives, today: &str, expected: [&str; 3]) -> LidNote {
    let note = hives.note(today);
    assert_eq!(note.lines, expected);
    for line in &note.lines {
        assert!(line.chars().count() <= 20, "{line} is too long");
    }
    note
}

#[track_caller]
fn after(method: Method, finds: &[(&str, &str)], expected: [&str; 3]) -> LidNote {
    let mut hives = Hives::given(method);
    for (on, codes) in finds {
        hives.saw(on, codes);
    }
    lines(&hives, finds.last().map_or("14 Nov", |find| find.0), expected)
}

#[test]
fn each_introduction_has_its_note() {
    let caged = after(Caged, &[], ["B14 CAGE IN 14 NOV", "white, Thrift", "SHUT TO 21 SEE 24"]);
    assert_eq!(caged.small, ["caged queen in 14 Nov", "temper from 26 Dec"]);
    assert_eq!(caged.boxes, ['e', 'q', 'c', 'n']);
    let push_in = after(PushIn, &[], ["B14 CAGE IN 14 NOV", "white, Thrift", "OFF 18 SEE 24"]);
    assert_eq!(push_in.steps, ["/k"]);
    let cell = after(Cell, &[], ["B14 CELL IN 14 NOV", "Broom", "SHUT TO 28 SEE 29"]);
    assert_eq!(cell.boxes, ['e', 'l', 'b', 'n']);
    after(Virgin, &[], ["B14 VIRGIN IN 14 NOV", "Broom", "SHUT TO 26 SEE 27"]);
    after(Nuc, &[], ["B14 NUC IN 14 NOV", "white, Thrift", "SHUT TO 21 SEE 21"]);
    after(OwnRaising, &[], ["B14 OWN CELL 13 NOV", "raising her own", "SHUT TO 8 SEE 11 DEC"]);
}

#[test]
fn each_find_has_its_note() {
    after(Caged, &[("24 Nov", "n")], ["B14 NO EGGS 24 NOV", "white, Thrift", "SEE 1 DEC"]);
    after(Cell, &[("12 Dec", "e")], ["B14 LAYING 12 DEC", "Broom", "CAPPED? SEE 24"]);
    after(Caged, &[("24 Nov", "u")], ["B14 OTHER QUEEN", "seen 24 NOV", "WHICH? SEE 28"]);
    let accepted = after(Caged, &[("24 Nov", "eq")], ["B14 LAYING 24 NOV", "white, Thrift", "NOTHING DUE"]);
    assert!(accepted.boxes.is_empty() && !accepted.plain);
    let failed = after(Caged, &[("24 Nov", "c3 /c")], ["B14 LOST 24 NOV", "3 cells cut", "QUEEN DUE 26 NOV"]);
    assert_eq!(failed.small, ["caged queen of 14 Nov failed"]);
    let barred = after(Caged, &[("24 Nov", "x1")], ["B14 KEEP SHUT", "ring office first", "24 NOV"]);
    assert!(barred.small.is_empty() && barred.boxes.is_empty(), "no word of disease on a lid");
    let quiet = after(Caged, &[("24 Nov", "eq"), ("1 Dec", "e l b")], ["B14", "white, Thrift", "seen 1 DEC"]);
    assert!(quiet.plain && quiet.boxes.is_empty());
    assert_eq!(quiet.small, ["laying, first season"]);
    after(Caged, &[("24 Nov", "d")], ["B14 FAILED 24 NOV", "drone layer", "QUEEN DUE 27 NOV"]);
    after(Caged, &[("24 Nov", "w")], ["B14 LOST 24 NOV", "laying workers", "UNITE 27 NOV"]);
    after(Caged, &[("24 Nov", "k")], ["B14 QUEEN OUT 24 NOV", "white, Thrift", "SEE 1 DEC"]);
    after(OwnRaising, &[("10 Dec", "n")], ["B14 NO EGGS 10 DEC", "raising her own", "SEE 18"]);
}

#[test]
fn a_second_queen_says_so() {
    let mut hives = Hives::given(Caged);
    hives.saw("24 Nov", "c3 /c");
    hives.gave("26 Nov", Caged, OldQueen::AsRecorded, "");
    lines(&hives, "26 Nov", ["B14 2ND IN 26 NOV", "white, Thrift", "SHUT TO 3 SEE 6 DEC"]);
}

#[test]
fn a_waiting_colony_says_when_her_queen_is_due() {
    let mut hives = Hives::new();
    hives.plan("1 Nov", Caged, "14 Nov", Some("13 Nov"));
    hives.saw("13 Nov", "/q");
    let note = lines(&hives, "13 Nov", ["B14 NO QUEEN 13 NOV", "QUEEN DUE 14 NOV", "VIRGIN FROM 23 NOV"]);
    assert_eq!(note.small, ["Broom, caged queen", "cut cells and look before giving"]);
    let mut cut = Hives::new();
    cut.plan("1 Nov", Caged, "25 Nov", None);
    cut.saw("13 Nov", "/q");
    cut.saw("20 Nov", "c2 /c");
    lines(&cut, "20 Nov", ["B14 NO QUEEN 13 NOV", "QUEEN DUE 25 NOV", "cells cut 20 NOV"]);
}

#[test]
fn the_month_stands_in_the_third_line_where_it_differs() {
    let third = |method: Method, on: &str| {
        let mut hives = Hives::new();
        hives.gave(on, method, OldQueen::RemovedOn(day(on)), "");
        let note = hives.note(on);
        assert!(note.lines.iter().all(|line| line.chars().count() <= 20), "{:?}", note.lines);
        note.lines[2].clone()
    };
    assert_eq!(third(Caged, "20 Nov"), "SHUT TO 27 SEE 30");
    assert_eq!(third(Caged, "21 Nov"), "SHUT TO 28 SEE 1 DEC");
    assert_eq!(third(Caged, "30 Nov"), "SHUT TO 7 SEE 10 DEC");
    assert_eq!(third(Cell, "16 Nov"), "SHUT TO 30 SEE 1 DEC");
    assert_eq!(third(Cell, "27 Nov"), "SHUT 11 SEE 12 DEC", "TO goes where it does not fit");
    assert_eq!(third(PushIn, "27 Nov"), "OFF 1 SEE 7 DEC");
}

#[test]
fn a_long_name_is_shortened_and_said_to_be() {
    let named = |name: &str| {
        let mut hives = Hives::given(Caged);
        hives.alter(B14, |colony| {
            colony.names = vec![Named { name: name.to_owned(), from: day("1 Jul") }];
        });
        let note = hives.note("14 Nov");
        assert!(note.lines[0].chars().count() <= 20, "{:?}", note.lines);
        (note.lines[0].clone(), note.shortened)
    };
    assert_eq!(named("WB17"), ("WB17 CAGE IN 14 NOV".to_owned(), false));
    assert_eq!(named("Heath-14"), ("Heath-14 CAGE IN 14".to_owned(), false), "first the month goes");
    assert_eq!(named("Broom Flat 14"), ("14 CAGE IN 14 NOV".to_owned(), true), "then the yard's part");
    assert_eq!(named("OBERNFELD0014"), ("0014 CAGE IN 14 NOV".to_owned(), true));
    assert_eq!(named("UNBROKENNAMEOFAHIVE"), ("MEOFAHIVE CAGE IN 14".to_owned(), true), "at last its end is kept");
    assert_eq!(named("Überberg 14"), ("14 CAGE IN 14 NOV".to_owned(), true));
}

#[test]
fn a_month_without_room_in_the_first_line_stands_in_the_third() {
    let lines = |name: &str, method: Method| {
        let mut hives = Hives::given(method);
        hives.alter(B14, |colony| {
            colony.names = vec![Named { name: name.to_owned(), from: day("1 Jul") }];
        });
        let note = hives.note("14 Nov");
        (note.lines[0].clone(), note.lines[2].clone(), note.small)
    };
    let (first, third, small) = lines("Heath-14", Caged);
    assert_eq!((first.as_str(), third.as_str()), ("Heath-14 CAGE IN 14", "SHUT 21 SEE 24 NOV"));
    assert_eq!(small, ["caged queen in 14 Nov", "temper from 26 Dec"]);
    let (first, third, small) = lines("UNBROKENNAMEOFAHIVE", PushIn);
    assert_eq!((first.as_str(), third.as_str()), ("MEOFAHIVE CAGE IN 14", "OFF 18 SEE 24 NOV"));
    assert_eq!(small[0], "UNBROKENNAMEOFAHIVE", "a shortened name stands whole in the small print");
}

#[test]
fn a_note_stays_as_it_is_until_something_happens() {
    let mut hives = Hives::given(Cell);
    let first = hives.note("14 Nov").lines;
    for on in ["20 Nov", "29 Nov", "15 Dec"] {
        assert_eq!(hives.note(on).lines, first, "{on}");
    }
    hives.saw("29 Nov", "n");
    let second = hives.note("29 Nov").lines;
    assert_eq!(hives.note("20 Dec").lines, second);
}

/// Whether the label of B14 waits to be printed on a day, where its lid shows these lines.
fn wanted(hives: &Hives, today: &str, printed: &[&str]) -> bool {
    let lid = Lid { printed: printed.iter().map(|line| (*line).to_owned()).collect(), ..Lid::default() };
    hives.note(today).wanted_on(&lid)
}

#[test]
fn a_label_waits_where_the_lid_must_say_something_else_that_matters() {
    let caged = ["B14 CAGE IN 14 NOV", "white, Thrift", "SHUT TO 21 SEE 24"];
    let laying = ["B14 LAYING 24 NOV", "white, Thrift", "NOTHING DUE"];
    let plain = ["B14", "white, Thrift", "seen 1 DEC"];
    assert!(!wanted(&Hives::new(), "14 Nov", &[]), "a quiet hive with an empty lid");
    let mut hives = Hives::given(Caged);
    assert!(wanted(&hives, "14 Nov", &[]), "a cage went in");
    assert!(wanted(&hives, "14 Nov", &plain) && !wanted(&hives, "14 Nov", &caged));
    hives.saw("24 Nov", "eq");
    assert!(wanted(&hives, "24 Nov", &[]), "accepted this evening");
    assert!(wanted(&hives, "24 Nov", &caged), "the lid says a cage is in");
    assert!(!wanted(&hives, "24 Nov", &laying));
    hives.saw("1 Dec", "e l b");
    assert!(hives.note("1 Dec").plain);
    assert!(!wanted(&hives, "1 Dec", &[]));
    assert!(!wanted(&hives, "1 Dec", &laying), "nothing due is still true, a day last seen is not worth a label");
    assert!(!wanted(&hives, "1 Dec", &["B14", "white, Thrift", "seen 24 NOV"]));
    assert!(wanted(&hives, "1 Dec", &caged), "no cage is in any more");
    assert!(wanted(&hives, "1 Dec", &["B14 LAYING 24 NOV", "green, Broom", "NOTHING DUE"]), "another queen");
    assert!(wanted(&hives, "1 Dec", &["B15 LAYING 24 NOV", "white, Thrift", "NOTHING DUE"]), "another hive");
    assert!(wanted(&hives, "1 Dec", &["B14", "white, Thrift", "SEE 9 JAN"]), "a look that is done");
    hives.saw("8 Dec", "c3");
    assert!(wanted(&hives, "8 Dec", &laying) && wanted(&hives, "8 Dec", &[]), "failed");
}
