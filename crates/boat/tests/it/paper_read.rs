//! The book's bytes read back by other people's programs.

use crate::paper::{PAPERS, boats, sheets};
use crate::pdf_read::{boxes, read};
use crate::readers::{run, scratch};
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
        let pages = read(&format!("{}-box", plan.spec.name), &bytes);
        let sheets = sheets(plan, *paper);
        assert_eq!(pages.len(), sheets.len());
        let mut measured = 0;
        for (page, sheet) in pages.iter().zip(&sheets) {
            let Scale::Measured { size, .. } = sheet.scale else { continue };
            assert!(boxes(page, size, 0.05) >= 1, "{}: no box of {size:?} mm", sheet.title);
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
