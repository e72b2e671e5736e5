//! Lines cut to a box: at the edges of tiles, so that neighbours meet, and at the edge of the screen, so that a dashed line
//! ten screens long costs one screen of dashes.

/// The parts of a line inside the box from `min` to `max`, edges included.
pub fn cut(line: &[[f32; 2]], min: [f32; 2], max: [f32; 2]) -> Vec<Vec<[f32; 2]>> {
    let inside = |p: [f32; 2]| (0..2).all(|axis| min[axis] <= p[axis] && p[axis] <= max[axis]);
    if line.iter().all(|&point| inside(point)) {
        return if line.len() > 1 { vec![line.to_vec()] } else { Vec::new() };
    }
    let mut parts: Vec<Vec<[f32; 2]>> = Vec::new();
    for pair in line.windows(2) {
        let Some([from, to]) = cut_segment(pair[0], pair[1], min, max) else {
            continue;
        };
        match parts.last_mut() {
            Some(part) if part.last() == Some(&from) => part.push(to),
            _ => parts.push(vec![from, to]),
        }
    }
    parts.retain(|part| part.len() > 2 || part[0] != part[1]);
    parts
}

/// The part of a straight piece inside the box (Liang and Barsky 1984).
fn cut_segment(from: [f32; 2], to: [f32; 2], min: [f32; 2], max: [f32; 2]) -> Option<[[f32; 2]; 2]> {
    let (mut enter, mut leave) = (0.0f32, 1.0f32);
    for axis in 0..2 {
        let step = to[axis] - from[axis];
        for (step, room) in [(-step, from[axis] - min[axis]), (step, max[axis] - from[axis])] {
            if step == 0.0 {
                if room < 0.0 {
                    return None;
                }
            } else if step < 0.0 {
                enter = enter.max(room / step);
            } else {
                leave = leave.min(room / step);
            }
        }
    }
    if enter > leave || !enter.is_finite() || !leave.is_finite() {
        return None;
    }
    // The ends stay untouched where they are inside, so that the next piece joins on.
    let at = |share: f32, end: [f32; 2]| {
        if share == 0.0 || share == 1.0 {
            end
        } else {
            [from[0] + share * (to[0] - from[0]), from[1] + share * (to[1] - from[1])]
        }
    };
    Some([at(enter, from), at(leave, to)])
}

/// The outline of a ring without the pieces that only cut it off: those along the edges of the box from 0 to `side`, or
/// beyond. Rings are not closed by a repeated point; the parts are open lines.
pub fn outline(ring: &[[f32; 2]], side: f32) -> Vec<Vec<[f32; 2]>> {
    let along = |a: [f32; 2], b: [f32; 2]| (0..2).any(|axis| a[axis] == b[axis] && (a[axis] <= 0.0 || a[axis] >= side));
    let count = ring.len();
    if count < 2 {
        return Vec::new();
    }
    let is_cut: Vec<bool> = (0..count).map(|i| along(ring[i], ring[(i + 1) % count])).collect();
    let Some(first) = is_cut.iter().position(|&cut| cut) else {
        let mut whole = ring.to_vec();
        whole.push(ring[0]);
        return vec![whole];
    };
    let mut parts = Vec::new();
    let mut part: Vec<[f32; 2]> = Vec::new();
    // Begins behind a cut, so that no part is torn at the ring's first point.
    for step in 1..=count {
        let i = (first + step) % count;
        part.push(ring[i]);
        if is_cut[i] {
            if part.len() > 1 {
                parts.push(std::mem::take(&mut part));
            }
            part.clear();
        }
    }
    parts
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    const MIN: [f32; 2] = [0.0, 0.0];
    const MAX: [f32; 2] = [10.0, 10.0];

    #[test]
    fn a_line_is_cut_where_it_leaves() {
        let line = [[-5.0, 5.0], [5.0, 5.0], [15.0, 5.0], [15.0, 8.0], [5.0, 8.0]];
        let parts = cut(&line, MIN, MAX);
        assert_eq!(parts, vec![vec![[0.0, 5.0], [5.0, 5.0], [10.0, 5.0]], vec![[10.0, 8.0], [5.0, 8.0]]]);
        assert_eq!(cut(&[[-5.0, 12.0], [15.0, 12.0]], MIN, MAX), Vec::<Vec<[f32; 2]>>::new());
        assert_eq!(cut(&[[1.0, 2.0], [3.0, 4.0]], MIN, MAX), vec![vec![[1.0, 2.0], [3.0, 4.0]]]);
    }

    #[test]
    fn a_cut_edge_is_no_coast() {
        let ring = [[0.0, 2.0], [4.0, 2.0], [4.0, 6.0], [0.0, 6.0]];
        assert_eq!(outline(&ring, 10.0), vec![vec![[0.0, 2.0], [4.0, 2.0], [4.0, 6.0], [0.0, 6.0]]]);
        let island = [[1.0, 1.0], [3.0, 1.0], [2.0, 3.0]];
        assert_eq!(outline(&island, 10.0)[0].len(), 4);
        let whole = [[-1.0, -1.0], [11.0, -1.0], [11.0, 11.0], [-1.0, 11.0]];
        assert!(outline(&whole, 10.0).is_empty());
        let two = [[0.0, 1.0], [5.0, 2.0], [10.0, 1.0], [10.0, 9.0], [5.0, 8.0], [0.0, 9.0]];
        assert_eq!(outline(&two, 10.0).len(), 2);
    }

    proptest! {
        #[test]
        fn no_part_leaves_the_box(line in proptest::collection::vec((-30.0f32..30.0, -30.0f32..30.0), 0..20)) {
            let line: Vec<[f32; 2]> = line.into_iter().map(|(x, y)| [x, y]).collect();
            for part in cut(&line, MIN, MAX) {
                prop_assert!(part.len() > 1);
                for [x, y] in part {
                    prop_assert!((-1e-3..=10.001).contains(&x) && (-1e-3..=10.001).contains(&y));
                }
            }
        }
    }
}
