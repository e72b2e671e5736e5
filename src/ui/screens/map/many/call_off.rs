//! Plans of several hives called off.

use egui::Ui;

use crate::domain::change::Change;
use crate::domain::day_words::Lean;
use crate::domain::plan::open_plan;
use crate::ui::scene::Scene;
use crate::ui::screens::map::many::acts::{Ground, Meant};
use crate::ui::screens::map::many::dated::{day_first, past_day};

/// Their plans are called off.
#[derive(Clone, Debug, PartialEq)]
pub struct CallOffAct {
    day: String,
}

impl CallOffAct {
    /// Today.
    pub fn new() -> Self {
        Self { day: "today".to_owned() }
    }

    /// What it would do.
    pub fn meant(&self, ground: &Ground<'_>) -> Meant {
        let day = match past_day(ground, &self.day) {
            Ok(day) => day,
            Err(why) => return Meant::trouble(why),
        };
        let scene = ground.scene;
        let mut meant = Meant::default();
        let (mut plans, mut without) = (Vec::new(), 0);
        for id in ground.hives {
            let Some(plan) = open_plan(&scene.world, *id) else {
                meant.left_out.push((ground.name(*id), "has no plan".to_owned()));
                continue;
            };
            plans.push(plan.id);
            without += usize::from(scene.outlook.colonies.get(id).is_some_and(|view| view.lacks_queen()));
        }
        meant.count = plans.len();
        if plans.is_empty() {
            meant.trouble = Some("None of them has a plan.".to_owned());
            return meant;
        }
        meant.says.push("Their steps to dequeen and to give go.".to_owned());
        match without {
            0 => {}
            1 => meant.says.push("1 has no queen, and waits for one with none planned.".to_owned()),
            many => meant.says.push(format!("{many} have no queen, and wait for one with none planned.")),
        }
        meant.change = Some(Change::CallOff { plans, day });
        meant
    }

    /// Draws the fields.
    pub fn show(&mut self, ui: &mut Ui, scene: &Scene, fresh: bool) {
        day_first(ui, scene, &mut self.day, Lean::Back, "", fresh);
    }
}
