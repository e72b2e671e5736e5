//! The base map in the window's theme.

use crate::ui::map::base::look::{BaseColours, BaseFonts, BaseLook};
use crate::ui::theme::Tokens;
use crate::ui::theme::fonts::Weight;
use crate::ui::theme::text;

/// How the base map looks in a theme.
pub fn base_look(t: &Tokens) -> BaseLook {
    BaseLook {
        colours: BaseColours {
            sea: t.map_sea,
            land: t.map_land,
            wood: t.map_wood,
            water: t.map_water,
            coast: t.map_coast,
            town: t.map_town,
            road_1: t.map_road_1,
            road_1_case: t.map_road_1_case,
            road_2: t.map_road_2,
            road_2_case: t.map_road_2_case,
            track: t.map_track,
            label: t.map_label,
            label_sea: t.map_label_sea,
        },
        fonts: BaseFonts {
            town: text::TABLE.font(Weight::Medium),
            chief: text::TABLE.font(Weight::SemiBold),
            sea: text::TABLE.font(Weight::Regular),
        },
    }
}
