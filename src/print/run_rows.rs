//! Stops and hives of a run sheet: measured first, drawn when their page is known.

use std::ops::Range;

use crate::print::canvas::{Align, BLACK, Canvas, Pen, bold, regular};
use crate::print::job::{HiveRow, RunSheetJob, Stop, Trouble};
use crate::print::letters::Weight;
use crate::print::run_page::{BOX, BOX_PEN, Measures, WRITE_PEN};
use crate::print::setting::{Fitted, Line, Setter, Style};

/// Height of a row with up to two lines (design).
const ROW: f32 = 8.8;

/// Lead of a row's lines.
const ROW_LEAD: f32 = 3.6;

/// Letters of a row, in points (design).
const ROW_SIZE: f32 = 9.0;

/// Smallest letters of a hive's name in its column, in points: what is still found at a glance (common practice, no source).
const LEAST_HIVE: f32 = 9.0;

/// Height of the line above a row in which a long name stands.
const NAME_ABOVE: f32 = 5.0;

/// Most lines of a row; the rest is cut and reported.
const MOST_LINES: usize = 5;

/// Height of a stop's head of one line.
const STOP_HEAD: f32 = 9.4;

/// Letters of a stop's facts.
const FACTS: Style = regular(9.0);

/// A stop with its measured rows.
pub(crate) struct MeasuredStop<'a> {
    stop: &'a Stop,
    number: usize,
    /// Lines of a note that is too long to stand behind the facts.
    note: Vec<String>,
    rows: Vec<MeasuredRow<'a>>,
}

struct MeasuredRow<'a> {
    row: &'a HiveRow,
    hive: Fitted,
    /// A name too long for its column has a line of its own above the row.
    named_above: bool,
    there: Vec<Line>,
    due: Vec<Line>,
    look_for: Vec<Line>,
    height: f32,
}

impl<'a> MeasuredStop<'a> {
    pub(crate) fn new(stop: &'a Stop, number: usize, m: &Measures, setter: &mut Setter) -> Self {
        setter.at(number, place(stop));
        let room = arrived_x(m) - facts_end(stop, m, setter) - 4.0;
        let fits = setter.width(FACTS, &stop.note) <= room;
        let note = if fits { Vec::new() } else { setter.wrap(FACTS, &stop.note, m.right - m.left) };
        let rows = stop.hives.iter().map(|row| MeasuredRow::new(stop, row, number, m, setter)).collect();
        Self { stop, number, note, rows }
    }

    pub(crate) fn rows(&self) -> usize {
        self.rows.len()
    }

    /// Height with these rows; a continued stop does not repeat its note.
    pub(crate) fn height(&self, rows: Range<usize>, continued: bool) -> f32 {
        self.head_height(continued) + self.rows[rows].iter().map(|row| row.height).sum::<f32>()
    }

    fn head_height(&self, continued: bool) -> f32 {
        if continued { STOP_HEAD } else { STOP_HEAD + self.note.len() as f32 * 4.1 }
    }

    pub(crate) fn draw(
        &self,
        canvas: &mut Canvas<'_>,
        setter: &mut Setter,
        job: &RunSheetJob,
        m: &Measures,
        piece: &Piece,
    ) {
        setter.at(self.number, place(self.stop));
        self.draw_head(canvas, setter, m, piece);
        let mut top = piece.top + self.head_height(piece.continued);
        canvas.rule((m.left, m.right), top, Pen::solid(0.25, BLACK));
        for row in &self.rows[piece.rows.clone()] {
            setter.at(self.number, row_place(self.stop, row.row));
            row.draw(canvas, setter, job, m, top);
            top += row.height;
        }
    }

    fn draw_head(&self, canvas: &mut Canvas<'_>, setter: &mut Setter, m: &Measures, piece: &Piece) {
        let baseline = piece.top + 6.85;
        let stop = self.stop;
        let mut x = m.left;
        x += canvas.text(setter, bold(12.5), Align::Left, (x, baseline), &stop.number) + 2.3;
        let yard = setter.fit(bold(12.5), 8.0, &stop.yard, YARD_MOST);
        canvas.fitted(x, baseline, &yard);
        x += yard.shaped.width * yard.style.mm() + GAP;
        let arrived = arrived_x(m);
        for (at, rule) in [("arrived", (arrived + 10.2, arrived + 22.4)), ("left", (m.right - 14.0, m.right))] {
            let to = rule.0 - 0.7;
            canvas.text(setter, FACTS, Align::Right, (to, baseline), at);
            canvas.rule(rule, baseline + 0.35, WRITE_PEN);
        }
        if piece.continued {
            canvas.text(setter, FACTS, Align::Left, (x, baseline), "continued");
            return;
        }
        for (style, text) in facts(stop) {
            x += canvas.text(setter, style, Align::Left, (x, baseline), &text) + GAP;
        }
        if self.note.is_empty() {
            canvas.text(setter, FACTS, Align::Left, (x, baseline), &stop.note);
        }
        for (at, line) in self.note.iter().enumerate() {
            canvas.text(setter, FACTS, Align::Left, (m.left, baseline + 4.5 + at as f32 * 4.1), line);
        }
    }
}

/// Rows of one stop on one page.
pub(crate) struct Piece {
    pub(crate) stop: usize,
    pub(crate) rows: Range<usize>,
    pub(crate) continued: bool,
    /// Upper edge in mm.
    pub(crate) top: f32,
}

/// Between the facts of a stop.
const GAP: f32 = 1.8;

/// Widest name of a yard.
const YARD_MOST: f32 = 70.0;

fn arrived_x(m: &Measures) -> f32 {
    m.right - 43.0
}

/// Hours and distance, those that are known.
fn facts(stop: &Stop) -> Vec<(Style, String)> {
    let mut facts = Vec::new();
    let hours = [stop.arrive.as_str(), stop.leave.as_str()];
    let hours: Vec<&str> = hours.into_iter().filter(|hour| !hour.is_empty()).collect();
    if !hours.is_empty() {
        facts.push((Style::new(Weight::SemiBold, FACTS.size), hours.join(" to ")));
    }
    if !stop.distance.is_empty() {
        facts.push((FACTS, stop.distance.clone()));
    }
    facts
}

fn facts_end(stop: &Stop, m: &Measures, setter: &mut Setter) -> f32 {
    let yard = setter.width(bold(12.5), &stop.yard).min(YARD_MOST);
    let head = m.left + setter.width(bold(12.5), &stop.number) + 2.3 + yard + GAP;
    facts(stop).into_iter().map(|(style, text)| setter.width(style, &text) + GAP).sum::<f32>() + head
}

fn place(stop: &Stop) -> String {
    format!("stop {} ({})", stop.number, stop.yard)
}

fn row_place(stop: &Stop, row: &HiveRow) -> String {
    format!("stop {}, hive {}", stop.number, row.hive)
}

impl<'a> MeasuredRow<'a> {
    fn new(stop: &Stop, row: &'a HiveRow, number: usize, m: &Measures, setter: &mut Setter) -> Self {
        setter.at(number, row_place(stop, row));
        let column = m.there - m.left - 1.0;
        let named_above = setter.width(bold(LEAST_HIVE), &row.hive) > column;
        let (least, width) = if named_above { (7.0, m.codes - m.left - 1.5) } else { (LEAST_HIVE, column) };
        let hive = setter.fit(bold(11.0), least, &row.hive, width);
        let regular = |text: &'a str| vec![(Weight::Regular, text)];
        let mut cell = |pieces: Vec<(Weight, &str)>, whole: &str, width: f32| {
            let mut lines = setter.wrap_clauses(ROW_SIZE, &pieces, width);
            if lines.len() > MOST_LINES {
                setter.warn(Trouble::Cut(whole.to_owned()));
                lines.truncate(MOST_LINES);
                if let Some((_, last)) = lines.last_mut().and_then(|line| line.last_mut()) {
                    last.push('…');
                }
            }
            lines
        };
        let there = cell(regular(&row.there), &row.there, m.due - m.there - 1.0);
        let due = cell(due_pieces(row), &row.due, m.look_for - m.due - 1.0);
        let look_for = cell(regular(&row.look_for), &row.look_for, m.codes - m.look_for - 1.5);
        let lines = there.len().max(due.len()).max(look_for.len()) as f32;
        let cells = ROW.max(lines * ROW_LEAD + ROW - 2.0 * ROW_LEAD);
        let height = if named_above { cells + NAME_ABOVE } else { cells };
        Self { row, hive, named_above, there, due, look_for, height }
    }

    fn draw(&self, canvas: &mut Canvas<'_>, setter: &mut Setter, job: &RunSheetJob, m: &Measures, top: f32) {
        let above = if self.named_above { NAME_ABOVE } else { 0.0 };
        let middle = top + above + (self.height - above) / 2.0;
        let baseline = if self.named_above { top + NAME_ABOVE - 0.3 } else { middle + self.hive.style.mm() * 0.35 };
        canvas.fitted(m.left, baseline, &self.hive);
        for (x, lines) in [(m.there, &self.there), (m.due, &self.due), (m.look_for, &self.look_for)] {
            let first = middle - (lines.len() as f32 - 1.0) * ROW_LEAD / 2.0 + 1.25;
            for (at, line) in lines.iter().enumerate() {
                canvas.line(setter, ROW_SIZE, (x, first + at as f32 * ROW_LEAD), line);
            }
        }
        for column in 0..job.codes.len() {
            let x = m.box_x(column);
            if x + BOX <= m.other.0 {
                canvas.frame(x, middle - BOX / 2.0, BOX, BOX, BOX_PEN);
            }
        }
        for rule in [m.other, m.by] {
            canvas.rule(rule, middle + BOX / 2.0, WRITE_PEN);
        }
        canvas.rule((m.left, m.right), top + self.height, Pen::solid(0.15, 130));
    }
}

/// The due work with its bold parts, which are looked for in the words one after the other.
fn due_pieces(row: &HiveRow) -> Vec<(Weight, &str)> {
    let mut pieces = Vec::new();
    let mut rest = row.due.as_str();
    for bold in row.due_bold.iter().filter(|bold| !bold.is_empty()) {
        if let Some((before, after)) = rest.split_once(bold.as_str()) {
            pieces.extend([(Weight::Regular, before), (Weight::Bold, bold.as_str())]);
            rest = after;
        }
    }
    pieces.push((Weight::Regular, rest));
    pieces
}
