//! Folding of text: upper and lower case, accents and a few letters made alike, so that names are found as they are typed.

use unicode_normalization::UnicodeNormalization as _;

use crate::domain::colony::Colony;
use crate::domain::day::Day;
use crate::domain::ids::{ColonyId, YardId};
use crate::domain::world::World;

/// The text in lower case without accents, with letters that do not decompose written out (`ß` as `ss`, `ł` as `l`),
/// runs of white space made one space, and none at the ends.
pub fn fold(text: &str) -> String {
    let mut folded = String::with_capacity(text.len());
    let mut gap = false;
    for letter in text.nfd().filter(|letter| !is_accent(*letter)) {
        if letter.is_whitespace() {
            gap = !folded.is_empty();
            continue;
        }
        if gap {
            folded.push(' ');
            gap = false;
        }
        for small in letter.to_lowercase() {
            match written_out(small) {
                Some(letters) => folded.push_str(letters),
                None => folded.push(small),
            }
        }
    }
    folded
}

/// The accents of Latin, Greek and Cyrillic letters. Vowel signs of other scripts are letters of their own and stay.
fn is_accent(letter: char) -> bool {
    matches!(letter, '\u{300}'..='\u{36f}' | '\u{1ab0}'..='\u{1aff}' | '\u{1dc0}'..='\u{1dff}' | '\u{fe20}'..='\u{fe2f}')
}

fn written_out(letter: char) -> Option<&'static str> {
    Some(match letter {
        'ß' => "ss",
        'ł' => "l",
        'đ' | 'ð' => "d",
        'ø' => "o",
        'æ' => "ae",
        'œ' => "oe",
        'þ' => "th",
        'ħ' => "h",
        'ı' => "i",
        '’' | 'ʻ' | '‘' => "'",
        _ => return None,
    })
}

/// Something that was found by its name.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Hit {
    /// What was found.
    pub what: HitOn,
    /// The name that matched, as it is or was written.
    pub name: String,
    /// Where it is a former name: the span of days in which it held.
    pub former: Option<(Day, Day)>,
    /// The yard to fly to; nothing for an ended colony whose yard is gone.
    pub yard: Option<YardId>,
}

/// What was found.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum HitOn {
    /// A yard.
    Yard(YardId),
    /// A colony, living or ended.
    Colony(ColonyId),
}

/// Yards and colonies whose present or former name holds the text, best first: whole names, then beginnings, then
/// words that begin so, then any part; of each, present names before former ones and living colonies before ended
/// ones. A yard's name before or after a hive's narrows to that yard: `heath 14`, `14, heath`.
pub fn search(world: &World, text: &str) -> Vec<Hit> {
    let sought = fold(text);
    if sought.is_empty() {
        return Vec::new();
    }
    // Written between a hive's name and its yard's, in the list of hits and on the command line.
    let words = fold(&text.replace([',', '/'], " "));
    let mut hits: Vec<((u8, bool, bool, String), Hit)> = Vec::new();
    for yard in world.yards.values() {
        if let Some(rank) = rank(&fold(&yard.name), &sought) {
            let hit = Hit { what: HitOn::Yard(yard.id), name: yard.name.clone(), former: None, yard: Some(yard.id) };
            hits.push(((rank, false, false, fold(&yard.name)), hit));
        }
    }
    for colony in world.colonies.values() {
        let best = names_with_spans(colony).filter_map(|(name, former)| {
            let yard = colony.yard().and_then(|yard| world.yards.get(&yard));
            let alone = rank(&fold(name), &sought);
            let with_yard = || {
                let yard = &yard?.name;
                let both = [format!("{yard} {name}"), format!("{name} {yard}")];
                both.iter().filter_map(|both| rank(&fold(both), &words)).min()
            };
            let rank = alone.or_else(|| if words.contains(' ') { with_yard() } else { None })?;
            Some((rank, former, name))
        });
        if let Some((rank, former, name)) = best.min_by_key(|(rank, former, _)| (*rank, former.is_some())) {
            let hit = Hit { what: HitOn::Colony(colony.id), name: name.to_owned(), former, yard: colony.yard() };
            hits.push(((rank, former.is_some(), !colony.is_living(), fold(name)), hit));
        }
    }
    hits.sort_by(|(a, one), (b, other)| (a, one.what).cmp(&(b, other.what)));
    hits.into_iter().map(|(_, hit)| hit).collect()
}

/// A colony's names with the span of the former ones; the name an ended colony had last is former too.
fn names_with_spans(colony: &Colony) -> impl Iterator<Item = (&str, Option<(Day, Day)>)> {
    colony.names.iter().enumerate().map(|(at, named)| {
        let until = match colony.names.get(at + 1) {
            Some(next) => Some(next.from.plus(-1)),
            None => colony.ended.as_ref().map(|end| end.day),
        };
        (named.name.as_str(), until.map(|until| (named.from, until.max(named.from))))
    })
}

/// How well a folded name fits the sought text; less is better.
fn rank(name: &str, sought: &str) -> Option<u8> {
    if name == sought {
        Some(0)
    } else if name.starts_with(sought) {
        Some(1)
    } else if name.split(' ').any(|word| word.starts_with(sought)) || name.contains(&format!(" {sought}")) {
        Some(2)
    } else if name.contains(sought) {
        Some(3)
    } else {
        None
    }
}

#[cfg(test)]
mod tests {
    use super::fold;

    #[test]
    fn accents_case_and_lone_letters_are_folded() {
        let cases = [
            ("Ōkāreka", "okareka"),
            ("Łódź", "lodz"),
            ("Straße", "strasse"),
            ("Ångström", "angstrom"),
            ("İzmir", "izmir"),
            ("Ørsted", "orsted"),
            ("  Heath \t yard ", "heath yard"),
        ];
        for (written, folded) in cases {
            assert_eq!(fold(written), folded, "{written}");
        }
    }

    #[test]
    fn vowel_signs_of_other_scripts_stay() {
        assert_ne!(fold("कि"), fold("का"));
    }
}
