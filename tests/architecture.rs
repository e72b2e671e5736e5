//! The rules of the house as tests: which layer names which, how large a file may grow, where colours and SQL live.

#![allow(clippy::expect_used)] // a test that cannot read the sources has failed

use std::fs;
use std::path::{Path, PathBuf};

const SCREEN: &[&str] = &["egui", "eframe", "walkers", "egui_extras"];
const OUTSIDE: &[&str] = &[
    "fs::",
    "File::",
    "thread::",
    "env::",
    "SystemTime",
    "Instant",
    "println",
    "eprintln",
    "rusqlite",
    "Local::now",
    "Utc::now",
    "now_v7",
];
const FILES: &[&str] =
    &["fs::", "File::", "thread::", "env::", "SystemTime", "rusqlite", "Local::now", "Utc::now", "now_v7"];

struct Layer {
    name: &'static str,
    may_use: &'static [&'static str],
    banned: &'static [&'static [&'static str]],
}

const LAYERS: &[Layer] = &[
    Layer { name: "domain", may_use: &[], banned: &[SCREEN, OUTSIDE] },
    Layer { name: "roads", may_use: &["domain"], banned: &[SCREEN, OUTSIDE] },
    Layer { name: "planner", may_use: &["domain", "roads"], banned: &[SCREEN, OUTSIDE] },
    Layer { name: "register", may_use: &["domain"], banned: &[SCREEN] },
    Layer { name: "print", may_use: &["domain", "planner"], banned: &[SCREEN, OUTSIDE] },
    Layer { name: "exchange", may_use: &["domain", "planner"], banned: &[SCREEN, OUTSIDE] },
    Layer { name: "ui", may_use: &["domain", "planner"], banned: &[FILES] },
    Layer {
        name: "app",
        may_use: &["domain", "roads", "planner", "register", "print", "exchange", "ui"],
        banned: &[&["rusqlite"]],
    },
];

/// What is wrong with one source file of a layer.
fn faults_of(layer: &Layer, file: &str, text: &str) -> Vec<String> {
    let code = code_of(text);
    let mut faults = Vec::new();
    for other in LAYERS.iter().filter(|other| other.name != layer.name) {
        let named =
            names(&code, &format!("crate::{}", other.name)) || names(&code, &format!("lidnote::{}", other.name));
        if named && !layer.may_use.contains(&other.name) {
            faults.push(format!("{file}: {} may not use {}", layer.name, other.name));
        }
    }
    for word in layer.banned.iter().copied().flatten().filter(|word| names(&code, word)) {
        faults.push(format!("{file}: {} may not name {word}", layer.name));
    }
    if code.contains("use crate::{") || code.contains("use super::{super") || code.contains("use super::super") {
        faults.push(format!("{file}: write one `use crate::layer` per line, so that this test can read it"));
    }
    faults
}

#[test]
fn a_layer_names_only_the_layers_below_it() {
    let mut faults = Vec::new();
    for layer in LAYERS {
        for file in rust_files(&source().join(layer.name)) {
            let text = fs::read_to_string(&file).expect("readable source");
            faults.extend(faults_of(layer, &file.display().to_string(), &text));
        }
    }
    assert!(faults.is_empty(), "\n{}\n", faults.join("\n"));
}

#[test]
fn a_bad_sample_is_found_out() {
    let [domain, .., ui, _] = LAYERS else { panic!("layers") };
    let uses_above = "//! x\nuse crate::ui::scene::Scene;\n";
    assert_eq!(faults_of(domain, "sample", uses_above).len(), 1, "a use of a higher layer");
    let sees_register = "//! x\nuse crate::register::Register;\nfn f() { std::fs::read(\"x\"); }\n";
    assert_eq!(faults_of(ui, "sample", sees_register).len(), 2, "the register and a file");
    let grouped = "//! x\nuse crate::{domain, ui};\n";
    assert_eq!(faults_of(domain, "sample", grouped).len(), 1, "a grouped use");
    let clean = "//! egui may stand in a comment\nuse crate::domain::day::Day; // rusqlite\n";
    assert!(faults_of(domain, "sample", clean).is_empty(), "comments do not count");
}

#[test]
fn every_file_says_what_it_is_and_stays_small() {
    let mut faults = Vec::new();
    for file in rust_files(&source()) {
        let text = fs::read_to_string(&file).expect("readable source");
        if !text.starts_with("//!") {
            faults.push(format!("{}: begin with a //! sentence", file.display()));
        }
        let lines = text.lines().count();
        if lines > 600 {
            faults.push(format!("{}: {lines} lines; split it", file.display()));
        }
    }
    assert!(faults.is_empty(), "\n{}\n", faults.join("\n"));
}

#[test]
fn colours_come_from_the_theme_alone() {
    let mut faults = Vec::new();
    for file in rust_files(&source().join("ui")).into_iter().filter(|file| !file.starts_with(source().join("ui/theme")))
    {
        let code = code_of(&fs::read_to_string(&file).expect("readable source"));
        for word in ["Color32::from_", "hex_color", "Color32::RED", "Color32::BLACK", "Color32::WHITE", "Rgba::from_"] {
            if code.contains(word) {
                faults.push(format!("{}: {word} belongs in ui/theme", file.display()));
            }
        }
    }
    assert!(faults.is_empty(), "\n{}\n", faults.join("\n"));
}

#[test]
fn sql_stays_in_the_register() {
    let mut faults = Vec::new();
    for layer in LAYERS.iter().filter(|layer| layer.name != "register") {
        for file in rust_files(&source().join(layer.name)) {
            let code = code_of(&fs::read_to_string(&file).expect("readable source"));
            for word in ["SELECT ", "INSERT INTO", "CREATE TABLE", "PRAGMA "] {
                if code.contains(word) {
                    faults.push(format!("{}: {word}", file.display()));
                }
            }
        }
    }
    assert!(faults.is_empty(), "\n{}\n", faults.join("\n"));
}

#[test]
fn the_crate_has_no_shortcuts_in_its_names() {
    let lib = fs::read_to_string(source().join("lib.rs")).expect("lib.rs");
    assert!(!lib.contains("pub use"), "lib.rs re-exports nothing");
}

fn source() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("src")
}

/// True if `word` stands in `code` with no letter, digit or underscore touching either end.
fn names(code: &str, word: &str) -> bool {
    let part_of_name = |it: Option<char>| it.is_some_and(|c| c.is_alphanumeric() || c == '_');
    code.match_indices(word).any(|(at, _)| {
        let before = code[..at].chars().next_back();
        let after = code[at + word.len()..].chars().next();
        !part_of_name(before) && (word.ends_with("::") || !part_of_name(after))
    })
}

/// The code of a source without its comments and without its unit tests, which may read files and the clock.
fn code_of(text: &str) -> String {
    let code = text.split("#[cfg(test)]").next().unwrap_or("");
    code.lines().map(|line| line.split("//").next().unwrap_or("")).collect::<Vec<_>>().join("\n")
}

fn rust_files(dir: &Path) -> Vec<PathBuf> {
    let (mut found, mut dirs) = (Vec::new(), vec![dir.to_path_buf()]);
    while let Some(dir) = dirs.pop() {
        for entry in fs::read_dir(&dir).expect("readable folder") {
            let path = entry.expect("readable entry").path();
            if path.is_dir() {
                dirs.push(path);
            } else if path.extension().is_some_and(|it| it == "rs") {
                found.push(path);
            }
        }
    }
    found.sort();
    found
}
