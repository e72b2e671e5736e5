//! The measures of a label sheet: page, margins, columns, rows, pitch; its presets and its check.

/// Points in a millimetre.
pub(crate) const POINTS_PER_MM: f32 = 72.0 / 25.4;

/// Smallest label that takes a lid note, in mm: three lines of 12 pt at a lead of 5 mm, and a marker pen's word in
/// width (common practice, no source).
pub const LEAST_LABEL: (f32, f32) = (30.0, 19.0);

/// Largest page side, in mm (A3 and a banner's worth; common practice, no source).
const LARGEST_SIDE: f32 = 600.0;

/// Measures may overlap or leave the page by this much, in mm, because they are written with one or two decimals.
const SLACK: f32 = 0.05;

/// A sheet of labels by its measures, all in millimetres from the page's top left corner.
#[derive(Debug, Clone, PartialEq)]
pub struct Sheet {
    /// What the user calls it; empty gives the description by measures.
    pub name: String,
    /// Width of the page.
    pub page_w: f32,
    /// Height of the page.
    pub page_h: f32,
    /// Left edge of the first column.
    pub left: f32,
    /// Top edge of the first row.
    pub top: f32,
    /// Labels side by side.
    pub columns: usize,
    /// Labels one under the other.
    pub rows: usize,
    /// From the left edge of one label to the left edge of the next.
    pub pitch_x: f32,
    /// From the top edge of one label to the top edge of the next.
    pub pitch_y: f32,
    /// Width of one label.
    pub label_w: f32,
    /// Height of one label.
    pub label_h: f32,
    /// Free border inside each label.
    pub inset: f32,
    /// Everything is moved right by this much, to meet the printer (from the calibration page).
    pub shift_x: f32,
    /// Everything is moved down by this much.
    pub shift_y: f32,
}

/// A sheet that cannot be printed: the measure that is at fault and why.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[error("{measure}: {fact}")]
pub struct SheetFault {
    /// The measure as it is written in a file of measures, such as `pitch_x`.
    pub measure: &'static str,
    /// What is wrong with it, and the figure that would do.
    pub fact: String,
}

fn fault(measure: &'static str, fact: String) -> Result<(), SheetFault> {
    Err(SheetFault { measure, fact })
}

impl Sheet {
    /// A page with labels that touch or stand apart by `pitch`, centred on the page.
    fn centred(page: (f32, f32), columns: usize, rows: usize, pitch: (f32, f32), label: (f32, f32)) -> Self {
        let span = |count: usize, pitch: f32, label: f32| (count as f32 - 1.0) * pitch + label;
        Self {
            name: String::new(),
            page_w: page.0,
            page_h: page.1,
            left: (page.0 - span(columns, pitch.0, label.0)) / 2.0,
            top: (page.1 - span(rows, pitch.1, label.1)) / 2.0,
            columns,
            rows,
            pitch_x: pitch.0,
            pitch_y: pitch.1,
            label_w: label.0,
            label_h: label.1,
            inset: 2.5,
            shift_x: 0.0,
            shift_y: 0.0,
        }
    }

    /// A roll: every page is one label.
    fn roll(width: f32, height: f32, inset: f32) -> Self {
        Self { inset, ..Self::centred((width, height), 1, 1, (width, height), (width, height)) }
    }

    /// A4, 3 x 8 labels of 63.5 x 33.9 mm: left 7.25, top 12.9, pitch 66 x 33.9 mm. The margins add up to the page.
    pub fn a4_3x8() -> Self {
        Self::centred((210.0, 297.0), 3, 8, (66.0, 33.9), (63.5, 33.9))
    }

    /// The sheets offered without a file of measures: common sizes, described by their measures (common practice, no
    /// source; margins follow from the page).
    pub fn presets() -> Vec<Self> {
        const A4: (f32, f32) = (210.0, 297.0);
        const LETTER: (f32, f32) = (215.9, 279.4);
        vec![
            Self::a4_3x8(),
            Self::centred(A4, 2, 7, (101.6, 38.1), (99.1, 38.1)),
            Self::centred(A4, 2, 4, (101.6, 67.7), (99.1, 67.7)),
            Self { inset: 2.0, ..Self::centred(LETTER, 3, 10, (69.85, 25.4), (66.675, 25.4)) },
            Self { inset: 3.5, ..Self::centred(LETTER, 2, 5, (106.3625, 50.8), (101.6, 50.8)) },
            Self::roll(100.0, 50.0, 4.5),
            Self::roll(62.0, 29.0, 2.0),
        ]
    }

    /// Labels on one page.
    pub fn places(&self) -> usize {
        self.columns * self.rows
    }

    /// Top left corner of the label at `place` (0-based, left to right, then down), with the shift, in mm.
    pub fn corner(&self, place: usize) -> (f32, f32) {
        let (column, row) = (place % self.columns, place / self.columns);
        (self.left + self.shift_x + column as f32 * self.pitch_x, self.top + self.shift_y + row as f32 * self.pitch_y)
    }

    /// The sheet in words, by its measures: `A4, 3 x 8, 63.5 x 33.9 mm`.
    pub fn describe(&self) -> String {
        let is_page = |w: f32, h: f32| (self.page_w - w).abs() < 0.5 && (self.page_h - h).abs() < 0.5;
        let label = match (inches(self.label_w), inches(self.label_h)) {
            // Sheets of Letter are sold by inches.
            (Some(width), Some(height)) if is_page(215.9, 279.4) => format!("{width} x {height} in"),
            _ => format!("{} x {} mm", figure(self.label_w), figure(self.label_h)),
        };
        let page = if self.places() == 1 && is_page(self.label_w, self.label_h) {
            return format!("Roll, {label}");
        } else if is_page(210.0, 297.0) {
            "A4".to_owned()
        } else if is_page(215.9, 279.4) {
            "Letter".to_owned()
        } else {
            format!("Page {} x {} mm", figure(self.page_w), figure(self.page_h))
        };
        format!("{page}, {} x {}, {label}", self.columns, self.rows)
    }

    /// The user's name for the sheet, or its description.
    pub fn title(&self) -> String {
        if self.name.trim().is_empty() { self.describe() } else { self.name.trim().to_owned() }
    }

    /// Refuses a sheet that cannot be printed: labels off the page, overlapping, or too small for a lid note.
    ///
    /// # Errors
    ///
    /// The first measure that is at fault, with the figure that would do.
    pub fn check(&self) -> Result<(), SheetFault> {
        self.check_figures()?;
        let least = LEAST_LABEL;
        if self.label_w < least.0 {
            return fault("label_w", format!("a lid note needs a label at least {} mm wide", figure(least.0)));
        }
        if self.label_h < least.1 {
            return fault("label_h", format!("a lid note needs a label at least {} mm high", figure(least.1)));
        }
        if self.inset * 2.0 > self.label_w.min(self.label_h) / 3.0 {
            let most = self.label_w.min(self.label_h) / 6.0;
            return fault("inset", format!("it leaves too little of the label; at most {} mm", figure(most)));
        }
        if self.columns > 1 && self.pitch_x + SLACK < self.label_w {
            let least = figure(self.label_w);
            return fault("pitch_x", format!("labels side by side overlap; at least {least} mm"));
        }
        if self.rows > 1 && self.pitch_y + SLACK < self.label_h {
            let least = figure(self.label_h);
            return fault("pitch_y", format!("labels one under the other overlap; at least {least} mm"));
        }
        self.check_on_page()
    }

    fn check_figures(&self) -> Result<(), SheetFault> {
        let sizes = [
            ("page_w", self.page_w),
            ("page_h", self.page_h),
            ("pitch_x", self.pitch_x),
            ("pitch_y", self.pitch_y),
            ("label_w", self.label_w),
            ("label_h", self.label_h),
        ];
        for (measure, mm) in sizes {
            if !(mm > 0.0 && mm <= LARGEST_SIDE) {
                return fault(measure, format!("{mm} mm is not a size; above 0, up to {LARGEST_SIDE} mm"));
            }
        }
        for (measure, mm) in [("left", self.left), ("top", self.top), ("inset", self.inset)] {
            if !(0.0..=LARGEST_SIDE).contains(&mm) {
                return fault(measure, format!("{mm} mm is not a distance; 0 to {LARGEST_SIDE} mm"));
            }
        }
        for (measure, mm) in [("shift_x", self.shift_x), ("shift_y", self.shift_y)] {
            if !(-10.0..=10.0).contains(&mm) {
                return fault(measure, format!("{mm} mm is too far; -10 to 10 mm"));
            }
        }
        for (measure, count) in [("columns", self.columns), ("rows", self.rows)] {
            if !(1..=50).contains(&count) {
                return fault(measure, format!("{count} is not a count of labels; 1 to 50"));
            }
        }
        Ok(())
    }

    fn check_on_page(&self) -> Result<(), SheetFault> {
        let right = self.left + (self.columns as f32 - 1.0) * self.pitch_x + self.label_w;
        if right > self.page_w + SLACK {
            let (right, page) = (figure(right), figure(self.page_w));
            return fault("left", format!("the last column ends at {right} mm, the page at {page} mm"));
        }
        let bottom = self.top + (self.rows as f32 - 1.0) * self.pitch_y + self.label_h;
        if bottom > self.page_h + SLACK {
            let (bottom, page) = (figure(bottom), figure(self.page_h));
            return fault("top", format!("the last row ends at {bottom} mm, the page at {page} mm"));
        }
        // The inset may take up a shift; the words of a label must stay on the page.
        let shifts = [
            ("shift_x", self.shift_x, self.left, self.page_w - right),
            ("shift_y", self.shift_y, self.top, self.page_h - bottom),
        ];
        for (measure, shift, before, after) in shifts {
            let (least, most) = (-(before + self.inset), after + self.inset);
            if shift < least - SLACK || shift > most + SLACK {
                let (least, most) = (figure(least), figure(most));
                return fault(measure, format!("it moves the labels' words off the page; {least} to {most} mm"));
            }
        }
        Ok(())
    }
}

/// A length in inches and sixteenths, `2 5/8`; nothing where it is none to a twentieth of a millimetre.
fn inches(mm: f32) -> Option<String> {
    let sixteenths = (mm / 25.4 * 16.0).round();
    if sixteenths < 1.0 || (sixteenths / 16.0 * 25.4 - mm).abs() > 0.05 {
        return None;
    }
    let (mut over, mut under) = (sixteenths as u32 % 16, 16);
    let whole = sixteenths as u32 / 16;
    while over > 0 && over % 2 == 0 {
        (over, under) = (over / 2, under / 2);
    }
    Some(match (whole, over) {
        (whole, 0) => whole.to_string(),
        (0, over) => format!("{over}/{under}"),
        (whole, over) => format!("{whole} {over}/{under}"),
    })
}

/// A length in mm with at most three decimals and no needless zeros.
pub(crate) fn figure(mm: f32) -> String {
    let text = format!("{mm:.3}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_preset_can_be_printed_and_is_named_by_its_measures() {
        let names: Vec<String> = Sheet::presets().iter().map(Sheet::title).collect();
        for sheet in Sheet::presets() {
            assert_eq!(sheet.check(), Ok(()), "{}", sheet.title());
        }
        let expected = [
            "A4, 3 x 8, 63.5 x 33.9 mm",
            "A4, 2 x 7, 99.1 x 38.1 mm",
            "A4, 2 x 4, 99.1 x 67.7 mm",
            "Letter, 3 x 10, 2 5/8 x 1 in",
            "Letter, 2 x 5, 4 x 2 in",
            "Roll, 100 x 50 mm",
            "Roll, 62 x 29 mm",
        ];
        assert_eq!(names, expected);
    }

    #[test]
    fn the_first_preset_has_the_measures_of_the_design() {
        let sheet = Sheet::a4_3x8();
        assert!((sheet.left - 7.25).abs() < 0.001 && (sheet.top - 12.9).abs() < 0.001, "{sheet:?}");
        let (x, y) = sheet.corner(23);
        assert!((x - 139.25).abs() < 0.001 && (y - 250.2).abs() < 0.001, "{x} {y}");
    }

    #[test]
    fn an_impossible_sheet_is_refused_by_the_measure_at_fault() {
        let sheet = Sheet::a4_3x8;
        let cases: [(Sheet, &str); 12] = [
            (Sheet { page_w: f32::NAN, ..sheet() }, "page_w"),
            (Sheet { label_h: 0.0, ..sheet() }, "label_h"),
            (Sheet { label_h: 12.0, ..sheet() }, "label_h"),
            (Sheet { label_w: 20.0, ..sheet() }, "label_w"),
            (Sheet { columns: 0, ..sheet() }, "columns"),
            (Sheet { rows: 51, ..sheet() }, "rows"),
            (Sheet { inset: 8.0, ..sheet() }, "inset"),
            (Sheet { pitch_x: 60.0, ..sheet() }, "pitch_x"),
            (Sheet { pitch_y: 33.0, ..sheet() }, "pitch_y"),
            (Sheet { left: 20.0, ..sheet() }, "left"),
            (Sheet { rows: 9, ..sheet() }, "top"),
            (Sheet { shift_x: -10.0, ..sheet() }, "shift_x"),
        ];
        for (sheet, measure) in cases {
            assert_eq!(sheet.check().map_err(|fault| fault.measure), Err(measure), "{sheet:?}");
        }
    }

    #[test]
    fn one_column_needs_no_pitch_that_clears_the_label() {
        let sheet = Sheet { columns: 1, pitch_x: 1.0, ..Sheet::a4_3x8() };
        assert_eq!(sheet.check(), Ok(()));
    }
}
