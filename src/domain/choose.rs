//! Hives chosen in words, as they are said: `all except 7 and 12`, `B03-B09`, `pallet 3`, `Heath yard, late`.

use std::collections::BTreeSet;

use crate::domain::colony::Colony;
use crate::domain::day::Day;
use crate::domain::fold_text::fold;
use crate::domain::ids::{ColonyId, YardId};
use crate::domain::standing::{AgeClass, LidState, standing};
use crate::domain::world::World;

/// Hives chosen by words.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Chosen {
    /// Those chosen, in the order of the hives one chose from.
    pub chosen: Vec<ColonyId>,
    /// The others of the yards named, or of all where no yard is named.
    pub left_out: Vec<ColonyId>,
    /// Words that fit no hive or are not understood.
    pub not_understood: Vec<String>,
}

/// Chooses among hives by words. What stands after `except` is left out; a yard's name narrows what follows it to that
/// yard; words for ages and lids (`third season`, `late`, `barred`) are judged on `today`.
pub fn choose(world: &World, among: &[ColonyId], text: &str, today: Day) -> Chosen {
    let pool: Vec<&Colony> = among.iter().filter_map(|id| world.colonies.get(id)).map(AsRef::as_ref).collect();
    let mut choice = Choice::new(world, today, pool, split(text));
    choice.read();
    choice.finish()
}

/// The hives whose name is the one typed, or whose number is: `7` is `H07`. A name in full goes before a number.
pub fn by_short_name<'a, K: Copy>(names: impl Iterator<Item = (K, &'a str)>, typed: &str) -> Vec<K> {
    let typed = fold(typed);
    let names: Vec<(K, String)> = names.map(|(key, name)| (key, fold(name))).collect();
    let fitting = |fits: &dyn Fn(&str) -> bool| -> Vec<K> {
        names.iter().filter(|(_, name)| fits(name)).map(|(key, _)| *key).collect()
    };
    let exact = fitting(&|name| name == typed);
    if !exact.is_empty() {
        return exact;
    }
    let wanted = NumberedName::of(&typed);
    fitting(&|name| match (&wanted, NumberedName::of(name)) {
        (Some(wanted), Some(held)) => wanted.is_number_of(&held),
        _ => false,
    })
}

/// A name with a number in it: what stands before the last number, the number, and what stands after.
#[derive(Clone, Debug, PartialEq, Eq)]
struct NumberedName {
    before: String,
    number: u32,
    after: String,
}

impl NumberedName {
    fn of(folded: &str) -> Option<Self> {
        let end = folded.rfind(|letter: char| letter.is_ascii_digit())? + 1;
        let digits = folded.get(..end)?.bytes().rev().take_while(u8::is_ascii_digit).count();
        let (before, after) = (folded.get(..end - digits)?, folded.get(end..)?);
        let number = folded.get(end - digits..end)?.parse().ok()?;
        Some(Self { before: before.to_owned(), number, after: after.to_owned() })
    }

    /// As typed, this fits that name: the same number, and the same letters where letters were typed.
    fn is_number_of(&self, name: &Self) -> bool {
        self.number == name.number && self.after == name.after && (self.before.is_empty() || self.before == name.before)
    }
}

struct Choice<'a> {
    world: &'a World,
    today: Day,
    pool: Vec<&'a Colony>,
    words: Vec<Word>,
    at: usize,
    leaving_out: bool,
    yard: Option<YardId>,
    /// The yard was named and nothing in it has been said since.
    yard_alone: bool,
    yards: BTreeSet<YardId>,
    said_any: bool,
    took: BTreeSet<ColonyId>,
    left: BTreeSet<ColonyId>,
    not_understood: Vec<String>,
}

/// A word as typed and folded; a comma is a word of its own.
struct Word {
    typed: String,
    folded: String,
}

impl<'a> Choice<'a> {
    fn new(world: &'a World, today: Day, pool: Vec<&'a Colony>, words: Vec<Word>) -> Self {
        Self {
            world,
            today,
            pool,
            words,
            at: 0,
            leaving_out: false,
            yard: None,
            yard_alone: false,
            yards: BTreeSet::new(),
            said_any: false,
            took: BTreeSet::new(),
            left: BTreeSet::new(),
            not_understood: Vec::new(),
        }
    }

    fn read(&mut self) {
        while self.at < self.words.len() {
            let read = self.yard_name()
                || self.mode()
                || self.filler()
                || self.row_or_pallet()
                || self.state()
                || self.range()
                || self.hive();
            if !read {
                let typed = self.words.get(self.at).map_or(String::new(), |word| word.typed.clone());
                self.not_understood.push(typed);
                self.at += 1;
            }
        }
        self.close_yard();
    }

    fn finish(mut self) -> Chosen {
        if !self.said_any && (!self.left.is_empty() || self.leaving_out) {
            let all = self.scope().map(|colony| colony.id).collect::<Vec<_>>();
            self.took.extend(all);
        }
        let chosen: Vec<ColonyId> = self
            .pool
            .iter()
            .map(|colony| colony.id)
            .filter(|id| self.took.contains(id) && !self.left.contains(id))
            .collect();
        let in_question =
            |colony: &&&Colony| self.yards.is_empty() || colony.yard().is_some_and(|yard| self.yards.contains(&yard));
        let left_out = self.pool.iter().filter(in_question).map(|colony| colony.id).filter(|id| !chosen.contains(id));
        Chosen { left_out: left_out.collect(), chosen, not_understood: self.not_understood }
    }

    fn word(&self, ahead: usize) -> &str {
        self.words.get(self.at + ahead).map_or("", |word| word.folded.as_str())
    }

    /// The words ahead as one text, commas left out; nothing where fewer are left.
    fn phrase(&self, count: usize) -> Option<String> {
        let words = self.words.get(self.at..self.at + count)?;
        if words.iter().any(|word| word.folded == ",") {
            return None;
        }
        Some(words.iter().map(|word| word.folded.as_str()).collect::<Vec<_>>().join(" "))
    }

    /// The hives in question: those of the yard named last, or all.
    fn scope(&self) -> impl Iterator<Item = &'a Colony> {
        let yard = self.yard;
        let pool = self.pool.clone();
        pool.into_iter().filter(move |colony| yard.is_none() || colony.yard() == yard)
    }

    fn take(&mut self, fits: impl Fn(&Colony) -> bool) -> bool {
        let found: Vec<ColonyId> = self.scope().filter(|colony| fits(colony)).map(|colony| colony.id).collect();
        let any = !found.is_empty();
        if self.leaving_out {
            // `Heath yard except 7`: the yard itself was meant.
            self.close_yard();
            self.left.extend(found);
        } else {
            self.said_any = true;
            self.yard_alone = false;
            self.took.extend(found);
        }
        any
    }

    /// A yard named without a word about its hives means all of them.
    fn close_yard(&mut self) {
        if self.yard_alone {
            self.yard_alone = false;
            self.said_any = true;
            let all: Vec<ColonyId> = self.scope().map(|colony| colony.id).collect();
            self.took.extend(all);
        }
    }

    fn yard_name(&mut self) -> bool {
        for count in (1..=8).rev() {
            let Some(phrase) = self.phrase(count) else { continue };
            let found = self.world.yards.values().find(|yard| fold(&yard.name) == phrase);
            let Some(yard) = found.map(|yard| yard.id) else { continue };
            self.at += count;
            if self.leaving_out && self.yard != Some(yard) && self.yard.is_none() {
                self.take(|colony| colony.yard() == Some(yard));
            } else {
                self.close_yard();
                self.leaving_out = false;
                self.yard = Some(yard);
                self.yard_alone = true;
                self.yards.insert(yard);
            }
            return true;
        }
        false
    }

    fn mode(&mut self) -> bool {
        match self.word(0) {
            "except" | "but" | "without" | "not" | "minus" | "excluding" => self.leaving_out = true,
            "plus" | "also" => self.leaving_out = false,
            _ => return false,
        }
        self.at += 1;
        true
    }

    fn filler(&mut self) -> bool {
        let word = self.word(0);
        let all = matches!(word, "all" | "every" | "everything" | "*");
        let said_nothing = matches!(
            word,
            "," | "and"
                | "&"
                | "hive"
                | "hives"
                | "colonies"
                | "queens"
                | "in"
                | "of"
                | "the"
                | "for"
                | "are"
                | "is"
                | "on"
        );
        if !all && !said_nothing {
            return false;
        }
        self.at += 1;
        if all {
            self.take(|_| true);
        }
        true
    }

    fn row_or_pallet(&mut self) -> bool {
        let several = match self.word(0) {
            "row" | "pallet" => false,
            "rows" | "pallets" => true,
            _ => return false,
        };
        let Some((low, high, used)) = self.numbers(1) else {
            return false;
        };
        self.at += 1;
        let (mut low, mut high, mut used) = (low, high, used);
        loop {
            let typed = self.words.get(self.at).map_or(String::new(), |word| word.typed.clone());
            self.at += used;
            if !self.take(|colony| colony.spot().is_some_and(|spot| (low..=high).contains(&u32::from(spot.row)))) {
                self.not_understood.push(format!("row {typed}"));
            }
            let join = usize::from(matches!(self.word(0), "," | "and" | "&"));
            let Some(next) = self.numbers(join).filter(|_| several && join > 0) else {
                return true;
            };
            self.at += join;
            (low, high, used) = next;
        }
    }

    /// A number, or a range of numbers, and how many words it takes.
    fn numbers(&self, ahead: usize) -> Option<(u32, u32, usize)> {
        let number = |ahead: usize| self.word(ahead).parse::<u32>().ok();
        if let Some((low, high)) = self.word(ahead).split_once(['-', '–']) {
            return Some((low.parse().ok()?, high.parse().ok()?, 1));
        }
        let low = number(ahead)?;
        match (self.word(ahead + 1), number(ahead + 2)) {
            ("to" | "-" | "–", Some(high)) => Some((low, high, 3)),
            _ => Some((low, low, 1)),
        }
    }

    fn state(&mut self) -> bool {
        let ages: [(&str, AgeClass); 9] = [
            ("first season", AgeClass::First),
            ("second season", AgeClass::Second),
            ("third season", AgeClass::Third),
            ("older", AgeClass::Older),
            ("age not known", AgeClass::Unknown),
            ("unknown", AgeClass::Unknown),
            ("queenless", AgeClass::Queenless),
            ("waiting for her queen", AgeClass::Waiting),
            ("waiting", AgeClass::Waiting),
        ];
        let lids: [(&str, LidState); 7] = [
            ("nothing due", LidState::Quiet),
            ("quiet", LidState::Quiet),
            ("due", LidState::Due),
            ("late", LidState::Late),
            ("action needed", LidState::Action),
            ("action", LidState::Action),
            ("barred", LidState::Barred),
        ];
        let (world, today) = (self.world, self.today);
        for count in (1..=4).rev() {
            let Some(phrase) = self.phrase(count) else { continue };
            if let Some((_, age)) = ages.iter().find(|(words, _)| *words == phrase) {
                self.at += count;
                self.take(|colony| {
                    standing(world, colony.id, today).is_some_and(|standing| standing.age_class(world, today) == *age)
                });
                return true;
            }
            if let Some((_, lid)) = lids.iter().find(|(words, _)| *words == phrase) {
                self.at += count;
                self.take(|colony| {
                    standing(world, colony.id, today).is_some_and(|standing| standing.lid_state(today) == *lid)
                });
                return true;
            }
        }
        false
    }

    fn range(&mut self) -> bool {
        let (low, high, used) = match (self.word(0).split_once(['-', '–']), self.word(1)) {
            (Some((low, high)), _) if !low.is_empty() && !high.is_empty() => (low.to_owned(), high.to_owned(), 1),
            (None, "to" | "-" | "–") => (self.word(0).to_owned(), self.word(2).to_owned(), 3),
            _ => return false,
        };
        let (Some(low), Some(high)) = (NumberedName::of(&low), NumberedName::of(&high)) else {
            return false;
        };
        // `B03-09` means the same as `B03-B09`; a hive called `A-1` is one hive, and is read as a name.
        let one_row = (high.before.is_empty() || high.before == low.before) && low.number <= high.number;
        let is_name = |colony: &Colony| used == 1 && fold(colony.name()) == self.word(0);
        if !one_row || self.scope().any(is_name) {
            return false;
        }
        let typed: Vec<String> = self.words.iter().skip(self.at).take(used).map(|word| word.typed.clone()).collect();
        self.at += used;
        let any = self.take(|colony| {
            NumberedName::of(&fold(colony.name())).is_some_and(|name| {
                let letters = low.before.is_empty() || low.before == name.before;
                letters && name.after.is_empty() && (low.number..=high.number).contains(&name.number)
            })
        });
        if !any {
            self.not_understood.push(typed.join(" "));
        }
        true
    }

    fn hive(&mut self) -> bool {
        for count in (1..=5).rev() {
            let Some(phrase) = self.phrase(count) else { continue };
            let names: Vec<(ColonyId, &str)> = self.scope().map(|colony| (colony.id, colony.name())).collect();
            let found = by_short_name(names.into_iter(), &phrase);
            if !found.is_empty() {
                self.at += count;
                return self.take(|colony| found.contains(&colony.id));
            }
        }
        false
    }
}

fn split(text: &str) -> Vec<Word> {
    let spaced = text.replace([',', ';', '\n'], " , ");
    spaced
        .split_whitespace()
        .map(|typed| Word { typed: typed.to_owned(), folded: fold(typed.trim_end_matches('.')) })
        .filter(|word| !word.folded.is_empty())
        .collect()
}
