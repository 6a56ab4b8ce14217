//! Her as glTF 2.0 in one binary file (.glb), which general programs for pictures and for the web read.
//!
//! Metres; +y up, +z forward, so that +x is to port: as the standard has it. Each part is a node with its own name under the
//! node of its group, under the boat's. Normals are smooth along a plank and sharp over its edges; colours are those of the
//! book's drawings, without pictures of wood.
//!
//! Source: `glTF2`.

use super::solid::{Solid, Stuff};
use crate::drawing::Colour;
use crate::geom::Vector;
use crate::paper::book::look;
use serde_json::{Value, json};

/// Numbers of the standard: `0x46546C67`, `JSON`, `BIN\0`; the kinds of numbers, buffers and shapes.
const MAGIC: u32 = 0x4654_6C67;
const JSON: u32 = 0x4E4F_534A;
const BIN: u32 = 0x004E_4942;
const FLOAT: u32 = 5126;
const UNSIGNED_INT: u32 = 5125;
const ARRAY_BUFFER: u32 = 34962;
const ELEMENT_ARRAY_BUFFER: u32 = 34963;
const TRIANGLES: u32 = 4;

/// Writes all parts of `boat` as one file.
#[must_use]
pub fn write(boat: &str, solids: &[Solid]) -> Vec<u8> {
    let mut file = File::default();
    let there: Vec<Stuff> = Stuff::ALL.into_iter().filter(|stuff| solids.iter().any(|s| s.stuff == *stuff)).collect();
    let mut groups: Vec<Value> = Vec::new();
    for (material, stuff) in there.iter().enumerate() {
        let parts: Vec<usize> = solids.iter().filter(|s| s.stuff == *stuff).map(|s| file.part(s, material)).collect();
        groups.push(json!({ "name": stuff.group(), "children": parts }));
    }
    let first = file.nodes.len();
    let children: Vec<usize> = (first..first + groups.len()).collect();
    let root = first + groups.len();
    file.nodes.extend(groups);
    file.nodes.push(json!({ "name": boat, "children": children }));
    let all = json!({
        "asset": { "version": "2.0", "generator": "strakewise" },
        "scene": 0,
        "scenes": [{ "name": boat, "nodes": [root] }],
        "nodes": file.nodes,
        "meshes": file.meshes,
        "materials": there.iter().copied().map(material).collect::<Vec<_>>(),
        "accessors": file.accessors,
        "bufferViews": file.views,
        "buffers": [{ "byteLength": file.bytes.len() }],
    });
    binary(all.to_string().into_bytes(), file.bytes)
}

/// What parts of a kind are painted with: no metal, dull as planed wood is.
fn material(stuff: Stuff) -> Value {
    let colour = match stuff {
        Stuff::Plank => look::WOOD,
        Stuff::Backbone => look::SHADE,
        Stuff::Timber => look::WOOD.towards(look::SHADE, 0.5),
        Stuff::Mould => look::FAINT,
    };
    let Colour(r, g, b) = colour;
    let [r, g, b] = [r, g, b].map(linear);
    json!({
        "name": stuff.group(),
        "pbrMetallicRoughness": { "baseColorFactor": [r, g, b, 1.0], "metallicFactor": 0.0, "roughnessFactor": 0.8 },
    })
}

/// A part of a colour as light: the standard wants it so. Source: `glTF2` 3.9.2, which names IEC 61966-2-1's curve.
fn linear(part: u8) -> f64 {
    let c = f64::from(part) / 255.0;
    let light = if c <= 0.040_45 { c / 12.92 } else { ((c + 0.055) / 1.055).powf(2.4) };
    (light * 1e4).round() / 1e4
}

#[derive(Default)]
struct File {
    nodes: Vec<Value>,
    meshes: Vec<Value>,
    accessors: Vec<Value>,
    views: Vec<Value>,
    bytes: Vec<u8>,
}

impl File {
    /// Adds a part; returns its node.
    fn part(&mut self, solid: &Solid, material: usize) -> usize {
        let lit = solid.lit();
        let places: Vec<[f32; 3]> = lit.corners.iter().map(|(p, _)| turned(&(p.coords / 1000.0))).collect();
        let normals: Vec<[f32; 3]> = lit.corners.iter().map(|(_, n)| turned(n)).collect();
        let corners: Vec<u8> = lit.faces.iter().flatten().flat_map(|c| c.to_le_bytes()).collect();
        let (low, high) = (extreme(&places, f32::min), extreme(&places, f32::max));
        let view = self.view(vectors(&places), ARRAY_BUFFER);
        let position = self.accessor(json!({
            "bufferView": view, "componentType": FLOAT, "count": places.len(), "type": "VEC3", "min": low, "max": high,
        }));
        let view = self.view(vectors(&normals), ARRAY_BUFFER);
        let normal = self
            .accessor(json!({ "bufferView": view, "componentType": FLOAT, "count": normals.len(), "type": "VEC3" }));
        let view = self.view(corners, ELEMENT_ARRAY_BUFFER);
        let indices = self.accessor(json!({
            "bufferView": view, "componentType": UNSIGNED_INT, "count": 3 * lit.faces.len(), "type": "SCALAR",
        }));
        self.meshes.push(json!({
            "name": solid.name,
            "primitives": [{
                "attributes": { "POSITION": position, "NORMAL": normal },
                "indices": indices, "material": material, "mode": TRIANGLES,
            }],
        }));
        self.nodes.push(json!({ "name": solid.name, "mesh": self.meshes.len() - 1 }));
        self.nodes.len() - 1
    }

    fn accessor(&mut self, accessor: Value) -> usize {
        self.accessors.push(accessor);
        self.accessors.len() - 1
    }

    /// A stretch of the bytes; everything in it is a whole number of four.
    fn view(&mut self, bytes: Vec<u8>, target: u32) -> usize {
        self.views.push(json!({
            "buffer": 0, "byteOffset": self.bytes.len(), "byteLength": bytes.len(), "target": target,
        }));
        self.bytes.extend(bytes);
        self.views.len() - 1
    }
}

/// The plan's x aft, y to starboard, z up as x to port, y up, z forward.
fn turned(v: &Vector) -> [f32; 3] {
    // No number is minus nought.
    [-v.y, v.z, -v.x].map(|c| c as f32 + 0.0)
}

fn vectors(all: &[[f32; 3]]) -> Vec<u8> {
    all.iter().flatten().flat_map(|c| c.to_le_bytes()).collect()
}

fn extreme(all: &[[f32; 3]], of: fn(f32, f32) -> f32) -> [f32; 3] {
    all.iter().copied().reduce(|a, b| [0, 1, 2].map(|i| of(a[i], b[i]))).unwrap_or_default()
}

/// The two parts in one file, each filled up to a whole number of four bytes.
fn binary(mut json: Vec<u8>, mut bytes: Vec<u8>) -> Vec<u8> {
    json.resize(json.len().next_multiple_of(4), b' ');
    bytes.resize(bytes.len().next_multiple_of(4), 0);
    let whole = 12 + 8 + json.len() + 8 + bytes.len();
    let mut out: Vec<u8> = [MAGIC, 2, whole as u32].into_iter().flat_map(u32::to_le_bytes).collect();
    for (kind, part) in [(JSON, json), (BIN, bytes)] {
        out.extend((part.len() as u32).to_le_bytes());
        out.extend(kind.to_le_bytes());
        out.extend(part);
    }
    out
}
