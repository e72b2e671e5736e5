//! Every code with its words, for key hints on the screen.

/// A code and what it says.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Hint {
    /// The code as it is typed: `c3`.
    pub code: &'static str,
    /// What it says: `closed cells, 3`.
    pub words: &'static str,
    /// The group it is shown in.
    pub group: HintGroup,
}

/// Groups of codes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum HintGroup {
    /// What was found.
    Found,
    /// Why the hive was not opened.
    NotOpened,
    /// What was given.
    Given,
    /// What was done.
    Done,
    /// Words, and moving among the rows.
    Rows,
}

impl HintGroup {
    /// All groups, in the order they are shown.
    pub const ALL: [Self; 5] = [Self::Found, Self::NotOpened, Self::Given, Self::Done, Self::Rows];

    /// Its heading.
    pub fn words(self) -> &'static str {
        match self {
            Self::Found => "Found",
            Self::NotOpened => "Not opened",
            Self::Given => "Given",
            Self::Done => "Done",
            Self::Rows => "Words and rows",
        }
    }
}

const fn hint(group: HintGroup, code: &'static str, words: &'static str) -> Hint {
    Hint { code, words, group }
}

/// All codes, in the order they are shown.
pub const HINTS: &[Hint] = &[
    hint(HintGroup::Found, "e", "eggs"),
    hint(HintGroup::Found, "q", "her seen"),
    hint(HintGroup::Found, "l", "larvae"),
    hint(HintGroup::Found, "u", "another queen"),
    hint(HintGroup::Found, "b", "capped worker brood"),
    hint(HintGroup::Found, "c3", "closed cells, 3"),
    hint(HintGroup::Found, "y3", "cells begun, 3"),
    hint(HintGroup::Found, "o", "opened cell"),
    hint(HintGroup::Found, "n", "nothing, whole nest"),
    hint(HintGroup::Found, "p", "part of the nest only"),
    hint(HintGroup::Found, "k", "alive in the cage"),
    hint(HintGroup::Found, "m", "dead in the cage"),
    hint(HintGroup::Found, "d", "drone layer"),
    hint(HintGroup::Found, "w", "laying workers"),
    hint(HintGroup::Found, "x", "disease: asks which"),
    hint(HintGroup::Found, "s", "swarmed"),
    hint(HintGroup::Found, "z", "colony dead"),
    hint(HintGroup::Found, "t3", "temper 3"),
    hint(HintGroup::NotOpened, "-r", "rain"),
    hint(HintGroup::NotOpened, "-t", "time"),
    hint(HintGroup::NotOpened, "-f", "not found"),
    hint(HintGroup::Given, "+q", "caged queen given"),
    hint(HintGroup::Given, "+p", "queen under a push-in cage"),
    hint(HintGroup::Given, "+c", "cell given"),
    hint(HintGroup::Given, "+v12", "virgin given, emerged on the 12th"),
    hint(HintGroup::Given, "+n", "nuc united"),
    hint(HintGroup::Given, "+f", "test frame given"),
    hint(HintGroup::Given, "+f1", "test frame given, frame marked"),
    hint(HintGroup::Done, "/q", "old queen removed"),
    hint(HintGroup::Done, "?q", "old queen not found"),
    hint(HintGroup::Done, "/c", "cells cut"),
    hint(HintGroup::Done, "+s", "a cell left standing"),
    hint(HintGroup::Done, "/k", "cage taken off"),
    hint(HintGroup::Done, "+d", "marked in the year's colour"),
    hint(HintGroup::Done, "+d4", "marked in the colour of years ending in 4"),
    hint(HintGroup::Done, "~15", "lids swapped with 15"),
    hint(HintGroup::Rows, "'", "words follow"),
    hint(HintGroup::Rows, "@23", "seen on the 23rd"),
    hint(HintGroup::Rows, ".14", "jump to hive 14"),
    hint(HintGroup::Rows, "=", "as the row above"),
    hint(HintGroup::Rows, "*eq", "the blank rows, asks first"),
];
