//! The glyph's edges against the design's table, its cost in quads, and that no two signs are drawn alike.

use egui::{Mesh, Pos2, pos2};
use proptest::prelude::{ProptestConfig, prop_assert, prop_assert_eq, proptest};

use crate::domain::standing::LidState;
use crate::ui::glyph::form::{Form, StackSize};
use crate::ui::glyph::pen::{Pen, band_heights};
use crate::ui::glyph::{Fill, Stack};
use crate::ui::theme::tokens::{DARK, LIGHT};

const SIZES: [f32; 4] = [10.0, 14.0, 20.0, 28.0];
const SCALES: [f32; 5] = [0.8, 1.0, 1.25, 1.5, 2.0];
const MOST_QUADS: usize = 40;

/// size; lw, x0, x1, boxTop, lidBottom, thick top, thin top, gap, lifted height.
const TABLE: [(f32, [f32; 9]); 4] = [
    (10.0, [1.0, 1.0, 9.0, 4.0, 5.0, 1.0, 2.0, 2.0, 3.0]),
    (14.0, [1.0, 1.0, 13.0, 6.0, 7.0, 2.0, 4.0, 2.0, 4.0]),
    (20.0, [1.0, 2.0, 18.0, 8.0, 9.0, 3.0, 5.0, 4.0, 5.0]),
    (28.0, [1.5, 2.0, 26.0, 10.5, 12.0, 4.0, 7.0, 5.0, 7.0]),
];

fn drawn(size: f32, scale: f32, fill: Fill, lid: LidState) -> Mesh {
    let mut mesh = Mesh::default();
    Pen::with(&LIGHT, scale).hive(&mut mesh, Pos2::ZERO, size, fill, lid);
    mesh
}

fn drawn_stack(size: StackSize, scale: f32, stack: &Stack) -> Mesh {
    let mut mesh = Mesh::default();
    Pen::with(&DARK, scale).stack(&mut mesh, Pos2::ZERO, size, stack);
    mesh
}

fn quads(mesh: &Mesh) -> usize {
    mesh.indices.len() / 6
}

/// The rectangle of the quad at this place: left, top, right, bottom.
fn quad(mesh: &Mesh, place: usize) -> [f32; 4] {
    let corners = &mesh.vertices[4 * place..4 * place + 4];
    let fold = |start: f32, of: fn(&egui::epaint::Vertex) -> f32, pick: fn(f32, f32) -> f32| {
        corners.iter().map(of).fold(start, pick)
    };
    [
        fold(f32::INFINITY, |v| v.pos.x, f32::min),
        fold(f32::INFINITY, |v| v.pos.y, f32::min),
        fold(f32::NEG_INFINITY, |v| v.pos.x, f32::max),
        fold(f32::NEG_INFINITY, |v| v.pos.y, f32::max),
    ]
}

#[test]
fn the_form_is_the_table_of_the_design() {
    for (size, [line, left, right, box_top, lid_bottom, thick, thin, gap, lifted]) in TABLE {
        let form = Form::hive(size);
        let ours = [form.line, form.side, size - form.side, form.box_top(), form.lid_bottom];
        assert_eq!(ours, [line, left, right, box_top, lid_bottom], "box at {size}");
        let lid = [form.thick_top, form.thin_top, form.gap, form.lifted];
        assert_eq!(lid, [thick, thin, gap, lifted], "lid at {size}");
    }
}

#[test]
fn drawn_edges_lie_where_the_table_says() {
    for (size, [line, left, right, box_top, lid_bottom, thick, thin, gap, _]) in TABLE {
        let mesh = drawn(size, 1.0, Fill::Second, LidState::Due);
        assert_eq!(quad(&mesh, 0), [left, box_top.floor(), right, size], "box at {size}");
        let per_outline = if line == 1.0 { 2 } else { 3 };
        assert_eq!(quad(&mesh, per_outline), [0.0, thick, size, lid_bottom], "thick lid at {size}");
        let mesh = drawn(size, 1.0, Fill::Second, LidState::Quiet);
        assert_eq!(quad(&mesh, per_outline), [0.0, thin, size, lid_bottom], "thin lid at {size}");
        let mesh = drawn(size, 1.0, Fill::Second, LidState::Late);
        let (first, second) = (quad(&mesh, per_outline), quad(&mesh, 2 * per_outline));
        assert_eq!(first[0], 0.0, "left part at {size}");
        assert_eq!(second[2], size, "right part at {size}");
        assert_eq!(first[2], size - second[0], "the gap of {size} is in the middle");
        assert!((second[0] - first[2] - gap).abs() <= 1.0, "the gap of {size} is {gap} to a pixel");
    }
}

#[test]
fn a_lifted_lid_stays_within_its_room() {
    for size in SIZES {
        let mesh = drawn(size, 2.0, Fill::First, LidState::Action);
        let bounds = mesh.calc_bounds();
        assert!(bounds.top() >= -0.09 * size - 0.5, "{size}: reaches {} above", -bounds.top());
        assert!(bounds.left() >= -0.08 * size - 0.5, "{size}: reaches {} left", -bounds.left());
        assert!(bounds.top() < Form::hive(size).thick_top, "{size}: stands above a lid that lies");
    }
}

#[test]
fn no_hive_costs_more_than_forty_quads() {
    for size in SIZES.into_iter().chain([48.0, 110.0]) {
        for scale in SCALES {
            for fill in Fill::ALL {
                for lid in LidState::ALL {
                    let count = quads(&drawn(size, scale, fill, lid));
                    assert!(count <= MOST_QUADS, "{size} at {scale}, {fill:?}, {lid:?}: {count}");
                }
            }
        }
    }
}

#[test]
fn no_two_signs_are_drawn_alike() {
    for size in SIZES {
        let mut seen: Vec<(Mesh, (Fill, LidState))> = Vec::new();
        for fill in Fill::ALL {
            for lid in LidState::ALL {
                let mesh = drawn(size, 1.0, fill, lid);
                for (other, sign) in &seen {
                    assert_ne!(mesh.vertices, other.vertices, "{size}: {:?} and {sign:?}", (fill, lid));
                }
                seen.push((mesh, (fill, lid)));
            }
        }
    }
}

#[test]
fn forms_alone_tell_the_lids_apart() {
    for size in SIZES {
        let shapes: Vec<Vec<Pos2>> = LidState::ALL
            .into_iter()
            .map(|lid| drawn(size, 1.0, Fill::Second, lid).vertices.iter().map(|vertex| vertex.pos).collect())
            .collect();
        for (place, shape) in shapes.iter().enumerate() {
            for other in &shapes[place + 1..] {
                assert_ne!(shape, other, "without colour, at {size}");
            }
        }
    }
}

#[test]
fn edges_lie_on_physical_pixels_wherever_the_glyph_stands() {
    for scale in SCALES {
        let mut mesh = Mesh::default();
        Pen::with(&LIGHT, scale).hive(&mut mesh, pos2(13.37, 7.77), 20.0, Fill::Unknown, LidState::Late);
        for vertex in &mesh.vertices {
            for at in [vertex.pos.x * scale, vertex.pos.y * scale] {
                assert!((at - at.round()).abs() < 0.01, "{at} pixels at scale {scale}");
            }
        }
    }
}

#[test]
fn bands_share_out_the_box_as_in_the_pictures() {
    let shared = |counts, height| band_heights(&counts, height, 1.0);
    let young = [23, 3, 0, 0, 0, 0, 0];
    assert_eq!(shared(young, 14.0)[..2], [12.0, 2.0]);
    assert_eq!(shared(young, 20.0)[..2], [18.0, 2.0]);
    assert_eq!(shared(young, 28.0)[..2], [25.0, 3.0]);
    let with_one_old = [10, 9, 6, 1, 1, 0, 0];
    assert_eq!(shared(with_one_old, 14.0)[3], 1.0, "one hive of many is still one pixel");
    assert_eq!(shared([0; 7], 14.0), [0.0; 7], "an empty yard has no bands");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn bands_fill_the_box_and_leave_no_hive_out(counts in proptest::array::uniform7(0_u32..400), height in 14_u8..60) {
        let height = f32::from(height);
        let heights = band_heights(&counts, height, 1.0);
        if counts.iter().any(|&count| count > 0) {
            prop_assert_eq!(heights.iter().sum::<f32>(), height);
        }
        for (count, band) in counts.into_iter().zip(heights) {
            prop_assert_eq!(count > 0, band >= 1.0, "{} hives, {} pixels", count, band);
        }
    }

    #[test]
    fn no_stack_costs_more_than_forty_quads(
        bands in proptest::array::uniform7(0_u32..60), lid in 0_usize..5, size in 0_usize..3, scale in 0_usize..5,
    ) {
        let size = [StackSize::Small, StackSize::Middle, StackSize::Large][size];
        let stack = Stack { bands, lid: LidState::ALL[lid], barred: true };
        let count = quads(&drawn_stack(size, SCALES[scale], &stack));
        prop_assert!(count <= MOST_QUADS, "{:?} at {}: {}", size, SCALES[scale], count);
    }
}
