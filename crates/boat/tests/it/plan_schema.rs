//! The published form of the JSON (docs/plan.schema.json), held against what the program writes by the package jsonschema.

use crate::plans::{BOATS, glued, planned};
use crate::readers::told_of_all;
use boat::exchange::File;
use boat::plan::Plan;
use boat::plan::json::{JSON_SCHEMA, to_json};
use serde_json::{Value, json};
use std::collections::BTreeSet;

/// Faults of each document, by name.
fn faults(run_name: &str, documents: &[(String, String)]) -> Value {
    let file = |(name, text): &(String, String)| File { name: name.clone(), bytes: text.clone().into_bytes() };
    let mut files = vec![file(&("plan.schema.json".to_owned(), JSON_SCHEMA.to_owned()))];
    files.extend(documents.iter().map(file));
    told_of_all("schema.py", "jsonschema, by ./check", &format!("schema-{run_name}"), &files)
}

#[test]
fn every_boats_json_is_as_the_schema_has_it() {
    let mut plans: Vec<Plan> = BOATS.iter().map(|name| planned(name)).collect();
    plans.push(glued());
    // With a rack, and so with parts.
    plans.extend(crate::paper::boats().iter().cloned());
    // Where nothing floats, there is trouble in words.
    let mut sunk = planned("lapwing");
    sunk.weights.total *= 1e3;
    plans.push(sunk);
    let documents: Vec<(String, String)> =
        plans.iter().enumerate().map(|(i, p)| (format!("{i}.json"), to_json(p))).collect();
    let found = faults("whole", &documents);
    assert_eq!(found.as_object().unwrap().len(), plans.len());
    for (name, faults) in found.as_object().unwrap() {
        assert_eq!(*faults, json!([]), "{name}");
    }
}

/// A document with one thing wrong is refused for that thing.
#[test]
fn a_broken_document_is_refused() {
    let whole: Value = serde_json::from_str(&to_json(&planned("corncrake"))).unwrap();
    let broken = |change: &dyn Fn(&mut Value)| {
        let mut value = whole.clone();
        change(&mut value);
        value.to_string()
    };
    let cases: [(&str, String, &str); 8] = [
        (
            "missing",
            broken(&|v| drop(v.as_object_mut().unwrap().remove("rivets"))),
            "'rivets' is a required property",
        ),
        ("extra", broken(&|v| v["rivets"][3]["colour"] = json!("red")), "'colour' was unexpected"),
        ("words", broken(&|v| v["marks"][0]["girth_mm"] = json!("12 in")), "is not of type 'number'"),
        ("null", broken(&|v| v["marks"][0]["girth_mm"] = Value::Null), "is not of type 'number'"),
        ("unit", broken(&|v| v["units"] = json!("cubits")), "is not one of"),
        ("point", broken(&|v| v["land_lines"][0]["points_mm"][0] = json!([1.0, 2.0])), "is too short"),
        ("version", broken(&|v| v["schema"] = json!(2)), "1 was expected"),
        ("empty", "{}".to_owned(), "is a required property"),
    ];
    let documents: Vec<(String, String)> = cases.iter().map(|c| (c.0.to_owned(), c.1.clone())).collect();
    let found = faults("broken", &documents);
    for (name, _, said) in &cases {
        let faults = found[name].as_array().unwrap();
        assert!(faults.iter().any(|f| f[1].as_str().unwrap().contains(said)), "{name}: {faults:?}");
        assert!(*name == "empty" || faults.len() == 1, "{name}: {faults:?}");
    }
}

/// Strict everywhere: no object lets a key pass that it does not name, and every name is one that the words explain.
#[test]
fn the_schema_is_strict_and_its_keys_are_in_the_words() {
    let words = include_str!("../../../../docs/plan-json.md");
    let schema: Value = serde_json::from_str(JSON_SCHEMA).unwrap();
    let mut objects = vec![&schema];
    let mut names = BTreeSet::new();
    let mut seen = 0;
    while let Some(at) = objects.pop() {
        if let Some(properties) = at.get("properties").and_then(Value::as_object) {
            seen += 1;
            assert_eq!(at["additionalProperties"], json!(false), "{at}");
            assert_eq!(at["type"], "object");
            names.extend(properties.keys().cloned());
        }
        match at {
            Value::Object(map) => objects.extend(map.values().filter(|v| v.is_object() || v.is_array())),
            Value::Array(all) => objects.extend(all),
            _ => {}
        }
    }
    assert!(seen > 70, "{seen}");
    // As words of their own, so that `n` or `at` is not found in another.
    let words: BTreeSet<&str> = words.split(|c: char| !c.is_ascii_alphanumeric() && c != '_' && c != '-').collect();
    let missing: Vec<&String> = names.iter().filter(|n| !words.contains(n.as_str())).collect();
    assert!(missing.is_empty(), "docs/plan-json.md says nothing of {missing:?}");
}
