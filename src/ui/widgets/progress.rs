//! Long work in words with a count, instead of a spinner.

use egui::Ui;

use crate::ui::theme::{self, text};
use crate::ui::widgets::button::Button;

/// Work shorter than this is not spoken of, in milliseconds.
pub const QUIET_MS: u64 = 300;

/// "Reading roads, 1,200 of 8,000" with Stop, once it has run for 300 ms; `of` 0 leaves the total out. The line keeps
/// its height before, so nothing moves. True when Stop was pressed.
pub fn progress(ui: &mut Ui, doing: &str, done: u64, of: u64, running_ms: u64) -> bool {
    let height = theme::metrics::height::BUTTON_SMALL;
    if running_ms < QUIET_MS {
        ui.add_space(height);
        return false;
    }
    ui.horizontal(|ui| {
        ui.set_min_height(height);
        let color = theme::tokens(ui).text_secondary;
        ui.label(text::table(words(doing, done, of)).color(color));
        Button::text("Stop").name(&format!("Stop {doing}")).show(ui).clicked()
    })
    .inner
}

fn words(doing: &str, done: u64, of: u64) -> String {
    if of == 0 {
        format!("{doing}, {}", grouped(done))
    } else {
        format!("{doing}, {} of {}", grouped(done), grouped(of))
    }
}

/// A count with commas between thousands.
pub fn grouped(number: u64) -> String {
    let digits = number.to_string();
    let mut words = String::new();
    for (place, digit) in digits.chars().enumerate() {
        if place > 0 && (digits.len() - place).is_multiple_of(3) {
            words.push(',');
        }
        words.push(digit);
    }
    words
}

#[cfg(test)]
mod tests {
    use super::{grouped, words};

    #[test]
    fn counts_are_grouped_by_thousands() {
        assert_eq!(grouped(0), "0");
        assert_eq!(grouped(999), "999");
        assert_eq!(grouped(1_000), "1,000");
        assert_eq!(grouped(12_345_678), "12,345,678");
    }

    #[test]
    fn the_total_is_left_out_where_it_is_not_known() {
        assert_eq!(words("Reading roads", 1_200, 8_000), "Reading roads, 1,200 of 8,000");
        assert_eq!(words("Reading roads", 1_200, 0), "Reading roads, 1,200");
    }
}
