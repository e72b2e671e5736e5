//! One row of a table: its cells are put one after the other.

use egui::text::{LayoutJob, TextWrapping};
use egui::{
    Align, Color32, Id, Layout, Mesh, Rect, Response, Role, Sense, Stroke, StrokeKind, Ui, UiBuilder, Vec2, WidgetInfo,
    pos2,
};

use crate::domain::standing::LidState;
use crate::ui::glyph::{Fill, Pen, Stack, StackSize};
use crate::ui::theme::fonts::Weight;
use crate::ui::theme::metrics::{radius, space, stroke};
use crate::ui::theme::text::{self, Type};
use crate::ui::theme::{self, Tokens};
use crate::ui::widgets::icon::{self, Icon};
use crate::ui::widgets::table::layout::Span;

/// The row being drawn. Each call fills the next column.
pub struct Row<'u, 's> {
    ui: &'u mut Ui,
    /// Its place in the table, from 0.
    pub index: usize,
    /// Whether it is the selected one, or one of several chosen.
    pub selected: bool,
    /// Where it stands.
    pub rect: Rect,
    /// Colours of the current theme.
    pub t: &'static Tokens,
    spans: &'s [Span],
    next: usize,
    spoken: Vec<String>,
    name: Option<String>,
    faded: bool,
}

/// How a row stands out.
#[derive(Clone, Copy, Debug)]
pub(super) struct Look {
    /// The keys act on it.
    pub selected: bool,
    /// It is one of several chosen.
    pub chosen: bool,
}

impl<'s> Row<'_, 's> {
    pub(super) fn show(
        ui: &mut Ui,
        table: Id,
        index: usize,
        rect: Rect,
        spans: &'s [Span],
        Look { selected, chosen }: Look,
        draw: &mut impl FnMut(&mut Row<'_, 's>),
    ) -> Response {
        let t = theme::tokens(ui);
        // Clicks only: the table as a whole is one stop of the Tab key.
        let response = ui.interact(rect, table.with(("row", index)), Sense::CLICK);
        let fill = match (selected || chosen, response.hovered()) {
            (true, _) => t.surface_selected,
            (false, true) => t.surface_hover,
            (false, false) => t.surface_raised,
        };
        ui.painter().rect_filled(rect, 0, fill);
        if selected {
            ui.painter().rect_filled(
                Rect { max: pos2(rect.left() + stroke::MARK, rect.bottom()), ..rect },
                0,
                t.accent,
            );
        }
        if chosen {
            let tick = Rect::from_center_size(pos2(rect.left() + 10.0, rect.center().y), Vec2::splat(11.0));
            icon::paint(ui.painter(), tick, Icon::Tick, t.accent);
        }
        ui.painter().hline(rect.x_range(), rect.bottom() - 0.5, Stroke::new(stroke::LINE, t.line_soft));
        let mut row = Row {
            ui,
            index,
            selected: selected || chosen,
            rect,
            t,
            spans,
            next: 0,
            spoken: Vec::new(),
            name: None,
            faded: false,
        };
        draw(&mut row);
        let name = row.name.take().unwrap_or_else(|| row.spoken.join(", "));
        response.widget_info(|| WidgetInfo::labeled(Role::Row, true, &name));
        ui.accesskit_node_builder(response.id, |node| node.set_selected(selected || chosen));
        response
    }

    /// What is read out for the whole row, where the words of its cells are not enough.
    pub fn name(&mut self, name: impl Into<String>) {
        self.name = Some(name.into());
    }

    /// All following words in the secondary colour: rows that still wait.
    pub fn faded(&mut self) {
        self.faded = true;
    }

    /// The row's own name: semibold while selected.
    pub fn title(&mut self, words: &str) {
        let weight = if self.selected { Weight::SemiBold } else { Weight::Regular };
        self.words_in(words, weight, self.ink());
    }

    /// Plain words or a number, as the column stands.
    pub fn text(&mut self, words: &str) {
        self.words_in(words, Weight::Regular, self.ink());
    }

    /// Semibold words.
    pub fn strong(&mut self, words: &str) {
        self.words_in(words, Weight::SemiBold, self.ink());
    }

    /// Words of less weight.
    pub fn secondary(&mut self, words: &str) {
        self.words_in(words, Weight::Regular, self.t.text_secondary);
    }

    /// Late, failed or not possible: semibold magenta.
    pub fn late(&mut self, words: &str) {
        self.words_in(words, Weight::SemiBold, self.t.text_late);
    }

    /// A count; zero is disabled grey.
    pub fn count(&mut self, count: usize) {
        let color = if count == 0 { self.t.text_disabled } else { self.ink() };
        self.words_in(&count.to_string(), Weight::Regular, color);
    }

    /// Words in any weight and colour.
    pub fn words_in(&mut self, words: &str, weight: Weight, color: Color32) {
        let span = self.advance();
        if words.is_empty() {
            return;
        }
        self.spoken.push(words.to_owned());
        let middle = self.rect.center().y;
        self.paint_line(span, middle, words, text::TABLE, weight, color);
    }

    /// Words in a frame: danger where the field cannot be taken, primary where it is only asked about.
    pub fn framed(&mut self, words: &str, edge: Color32) {
        let cell = self.cell_rect(self.spans.get(self.next).copied().unwrap_or(Span::NOWHERE));
        let frame =
            Rect::from_x_y_ranges(cell.left() - 5.0..=cell.right() + 2.0, cell.top() + 3.0..=cell.bottom() - 3.0);
        let line = Stroke::new(stroke::FOCUS, edge);
        self.ui.painter().rect(frame, radius::CAUTION, self.t.surface_raised, line, StrokeKind::Inside);
        self.words_in(words, Weight::Regular, self.ink());
    }

    /// A name over a remark: two lines, as in the rows of the run.
    pub fn two_lines(&mut self, words: &str, weight: Weight, below: &str) {
        let span = self.advance();
        self.spoken.push(words.to_owned());
        if below.is_empty() {
            let middle = self.rect.center().y;
            self.paint_line(span, middle, words, text::TABLE, weight, self.ink());
            return;
        }
        self.spoken.push(below.to_owned());
        let middle = self.rect.center().y;
        self.paint_line(span, middle - 9.0, words, text::TABLE, weight, self.ink());
        self.paint_line(span, middle + 10.0, below, text::SMALL, Weight::Regular, self.t.text_secondary);
    }

    /// Leaves this column empty.
    pub fn empty(&mut self) {
        self.advance();
    }

    /// A hive glyph of 14 or 20.
    pub fn hive(&mut self, size: f32, fill: Fill, lid: LidState) {
        let span = self.advance();
        let mut mesh = Mesh::default();
        let at = pos2(self.rect.left() + span.left, self.rect.center().y - 0.5 * size);
        Pen::new(self.ui).hive(&mut mesh, at, size, fill, lid);
        self.ui.painter().add(mesh);
        self.spoken.push(format!("{}, {}", fill.words(), lid.words()));
    }

    /// A yard's stack.
    pub fn stack(&mut self, size: StackSize, stack: &Stack) {
        let span = self.advance();
        let mut mesh = Mesh::default();
        let at = pos2(self.rect.left() + span.left, self.rect.center().y - 0.5 * size.size()[1] + 1.0);
        Pen::new(self.ui).stack(&mut mesh, at, size, stack);
        self.ui.painter().add(mesh);
        self.spoken.push(stack.lid.words().to_owned());
    }

    /// Anything else in this column: a field, a button, a picture. Its widgets come after the row in reading order.
    pub fn cell(&mut self, add: impl FnOnce(&mut Ui)) {
        let span = self.advance();
        let rect = self.cell_rect(span);
        let layout = if span.right_aligned {
            Layout::right_to_left(Align::Center)
        } else {
            Layout::left_to_right(Align::Center)
        };
        let salt = ("cell", self.index, self.next);
        let mut child = self.ui.new_child(UiBuilder::new().id_salt(salt).max_rect(rect).layout(layout));
        child.set_clip_rect(self.ui.clip_rect().intersect(rect.expand(4.0)));
        add(&mut child);
    }

    /// Where this column's cell stands, for own painting with [`Row::painter`].
    pub fn place(&mut self) -> Rect {
        let span = self.advance();
        self.cell_rect(span)
    }

    /// Paints into the row.
    pub fn painter(&self) -> &egui::Painter {
        self.ui.painter()
    }

    /// The `Ui` of the table's body, for glyphs and charts painted into [`Row::place`].
    pub fn ui(&self) -> &Ui {
        self.ui
    }

    /// A band that heads a group instead of cells: semibold left, small secondary right.
    pub fn band(&mut self, left: &str, right: &str) {
        let rect = self.rect;
        let t = self.t;
        self.ui.painter().rect_filled(rect, 0, t.surface_sunken);
        self.ui.painter().hline(rect.x_range(), rect.bottom() - 0.5, Stroke::new(stroke::LINE, t.line_soft));
        let span = Span { left: space::SIDE, right: rect.width() - space::SIDE, right_aligned: false };
        self.paint_line(span, rect.center().y, left, text::TABLE, Weight::SemiBold, t.text_primary);
        let span = Span { right_aligned: true, ..span };
        self.paint_line(span, rect.center().y, right, text::SMALL, Weight::Regular, t.text_secondary);
        self.spoken.extend([left.to_owned(), right.to_owned()]);
    }

    fn ink(&self) -> Color32 {
        if self.faded { self.t.text_secondary } else { self.t.text_primary }
    }

    fn advance(&mut self) -> Span {
        let span = self.spans.get(self.next).copied();
        self.next += 1;
        span.unwrap_or(Span::NOWHERE)
    }

    fn cell_rect(&self, span: Span) -> Rect {
        let left = self.rect.left();
        Rect::from_x_y_ranges(left + span.left..=left + span.right, self.rect.y_range())
    }

    fn paint_line(&self, span: Span, middle: f32, words: &str, size: Type, weight: Weight, color: Color32) {
        let mut job = LayoutJob::single_section(words.to_owned(), size.format(weight, color));
        job.wrap = TextWrapping::truncate_at_width(span.right - span.left);
        let galley = self.ui.painter().layout_job(job);
        let cell = self.cell_rect(span);
        let left = if span.right_aligned { cell.right() - galley.size().x } else { cell.left() };
        self.ui.painter().galley(pos2(left, middle - 0.5 * galley.size().y), galley, color);
    }
}
