//! The days of every look, counted from the day they are counted from.

use crate::domain::day::Day;
use crate::domain::settings::Settings;
use crate::domain::standing::state::{Pending, Trial};
use crate::domain::visit::Method;
use crate::domain::work::{Look, Window, WorkKind};

/// The looks that follow from giving a queen by that method on day 0: what a form says before it is done.
///
/// `dequeened` is D (nothing: the default of the method), `emerged` the day a virgin emerged (nothing: day 0).
pub fn looks_for(
    settings: &Settings,
    method: Method,
    day0: Day,
    dequeened: Option<Day>,
    emerged: Option<Day>,
) -> Vec<(WorkKind, Window)> {
    use crate::domain::work::Step;
    let emerged = (method == Method::Virgin).then(|| emerged.unwrap_or(day0).min(day0));
    let base = if method == Method::OwnRaising { dequeened.unwrap_or(day0) } else { day0 };
    let mut looks = Vec::new();
    if method == Method::PushIn {
        looks.push((WorkKind::Step(Step::CageOff), cage_off(settings, day0)));
    }
    let (look, window) = first(settings, method, base, emerged);
    looks.push((WorkKind::Look(look), window));
    if method.mates_here() {
        looks.push((WorkKind::Look(Look::Verdict), verdict(settings, method, base, emerged)));
    }
    looks
}

/// D where nothing else is said: the default of the method.
pub fn default_dequeened(settings: &Settings, method: Method, day0: Day) -> Day {
    let before = match method {
        Method::Caged | Method::PushIn | Method::Nuc => settings.dequeen_before_caged(),
        Method::Cell | Method::Virgin => settings.dequeen_before_cell(),
        Method::OwnRaising => 0,
    };
    day0.plus(-before)
}

/// The acceptance look or the first brood look. `base`: day 0, or D for own raising.
pub(super) fn first(n: &Settings, method: Method, base: Day, emerged: Option<Day>) -> (Look, Window) {
    match method {
        Method::Caged | Method::PushIn => {
            (Look::Acceptance, Window::after(base, n.acceptance_earliest(), n.acceptance_best(), n.acceptance_latest()))
        }
        Method::Nuc => (Look::Acceptance, Window::after(base, n.nuc_earliest(), n.nuc_best(), n.nuc_latest())),
        Method::Cell | Method::Virgin => {
            let (from, shift) = brood_base(n, method, base, emerged);
            let days = (n.first_brood_earliest() - shift, n.first_brood_best() - shift, n.first_brood_latest() - shift);
            (Look::FirstBrood, not_before(Window::after(from, days.0, days.1, days.2), base))
        }
        Method::OwnRaising => (
            Look::FirstBrood,
            Window::after(base, n.own_raising_earliest(), n.own_raising_best(), n.own_raising_latest()),
        ),
    }
}

/// The verdict look of a queen that mates here; for the others the day from which their failure is certain.
pub(super) fn verdict(n: &Settings, method: Method, base: Day, emerged: Option<Day>) -> Window {
    match method {
        Method::Cell | Method::Virgin => {
            let (from, shift) = brood_base(n, method, base, emerged);
            let days = (n.verdict_earliest() - shift, n.verdict_best() - shift, n.verdict_latest() - shift);
            not_before(Window::after(from, days.0, days.1, days.2), base)
        }
        Method::OwnRaising => {
            let day = n.own_raising_latest();
            Window::after(base, day, day, day + n.own_raising_verdict_slack())
        }
        Method::Caged | Method::PushIn | Method::Nuc => {
            let day = n.caged_failed_from();
            Window::after(base, day, day, day)
        }
    }
}

/// The step that takes a push-in cage off.
pub(super) fn cage_off(n: &Settings, day0: Day) -> Window {
    Window::after(day0, n.cage_off_earliest(), n.cage_off_best(), n.cage_off_latest())
}

/// Look again after a find.
pub(super) fn again(n: &Settings, find: Day) -> Window {
    Window::after(find, n.again_earliest(), n.again_best(), n.again_latest())
}

/// The look at a test frame.
pub(super) fn frame(n: &Settings, given: Day) -> Window {
    Window::after(given, n.frame_look_earliest(), n.frame_look_best(), n.frame_look_latest())
}

/// Giving a queen to a colony that can raise none any more (all its cells were cut) and for which none is planned: from
/// D+7, before laying workers are likely.
pub(super) fn give_to_hopeless(n: &Settings, d: Day) -> Window {
    let earliest = n.cells_hopeless_from();
    Window::after(d, earliest, earliest + n.give_again_after(), n.laying_workers_from())
}

/// Another queen after a failure on that day. Where the failed one is still in there she must be found first: another is not
/// best before the best day to find her, and not late while she may still be looked for.
pub(super) fn give_again(n: &Settings, failed: Day, queen_there: bool) -> Window {
    let alone = Window::after(failed.plus(n.give_again_after()), 0, 0, n.give_latest());
    if !queen_there {
        return alone;
    }
    let find = find_again(n, failed);
    Window {
        earliest: alone.earliest.max(find.earliest),
        best: alone.best.max(find.best),
        latest: alone.latest.max(find.latest),
    }
}

/// Find the old queen again after a search.
pub(super) fn find_again(n: &Settings, search: Day) -> Window {
    Window::after(search, n.find_again_earliest(), n.find_again_best(), n.find_again_latest())
}

/// The day from which a queen that mates here is a late layer, if laying can have begun on it.
pub(super) fn late_from(n: &Settings, trial: &Trial) -> Option<Day> {
    match trial.method {
        Method::Cell | Method::Virgin => {
            let (from, shift) = brood_base(n, trial.method, trial.base, trial.emerged);
            Some(from.plus(n.late_layer_from() - shift))
        }
        Method::Caged | Method::PushIn | Method::Nuc | Method::OwnRaising => None,
    }
}

/// The day laying is expected to begin, where no find has said it: day 0 of a queen that came mated, day 15 of a cell,
/// e+13 of a virgin, D+28 of own raising.
pub(super) fn expected_start(n: &Settings, trial: &Trial) -> Day {
    match trial.method {
        Method::Caged | Method::PushIn | Method::Nuc => trial.base,
        Method::Cell => trial.base.plus(n.first_brood_best()),
        Method::Virgin => first(n, trial.method, trial.base, trial.emerged).1.earliest,
        Method::OwnRaising => trial.base.plus(n.own_raising_best()),
    }
}

/// The look that is due in a trial, with its window and the day it is counted from.
pub(super) fn pending(n: &Settings, trial: &Trial) -> Option<(Look, Window, Day)> {
    let base = trial.emerged.filter(|_| trial.method == Method::Virgin).unwrap_or(trial.base);
    match trial.look {
        Pending::First => {
            let (look, window) = first(n, trial.method, trial.base, trial.emerged);
            Some((look, window, base))
        }
        Pending::Second(find) => {
            let days = (n.second_acceptance_earliest(), n.second_acceptance_best(), n.second_acceptance_latest());
            Some((Look::SecondAcceptance, Window::after(find, days.0, days.1, days.2), find))
        }
        Pending::Verdict => Some((Look::Verdict, verdict(n, trial.method, trial.base, trial.emerged), base)),
        Pending::Capped(find) => {
            let days = (n.capped_look_earliest(), n.capped_look_best(), n.capped_look_latest());
            Some((Look::CappedBrood, Window::after(find, days.0, days.1, days.2), find))
        }
        Pending::Again(find) => Some((Look::Again, again(n, find), find)),
        Pending::Nothing => None,
    }
}

/// A cell counts from day 0; a virgin from the day she emerged, with a cell's days less the day to emergence.
fn brood_base(n: &Settings, method: Method, base: Day, emerged: Option<Day>) -> (Day, i32) {
    if method == Method::Virgin { (emerged.unwrap_or(base), n.cell_to_emergence()) } else { (base, 0) }
}

/// No look lies before the day after she was given, however old a virgin was.
fn not_before(window: Window, day0: Day) -> Window {
    let least = day0.plus(1);
    Window {
        earliest: window.earliest.max(least),
        best: window.best.max(least),
        latest: window.latest.map(|latest| latest.max(least)),
    }
}

#[cfg(test)]
mod tests {
    use super::{looks_for, verdict};
    use crate::domain::day::Day;
    use crate::domain::settings::Settings;
    use crate::domain::visit::Method;

    #[track_caller]
    fn check(method: Method, day0: &str, dequeened: Option<&str>, emerged: Option<&str>, expected: &[&str]) {
        let day = |iso: &str| Day::from_iso(iso).expect("a day");
        let looks = looks_for(&Settings::default(), method, day(day0), dequeened.map(day), emerged.map(day));
        let said: Vec<_> = looks.iter().map(|(kind, window)| format!("{} {}", kind.words(), window.words())).collect();
        assert_eq!(said, expected);
    }

    #[test]
    fn every_method_has_the_days_of_the_table() {
        check(Method::Caged, "2026-11-14", None, None, &["acceptance look 21, 24, 28 Nov"]);
        check(Method::Caged, "2026-12-28", None, None, &["acceptance look 4, 7, 11 Jan"]);
        check(
            Method::PushIn,
            "2026-11-20",
            None,
            None,
            &["take the cage off 23, 24, 25 Nov", "acceptance look 27, 30 Nov, 4 Dec"],
        );
        check(
            Method::Cell,
            "2026-11-14",
            None,
            None,
            &["first brood look 28, 29 Nov, 2 Dec", "verdict look 10, 12, 14 Dec"],
        );
        check(
            Method::Virgin,
            "2026-11-14",
            None,
            Some("2026-11-13"),
            &["first brood look 26, 27, 30 Nov", "verdict look 8, 10, 12 Dec"],
        );
        check(Method::Nuc, "2026-11-14", None, None, &["acceptance look 21, 21, 24 Nov"]);
        check(
            Method::OwnRaising,
            "2026-11-14",
            Some("2026-11-13"),
            None,
            &["first brood look 8, 11, 18 Dec", "verdict look 18, 18, 20 Dec"],
        );
    }

    #[test]
    fn an_old_virgin_gets_no_look_before_she_is_given() {
        let (given, emerged) = (Day::from_iso("2026-11-14").expect("a day"), Day::from_iso("2026-10-01"));
        for (_, window) in looks_for(&Settings::default(), Method::Virgin, given, None, emerged) {
            assert!(window.earliest > given);
        }
        assert!(verdict(&Settings::default(), Method::Virgin, given, emerged).earliest > given);
    }
}
