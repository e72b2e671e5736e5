//! Bringing tables and points in, and writing the programme out again.

mod hostile;
mod import;
mod merge;
mod out;
mod results;
mod round_trip;
mod same_content;
mod sheets;
mod taken;
mod watched;

use lidnote::domain::change::Change;
use lidnote::domain::day::Day;
use lidnote::domain::decide::decide;
use lidnote::domain::refusal::Refusal;
use lidnote::domain::world::World;
use lidnote::exchange::any;
use lidnote::exchange::table::changes::changes;
use lidnote::exchange::table::headings::Field;
use lidnote::exchange::table::preview::{Options, Preview, PreviewRow};
use uuid::Uuid;

fn day(iso: &str) -> Day {
    Day::from_iso(iso).unwrap()
}

fn today() -> Day {
    day("2026-11-23")
}

/// A register that is filled by importing.
struct Register {
    world: World,
    next: u128,
}

impl Register {
    fn new() -> Self {
        Self { world: World::default(), next: 1 << 64 }
    }

    fn preview(&self, text: &str, options: &Options) -> Preview {
        any::read(text.as_bytes(), options, &self.world, today()).unwrap()
    }

    fn decide(&mut self, change: &Change) -> Result<usize, Refusal> {
        let facts = decide(&self.world, change, today())?;
        self.world.advance_all(&facts);
        Ok(facts.len())
    }

    /// Brings everything in that is not held back.
    fn bring_in(&mut self, text: &str, options: &Options) -> Preview {
        let preview = self.preview(text, options);
        let next = &mut self.next;
        let mut mint = || {
            *next += 1;
            Uuid::from_u128(*next)
        };
        let change = changes(&preview, &mut mint, "Import of a file");
        self.decide(&change).unwrap();
        preview
    }

    fn with(text: &str) -> Self {
        let mut register = Self::new();
        let preview = register.bring_in(text, &Options::default());
        assert_eq!(preview.totals.held_back, 0, "{:?}", problems(&preview));
        register
    }
}

fn row(preview: &Preview, number: u32) -> &PreviewRow {
    preview.rows.iter().find(|row| row.row == number).unwrap()
}

fn problems(preview: &Preview) -> Vec<(u32, Option<Field>, &str)> {
    let first = |row: &PreviewRow| row.problems.first().map(|it| (row.row, it.field));
    let facts = preview.rows.iter().filter_map(|row| row.problems.first().map(|it| it.fact.as_str()));
    preview.rows.iter().filter_map(first).zip(facts).map(|((row, field), fact)| (row, field, fact)).collect()
}

/// The one problem of a row below the headings, as an import into an empty register sees it.
fn check_held(headings: &str, cells: &str, field: Field, fact: &str) {
    let preview = Register::new().preview(&format!("{headings}\n{cells}\n"), &Options::default());
    assert_eq!(problems(&preview), [(2, Some(field), fact)], "{cells}");
}
