//! A visit written as codes again, in one fixed order.

use crate::domain::fold_text::fold;
use crate::domain::ids::ColonyId;
use crate::domain::queen::Dot;
use crate::domain::visit::{Coverage, Disease, InCage, Method, Unopened, Visit};
use crate::domain::world::World;

/// The codes of a visit with its words. What no code can say (the queen's own details, where the old queen went) is
/// left out.
pub fn codes_of(world: &World, visit: &Visit, words: &str) -> String {
    let mut parts: Vec<String> = Vec::new();
    if let Coverage::Unopened(why) = visit.coverage {
        parts.push(
            match why {
                Unopened::Weather => "-r",
                Unopened::Time => "-t",
                Unopened::NotFound => "-f",
            }
            .to_owned(),
        );
    }
    let letters = letters(visit);
    if !letters.is_empty() {
        parts.push(letters);
    }
    parts.extend(visit.seen.closed_cells.map(|count| format!("c{count}")));
    parts.extend(visit.seen.begun_cells.map(|count| format!("y{count}")));
    parts.extend(visit.seen.disease.map(|disease| disease_code(disease).to_owned()));
    parts.extend(visit.temper.map(|temper| format!("t{temper}")));
    parts.extend(given(visit));
    parts.extend(done(visit));
    parts.extend(visit.lids_swapped.map(|other| swap_code(world, other)));
    let words = words.split_whitespace().collect::<Vec<_>>().join(" ");
    if !words.is_empty() {
        parts.push(format!("'{words}"));
    }
    parts.join(" ")
}

fn letters(visit: &Visit) -> String {
    let seen = &visit.seen;
    let said = [
        (seen.eggs, 'e'),
        (seen.larvae, 'l'),
        (seen.capped, 'b'),
        (seen.her, 'q'),
        (seen.another, 'u'),
        (seen.opened_cell, 'o'),
        (seen.nothing, 'n'),
        (seen.cage == Some(InCage::Alive), 'k'),
        (seen.cage == Some(InCage::Dead), 'm'),
        (seen.drone_layer, 'd'),
        (seen.laying_workers, 'w'),
        (seen.swarmed, 's'),
        (seen.dead, 'z'),
        (visit.coverage == Coverage::Part, 'p'),
    ];
    said.iter().filter(|(is, _)| *is).map(|(_, letter)| *letter).collect()
}

fn disease_code(disease: Disease) -> &'static str {
    match disease {
        Disease::NotNamed => "x",
        Disease::AmericanFoulbrood => "x1",
        Disease::EuropeanFoulbrood => "x2",
        Disease::Chalkbrood => "x3",
        Disease::Other => "x4",
    }
}

fn given(visit: &Visit) -> Option<String> {
    let gave = visit.gave.as_ref()?;
    Some(match gave.method {
        Method::Caged => "+q".to_owned(),
        Method::PushIn => "+p".to_owned(),
        Method::Cell if gave.cells > 1 => format!("+c{}", gave.cells),
        Method::Cell => "+c".to_owned(),
        Method::Virgin => {
            gave.emerged.map_or("+v".to_owned(), |emerged| format!("+v{}/{}", emerged.day_of_month(), emerged.month()))
        }
        Method::Nuc => "+n".to_owned(),
        Method::OwnRaising => return None,
    })
}

fn done(visit: &Visit) -> Vec<String> {
    let did = &visit.did;
    let raising = visit.gave.as_ref().is_some_and(|gave| gave.method == Method::OwnRaising);
    let said = [
        (did.test_frame.is_some_and(|frame| !frame.marked), "+f"),
        (did.test_frame.is_some_and(|frame| frame.marked), "+f1"),
        (did.cells_left || raising, "+s"),
        (did.dequeened, "/q"),
        (did.queen_not_found, "?q"),
        (did.cells_cut, "/c"),
        (did.cage_off, "/k"),
    ];
    let mut codes: Vec<String> = said.iter().filter(|(is, _)| *is).map(|(_, code)| (*code).to_owned()).collect();
    if let Some(marked) = did.marked {
        codes.push(match marked.dot {
            None => "+d".to_owned(),
            Some(Dot::White) => "+d1".to_owned(),
            Some(Dot::Yellow) => "+d2".to_owned(),
            Some(Dot::Red) => "+d3".to_owned(),
            Some(Dot::Green) => "+d4".to_owned(),
            Some(Dot::Blue) => "+d5".to_owned(),
        });
    }
    codes
}

fn swap_code(world: &World, other: ColonyId) -> String {
    let name = world.colonies.get(&other).map_or("", |colony| colony.name());
    if name.is_empty() {
        return "'lids swapped with a hive that is gone".to_owned();
    }
    if fold(name).contains(' ') { format!("~\"{name}\"") } else { format!("~{name}") }
}
