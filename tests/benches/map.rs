//! What a frame of the Map costs with 20,000 hives in view: at most 4 ms of CPU, tessellation included.

use std::sync::Arc;

use divan::Bencher;
use egui::{Context, Event as Input, Pos2, RawInput, Rect, pos2, vec2};
use lidnote::domain::colony::{Colony, FirstQueen, Founding, Lid, Named, Stand};
use lidnote::domain::day::Day;
use lidnote::domain::ids::{ColonyId, YardId};
use lidnote::domain::place::Place;
use lidnote::domain::world::World;
use lidnote::domain::yard::{Spot, Yard};
use lidnote::planner::outlook::Outlook;
use lidnote::ui::action::{Goto, Outbox};
use lidnote::ui::event::Event;
use lidnote::ui::map::base::view::BaseMap;
use lidnote::ui::scene::{PrefsInfo, RegisterInfo, Scene};
use lidnote::ui::screens::map::{self, MapState};
use lidnote::ui::theme;

fn main() {
    divan::main();
}

/// So many yards on a square of 1 degree, each with so many hives.
fn scene(yards: u32, hives: u32) -> Scene {
    let today = Day::new(2026, 11, 23).unwrap_or_else(|| panic!("a day"));
    let from = today.plus(-100);
    let mut world = World::default();
    let side = f64::from(yards).sqrt().ceil() as u32;
    for at in 0..yards {
        let id = YardId::from_number(u128::from(at) + 1);
        let mut yard = Yard::named(id, &format!("Yard {at}"));
        let step = |n: u32| f64::from(n) / f64::from(side);
        yard.place = Place::new(-40.0 - step(at / side), 160.0 + step(at % side));
        world.yards.insert(id, Arc::new(yard));
        for hive in 0..hives {
            let colony = ColonyId::from_number(1_000_000 + u128::from(at * hives + hive));
            let spot = Some(Spot { row: (hive / 40 + 1) as u16, place: (hive % 40 + 1) as u16 });
            let colony = Colony {
                id: colony,
                names: vec![Named { name: format!("H{hive:02}"), from }],
                stands: vec![Stand { yard: id, spot, from }],
                lid: Lid::default(),
                founded: from,
                how: Founding::Known,
                began_with: if hive % 3 == 0 { FirstQueen::None } else { FirstQueen::Unknown },
                ended: None,
                note: String::new(),
                corrected: Vec::new(),
            };
            world.colonies.insert(colony.id, Arc::new(colony));
        }
    }
    Scene {
        outlook: Arc::new(Outlook::new(&world, today)),
        world: Arc::new(world),
        today,
        version: 1,
        register: Some(RegisterInfo::default()),
        job: None,
        sheets: Vec::new(),
        history: None,
        backups: Vec::new(),
        verified: None,
        not_recorded: Vec::new(),
        written: Vec::new(),
        prefs: PrefsInfo::default(),
    }
}

/// The window without a window: frames are run and tessellated, the pointer moves so that each is drawn anew.
struct Bench {
    ctx: Context,
    scene: Scene,
    map: MapState,
    out: Outbox,
    frame: u32,
}

impl Bench {
    fn new(scene: Scene) -> Self {
        let ctx = Context::default();
        theme::apply(&ctx);
        let mut next = 0;
        let mint = move || {
            next += 1;
            uuid::Uuid::from_u128(next)
        };
        let mut map = MapState::new(BaseMap::new());
        map.take(&Event::Opened);
        let mut bench = Self { ctx, scene, map, out: Outbox::new(Box::new(mint)), frame: 0 };
        for _ in 0..4 {
            bench.frame();
        }
        bench
    }

    fn frame(&mut self) -> usize {
        self.frame += 1;
        let at = pos2(700.0 + (self.frame % 50) as f32, 300.0);
        let input = RawInput {
            screen_rect: Some(Rect::from_min_size(Pos2::ZERO, vec2(1440.0, 822.0))),
            time: Some(f64::from(self.frame) / 60.0),
            events: vec![Input::PointerMoved(at)],
            ..RawInput::default()
        };
        let Self { ctx, scene, map, out, .. } = self;
        let mut goto = None;
        let mut output = ctx.run_ui(input, |ui| map::show(ui, scene, map, &mut goto, out));
        // Nobody uploads textures here.
        output.textures_delta.clear();
        ctx.tessellate(output.shapes, output.pixels_per_point).len()
    }
}

/// 300 yards of 67 hives, from afar.
#[divan::bench(sample_count = 200)]
fn far_300_yards(bencher: Bencher<'_, '_>) {
    let mut bench = Bench::new(scene(300, 67));
    bencher.bench_local(|| bench.frame());
}

/// The worst case from afar: each of the 20,000 hives is a yard of its own.
#[divan::bench(sample_count = 200)]
fn far_20_000_yards(bencher: Bencher<'_, '_>) {
    let mut bench = Bench::new(scene(20_000, 1));
    bencher.bench_local(|| bench.frame());
}

/// All of them in one yard, near.
#[divan::bench(sample_count = 200)]
fn near_20_000_hives(bencher: Bencher<'_, '_>) {
    let mut bench = Bench::new(scene(1, 20_000));
    bench.map.go(&Goto::Hive(ColonyId::from_number(1_000_000)));
    for _ in 0..4 {
        bench.frame();
    }
    bencher.bench_local(|| bench.frame());
}
