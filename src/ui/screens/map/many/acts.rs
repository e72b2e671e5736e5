//! What can be done to several hives at once: the drafts, the change each makes, and whom it leaves out and why.

use egui::Key;
use uuid::Uuid;

use crate::domain::carried_off::carried_off;
use crate::domain::change::Change;
use crate::domain::day::Day;
use crate::domain::day_words::{DateOrder, Lean, read_day};
use crate::domain::ids::ColonyId;
use crate::ui::scene::Scene;
use crate::ui::screens::map::bar_form::BarDraft;
use crate::ui::screens::map::many::call_off::CallOffAct;
use crate::ui::screens::map::many::dated::{Dequeen, Find};
use crate::ui::screens::map::many::give::Give;
use crate::ui::screens::map::many::plain::{EndAct, MoveAct, RenameAct};

/// The actions, in the order of the rows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ActKind {
    /// Queens, cells or virgins are given, or it is planned.
    Give,
    /// What is planned for them is called off.
    CallOff,
    /// The old queens are removed.
    Dequeen,
    /// The same find at all of them.
    Find,
    /// They are barred.
    Bar,
    /// They go to another yard or row.
    Move,
    /// They get new names.
    Rename,
    /// They end.
    End,
}

impl ActKind {
    /// All of them.
    pub const ALL: [Self; 8] =
        [Self::Give, Self::CallOff, Self::Dequeen, Self::Find, Self::Bar, Self::Move, Self::Rename, Self::End];

    /// What the row says.
    pub fn words(self) -> &'static str {
        match self {
            Self::Give => "Give queens",
            Self::CallOff => "Call off plans",
            Self::Dequeen => "Dequeen",
            Self::Find => "Record find",
            Self::Bar => "Bar",
            Self::Move => "Move",
            Self::Rename => "Rename",
            Self::End => "End",
        }
    }

    /// The remark beside it.
    pub fn remark(self) -> &'static str {
        match self {
            Self::Give | Self::CallOff => "",
            Self::Dequeen => "starts their queenless clocks",
            Self::Find => "one entry for all",
            Self::Bar => "reason, first and last day",
            Self::Move => "to a yard, row or pallet",
            Self::Rename => "new numbers in order",
            Self::End => "sold, united, died",
        }
    }

    /// Its key as written on the row.
    pub fn key_words(self) -> &'static str {
        match self {
            Self::Give => "I",
            Self::CallOff => "C",
            Self::Dequeen => "D",
            Self::Find => "Enter",
            Self::Bar => "B",
            Self::Move => "V",
            Self::Rename => "N",
            Self::End => "X",
        }
    }

    /// Its key.
    pub fn key(self) -> Key {
        match self {
            Self::Give => Key::I,
            Self::CallOff => Key::C,
            Self::Dequeen => Key::D,
            Self::Find => Key::Enter,
            Self::Bar => Key::B,
            Self::Move => Key::V,
            Self::Rename => Key::N,
            Self::End => Key::X,
        }
    }
}

/// A draft of one of them.
#[derive(Clone, Debug, PartialEq)]
pub enum Act {
    /// Give.
    Give(Give),
    /// Call off.
    CallOff(CallOffAct),
    /// Dequeen.
    Dequeen(Dequeen),
    /// Find.
    Find(Find),
    /// Bar.
    Bar(BarDraft),
    /// Move.
    Move(MoveAct),
    /// Rename.
    Rename(RenameAct),
    /// End.
    End(EndAct),
}

/// What a draft would do.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Meant {
    /// The change; nothing while something is missing.
    pub change: Option<Change>,
    /// Why there is none.
    pub trouble: Option<String>,
    /// Nothing is wrong, something is still to be typed.
    pub missing: bool,
    /// How many hives it is for.
    pub count: usize,
    /// Hives left out, with the reason.
    pub left_out: Vec<(String, String)>,
    /// What follows, in sentences.
    pub says: Vec<String>,
    /// Hives it would carry off that are to stay where they are, a sentence each.
    pub stay: Vec<String>,
}

impl Meant {
    /// Nothing can be done, because.
    pub fn trouble(why: impl Into<String>) -> Self {
        Self { trouble: Some(why.into()), ..Self::default() }
    }

    /// Nothing is wrong yet, but this is still to be typed.
    pub fn missing(what: impl Into<String>) -> Self {
        Self { missing: true, ..Self::trouble(what) }
    }
}

/// What every draft is shown.
pub struct Ground<'a> {
    /// The scene.
    pub scene: &'a Scene,
    /// The chosen hives in order.
    pub hives: &'a [ColonyId],
}

impl Ground<'_> {
    /// The name of a hive.
    pub fn name(&self, id: ColonyId) -> String {
        self.scene.world.colonies.get(&id).map_or(String::new(), |colony| colony.name().to_owned())
    }

    /// The hives that were there on a day; the others are left out with the reason.
    pub fn there_on(&self, day: Day, left_out: &mut Vec<(String, String)>) -> Vec<ColonyId> {
        let mut there = Vec::with_capacity(self.hives.len());
        for id in self.hives {
            match self.scene.world.colonies.get(id) {
                Some(colony) if colony.founded > day => {
                    let why = format!("founded {}", colony.founded.near(self.scene.today));
                    left_out.push((colony.name().to_owned(), why));
                }
                Some(_) => there.push(*id),
                None => {}
            }
        }
        there
    }

    /// Reads a typed day.
    ///
    /// # Errors
    /// What is wrong with it and what to type.
    pub fn day(&self, typed: &str, lean: Lean) -> Result<Day, String> {
        read_day(typed, self.scene.today, DateOrder::DayMonth, lean).map_err(|error| format!("{error}."))
    }
}

/// A source of new ids.
pub type Mint<'a> = &'a mut dyn FnMut() -> Uuid;

impl Act {
    /// A fresh draft.
    pub fn new(kind: ActKind, scene: &Scene) -> Self {
        let by = scene.prefs.initials.clone();
        match kind {
            ActKind::Give => Self::Give(Give::new(by)),
            ActKind::CallOff => Self::CallOff(CallOffAct::new()),
            ActKind::Dequeen => Self::Dequeen(Dequeen::new(by)),
            ActKind::Find => Self::Find(Find::new(by)),
            ActKind::Bar => Self::Bar(BarDraft::new(by, false)),
            ActKind::Move => Self::Move(MoveAct::default()),
            ActKind::Rename => Self::Rename(RenameAct::default()),
            ActKind::End => Self::End(EndAct::new(by)),
        }
    }

    /// The heading, for that many hives.
    pub fn title(&self, count: usize) -> String {
        let hives = if count == 1 { "1 hive".to_owned() } else { format!("{count} hives") };
        match self {
            Self::Give(_) => format!("Give queens to {hives}"),
            Self::CallOff(_) => format!("Call off the plans of {hives}"),
            Self::Dequeen(_) => format!("Dequeen {hives}"),
            Self::Find(_) => format!("Record a find at {hives}"),
            Self::Bar(_) => format!("Bar {hives}"),
            Self::Move(_) => format!("Move {hives}"),
            Self::Rename(_) => format!("Rename {hives}"),
            Self::End(_) => format!("End {hives}"),
        }
    }

    /// What its button says, for that many hives.
    pub fn verb(&self, meant: &Meant, today: Day) -> String {
        let (verb, with_count) = match self {
            Self::Give(give) if give.is_ahead(today) => ("Plan", "Plan for"),
            Self::Give(_) => ("Give", "Give"),
            Self::CallOff(_) => ("Call off", "Call off"),
            Self::Dequeen(_) => ("Dequeen", "Dequeen"),
            Self::Find(_) => ("Record", "Record"),
            Self::Bar(_) => ("Bar", "Bar"),
            Self::Move(_) => ("Move", "Move"),
            Self::Rename(_) => ("Rename", "Rename"),
            Self::End(_) => ("End", "End"),
        };
        match meant.count {
            0 => verb.to_owned(),
            count => format!("{with_count} {count}"),
        }
    }

    /// What it would do.
    pub fn meant(&self, ground: &Ground<'_>, mint: Mint<'_>) -> Meant {
        let mut meant = match self {
            Self::Give(act) => act.meant(ground, mint),
            Self::CallOff(act) => act.meant(ground),
            Self::Dequeen(act) => act.meant(ground, mint),
            Self::Find(act) => act.meant(ground, mint),
            Self::Bar(act) => bar_meant(act, ground, mint),
            Self::Move(act) => act.meant(ground),
            Self::Rename(act) => act.meant(ground),
            Self::End(act) => act.meant(ground),
        };
        if let Some(change) = &meant.change {
            meant.stay = carried_off(&ground.scene.world, change, ground.scene.today);
        }
        meant
    }
}

fn bar_meant(draft: &BarDraft, ground: &Ground<'_>, mint: Mint<'_>) -> Meant {
    use crate::domain::bar::BarOn;
    let on: Vec<BarOn> = ground.hives.iter().map(|id| BarOn::Colony(*id)).collect();
    match draft.change(ground.scene, &on, mint) {
        Ok(change) => {
            Meant { change: Some(change), count: on.len(), says: vec![draft.says().to_owned()], ..Meant::default() }
        }
        Err(why) => Meant::trouble(why),
    }
}
