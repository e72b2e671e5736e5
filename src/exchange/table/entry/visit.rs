//! What a row says of a visit beside its day: the find, how many cells, and what only an export knows of it.

use crate::exchange::table::cells;
use crate::exchange::table::codes::{Found, found};
use crate::exchange::table::entry::{Circumstances, Reader};
use crate::exchange::table::headings::Field;

impl Reader<'_> {
    pub(super) fn found(&mut self, exact: bool) -> Option<Found> {
        let text = (self.text)(Field::Found);
        if text.is_empty() {
            return None;
        }
        match found(&text, exact) {
            Ok(found) => Some(found),
            Err((fact, remedy)) => {
                self.problem(Field::Found, fact, remedy);
                None
            }
        }
    }

    pub(super) fn cells(&mut self, exact: bool) -> u8 {
        if exact {
            return self
                .word(Field::Cells, "a number from 1 to 255", |text| text.parse().ok().filter(|it| *it > 0))
                .unwrap_or(1);
        }
        self.word(Field::Cells, "a number from 1 to 99", cells::count).map_or(1, |count| count.min(99) as u8)
    }

    pub(super) fn circumstances(&mut self) -> Circumstances {
        let (evening, place) = (self.number(Field::Evening), self.number(Field::EveningPlace));
        Circumstances {
            parcel: self.number(Field::Parcel),
            against_bar: self.words(Field::AgainstBar),
            lid_swapped: (self.text)(Field::LidSwapped),
            queen_to: (self.text)(Field::QueenTo),
            other_hive: (self.text)(Field::OtherHive),
            evening: evening.map(|evening| (evening, place.unwrap_or(0))),
            taken_back: self.yes(Field::TakenBack),
        }
    }
}
