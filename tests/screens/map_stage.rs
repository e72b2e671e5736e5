//! The Map on a made-up world, with an app in miniature behind it: what is decided is applied at once.

use std::cell::RefCell;
use std::rc::Rc;
use std::sync::Arc;

use egui_kittest::Harness;
use lidnote::domain::decide::decide;
use lidnote::domain::fact::Fact;
use lidnote::domain::world::World;
use lidnote::planner::outlook::Outlook;
use lidnote::ui::action::Action;
use lidnote::ui::event::Event;
use lidnote::ui::screens::map;
use lidnote::ui::theme;

use crate::run_stage::Stage;

/// A stage under test; the state is shared with the window.
pub type Shared = Rc<RefCell<Stage>>;

struct Shown(Shared);

impl eframe::App for Shown {
    fn ui(&mut self, ui: &mut egui::Ui, _frame: &mut eframe::Frame) {
        let stage = &mut *self.0.borrow_mut();
        map::show(ui, &stage.scene, &mut stage.map, &mut stage.goto, &mut stage.out);
        for action in stage.out.take() {
            act(stage, &action);
            stage.asked.push(action);
        }
    }
}

fn act(stage: &mut Stage, action: &Action) {
    match action {
        Action::Change(change) => match decide(&stage.scene.world, change, stage.scene.today) {
            Ok(facts) => {
                advance(stage, &facts);
                stage.done.push((lidnote::domain::decide::title(&stage.scene.world, change), facts));
            }
            Err(refusal) => {
                stage.refused.push(refusal.to_string());
                stage.map.take(&Event::Refused(refusal.to_string()));
            }
        },
        Action::Undo => {
            let (_, facts) = stage.done.pop().expect("something to undo");
            let back: Vec<Fact> = facts.into_iter().rev().map(Fact::inverse).collect();
            advance(stage, &back);
        }
        _ => {}
    }
}

fn advance(stage: &mut Stage, facts: &[Fact]) {
    let mut world = World::clone(&stage.scene.world);
    world.advance_all(facts);
    stage.scene.outlook = Arc::new(Outlook::new(&world, stage.scene.today));
    stage.scene.world = Arc::new(world);
    stage.scene.version += 1;
}

/// Shows the Map in a window of that size.
pub fn open(mut stage: Stage, size: [f32; 2]) -> (Harness<'static, impl eframe::App>, Shared) {
    stage.map.take(&Event::Opened);
    let shared: Shared = Rc::new(RefCell::new(stage));
    let kept = Rc::clone(&shared);
    let make = move |cc: &mut eframe::CreationContext<'_>| {
        theme::apply(&cc.egui_ctx);
        Shown(kept)
    };
    let builder = Harness::builder().with_size(size).with_theme(egui::Theme::Light).with_max_steps(60);
    let mut harness = builder.build_eframe(make);
    harness.run();
    (harness, shared)
}
