//! Tables: sunken header, soft lines, no zebra; numbers right, words left. Only the rows in view are built.
//!
//! A table is one stop of the `Tab` key. `↑ ↓ PgUp PgDn Home End` move the selection, `Enter` opens it. Where several rows
//! may be chosen, `Space` or a click with `Ctrl` chooses one more, `Ctrl A` all. Where rows are names, letters go to them.

mod keys;
mod layout;
mod row;

pub use layout::Column;
pub use row::Row;

use egui::{Id, Rect, Response, Role, ScrollArea, Sense, Stroke, Ui, UiBuilder, Vec2, WidgetInfo, pos2, vec2};

use crate::ui::theme;
use crate::ui::theme::fonts::Weight;
use crate::ui::theme::metrics::{height, stroke};
use crate::ui::theme::text;
use crate::ui::widgets::focus;
use crate::ui::widgets::icon::{self, Icon};

/// What the person did in the table in this pass.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Done {
    /// This row became the selected one, by click or arrows.
    pub selected: Option<usize>,
    /// This row was opened, by `Enter` or a double click.
    pub opened: Option<usize>,
    /// This column's header was pressed, to sort by it.
    pub sort_by: Option<usize>,
    /// This row is to be one of several chosen, or no longer.
    pub toggled: Option<usize>,
    /// All rows are to be chosen.
    pub all: bool,
    /// The keyboard moved the selection, not a click.
    pub by_key: bool,
}

/// A table; `show` draws it over the whole width and, if rows overflow, the rest of the height.
#[must_use = "a table is drawn by `show`"]
pub struct Table<'a> {
    name: &'a str,
    columns: &'a [Column<'a>],
    row_height: f32,
    heights: Option<&'a dyn Fn(usize) -> f32>,
    selected: Option<usize>,
    sorted: Option<(usize, bool)>,
    reveal: Option<usize>,
    free_keys: bool,
    passed_over: bool,
    max_height: f32,
    several: Option<&'a dyn Fn(usize) -> bool>,
    names: &'a [&'a str],
}

impl<'a> Table<'a> {
    /// `name` is read out and tells tables apart, as "Yards, most urgent first".
    pub fn new(name: &'a str, columns: &'a [Column<'a>]) -> Self {
        Self {
            name,
            columns,
            row_height: height::ROW,
            heights: None,
            selected: None,
            sorted: None,
            reveal: None,
            free_keys: false,
            passed_over: false,
            max_height: f32::INFINITY,
            several: None,
            names: &[],
        }
    }

    /// Height of every row: see `theme::metrics::height`, 34 if not said.
    pub fn row_height(self, row_height: f32) -> Self {
        Self { row_height, ..self }
    }

    /// Rows of unequal height (bands of a group, the row being entered).
    pub fn heights(self, heights: &'a dyn Fn(usize) -> f32) -> Self {
        Self { heights: Some(heights), ..self }
    }

    /// The selected row.
    pub fn selected(self, selected: Option<usize>) -> Self {
        Self { selected, ..self }
    }

    /// The column it is sorted by, and whether falling.
    pub fn sorted(self, column: usize, falling: bool) -> Self {
        Self { sorted: Some((column, falling)), ..self }
    }

    /// Scrolls this row into view; say it only in the pass in which something else chose the row.
    pub fn reveal(self, row: Option<usize>) -> Self {
        Self { reveal: row, ..self }
    }

    /// Arrows and `Enter` act here even without focus, as long as nothing else has the keyboard. At most one table a
    /// screen.
    pub fn takes_free_keys(self) -> Self {
        Self { free_keys: true, ..self }
    }

    /// `Tab` passes it over: the keyboard belongs to the field in its current row.
    pub fn passed_over(self) -> Self {
        Self { passed_over: true, ..self }
    }

    /// Several rows may be chosen besides the selected one; these are.
    pub fn several(self, chosen: &'a dyn Fn(usize) -> bool) -> Self {
        Self { several: Some(chosen), ..self }
    }

    /// The rows' names: letters typed go to the one that begins with them.
    pub fn typed(self, names: &'a [&'a str]) -> Self {
        Self { names, ..self }
    }

    /// Never higher than this, header included.
    pub fn max_height(self, max_height: f32) -> Self {
        Self { max_height, ..self }
    }

    /// Draws header and rows. `draw` is called for the rows in view only and puts the cells in order.
    pub fn show(self, ui: &mut Ui, rows: usize, mut draw: impl FnMut(&mut Row<'_, '_>)) -> Done {
        let id = ui.make_persistent_id(("table", self.name));
        ui.scope_builder(UiBuilder::new().id_salt(("table scope", self.name)), |ui| {
            ui.spacing_mut().item_spacing = Vec2::ZERO;
            let mut done = Done::default();
            let spans = layout::spans(self.columns, ui.available_width());
            let tops = self.tops(rows);
            self.header(ui, id, &spans, &mut done);
            // Where its height is said it may be more than is in view: then what it stands in scrolls, not the table.
            let said = self.max_height.is_finite().then_some(self.max_height - self.header_height());
            let body_height = said.unwrap_or(ui.available_height()).max(self.row_height);
            let body = Rect::from_min_size(ui.cursor().min, vec2(ui.available_width(), body_height));
            ui.painter().rect_filled(body, 0, theme::tokens(ui).surface_raised);
            let sense = if self.passed_over { Sense::hover() } else { Sense::focusable_noninteractive() };
            let whole = ui.interact(body, id, sense);
            whole.widget_info(|| WidgetInfo::labeled(Role::Table, true, self.name));
            let page = (body_height / self.row_height).floor().max(1.0) as usize;
            let several = self.several.is_some();
            let (selected, free_keys, names) = (self.selected, self.free_keys, self.names);
            let wish = keys::Wish { rows, page, selected, free_keys, several, names };
            keys::read(ui, id, &wish, &mut done);
            if done.by_key && self.free_keys {
                focus::moved(ui, self.name);
            }
            let reveal = done.selected.or(self.reveal);
            let total = tops.last().copied().unwrap_or(0.0);
            let area = ScrollArea::vertical()
                .id_salt(id)
                .max_height(body_height)
                .min_scrolled_height(body_height)
                .auto_shrink([false, true]);
            area.show_viewport(ui, |ui, view| {
                let origin = ui.max_rect().min;
                let width = ui.available_width();
                ui.set_height(total);
                let row_rect = |row: usize| {
                    let top = tops.get(row).copied().unwrap_or(total);
                    let bottom = tops.get(row + 1).copied().unwrap_or(total);
                    Rect::from_min_max(pos2(origin.x, origin.y + top), pos2(origin.x + width, origin.y + bottom))
                };
                let first = tops.partition_point(|&top| top <= view.min.y).saturating_sub(1);
                let last = tops.partition_point(|&top| top < view.max.y).min(rows);
                for row in first..last {
                    let chosen = self.several.is_some_and(|chosen| chosen(row));
                    let look = row::Look { selected: self.selected == Some(row), chosen };
                    let response = Row::show(ui, id, row, row_rect(row), &spans, look, &mut draw);
                    self.answer(ui, id, row, &response, &mut done);
                }
                if let Some(row) = reveal.filter(|&row| row < rows) {
                    ui.scroll_to_rect(row_rect(row), None);
                }
            });
            let used = Rect::from_min_max(body.min, pos2(body.right(), ui.cursor().min.y.min(body.bottom())));
            focus::ring_inside(ui, &whole, used);
            done
        })
        .inner
    }

    fn header_height(&self) -> f32 {
        if self.columns.iter().any(|column| !column.below.is_empty()) { height::ROW_STOP } else { height::HEADER }
    }

    /// Upper edges of all rows and the lower edge of the last.
    fn tops(&self, rows: usize) -> Vec<f32> {
        let mut top = 0.0;
        let mut tops = Vec::with_capacity(rows + 1);
        tops.push(top);
        for row in 0..rows {
            top += self.heights.map_or(self.row_height, |height| height(row));
            tops.push(top);
        }
        tops
    }

    fn answer(&self, ui: &Ui, id: Id, row: usize, response: &Response, done: &mut Done) {
        if self.selected == Some(row) {
            ui.accesskit_node_builder(id, |node| node.set_active_descendant(response.id.accesskit_id()));
            if self.free_keys {
                focus::follow(ui, self.name, response.id);
            }
        }
        if response.clicked() {
            if self.several.is_some() && ui.input(|input| input.modifiers.command) {
                done.toggled = Some(row);
            } else {
                done.selected = Some(row);
            }
            if !self.passed_over {
                ui.memory_mut(|memory| memory.request_focus(id));
            }
        }
        if response.double_clicked() {
            done.opened = Some(row);
        }
    }

    fn header(&self, ui: &mut Ui, id: Id, spans: &[layout::Span], done: &mut Done) {
        let t = theme::tokens(ui);
        let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), self.header_height()), Sense::hover());
        ui.painter().rect_filled(rect, 0, t.surface_sunken);
        ui.painter().hline(rect.x_range(), rect.bottom() - 0.5, Stroke::new(stroke::LINE, t.line_soft));
        for (place, (column, span)) in self.columns.iter().zip(spans).enumerate() {
            let sorted = self.sorted.filter(|(by, _)| *by == place).map(|(_, falling)| falling);
            let mark = if sorted.is_some() { icon::SIDE } else { 0.0 };
            let cell = Rect::from_x_y_ranges(span.left + rect.left()..=span.right + rect.left(), rect.y_range());
            let color = if sorted.is_some() || !column.below.is_empty() { t.text_primary } else { t.text_secondary };
            let font = text::SMALL.font(Weight::Medium);
            let galley = ui.painter().layout_no_wrap(column.title.to_owned(), font, color);
            let left = if span.right_aligned { cell.right() - mark - galley.size().x } else { cell.left() };
            let top = if self.header_height() > height::HEADER {
                cell.top() + 7.0
            } else {
                cell.center().y - 0.5 * galley.size().y
            };
            let words = Rect::from_min_size(pos2(left, top), galley.size());
            if !column.below.is_empty() {
                let font = text::SMALL.font(Weight::Regular);
                let at = pos2(cell.left(), words.bottom() + 2.0);
                ui.painter().text(at, egui::Align2::LEFT_TOP, column.below, font, t.text_secondary);
            }
            ui.painter().galley(words.min, galley, color);
            if let Some(falling) = sorted {
                let icon = if falling { Icon::Down } else { Icon::Up };
                let center = pos2(words.right() + 2.0 + 0.5 * mark, cell.center().y);
                icon::paint(ui.painter(), Rect::from_center_size(center, Vec2::splat(14.0)), icon, color);
            }
            if column.sorts {
                let response = ui.interact(cell, id.with(("header", place)), Sense::click());
                let name = match sorted {
                    Some(true) => format!("{}, sorted, falling", column.title),
                    Some(false) => format!("{}, sorted, rising", column.title),
                    None => format!("Sort by {}", column.title),
                };
                response.widget_info(|| WidgetInfo::labeled(Role::ColumnHeader, true, &name));
                focus::ring_inside(ui, &response, cell);
                if response.clicked() {
                    done.sort_by = Some(place);
                }
            }
        }
    }
}
