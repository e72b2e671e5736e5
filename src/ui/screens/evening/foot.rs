//! The counts of the evening: each hive once, what was judged with its interval, lid labels changed.

use std::collections::BTreeMap;

use egui::text::LayoutJob;
use egui::{Role, Ui, WidgetInfo};

use crate::domain::rates::{count_evening, rate_words};
use crate::domain::visit::Method;
use crate::ui::scene::Scene;
use crate::ui::screens::evening::read::{Said, Told};
use crate::ui::screens::evening::rows::given_in_plural;
use crate::ui::screens::evening::state::EveningState;
use crate::ui::theme;
use crate::ui::theme::fonts::Weight;
use crate::ui::theme::text::{self, Type};

const NUMBER: Type = Type { size: 18.0, line: 24.0 };

/// Draws the counts.
pub(super) fn show(ui: &mut Ui, scene: &Scene, state: &mut EveningState) {
    let told: Vec<Told> = (0..state.rows.hives.len())
        .filter_map(|at| match state.said(scene, at) {
            Said::Outcome(told) => Some(told),
            _ => None,
        })
        .collect();
    let t = theme::tokens(ui);
    let counts = count_evening(told.iter().map(|told| told.class));
    let left = state.rows.hives.len() - state.rows.entered();
    ui.spacing_mut().item_spacing.y = 2.0;
    let mut job = LayoutJob::default();
    let mut figure = |number: u32, words: &str, ink| {
        let lead = if job.is_empty() { 0.0 } else { 20.0 };
        job.append(&number.to_string(), lead, NUMBER.format(Weight::Bold, ink));
        job.append(words, 6.0, text::TABLE.format(Weight::Regular, t.text_primary));
    };
    for (count, words) in counts.parts().into_iter().filter(|(count, _)| *count > 0) {
        figure(count, words, if words == "to decide" { t.text_late } else { t.text_primary });
    }
    figure(left as u32, "not entered", t.text_disabled);
    let entered = counts.words();
    let comma = if entered.is_empty() { "" } else { ", " };
    let spoken = format!("{entered}{comma}{left} not entered");
    let shown = ui.add(egui::Label::new(job).truncate());
    shown.widget_info(|| WidgetInfo::labeled(Role::Label, true, &spoken));
    let mut said = judged(&told);
    let check = state.check(scene);
    match check.labels {
        0 => {}
        1 => said.push("1 lid label changed.".to_owned()),
        labels => said.push(format!("{labels} lid labels changed.")),
    }
    let words = if said.is_empty() {
        "The evening is recorded as one change; it can be opened again.".to_owned()
    } else {
        said.join(" ")
    };
    ui.add(egui::Label::new(text::small(words).color(t.text_secondary)).truncate());
}

/// `Caged queens accepted: 89 %, 8 of 9 (95 % interval 57 to 98 %).`
fn judged(told: &[Told]) -> Vec<String> {
    let mut methods: BTreeMap<Method, (u32, u32)> = BTreeMap::new();
    for (method, accepted) in told.iter().filter_map(|told| told.settled) {
        let (hits, of) = methods.entry(method).or_default();
        *hits += u32::from(accepted);
        *of += 1;
    }
    let words = |(method, (hits, of)): (&Method, &(u32, u32))| {
        format!("{} accepted: {}.", given_in_plural(*method), rate_words(*hits, *of))
    };
    methods.iter().map(words).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::standing::OutcomeClass;

    #[test]
    fn a_rate_carries_its_count_and_interval() {
        let told = |accepted| Told {
            class: OutcomeClass::Laying,
            sentence: String::new(),
            settled: Some((Method::Caged, accepted)),
            asks: false,
            gives: None,
        };
        let mut all: Vec<Told> = (0..8).map(|_| told(true)).collect();
        all.push(told(false));
        // 8 of 9: Wilson 1927 gives 0.565 to 0.980 (statsmodels 0.14.4, proportion_confint, method wilson).
        assert_eq!(judged(&all), ["Caged queens accepted: 89 %, 8 of 9 (95 % interval 57 to 98 %)."]);
        assert!(judged(&[]).is_empty());
    }
}
