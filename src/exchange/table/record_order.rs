//! In which order the records of a file were entered: what happened at one hive on one day as its rows stand, and the rows
//! of an evening as it numbers them. All else stays in the order of the file.

use std::collections::{BTreeMap, BTreeSet};

use crate::exchange::table::plan::NewRecord;

/// The places of the records in the order they were entered. Where the two orders contradict each other, as only a file
/// altered by hand can, the order of the file decides.
pub(super) fn in_order(records: &[&NewRecord]) -> Vec<usize> {
    let mut later: Vec<Vec<usize>> = vec![Vec::new(); records.len()];
    let mut waits: Vec<u32> = vec![0; records.len()];
    for pair in chains(records).iter().flat_map(|chain| chain.windows(2)) {
        let [before, after] = *pair else { continue };
        if let Some(all) = later.get_mut(before) {
            all.push(after);
        }
        if let Some(count) = waits.get_mut(after) {
            *count += 1;
        }
    }
    let mut ready: BTreeSet<usize> =
        waits.iter().enumerate().filter(|(_, count)| **count == 0).map(|(at, _)| at).collect();
    let mut waiting: BTreeSet<usize> = (0..records.len()).collect();
    let mut order = Vec::with_capacity(records.len());
    while let Some(at) = ready.pop_first().or_else(|| waiting.first().copied()) {
        if !waiting.remove(&at) {
            continue;
        }
        order.push(at);
        for after in later.get(at).into_iter().flatten() {
            if let Some(count) = waits.get_mut(*after) {
                *count = count.saturating_sub(1);
                if *count == 0 {
                    ready.insert(*after);
                }
            }
        }
    }
    order
}

/// The records of each hive's day, and those of each evening, in their order.
fn chains(records: &[&NewRecord]) -> Vec<Vec<usize>> {
    let mut of_day: BTreeMap<(usize, i32), Vec<usize>> = BTreeMap::new();
    let mut of_evening: BTreeMap<u32, Vec<(u32, usize)>> = BTreeMap::new();
    for (at, record) in records.iter().enumerate() {
        of_day.entry((record.hive, record.day.number())).or_default().push(at);
        if let Some((evening, place)) = record.evening {
            of_evening.entry(evening).or_default().push((place, at));
        }
    }
    let evenings = of_evening.into_values().map(|mut places| {
        places.sort_unstable();
        places.into_iter().map(|(_, at)| at).collect()
    });
    of_day.into_values().chain(evenings).collect()
}

#[cfg(test)]
mod tests {
    use super::in_order;
    use crate::domain::day::Day;
    use crate::domain::record::Which;
    use crate::exchange::table::plan::{NewHappening, NewRecord};

    /// Hive, day of November, evening with the place in it.
    type Case = (usize, u32, Option<(u32, u32)>);

    fn check(records: &[Case], expected: &[usize]) {
        let record = |(hive, day, evening): &Case| NewRecord {
            row: 0,
            hive: *hive,
            day: Day::new(2026, 11, *day).expect("a day"),
            by: String::new(),
            words: String::new(),
            what: NewHappening::Which(Which::Lost),
            evening: *evening,
            struck: false,
            amended: Vec::new(),
        };
        let records: Vec<NewRecord> = records.iter().map(record).collect();
        assert_eq!(in_order(&records.iter().collect::<Vec<_>>()), expected);
    }

    #[test]
    fn evenings_keep_their_own_order_and_days_theirs() {
        check(&[(0, 1, None), (1, 1, None), (0, 2, None)], &[0, 1, 2]);
        check(&[(0, 2, Some((1, 3))), (1, 2, Some((1, 1))), (2, 2, Some((1, 2)))], &[1, 2, 0]);
        // The hive's first record of that day was entered before the evening.
        check(&[(0, 2, Some((1, 2))), (1, 2, None), (1, 2, Some((1, 1)))], &[1, 2, 0]);
    }

    #[test]
    fn orders_that_contradict_each_other_lose_no_record() {
        check(&[(0, 2, Some((1, 2))), (0, 2, Some((1, 1)))], &[0, 1]);
    }
}
