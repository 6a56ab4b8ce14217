//! Drawings: body plans, rabbets and boards out of DXF and SVG.

use super::told;
use crate::{Spoilt, Target};
use boat::drawing::typeface::Type;
use boat::folder::read;
use boat::paper::patterns::{self, patterns};
use boat::paper::{write_dxf, write_svg};
use boat::plan::plan;
use boat::read_in::{Bare, DrawingAsked, Make, Post, boards, rabbet, sections};
use std::fmt::Write as _;

pub const DXF: Target = Target { name: "dxf", spoilt: Spoilt::Anything, seeds: dxfs, run: dxf, short: 400 };
pub const SVG: Target = Target { name: "svg", spoilt: Spoilt::Anything, seeds: svgs, run: svg, short: 200 };

/// Sections of a hull of closed form, and what else is drawn: `line(name, points)`.
fn body_plan(mut line: impl FnMut(&str, &[[f64; 2]])) {
    line("base line", &[[-700.0, 0.0], [700.0, 0.0]]);
    line("centreline", &[[0.0, 0.0], [0.0, 900.0]]);
    for s in 0..6 {
        let x = f64::from(s);
        let wide = 400.0 + 60.0 * x - 10.0 * x * x;
        let point = |i: i32| {
            let share = f64::from(i) / 12.0;
            [20.0 + wide * share.sqrt(), 60.0 + 480.0 * share * share]
        };
        line(&format!("station {s}"), &(0..=12).map(point).collect::<Vec<_>>());
    }
    line("stem", &[[-250.0, 620.0], [-230.0, 400.0], [-180.0, 250.0], [-120.0, 150.0]]);
}

fn dxfs() -> Vec<Vec<u8>> {
    let (mut new, mut old) = (String::new(), String::new());
    body_plan(|name, points| {
        let _ = write!(new, "0\nLWPOLYLINE\n8\n{name}\n90\n{}\n70\n0\n", points.len());
        let _ = write!(old, "0\nPOLYLINE\n8\n{name}\n66\n1\n70\n0\n");
        for [x, y] in points {
            let _ = write!(new, "10\n{x:.3}\n20\n{y:.3}\n42\n0.01\n");
            let _ = write!(old, "0\nVERTEX\n8\n{name}\n10\n{x:.3}\n20\n{y:.3}\n");
        }
        old.push_str("0\nSEQEND\n");
    });
    let more = "0\nSPLINE\n8\nstation 7\n70\n8\n71\n3\n72\n8\n73\n4\n40\n0\n40\n0\n40\n0\n40\n0\n40\n1\n40\n1\n40\n1\n40\n1\n10\n20\n20\n60\n\
                10\n300\n20\n80\n10\n480\n20\n300\n10\n500\n20\n540\n0\nARC\n8\nstation 8\n10\n0\n20\n700\n40\n500\n50\n272\n51\n350\n0\n\
                ELLIPSE\n8\nstation 9\n10\n0\n20\n700\n11\n500\n21\n0\n40\n0.9\n41\n4.8\n42\n6.1\n0\nINSERT\n2\nplank\n10\n5\n20\n5\n41\n2\n\
                50\n30\n0\nCIRCLE\n8\nboard\n10\n0\n20\n0\n40\n300\n0\nTEXT\n8\n0\n10\n30\n20\n500\n40\n9\n1\nstation 3\n";
    let file = |header: &str, entities: &str| {
        let block = "0\nSECTION\n2\nBLOCKS\n0\nBLOCK\n2\nplank\n10\n0\n20\n0\n0\nLINE\n8\na\n10\n0\n20\n0\n11\n90\n21\n5\n0\nENDBLK\n0\nENDSEC\n";
        format!(
            "0\nSECTION\n2\nHEADER\n{header}0\nENDSEC\n{block}0\nSECTION\n2\nENTITIES\n{entities}0\nENDSEC\n0\nEOF\n"
        )
        .into_bytes()
    };
    vec![
        file("9\n$INSUNITS\n70\n4\n", &new),
        file("", &(old + more)),
        file("9\n$INSUNITS\n70\n1\n", &(new + more)),
        own(true),
    ]
}

fn svgs() -> Vec<Vec<u8>> {
    let mut lines = String::new();
    body_plan(|name, points| {
        let d: String = points.iter().map(|[x, y]| format!(" {x:.2},{:.2}", -y)).collect();
        let _ = writeln!(lines, "<polyline id=\"{name}\" points=\"{d}\"/>");
    });
    let curves = "<g transform=\"rotate(3) skewX(2) matrix(1 0 0 1 4 5)\"><path id=\"station_7\" d=\"m20-60c60-5 400-40 480-200s20-300 \
                  10-320q5-9 8-20t9 9a30 40 10 0 1 50-60h4v-6z\"/></g><rect id=\"board\" x=\"1\" y=\"2\" width=\"300\" height=\"9\" rx=\"3\"/>\
                  <ellipse cx=\"4\" cy=\"5\" rx=\"90\" ry=\"40\"/><line x1=\"1\" y1=\"2\" x2=\"3\" y2=\"4\"/><defs><path id=\"p\" d=\"M0 \
                  0L9 9\"/></defs><use href=\"#p\" x=\"3\"/><text x=\"30\" y=\"-400\">station 3</text>";
    let file = |inside: &str| {
        format!("<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"2000mm\" height=\"1500mm\" viewBox=\"-1000 -1000 2000 1500\">\n{inside}</svg>\n")
            .into_bytes()
    };
    vec![file(&lines), file(&(lines.clone() + curves)), own(false)]
}

/// A drawing of the program's own: the pram's transom.
fn own(dxf: bool) -> Vec<u8> {
    let drawn = || {
        let texts = super::folders::texts(super::folders::boats().last()?);
        let (plan, t) = (plan(&read(&texts).ok()?).ok()?, Type::embedded().ok()?);
        let pattern = patterns(&t, &plan, &[patterns::Kind::Transom]).into_iter().next()?;
        Some(if dxf { write_dxf(&pattern.sheet) } else { write_svg(&t, &pattern.sheet) })
    };
    drawn().unwrap_or_default().into_bytes()
}

fn dxf(input: &[u8]) {
    read_drawing(input, Make::Dxf);
}

fn svg(input: &[u8]) {
    read_drawing(input, Make::Svg);
}

fn read_drawing(input: &[u8], make: Make) {
    let text = String::from_utf8_lossy(input);
    let asked = DrawingAsked { bare: None, scale: 1.0, zero: None, spacing: Some(500.0), at: Vec::new() };
    let mm = DrawingAsked { bare: Some(Bare::Mm), scale: 10.0, zero: Some([0.0, 0.0]), ..asked.clone() };
    for asked in [&asked, &mm] {
        if let Err(why) = sections(&text, make, "spoilt", asked) {
            told(&why, input);
        }
        for post in [Post::Stem, Post::Sternpost] {
            if let Err(why) = rabbet(&text, make, post, asked) {
                told(&why, input);
            }
        }
        if let Err(why) = boards(&text, make, "12 mm", asked) {
            told(&why, input);
        }
    }
}
