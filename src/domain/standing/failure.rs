//! How an introduction failed, in the words of outcome, card and lid.

use crate::domain::day::Day;
use crate::domain::standing::find::closed_cells;
use crate::domain::standing::state::{Failed, How};

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

/// What a failure is said as: `Failed: 3 closed cells, cut. Give another, 26 Nov.`
pub(super) fn failed_sentence(how: How, cells_cut: bool, give: Day) -> String {
    let give = give.short();
    let closed = |count| closed_cells(count);
    match how {
        How::ClosedCells(count) if cells_cut => format!("Failed: {}, cut. Give another, {give}.", closed(count)),
        How::ClosedCells(1) => format!("Failed: 1 closed cell. Cut it and give another, {give}, or let it stand."),
        How::ClosedCells(count) => {
            format!("Failed: {}. Cut them and give another, {give}, or let one stand.", closed(count))
        }
        How::FrameCells(_) => format!("Failed: cells begun on the test frame, so no queen. Give another, {give}."),
        How::Nothing => format!("Failed: no eggs in the whole nest. Give another, {give}."),
        How::NotLaying => format!("Failed: not laying. Find her first, then give another, {give}."),
        How::NoCapped => format!("Failed: no capped worker brood of hers. Find her first, then give another, {give}."),
        How::DroneLayer => format!("Failed: drone layer. Find and kill her, then requeen, {give}, or unite."),
        How::LayingWorkers => "Laying workers: unite or shake out. No cage, cell or virgin.".to_owned(),
        How::DeadInCage => format!("Failed: dead in the cage. Suspect a second queen; give another, {give}."),
        How::AnotherQueen => format!("Failed: another queen is there. Find her first, then give another, {give}."),
        How::OldQueenFound => format!("The old queen was there, so the new one is lost. Give another, {give}."),
    }
}
