//! Town squares and names. A name tries right, left, below and above its square, then the corners between, else it is
//! left out; glyphs come first.

use std::sync::Arc;

use egui::{Galley, Painter, Pos2, Rect, Stroke, StrokeKind, Vec2, vec2};

use super::classes::Class;
use super::look::BaseLook;

/// Half the side of a town's square, in points.
const SQUARE: f32 = 4.5;
/// Room between a square and its name, in points.
const ROOM: f32 = 5.0;
/// Names beside a square sit this much higher, off the road that leads out of it; in points.
const LIFT: f32 = 9.0;
/// How far the halo reaches, in points.
const HALO: f32 = 1.5;

/// A name to be placed.
#[derive(Debug, Clone, PartialEq)]
pub struct Label {
    /// Where it belongs, on the screen.
    pub at: Pos2,
    /// The name.
    pub name: String,
    /// [`Class::Place`], [`Class::Region`] or [`Class::SeaName`].
    pub class: Class,
}

impl Label {
    fn has_square(&self) -> bool {
        matches!(self.class, Class::Place(_))
    }

    fn rank(&self) -> u8 {
        match self.class {
            Class::Place(rank) => rank,
            Class::Region => 4,
            _ => 5,
        }
    }
}

/// Draws squares and names inside `rect`, keeping names off `reserved`. Answers the boxes of the names drawn, in the order
/// of `labels`; none for a name left out.
pub fn paint_labels(
    painter: &Painter,
    rect: Rect,
    labels: &[Label],
    reserved: &[Rect],
    look: &BaseLook,
) -> Vec<Option<Rect>> {
    let mut taken = reserved.to_vec();
    let squares = labels.iter().filter(|label| label.has_square());
    for label in squares {
        let square = Rect::from_center_size(label.at, Vec2::splat(2.0 * SQUARE));
        painter.rect(square, 0, look.colours.town, Stroke::new(1.5, look.colours.label), StrokeKind::Middle);
        taken.push(square);
    }
    let mut order: Vec<usize> = (0..labels.len()).collect();
    order.sort_by(|&a, &b| (labels[a].rank(), &labels[a].name).cmp(&(labels[b].rank(), &labels[b].name)));
    let mut placed = vec![None; labels.len()];
    for i in order {
        let label = &labels[i];
        let (font, color) = match label.class {
            Class::Place(0) => (&look.fonts.chief, look.colours.label),
            Class::SeaName => (&look.fonts.sea, look.colours.label_sea),
            _ => (&look.fonts.town, look.colours.label),
        };
        let galley = painter.layout_no_wrap(label.name.clone(), font.clone(), color);
        let spot = spots(label, galley.size())
            .into_iter()
            .find(|spot| rect.contains_rect(*spot) && !taken.iter().any(|other| other.intersects(*spot)));
        if let Some(spot) = spot {
            if label.class != Class::SeaName {
                halo(painter, spot.min, &galley, look);
            }
            painter.galley(spot.min, galley, color);
            taken.push(spot);
            placed[i] = Some(spot);
        }
    }
    placed
}

fn spots(label: &Label, size: Vec2) -> Vec<Rect> {
    let at = label.at;
    if !label.has_square() {
        return vec![Rect::from_center_size(at, size)];
    }
    let reach = SQUARE + ROOM;
    let (right, left, middle) = (at.x + reach, at.x - reach - size.x, at.x - size.x / 2.0);
    let (below, above) = (at.y + reach, at.y - reach - size.y);
    let beside = |lift: f32| at.y + lift - size.y / 2.0;
    let shift = size.x / 4.0;
    [
        (right, beside(-LIFT)),
        (left, beside(-LIFT)),
        (middle, below),
        (middle, above),
        (right, beside(LIFT)),
        (left, beside(LIFT)),
        (middle + shift, below),
        (middle - shift, below),
        (middle + shift, above),
        (middle - shift, above),
        (middle + 2.0 * shift, below),
        (middle - 2.0 * shift, below),
        (middle + 2.0 * shift, above),
        (middle - 2.0 * shift, above),
    ]
    .map(|(x, y)| Rect::from_min_size(Pos2::new(x, y), size))
    .to_vec()
}

fn halo(painter: &Painter, at: Pos2, galley: &Arc<Galley>, look: &BaseLook) {
    for step in 0..8u8 {
        let (sin, cos) = (f32::from(step) * std::f32::consts::FRAC_PI_4).sin_cos();
        painter.galley_with_override_text_color(at + HALO * vec2(cos, sin), Arc::clone(galley), look.colours.land);
    }
}

#[cfg(test)]
mod tests {
    use egui::{Context, LayerId, RawInput, pos2};

    use super::super::look::tests::look;
    use super::*;

    /// Where the names land on a screen of 400 × 300.
    fn place(labels: &[Label], reserved: &[Rect]) -> Vec<Option<Rect>> {
        let ctx = Context::default();
        let rect = Rect::from_min_size(Pos2::ZERO, vec2(400.0, 300.0));
        let mut placed = Vec::new();
        let input = RawInput { screen_rect: Some(rect), ..RawInput::default() };
        let mut output = ctx.run_ui(input, |ui| {
            let painter = Painter::new(ui.ctx().clone(), LayerId::background(), rect);
            placed = paint_labels(&painter, rect, labels, reserved, &look());
        });
        output.textures_delta.clear();
        placed
    }

    fn town(name: &str, x: f32, y: f32, rank: u8) -> Label {
        Label { at: pos2(x, y), name: name.to_owned(), class: Class::Place(rank) }
    }

    fn blocks(at: Pos2, sides: &str) -> Vec<Rect> {
        let size = Vec2::splat(10.0);
        sides
            .chars()
            .map(|side| match side {
                'r' => Rect::from_center_size(at + vec2(40.0, -9.0), size),
                'l' => Rect::from_center_size(at + vec2(-40.0, -9.0), size),
                'b' => Rect::from_center_size(at + vec2(0.0, 20.0), size),
                _ => Rect::from_center_size(at + vec2(0.0, -20.0), size),
            })
            .collect()
    }

    #[test]
    fn right_left_below_above_a_corner_else_nothing() {
        let at = pos2(200.0, 150.0);
        let labels = [town("Kelping", at.x, at.y, 1)];
        let spot = |sides: &str| place(&labels, &blocks(at, sides))[0];
        let right = spot("").expect("placed");
        assert!(right.left() > at.x && right.center().y < at.y);
        assert!(spot("r").expect("placed").right() < at.x);
        assert!(spot("rl").expect("placed").top() > at.y);
        assert!(spot("rlb").expect("placed").bottom() < at.y);
        let lower_right = spot("rlba").expect("placed");
        assert!(lower_right.left() > at.x && lower_right.bottom() > at.y, "a corner comes last: {lower_right}");
        let all_round = Rect::from_center_size(at, vec2(200.0, 100.0));
        assert_eq!(place(&labels, &[all_round])[0], None);
    }

    #[test]
    fn a_name_that_would_leave_the_map_goes_to_the_other_side() {
        let placed = place(&[town("Broomhead", 390.0, 150.0, 1)], &[]);
        assert!(placed[0].expect("placed").right() < 390.0);
    }

    #[test]
    fn the_higher_rank_is_placed_first() {
        let placed = place(&[town("Abe", 200.0, 150.0, 2), town("Zoe", 230.0, 150.0, 0)], &[]);
        let (abe, zoe) = (placed[0].expect("placed"), placed[1].expect("placed"));
        assert!(zoe.left() > 230.0 && !abe.intersects(zoe));
    }

    #[test]
    fn a_sea_name_has_one_place() {
        let at = pos2(200.0, 150.0);
        let label = Label { at, name: "Sallow Bay".to_owned(), class: Class::SeaName };
        assert!(place(std::slice::from_ref(&label), &[])[0].expect("placed").center().distance(at) < 0.01);
        assert_eq!(place(&[label], &[Rect::from_center_size(at, Vec2::splat(8.0))])[0], None);
    }
}
