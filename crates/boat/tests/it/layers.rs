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

/// Names after `crate::` in code, comments left out; `crate::{a, b::{c, d}}` gives a and b, over however many lines.
fn used(text: &str) -> Vec<String> {
    let code: String = text.lines().map(|l| l.split("//").next().unwrap_or_default()).collect::<Vec<_>>().join("\n");
    let name = |from: &str| from.trim_start().chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect();
    let mut names: Vec<String> = Vec::new();
    for after in code.split("crate::").skip(1) {
        let Some(list) = after.strip_prefix('{') else {
            names.push(name(after));
            continue;
        };
        names.push(name(list));
        let mut depth = 0;
        for (i, c) in list.char_indices() {
            match c {
                '{' => depth += 1,
                '}' if depth == 0 => break,
                '}' => depth -= 1,
                ',' if depth == 0 => names.push(name(&list[i + 1..])),
                _ => {}
            }
        }
    }
    names.retain(|n| !n.is_empty());
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

/// ARCHITECTURE.md tells the same order.
#[test]
fn the_order_is_the_one_that_is_told() {
    let told = fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("../../ARCHITECTURE.md")).unwrap();
    let (_, told) = told.split_once("## Layers of `boat`").unwrap();
    let (told, _) = told.split_once("\n## ").unwrap();
    let told: Vec<&str> = told.lines().filter_map(|l| Some(l.strip_prefix("| `")?.split_once('`')?.0)).collect();
    assert_eq!(told, LAYERS);
}

#[test]
fn names_are_found_in_code_and_not_in_comments() {
    assert_eq!(used("use crate::{geom::Point, spec}; // crate::paper"), ["geom", "spec"]);
    assert_eq!(used("let p = crate::units::mm(1.0);"), ["units"]);
    let long = "use crate::{\n    geom::{Point, Vector}, // crate::plan\n    paper,\n};\nuse crate::spec;";
    assert_eq!(used(long), ["geom", "paper", "spec"]);
}
