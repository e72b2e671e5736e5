//! Many hives founded at once from a few words: `40 hives in 4 rows`, `12 pallets`, `30 nucs, queens unknown`.

use std::collections::BTreeSet;

use uuid::Uuid;

use crate::domain::colony::{Colony, FirstQueen, Founding, Lid, Named, Stand};
use crate::domain::day::Day;
use crate::domain::fold_text::fold;
use crate::domain::ids::{ColonyId, YardId};
use crate::domain::world::World;
use crate::domain::yard::{Layout, Spot};

/// The most hives that are founded at once.
const MOST: u32 = 2000;
/// Hives to a row where no rows are named.
const ROW: u32 = 10;
/// Hives on a pallet.
const PALLET: u32 = 4;

/// Hives to be founded.
#[derive(Clone, Debug, PartialEq)]
pub struct Many {
    /// The colonies with their names and spots.
    pub colonies: Vec<Colony>,
    /// How the yard is laid out with them, where that differs from how it is.
    pub layout: Option<Layout>,
    /// What they are, in words: `40 hives in 4 rows, H01 to H40`.
    pub words: String,
}

/// Why the words were not taken.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{what}. {remedy}")]
pub struct ManyError {
    /// What is wrong, without a full stop.
    pub what: String,
    /// What to do, without a full stop.
    pub remedy: String,
}

/// The largest number the numbering can begin with.
const LARGEST_FIRST: u32 = 999_999;

/// How the names of the hives begin, and with which number.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Numbering<'a> {
    /// What stands before the number; may be empty.
    pub before: &'a str,
    /// The first number, 1 to 999,999.
    pub first: u32,
}

/// Reads the words and makes the hives, in the yard from that day on. Numbers whose names are taken are passed over;
/// spots come after those in use. Ids come from `mint`.
///
/// # Errors
/// If the words name no number of hives, more than fit, or a layout the yard does not have.
pub fn found_many(
    world: &World,
    yard: YardId,
    text: &str,
    numbering: Numbering<'_>,
    day: Day,
    mint: &mut dyn FnMut() -> Uuid,
) -> Result<Many, ManyError> {
    let Some(held) = world.yards.get(&yard) else {
        return Err(error("That yard is not in the register", "Add the yard first"));
    };
    let wanted = Wanted::read(text)?;
    let standing = world.in_yard(yard);
    let layout = wanted.layout.unwrap_or(held.layout);
    if layout != held.layout && standing.iter().any(|colony| colony.spot().is_some()) {
        let (is, other) = match held.layout {
            Layout::Rows => ("in rows", "rows"),
            Layout::Pallets => ("on pallets", "pallets"),
        };
        return Err(error(format!("The hives of {} stand {is}", held.name), format!("Found these in {other} too")));
    }
    let last_row = standing.iter().filter_map(|colony| colony.spot()).map(|spot| spot.row).max().unwrap_or(0);
    let names = free_names(standing.iter().map(|colony| colony.name()), numbering, wanted.count);
    let per_row = match layout {
        Layout::Pallets => PALLET,
        Layout::Rows => wanted.rows.map_or(ROW, |rows| wanted.count.div_ceil(rows)),
    };
    let colonies: Vec<Colony> = (0..wanted.count)
        .zip(&names)
        .map(|(at, name)| {
            let row = u32::from(last_row) + at / per_row + 1;
            let place = at % per_row + 1;
            let spot = u16::try_from(row).ok().zip(u16::try_from(place).ok()).map(|(row, place)| Spot { row, place });
            Colony {
                id: ColonyId(mint()),
                names: vec![Named { name: name.clone(), from: day }],
                stands: vec![Stand { yard, spot, from: day }],
                lid: Lid::default(),
                founded: day,
                how: if wanted.nucs { Founding::Nuc } else { Founding::Known },
                began_with: if wanted.queenless { FirstQueen::None } else { FirstQueen::Unknown },
                ended: None,
                note: String::new(),
                corrected: Vec::new(),
            }
        })
        .collect();
    let words = wanted.words(layout, per_row, &names);
    Ok(Many { colonies, layout: (layout != held.layout).then_some(layout), words })
}

struct Wanted {
    count: u32,
    nucs: bool,
    rows: Option<u32>,
    layout: Option<Layout>,
    queenless: bool,
}

impl Wanted {
    fn read(text: &str) -> Result<Self, ManyError> {
        let folded: String = fold(text).chars().map(|it| if it.is_alphanumeric() { it } else { ' ' }).collect();
        let words: Vec<&str> = folded.split_whitespace().collect();
        let (mut hives, mut rows, mut pallets, mut nucs, mut queenless) = (None, None, None, false, false);
        let mut number: Option<u32> = None;
        for word in words {
            if let Ok(read) = word.parse() {
                if let Some(earlier) = number {
                    return Err(error(
                        format!("{earlier} is of nothing"),
                        "Say what it counts: hives, nucs, rows, pallets",
                    ));
                }
                number = Some(read);
                continue;
            }
            let counted = match word {
                "hive" | "hives" | "colony" | "colonies" | "box" | "boxes" => &mut hives,
                "nuc" | "nucs" => {
                    nucs = true;
                    &mut hives
                }
                "row" | "rows" => &mut rows,
                "pallet" | "pallets" => &mut pallets,
                "queenless" | "without" => {
                    queenless = true;
                    continue;
                }
                "in" | "on" | "of" | "and" | "with" | "each" | "queen" | "queens" | "unknown" | "four" => continue,
                other => {
                    let remedy = "Say it as: 40 hives in 4 rows, 12 pallets, or 30 nucs, queens unknown";
                    return Err(error(format!("{other} is not understood"), remedy));
                }
            };
            // `12 pallets of 4`, `hives without queens`: a word of a kind may stand without its number.
            if let Some(read) = number.take() {
                if counted.is_some_and(|held| held != read) {
                    return Err(error(format!("Two numbers of {word} are named"), "Leave out one of the two"));
                }
                *counted = Some(read);
            }
        }
        if let Some(number) = number.filter(|number| !(pallets.is_some() && *number == PALLET)) {
            if hives.is_some() || pallets.is_some() {
                return Err(error(format!("{number} is of nothing"), "Say what it counts: hives, nucs, rows, pallets"));
            }
            hives = Some(number);
        }
        let count = match (hives, pallets) {
            (Some(hives), _) => hives,
            (None, Some(pallets)) => pallets.saturating_mul(PALLET),
            (None, None) => return Err(error("No number of hives is named", "Say it as: 40 hives in 4 rows")),
        };
        Self { count, nucs, rows, layout: Self::layout(rows, pallets), queenless }.checked(pallets)
    }

    fn layout(rows: Option<u32>, pallets: Option<u32>) -> Option<Layout> {
        if pallets.is_some() { Some(Layout::Pallets) } else { rows.map(|_| Layout::Rows) }
    }

    fn checked(self, pallets: Option<u32>) -> Result<Self, ManyError> {
        if self.rows.is_some() && pallets.is_some() {
            return Err(error("Rows and pallets are both named", "Leave out one of the two"));
        }
        if self.count == 0 || self.rows == Some(0) || pallets == Some(0) {
            return Err(error("Nothing would be founded", "Give numbers from 1 on"));
        }
        if self.count > MOST {
            return Err(error(format!("{} hives are too many at once", self.count), format!("Give at most {MOST}")));
        }
        if let Some(pallets) = pallets.filter(|pallets| pallets.saturating_mul(PALLET) < self.count) {
            let what = format!("{} hives do not fit on {pallets} pallets of four", self.count);
            return Err(error(what, format!("Take {} pallets", self.count.div_ceil(PALLET))));
        }
        if let Some(rows) = self.rows.filter(|rows| *rows > self.count) {
            return Err(error(format!("{rows} rows are more than the {} hives", self.count), "Take fewer rows"));
        }
        Ok(self)
    }

    fn words(&self, layout: Layout, per_row: u32, names: &[String]) -> String {
        let what = match (self.nucs, self.count) {
            (true, 1) => "nuc",
            (true, _) => "nucs",
            (false, 1) => "hive",
            (false, _) => "hives",
        };
        let rows = self.count.div_ceil(per_row);
        let where_to = match (layout, rows) {
            (Layout::Rows, 1) => "in 1 row".to_owned(),
            (Layout::Rows, rows) => format!("in {rows} rows"),
            (Layout::Pallets, 1) => "on 1 pallet".to_owned(),
            (Layout::Pallets, rows) => format!("on {rows} pallets"),
        };
        let named = match names {
            [one] => one.clone(),
            [first, .., last] => format!("{first} to {last}"),
            [] => String::new(),
        };
        let queens = if self.queenless { ", without queens" } else { ", queens unknown" };
        format!("{} {what} {where_to}, {named}{queens}", self.count)
    }
}

/// Names that no living hive of the yard has, all with as many digits as the last one needs (two at least).
fn free_names<'a>(taken: impl Iterator<Item = &'a str>, numbering: Numbering<'_>, count: u32) -> Vec<String> {
    let taken: BTreeSet<String> = taken.map(fold).collect();
    let first = numbering.first.clamp(1, LARGEST_FIRST);
    let width = (first + count - 1).to_string().len().max(2);
    let named = |number: u32, width: usize| format!("{}{number:0width$}", numbering.before);
    let free = |width: usize| -> Vec<String> {
        let names = (first..).map(|number| named(number, width)).filter(|name| !taken.contains(&fold(name)));
        names.take(count as usize).collect()
    };
    let names = free(width);
    // Where names that were passed over push the numbers into one more digit, all names get it.
    let longest = names.last().map_or(0, |name| name.len() - numbering.before.len());
    if longest > width { free(longest) } else { names }
}

fn error(what: impl Into<String>, remedy: impl Into<String>) -> ManyError {
    ManyError { what: what.into(), remedy: remedy.into() }
}
