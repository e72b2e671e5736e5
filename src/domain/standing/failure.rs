//! How an introduction failed, in the words of outcome, card and lid.

use crate::domain::day::Day;
use crate::domain::standing::find::closed_cells;
use crate::domain::standing::state::{Failed, How};
use crate::domain::visit::Did;

impl Failed {
    /// How it failed, for card and lid: `3 closed cells`, `3 cells cut`.
    pub fn words(&self) -> String {
        let cut = self.cells_cut;
        match self.how {
            How::ClosedCells(1) if cut => "1 cell cut".to_owned(),
            How::ClosedCells(count) if cut => format!("{count} cells cut"),
            How::ClosedCells(count) => closed_cells(count),
            How::FrameCells(_) => "cells on test frame".to_owned(),
            How::Nothing => "no eggs, no queen".to_owned(),
            How::NotLaying => "not laying".to_owned(),
            How::NoCapped => "no worker brood".to_owned(),
            How::DroneLayer => "drone layer".to_owned(),
            How::LayingWorkers => "laying workers".to_owned(),
            How::DeadInCage => "dead in her cage".to_owned(),
            How::AnotherQueen => "another queen".to_owned(),
            How::OldQueenFound => "old queen found".to_owned(),
        }
    }
}

impl How {
    /// A queen that must be found first is still in there.
    pub fn leaves_a_queen(self) -> bool {
        matches!(self, Self::NotLaying | Self::NoCapped | Self::DroneLayer | Self::AnotherQueen)
    }

    /// Eggs seen later can still be hers.
    pub fn can_be_mended_by_eggs(self) -> bool {
        matches!(self, Self::ClosedCells(_) | Self::FrameCells(_) | Self::Nothing | Self::NotLaying)
    }
}

/// What a failure is said as: `Failed: 3 closed cells, cut. Give another, 26 Nov.` Where a cell was left standing that
/// says what comes next.
pub(super) fn failed_sentence(how: How, did: &Did, give: Day) -> String {
    let give = give.short();
    let (cut, left) = (did.cells_cut, did.cells_left);
    let another = || format!("Give another, {give}.");
    let find_first = || format!("Find her first, then give another, {give}.");
    let (fact, next) = match how {
        How::ClosedCells(count) if cut => (format!("{}, cut", closed_cells(count)), another()),
        How::ClosedCells(1) => (closed_cells(1), format!("Cut it and give another, {give}, or let it stand.")),
        How::ClosedCells(count) => {
            (closed_cells(count), format!("Cut them and give another, {give}, or let one stand."))
        }
        How::FrameCells(_) => ("cells begun on the test frame, so no queen".to_owned(), another()),
        How::Nothing => ("no eggs in the whole nest".to_owned(), another()),
        How::NotLaying => ("not laying".to_owned(), find_first()),
        How::NoCapped => ("no capped worker brood of hers".to_owned(), find_first()),
        How::DroneLayer => ("drone layer".to_owned(), format!("Find and kill her, then requeen, {give}, or unite.")),
        How::LayingWorkers => return "Laying workers: unite or shake out. No cage, cell or virgin.".to_owned(),
        How::DeadInCage => ("dead in the cage".to_owned(), format!("Suspect a second queen; give another, {give}.")),
        How::AnotherQueen => ("another queen is there".to_owned(), find_first()),
        How::OldQueenFound => {
            return format!("The old queen was there, so the new one is lost. Give another, {give}.");
        }
    };
    if left && !how.leaves_a_queen() { format!("Failed: {fact}.") } else { format!("Failed: {fact}. {next}") }
}
