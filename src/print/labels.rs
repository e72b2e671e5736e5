//! Lid labels on sheets or a roll.

use crate::print::canvas::{Align, BLACK, Canvas, Pen, Tone, regular};
use crate::print::document::Pdf;
use crate::print::job::{Label, LabelJob, PrintError, Printed, Trouble};
use crate::print::label_style::{LEAST_LINE, LEAST_SMALL, LabelStyle};
use crate::print::letters::Weight;
use crate::print::setting::{Setter, Style};
use crate::print::sheet::Sheet;

/// Edges of labels on a proof.
const EDGE: Pen = Pen::dashed(0.15, 170, 0.6);

/// The word on used labels of a proof.
const USED: Tone = 130;

/// Shortest line worth writing a day on, in mm (common practice, no source).
const LEAST_DAY_RULE: f32 = 5.0;

/// Smallest gap at the foot, in mm, so that a letter still belongs to its box (common practice, no source).
const LEAST_GAP: f32 = 1.1;

/// Prints lid labels.
///
/// # Errors
///
/// No label, an impossible sheet, a start beyond the sheet, or the PDF library's own refusal.
pub fn print_labels(job: &LabelJob) -> Result<Printed, PrintError> {
    if job.labels.is_empty() {
        return Err(PrintError::NoLabels);
    }
    job.sheet.check()?;
    let places = job.sheet.places();
    if !(1..=places).contains(&job.start_at) {
        return Err(PrintError::StartBeyondSheet { start_at: job.start_at, places });
    }
    let mut file = Pdf::new(&job.title, &job.language, job.created)?;
    let mut setter = Setter::new()?;
    let style = LabelStyle::for_label(job.sheet.label_w, job.sheet.label_h);
    let skipped = job.start_at - 1;
    let pages = (skipped + job.labels.len()).div_ceil(places);
    for page in 0..pages {
        let first = page * places;
        file.page((job.sheet.page_w, job.sheet.page_h), |canvas| {
            for place in 0..places {
                let (x, y) = job.sheet.corner(place);
                let area = Area { x, y, sheet: &job.sheet, style };
                if job.outlines {
                    canvas.frame(x, y, job.sheet.label_w, job.sheet.label_h, EDGE);
                }
                match (first + place).checked_sub(skipped) {
                    Some(number) => {
                        let Some(label) = job.labels.get(number) else { continue };
                        setter.at(number + 1, name(number + 1, label));
                        draw_label(canvas, &mut setter, &area, label);
                    }
                    None if job.outlines => draw_used(canvas, &mut setter, &area),
                    None => {}
                }
            }
        })?;
    }
    let (bytes, pages) = file.finish()?;
    Ok(Printed { bytes, pages, warnings: setter.into_warnings() })
}

/// Pages that these labels will take.
pub fn page_count(labels: usize, sheet: &Sheet, start_at: usize) -> usize {
    if labels == 0 { 0 } else { (start_at.saturating_sub(1) + labels).div_ceil(sheet.places().max(1)) }
}

/// One label on the page: its corner and sizes.
struct Area<'a> {
    x: f32,
    y: f32,
    sheet: &'a Sheet,
    style: LabelStyle,
}

impl Area<'_> {
    fn left(&self) -> f32 {
        self.x + self.sheet.inset
    }

    fn right(&self) -> f32 {
        self.x + self.sheet.label_w - self.sheet.inset
    }

    fn bottom(&self) -> f32 {
        self.y + self.sheet.label_h - self.sheet.inset
    }

    fn width(&self) -> f32 {
        self.sheet.label_w - 2.0 * self.sheet.inset
    }

    fn last_line(&self) -> f32 {
        self.y + self.sheet.inset + self.style.first + 2.0 * self.style.lead
    }
}

fn name(number: usize, label: &Label) -> String {
    let line = label.lines[0].trim();
    if line.is_empty() { format!("label {number}") } else { format!("label {number} ({line})") }
}

fn draw_label(canvas: &mut Canvas<'_>, setter: &mut Setter, area: &Area<'_>, label: &Label) {
    let style = area.style;
    for (at, line) in label.lines.iter().enumerate() {
        let weight = if at == 0 { Weight::Bold } else { Weight::SemiBold };
        let y = area.y + area.sheet.inset + style.first + at as f32 * style.lead;
        let fitted = setter.fit(Style::new(weight, style.line), LEAST_LINE, line, area.width());
        canvas.fitted(area.left(), y, &fitted);
    }
    let foot = area.bottom() - style.foot_lift;
    let box_top = foot - style.box_side;
    let has_foot = !label.boxes.is_empty();
    // A low label keeps its lid note whole; the boxes go first, then the small print.
    let descent = 0.25 * Style::new(Weight::Bold, style.line).mm();
    if has_foot && box_top < area.last_line() + descent {
        setter.warn(Trouble::LeftOut(label.boxes.join(" ")));
    } else if has_foot {
        draw_foot(canvas, setter, area, label, foot);
    }
    let small = regular(style.small);
    let limit = if has_foot { box_top - 0.4 } else { area.bottom() };
    for (at, text) in small_lines(setter, small, &label.small, area.width()).iter().enumerate() {
        let y = area.last_line() + style.small_first + at as f32 * style.small_lead;
        if y + 0.22 * small.mm() > limit {
            setter.warn(Trouble::LeftOut(text.clone()));
            continue;
        }
        let fitted = setter.fit(small, LEAST_SMALL.min(style.small), text, area.width());
        canvas.fitted(area.left(), y, &fitted);
    }
}

/// The parts of the small print in as few lines as hold them in their full size: `caged queen in 14 Nov; temper from 26 Dec`.
fn small_lines(setter: &mut Setter, style: Style, parts: &[String], width: f32) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for part in parts.iter().map(|part| part.trim()).filter(|part| !part.is_empty()) {
        let joined = lines.last().map(|line| format!("{line}; {part}"));
        match (joined.filter(|joined| setter.width(style, joined) <= width), lines.last_mut()) {
            (Some(joined), Some(line)) => *line = joined,
            _ => lines.push(part.to_owned()),
        }
    }
    lines
}

/// Boxes with their codes, then a line for the day and one for the initials.
fn draw_foot(canvas: &mut Canvas<'_>, setter: &mut Setter, area: &Area<'_>, label: &Label, foot: f32) {
    let style = area.style;
    let letters = Style::new(Weight::Medium, style.foot);
    // Letters stand a little above the boxes' lower edge, so that both look level.
    let baseline = foot - (style.box_side - 0.52 * letters.mm()) / 2.0;
    let pen = Pen::solid(style.box_line, BLACK);
    let wide: f32 = label.boxes.iter().map(|code| style.box_side + style.box_gap + setter.width(letters, code)).sum();
    let gaps = (label.boxes.len() - 1) as f32;
    let words = setter.width(letters, "day") + LEAST_DAY_RULE + setter.width(letters, "by") + style.by_rule;
    let even = (area.width() - wide - words) / (gaps + 4.0);
    // Everything at the foot stands closer before the initials are left out, the boxes alone before one of them is.
    let gap = match gaps {
        _ if label.day_and_by && even >= LEAST_GAP => even.min(style.foot_gap),
        1.0.. => ((area.width() - wide) / gaps).clamp(0.7, style.foot_gap),
        _ => style.foot_gap,
    };
    let apart = if label.day_and_by && even >= LEAST_GAP { gap } else { style.foot_gap };
    let mut x = area.left();
    for (at, code) in label.boxes.iter().enumerate() {
        let width = style.box_side + style.box_gap + setter.width(letters, code);
        if x + width > area.right() + 0.01 {
            setter.warn(Trouble::LeftOut(label.boxes[at..].join(" ")));
            return;
        }
        canvas.frame(x, foot - style.box_side, style.box_side, style.box_side, pen);
        let letter = (x + style.box_side + style.box_gap, baseline);
        canvas.text(setter, letters, Align::Left, letter, code);
        x += width + gap;
    }
    if label.day_and_by {
        draw_day_and_by(canvas, setter, area, x - gap + apart, (baseline, foot), apart);
    }
}

/// The day's line takes the room that is left; where that is too short the initials go, then the day.
fn draw_day_and_by(
    canvas: &mut Canvas<'_>,
    setter: &mut Setter,
    area: &Area<'_>,
    x: f32,
    (baseline, foot): (f32, f32),
    gap: f32,
) {
    let style = area.style;
    let letters = Style::new(Weight::Medium, style.foot);
    let day_from = x + setter.width(letters, "day") + gap;
    let by_width = setter.width(letters, "by") + 2.0 * gap + style.by_rule;
    // A hundredth of a mm of slack for sums in another order.
    let needed = day_from + LEAST_DAY_RULE - 0.01;
    let with_by = needed <= area.right() - by_width;
    let day_to = if with_by { area.right() - by_width } else { area.right() };
    if needed > day_to {
        setter.warn(Trouble::LeftOut("day, by".to_owned()));
        return;
    }
    let pen = Pen::solid(0.13 + style.box_line / 20.0, BLACK);
    canvas.text(setter, letters, Align::Left, (x, baseline), "day");
    canvas.rule((day_from, day_to), foot, pen);
    if with_by {
        let by = day_to + gap;
        canvas.text(setter, letters, Align::Left, (by, baseline), "by");
        canvas.rule((area.right() - style.by_rule, area.right()), foot, pen);
    } else {
        setter.warn(Trouble::LeftOut("by".to_owned()));
    }
}

/// On a proof, a label that is already off the sheet.
fn draw_used(canvas: &mut Canvas<'_>, setter: &mut Setter, area: &Area<'_>) {
    let style = regular(area.style.small + 1.5);
    let shaped = setter.shape(style.weight, "used");
    let x = area.x + (area.sheet.label_w - shaped.width * style.mm()) / 2.0;
    canvas.letters(x, area.y + area.sheet.label_h / 2.0 + 0.7, &shaped, style.mm(), USED);
}
