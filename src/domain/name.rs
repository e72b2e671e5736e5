//! Names of yards, hives and sources: short, and of signs that can be seen, so that two names that look alike are alike.

use crate::domain::refusal::{Refusal, RefusalKind};

/// The longest name of a yard, hive or source, in characters. Common practice, no source.
pub const LONGEST: usize = 60;

/// Signs that show nothing, or turn the writing round: soft hyphen, joiners and other signs without width, marks and
/// overrides of the direction, line and paragraph separators, fillers, and tags. From the categories Cf, Zl and Zp of the
/// Unicode character database, and its default ignorable signs.
const UNSEEN: [(char, char); 17] = [
    ('\u{ad}', '\u{ad}'),
    ('\u{34f}', '\u{34f}'),
    ('\u{600}', '\u{605}'),
    ('\u{61c}', '\u{61c}'),
    ('\u{6dd}', '\u{6dd}'),
    ('\u{70f}', '\u{70f}'),
    ('\u{115f}', '\u{1160}'),
    ('\u{17b4}', '\u{17b5}'),
    ('\u{180b}', '\u{180f}'),
    ('\u{200b}', '\u{200f}'),
    ('\u{2028}', '\u{202e}'),
    ('\u{2060}', '\u{206f}'),
    ('\u{3164}', '\u{3164}'),
    ('\u{feff}', '\u{feff}'),
    ('\u{ffa0}', '\u{ffa0}'),
    ('\u{fff0}', '\u{fffb}'),
    ('\u{e0000}', '\u{e0fff}'),
];

/// Zero width non-joiner and joiner.
const JOINERS: [char; 2] = ['\u{200c}', '\u{200d}'];
/// Scripts from Arabic to Burmese, whose letters change their form by their neighbours.
const SHAPED: std::ops::RangeInclusive<char> = '\u{600}'..='\u{109f}';

/// Whether a sign cannot be seen in a name.
pub fn is_unseen(sign: char) -> bool {
    sign.is_control() || UNSEEN.iter().any(|(first, last)| (*first..=*last).contains(&sign))
}

/// Refuses a name that is too long, or holds a sign that cannot be seen. `of`: what it names, `hive`.
///
/// # Errors
/// The fact and the way out.
pub fn check(name: &str, of: &str) -> Result<(), Refusal> {
    let bad = |fact: String, way_out: String| Err(Refusal::new(RefusalKind::BadValue, fact, way_out));
    if let Some(sign) = first_unseen(name) {
        let fact = format!("The name of the {of} holds a sign that cannot be seen (U+{:04X})", u32::from(sign));
        return bad(fact, "Type the name anew, without it".to_owned());
    }
    if name.chars().count() > LONGEST {
        return bad(format!("The name of the {of} is too long"), format!("Give one of at most {LONGEST} letters"));
    }
    Ok(())
}

/// The first sign that cannot be seen. A joiner between two letters of a script that is written with joiners shapes them,
/// and is seen (Unicode Standard Annex 31, section 2.3: layout and format control characters; from memory).
fn first_unseen(name: &str) -> Option<char> {
    let signs: Vec<char> = name.chars().collect();
    let joined = |at: usize| {
        let shaped = |at: usize| signs.get(at).is_some_and(|sign| SHAPED.contains(sign) && !is_unseen(*sign));
        JOINERS.contains(&signs[at]) && at > 0 && shaped(at - 1) && shaped(at + 1)
    };
    (0..signs.len()).find(|at| is_unseen(signs[*at]) && !joined(*at)).map(|at| signs[at])
}

#[cfg(test)]
mod tests {
    use super::{LONGEST, check};

    #[test]
    fn names_hold_only_signs_that_can_be_seen() {
        for name in ["B14", "Bärenhöhle 3", "Ōtaki road", "14/2 – “the brook”", "Пасека", "蜂場", &"x".repeat(LONGEST)]
        {
            assert_eq!(check(name, "hive"), Ok(()), "{name}");
        }
        assert_eq!(check("باغ\u{200c}ها", "yard"), Ok(()), "a joiner shapes the letters beside it");
        assert!(check("\u{200c}ها", "yard").is_err(), "a joiner alone shows nothing");
        let why = |name: &str| check(name, "hive").expect_err(name).to_string();
        for sign in
            ['\u{200b}', '\u{200d}', '\u{202e}', '\u{2066}', '\u{feff}', '\u{ad}', '\u{7}', '\t', '\n', '\u{85}']
        {
            assert!(why(&format!("B1{sign}4")).contains("cannot be seen"), "{:04X}", u32::from(sign));
        }
        let told = why("B14\u{202e}");
        assert_eq!(
            told,
            "The name of the hive holds a sign that cannot be seen (U+202E). Type the name anew, without it"
        );
        assert!(why(&"x".repeat(LONGEST + 1)).contains("at most 60 letters"));
    }
}
