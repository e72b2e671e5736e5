//! What a feature of a vector tile is drawn as.
//!
//! Packs name things in several ways. Understood are the demo's own names and, as well as can be, the two common public
//! schemas (OpenMapTiles; Protomaps basemap), whose layer and class names are taken from their public documentation.

use super::mvt::{Feature, Layer, Value};

/// How a feature is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Class {
    /// Dry land (area).
    Land,
    /// Sea above land (area).
    Sea,
    /// Lake (area).
    Water,
    /// River, stream or canal (line).
    River,
    /// Wood (area).
    Wood,
    /// Built-up land (area).
    Town,
    /// Main road (line).
    Road1,
    /// Lesser road (line).
    Road2,
    /// Track or path (line).
    Track,
    /// Border between countries (line).
    Border,
    /// Name of a settlement; rank 0 city, 1 town, 2 village, 3 hamlet or suburb.
    Place(u8),
    /// Name of a country or region, without a square.
    Region,
    /// Name of a bay, sea or lake.
    SeaName,
}

/// Names of layers that hold dry land; a pack without one draws water upon land.
pub fn is_land_layer(name: &str) -> bool {
    matches!(name, "land" | "earth")
}

/// How a feature is drawn; none where it is not drawn.
pub fn class(layer: &Layer<'_>, feature: &Feature) -> Option<Class> {
    let tag = |key: &str| layer.text(feature, key);
    let kind = tag("kind").or_else(|| tag("class")).or_else(|| tag("pmap:kind"));
    let detail = tag("kind_detail").or_else(|| tag("subclass")).or_else(|| tag("pmap:kind_detail"));
    match layer.name {
        name if is_land_layer(name) => Some(Class::Land),
        "water" | "ocean" | "lakes" => water(kind),
        "waterway" | "waterways" | "rivers" | "river" => Some(Class::River),
        "landuse" | "landcover" | "natural" | "woods" | "wood" | "forest" | "park" => {
            detail.and_then(ground).or_else(|| kind.and_then(ground)).or_else(|| ground(layer.name))
        }
        "roads" | "road" | "transportation" | "streets" => {
            detail.and_then(road).or_else(|| kind.and_then(road)).or_else(|| tag("highway").and_then(road))
        }
        "places" | "place" => place(kind, detail),
        "water_name" | "water_names" | "sea" | "seas" => Some(Class::SeaName),
        "boundary" | "boundaries" => border(layer, feature, kind),
        _ => None,
    }
}

fn water(kind: Option<&str>) -> Option<Class> {
    Some(match kind {
        Some("ocean" | "sea" | "bay" | "strait" | "fjord") => Class::Sea,
        Some("river" | "stream" | "canal" | "drain" | "ditch") => Class::River,
        Some("swimming_pool") => return None,
        _ => Class::Water,
    })
}

fn ground(kind: &str) -> Option<Class> {
    match kind {
        "wood" | "woods" | "forest" | "trees" | "mangrove" => Some(Class::Wood),
        "residential" | "urban_area" | "town" | "suburb" | "commercial" | "retail" => Some(Class::Town),
        _ => None,
    }
}

fn road(kind: &str) -> Option<Class> {
    let kind = kind.strip_suffix("_link").unwrap_or(kind);
    match kind {
        "1" | "motorway" | "trunk" | "primary" | "highway" | "major_road" => Some(Class::Road1),
        "2" | "secondary" | "tertiary" | "minor" | "minor_road" | "medium_road" | "residential" | "unclassified"
        | "living_street" => Some(Class::Road2),
        "track" | "path" | "service" | "footway" | "bridleway" | "cycleway" | "pedestrian" | "other" => {
            Some(Class::Track)
        }
        _ => None,
    }
}

fn place(kind: Option<&str>, detail: Option<&str>) -> Option<Class> {
    let rank = |word: &str| match word {
        "capital" | "city" => Some(Class::Place(0)),
        "town" | "borough" => Some(Class::Place(1)),
        "village" | "locality" => Some(Class::Place(2)),
        "hamlet" | "isolated_dwelling" | "suburb" | "quarter" | "neighbourhood" | "macrohood" => Some(Class::Place(3)),
        "country" | "state" | "province" | "region" | "island" => Some(Class::Region),
        "bay" | "sea" | "ocean" | "strait" => Some(Class::SeaName),
        _ => None,
    };
    detail.and_then(rank).or_else(|| kind.and_then(rank))
}

fn border(layer: &Layer<'_>, feature: &Feature, kind: Option<&str>) -> Option<Class> {
    let at_sea = matches!(layer.tag(feature, "maritime"), Some(Value::Truth(true)))
        || layer.number(feature, "maritime") == Some(1.0);
    let national = kind == Some("country") || layer.number(feature, "admin_level").is_some_and(|level| level <= 2.0);
    (national && !at_sea).then_some(Class::Border)
}

#[cfg(test)]
mod tests {
    use super::super::mvt::layers;
    use super::*;

    /// A layer of one point with text tags, as bytes.
    fn tile(layer: &str, tags: &[(&str, &str)]) -> Vec<u8> {
        let text = |number: u8, text: &str| [&[number << 3 | 2, text.len() as u8], text.as_bytes()].concat();
        let pairs: Vec<u8> = (0..tags.len() as u8).flat_map(|i| [i, i]).collect();
        let feature = [&[0x12, pairs.len() as u8], &pairs[..], &[0x18, 1, 0x22, 3, 9, 2, 2]].concat();
        let mut body = text(1, layer);
        body.extend([0x12, feature.len() as u8]);
        body.extend(feature);
        for (key, value) in tags {
            body.extend(text(3, key));
            let value = text(1, value);
            body.extend([0x22, value.len() as u8]);
            body.extend(value);
        }
        [&[0x1a, body.len() as u8], &body[..]].concat()
    }

    fn drawn(layer: &str, tags: &[(&str, &str)]) -> Option<Class> {
        let bytes = tile(layer, tags);
        let layers = layers(&bytes);
        class(&layers[0], &layers[0].features[0])
    }

    #[test]
    fn own_names() {
        assert_eq!(drawn("land", &[]), Some(Class::Land));
        assert_eq!(drawn("woods", &[]), Some(Class::Wood));
        assert_eq!(drawn("water", &[("class", "lake")]), Some(Class::Water));
        assert_eq!(drawn("roads", &[("class", "1")]), Some(Class::Road1));
        assert_eq!(drawn("roads", &[("class", "2")]), Some(Class::Road2));
        assert_eq!(drawn("roads", &[("class", "track")]), Some(Class::Track));
        assert_eq!(drawn("places", &[("class", "town"), ("name", "Kelping")]), Some(Class::Place(1)));
        assert_eq!(drawn("places", &[("class", "bay")]), Some(Class::SeaName));
    }

    #[test]
    fn openmaptiles_names() {
        assert_eq!(drawn("water", &[("class", "ocean")]), Some(Class::Sea));
        assert_eq!(drawn("waterway", &[("class", "river")]), Some(Class::River));
        assert_eq!(drawn("landcover", &[("class", "wood"), ("subclass", "forest")]), Some(Class::Wood));
        assert_eq!(drawn("landcover", &[("class", "grass")]), None);
        assert_eq!(drawn("landuse", &[("class", "residential")]), Some(Class::Town));
        assert_eq!(drawn("transportation", &[("class", "motorway")]), Some(Class::Road1));
        assert_eq!(drawn("transportation", &[("class", "minor")]), Some(Class::Road2));
        assert_eq!(drawn("transportation", &[("class", "rail")]), None);
        assert_eq!(drawn("place", &[("class", "city")]), Some(Class::Place(0)));
        assert_eq!(drawn("place", &[("class", "country")]), Some(Class::Region));
        assert_eq!(drawn("boundary", &[("admin_level", "2")]), Some(Class::Border));
        assert_eq!(drawn("boundary", &[("admin_level", "4")]), None);
        assert_eq!(drawn("poi", &[("class", "shop")]), None);
    }

    #[test]
    fn protomaps_names() {
        assert_eq!(drawn("earth", &[("kind", "earth")]), Some(Class::Land));
        assert_eq!(drawn("natural", &[("pmap:kind", "forest")]), Some(Class::Wood));
        assert_eq!(drawn("roads", &[("kind", "major_road"), ("kind_detail", "secondary")]), Some(Class::Road2));
        assert_eq!(drawn("roads", &[("kind", "highway"), ("kind_detail", "motorway_link")]), Some(Class::Road1));
        assert_eq!(drawn("places", &[("kind", "locality"), ("kind_detail", "city")]), Some(Class::Place(0)));
        assert_eq!(drawn("places", &[("kind", "locality")]), Some(Class::Place(2)));
        assert_eq!(drawn("boundaries", &[("kind", "country")]), Some(Class::Border));
    }
}
