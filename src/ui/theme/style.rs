//! Carries the tokens into egui's two styles, so that nothing is ever drawn in its default dress.

use egui::style::{ScrollAnimation, ScrollStyle, Selection, WidgetVisuals, Widgets};
use egui::{Context, CornerRadius, FontId, Margin, Shadow, Stroke, Style, TextStyle, Theme, Visuals, vec2};

use crate::ui::theme::fonts::{self, Weight};
use crate::ui::theme::metrics::{height, radius, space, stroke};
use crate::ui::theme::text;
use crate::ui::theme::tokens::{DARK, LIGHT, Tokens};

/// Sizes of everything, in per cent: those that Setup offers and the keys step through.
pub const ZOOMS: [u32; 8] = [80, 90, 100, 110, 125, 150, 175, 200];

/// The next larger (+1) or smaller (-1) of the sizes, in per cent; at the ends the last one stays.
pub fn zoom_step(now: u32, step: i32) -> u32 {
    let larger = ZOOMS.iter().find(|it| **it > now);
    let smaller = ZOOMS.iter().rev().find(|it| **it < now);
    let [least, .., most] = ZOOMS;
    if step > 0 { larger.copied().unwrap_or(most) } else { smaller.copied().unwrap_or(least) }
}

/// Sets typefaces and both themes. Once at the start; afterwards `ctx.set_theme(..)` is enough.
pub fn apply(ctx: &Context) {
    fonts::install(ctx);
    ctx.style_mut_of(Theme::Light, |style| dress(style, &LIGHT, Visuals::light()));
    ctx.style_mut_of(Theme::Dark, |style| dress(style, &DARK, Visuals::dark()));
    ctx.options_mut(|options| options.zoom_with_keyboard = false);
}

fn dress(style: &mut Style, t: &Tokens, base: Visuals) {
    style.visuals = visuals(t, base);
    style.animation_time = 0.0;
    style.scroll_animation = ScrollAnimation::none();
    let regular = |size: f32| FontId::new(size, Weight::Regular.family());
    style.text_styles = [
        (TextStyle::Small, regular(text::SMALL.size)),
        (TextStyle::Body, regular(text::BODY.size)),
        (TextStyle::Button, text::BODY.font(Weight::Medium)),
        (TextStyle::Heading, text::HEAD.font(Weight::SemiBold)),
        (TextStyle::Monospace, regular(text::TABLE.size)),
    ]
    .into();
    let spacing = &mut style.spacing;
    spacing.item_spacing = vec2(space::SMALL, 6.0);
    spacing.button_padding = vec2(14.0, 7.0);
    spacing.interact_size = vec2(space::PAGE, height::BUTTON);
    spacing.window_margin = Margin::same(16);
    spacing.menu_margin = Margin::same(4);
    spacing.icon_width = 16.0;
    spacing.icon_spacing = 10.0;
    spacing.tooltip_width = 360.0;
    spacing.scroll = scroll();
    style.interaction.selectable_labels = false;
    style.interaction.tooltip_delay = 0.3;
}

/// A thin bar over the content, always to be seen: how far one has come is not a fact to hover for.
fn scroll() -> ScrollStyle {
    let mut scroll = ScrollStyle {
        foreground_color: true,
        floating_width: 6.0,
        bar_width: 10.0,
        dormant_handle_opacity: 0.45,
        active_background_opacity: 0.0,
        active_handle_opacity: 0.6,
        interact_handle_opacity: 0.8,
        ..ScrollStyle::floating()
    };
    scroll.fade.strength = 0.0;
    scroll
}

fn visuals(t: &Tokens, base: Visuals) -> Visuals {
    let edge = Stroke::new(stroke::LINE, t.line_firm);
    let soft = Stroke::new(stroke::LINE, t.line_soft);
    let shadow = Shadow { offset: [0, 2], blur: 8, spread: 0, color: t.shadow };
    let control = CornerRadius::same(radius::CONTROL);
    let widget = |fill, bg_stroke, ink| WidgetVisuals {
        bg_fill: fill,
        weak_bg_fill: fill,
        bg_stroke,
        corner_radius: control,
        fg_stroke: Stroke::new(stroke::LINE, ink),
        expansion: 0.0,
    };
    let mut visuals = Visuals {
        widgets: Widgets {
            noninteractive: widget(t.surface_panel, soft, t.text_primary),
            inactive: widget(t.surface_raised, edge, t.text_primary),
            hovered: widget(t.surface_hover, edge, t.text_primary),
            active: widget(t.surface_selected, Stroke::new(stroke::FOCUS, t.focus), t.text_primary),
            open: widget(t.surface_selected, Stroke::new(stroke::LINE, t.accent), t.text_primary),
        },
        selection: Selection { bg_fill: t.surface_selected, stroke: Stroke::new(stroke::LINE, t.text_primary) },
        weak_text_color: Some(t.text_secondary),
        hyperlink_color: t.accent,
        faint_bg_color: t.surface_sunken,
        extreme_bg_color: t.surface_raised,
        text_edit_bg_color: Some(t.surface_raised),
        code_bg_color: t.surface_sunken,
        warn_fg_color: t.text_primary,
        error_fg_color: t.danger,
        window_corner_radius: control,
        window_shadow: shadow,
        window_fill: t.surface_raised,
        window_stroke: edge,
        menu_corner_radius: control,
        panel_fill: t.surface_panel,
        popup_shadow: shadow,
        striped: false,
        slider_trailing_fill: true,
        disabled_alpha: 1.0,
        ..base
    };
    visuals.text_cursor.stroke = Stroke::new(stroke::FOCUS, t.text_primary);
    visuals.text_cursor.blink = false;
    visuals.ime_composition.active_underline_stroke = Stroke::new(stroke::FOCUS, t.focus);
    visuals.ime_composition.inactive_underline_stroke = Stroke::new(stroke::LINE, t.line_firm);
    visuals
}
