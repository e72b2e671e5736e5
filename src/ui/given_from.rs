//! Where queens that are given come from, as every form that gives offers it: the parcels in hand, oldest first.

use std::collections::BTreeMap;
use std::sync::Arc;

use egui::{Id, Ui, Vec2, vec2};

use crate::domain::day::Day;
use crate::domain::ids::ParcelId;
use crate::domain::in_hand::draw::{From, Giving, Hand, source_name};
use crate::domain::in_hand::left_in_hand;
use crate::domain::parcel::Parcel;
use crate::domain::queen::Source;
use crate::domain::world::World;
use crate::ui::scene::Scene;
use crate::ui::theme::metrics::height;
use crate::ui::widgets::{chip, parts};

/// What is in hand, worked out once a version of the world.
pub(crate) fn hand<'a>(ui: &Ui, scene: &'a Scene) -> Hand<'a> {
    type Left = (u64, Arc<BTreeMap<ParcelId, u32>>);
    let id = Id::unique("left in hand");
    let held = ui.data(|data| data.get_temp::<Left>(id)).filter(|(version, _)| *version == scene.version);
    let (_, left) = held.unwrap_or_else(|| {
        let made: Left = (scene.version, Arc::new(left_in_hand(&scene.world)));
        ui.data_mut(|data| data.insert_temp(id, made.clone()));
        made
    });
    Hand::with(&scene.world, BTreeMap::clone(&left))
}

/// `Thrift, 12 in hand, held 4 days`.
pub(crate) fn in_hand_words(world: &World, parcel: &Parcel, left: u32, today: Day) -> String {
    let held = match parcel.arrived.map_or(0, |arrived| today.since(arrived)) {
        ..=0 => "came today".to_owned(),
        1 => "held 1 day".to_owned(),
        days => format!("held {days} days"),
    };
    format!("{}, {left} in hand, {held}", source_name(world, parcel))
}

/// `Thrift`, and where one of its parcels is among these: `Thrift, out of no parcel`.
pub(crate) fn source_alone_words<'a>(source: &Source, mut parcels: impl Iterator<Item = &'a Parcel>) -> String {
    let has_parcel = parcels.any(|parcel| parcel.source == Some(source.id));
    format!("{}{}", source.name, if has_parcel { ", out of no parcel" } else { "" })
}

/// Chips to choose among the parcels in that hand which fit all these givings, of one method on one day. Nothing is drawn
/// where none fits. A choice that no longer fits is dropped.
pub(crate) fn choose(ui: &mut Ui, scene: &Scene, mut hand: Hand<'_>, givings: &[Giving], said: &mut From) {
    let Some(first) = givings.first() else { return };
    let fitting = hand.fitting(first.method, first.count, first.day);
    if matches!(*said, From::Parcel(parcel) if fitting.iter().all(|it| it.id != parcel)) {
        *said = From::NotSaid;
    }
    if fitting.is_empty() {
        *said = From::NotSaid;
        return;
    }
    let lefts: Vec<u32> = fitting.iter().map(|parcel| hand.left(parcel.id)).collect();
    let drawn: Vec<_> = givings.iter().map(|giving| hand.draw(*giving, From::NotSaid).parcel).collect();
    // Where the rule gives the same parcel to all, that parcel's chip stands for it.
    let by_rule = drawn.first().copied().flatten().filter(|one| drawn.iter().all(|it| *it == Some(*one)));
    let mut offered: Vec<(String, From)> = Vec::new();
    if by_rule.is_none() {
        offered.push(("as planned, else the oldest".to_owned(), From::NotSaid));
    }
    for (parcel, left) in fitting.iter().zip(lefts) {
        let from = if by_rule == Some(parcel.id) { From::NotSaid } else { From::Parcel(parcel.id) };
        offered.push((in_hand_words(&scene.world, parcel, left, scene.today), from));
    }
    offered.push(("none of these".to_owned(), From::NotKnown));
    if *said == by_rule.map_or(From::NotSaid, From::Parcel) {
        *said = From::NotSaid;
    }
    let words: Vec<(&str, From)> = offered.iter().map(|(words, from)| (words.as_str(), *from)).collect();
    ui.vertical(|ui| {
        ui.spacing_mut().item_spacing.y = 4.0;
        parts::caption(ui, "Given from");
        ui.spacing_mut().interact_size.y = height::CHIP;
        ui.spacing_mut().item_spacing = CHIPS;
        ui.horizontal_wrapped(|ui| chip::choose(ui, &words, said, false));
    });
}

/// Gaps between chips.
const CHIPS: Vec2 = vec2(6.0, 5.0);
