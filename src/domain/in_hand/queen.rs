//! What is known of a queen at the moment she is given: by the method, and by the parcel she is from.

use crate::domain::day::Day;
use crate::domain::ids::ParcelId;
use crate::domain::parcel::{Parcel, ParcelKind};
use crate::domain::queen::{Birth, Origin};
use crate::domain::settings::Settings;
use crate::domain::visit::Method;
use crate::domain::world::World;

/// A virgin whose day of emergence is not known is taken to be at most that many days old. From memory: older ones no
/// longer mate.
const VIRGIN_AT_MOST: i32 = 30;
/// A mature cell's queen emerges at most that many days after it is given (trade.md 2.1 C: 0 to 2 days).
const CELL_AT_MOST: i32 = 2;

/// The birth of a queen given by that method on that day: as her parcel says it, where it says anything and no day of
/// emergence was given with her; else as the method says it.
pub fn birth_of_given(
    settings: &Settings,
    parcel: Option<&Parcel>,
    method: Method,
    day: Day,
    emerged: Option<Day>,
) -> Birth {
    if method == Method::Cell {
        // A cell that was kept too long holds a virgin, who came out when her graft says.
        let virgin_on = parcel.and_then(|parcel| parcel.grafted).map(|on| on.plus(settings.cell_is_virgin_after()));
        let out = virgin_on.filter(|out| *out < day).map(|out| Birth::between(out.plus(-CELL_AT_MOST), out));
        return out.unwrap_or_else(|| birth_by_method(method, day, emerged));
    }
    let told = parcel.map(|parcel| parcel.born).filter(|born| !born.is_unknown() && emerged.is_none());
    told.unwrap_or_else(|| birth_by_method(method, day, emerged))
}

/// The day a virgin emerged: as it was given with her, else as her parcel says it to the day.
pub fn emerged_of_given(world: &World, parcel: Option<ParcelId>, emerged: Option<Day>) -> Option<Day> {
    let of_parcel = || {
        let parcel = world.parcels.get(&parcel?).filter(|parcel| parcel.kind == ParcelKind::Virgins)?;
        parcel.born.exact()
    };
    emerged.or_else(of_parcel)
}

/// What is known of the birth of a queen given by that method on that day.
pub fn birth_by_method(method: Method, day: Day, emerged: Option<Day>) -> Birth {
    match (method, emerged) {
        (Method::Cell, _) => Birth::between(day, day.plus(CELL_AT_MOST)),
        (Method::Virgin, Some(emerged)) => Birth::on(emerged),
        (Method::Virgin, None) => Birth::between(day.plus(-VIRGIN_AT_MOST), day),
        (Method::Caged | Method::PushIn | Method::Nuc | Method::OwnRaising, _) => Birth::default(),
    }
}

/// How a queen given by that method came to be.
pub fn origin_by_method(method: Method) -> Origin {
    match method {
        Method::Caged | Method::PushIn => Origin::Mated,
        Method::Cell => Origin::Cell,
        Method::Virgin => Origin::Virgin,
        Method::Nuc => Origin::WithColony,
        Method::OwnRaising => Origin::OwnRaising,
    }
}
