//! The calibration page: shows whether the printer keeps the scale, and by how much it moves the page.

use crate::print::canvas::{Align, BLACK, Canvas, PAPER, Pen, bold, regular};
use crate::print::document::Pdf;
use crate::print::job::{Created, PrintError, Printed};
use crate::print::setting::{Setter, Style};
use crate::print::sheet::{Sheet, figure};

/// Length of each ruler in mm where the page has room for it.
const RULER: f32 = 100.0;

/// Prints the frames of a sheet with a ruler each way, to hold against a sheet of labels and a real ruler.
///
/// # Errors
///
/// An impossible sheet, or the PDF library's own refusal.
pub fn print_calibration(sheet: &Sheet, language: &str, created: Created) -> Result<Printed, PrintError> {
    sheet.check()?;
    let mut setter = Setter::new()?;
    setter.at(0, "calibration page".to_owned());
    let title = format!("Calibration page, {}", sheet.title());
    let mut file = Pdf::new(&title, language, created)?;
    file.page((sheet.page_w, sheet.page_h), |canvas| {
        for place in 0..sheet.places() {
            let (x, y) = sheet.corner(place);
            canvas.frame(x, y, sheet.label_w, sheet.label_h, Pen::solid(0.2, 120));
        }
        let ruler = Ruler::on(sheet);
        draw_ruler(canvas, &mut setter, &ruler, Way::Across);
        draw_ruler(canvas, &mut setter, &ruler, Way::Down);
        draw_words(canvas, &mut setter, sheet, &ruler);
    })?;
    let (bytes, pages) = file.finish()?;
    Ok(Printed { bytes, pages, warnings: setter.into_warnings() })
}

/// Both rulers begin at the same corner.
struct Ruler {
    x: f32,
    y: f32,
    across: f32,
    down: f32,
}

#[derive(Clone, Copy, PartialEq)]
enum Way {
    Across,
    Down,
}

impl Ruler {
    /// 100 mm where it fits, else the whole tens of millimetres that do.
    fn on(sheet: &Sheet) -> Self {
        let corner = |side: f32| if side > 150.0 { 25.0 } else { side * 0.08 };
        let (x, y) = (corner(sheet.page_w), corner(sheet.page_h));
        let tens = |room: f32| (((room - 4.0) / 10.0).floor() * 10.0).min(RULER);
        Self { x, y, across: tens(sheet.page_w - x), down: tens(sheet.page_h - y) }
    }
}

/// A line with a mark each millimetre, longer at 5 and at 10, and the figure at each 10 or 50.
fn draw_ruler(canvas: &mut Canvas<'_>, setter: &mut Setter, ruler: &Ruler, way: Way) {
    let length = if way == Way::Across { ruler.across } else { ruler.down };
    let place = |along: f32, aside: f32| match way {
        Way::Across => (ruler.x + along, ruler.y + aside),
        Way::Down => (ruler.x + aside, ruler.y + along),
    };
    let pen = Pen::solid(0.1, BLACK);
    canvas.polyline(&[place(0.0, 0.0), place(length, 0.0)], pen);
    for mm in 0..=(length as u16) {
        let mark = match mm % 10 {
            0 => 3.5,
            5 => 2.6,
            _ => 1.6,
        };
        let along = f32::from(mm);
        canvas.polyline(&[place(along, 0.0), place(along, mark)], pen);
        if mm % 10 == 0 && mm > 0 {
            let at = match way {
                Way::Across => place(along, 6.0),
                Way::Down => place(along + 0.9, 6.3),
            };
            canvas.block(at.0 - 2.2, at.1 - 2.0, 4.4, 2.3, PAPER);
            canvas.text(setter, regular(7.0), Align::Middle, at, &mm.to_string());
        }
    }
}

/// Words on a patch of clean paper, so that frames do not strike them through. A roll of small labels has no room.
fn draw_words(canvas: &mut Canvas<'_>, setter: &mut Setter, sheet: &Sheet, ruler: &Ruler) {
    let (x, top, width) = (ruler.x + 12.0, ruler.y + 9.0, ruler.across - 14.0);
    let small = sheet.page_h < 100.0;
    let shift = format!("Shift now {} mm right, {} mm down.", figure(sheet.shift_x), figure(sheet.shift_y));
    let lengths = if ruler.across == ruler.down {
        format!("Both rulers are {} mm long on a true print.", ruler.across)
    } else {
        format!("The rulers are {} and {} mm long on a true print.", ruler.across, ruler.down)
    };
    let (head, body) = if small { (bold(8.0), regular(7.0)) } else { (bold(12.0), regular(9.0)) };
    let advice = [
        (head, sheet.describe()),
        (body, "Print at actual size (100 %), not fitted to the page.".to_owned()),
        (body, lengths),
        (
            body,
            "Hold the page behind a sheet of labels against the light. Where the frames lie left of the labels or \
             above them, enter the distance as the shift."
                .to_owned(),
        ),
        (body, shift),
    ];
    let mut lines: Vec<(Style, f32, String)> = Vec::new();
    let mut y = top;
    for (style, text) in advice {
        for line in setter.wrap(style, &text, width) {
            y += style.mm() * 1.28;
            lines.push((style, y, line));
        }
        y += 1.0;
    }
    if width < 30.0 || y > ruler.y + ruler.down {
        return;
    }
    canvas.block(x - 1.0, top, width + 2.0, y - top + 1.0, PAPER);
    for (style, y, line) in lines {
        canvas.text(setter, style, Align::Left, (x, y), &line);
    }
}
