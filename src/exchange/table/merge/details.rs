//! Details of queens whom both the file and the register know.

use std::collections::BTreeMap;

use crate::domain::record::Happening;
use crate::exchange::table::entry::QueenCells;
use crate::exchange::table::judge::Judge;
use crate::exchange::table::merge::hives::{Longer, longer};
use crate::exchange::table::merge::{Merge, Pair};
use crate::exchange::table::plan::{First, NewHappening, QueenKey};
use crate::exchange::table::preview::Problem;

impl Merge<'_> {
    /// Compares each queen that is there with the row that tells of her.
    pub(super) fn compare_queens(&mut self, judge: &Judge<'_>) {
        for (key, (at, row)) in self.told_queens() {
            let Some(known) = self.known.queens.get(&key).and_then(|id| self.world.queens.get(id)) else { continue };
            let Some(entry) = self.entries.get(&row).copied() else { continue };
            let pair = self.hives.get(&at);
            let mut cells = QueenCells { number: None, ..entry.queen.clone() };
            if pair.is_some_and(|pair| self.was_marked_here(pair)) {
                cells.dot = None;
            }
            let Some((field, words)) = judge.queen_difference(&cells, known) else { continue };
            let corrected = pair.map(|pair| (longer(&pair.told.corrected, &pair.held.corrected), pair.held.name()));
            match corrected {
                Some((Longer::Here, _)) => {}
                Some((Longer::Both, name)) => {
                    let fact = format!("{name} was corrected otherwise in the register. {words}");
                    self.verdicts.holds_back(row, Problem::new(field, fact, "Correct her on the hive's card"));
                }
                Some((Longer::There | Longer::Neither, _)) | None => {
                    self.verdicts.changes(row, field, words);
                    self.queens.push((row, judge.queen_edit(&cells, known)));
                }
            }
        }
    }

    /// The register has a marking of which the file does not know.
    fn was_marked_here(&self, pair: &Pair) -> bool {
        self.only_here(pair.held.id).any(|record| match &record.what {
            Happening::Visit(visit) => visit.did.marked.is_some(),
            _ => false,
        })
    }

    /// Each queen of the file, with the hive and the row that first tell of her.
    fn told_queens(&self) -> BTreeMap<QueenKey, (usize, u32)> {
        let first = self.plan.hives.iter().enumerate().filter_map(|(at, hive)| match &hive.first {
            First::Queen(queen) => Some((hive.row, at, queen)),
            First::Unknown | First::Without => None,
        });
        let given = self.plan.records.iter().filter_map(|record| match &record.what {
            NewHappening::Visit { gave: Some(gave), .. } => Some((record.row, record.hive, &gave.queen)),
            _ => None,
        });
        // A queen whom several rows call by a number holds what the first of them tells, and that row's number.
        let telling = first.chain(given).filter(|(row, _, queen)| *row == queen.row);
        telling.map(|(row, at, queen)| (queen.key(), (at, row))).collect()
    }
}
