//! What two cells of a row say against each other, and what follows from them together.

use crate::domain::fold_text::fold;
use crate::domain::visit::{Method, OldQueen};
use crate::exchange::table::entry::{Entry, Kind, Reader};
use crate::exchange::table::headings::Field;

impl Reader<'_> {
    pub(super) fn whole_row(&mut self, entry: &mut Entry) {
        if entry.kind.names_a_yard() && entry.yard.is_empty() {
            let remedy =
                if entry.exact { "Name the yard" } else { "Name it, or say that an empty yard is the one above" };
            self.problem(Field::Yard, "No yard is named", remedy);
        }
        if entry.kind.names_a_hive() && entry.hive.is_empty() {
            self.problem(Field::Hive, "No hive is named", "Name the hive");
        }
        if !entry.exact {
            self.row_of_sums(entry);
        }
        if entry.found.is_some() && entry.look.is_none() && (self.text)(Field::LastLook).is_empty() {
            self.problem(Field::LastLook, "Something was found, and no day is given", "Give the day of the last look");
        }
        if let Some(found) = &entry.found {
            if !found.words.is_empty() {
                let apart = if entry.words.is_empty() { "" } else { " " };
                entry.words = format!("{}{apart}{}", entry.words, found.words);
            }
            self.given_in_codes(entry);
        }
        if entry.introduced.is_none() && (self.text)(Field::Introduced).is_empty() && entry.kind != Kind::Plan {
            let given = [(entry.method.is_some(), Field::Method), (entry.emerged.is_some(), Field::Emerged)];
            for (_, field) in given.into_iter().filter(|(is, _)| *is) {
                let fact = format!("The {} is given, and no day introduced", field.name());
                self.problem(field, fact, "Give the day introduced, or leave this empty");
            }
        }
        if entry.around.taken_back {
            // What was taken back did not happen, and may say what cannot be.
            return;
        }
        if let (Some(introduced), Some(OldQueen::RemovedOn(removed))) = (entry.introduced, entry.old_queen)
            && removed > introduced
        {
            let fact = format!("Dequeened {} comes after introduced {}", removed.short(), introduced.short());
            self.problem(Field::Dequeened, fact, "Correct one of the two days");
        }
        if let (Some(introduced), Some(emerged)) = (entry.introduced, entry.emerged)
            && emerged > introduced
        {
            let fact = format!("Emerged {} comes after introduced {}", emerged.short(), introduced.short());
            self.problem(Field::Emerged, fact, "Correct one of the two days");
        }
        self.born_before_given(entry);
        self.dequeened_alone(entry);
    }

    /// A row that adds up those above it is none of a yard or a hive.
    fn row_of_sums(&mut self, entry: &Entry) {
        const SUMS: [&str; 7] = ["total", "totals", "grand total", "subtotal", "sub total", "sum", "sums"];
        for (name, field) in [(&entry.yard, Field::Yard), (&entry.hive, Field::Hive)] {
            let folded = fold(name.trim_end_matches(':'));
            if SUMS.contains(&folded.as_str()) {
                let fact = format!("{name} is a sum, no {}", field.name());
                self.problem(field, fact, "Leave the row held back, or take it out of the file");
                return;
            }
        }
    }

    /// A queen given among the codes of `found` was introduced on the day of that look.
    fn given_in_codes(&mut self, entry: &mut Entry) {
        let Some(gives) = entry.found.as_ref().and_then(|found| found.gives) else { return };
        if (self.text)(Field::Introduced).is_empty() && entry.method.is_none() {
            entry.introduced = entry.look;
            entry.method = Some(gives.method);
            entry.cells = gives.cells;
        } else if entry.introduced != entry.look || entry.method.is_some_and(|method| method != gives.method) {
            let fact = "A queen was given among the codes, and another under introduced";
            self.problem(Field::Found, fact, "Leave out one of the two");
        }
    }

    /// The old queen was removed, or looked for in vain, and no queen has been given yet: a visit like any other.
    fn dequeened_alone(&mut self, entry: &mut Entry) {
        if entry.exact || entry.kind != Kind::Hive || !(self.text)(Field::Introduced).is_empty() {
            return;
        }
        let (None, Some(old_queen)) = (entry.introduced, entry.old_queen) else { return };
        match (old_queen, entry.look) {
            (OldQueen::RemovedOn(day), Some(look)) if day != look => entry.dequeened = Some(day),
            (OldQueen::RemovedOn(day), _) => {
                entry.look = Some(day);
                entry.found.get_or_insert_default().visit.did.dequeened = true;
            }
            (OldQueen::NotFound, Some(_)) => entry.found.get_or_insert_default().visit.did.queen_not_found = true,
            (OldQueen::NotFound, None) => {
                let fact = "The old queen was not found, and no day is given";
                self.problem(Field::Dequeened, fact, "Give the day under last look");
            }
            (OldQueen::AsRecorded, _) => {}
        }
    }

    /// A mated queen or a virgin was born before she was given. A cell's queen is born after.
    fn born_before_given(&mut self, entry: &Entry) {
        let (Some(introduced), Some(born)) = (entry.introduced, entry.queen.birth.and_then(|birth| birth.earliest))
        else {
            return;
        };
        let unborn = matches!(entry.method, Some(Method::Cell | Method::OwnRaising));
        if !entry.exact && !unborn && born > introduced {
            let born_text = (self.text)(Field::Born);
            let fact = format!("Born {born_text}, yet introduced {}", introduced.near(self.today));
            self.problem(Field::Born, fact, "Correct one of the two");
        }
    }
}
