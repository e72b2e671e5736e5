//! Whole stories of B14, told in one line each: how it began, what was found and done, and all that follows from it.

use std::fmt::Write as _;

use lidnote::domain::colony::FirstQueen;
use lidnote::domain::day::Day;
use lidnote::domain::queen::Origin;
use lidnote::domain::record::{Happening, Which};
use lidnote::domain::standing::{Identity, LastLook, Laying, Phase, QueenNow, Standing};
use lidnote::domain::visit::{Method, OldQueen};

use super::hives::{B14, Hives, day, due_words};

/// How a story begins. Where a queen was given it was on 14 November, as [`Hives::given`] says.
fn begun(how: &str) -> Hives {
    let mut hives = Hives::new();
    if let Some(named) = how.strip_suffix(", old queen not found") {
        hives.gave_to(B14, day("14 Nov"), method(named), OldQueen::NotFound, None, "");
        return hives;
    }
    match how {
        "unknown queen" => {}
        "recorded queen" | "dequeened 13 Nov" => {
            let queen = hives.queen(Method::Caged);
            hives.colony(B14, "B14", FirstQueen::Recorded(queen));
            if how == "dequeened 13 Nov" {
                hives.saw("13 Nov", "/q");
            }
        }
        "no queen" => hives.colony(B14, "B14", FirstQueen::None),
        "caged queen planned for 25 Nov, dequeened 13 Nov" => {
            hives.plan("1 Nov", Method::Caged, "25 Nov", Some("13 Nov"));
            hives.saw("13 Nov", "/q");
        }
        given => hives = Hives::given(method(given)),
    }
    hives
}

fn method(words: &str) -> Method {
    Method::ALL.into_iter().find(|method| method.words() == words).expect("a method")
}

/// A story: `caged queen; 24 Nov n; 1 Dec e`. Answers the hive and the last day.
pub fn story(text: &str) -> (Hives, Day) {
    let mut parts = text.split("; ");
    let mut hives = begun(parts.next().expect("a beginning"));
    let mut last = day("14 Nov");
    for part in parts {
        let at = part.match_indices(' ').nth(1).map_or(part.len(), |(at, _)| at);
        let (on, what) = (&part[..at], part[at..].trim());
        last = day(on);
        match (what.strip_prefix("gave "), what) {
            (Some(words), _) => {
                hives.gave(on, method(words), OldQueen::AsRecorded, "");
            }
            (_, "lost") => answer(&mut hives, last, Which::Lost),
            (_, "superseded") => answer(&mut hives, last, Which::Superseded),
            (_, "the same after all") => answer(&mut hives, last, Which::SameAfterAll),
            (_, codes) => {
                hives.saw(on, codes);
            }
        }
    }
    (hives, last)
}

fn answer(hives: &mut Hives, on: Day, which: Which) {
    hives.happened(B14, on, Happening::Which(which));
}

/// What the last record meant, and how the hive stands on its day. What says nothing is left out.
pub fn told(hives: &Hives, on: Day) -> String {
    let course = lidnote::domain::standing::course(&hives.world, B14, on).expect("B14 is there");
    let (_, outcome) = course.outcomes.last().expect("a record");
    let standing = &course.standing;
    let mut text = format!("{} [{:?}", outcome.sentence, outcome.class);
    if let Some((method, accepted)) = outcome.settled {
        write!(text, ", {} {}", method.words(), if accepted { "accepted" } else { "failed" }).expect("text");
    }
    text.push(']');
    let facts = [phase(standing), queen(standing), which(standing), laying(standing), work(standing), offers(standing)];
    for fact in facts.into_iter().filter(|fact| !fact.is_empty()) {
        write!(text, " {fact}.").expect("text");
    }
    if let Some(clock) = &standing.clock {
        write!(text, " D+{}: {}", clock.days, clock.asks).expect("text");
    }
    write!(text, " Lid {:?}.", standing.lid_state(on)).expect("text");
    text
}

fn phase(standing: &Standing) -> String {
    let last = standing.introduced.as_ref().map_or(String::new(), |introduced| match introduced.last {
        LastLook::None => String::new(),
        last => format!(", {last:?}").replace("Day(", "").replace("))", ")"),
    });
    match &standing.phase {
        Phase::Settled => "Settled".to_owned(),
        Phase::Introduced(introduced) => format!("In, attempt {}{last}", introduced.attempt),
        Phase::Accepted { on } => format!("Accepted {}", on.short()),
        Phase::RaisingOwn { since } => format!("Raising her own since {}", since.short()),
        Phase::Waiting { since } => format!("Waiting since {}", since.short()),
        Phase::Failed { on, how, cells_cut } => {
            format!("Failed {} by {how}{}", on.short(), if *cells_cut { ", cells cut" } else { "" })
        }
        Phase::DiseaseSuspected { on } => format!("Disease suspected {}", on.short()),
        Phase::Ended { on } => format!("Ended {}", on.short()),
    }
}

fn queen(standing: &Standing) -> String {
    let QueenNow::Present(queen) = &standing.queen else {
        return match standing.queen {
            QueenNow::Queenless { since: Some(since) } => format!("Queenless since {}", since.short()),
            QueenNow::Queenless { since: None } => "Queenless".to_owned(),
            _ => String::new(),
        };
    };
    let recorded = if queen.queen.is_some() { "Recorded queen" } else { "Queen not recorded" };
    let identity = match standing.identity {
        Identity::Seen(day) => format!(", seen {}", day.short()),
        Identity::Unconfirmed => ", unconfirmed".to_owned(),
        Identity::Another(day) => format!(", another seen {}", day.short()),
        Identity::NotRecorded => String::new(),
    };
    let bound = |day: Option<Day>| day.map_or("?".to_owned(), Day::short);
    let mated = queen.origin == Origin::Mated;
    let born = match (queen.birth.earliest, queen.birth.latest) {
        (None, None) => String::new(),
        (earliest, latest) if !mated => format!(", born {} to {}", bound(earliest), bound(latest)),
        _ => String::new(),
    };
    format!("{recorded}{identity}{born}")
}

fn which(standing: &Standing) -> String {
    standing.which.as_ref().map_or(String::new(), |which| {
        let last = which.last_hers.map_or("never".to_owned(), Day::short);
        format!("Which queen was it {}, hers last seen {last}", which.seen.short())
    })
}

fn laying(standing: &Standing) -> String {
    match standing.laying {
        Laying::Since(day) => format!("Laying since {}", day.short()),
        Laying::NotYet => "Not laying yet".to_owned(),
        Laying::No => "Not laying".to_owned(),
        Laying::Unknown => String::new(),
    }
}

fn work(standing: &Standing) -> String {
    let due = due_words(standing);
    if due.is_empty() { due } else { format!("Due: {due}") }
}

fn offers(standing: &Standing) -> String {
    let offers: Vec<String> = standing.offers.iter().map(|offer| format!("{offer:?}")).collect();
    if offers.is_empty() { String::new() } else { format!("Offered: {}", offers.join(", ")) }
}
