//! Makes the demo's register: `cargo run --example make-register`.
//!
//! Writes `demo-data/wrackmore.lidnote.gz`: Wrackmore Bees, an invented firm, on 23 November 2026, with three seasons
//! behind it. Everything is made by changes, as a user makes them; the same program makes the same register.

mod chance;
mod events;
mod keeper;
mod maker;
mod past;
mod spring;
mod story;
mod yards;

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use flate2::{Compression, GzBuilder};
use lidnote::register::Register;

use crate::chance::Chance;
use crate::maker::{Done, Maker};
use crate::story::{Age, Hive, Story, on};

/// The seed of all chance.
const SEED: u64 = 0x5752_4143_4B4D;

fn main() -> Done {
    let folder: PathBuf = [env!("CARGO_MANIFEST_DIR"), "demo-data"].iter().collect();
    let work = std::env::temp_dir().join(format!("make-register-{}", std::process::id()));
    std::fs::create_dir_all(&work)?;
    let made = make(&work.join("made.lidnote")).and_then(|register| {
        let copy = work.join("copy.lidnote");
        register.back_up_to(&copy)?;
        let file = std::fs::File::create(folder.join("wrackmore.lidnote.gz"))?;
        let mut packer = GzBuilder::new().mtime(0).write(file, Compression::best());
        std::io::copy(&mut std::fs::File::open(&copy)?, &mut packer)?;
        packer.finish()?;
        Ok(())
    });
    std::fs::remove_dir_all(&work)?;
    made
}

/// Makes the register in that file.
fn make(path: &Path) -> Done<Register> {
    let mut chance = Chance::new(SEED);
    let mut tail = [0; 10];
    tail[..8].copy_from_slice(&chance.bits().to_le_bytes());
    let mut story = Story {
        maker: Maker::create(path, tail)?,
        chance,
        plots: yards::plots()?,
        yards: Vec::new(),
        sources: BTreeMap::new(),
        hives: Vec::new(),
        at: BTreeMap::new(),
        parcels: BTreeMap::new(),
        tasks: BTreeMap::new(),
    };
    number(&mut story);
    past::begin(&mut story)?;
    past::plan(&mut story)?;
    events::plan(&mut story)?;
    spring::plan(&mut story)?;
    story.tell(on("2026-11-23")?)?;
    Ok(story.maker.finish())
}

/// Numbers the boxes, and says how old each queen is to be.
fn number(story: &mut Story) {
    for plot in 0..story.plots.len() {
        for number in 1..=story.plots[plot].hives {
            let name = format!("{}{number:02}", story.plots[plot].prefix);
            let (age, sure) = match spring::age_before(&name) {
                Some(age) => (age, true),
                None => (by_lot(story, plot), false),
            };
            story.at.insert(name.clone(), story.hives.len());
            let told = spring::on_a_sheet(&name);
            story.hives.push(Hive { plot, name, colony: None, age, sure, told });
        }
    }
}

fn by_lot(story: &mut Story, plot: usize) -> Age {
    let mut at = story.chance.below(100);
    for (share, age) in story.plots[plot].ages.into_iter().zip([Age::First, Age::Second, Age::Third, Age::Older]) {
        if at < share {
            return age;
        }
        at -= share;
    }
    Age::Unknown
}

#[cfg(test)]
mod tests;
