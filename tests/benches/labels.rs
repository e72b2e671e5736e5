//! A thousand lid labels against the PDF library's bare loop over the same words: the price of measuring.

use divan::{Bencher, black_box};
use krilla::Document;
use krilla::configure::{Archival, ConfigurationBuilder};
use krilla::geom::{PathBuilder, Point, Rect};
use krilla::page::PageSettings;
use krilla::paint::Stroke;
use krilla::text::{Font, TextDirection};
use lidnote::print::job::{Label, LabelJob};
use lidnote::print::labels::print_labels;
use lidnote::print::sheet::Sheet;

const BOLD: &[u8] = include_bytes!("../../assets/fonts/IBMPlexSans_700Bold.ttf");
const SEMIBOLD: &[u8] = include_bytes!("../../assets/fonts/IBMPlexSans_600SemiBold.ttf");
const MEDIUM: &[u8] = include_bytes!("../../assets/fonts/IBMPlexSans_500Medium.ttf");
const REGULAR: &[u8] = include_bytes!("../../assets/fonts/IBMPlexSans_400Regular.ttf");

const LABELS: usize = 1_000;
const POINTS: f32 = 72.0 / 25.4;

fn main() {
    divan::main();
}

fn labels() -> Vec<Label> {
    let label = |number: usize| Label {
        lines: [
            format!("B{number} CAGE IN {} NOV", number % 30 + 1),
            ["white, Thrift", "yellow, Broom", "red, Farside"][number % 3].to_owned(),
            format!("SHUT TO {} SEE {}", number % 21 + 1, number % 21 + 4),
        ],
        small: vec![format!("caged queen in {} Nov; temper from {} Dec", number % 30 + 1, number % 31 + 1)],
        boxes: ["e", "q", "c", "n"].map(str::to_owned).to_vec(),
        day_and_by: true,
    };
    (1..=LABELS).map(label).collect()
}

/// The print layer: fonts read, every text measured, fitted and placed.
#[divan::bench(sample_count = 10)]
fn lid_labels(bencher: Bencher<'_, '_>) {
    let job = LabelJob {
        labels: labels(),
        sheet: Sheet::a4_3x8(),
        start_at: 1,
        title: "Lid labels".to_owned(),
        language: "en".to_owned(),
        created: (2026, 11, 24),
        outlines: false,
    };
    bencher.bench_local(|| print_labels(black_box(&job)).map(|printed| printed.bytes.len()));
}

/// The library alone: the same words, fonts, boxes and lines at fixed places, nothing measured.
#[divan::bench(sample_count = 10)]
fn bare_loop(bencher: Bencher<'_, '_>) {
    let labels = labels();
    bencher.bench_local(|| bare(black_box(&labels)).map(|bytes| bytes.len()));
}

fn bare(labels: &[Label]) -> Option<Vec<u8>> {
    let configuration = ConfigurationBuilder::new().with_archival_validator(Archival::A2_B).finish().ok()?;
    let mut document = Document::new_with(krilla::SerializeSettings { configuration, ..Default::default() });
    document.set_metadata(krilla::metadata::Metadata::new().title("Lid labels".to_owned()).language("en".to_owned()));
    let font = |bytes: &'static [u8]| Font::new(bytes.into(), 0);
    let (bold, semibold, medium, regular) = (font(BOLD)?, font(SEMIBOLD)?, font(MEDIUM)?, font(REGULAR)?);
    let sheet = Sheet::a4_3x8();
    for page_labels in labels.chunks(sheet.places()) {
        let mut page = document.start_page_with(PageSettings::from_wh(210.0 * POINTS, 297.0 * POINTS)?);
        let mut surface = page.surface();
        for (place, label) in page_labels.iter().enumerate() {
            let (x, y) = sheet.corner(place);
            let mut text = |font: &Font, size: f32, dx: f32, dy: f32, text: &str| {
                let at = Point::from_xy((x + dx) * POINTS, (y + dy) * POINTS);
                surface.draw_text(at, font.clone(), size, text, false, TextDirection::LeftToRight);
            };
            text(&bold, 14.0, 2.5, 7.1, &label.lines[0]);
            text(&semibold, 14.0, 2.5, 13.1, &label.lines[1]);
            text(&semibold, 14.0, 2.5, 19.1, &label.lines[2]);
            for small in &label.small {
                text(&regular, 7.5, 2.5, 24.0, small);
            }
            for (at, code) in label.boxes.iter().enumerate() {
                text(&medium, 8.0, 6.2 + 7.3 * at as f32, 30.5, code);
            }
            text(&medium, 8.0, 31.7, 30.5, "day");
            text(&medium, 8.0, 48.7, 30.5, "by");
            surface.set_fill(None);
            surface.set_stroke(Some(Stroke::default()));
            for at in 0..label.boxes.len() {
                let mut path = PathBuilder::new();
                let left = (x + 2.5 + 7.3 * at as f32) * POINTS;
                path.push_rect(Rect::from_xywh(left, (y + 28.4) * POINTS, 2.8 * POINTS, 2.8 * POINTS)?);
                surface.draw_path(&path.finish()?);
            }
            for (from, to) in [(38.0, 46.5), (53.8, 61.0)] {
                let mut path = PathBuilder::new();
                path.move_to((x + from) * POINTS, (y + 31.2) * POINTS);
                path.line_to((x + to) * POINTS, (y + 31.2) * POINTS);
                surface.draw_path(&path.finish()?);
            }
            surface.set_stroke(None);
        }
        surface.finish();
        page.finish();
    }
    document.finish().ok()
}
