//! Headings are recognised as plain trade words in any case and order; the user maps the others.

use crate::domain::fold_text::fold;

macro_rules! fields {
    ($($field:ident: $name:literal, $about:literal, [$($other:literal),*];)+) => {
        /// What a column can hold.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum Field {
            $(#[doc = $about] $field),+
        }

        impl Field {
            /// All fields, in the order an export writes them.
            pub const ALL: &[Self] = &[$(Self::$field),+];

            /// Its heading.
            pub fn name(self) -> &'static str {
                match self { $(Self::$field => $name),+ }
            }

            /// What it holds, one sentence.
            pub fn about(self) -> &'static str {
                match self { $(Self::$field => $about),+ }
            }

            fn other_names(self) -> &'static [&'static str] {
                match self { $(Self::$field => &[$($other),*]),+ }
            }
        }
    };
}

fields! {
    Entry: "entry", "What the row is: firm, setting, source, yard, parcel, hive, corrected, named, stood, visit, answer, lifted, split, united, amended, plan, plan moved, bar, run, stop or left out; empty: a hive, or a yard where no hive is named.", ["rowis"];
    Yard: "yard", "The yard's name.", ["site", "apiary", "location", "beeyard", "yardname", "sitename", "apiaryname", "apiarysite", "name"];
    Latitude: "latitude", "Degrees, north positive.", ["lat"];
    Longitude: "longitude", "Degrees, east positive.", ["lon", "lng", "long"];
    Coordinates: "coordinates", "Latitude and longitude in one cell, as 55.1, -105.3.", ["gps", "gpscoordinates", "gpsposition", "gpslocation", "coords", "coord", "coordinate", "latlon", "latlong", "latlng", "latitudelongitude", "lonlat", "geo"];
    GateOpens: "gate opens", "When the gate opens.", ["gateopen", "opens", "gatefrom"];
    GateCloses: "gate closes", "When the gate closes.", ["gateclosed", "gateclose", "closes", "gateto"];
    Minutes: "minutes", "Usual minutes of service at the yard; more where the due work takes more.", ["min", "mins", "serviceminutes", "servicetime", "usualminutes"];
    Access: "access", "How one gets in.", ["gatecode", "howtogetin", "directions"];
    Hazards: "hazards", "What to beware of, separated by semicolons.", ["hazard", "beware", "dangers"];
    Group: "hygiene group", "Yards of one group share tools.", ["group", "toolgroup"];
    Layout: "layout", "Rows or pallets.", [];
    Hive: "hive", "The name painted on the hive.", ["hiveno", "hivenumber", "hivenr", "hiveid", "hivename", "hives", "colony", "colonyno", "colonynumber", "colonyid", "hivecode"];
    Row: "row", "Row in the yard, or pallet.", ["pallet", "rowno", "palletno"];
    Place: "place", "Place in the row, or corner of the pallet.", ["position", "pos", "spot", "corner"];
    Since: "known since", "The day the colony was founded or first known.", ["since", "founded"];
    Founding: "founding", "How the colony was founded.", [];
    Queen: "queen", "None, where the colony has no queen. In an export a number, where another row tells of the same queen.", ["queenstate"];
    Born: "queen born", "Day, month or year of her birth.", ["queenyr", "queenyear", "queenbirth", "queenhatched", "queenemerged", "born", "birth", "yearofqueen", "queenborndate"];
    Dot: "dot", "The colour of her dot.", ["mark", "marked", "marking", "queencolour", "queencolor", "colour", "color", "queendot", "queenmark"];
    Source: "source", "The breeder or own line she is from.", ["breeder", "line", "strain", "supplier", "queensource", "queenline", "queenfrom", "queenbreeder", "queenstock", "queensupplier", "stock"];
    OwnLine: "own line", "Yes, where the source is an own line.", ["own"];
    Origin: "origin", "How she came to be.", [];
    QueenNote: "queen note", "Free words about the queen.", ["queennotes"];
    Introduced: "introduced", "The day she was given.", ["datein", "introducedon", "dateintroduced", "introductiondate", "given", "givenon", "requeened", "requeenedon", "queenin", "cagedin", "introduction"];
    Method: "method", "How she was given.", ["how", "introductionmethod", "introducedas", "givenas"];
    Dequeened: "dequeened", "The day the old queen was removed; not found; queenless. Empty: the default of the method. With no day introduced the colony waits for her queen.", ["dequeenedon", "oldqueenremoved", "oldqueenout", "oldqueen", "oldqueenkilled"];
    Cells: "cells", "For cells: how many were given.", ["cellsgiven"];
    Emerged: "emerged", "For a virgin: the day she emerged.", ["emergedon", "virginemerged"];
    LastLook: "last look", "The day somebody looked last.", ["looked", "lookedon", "lastseen", "lastvisit", "lastvisited", "visited", "lastinspection", "lastinspected", "inspected", "inspection", "date", "day", "visit", "look"];
    Found: "found", "What was found then, in codes or plain words.", ["find", "finding", "findings", "seen", "result", "codes"];
    By: "by", "Who looked (initials).", ["initials", "who"];
    Words: "words", "Free words about that look.", [];
    Note: "note", "Free words about the hive, or the yard where no hive is named.", ["notes", "remark", "remarks", "comment", "comments", "desc", "description"];
    Ended: "ended", "The last day of a colony that has ended.", ["endedon", "lastday"];
    EndWhy: "why ended", "Sold, died, united, shaken out, destroyed, gone.", ["why", "endedwhy"];
    Answer: "answer", "Which queen another one was: lost, superseded, same after all.", [];
    Bar: "bar", "What kind of bar was set.", [];
    Until: "until", "The last day a bar holds.", [];
    Permit: "permit", "The permit under which work may be planned in a quarantine.", [];
    LiftedBy: "lifted by", "Who lifted a bar (initials).", [];
    Setting: "setting", "The name of a setting.", [];
    Value: "value", "Its value.", [];
    Firm: "firm", "The beekeeper's or the firm's name.", [];
    Home: "home", "What the place is called where runs begin.", [];
    Hemisphere: "hemisphere", "South or north.", [];
    Removed: "removed", "Yes, where the yard is no longer there, and former hives stood in it.", [];
    Parent: "parent", "The hive it was split from, as yard/hive.", [];
    UnitedInto: "united into", "The hive into which it was united, as yard/hive.", [];
    EndedBy: "ended by", "Who recorded its end (initials).", [];
    EndWords: "end words", "Free words about its end.", [];
    Label: "label", "The lines last printed for its lid.", [];
    LabelDay: "label day", "The day they were printed.", [];
    LabelWanted: "label wanted", "Yes, where the lid no longer shows them.", [];
    Called: "called", "A name the hive had, from the day known since.", [];
    StoodIn: "stood in", "A yard the hive stood in, from the day known since.", [];
    AgainstBar: "against bar", "The bar in spite of which a queen was given.", [];
    QueenTo: "queen to", "The hive that took the removed queen, as yard/hive.", [];
    LidSwapped: "lid swapped with", "The hive with which lids were swapped, as yard/hive.", [];
    OtherHive: "other hive", "The hive that was split off or received, or at which a record was before it was amended, as yard/hive.", [];
    SaidThere: "said there", "What the record said at that hive.", [];
    Evening: "evening", "The number of the evening with which it was entered.", [];
    EveningPlace: "place in evening", "Its place among what was entered then.", [];
    TakenBack: "taken back", "Yes, where an amendment says that it did not happen.", [];
    Parcel: "parcel", "The number of a parcel in this file.", [];
    ParcelKind: "parcel kind", "Caged queens, cells or virgins.", [];
    ParcelCount: "parcel count", "How many were sent, dead ones included.", [];
    ParcelDead: "parcel dead", "How many were dead on arrival, or died in hand.", [];
    ParcelGone: "parcel gone", "How many left it other than into a hive.", [];
    ParcelSent: "parcel sent", "The day it was sent.", [];
    ParcelDue: "parcel due", "The day it was first due.", [];
    ParcelPromised: "parcel promised", "The day now promised.", [];
    ParcelArrived: "parcel arrived", "The day it arrived.", [];
    Grafted: "grafted", "For cells: the day of the graft.", [];
    PutAway: "put away", "Yes, where the rest of a parcel was put away.", [];
    GiveOn: "give on", "The day a queen is planned to be given.", [];
    DequeenOn: "dequeen on", "The day the old queen is planned to be removed.", [];
    CalledOff: "called off", "The day a plan was called off.", [];
    RunDay: "run day", "The day of a run.", [];
    Vehicle: "vehicle", "Vehicle or driver of a run.", [];
    Leave: "leave", "When a run leaves.", [];
    Locked: "locked", "Yes, where a stop keeps its place in the order.", [];
}

impl Field {
    /// A column of tables made by hand. The others are known only in a file that says of each row what it is, as an
    /// export does: in anybody's own table the same word may mean another thing.
    pub fn is_by_hand(self) -> bool {
        (self as usize) < (Self::Firm as usize)
    }
}

/// A heading without case, accents, spaces and signs.
pub fn plain(heading: &str) -> String {
    fold(heading).chars().filter(|sign| sign.is_alphanumeric()).collect()
}

/// The field a heading plainly names; what stands behind it in brackets may be a remark, as in `GPS (lat/lon)`.
pub fn field_of(heading: &str) -> Option<Field> {
    named_plainly(heading).or_else(|| {
        let (before, _) = heading.split_once(['(', '['])?;
        named_plainly(before)
    })
}

fn named_plainly(heading: &str) -> Option<Field> {
    let plain = plain(heading);
    let named = |field: &Field| {
        let name: String = field.name().chars().filter(|sign| *sign != ' ').collect();
        name == plain || field.other_names().contains(&plain.as_str())
    };
    Field::ALL.iter().copied().find(named)
}

/// The field with that heading of ours, as `--map "their heading=ours"` names it.
pub fn field_named(name: &str) -> Option<Field> {
    let plain = plain(name);
    Field::ALL.iter().copied().find(|field| field.name().chars().filter(|sign| *sign != ' ').eq(plain.chars()))
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use super::{Field, field_named, field_of};

    #[test]
    fn headings_are_known_in_any_case_and_spacing() {
        for (heading, field) in [
            ("Yard", Field::Yard),
            ("site", Field::Yard),
            ("HIVE NO.", Field::Hive),
            ("queen_yr", Field::Born),
            ("Queen born", Field::Born),
            ("breeder", Field::Source),
            ("date in", Field::Introduced),
            ("Lat", Field::Latitude),
            ("LNG", Field::Longitude),
            ("last look", Field::LastLook),
            ("LastLook", Field::LastLook),
            ("gate-opens", Field::GateOpens),
            ("GPS (lat/lon)", Field::Coordinates),
            ("Marked?", Field::Dot),
            ("Apiary (name)", Field::Yard),
        ] {
            assert_eq!(field_of(heading), Some(field), "{heading}");
        }
        assert_eq!(field_of("frames of honey"), None);
        assert_eq!(field_of(""), None);
        assert_eq!(field_named("Queen Born"), Some(Field::Born));
        assert_eq!(field_named("breeder"), None);
    }

    #[test]
    fn no_heading_names_two_fields() {
        let mut seen = BTreeMap::new();
        for field in Field::ALL {
            for name in
                std::iter::once(super::plain(field.name())).chain(field.other_names().iter().map(|&it| it.into()))
            {
                assert_eq!(seen.insert(name.clone(), *field), None, "{name} names two fields");
            }
        }
    }
}
