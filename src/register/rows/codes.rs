//! The numbers that stand in the columns of a record. They never change their meaning; new ones are added at the end.

use crate::domain::day::Day;
use crate::domain::queen::Dot;
use crate::domain::record::Which;
use crate::domain::visit::{Coverage, Did, Disease, InCage, Marked, Method, OldQueen, Seen, TestFrame, Unopened};

/// Kinds of happening: a visit, an answered question, a colony received, a colony split off, a bar lifted.
pub(crate) const VISIT: u8 = 0;
pub(crate) const WHICH: [(Which, u8); 3] = [(Which::Lost, 1), (Which::Superseded, 2), (Which::SameAfterAll, 3)];
pub(crate) const RECEIVED: u8 = 4;
pub(crate) const SPLIT_OFF: u8 = 5;
pub(crate) const BAR_LIFTED: u8 = 6;

pub(crate) const COVERAGES: [(Coverage, u8); 5] = [
    (Coverage::Full, 0),
    (Coverage::Part, 1),
    (Coverage::Unopened(Unopened::Weather), 2),
    (Coverage::Unopened(Unopened::Time), 3),
    (Coverage::Unopened(Unopened::NotFound), 4),
];

pub(crate) const METHODS: [(Method, u8); 6] = [
    (Method::Caged, 1),
    (Method::PushIn, 2),
    (Method::Cell, 3),
    (Method::Virgin, 4),
    (Method::Nuc, 5),
    (Method::OwnRaising, 6),
];

const DISEASES: [(Disease, u8); 5] = [
    (Disease::NotNamed, 1),
    (Disease::AmericanFoulbrood, 2),
    (Disease::EuropeanFoulbrood, 3),
    (Disease::Chalkbrood, 4),
    (Disease::Other, 5),
];

const DOTS: [(Dot, u8); 5] = [(Dot::White, 1), (Dot::Yellow, 2), (Dot::Red, 3), (Dot::Green, 4), (Dot::Blue, 5)];

/// The code of a value.
pub(crate) fn code<T: PartialEq>(table: &[(T, u8)], value: &T) -> u8 {
    table.iter().find(|(known, _)| known == value).map_or(u8::MAX, |(_, code)| *code)
}

/// The value of a code.
pub(crate) fn value<T: Copy>(table: &[(T, u8)], code: u8) -> Option<T> {
    table.iter().find(|(_, known)| *known == code).map(|(value, _)| *value)
}

const CAGE_ALIVE: u32 = 1 << 11;
const CAGE_DEAD: u32 = 1 << 12;
const DISEASE_SHIFT: u32 = 13;

/// What was seen as bits, the counts of cells apart.
pub(crate) fn seen_bits(seen: &Seen) -> u32 {
    let Seen { eggs, larvae, capped, her, another, closed_cells: _, begun_cells: _, opened_cell, nothing, .. } = *seen;
    let Seen { cage, drone_layer, laying_workers, disease, swarmed, dead, .. } = *seen;
    let flags = [eggs, larvae, capped, her, another, opened_cell, nothing, drone_layer, laying_workers, swarmed, dead];
    let cage = match cage {
        None => 0,
        Some(InCage::Alive) => CAGE_ALIVE,
        Some(InCage::Dead) => CAGE_DEAD,
    };
    let disease = disease.map_or(0, |disease| u32::from(code(&DISEASES, &disease)));
    bits(&flags) | cage | disease << DISEASE_SHIFT
}

/// What was seen, of its bits and the counts of cells. Nothing where a bit has no meaning.
pub(crate) fn seen_of(bits: u32, closed_cells: Option<u8>, begun_cells: Option<u8>) -> Option<Seen> {
    let has = |at: u32| bits & 1 << at != 0;
    let cage = match (bits & CAGE_ALIVE != 0, bits & CAGE_DEAD != 0) {
        (false, false) => None,
        (true, false) => Some(InCage::Alive),
        (false, true) => Some(InCage::Dead),
        (true, true) => return None,
    };
    let disease = match u8::try_from(bits >> DISEASE_SHIFT).ok()? {
        0 => None,
        code => Some(value(&DISEASES, code)?),
    };
    Some(Seen {
        eggs: has(0),
        larvae: has(1),
        capped: has(2),
        her: has(3),
        another: has(4),
        closed_cells,
        begun_cells,
        opened_cell: has(5),
        nothing: has(6),
        cage,
        drone_layer: has(7),
        laying_workers: has(8),
        disease,
        swarmed: has(9),
        dead: has(10),
    })
}

const FRAME: u32 = 1 << 5;
const FRAME_MARKED: u32 = 1 << 6;
const QUEEN_MARKED: u32 = 1 << 7;
const DOT_SHIFT: u32 = 8;

/// What was done as bits, the colony the old queen went to apart.
pub(crate) fn did_bits(did: &Did) -> u32 {
    let Did { dequeened, queen_to: _, queen_not_found, cells_cut, cells_left, cage_off, test_frame, marked } = *did;
    let frame = match test_frame {
        None => 0,
        Some(TestFrame { marked: false }) => FRAME,
        Some(TestFrame { marked: true }) => FRAME | FRAME_MARKED,
    };
    let marked = marked
        .map_or(0, |Marked { dot }| QUEEN_MARKED | dot.map_or(0, |dot| u32::from(code(&DOTS, &dot))) << DOT_SHIFT);
    bits(&[dequeened, queen_not_found, cells_cut, cells_left, cage_off]) | frame | marked
}

/// What was done, of its bits. Nothing where a bit has no meaning.
pub(crate) fn did_of(bits: u32, queen_to: Option<crate::domain::ids::ColonyId>) -> Option<Did> {
    let has = |at: u32| bits & 1 << at != 0;
    let dot = match u8::try_from(bits >> DOT_SHIFT).ok()? {
        0 => None,
        code => Some(value(&DOTS, code)?),
    };
    let frame = (bits & FRAME != 0).then_some(TestFrame { marked: bits & FRAME_MARKED != 0 });
    Some(Did {
        dequeened: has(0),
        queen_to,
        queen_not_found: has(1),
        cells_cut: has(2),
        cells_left: has(3),
        cage_off: has(4),
        test_frame: frame,
        marked: (bits & QUEEN_MARKED != 0).then_some(Marked { dot }),
    })
}

const NOT_FOUND: i32 = -1;

/// What became of the old queen: nothing as recorded, -1 not found, else the day she was removed.
pub(crate) fn old_queen_code(old_queen: OldQueen) -> Option<i32> {
    match old_queen {
        OldQueen::AsRecorded => None,
        OldQueen::NotFound => Some(NOT_FOUND),
        OldQueen::RemovedOn(day) => Some(day.number()),
    }
}

/// What became of the old queen, of its code.
pub(crate) fn old_queen_of(code: Option<i32>) -> Option<OldQueen> {
    match code {
        None => Some(OldQueen::AsRecorded),
        Some(NOT_FOUND) => Some(OldQueen::NotFound),
        Some(number) => Day::from_number(number).map(OldQueen::RemovedOn),
    }
}

fn bits(flags: &[bool]) -> u32 {
    flags.iter().enumerate().fold(0, |sum, (at, flag)| sum | u32::from(*flag) << at)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_bits_stay_what_they_are() {
        let seen = |change: fn(&mut Seen)| {
            let mut seen = Seen::default();
            change(&mut seen);
            seen_bits(&seen)
        };
        let all = [
            seen(|seen| seen.eggs = true),
            seen(|seen| seen.larvae = true),
            seen(|seen| seen.capped = true),
            seen(|seen| seen.her = true),
            seen(|seen| seen.another = true),
            seen(|seen| seen.opened_cell = true),
            seen(|seen| seen.nothing = true),
            seen(|seen| seen.drone_layer = true),
            seen(|seen| seen.laying_workers = true),
            seen(|seen| seen.swarmed = true),
            seen(|seen| seen.dead = true),
            seen(|seen| seen.cage = Some(InCage::Alive)),
            seen(|seen| seen.cage = Some(InCage::Dead)),
            seen(|seen| seen.disease = Some(Disease::NotNamed)),
            seen(|seen| seen.disease = Some(Disease::Other)),
        ];
        assert_eq!(all, [1, 2, 4, 8, 16, 32, 64, 128, 256, 512, 1024, 2048, 4096, 8192, 40_960]);
        let did = |change: fn(&mut Did)| {
            let mut did = Did::default();
            change(&mut did);
            did_bits(&did)
        };
        let all = [
            did(|did| did.dequeened = true),
            did(|did| did.queen_not_found = true),
            did(|did| did.cells_cut = true),
            did(|did| did.cells_left = true),
            did(|did| did.cage_off = true),
            did(|did| did.test_frame = Some(TestFrame { marked: false })),
            did(|did| did.test_frame = Some(TestFrame { marked: true })),
            did(|did| did.marked = Some(Marked { dot: None })),
            did(|did| did.marked = Some(Marked { dot: Some(Dot::Blue) })),
        ];
        assert_eq!(all, [1, 2, 4, 8, 16, 32, 96, 128, 1408]);
    }

    #[test]
    fn bits_without_a_meaning_are_not_guessed() {
        assert_eq!(seen_of(CAGE_ALIVE | CAGE_DEAD, None, None), None);
        assert_eq!(seen_of(6 << DISEASE_SHIFT, None, None), None);
        assert_eq!(seen_of(u32::MAX, None, None), None);
        assert_eq!(did_of(QUEEN_MARKED | 6 << DOT_SHIFT, None), None);
        assert_eq!(old_queen_of(Some(i32::MAX)), None);
        assert_eq!(value(&COVERAGES, 5), None);
    }
}
