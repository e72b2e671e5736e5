//! Measures printed pages: positions in millimetres on the raster, words read back, bytes.
//!
//! Needs `pdftoppm`, `pdftotext` and `pdffonts` of the package poppler-utils.

use std::io::Write as _;
use std::process::Command;

use lidnote::planner::outlook::Outlook;
use lidnote::print::calibration::print_calibration;
use lidnote::print::job::{
    CodeColumn, HiveRow, Label, LabelJob, Paper, PrintError, Printed, RunSheetJob, Stop, Trouble,
};
use lidnote::print::labels::{page_count, print_labels};
use lidnote::print::of_world::labels::label_job;
use lidnote::print::remarks::remarks;
use lidnote::print::run_sheet::print_run_sheet;
use lidnote::print::sheet::Sheet;
use proptest::prelude::{ProptestConfig, any, prop_assert, prop_assert_eq, prop_oneof, proptest};
use proptest::strategy::{Just, Strategy};

use super::kit::{self, Kit};

/// Printed positions must be true to this, in mm.
const TOLERANCE: f32 = 0.1;

/// Dots to the inch of the raster; one dot is 0.042 mm.
const DPI: f32 = 600.0;

/// Runs a tool of poppler-utils on a file and gives what it says.
fn poppler(tool: &str, options: &[&str], pdf: &[u8], to: &[&str]) -> Vec<u8> {
    let mut file = tempfile::NamedTempFile::new().unwrap();
    file.write_all(pdf).unwrap();
    let output = Command::new(tool).args(options).arg(file.path()).args(to).output();
    let Ok(output) = output else {
        panic!("{tool} is missing: install the package poppler-utils (apt-get install poppler-utils)");
    };
    assert!(output.status.success(), "{tool}: {}", String::from_utf8_lossy(&output.stderr));
    output.stdout
}

fn words(printed: &Printed) -> String {
    String::from_utf8(poppler("pdftotext", &["-layout", "-enc", "UTF-8"], &printed.bytes, &["-"])).unwrap()
}

/// One page in dots.
struct Raster {
    width: usize,
    height: usize,
    dots: Vec<u8>,
}

impl Raster {
    fn of(printed: &Printed, page: usize) -> Self {
        let page = page.to_string();
        let dpi = DPI.to_string();
        let pgm = poppler("pdftoppm", &["-gray", "-r", &dpi, "-f", &page, "-l", &page], &printed.bytes, &[]);
        // P5, width, height, 255: four words, each ended by one white space.
        let mut at = 0;
        let mut head = Vec::new();
        while head.len() < 4 {
            let end = at + pgm[at..].iter().position(u8::is_ascii_whitespace).unwrap();
            head.push(String::from_utf8(pgm[at..end].to_vec()).unwrap());
            at = end + 1;
        }
        let (width, height) = (head[1].parse().unwrap(), head[2].parse().unwrap());
        let dots = pgm[at..].to_vec();
        assert_eq!(dots.len(), width * height, "{head:?}");
        Self { width, height, dots }
    }

    fn dot(mm: f32) -> usize {
        (mm * DPI / 25.4) as usize
    }

    fn dark(&self, x: usize, y: usize) -> bool {
        self.dots[y.min(self.height - 1) * self.width + x.min(self.width - 1)] < 128
    }

    /// First and last ink in mm, from left to right at one height, between two places.
    fn across(&self, y: f32, from: f32, to: f32) -> Option<(f32, f32)> {
        ends((Self::dot(from)..Self::dot(to)).filter(|&x| self.dark(x, Self::dot(y))))
    }

    /// First and last ink in mm, from top to bottom at one x, between two places.
    fn down(&self, x: f32, from: f32, to: f32) -> Option<(f32, f32)> {
        ends((Self::dot(from)..Self::dot(to)).filter(|&y| self.dark(Self::dot(x), y)))
    }

    /// The longest unbroken ink in mm along a row or a column.
    fn longest(along: usize, is_dark: impl Fn(usize) -> bool) -> (f32, f32) {
        let (mut best, mut start) = ((0, 0), None);
        for at in 0..=along {
            if at < along && is_dark(at) {
                start = start.or(Some(at));
            } else if let Some(from) = start.take()
                && at - from > best.1 - best.0
            {
                best = (from, at);
            }
        }
        (best.0 as f32 * 25.4 / DPI, best.1 as f32 * 25.4 / DPI)
    }
}

fn ends(mut dots: impl Iterator<Item = usize>) -> Option<(f32, f32)> {
    let first = dots.next()?;
    let last = dots.last().unwrap_or(first);
    Some((first as f32 * 25.4 / DPI, (last + 1) as f32 * 25.4 / DPI))
}

fn near(what: &str, found: f32, expected: f32) {
    assert!((found - expected).abs() <= TOLERANCE, "{what}: {found} mm, expected {expected} mm");
}

fn label(name: &str) -> Label {
    Label {
        lines: [format!("{name} CAGE IN 14 NOV"), "white, Thrift".to_owned(), "SHUT TO 21 SEE 24".to_owned()],
        small: vec!["caged queen in 14 Nov; temper from 26 Dec".to_owned()],
        boxes: ["e", "q", "c", "n"].map(str::to_owned).to_vec(),
        day_and_by: true,
    }
}

fn job(sheet: Sheet, labels: Vec<Label>) -> LabelJob {
    LabelJob {
        labels,
        sheet,
        start_at: 1,
        title: "Lid labels, 24 Nov 2026".to_owned(),
        language: "en".to_owned(),
        created: (2026, 11, 24),
        outlines: false,
    }
}

fn numbered(count: usize) -> Vec<Label> {
    (1..=count).map(|number| label(&format!("B{number:02}"))).collect()
}

/// Checks the first box of the label whose corner is at `(x, y)`: its left, top and bottom edge.
fn check_first_box(raster: &Raster, (x, y): (f32, f32), left: f32, top: f32, side: f32) {
    let (found, _) = raster.across(y + top + side / 2.0, x, x + 20.0).unwrap();
    near("left edge of the box", found, x + left);
    let (found_top, found_bottom) = raster.down(x + left + side / 2.0, y + top - 1.5, y + top + side + 1.5).unwrap();
    near("top edge of the box", found_top, y + top);
    near("bottom edge of the box", found_bottom, y + top + side);
}

#[test]
fn every_label_of_a_full_a4_sheet_stands_where_its_sticker_is() {
    let sheet = Sheet::a4_3x8();
    let printed = print_labels(&job(sheet.clone(), numbered(24))).unwrap();
    assert_eq!((printed.pages, printed.warnings.len()), (1, 0));
    let raster = Raster::of(&printed, 1);
    near("page width", raster.width as f32 * 25.4 / DPI, 210.0);
    near("page height", raster.height as f32 * 25.4 / DPI, 297.0);
    for place in 0..24_u8 {
        // The measures of the design, not those of the code.
        let corner = (7.25 + 66.0 * f32::from(place % 3), 12.9 + 33.9 * f32::from(place / 3));
        check_first_box(&raster, corner, 2.5, 28.4, 2.8);
    }
}

#[test]
fn the_lines_of_a_lid_note_are_six_millimetres_apart() {
    let lines = ["HHHH", "HHHH", "HHHH"].map(str::to_owned);
    let printed = print_labels(&job(Sheet::a4_3x8(), vec![Label { lines, ..Label::default() }])).unwrap();
    let raster = Raster::of(&printed, 1);
    let (x, y) = (7.25, 12.9);
    let (left, _) = raster.across(y + 6.0, x, x + 60.0).unwrap();
    assert!(left - x >= 2.5 && left - x < 3.3, "the first letter begins {} mm from the edge", left - x);
    let stem = left + 0.2;
    for (line, baseline) in [7.1, 13.1, 19.1].into_iter().enumerate() {
        let (top, bottom) = raster.down(stem, y + baseline - 4.5, y + baseline + 1.0).unwrap();
        near("baseline", bottom, y + baseline);
        // Capitals of this face are 0.698 em high (its OS/2 table): 3.45 mm at 14 pt.
        near(&format!("capital of line {line}"), bottom - top, 3.45);
    }
}

#[test]
fn labels_of_a_roll_and_of_a_letter_sheet_stand_in_place() {
    let roll = Sheet::presets().into_iter().find(|sheet| sheet.describe() == "Roll, 100 x 50 mm").unwrap();
    let printed = print_labels(&job(roll, numbered(2))).unwrap();
    assert_eq!(printed.pages, 2);
    check_first_box(&Raster::of(&printed, 2), (0.0, 0.0), 4.5, 41.4, 4.0);

    let letter = Sheet::presets().into_iter().find(|sheet| sheet.describe().starts_with("Letter, 3 x 10")).unwrap();
    let printed = print_labels(&job(letter, numbered(30))).unwrap();
    let raster = Raster::of(&printed, 1);
    // 3/16 in, pitch 2 3/4 in; half an inch, pitch one inch.
    for place in [0_u8, 14, 29] {
        let corner = (4.7625 + 69.85 * f32::from(place % 3), 12.7 + 25.4 * f32::from(place / 3));
        check_first_box(&raster, corner, 2.0, 21.0, 2.4);
    }
}

#[test]
fn a_shift_moves_every_label_alike() {
    let sheet = Sheet { shift_x: 1.5, shift_y: -0.7, ..Sheet::a4_3x8() };
    let printed = print_labels(&job(sheet, numbered(24))).unwrap();
    let raster = Raster::of(&printed, 1);
    check_first_box(&raster, (8.75, 12.2), 2.5, 28.4, 2.8);
    check_first_box(&raster, (8.75 + 132.0, 12.2 + 7.0 * 33.9), 2.5, 28.4, 2.8);
}

#[test]
fn five_boxes_stand_closer_so_that_day_and_initials_have_their_lines() {
    let narrow = |sheet: &Sheet| ["A4, 3 x 8, 63.5 x 33.9 mm", "Roll, 62 x 29 mm"].contains(&sheet.title().as_str());
    for sheet in Sheet::presets().into_iter().filter(narrow) {
        let boxes = ["/k", "e", "q", "c", "n"].map(str::to_owned).to_vec();
        let printed = print_labels(&job(sheet, vec![Label { boxes, ..label("L22") }])).expect("printed");
        let left_out: Vec<String> = remarks(&printed.warnings);
        assert!(!left_out.iter().any(|warning| warning.contains("by")), "{left_out:?}");
        let words = words(&printed);
        assert!(words.contains("day") && words.contains("by"), "{words}");
    }
}

#[test]
fn small_print_takes_few_lines_and_every_preset_holds_it() {
    let parts = ["caged queen in 14 Nov", "temper from 26 Dec"].map(str::to_owned).to_vec();
    for sheet in Sheet::presets() {
        let title = sheet.title();
        let printed = print_labels(&job(sheet, vec![Label { small: parts.clone(), ..label("B14") }])).expect("printed");
        assert_eq!(printed.warnings, [], "{title}");
        assert!(words(&printed).contains("caged queen in 14 Nov; temper from 26 Dec"), "{title}: {}", words(&printed));
    }
}

#[test]
fn printing_starts_at_the_first_free_label() {
    let start = LabelJob { start_at: 20, ..job(Sheet::a4_3x8(), numbered(10)) };
    let printed = print_labels(&start).unwrap();
    assert_eq!((printed.pages, page_count(10, &start.sheet, 20)), (2, 2));
    let raster = Raster::of(&printed, 1);
    let row = 12.9 + 6.0 * 33.9;
    assert_eq!(raster.across(row + 29.8, 0.0, 73.0), None, "label 19 is used");
    check_first_box(&raster, (73.25, row), 2.5, 28.4, 2.8);
    let text = words(&printed);
    let pages: Vec<&str> = text.split('\u{c}').collect();
    assert!(pages[0].contains("B05 CAGE") && !pages[0].contains("B06 CAGE"), "{text}");
    assert!(pages[1].contains("B06 CAGE") && pages[1].contains("B10 CAGE"), "{text}");
}

#[test]
fn the_last_free_label_takes_one_label() {
    let one = LabelJob { start_at: 24, ..job(Sheet::a4_3x8(), numbered(1)) };
    let printed = print_labels(&one).unwrap();
    assert_eq!(printed.pages, 1);
    check_first_box(&Raster::of(&printed, 1), (139.25, 250.2), 2.5, 28.4, 2.8);
}

#[test]
fn what_cannot_be_printed_is_refused() {
    let refusal = |job: &LabelJob| print_labels(job).unwrap_err();
    assert!(matches!(refusal(&job(Sheet::a4_3x8(), Vec::new())), PrintError::NoLabels));
    for start_at in [0, 25] {
        let beyond = LabelJob { start_at, ..job(Sheet::a4_3x8(), numbered(1)) };
        assert!(matches!(refusal(&beyond), PrintError::StartBeyondSheet { places: 24, .. }));
    }
    let overlapping = Sheet { pitch_y: 20.0, ..Sheet::a4_3x8() };
    assert!(matches!(refusal(&job(overlapping, numbered(1))), PrintError::Sheet(fault) if fault.measure == "pitch_y"));
    assert!(matches!(print_run_sheet(&RunSheetJob::default()), Err(PrintError::NoStops)));
}

#[test]
fn macrons_greek_cyrillic_and_fallback_letters_are_read_back() {
    let names = ["Ōtāhuhu", "Μέλισσα", "Бджола", "Łąka", "Aḥmad", "Mōrere ½"];
    let printed = print_labels(&job(Sheet::a4_3x8(), names.map(label).to_vec())).unwrap();
    assert_eq!(printed.warnings, []);
    let text = words(&printed);
    for name in names {
        assert!(text.contains(&format!("{name} CAGE IN 14 NOV")), "{name} in {text}");
    }
}

#[test]
fn a_character_no_font_has_is_replaced_and_named_with_its_label() {
    let mut labels = numbered(3);
    labels[1].lines[1] = "white, 蜂".to_owned();
    let printed = print_labels(&job(Sheet::a4_3x8(), labels)).unwrap();
    let [warning] = printed.warnings.as_slice() else { panic!("{:?}", printed.warnings) };
    assert_eq!((warning.number, &warning.what), (2, &Trouble::NoCharacter('蜂')));
    assert_eq!(warning.place, "label 2 (B02 CAGE IN 14 NOV)");
    assert!(words(&printed).contains("white, ?"));
}

#[test]
fn a_line_too_long_at_twelve_points_ends_in_an_ellipsis_inside_the_label() {
    let mut labels = numbered(2);
    labels[0].lines[0] = "WINDBREAK-NORTH-17 CAGE IN 14 NOV".to_owned();
    let printed = print_labels(&job(Sheet::a4_3x8(), labels)).unwrap();
    let [warning] = printed.warnings.as_slice() else { panic!("{:?}", printed.warnings) };
    assert_eq!(warning.what, Trouble::Cut("WINDBREAK-NORTH-17 CAGE IN 14 NOV".to_owned()));
    assert!(words(&printed).contains('…'));
    let raster = Raster::of(&printed, 1);
    let (_, right) = raster.across(12.9 + 7.0, 7.25, 73.0).unwrap();
    assert!(right <= 7.25 + 61.0 + TOLERANCE, "the line ends at {right} mm");
}

#[test]
fn the_same_job_gives_the_same_bytes_and_another_day_does_not() {
    let first = job(Sheet::a4_3x8(), numbered(30));
    let bytes = print_labels(&first).unwrap().bytes;
    assert_eq!(bytes, print_labels(&first).unwrap().bytes);
    let later = LabelJob { created: (2026, 11, 25), ..first };
    assert_ne!(bytes, print_labels(&later).unwrap().bytes);
}

#[test]
fn the_file_is_an_archive_file_with_its_fonts_inside() {
    let printed = print_labels(&job(Sheet::a4_3x8(), vec![label("Aḥmad")])).unwrap();
    let raw = String::from_utf8_lossy(&printed.bytes);
    assert!(raw.contains("<pdfaid:part>2</pdfaid:part>") && raw.contains("<pdfaid:conformance>B<"), "no PDF/A mark");
    let fonts = String::from_utf8(poppler("pdffonts", &[], &printed.bytes, &[])).unwrap();
    assert!(fonts.contains("IBMPlexSans") && fonts.contains("NotoSans"), "{fonts}");
    for font in fonts.lines().skip(2) {
        assert!(font.contains("yes yes yes"), "embedded, subset, readable as text: {font}");
    }
}

#[test]
fn both_rulers_of_the_calibration_page_are_a_hundred_millimetres_long() {
    let printed = print_calibration(&Sheet::a4_3x8(), "en", (2026, 11, 24)).unwrap();
    let raster = Raster::of(&printed, 1);
    let (row, column) = (Raster::dot(25.0), Raster::dot(25.0));
    for (from, to) in [
        Raster::longest(raster.width, |x| raster.dark(x, row)),
        Raster::longest(raster.height, |y| raster.dark(column, y)),
    ] {
        near("zero of the ruler", from, 25.0);
        near("length of the ruler", to - from, 100.0);
    }
    let (left, right) = raster.across(200.0, 0.0, 210.0).unwrap();
    near("first frame", left, 7.25);
    near("last frame", right, 202.75);
}

#[test]
fn a_hive_name_too_long_for_its_column_stands_whole_above_its_row() {
    let name = "Old Orchard Behind The Long Stone Wall 14";
    let mut yard = stop(1, 2);
    yard.hives[0].hive = name.to_owned();
    let printed = print_run_sheet(&run(Paper::A4, vec![yard])).expect("printed");
    assert_eq!(printed.warnings, []);
    assert!(words(&printed).contains(name), "{}", words(&printed));
}

fn stop(number: usize, hives: usize) -> Stop {
    let row = |hive: usize| HiveRow {
        hive: format!("S{number}H{hive:02}"),
        there: "white, Thrift,\ncaged 13 Nov".to_owned(),
        due: "acceptance look,\nlate".to_owned(),
        due_bold: vec!["late".to_owned()],
        look_for: "eggs or her seen; closed cells: failed".to_owned(),
    };
    Stop {
        number: number.to_string(),
        yard: format!("Yard {number}"),
        arrive: "07:52".to_owned(),
        leave: "08:22".to_owned(),
        distance: "11 km".to_owned(),
        note: "Gate code at the shed.".to_owned(),
        hives: (1..=hives).map(row).collect(),
    }
}

fn run(paper: Paper, stops: Vec<Stop>) -> RunSheetJob {
    RunSheetJob {
        title: "Run sheet, Tue 24 Nov 2026".to_owned(),
        subtitle: "North truck. Leave 07:30, home 15:04, 96 km.".to_owned(),
        firm: "Wrackmore Bees".to_owned(),
        paper,
        language: "en".to_owned(),
        created: (2026, 11, 23),
        before_you_go: vec!["Wash tools and gloves between yards.".to_owned()],
        load: vec!["29 lid labels, marker pen".to_owned()],
        codes: CodeColumn::standard(),
        stops,
        note_rules: 2,
        legend: "q her seen, u another queen.".to_owned(),
        ..RunSheetJob::default()
    }
}

/// Hives on each page, in order.
fn hives_by_page(printed: &Printed) -> Vec<Vec<String>> {
    let text = words(printed);
    let pages = text.split('\u{c}').filter(|page| !page.trim().is_empty());
    let is_hive = |word: &&str| word.starts_with('S') && word.contains('H');
    pages.map(|page| page.split_whitespace().filter(is_hive).map(str::to_owned).collect()).collect()
}

#[test]
fn a_stop_that_fits_a_page_is_never_split() {
    let printed = print_run_sheet(&run(Paper::A4, (1..=8).map(|number| stop(number, 9)).collect())).unwrap();
    assert_eq!(printed.warnings, []);
    let pages = hives_by_page(&printed);
    assert_eq!(pages.len(), printed.pages);
    assert!(pages.len() >= 3, "{pages:?}");
    for number in 1..=8 {
        let prefix = format!("S{number}H");
        let holding = pages.iter().filter(|page| page.iter().any(|hive| hive.starts_with(&prefix))).count();
        assert_eq!(holding, 1, "stop {number} in {pages:?}");
    }
    let text = words(&printed);
    for page in 1..=pages.len() {
        assert!(text.contains(&format!("page {page} of {}", pages.len())), "{text}");
    }
    assert_eq!(text.matches("Run sheet, Tue 24 Nov 2026").count(), pages.len());
    assert_eq!(text.matches("q her seen").count(), pages.len());
}

#[test]
fn a_stop_longer_than_a_page_goes_on_under_its_name() {
    let printed = print_run_sheet(&run(Paper::Letter, vec![stop(1, 3), stop(2, 60)])).unwrap();
    let hives: Vec<String> = hives_by_page(&printed).concat();
    assert_eq!(hives.len(), 63);
    assert!(hives.is_sorted(), "{hives:?}");
    let text = words(&printed);
    assert_eq!(text.matches("continued").count(), printed.pages - 1, "{text}");
}

#[test]
fn boxes_of_a_run_sheet_stand_in_their_columns_and_rows() {
    let printed = print_run_sheet(&run(Paper::A4, vec![stop(1, 4)])).unwrap();
    let raster = Raster::of(&printed, 1);
    let first_x = 118.1;
    // The longest upright stroke of this column of dots is the left side of the first box.
    let side = Raster::dot(first_x + 0.15);
    let (box_top, box_bottom) = Raster::longest(raster.height, |y| raster.dark(side, y));
    near("height of a box", box_bottom - box_top, 4.4);
    for row in 0..3_u8 {
        let y = box_top + 8.8 * f32::from(row);
        for column in 0..8_u8 {
            let x = first_x + 6.6 * f32::from(column);
            let (left, right) = raster.across(y + 2.2, x - 1.0, x + 5.4).unwrap();
            near("left edge of a box", left, x);
            near("right edge of a box", right, x + 4.4);
        }
        let (found, bottom) = raster.down(first_x + 2.2, y - 1.0, y + 5.4).unwrap();
        near("top edge of a box", found, y);
        near("bottom edge of a box", bottom, y + 4.4);
    }
    let ink = (0..raster.width).filter(|&x| (0..raster.height).any(|y| raster.dark(x, y)));
    let (left, right) = ends(ink).unwrap();
    near("left margin", left, 16.0);
    near("right margin", right, 198.0);
}

#[test]
fn a_run_sheet_is_the_same_twice_and_a_sheet_without_hives_prints() {
    let quiet = run(Paper::Letter, vec![stop(1, 0)]);
    let printed = print_run_sheet(&quiet).unwrap();
    assert_eq!(printed, print_run_sheet(&quiet).unwrap());
    assert!(words(&printed).contains("Yard 1"));
}

fn any_line() -> impl Strategy<Value = String> {
    prop_oneof!["[A-Z0-9 -]{0,40}", "\\PC{0,24}", any::<String>(), Just(String::new())]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn any_words_print_on_any_preset(
        lines in proptest::collection::vec([any_line(), any_line(), any_line()], 1..12),
        small in any_line(),
        boxes in proptest::collection::vec("[a-z/+?]{1,3}", 0..10),
        preset in 0_usize..7,
        start in 0_usize..100,
        day_and_by: bool,
    ) {
        let sheet = Sheet::presets()[preset].clone();
        let start_at = start % sheet.places() + 1;
        let labels: Vec<Label> = lines
            .into_iter()
            .map(|lines| Label { lines, small: vec![small.clone(), small.clone()], boxes: boxes.clone(), day_and_by })
            .collect();
        let pages = page_count(labels.len(), &sheet, start_at);
        let printed = print_labels(&LabelJob { start_at, outlines: true, ..job(sheet, labels) });
        prop_assert!(printed.is_ok(), "{:?}", printed.err());
        prop_assert_eq!(printed.unwrap().pages, pages);
    }

    #[test]
    fn no_hive_is_lost_between_pages(counts in proptest::collection::vec(0_usize..45, 1..7), letter: bool) {
        let paper = if letter { Paper::Letter } else { Paper::A4 };
        let stops = counts.iter().enumerate().map(|(at, &count)| stop(at + 1, count)).collect();
        let printed = print_run_sheet(&run(paper, stops)).unwrap();
        let hives: Vec<String> = hives_by_page(&printed).concat();
        let expected: Vec<String> =
            counts.iter().enumerate().flat_map(|(at, &count)| stop(at + 1, count).hives).map(|row| row.hive).collect();
        prop_assert_eq!(hives, expected);
    }
}

#[test]
fn a_label_names_the_yard_where_other_yards_have_a_hive_of_that_name() {
    let (mut kit, mut hives) = Kit::with_hives(&["07", "08"]);
    let other = kit.yard("Far Paddock");
    hives.push(kit.hive(other, "07"));
    let today = kit::day("2026-11-23");
    let outlook = Outlook::new(&kit.world, today);
    let job = label_job(&kit.world, &outlook, &hives, Sheet::a4_3x8(), 1, today);
    let small: Vec<&str> = job.labels.iter().map(|label| label.small.first().map_or("", String::as_str)).collect();
    assert!(small[0].starts_with("Heath yard"), "{small:?}");
    assert!(!small[1].contains("Heath yard"), "{small:?}");
    assert!(small[2].starts_with("Far Paddock"), "{small:?}");
}
