//! The firm's yards: how one gets in, what to beware of, how the hives stand, and how old their queens are to be.

use lidnote::domain::yard::Layout;

use crate::maker::Done;

/// A yard of the demo.
pub struct Plot {
    /// Its name.
    pub name: String,
    /// What the names of its hives begin with.
    pub prefix: &'static str,
    /// Degrees north.
    pub lat: f64,
    /// Degrees east.
    pub lon: f64,
    /// Its hives.
    pub hives: usize,
    /// How they stand.
    pub layout: Layout,
    /// Who goes there.
    pub by: &'static str,
    /// Of a hundred queens, how many are in their first, second, third season and older; the rest is not known.
    pub ages: [usize; 4],
}

const PREFIXES: [&str; 42] = [
    "B", "AH", "WB", "NG", "GC", "TP", "BR", "SF", "K", "TF", "NF", "TK", "MR", "L", "TT", "FP", "H", "MP", "OR", "TH",
    "TM", "CB", "GR", "FC", "LF", "SW", "WI", "HC", "BS", "QS", "DW", "SS", "CV", "SK", "WC", "TD", "CE", "CS", "SM",
    "BH", "HL", "BP",
];

/// Yards on pallets.
const PALLETS: [&str; 6] = ["Heath yard", "Limekiln", "Withy Bed", "Clover Bank", "Hawthorn Lane", "Barley Hill"];

/// Yards of young queens, of queens in their second season, of old ones; the others are mixed.
const PALE: [&str; 9] = [
    "Thistle Down",
    "Barley Hill",
    "Thrift Head",
    "Fallow Corner",
    "South Stile",
    "Bracken Side",
    "Hawthorn Lane",
    "Driftwood",
    "Marl Pit",
];
const AMBER: [&str; 8] =
    ["Turnpike", "Thrift Ford", "Sallow Meadow", "Tansy Top", "Causeway", "Hazel Copse", "Long Furrow", "Gull Rock"];
const DARK: [&str; 9] = [
    "Skylark",
    "Clover Bank",
    "West Croft",
    "Beacon Point",
    "Tide Mill",
    "Quarry Shelf",
    "Cairn Brow",
    "Limekiln",
    "Withy Bed",
];

/// All yards, in the order of the list that the map's generator writes.
pub fn plots() -> Done<Vec<Plot>> {
    let mut plots = Vec::new();
    for (line, prefix) in include_str!("../wrackmore-yards.csv").lines().skip(1).zip(PREFIXES) {
        let [name, lat, lon, hives] = line.split(',').collect::<Vec<_>>()[..] else {
            return Err(format!("not a yard: {line}").into());
        };
        let lon: f64 = lon.parse()?;
        let name = if name == "Heath Yard" { "Heath yard" } else { name };
        let listed = |list: &[&str]| list.contains(&name);
        plots.push(Plot {
            name: name.to_owned(),
            prefix,
            lat: lat.parse()?,
            lon,
            // Heath yard is six pallets; what the list has more stands at Beacon Point.
            hives: hives.parse::<usize>()? + if name == "Beacon Point" { 10 } else { 0 }
                - if name == "Heath yard" { 10 } else { 0 },
            layout: if listed(&PALLETS) { Layout::Pallets } else { Layout::Rows },
            by: if lon > 160.12 {
                "MK"
            } else if lon < 159.87 {
                "JT"
            } else {
                "AR"
            },
            ages: if listed(&PALE) {
                [48, 26, 18, 5]
            } else if listed(&AMBER) {
                [12, 52, 26, 6]
            } else if listed(&DARK) {
                [6, 22, 48, 20]
            } else {
                [18, 38, 30, 10]
            },
        });
    }
    Ok(plots)
}
