//! Turns sketched lines into natural ones: smooth curves through the given points, then small bends from a fixed seed.

use crate::island::At;

/// A point in hundreds of metres east and north.
pub type Point = [f64; 2];

/// Pieces a curve is made of between two given points.
const PIECES: u32 = 4;

/// A smooth line through all points (Catmull and Rom 1974), with bends of `share` of each piece's length, halved `depth`
/// times. `closed` joins the last point to the first.
pub fn bent(points: &[At], closed: bool, smooth: bool, share: f64, depth: u32) -> Vec<Point> {
    let points: Vec<Point> = points.iter().map(|&(x, y)| [f64::from(x), f64::from(y)]).collect();
    let curve = if smooth { curve(&points, closed) } else { points };
    let count = curve.len();
    let mut line = Vec::new();
    for i in 0..if closed { count } else { count - 1 } {
        line.push(curve[i]);
        bend(&mut line, curve[i], curve[(i + 1) % count], share, depth);
    }
    if !closed {
        line.push(curve[count - 1]);
    }
    line
}

fn curve(points: &[Point], closed: bool) -> Vec<Point> {
    let count = points.len();
    let at = |i: usize, step: isize| {
        let i = i as isize + step;
        let i = if closed { i.rem_euclid(count as isize) } else { i.clamp(0, count as isize - 1) };
        points[i as usize]
    };
    let mut curve = Vec::new();
    for i in 0..if closed { count } else { count - 1 } {
        let [before, from, to, after] = [-1, 0, 1, 2].map(|step| at(i, step));
        for piece in 0..PIECES {
            let t = f64::from(piece) / f64::from(PIECES);
            curve.push([0, 1].map(|k| {
                let linear = (to[k] - before[k]) * t;
                let square = (2.0 * before[k] - 5.0 * from[k] + 4.0 * to[k] - after[k]) * t * t;
                let cube = (3.0 * from[k] - before[k] - 3.0 * to[k] + after[k]) * t * t * t;
                from[k] + 0.5 * (linear + square + cube)
            }));
        }
    }
    if !closed {
        curve.push(points[count - 1]);
    }
    curve
}

/// Moves the middle of a piece sideways, then the middles of its halves.
fn bend(line: &mut Vec<Point>, from: Point, to: Point, share: f64, depth: u32) {
    if depth == 0 {
        return;
    }
    let (dx, dy) = (to[0] - from[0], to[1] - from[1]);
    let side = share * chance(from, to, depth);
    let middle = [f64::midpoint(from[0], to[0]) - dy * side, f64::midpoint(from[1], to[1]) + dx * side];
    bend(line, from, middle, share, depth - 1);
    line.push(middle);
    bend(line, middle, to, share, depth - 1);
}

/// A number from −1 to 1 that depends on the place alone: adding a road elsewhere leaves all others as they were.
/// The mixing is SplitMix64 (Steele, Lea and Flood 2014).
fn chance(from: Point, to: Point, depth: u32) -> f64 {
    let mut state = 0x9e37_79b9_7f4a_7c15_u64;
    for number in [from[0], from[1], to[0], to[1], f64::from(depth)] {
        state = state.wrapping_add((number * 16.0).round() as i64 as u64).wrapping_add(0x9e37_79b9_7f4a_7c15);
        state = (state ^ (state >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        state = (state ^ (state >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        state ^= state >> 31;
    }
    (state >> 11) as f64 / (1u64 << 52) as f64 - 1.0
}

/// Leaves out points that change the line by less than `tolerance` (Douglas and Peucker 1973). A ring's first point stays.
pub fn simplified(line: &[Point], tolerance: f64) -> Vec<Point> {
    let mut keep = vec![false; line.len()];
    let mut open = vec![(0, line.len().saturating_sub(1))];
    for end in [0, line.len().saturating_sub(1)] {
        if let Some(flag) = keep.get_mut(end) {
            *flag = true;
        }
    }
    while let Some((first, last)) = open.pop() {
        let farthest = (first + 1..last)
            .map(|i| (distance(line[i], line[first], line[last]), i))
            .max_by(|a, b| a.0.total_cmp(&b.0))
            .filter(|&(far, _)| far > tolerance);
        if let Some((_, i)) = farthest {
            keep[i] = true;
            open.extend([(first, i), (i, last)]);
        }
    }
    line.iter().zip(keep).filter(|(_, keep)| *keep).map(|(&point, _)| point).collect()
}

fn distance(point: Point, from: Point, to: Point) -> f64 {
    let (dx, dy) = (to[0] - from[0], to[1] - from[1]);
    let length = dx * dx + dy * dy;
    let along = if length == 0.0 { 0.0 } else { ((point[0] - from[0]) * dx + (point[1] - from[1]) * dy) / length };
    let along = along.clamp(0.0, 1.0);
    (point[0] - from[0] - along * dx).hypot(point[1] - from[1] - along * dy)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn given_points_stay() {
        let given = [(0, 0), (10, 5), (20, -5)];
        let line = bent(&given, false, true, 0.05, 2);
        for (x, y) in given {
            assert!(line.contains(&[f64::from(x), f64::from(y)]));
        }
        assert_eq!(bent(&given, true, true, 0.05, 2).len(), 3 * 4 * 4);
    }

    #[test]
    fn simplifying_keeps_the_ends_and_the_corner() {
        let line = [[0.0, 0.0], [5.0, 0.1], [10.0, 0.0], [10.0, 10.0]];
        assert_eq!(simplified(&line, 0.5), vec![[0.0, 0.0], [10.0, 0.0], [10.0, 10.0]]);
        assert_eq!(simplified(&line, 0.01).len(), 4);
        assert!(simplified(&[], 1.0).is_empty());
    }
}
