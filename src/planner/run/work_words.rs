//! The work of a stop in words, as the screen, the route and the dates say it.

use std::collections::BTreeMap;

use crate::domain::work::{DueWork, Step, WorkKind};

/// Work in words: looks first, each kind once with its count, then the steps.
pub fn work_words(work: &[DueWork]) -> String {
    let mut looks: BTreeMap<&str, u32> = BTreeMap::new();
    let mut steps: BTreeMap<&str, u32> = BTreeMap::new();
    for work in work {
        let words = match work.kind {
            WorkKind::Step(Step::CageOff) => "cage off",
            kind => kind.words(),
        };
        *if work.kind.is_look() { looks.entry(words) } else { steps.entry(words) }.or_default() += 1;
    }
    let mut looks: Vec<(&str, u32)> = looks.into_iter().collect();
    looks.sort_by_key(|(words, count)| (!words.ends_with(" look"), std::cmp::Reverse(*count), *words));
    let last = looks.iter().rposition(|(words, _)| words.ends_with(" look")).unwrap_or(0);
    let looks: Vec<String> = looks
        .iter()
        .enumerate()
        .map(|(at, (words, count))| match words.strip_suffix(" look") {
            // `6 acceptance, 1 first brood look`: the word look is said once.
            Some(short) if at < last => format!("{count} {short}"),
            Some(_) if *count == 1 => format!("1 {words}"),
            Some(_) => format!("{count} {words}s"),
            // `2 looks again`.
            None => match words.strip_prefix("look ") {
                Some(rest) if *count > 1 => format!("{count} looks {rest}"),
                _ => format!("{count} {words}"),
            },
        })
        .collect();
    let steps: Vec<String> = steps
        .iter()
        .map(|(words, count)| if *count == 1 { (*words).to_owned() } else { format!("{words} in {count} hives") })
        .collect();
    let groups = [looks.join(", "), steps.join(", ")];
    groups.into_iter().filter(|words| !words.is_empty()).collect::<Vec<_>>().join("; ")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::day::Day;
    use crate::domain::ids::ColonyId;
    use crate::domain::work::{Look, Window};

    fn work(kind: WorkKind) -> DueWork {
        let day = Day::new(2026, 11, 14).expect("a day");
        DueWork {
            colony: ColonyId::from_number(1),
            kind,
            window: Window::after(day, 7, 10, 14),
            counted_from: day,
            method: None,
            plan: None,
            why: String::new(),
            look_for: String::new(),
        }
    }

    #[test]
    fn work_is_counted_by_kind_and_the_word_look_said_once() {
        let acceptance = || work(WorkKind::Look(Look::Acceptance));
        let brood = || work(WorkKind::Look(Look::FirstBrood));
        assert_eq!(work_words(&[acceptance(), acceptance(), acceptance()]), "3 acceptance looks");
        let give = work(WorkKind::Step(Step::Give));
        assert_eq!(work_words(&[brood(), acceptance(), acceptance(), give]), "2 acceptance, 1 first brood look; give");
        let again = || work(WorkKind::Look(Look::Again));
        assert_eq!(work_words(&[again(), again()]), "2 looks again");
        assert_eq!(
            work_words(&[again(), again(), acceptance(), brood()]),
            "1 acceptance, 1 first brood look, 2 looks again"
        );
        let cut = || work(WorkKind::Step(Step::CutCells));
        assert_eq!(work_words(&[cut(), cut()]), "cut cells in 2 hives");
    }
}
