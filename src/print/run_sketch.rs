//! The small drawing of a run: coast, roads, route, numbered stops.

use crate::print::canvas::{Align, BLACK, Canvas, PAPER, Pen, bold, regular};
use crate::print::job::{LineClass, Sketch};
use crate::print::setting::Setter;

/// Width and height of the frame in mm (design).
pub(crate) const SKETCH: (f32, f32) = (55.0, 30.0);

/// Radius of a stop's disc.
const DISC: f32 = 1.85;

/// Side of the mark of a stop that has no room for its disc.
const DOT: f32 = 0.9;

/// Draws the sketch in its frame with the top left corner at `corner`.
pub(crate) fn draw_sketch(canvas: &mut Canvas<'_>, setter: &mut Setter, sketch: &Sketch, corner: (f32, f32)) {
    let place = |at: (f32, f32)| (corner.0 + at.0 * SKETCH.0, corner.1 + at.1 * SKETCH.1);
    let stops: Vec<(f32, f32)> = sketch.stops.iter().map(|stop| place(stop.at)).collect();
    let base = sketch.base.as_ref().map(|base| (place(base.at), &base.label));
    // The base's mark and the name below it stay readable.
    let taken: Vec<(f32, f32)> = base.iter().flat_map(|((x, y), _)| [(*x, *y), (*x, y + 2.5)]).collect();
    let discs = spread(&stops, &taken, corner);
    canvas.clipped(corner.0, corner.1, SKETCH.0, SKETCH.1, |canvas| {
        for class in [LineClass::Coast, LineClass::Road, LineClass::Route] {
            for line in sketch.lines.iter().filter(|line| line.class == class) {
                let points: Vec<(f32, f32)> = line.points.iter().map(|&at| place(at)).collect();
                canvas.polyline(&points, pen(class));
            }
        }
        if let Some(((x, y), label)) = base {
            canvas.block(x - 0.85, y - 0.85, 1.7, 1.7, BLACK);
            // The name stands below the mark, else above it, and inside the frame.
            let half = setter.width(regular(6.5), label) / 2.0;
            let middle = x.max(corner.0 + half + 0.6).min(corner.0 + SKETCH.0 - half - 0.6);
            let baseline = if y - corner.1 > SKETCH.1 - 4.0 { y - 1.7 } else { y + 3.4 };
            // Coast and roads give way to the name.
            canvas.block(middle - half - 0.4, baseline - 2.0, 2.0 * half + 0.8, 2.7, PAPER);
            canvas.text(setter, regular(6.5), Align::Middle, (middle, baseline), label);
        }
        for (stop, disc) in stops.iter().zip(&discs) {
            match disc {
                Some(disc) => canvas.polyline(&[*stop, *disc], Pen::solid(0.3, BLACK)),
                None => canvas.block(stop.0 - DOT / 2.0, stop.1 - DOT / 2.0, DOT, DOT, BLACK),
            }
        }
        for (stop, disc) in sketch.stops.iter().zip(&discs).filter_map(|(stop, disc)| Some((stop, (*disc)?))) {
            canvas.disc(disc.0, disc.1, DISC, Pen::solid(0.3, BLACK));
            let size = if stop.label.chars().count() > 2 { 5.0 } else { 7.0 };
            canvas.text(setter, bold(size), Align::Middle, (disc.0, disc.1 + size * 0.122), &stop.label);
        }
    });
    canvas.frame(corner.0, corner.1, SKETCH.0, SKETCH.1, Pen::solid(0.15, 90));
}

fn pen(class: LineClass) -> Pen {
    match class {
        LineClass::Coast => Pen::solid(0.2, 90),
        LineClass::Road => Pen::solid(0.25, 170),
        LineClass::Route => Pen::solid(0.5, BLACK),
    }
}

/// A place for each disc: on its stop, or beside it where another disc or a taken point is in the way or the frame is near.
/// None in a crowd where no place is free.
fn spread(stops: &[(f32, f32)], taken: &[(f32, f32)], corner: (f32, f32)) -> Vec<Option<(f32, f32)>> {
    let mut discs: Vec<Option<(f32, f32)>> = Vec::with_capacity(stops.len());
    for &stop in stops {
        let clear = |disc: &(f32, f32)| taken.iter().all(|point| distance(*disc, *point) >= DISC + 1.2);
        let free = |disc: &(f32, f32)| {
            clear(disc) && discs.iter().flatten().all(|other| distance(*disc, *other) >= 2.0 * DISC + 0.3)
        };
        let inside = |disc: &(f32, f32)| inside(*disc, corner);
        discs.push(candidates(stop).find(|disc| inside(disc) && free(disc)));
    }
    discs
}

/// The stop itself, then rings of eight places around it.
fn candidates(stop: (f32, f32)) -> impl Iterator<Item = (f32, f32)> {
    let ring = move |radius: f32| {
        (0..8_u8).map(move |eighth| {
            let angle = std::f32::consts::FRAC_PI_4 * f32::from(eighth);
            (stop.0 + radius * angle.cos(), stop.1 + radius * angle.sin())
        })
    };
    std::iter::once(stop).chain([4.0, 6.0, 8.5, 11.0].into_iter().flat_map(ring))
}

fn inside(disc: (f32, f32), corner: (f32, f32)) -> bool {
    let edge = DISC + 0.3;
    (corner.0 + edge..=corner.0 + SKETCH.0 - edge).contains(&disc.0)
        && (corner.1 + edge..=corner.1 + SKETCH.1 - edge).contains(&disc.1)
}

fn distance(a: (f32, f32), b: (f32, f32)) -> f32 {
    (a.0 - b.0).hypot(a.1 - b.1)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn discs_stay_in_the_frame_and_apart() {
        let stops = [(10.0, 10.0), (10.5, 10.0), (10.0, 10.2), (0.2, 0.2), (54.9, 29.9), (10.2, 9.8)];
        let placed = spread(&stops, &[], (0.0, 0.0));
        let discs: Vec<(f32, f32)> = placed.iter().flatten().copied().collect();
        assert_eq!((discs.len(), discs[0]), (stops.len(), stops[0]));
        for (at, disc) in discs.iter().enumerate() {
            assert!(inside(*disc, (0.0, 0.0)), "{disc:?}");
            for other in &discs[..at] {
                assert!(distance(*disc, *other) >= 2.0 * DISC, "{disc:?} {other:?}");
            }
        }
        let crowd = spread(&[(27.0, 15.0); 60], &[], (0.0, 0.0));
        assert!(crowd.contains(&None), "a crowd has no room for all");
    }
}
