//! The run sheet: pages, stops kept whole, notes.

use crate::print::canvas::{Align, Canvas, Pen, bold, regular};
use crate::print::document::Pdf;
use crate::print::job::{PrintError, Printed, RunSheetJob};
use crate::print::run_page::{Measures, draw_page};
use crate::print::run_rows::{MeasuredStop, Piece};
use crate::print::setting::{Setter, Style};

/// Letters of the notes.
const NOTE: Style = regular(9.0);

/// Lead of the notes.
const NOTE_LEAD: f32 = 4.07;

/// From one line to write on to the next.
const WRITE_PITCH: f32 = 7.5;

/// From the upper edge of the notes to the baseline of their head.
const NOTE_HEAD: f32 = 7.1;

/// Prints the run sheet.
///
/// # Errors
///
/// No stop, or the PDF library's own refusal.
pub fn print_run_sheet(job: &RunSheetJob) -> Result<Printed, PrintError> {
    if job.stops.is_empty() {
        return Err(PrintError::NoStops);
    }
    let mut setter = Setter::new()?;
    let m = Measures::new(job, &mut setter);
    let stops: Vec<MeasuredStop<'_>> =
        job.stops.iter().enumerate().map(|(at, stop)| MeasuredStop::new(stop, at + 1, &m, &mut setter)).collect();
    let heights = Heights { first: m.body_top(job, true), later: m.body_top(job, false), bottom: m.body_bottom() };
    let mut pages = paginate(&stops, &heights);
    let notes = Notes::new(job, &m, &mut setter);
    let notes_top = place_notes(&stops, &mut pages, &notes, &heights);
    let count = pages.len();
    let mut file = Pdf::new(&job.title, &job.language, job.created)?;
    for (at, pieces) in pages.iter().enumerate() {
        file.page(m.page, |canvas| {
            draw_page(canvas, &mut setter, job, &m, (at + 1, count), !pieces.is_empty());
            for piece in pieces {
                stops[piece.stop].draw(canvas, &mut setter, job, &m, piece);
            }
            if let Some(top) = notes_top.filter(|_| at + 1 == count) {
                notes.draw(canvas, &mut setter, &m, top);
            }
        })?;
    }
    let (bytes, pages) = file.finish()?;
    Ok(Printed { bytes, pages, warnings: setter.into_warnings() })
}

/// Where stops may stand, in mm from the top.
struct Heights {
    first: f32,
    later: f32,
    bottom: f32,
}

impl Heights {
    fn top(&self, page: usize) -> f32 {
        if page == 0 { self.first } else { self.later }
    }
}

/// Puts stops on pages. A stop that fits a page is never split; a longer one goes on over the next page.
fn paginate(stops: &[MeasuredStop<'_>], heights: &Heights) -> Vec<Vec<Piece>> {
    let mut pages: Vec<Vec<Piece>> = vec![Vec::new()];
    let mut y = heights.first;
    for (at, stop) in stops.iter().enumerate() {
        let whole = stop.height(0..stop.rows(), false);
        if y + whole > heights.bottom && heights.later + whole <= heights.bottom {
            y = turn(&mut pages, heights);
        }
        let mut from = 0;
        loop {
            let continued = from > 0;
            let mut to = rows_that_fit(stop, from, heights.bottom - y, continued);
            let least = (stop.rows() - from).min(2);
            if to < from + least {
                if pages.last().is_some_and(|page| !page.is_empty()) || pages.len() == 1 {
                    // Not even two rows stand under this stop's head: the next page takes them.
                    y = turn(&mut pages, heights);
                    continue;
                }
                to = (from + 1).min(stop.rows());
            }
            let piece = Piece { stop: at, rows: from..to, continued, top: y };
            y += stop.height(from..to, continued);
            if let Some(page) = pages.last_mut() {
                page.push(piece);
            }
            from = to;
            if from >= stop.rows() {
                break;
            }
            y = turn(&mut pages, heights);
        }
    }
    pages
}

fn turn(pages: &mut Vec<Vec<Piece>>, heights: &Heights) -> f32 {
    pages.push(Vec::new());
    heights.top(pages.len() - 1)
}

fn rows_that_fit(stop: &MeasuredStop<'_>, from: usize, room: f32, continued: bool) -> usize {
    (from..=stop.rows()).rev().find(|&to| stop.height(from..to, continued) <= room).unwrap_or(from)
}

/// Words and empty lines under the last stop.
struct Notes {
    lines: Vec<String>,
    rules: usize,
}

impl Notes {
    fn new(job: &RunSheetJob, m: &Measures, setter: &mut Setter) -> Self {
        setter.at(0, "notes".to_owned());
        let lines = job.notes.iter().flat_map(|text| setter.wrap(NOTE, text, m.right - m.left)).collect();
        Self { lines, rules: job.note_rules }
    }

    fn is_empty(&self) -> bool {
        self.lines.is_empty() && self.rules == 0
    }

    fn draw(&self, canvas: &mut Canvas<'_>, setter: &mut Setter, m: &Measures, top: f32) {
        setter.at(0, "notes".to_owned());
        let mut y = top + NOTE_HEAD;
        canvas.text(setter, bold(9.0), Align::Left, (m.left, y), "Notes");
        for line in &self.lines {
            y += NOTE_LEAD;
            canvas.text(setter, NOTE, Align::Left, (m.left, y), line);
        }
        y += 1.2;
        for _ in 0..self.rules {
            y += WRITE_PITCH;
            if y <= m.body_bottom() {
                canvas.rule((m.left, m.right), y, Pen::solid(0.15, 130));
            }
        }
    }

    /// Empty lines alone are not worth a page of their own.
    fn may_be_dropped(&self) -> bool {
        self.lines.is_empty()
    }

    /// Height with at most this many empty lines.
    fn height(&self, rules: usize) -> f32 {
        NOTE_HEAD + 1.2 + self.lines.len() as f32 * NOTE_LEAD + self.rules.min(rules) as f32 * WRITE_PITCH
    }
}

/// Upper edge of the notes on the last page; adds a page where they do not fit with one empty line.
fn place_notes(
    stops: &[MeasuredStop<'_>],
    pages: &mut Vec<Vec<Piece>>,
    notes: &Notes,
    heights: &Heights,
) -> Option<f32> {
    if notes.is_empty() {
        return None;
    }
    let last = pages.last().and_then(|page| page.last());
    let top = last.map_or(heights.top(pages.len() - 1), |piece| {
        piece.top + stops[piece.stop].height(piece.rows.clone(), piece.continued)
    });
    if top + notes.height(1) <= heights.bottom {
        Some(top)
    } else if notes.may_be_dropped() {
        None
    } else {
        Some(turn(pages, heights))
    }
}
