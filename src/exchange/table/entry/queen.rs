//! What a row says of a queen, of the one before her, and of the day her colony ended.

use crate::domain::colony::{End, EndWhy};
use crate::domain::fold_text::fold;
use crate::domain::queen::{Birth, Dot};
use crate::domain::visit::OldQueen;
use crate::exchange::table::cells;
use crate::exchange::table::entry::{QueenCells, Reader};
use crate::exchange::table::headings::Field;
use crate::exchange::table::preview::Problem;

/// A queen born longer ago than this is taken for a slip of the pen. Years; from memory: five is old.
const OLDEST_QUEEN_YEARS: i32 = 10;

impl Reader<'_> {
    pub(super) fn queen(&mut self, exact: bool) -> QueenCells {
        let text = (self.text)(Field::Born);
        let birth = match cells::birth(&text, self.order, self.today) {
            Ok(birth) => Some(birth).filter(|birth| !birth.is_unknown()),
            Err(fault) => {
                self.date_fault(Field::Born, &text, fault);
                None
            }
        };
        // An export may tell of queens long dead, and of one that is about to emerge from her cell.
        if let Some(birth) = birth.filter(|_| !exact) {
            if birth.earliest.is_some_and(|first| first > self.today) {
                self.problem(Field::Born, format!("Born {text} lies ahead"), "Correct the year, or leave it empty");
            }
            let years = birth.latest.map_or(0, |last| self.today.year() - last.year());
            if years > OLDEST_QUEEN_YEARS {
                let fact = format!("Born {text} is {years} years ago");
                self.problem(Field::Born, fact, "Correct the year, or leave it empty");
            }
        }
        let dot = self.dot(birth);
        let origin = "mated, cell, virgin, with colony, own raising, not known";
        let number = (self.text)(Field::Queen).parse().ok().filter(|number| *number > 0);
        QueenCells {
            number: number.filter(|_| exact),
            birth,
            dot,
            source: self.name(Field::Source, exact),
            origin: self.word(Field::Origin, origin, cells::origin),
            note: (self.text)(Field::QueenNote),
        }
    }

    /// The colour of her dot. Where the column says yes and no, yes is the colour of her year, if that is known.
    fn dot(&mut self, birth: Option<Birth>) -> Option<Dot> {
        let folded = fold(&(self.text)(Field::Dot));
        let yes = folded == "marked" || (self.dot_yes_or_no && cells::yes_or_no(&folded) == Some(true));
        if yes {
            let year =
                birth.and_then(|birth| birth.earliest.zip(birth.latest)).map(|(one, other)| (one.year(), other.year()));
            let Some((year, _)) = year.filter(|(one, other)| one == other) else {
                let fact = format!("{folded} does not say the colour of her dot, and her year is not known");
                self.problem(Field::Dot, fact, "Write white, yellow, red, green, blue or none");
                return None;
            };
            let dot = Dot::of_year(year);
            let fact = format!("Marked, so {}, the colour of {year}", dot.name());
            self.notes.push(Problem::new(Field::Dot, fact, ""));
            return Some(dot);
        }
        if matches!(folded.as_str(), "none" | "no" | "n" | "unmarked" | "-" | "not marked") || self.says_no(&folded) {
            return None;
        }
        self.word(Field::Dot, "white, yellow, red, green, blue or none", cells::dot)
    }

    fn says_no(&self, folded: &str) -> bool {
        self.dot_yes_or_no && cells::yes_or_no(folded) == Some(false)
    }

    pub(super) fn old_queen(&mut self) -> Option<OldQueen> {
        match fold(&(self.text)(Field::Dequeened)).as_str() {
            "" => None,
            "not found" | "notfound" | "never found" | "?q" => Some(OldQueen::NotFound),
            "queenless" | "was queenless" | "none" | "no queen" => Some(OldQueen::AsRecorded),
            _ => self.past_day(Field::Dequeened).map(OldQueen::RemovedOn),
        }
    }

    pub(super) fn ended(&mut self) -> Option<End> {
        let day = self.past_day(Field::Ended)?;
        let choice = "sold, died, united, shaken out, destroyed or gone";
        let why = self.word(Field::EndWhy, choice, cells::end_why).unwrap_or(EndWhy::Gone);
        let (by, words) = ((self.text)(Field::EndedBy), (self.text)(Field::EndWords));
        Some(End { day, why, by, words })
    }
}
