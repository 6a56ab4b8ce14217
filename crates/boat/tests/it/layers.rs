//! The order of the modules.

use std::fs;
use std::path::{Path, PathBuf};

/// Upstream first. A stage that needs something from downstream shows that a type stands in the wrong place.
const LAYERS: [&str; 41] = [
    "words",
    "cores",
    "units",
    "findings",
    "geom",
    "drawing",
    "spec",
    "offsets",
    "lines",
    "eyes",
    "moulds",
    "lining",
    "planks",
    "swelling",
    "lands",
    "ink",
    "backbone",
    "development",
    "timbers",
    "setting_up",
    "interior",
    "fastenings",
    "scarfs",
    "stock",
    "rates",
    "repair",
    "taken_off",
    "read_in",
    "plan_sheet",
    "folder",
    "weights",
    "flotation",
    "load",
    "plan",
    "hung",
    "jobs",
    "worked",
    "sawing",
    "quote",
    "paper",
    "exchange",
];

fn sources(layer: &str) -> Vec<PathBuf> {
    let src = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let file = src.join(format!("{layer}.rs"));
    let mut found = if file.is_file() { vec![file] } else { Vec::new() };
    let mut folders: Vec<PathBuf> = [src.join(layer)].into_iter().filter(|f| f.is_dir()).collect();
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(&folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|e| e == "rs") {
                found.push(path);
            }
        }
    }
    found
}

/// Names after `crate::` in code, comments left out; `crate::{a, b}` gives both.
fn used(text: &str) -> Vec<String> {
    let mut names = Vec::new();
    for line in text.lines().map(|l| l.split("//").next().unwrap_or_default()) {
        for after in line.split("crate::").skip(1) {
            let list = after.strip_prefix('{').map_or(vec![after], |l| l.split(',').collect());
            for item in list {
                let name: String = item.trim().chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect();
                if !name.is_empty() {
                    names.push(name);
                }
            }
        }
    }
    names
}

#[test]
fn stages_look_only_upstream() {
    for (rank, layer) in LAYERS.iter().enumerate() {
        let files = sources(layer);
        assert!(!files.is_empty(), "`{layer}` has no source");
        for file in files {
            for name in used(&fs::read_to_string(&file).unwrap()) {
                if LAYERS.contains(&name.as_str()) {
                    assert!(
                        LAYERS[..=rank].contains(&name.as_str()),
                        "{}: `{layer}` must not use `{name}`",
                        file.display()
                    );
                }
            }
        }
    }
}

#[test]
fn every_module_has_its_layer() {
    let lib = fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("src/lib.rs")).unwrap();
    for module in lib.lines().filter_map(|l| l.trim_start_matches("pub ").strip_prefix("mod ")?.strip_suffix(';')) {
        assert!(LAYERS.contains(&module), "`{module}` has no place in the order");
    }
}

#[test]
fn names_are_found_in_code_and_not_in_comments() {
    assert_eq!(used("use crate::{geom::Point, spec}; // crate::paper"), ["geom", "spec"]);
    assert_eq!(used("let p = crate::units::mm(1.0);"), ["units"]);
}
