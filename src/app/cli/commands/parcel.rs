//! `lidnote parcel`: lists parcels, takes one in, says that one is late or has come, puts one right.

use crate::app::cli::command::{Command, Common, Job, What};
use crate::app::cli::options::Options;
use crate::app::cli::output::Output;
use crate::app::cli::session::{Session, mint};
use crate::domain::birth_words::{birth_words, read_birth};
use crate::domain::change::Change;
use crate::domain::day::Day;
use crate::domain::ids::{ParcelId, SourceId};
use crate::domain::in_hand::in_hand;
use crate::domain::in_hand::sources::{source_named, sources_like};
use crate::domain::parcel::{Parcel, ParcelKind};
use crate::domain::queen::{Birth, Dot, Source};
use crate::domain::world::World;
use crate::exchange::out::cells::table;

/// The command.
pub const PARCEL: Command = Command {
    name: "parcel",
    help: "  lidnote parcel                 lists parcels; --source S --kind caged|cells|virgins --count N takes one in
      --dead N --sent DATE --due DATE --arrived DATE --grafted DATE
      --born WHEN --dot COLOUR   its queens: a day, oct 2026, 2026/27 for a season, 2026, two with \"to\" between
      --late N --promised DATE   parcel N of the list is late; --arrive N --arrived DATE it has come
      --amend N                  puts parcel N right by the options given; --new-source makes a source like-named too
",
    values: &[
        "source", "kind", "count", "dead", "sent", "due", "arrived", "grafted", "born", "dot", "amend", "late",
        "promised", "arrive",
    ],
    flags: &["new-source"],
    read: |options| Given::read(options).map(What::job),
};

/// What was given.
#[derive(Default, PartialEq)]
struct Given {
    source: Option<String>,
    /// The source is made although one of a like name is known.
    new_source: bool,
    kind: Option<ParcelKind>,
    count: Option<u32>,
    dead: Option<u32>,
    sent: Option<Day>,
    due: Option<Day>,
    arrived: Option<Day>,
    grafted: Option<Day>,
    /// When its queens were born.
    born: Option<String>,
    dot: Option<Carries>,
    /// The parcel of that number in the list is put right.
    amend: Option<usize>,
    /// The parcel of that number in the list is late …
    late: Option<usize>,
    /// … until then.
    promised: Option<Day>,
    /// The parcel of that number in the list has arrived.
    arrive: Option<usize>,
}

impl Given {
    fn read(options: &mut Options) -> Result<Self, String> {
        let given = Self {
            source: options.text("source"),
            new_source: options.flag("new-source"),
            kind: options.one_of("kind", &KINDS)?,
            count: options.number("count")?,
            dead: options.number("dead")?,
            sent: options.day("sent")?,
            due: options.day("due")?,
            arrived: options.day("arrived")?,
            grafted: options.day("grafted")?,
            born: options.text("born"),
            dot: options.one_of("dot", &dots())?,
            amend: options.number("amend")?,
            late: options.number("late")?,
            promised: options.day("promised")?,
            arrive: options.number("arrive")?,
        };
        if [given.late, given.arrive, given.amend].iter().flatten().count() > 1 {
            return Err("One of --late, --arrive and --amend at a time. Give them one after the other".to_owned());
        }
        let late = Self { late: given.late, promised: given.promised, ..Self::default() };
        if given.late.is_some() && given != late {
            return Err("--late goes with --promised alone. Put the rest right with --amend".to_owned());
        }
        Ok(given)
    }
}

const KINDS: [(&str, ParcelKind); 3] =
    [("caged", ParcelKind::CagedQueens), ("cells", ParcelKind::Cells), ("virgins", ParcelKind::Virgins)];

/// Whether its queens carry a dot.
#[derive(Clone, Copy, PartialEq)]
enum Carries {
    Dot(Dot),
    None,
}

fn dots() -> Vec<(&'static str, Carries)> {
    Dot::ALL.iter().map(|dot| (dot.name(), Carries::Dot(*dot))).chain([("none", Carries::None)]).collect()
}

impl Job for Given {
    fn answer(&self, common: &Common) -> Result<Output, String> {
        let mut session = Session::open(common)?;
        let world = session.world();
        if *self == Self::default() {
            return Ok(Output::text(list(&world, session.today)));
        }
        let day = session.today;
        if let Some(number) = self.late {
            let parcel = numbered(&world, number)?.id;
            let promised = self.promised.ok_or("A late parcel has a new day: give --promised DATE")?;
            return Ok(session.apply(&Change::ParcelLate { parcel, promised, day })?.said());
        }
        let (before, arrived) = match (self.arrive, self.amend) {
            (Some(number), _) => (numbered(&world, number)?.clone(), self.arrived.or(Some(day))),
            (None, Some(number)) => (numbered(&world, number)?.clone(), self.arrived),
            (None, None) => (new(self)?, self.arrived),
        };
        let is_new = !world.parcels.contains_key(&before.id);
        let (source, new_source) = source(&world, self)?;
        let parcel = Parcel {
            source: source.or(before.source),
            kind: self.kind.unwrap_or(before.kind),
            count: self.count.unwrap_or(before.count),
            dead: self.dead.unwrap_or(before.dead),
            sent: self.sent.or(before.sent),
            due: self.due.or(before.due),
            arrived: arrived.or(before.arrived),
            grafted: self.grafted.or(before.grafted),
            born: born(&world, self, day)?.unwrap_or(before.born),
            dot: match self.dot {
                None => before.dot,
                Some(Carries::Dot(dot)) => Some(dot),
                Some(Carries::None) => None,
            },
            ..before
        };
        if !is_new && new_source.is_none() {
            return Ok(session.apply(&Change::PutParcel(parcel))?.said());
        }
        let from = self.source.as_ref().map_or(String::new(), |name| format!(" from {name}"));
        let title = format!("Parcel of {}{from}", parcel.count);
        let mut changes: Vec<Change> = new_source.map(Change::PutSource).into_iter().collect();
        changes.push(Change::PutParcel(parcel));
        Ok(session.apply(&Change::Several { title, changes })?.said())
    }
}

/// A parcel of which only the count is known.
fn new(given: &Given) -> Result<Parcel, String> {
    Ok(Parcel {
        id: ParcelId(mint()),
        source: None,
        kind: ParcelKind::CagedQueens,
        count: given.count.ok_or("A parcel has a count: give --count N")?,
        dead: 0,
        gone: 0,
        sent: None,
        due: None,
        promised: given.promised,
        arrived: None,
        grafted: None,
        born: Birth::default(),
        dot: None,
        closed: false,
        note: String::new(),
    })
}

fn born(world: &World, given: &Given, today: Day) -> Result<Option<Birth>, String> {
    let Some(typed) = &given.born else { return Ok(None) };
    read_birth(typed, world, today).map(Some).map_err(|error| format!("--born: {error}"))
}

/// The source that is named. One that is new is made, unless an old one may be meant.
fn source(world: &World, given: &Given) -> Result<(Option<SourceId>, Option<Source>), String> {
    let Some(name) = &given.source else { return Ok((None, None)) };
    if let Some(source) = source_named(world, name) {
        return Ok((Some(source.id), None));
    }
    if let Some(like) = sources_like(world, name).first().filter(|_| !given.new_source) {
        let known = &like.name;
        return Err(format!(
            "No source is called {name}; {known} is one. Give --source \"{known}\", or --new-source to make {name} too"
        ));
    }
    let source = Source { id: SourceId(mint()), name: name.trim().to_owned(), own: false };
    Ok((Some(source.id), Some(source)))
}

/// Parcels in the order of the list: newest first.
fn parcels(world: &World) -> Vec<&Parcel> {
    let mut list: Vec<&Parcel> = world.parcels.values().collect();
    list.sort_by_key(|parcel| std::cmp::Reverse((parcel.arrived.or(parcel.expected()).or(parcel.sent), parcel.id)));
    list
}

fn numbered(world: &World, number: usize) -> Result<&Parcel, String> {
    let list = parcels(world);
    let found = number.checked_sub(1).and_then(|at| list.get(at)).copied();
    found.ok_or_else(|| format!("There is no parcel {number}. `lidnote parcel` lists them"))
}

fn list(world: &World, today: Day) -> String {
    let headings = "number,source,kind,sent,due,arrived,count,dead,given,in hand,days held,queens born,dot";
    let line = |(at, parcel): (usize, &Parcel)| {
        let hand = in_hand(world, parcel.id, today)?;
        let source = parcel.source.and_then(|source| world.sources.get(&source)).map_or("", |it| it.name.as_str());
        let kind = KINDS.iter().find(|(_, kind)| *kind == parcel.kind).map_or("", |(word, _)| word);
        let day = |day: Option<Day>| day.map(Day::iso).unwrap_or_default();
        let held = hand.held_days.map_or(String::new(), |days| days.to_string());
        Some(vec![
            (at + 1).to_string(),
            source.to_owned(),
            kind.to_owned(),
            day(parcel.sent),
            day(parcel.expected()),
            day(parcel.arrived),
            parcel.count.to_string(),
            parcel.dead.to_string(),
            hand.given.to_string(),
            hand.left.to_string(),
            held,
            birth_words(parcel.born, world),
            parcel.dot.map_or("", Dot::name).to_owned(),
        ])
    };
    let lines = parcels(world).into_iter().enumerate().filter_map(line);
    table(std::iter::once(headings.split(',').map(str::to_owned).collect()).chain(lines))
}
