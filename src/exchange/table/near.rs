//! Names that are nearly alike: a slip of the pen, or two names.

use std::collections::BTreeMap;

/// The known name that a folded name was most likely meant to be, if there is one near it: the same first letter and
/// the same digits, one slip (a letter more, less, other, or two swapped) in names under eight letters, two above.
pub(super) fn nearest<'a>(name: &str, known: &BTreeMap<String, &'a str>) -> Option<&'a str> {
    let letters: Vec<char> = name.chars().collect();
    let slips = if letters.len() < 8 { 1 } else { 2 };
    if letters.len() < 4 {
        return None;
    }
    let near = known.iter().filter_map(|(other, written)| {
        let alike = other != name && other.chars().next() == letters.first().copied() && digits(other).eq(digits(name));
        let distance = alike.then(|| slips_between(&letters, other, slips)).flatten()?;
        Some((distance, *written))
    });
    near.min_by_key(|(distance, written)| (*distance, *written)).map(|(_, written)| written)
}

fn digits(name: &str) -> impl Iterator<Item = char> + '_ {
    name.chars().filter(char::is_ascii_digit)
}

/// The number of slips between two names (optimal string alignment), if it is at most `most`.
fn slips_between(one: &[char], other: &str, most: usize) -> Option<usize> {
    let other: Vec<char> = other.chars().collect();
    if one.len().abs_diff(other.len()) > most {
        return None;
    }
    let mut rows: Vec<Vec<usize>> = vec![(0..=other.len()).collect()];
    for (i, a) in one.iter().enumerate() {
        let mut row = vec![i + 1];
        for (j, b) in other.iter().enumerate() {
            let at = |up: usize, left: usize| -> usize {
                let from = if up == 0 { Some(&row) } else { rows.get(i + 1 - up) };
                from.and_then(|row| row.get(j + 1 - left)).copied().unwrap_or(usize::MAX - 1)
            };
            let mut best = (at(1, 0) + 1).min(at(0, 1) + 1).min(at(1, 1) + usize::from(a != b));
            let swapped = i > 0 && j > 0 && one.get(i - 1) == Some(b) && other.get(j - 1) == Some(a);
            if swapped {
                best = best.min(at(2, 2) + 1);
            }
            row.push(best);
        }
        rows.push(row);
    }
    rows.last().and_then(|row| row.last()).copied().filter(|slips| *slips <= most)
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use super::nearest;

    fn check(name: &str, known: &[&'static str], expected: Option<&str>) {
        let known: BTreeMap<String, &str> = known.iter().map(|name| (name.to_lowercase(), *name)).collect();
        assert_eq!(nearest(name, &known), expected, "{name}");
    }

    #[test]
    fn slips_of_the_pen_are_near() {
        check("thrift hed", &["Thrift Head", "Tide Mill"], Some("Thrift Head"));
        check("brom", &["Broom", "Tansy"], Some("Broom"));
        check("tide mlil", &["Tide Mill"], Some("Tide Mill"));
    }

    #[test]
    fn names_that_differ_on_purpose_are_not() {
        check("yard 12", &["Yard 1", "Yard 13", "Yard 2"], None);
        check("north ridge", &["South Ridge"], None);
        check("top", &["Tip"], None);
        check("heath", &["Heart"], None);
    }
}
