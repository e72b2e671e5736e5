//! The look: colours, type, spacing. Only this folder names colour values; everything else asks for tokens.
//!
//! Call [`apply`] once at the start. While drawing, `let t = theme::tokens(ui);` gives the colours of the current theme
//! and [`text`] gives words in the right size and weight.

#[cfg(test)]
mod contrast_tests;
pub mod fonts;
pub mod metrics;
mod style;
pub mod text;
pub mod tokens;
#[cfg(test)]
mod vision_tests;

pub use style::{ZOOMS, apply, zoom_step};
pub use tokens::{CLEAR, Tokens};

/// The colours of the theme this `ui` is drawn in.
pub fn tokens(ui: &egui::Ui) -> &'static Tokens {
    if ui.visuals().dark_mode { &tokens::DARK } else { &tokens::LIGHT }
}

/// The colours of the window's current theme, for code that has no `Ui`.
pub fn tokens_of(ctx: &egui::Context) -> &'static Tokens {
    match ctx.theme() {
        egui::Theme::Dark => &tokens::DARK,
        egui::Theme::Light => &tokens::LIGHT,
    }
}
