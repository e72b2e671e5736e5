//! Sources as they are typed: the one meant, and those that may be meant.

use crate::domain::fold_text::fold;
use crate::domain::queen::Source;
use crate::domain::world::World;

/// The source of that name; letter case and accents do not count.
pub fn source_named<'a>(world: &'a World, typed: &str) -> Option<&'a Source> {
    let typed = fold(typed);
    world.sources.values().find(|source| fold(&source.name) == typed)
}

/// The sources that what is typed may be the beginning of, those whose name begins with it first, then those of which a
/// later word does, each by name. All of them where nothing is typed.
pub fn sources_like<'a>(world: &'a World, typed: &str) -> Vec<&'a Source> {
    let typed = fold(typed);
    let rank = |source: &Source| {
        let name = fold(&source.name);
        let later_word = || name.match_indices(' ').any(|(at, _)| name[at + 1..].starts_with(&typed));
        if name.starts_with(&typed) { Some((0, name)) } else { later_word().then_some((1, name)) }
    };
    let mut found: Vec<_> = world.sources.values().filter_map(|source| Some((rank(source)?, source))).collect();
    found.sort_by(|(one, a), (other, b)| (one, a.id).cmp(&(other, b.id)));
    found.into_iter().map(|(_, source)| source).collect()
}

#[cfg(test)]
mod tests {
    use super::{source_named, sources_like};
    use crate::domain::ids::SourceId;
    use crate::domain::queen::Source;
    use crate::domain::world::World;

    fn world() -> World {
        let mut world = World::default();
        for (number, name) in ["Thrift", "Farside Queens", "Élan", "Upper Farside", "Fell"].into_iter().enumerate() {
            let id = SourceId::from_number(number as u128);
            world.sources.insert(id, Source { id, name: name.to_owned(), own: false });
        }
        world
    }

    #[test]
    fn what_is_typed_brings_up_the_sources_it_may_mean() {
        let world = world();
        for (typed, names) in [
            ("far", "Farside Queens, Upper Farside"),
            ("FARSIDE q", "Farside Queens"),
            ("f", "Farside Queens, Fell, Upper Farside"),
            ("elan", "Élan"),
            ("arside", ""),
            ("", "Élan, Farside Queens, Fell, Thrift, Upper Farside"),
        ] {
            let found: Vec<&str> = sources_like(&world, typed).into_iter().map(|source| source.name.as_str()).collect();
            assert_eq!(found.join(", "), names, "{typed:?}");
        }
        assert_eq!(source_named(&world, "farside queens").map(|it| it.name.as_str()), Some("Farside Queens"));
        assert_eq!(source_named(&world, "farside"), None);
    }
}
