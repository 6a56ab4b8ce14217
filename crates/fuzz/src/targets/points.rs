//! Clouds of points.

use super::told;
use crate::{Spoilt, Target};
use boat::read_in::{Bare, Bow, CloudAsked, CloudForm, cloud};

pub const CLOUD: Target =
    Target { name: "cloud", spoilt: Spoilt::Anything, seeds: clouds, run: read_cloud, short: 60 };

/// So many points over a hull of closed form, on both sides.
const ACROSS: u32 = 27;
const ALONG: u32 = 44;

fn hull() -> Vec<[f64; 3]> {
    let point = |i: u32, k: u32, side: f64| {
        let (x, z) = (f64::from(i) / f64::from(ALONG), f64::from(k) / f64::from(ACROSS));
        // Fuller aft than forward, so that the bow can be told.
        let y = 1400.0 * x.sqrt() * (1.05 - x) * (1.0 - z * z);
        [4200.0 * x, side * y, 600.0 * (1.0 - z)]
    };
    let both = |i| (0..ACROSS).flat_map(move |k| [point(i, k, -1.0), point(i, k, 1.0)]);
    (0..ALONG).flat_map(both).collect()
}

fn clouds() -> Vec<Vec<u8>> {
    let points = hull();
    let header = |form: &str| {
        format!(
            "ply\nformat {form} 1.0\ncomment made\nelement vertex {}\nproperty float x\nproperty float y\nproperty float z\nelement face \
             0\nproperty list uchar int vertex_indices\nend_header\n",
            points.len()
        )
    };
    let lines = |sign: &str| -> String {
        points.iter().map(|[x, y, z]| format!("{x:.1}{sign}{y:.1}{sign}{z:.1}\n")).collect()
    };
    let mut binary = header("binary_little_endian").into_bytes();
    points.iter().flatten().for_each(|v| binary.extend((*v as f32).to_le_bytes()));
    vec![
        (header("ascii") + &lines(" ")).into_bytes(),
        binary,
        lines(" ").into_bytes(),
        format!("x,y,z\n{}", lines(",")).into_bytes(),
    ]
}

fn read_cloud(input: &[u8]) {
    let form = if input.starts_with(b"ply") { CloudForm::Ply } else { CloudForm::Text };
    let asked = CloudAsked { bare: Some(Bare::Mm), ..CloudAsked::default() };
    let placed = CloudAsked { placed: true, bow: Some(Bow::Least), trim: 0.02, stations: 6, ..asked.clone() };
    for asked in [asked, placed] {
        if let Err(why) = cloud(input, form, "spoilt", &asked) {
            told(&why, input);
        }
    }
}
