//! The page of a run sheet: its measures, head, column heads and foot.

use crate::print::canvas::{Align, BLACK, Canvas, Pen, bold, regular};
use crate::print::job::RunSheetJob;
use crate::print::letters::Weight;
use crate::print::run_sketch::{SKETCH, draw_sketch};
use crate::print::setting::{Setter, Style};

/// Margins in mm: left for punch holes, right, top, bottom (design).
const MARGIN: [f32; 4] = [16.0, 12.0, 12.0, 10.0];

/// Side of a box to tick (design).
pub(crate) const BOX: f32 = 4.4;

/// Lines of boxes.
pub(crate) const BOX_PEN: Pen = Pen::solid(0.32, BLACK);

/// Lines to write on.
pub(crate) const WRITE_PEN: Pen = Pen::solid(0.15, 70);

/// From one column of boxes to the next.
const BOX_PITCH: f32 = 6.6;

/// Most columns of boxes that leave room for the other codes.
const MOST_CODES: usize = 9;

/// Lead of the head's and the foot's lines.
const LEAD: f32 = 4.07;

/// Height of the column heads.
const COLUMN_HEAD: f32 = 9.0;

/// Letters of the head.
const HEAD: Style = regular(9.0);

/// Letters of the foot.
const FOOT: Style = regular(8.5);

/// Left edges of the columns and the page's own edges, in mm.
pub(crate) struct Measures {
    pub(crate) page: (f32, f32),
    pub(crate) left: f32,
    pub(crate) right: f32,
    pub(crate) there: f32,
    pub(crate) due: f32,
    pub(crate) look_for: f32,
    pub(crate) codes: f32,
    pub(crate) other: (f32, f32),
    pub(crate) by: (f32, f32),
    legend: Vec<String>,
    before: Vec<Vec<String>>,
    load: Vec<Vec<String>>,
}

impl Measures {
    pub(crate) fn new(job: &RunSheetJob, setter: &mut Setter) -> Self {
        let page = job.paper.size();
        let (left, right) = (MARGIN[0], page.0 - MARGIN[1]);
        // Paper wider than A4 gives its width to the columns of words.
        let extra = page.0 - 210.0;
        let codes = 118.1 + extra;
        let boxes = codes + BOX_PITCH * job.codes.len().min(MOST_CODES) as f32;
        let (before_w, load_w) = head_columns(job, right);
        Self {
            page,
            left,
            right,
            there: 30.0 + extra * 0.2,
            due: 54.5 + extra * 0.5,
            look_for: 80.5 + extra * 0.8,
            codes,
            other: (boxes + 0.4, right - 12.5),
            by: (right - 10.0, right - 1.0),
            legend: setter.wrap(FOOT, &job.legend, right - left),
            before: job.before_you_go.iter().map(|text| setter.wrap(HEAD, text, before_w)).collect(),
            load: job.load.iter().map(|text| setter.wrap(HEAD, text, load_w)).collect(),
        }
    }

    /// Left edge of the n-th column of boxes.
    pub(crate) fn box_x(&self, column: usize) -> f32 {
        self.codes + BOX_PITCH * column as f32
    }

    /// Where the first stop may begin.
    pub(crate) fn body_top(&self, job: &RunSheetJob, first_page: bool) -> f32 {
        self.head_bottom(job, first_page) + COLUMN_HEAD
    }

    /// Where the last stop must end.
    pub(crate) fn body_bottom(&self) -> f32 {
        self.foot_rule() - 3.0
    }

    fn head_rule() -> f32 {
        MARGIN[2] + 14.15
    }

    fn head_bottom(&self, job: &RunSheetJob, first_page: bool) -> f32 {
        if !first_page {
            return Self::head_rule();
        }
        let top = Self::head_rule() + 2.55;
        let lines = |texts: &[Vec<String>]| texts.iter().map(Vec::len).sum::<usize>() as f32;
        let before = if self.before.is_empty() { 0.0 } else { 4.0 + lines(&self.before) * LEAD };
        let load: f32 =
            if self.load.is_empty() { 0.0 } else { 4.7 + self.load.iter().map(|text| load_pitch(text)).sum::<f32>() };
        let sketch = if job.sketch.is_empty() { 0.0 } else { SKETCH.1 };
        top + before.max(load).max(sketch)
    }

    fn foot_first(&self) -> f32 {
        self.page.1 - MARGIN[3] + 0.4 - (self.legend.len().max(1) as f32 - 1.0) * 3.9
    }

    fn foot_rule(&self) -> f32 {
        if self.legend.iter().all(String::is_empty) { self.page.1 - MARGIN[3] } else { self.foot_first() - 4.5 }
    }
}

/// Widths for the sentences and the load beside the sketch.
fn head_columns(job: &RunSheetJob, right: f32) -> (f32, f32) {
    let end = if job.sketch.is_empty() { right } else { right - SKETCH.0 - 3.0 };
    (LOAD_X - MARGIN[0] - 4.0, end - LOAD_X - 6.0)
}

/// Left edge of the load.
const LOAD_X: f32 = 87.0;

fn load_pitch(text: &[String]) -> f32 {
    5.6 + (text.len().max(1) as f32 - 1.0) * LEAD
}

/// Draws everything of a page but its stops.
///
/// `page` is the page's number and how many there are; a page of notes alone has no column heads.
pub(crate) fn draw_page(
    canvas: &mut Canvas<'_>,
    setter: &mut Setter,
    job: &RunSheetJob,
    m: &Measures,
    page: (usize, usize),
    has_stops: bool,
) {
    setter.at(0, "head of the run sheet".to_owned());
    draw_title(canvas, setter, job, m, page);
    let first_page = page.0 == 1;
    if first_page {
        draw_head(canvas, setter, job, m);
    }
    if has_stops {
        draw_column_heads(canvas, setter, job, m, m.head_bottom(job, first_page));
    }
    if m.legend.iter().all(String::is_empty) {
        return;
    }
    canvas.rule((m.left, m.right), m.foot_rule(), Pen::solid(0.15, 60));
    for (at, line) in m.legend.iter().enumerate() {
        canvas.text(setter, FOOT, Align::Left, (m.left, m.foot_first() + at as f32 * 3.9), line);
    }
}

fn draw_title(canvas: &mut Canvas<'_>, setter: &mut Setter, job: &RunSheetJob, m: &Measures, page: (usize, usize)) {
    let aside = regular(9.5);
    let baseline = MARGIN[2] + 6.0;
    let firm = setter.fit(aside, 7.0, &job.firm, 60.0);
    let firm_w = firm.shaped.width * firm.style.mm();
    canvas.fitted(m.right - firm_w, baseline + 0.6, &firm);
    let number = format!("page {} of {}", page.0, page.1);
    let number_w = canvas.text(setter, aside, Align::Right, (m.right, baseline + 5.4), &number);
    let title = setter.fit(bold(18.0), 12.0, &job.title, m.right - m.left - firm_w - 4.0);
    canvas.fitted(m.left, baseline, &title);
    let subtitle = setter.fit(regular(10.5), 8.0, &job.subtitle, m.right - m.left - number_w - 4.0);
    canvas.fitted(m.left, baseline + 5.4, &subtitle);
    canvas.rule((m.left, m.right), Measures::head_rule(), Pen::solid(0.5, BLACK));
}

/// Before you go, load, sketch.
fn draw_head(canvas: &mut Canvas<'_>, setter: &mut Setter, job: &RunSheetJob, m: &Measures) {
    let top = Measures::head_rule() + 2.55;
    if !m.before.is_empty() {
        canvas.text(setter, bold(9.0), Align::Left, (m.left, top + 2.9), "Before you go");
    }
    let mut y = top + 2.9 + LEAD;
    for line in m.before.iter().flatten() {
        canvas.text(setter, HEAD, Align::Left, (m.left, y), line);
        y += LEAD;
    }
    if !m.load.is_empty() {
        canvas.text(setter, bold(9.0), Align::Left, (LOAD_X, top + 2.9), "Load");
    }
    let mut y = top + 4.7;
    for text in &m.load {
        canvas.frame(LOAD_X, y, BOX, BOX, BOX_PEN);
        for (at, line) in text.iter().enumerate() {
            canvas.text(setter, HEAD, Align::Left, (LOAD_X + 6.0, y + 3.35 + at as f32 * LEAD), line);
        }
        y += load_pitch(text);
    }
    if !job.sketch.is_empty() {
        draw_sketch(canvas, setter, &job.sketch, (m.right - SKETCH.0, top));
    }
}

fn draw_column_heads(canvas: &mut Canvas<'_>, setter: &mut Setter, job: &RunSheetJob, m: &Measures, top: f32) {
    let head = Style::new(Weight::Medium, 8.0);
    let baseline = top + 8.0;
    for (x, text) in [(m.left, "Hive"), (m.there, "There"), (m.due, "Do"), (m.look_for, "Look for")] {
        canvas.text(setter, head, Align::Left, (x, baseline - 0.6), text);
    }
    for (at, column) in job.codes.iter().take(MOST_CODES).enumerate() {
        let middle = m.box_x(at) + BOX / 2.0;
        canvas.text(setter, bold(10.5), Align::Middle, (middle, baseline - 3.3), &column.code);
        let word = setter.fit(Style::new(Weight::Medium, 6.6), 5.0, &column.word, BOX_PITCH - 0.5);
        canvas.fitted(middle - word.shaped.width * word.style.mm() / 2.0, baseline, &word);
    }
    for (span, text) in [(m.other, "other codes"), (m.by, "by")] {
        canvas.text(setter, head, Align::Middle, (f32::midpoint(span.0, span.1), baseline), text);
    }
    canvas.rule((m.left, m.right), top + COLUMN_HEAD, Pen::solid(0.25, BLACK));
}
