//! The colours and fonts of the base map, filled in by the theme.

use egui::{Color32, FontId};

/// Colours of everything below the hives; each bears the name of its token.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct BaseColours {
    /// Sea, and whatever no map covers.
    pub sea: Color32,
    /// Dry land, and the halo of labels.
    pub land: Color32,
    /// Woods.
    pub wood: Color32,
    /// Lakes and rivers.
    pub water: Color32,
    /// The coast line.
    pub coast: Color32,
    /// Built-up areas and the fill of a town's square.
    pub town: Color32,
    /// Main roads.
    pub road_1: Color32,
    /// Edges of main roads.
    pub road_1_case: Color32,
    /// Lesser roads.
    pub road_2: Color32,
    /// Edges of lesser roads.
    pub road_2_case: Color32,
    /// Tracks, and borders between countries.
    pub track: Color32,
    /// Names of towns and the edge of their squares.
    pub label: Color32,
    /// Names in the sea.
    pub label_sea: Color32,
}

/// Fonts of the base map's labels.
#[derive(Debug, Clone, PartialEq)]
pub struct BaseFonts {
    /// Towns and villages.
    pub town: FontId,
    /// Chief towns and cities.
    pub chief: FontId,
    /// Bays and seas.
    pub sea: FontId,
}

/// How the base map looks.
#[derive(Debug, Clone, PartialEq)]
pub struct BaseLook {
    /// Its colours.
    pub colours: BaseColours,
    /// Its fonts.
    pub fonts: BaseFonts,
}

#[cfg(test)]
pub(crate) mod tests {
    use super::{BaseColours, BaseFonts, BaseLook};
    use egui::{Color32, FontId};

    /// Thirteen different greys: tests tell them apart, nobody sees them.
    pub(crate) fn colours() -> BaseColours {
        let mut grey = (1..).map(Color32::from_gray);
        let mut next = || grey.next().unwrap_or_default();
        BaseColours {
            sea: next(),
            land: next(),
            wood: next(),
            water: next(),
            coast: next(),
            town: next(),
            road_1: next(),
            road_1_case: next(),
            road_2: next(),
            road_2_case: next(),
            track: next(),
            label: next(),
            label_sea: next(),
        }
    }

    pub(crate) fn look() -> BaseLook {
        let font = FontId::proportional(14.0);
        BaseLook { colours: colours(), fonts: BaseFonts { town: font.clone(), chief: font.clone(), sea: font } }
    }
}
