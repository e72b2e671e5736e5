//! Icons on a grid of 16, drawn with a stroke of 1.5 and round ends. They stand beside a word, except close, arrows,
//! zoom and grip.

use std::f32::consts::TAU;

use egui::{Color32, Painter, Pos2, Rect, Sense, Shape, Stroke, Ui, pos2, vec2};

use crate::ui::theme::metrics::stroke;

/// What the icon says.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Icon {
    /// Look for something.
    Find,
    /// Caution.
    Caution,
    /// Barred.
    Bar,
    /// Print.
    Print,
    /// Take back.
    Undo,
    /// Do again.
    Redo,
    /// Add; zoom in.
    Add,
    /// Zoom out.
    Less,
    /// Close.
    Close,
    /// List.
    List,
    /// Next, to the right.
    Right,
    /// Back, to the left.
    Left,
    /// Opens downward; falling order.
    Down,
    /// Closes upward; rising order.
    Up,
    /// Done, chosen.
    Tick,
    /// Can be moved.
    Grip,
    /// A vehicle.
    Van,
    /// Lid labels.
    Label,
    /// A day.
    Day,
    /// A time.
    Clock,
    /// The whole map.
    Fit,
    /// A file.
    File,
    /// Out of Lidnote.
    Out,
    /// Into Lidnote.
    Into,
    /// A place.
    Pin,
}

enum Part {
    Line(&'static [[f32; 2]]),
    Closed(&'static [[f32; 2]]),
    /// Centre, radius, first and last angle in turns, clockwise from the right.
    Arc([f32; 2], f32, f32, f32),
}
use Part::{Arc, Closed, Line};

/// Side of the grid in points at scale 1.
pub const SIDE: f32 = 16.0;

/// Draws the icon into the middle of `rect`, 16 points at most, smaller if the rectangle is.
pub fn paint(painter: &Painter, rect: Rect, icon: Icon, color: Color32) {
    let scale = (rect.width().min(rect.height()) / SIDE).min(1.0);
    let line = Stroke::new(stroke::ICON * scale, color);
    let pixels = painter.pixels_per_point();
    let corner = rect.center() - vec2(SIDE, SIDE) * 0.5 * scale;
    let corner = pos2((corner.x * pixels).round() / pixels, (corner.y * pixels).round() / pixels);
    let at = |[x, y]: [f32; 2]| corner + vec2(x, y) * scale;
    for part in parts(icon) {
        match part {
            Line(points) => open_line(painter, points.iter().map(|&point| at(point)).collect(), line),
            Closed(points) => {
                painter.add(Shape::closed_line(points.iter().map(|&point| at(point)).collect(), line));
            }
            Arc(center, radius, first, last) => {
                let steps = 24;
                let points = (0..=steps).map(|step| {
                    let angle = TAU * (first + (last - first) * step as f32 / steps as f32);
                    at([center[0] + radius * angle.cos(), center[1] + radius * angle.sin()])
                });
                painter.add(Shape::line(points.collect(), line));
            }
        }
    }
}

/// The icon as a widget without a name, for use beside a word.
pub fn show(ui: &mut Ui, icon: Icon, color: Color32) {
    let (rect, _) = ui.allocate_exact_size(vec2(SIDE, SIDE), Sense::hover());
    paint(ui.painter(), rect, icon, color);
}

fn open_line(painter: &Painter, points: Vec<Pos2>, line: Stroke) {
    for end in [points.first(), points.last()].into_iter().flatten() {
        painter.circle_filled(*end, 0.5 * line.width, line.color);
    }
    painter.add(Shape::line(points, line));
}

fn parts(icon: Icon) -> &'static [Part] {
    match icon {
        Icon::Find => &[Arc([7.0, 7.0], 4.5, 0.0, 1.0), Line(&[[10.3, 10.3], [14.0, 14.0]])],
        Icon::Caution => &[
            Closed(&[[8.0, 2.0], [14.5, 13.5], [1.5, 13.5]]),
            Line(&[[8.0, 6.5], [8.0, 10.0]]),
            Line(&[[8.0, 11.6], [8.0, 12.0]]),
        ],
        Icon::Bar => &[Arc([8.0, 8.0], 6.2, 0.0, 1.0), Line(&[[3.8, 12.2], [12.2, 3.8]])],
        Icon::Print => &[
            Line(&[[4.5, 6.0], [4.5, 2.5], [11.5, 2.5], [11.5, 6.0]]),
            Line(&[[4.5, 12.0], [2.5, 12.0], [2.5, 6.0], [13.5, 6.0], [13.5, 12.0], [11.5, 12.0]]),
            Closed(&[[4.5, 9.5], [11.5, 9.5], [11.5, 13.5], [4.5, 13.5]]),
        ],
        Icon::Undo => &[
            Line(&[[6.0, 3.0], [2.5, 6.5], [6.0, 10.0]]),
            Line(&[[2.5, 6.5], [10.0, 6.5]]),
            Arc([10.0, 10.0], 3.5, -0.25, 0.25),
            Line(&[[10.0, 13.5], [6.5, 13.5]]),
        ],
        Icon::Redo => &[
            Line(&[[10.0, 3.0], [13.5, 6.5], [10.0, 10.0]]),
            Line(&[[13.5, 6.5], [6.0, 6.5]]),
            Arc([6.0, 10.0], 3.5, 0.25, 0.75),
            Line(&[[6.0, 13.5], [9.5, 13.5]]),
        ],
        Icon::Add => &[Line(&[[8.0, 3.0], [8.0, 13.0]]), Line(&[[3.0, 8.0], [13.0, 8.0]])],
        Icon::Less => &[Line(&[[3.0, 8.0], [13.0, 8.0]])],
        Icon::Close => &[Line(&[[3.5, 3.5], [12.5, 12.5]]), Line(&[[12.5, 3.5], [3.5, 12.5]])],
        Icon::List => &[
            Line(&[[5.5, 4.0], [13.5, 4.0]]),
            Line(&[[5.5, 8.0], [13.5, 8.0]]),
            Line(&[[5.5, 12.0], [13.5, 12.0]]),
            Line(&[[2.5, 4.0], [3.0, 4.0]]),
            Line(&[[2.5, 8.0], [3.0, 8.0]]),
            Line(&[[2.5, 12.0], [3.0, 12.0]]),
        ],
        Icon::Right => &[Line(&[[6.0, 3.0], [11.0, 8.0], [6.0, 13.0]])],
        Icon::Left => &[Line(&[[10.0, 3.0], [5.0, 8.0], [10.0, 13.0]])],
        Icon::Down => &[Line(&[[3.0, 6.0], [8.0, 11.0], [13.0, 6.0]])],
        Icon::Up => &[Line(&[[3.0, 10.0], [8.0, 5.0], [13.0, 10.0]])],
        Icon::Tick => &[Line(&[[2.5, 8.5], [6.5, 12.5], [13.5, 4.0]])],
        Icon::Grip => &[
            Line(&[[6.0, 3.5], [6.0, 4.5]]),
            Line(&[[10.0, 3.5], [10.0, 4.5]]),
            Line(&[[6.0, 7.5], [6.0, 8.5]]),
            Line(&[[10.0, 7.5], [10.0, 8.5]]),
            Line(&[[6.0, 11.5], [6.0, 12.5]]),
            Line(&[[10.0, 11.5], [10.0, 12.5]]),
        ],
        Icon::Van => &[
            Closed(&[[1.5, 4.0], [9.5, 4.0], [9.5, 11.5], [1.5, 11.5]]),
            Line(&[[9.5, 6.5], [12.5, 6.5], [14.5, 9.0], [14.5, 11.5], [9.5, 11.5]]),
            Line(&[[4.5, 11.5], [4.5, 13.0]]),
            Line(&[[12.0, 11.5], [12.0, 13.0]]),
        ],
        Icon::Label => &[
            Closed(&[[2.0, 3.5], [14.0, 3.5], [14.0, 12.5], [2.0, 12.5]]),
            Line(&[[4.5, 6.5], [11.5, 6.5]]),
            Line(&[[4.5, 9.5], [8.5, 9.5]]),
        ],
        Icon::Day => &[
            Closed(&[[2.5, 3.5], [13.5, 3.5], [13.5, 13.5], [2.5, 13.5]]),
            Line(&[[2.5, 6.5], [13.5, 6.5]]),
            Line(&[[5.5, 1.8], [5.5, 4.0]]),
            Line(&[[10.5, 1.8], [10.5, 4.0]]),
        ],
        Icon::Clock => &[Arc([8.0, 8.0], 6.2, 0.0, 1.0), Line(&[[8.0, 4.5], [8.0, 8.0], [10.5, 10.0]])],
        Icon::Fit => &[
            Line(&[[2.5, 5.5], [2.5, 2.5], [5.5, 2.5]]),
            Line(&[[10.5, 2.5], [13.5, 2.5], [13.5, 5.5]]),
            Line(&[[13.5, 10.5], [13.5, 13.5], [10.5, 13.5]]),
            Line(&[[5.5, 13.5], [2.5, 13.5], [2.5, 10.5]]),
        ],
        Icon::File => &[
            Closed(&[[3.5, 1.8], [9.5, 1.8], [12.5, 4.8], [12.5, 14.2], [3.5, 14.2]]),
            Line(&[[9.5, 1.8], [9.5, 4.8], [12.5, 4.8]]),
        ],
        Icon::Out => &[
            Line(&[[8.0, 10.0], [8.0, 2.5]]),
            Line(&[[4.5, 6.0], [8.0, 2.5], [11.5, 6.0]]),
            Line(&[[2.5, 10.5], [2.5, 13.5], [13.5, 13.5], [13.5, 10.5]]),
        ],
        Icon::Into => &[
            Line(&[[8.0, 2.5], [8.0, 10.0]]),
            Line(&[[4.5, 6.5], [8.0, 10.0], [11.5, 6.5]]),
            Line(&[[2.5, 10.5], [2.5, 13.5], [13.5, 13.5], [13.5, 10.5]]),
        ],
        Icon::Pin => &[
            Line(&[[12.0, 8.5], [8.0, 14.0], [4.0, 8.5]]),
            Arc([8.0, 6.23], 4.6, 0.4177, 1.0823),
            Line(&[[8.0, 5.4], [8.0, 6.4]]),
        ],
    }
}
