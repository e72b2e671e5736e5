//! Adding hives to a yard in a few words: `40 hives in 4 rows`, `12 pallets`, `30 nucs, queens unknown`.

use egui::{Key, Modifiers, Ui};
use uuid::Uuid;

use crate::domain::change::Change;
use crate::domain::day::Day;
use crate::domain::day_words::{DateOrder, Lean, read_day};
use crate::domain::decide::decide;
use crate::domain::found::{Many, Numbering, found_many};
use crate::domain::ids::YardId;
use crate::ui::action::Outbox;
use crate::ui::scene::Scene;
use crate::ui::screens::form::above_foot;
use crate::ui::theme;
use crate::ui::theme::text;
use crate::ui::widgets::{Button, Field, Icon, focus, parts};

const COLUMN: f32 = 104.0;
/// Days that hives with a queen are taken to have stood there, where no day is given.
const YEAR: i32 = 365;

/// What was typed last, at which version of the world, and what it came to.
type Tried = ((String, String, String, String, u64), Result<String, String>);

/// The draft.
#[derive(Clone, Debug, PartialEq)]
pub struct AddHives {
    words: String,
    before: String,
    first: String,
    day: String,
    begun: bool,
    held: Option<Tried>,
}

impl AddHives {
    /// An empty draft; names begin like those that stand in the yard.
    pub fn new(scene: &Scene, yard: YardId) -> Self {
        let standing = scene.world.in_yard(yard);
        let letters = |name: &str| name.chars().take_while(|it| !it.is_ascii_digit()).collect::<String>();
        let before = standing.last().map_or_else(|| first_letter(scene, yard), |colony| letters(colony.name()));
        Self { words: String::new(), before, first: "1".to_owned(), day: String::new(), begun: false, held: None }
    }

    /// Draws it. True: closed. `Enter` founds them, `Esc` leaves.
    pub fn show(&mut self, ui: &mut Ui, scene: &Scene, yard: YardId, out: &mut Outbox) -> bool {
        let t = theme::tokens(ui);
        let mut closed = false;
        ui.horizontal(|ui| {
            ui.label(text::name("Add hives").color(t.text_primary));
            ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
                closed = Button::icon_only(Icon::Close, "Close the form").show(ui).clicked();
            });
        });
        parts::rule(ui);
        let preview = above_foot(ui, "add hives", |ui| {
            ui.add_space(2.0);
            let field = Field::new("How many").column(COLUMN).width(280.0).hint("40 hives in 4 rows");
            if !std::mem::replace(&mut self.begun, true) {
                focus::bring(ui, field.id(ui));
            }
            field.help("or: 12 pallets; 30 nucs, queens unknown; 5 nucs without queens").show(ui, &mut self.words);
            Field::new("Letters").column(COLUMN).width(84.0).show(ui, &mut self.before);
            Field::new("First number").column(COLUMN).width(84.0).show(ui, &mut self.first);
            let day = self.day(scene);
            let help = day
                .as_ref()
                .map_or(String::new(), |day| format!("{}. Finds from then on can be recorded.", day.long()));
            let error = day.err();
            Field::new("There since")
                .column(COLUMN)
                .width(140.0)
                .hint(if self.is_new() { "today" } else { "a year ago" })
                .help(&help)
                .error(error.as_deref())
                .show(ui, &mut self.day);
            let preview = self.preview(scene, yard);
            match &preview {
                Ok(words) => {
                    ui.spacing_mut().item_spacing.y = 2.0;
                    parts::caption(ui, "What follows");
                    ui.label(text::table(words).color(t.text_primary));
                }
                Err(why) if self.words.trim().is_empty() => parts::remark(ui, why),
                Err(why) => {
                    ui.label(text::table(why).color(t.text_late));
                }
            }
            preview
        });
        let entered =
            focus::enter_is_the_forms(ui) && ui.input_mut(|input| input.consume_key(Modifiers::NONE, Key::Enter));
        closed |= ui.input_mut(|input| input.consume_key(Modifiers::NONE, Key::Escape));
        ui.horizontal(|ui| {
            let why_not = preview.as_ref().err().map(String::as_str);
            let done = Button::primary("Add hives").key("Enter").why_not(why_not).show(ui).clicked();
            closed |= Button::outlined("Cancel").key("Esc").show(ui).clicked();
            if (done || entered)
                && preview.is_ok()
                && let Ok(many) = self.read(scene, yard, &mut || out.new_id())
            {
                out.change(change(scene, yard, many));
                closed = true;
            } else if entered {
                focus::keep_in_field(ui);
            }
        });
        closed
    }

    /// Nucs are made, and hives lose their queens, now; hives with a queen have stood there for long.
    fn is_new(&self) -> bool {
        let words = self.words.to_lowercase();
        ["nuc", "without", "queenless"].iter().any(|word| words.contains(word))
    }

    /// The day from which on they are known. Untouched: so early that a find of last week can be recorded.
    fn day(&self, scene: &Scene) -> Result<Day, String> {
        if self.day.trim().is_empty() {
            return Ok(if self.is_new() { scene.today } else { scene.today.plus(-YEAR) });
        }
        read_day(&self.day, scene.today, DateOrder::DayMonth, Lean::Back).map_err(|error| format!("{error}."))
    }

    fn read(&self, scene: &Scene, yard: YardId, mint: &mut dyn FnMut() -> Uuid) -> Result<Many, String> {
        let day = self.day(scene)?;
        let first = self.first.trim().parse().ok().filter(|first| (1..=999_999).contains(first));
        let first = first.ok_or("The first number is not understood. Type a whole number from 1.")?;
        let numbering = Numbering { before: self.before.trim(), first };
        found_many(&scene.world, yard, &self.words, numbering, day, mint).map_err(|error| format!("{error}."))
    }

    /// What the words mean, or what is wrong with them; reckoned when they differ.
    fn preview(&mut self, scene: &Scene, yard: YardId) -> Result<String, String> {
        let key = (self.words.clone(), self.before.clone(), self.first.clone(), self.day.clone(), scene.version);
        if let Some((held, result)) = &self.held
            && *held == key
        {
            return result.clone();
        }
        let mut trial = u128::MAX >> 1;
        let result = self
            .read(scene, yard, &mut || {
                trial -= 1;
                Uuid::from_u128(trial)
            })
            .and_then(|many| {
                let words = format!("{}.", many.words);
                let change = change(scene, yard, many);
                decide(&scene.world, &change, scene.today).map_err(|refusal| format!("{refusal}."))?;
                Ok(words)
            });
        self.held = Some((key, result.clone()));
        result
    }
}

/// The letter of the yard's name where no hive shows another.
fn first_letter(scene: &Scene, yard: YardId) -> String {
    let name = scene.world.yards.get(&yard).map_or("", |yard| yard.name.as_str());
    name.chars().next().map_or(String::new(), |letter| letter.to_uppercase().collect())
}

/// The hives, and the yard's layout where they change it, as one step.
fn change(scene: &Scene, yard: YardId, many: Many) -> Change {
    let found = Change::Found { colonies: many.colonies, queens: Vec::new() };
    let held = scene.world.yards.get(&yard);
    match (many.layout, held) {
        (Some(layout), Some(held)) => {
            let mut yard = held.as_ref().clone();
            yard.layout = layout;
            let title = format!("{}: {}", yard.name, many.words);
            Change::Several { title, changes: vec![Change::PutYard(Box::new(yard)), found] }
        }
        _ => found,
    }
}
