//! The book's bytes read back by other people's programs.

use crate::paper::{PAPERS, boats, sheets};
use crate::readers::{run, run_bytes, scratch};
use boat::drawing::Scale;
use boat::paper::{PaperSize, book};

#[test]
fn same_plan_same_bytes() {
    let plan = &boats()[0];
    let once = book::write(plan, PaperSize::A4).expect("a book");
    assert_eq!(once, book::write(&plan.clone(), PaperSize::A4).expect("a book"));
    let text = String::from_utf8_lossy(&once);
    for date in ["CreationDate", "ModDate", "xmp:CreateDate", "xmp:ModifyDate"] {
        assert!(!text.contains(date), "the book is dated: {date}");
    }
}

#[test]
fn others_read_the_book() {
    for (plan, paper) in boats().iter().zip(PAPERS.into_iter().cycle()) {
        let size = if paper == PaperSize::A4 { "841.89 x 595.276" } else { "792 x 612" };
        let bytes = book::write(plan, paper).expect("a book");
        let path = scratch(&plan.spec.name);
        std::fs::write(&path, &bytes).expect("a scratch file");
        let name = path.to_str().expect("a plain path");
        run("qpdf", "qpdf", &["--check", name]);
        let info = run("pdfinfo", "poppler-utils", &["-l", "-1", name]);
        let pages = sheets(plan, paper).len();
        assert!(info.contains(&format!("Title:           {}: bench book", plan.spec.name)), "{info}");
        assert!(info.contains(&format!("Pages:           {pages}")), "{info}");
        for page in 1..=pages {
            let line = info.lines().find(|l| l.starts_with(&format!("Page {page:>4} size:")));
            assert!(line.is_some_and(|l| l.contains(size)), "page {page} is not {size}: {line:?}");
        }
        let text = run("pdftotext", "poppler-utils", &["-layout", name, "-"]);
        assert!(text.contains("Bench book") && text.contains(&format!("page {pages} of {pages}")));
        assert!(text.contains(&plan.spec.drawn_by), "words come out as they went in");
        let _ = std::fs::remove_file(&path);
    }
}

/// The box is found again in the page's own drawing operators, and measured through its transforms.
#[test]
fn the_measured_box_measures_right_in_the_bytes() {
    for (plan, paper) in boats().iter().zip(PAPERS.iter().cycle()) {
        let bytes = book::write(plan, *paper).expect("a book");
        let path = scratch(&format!("{}-box", plan.spec.name));
        std::fs::write(&path, &bytes).expect("a scratch file");
        let plain =
            run_bytes("qpdf", "qpdf", &["--qdf", "--object-streams=disable", path.to_str().expect("path"), "-"]);
        let _ = std::fs::remove_file(&path);
        let contents = page_contents(&plain);
        let sheets = sheets(plan, *paper);
        assert_eq!(contents.len(), sheets.len());
        let mut measured = 0;
        for (content, sheet) in contents.iter().zip(&sheets) {
            let Scale::Measured { size, .. } = sheet.scale else { continue };
            let boxes = upright_boxes(content);
            let mm = 25.4 / 72.0;
            let fits = |b: &[f64; 2]| (b[0] * mm - size[0]).abs() <= 0.05 && (b[1] * mm - size[1]).abs() <= 0.05;
            assert!(boxes.iter().any(fits), "{}: no box of {size:?} mm among {boxes:?}", sheet.title);
            measured += 1;
        }
        assert!(measured > 2 * plan.strakes.len(), "only {measured} sheets carry a box");
        for sheet in &sheets {
            if let Scale::Measured { size: [w, h], .. } = sheet.scale {
                let words = format!("{} mm × {} mm", w, h);
                let inches = "2 in × 3/4 in";
                let says = sheet
                    .texts()
                    .any(|t| t.string().contains(&words) || (w == 50.8 && h == 19.05 && t.string().contains(inches)));
                assert!(says, "{}: the box does not say its own size", sheet.title);
            }
        }
    }
}

/// The content streams of the pages, in order, from qpdf's plain form.
pub fn page_contents(plain: &[u8]) -> Vec<String> {
    let text = String::from_utf8_lossy(plain);
    let mut found = Vec::new();
    let mut rest = text.as_ref();
    while let Some(at) = rest.find("%% Contents for page ") {
        rest = &rest[at..];
        let (Some(start), Some(end)) = (rest.find("stream\n"), rest.find("endstream")) else { break };
        found.push(rest[start + 7..end].to_owned());
        rest = &rest[end..];
    }
    found
}

/// Widths and heights, in points, of every closed four-cornered path with upright sides.
fn upright_boxes(content: &str) -> Vec<[f64; 2]> {
    let mut stack = Vec::new();
    let mut now = [1.0, 0.0, 0.0, 1.0, 0.0, 0.0];
    let (mut saved, mut points, mut found) = (Vec::new(), Vec::new(), Vec::new());
    let number = |stack: &[f64], back: usize| stack[stack.len() - back];
    for token in content.split_ascii_whitespace() {
        if let Ok(value) = token.parse::<f64>() {
            stack.push(value);
            continue;
        }
        let moved = |x: f64, y: f64, m: &[f64; 6]| [m[0] * x + m[2] * y + m[4], m[1] * x + m[3] * y + m[5]];
        match token {
            "q" => saved.push(now),
            "Q" => now = saved.pop().expect("as many q as Q"),
            "cm" if stack.len() >= 6 => {
                let m: Vec<f64> = stack[stack.len() - 6..].to_vec();
                let (a, b, c) = (moved(m[0], m[1], &now), moved(m[2], m[3], &now), moved(m[4], m[5], &now));
                now = [a[0] - now[4], a[1] - now[5], b[0] - now[4], b[1] - now[5], c[0], c[1]];
            }
            "m" => points = vec![moved(number(&stack, 2), number(&stack, 1), &now)],
            "l" => points.push(moved(number(&stack, 2), number(&stack, 1), &now)),
            "h" if points.len() == 4 => {
                let side = |i: usize| {
                    let (a, b): ([f64; 2], [f64; 2]) = (points[i], points[(i + 1) % 4]);
                    [(b[0] - a[0]).abs(), (b[1] - a[1]).abs()]
                };
                let sides = [side(0), side(1)];
                if sides[0][1] < 1e-3 && sides[1][0] < 1e-3 {
                    found.push([sides[0][0], sides[1][1]]);
                }
            }
            _ => {}
        }
        stack.clear();
    }
    found
}

#[test]
fn the_box_finder_measures_through_transforms() {
    // 72 points are an inch; a scale of 2 makes two of it; a turned one is not upright.
    let content = "q 2 0 0 -2 10 500 cm 0 0 m 72 0 l 72 36 l 0 36 l h S Q 0 0 m 10 0 l 10 5 l 0 5 l h S 0 0 m 5 5 l 0 10 l -5 5 l h S";
    assert_eq!(upright_boxes(content), [[144.0, 72.0], [10.0, 5.0]]);
}
