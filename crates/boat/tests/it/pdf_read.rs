//! A PDF's pages as qpdf and poppler read them: lines in mm through all transforms, and words with their places.

use boat::drawing::Spot;

use crate::patterns::POINTS;
use crate::readers::{run, run_bytes, scratch};

/// The content streams of the pages, in order, from qpdf's plain form.
fn page_contents(plain: &[u8]) -> Vec<String> {
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

/// A path of a page: how wide its pen is, mm, and its points, mm from the page's top left corner.
#[derive(Debug, Clone)]
pub struct Ink {
    pub pen: f64,
    pub points: Vec<Spot>,
}

/// The stroked paths of straight lines on a page `height` mm tall, curves left out; closed ones end where they began.
fn paths(content: &str, height: f64) -> Vec<Ink> {
    let mut stack: Vec<f64> = Vec::new();
    let mut now = [1.0, 0.0, 0.0, 1.0, 0.0, 0.0];
    let (mut pen, mut saved) = (1.0, Vec::new());
    let (mut open, mut done): (Vec<Spot>, Vec<Vec<Spot>>) = (Vec::new(), Vec::new());
    let mut curved = false;
    let mut found = Vec::new();
    let spaced = content.replace('[', " [ ").replace(']', " ] ");
    for token in spaced.split_ascii_whitespace() {
        if let Ok(value) = token.parse::<f64>() {
            stack.push(value);
            continue;
        }
        let last = |n: usize| stack[stack.len() - n..].to_vec();
        let to_mm = |x: f64, y: f64, m: &[f64; 6]| {
            let (px, py) = (m[0] * x + m[2] * y + m[4], m[1] * x + m[3] * y + m[5]);
            [px / POINTS, height - py / POINTS]
        };
        match token {
            "q" => saved.push((now, pen)),
            "Q" => (now, pen) = saved.pop().expect("as many q as Q"),
            "cm" => {
                let m = last(6);
                let [a, b, c, d, e, f] = now;
                now = [
                    a * m[0] + c * m[1],
                    b * m[0] + d * m[1],
                    a * m[2] + c * m[3],
                    b * m[2] + d * m[3],
                    a * m[4] + c * m[5] + e,
                    b * m[4] + d * m[5] + f,
                ];
            }
            "w" => pen = last(1)[0],
            "m" => {
                done.push(std::mem::replace(&mut open, vec![to_mm(last(2)[0], last(2)[1], &now)]));
            }
            "l" => open.push(to_mm(last(2)[0], last(2)[1], &now)),
            "c" | "v" | "y" => curved = true,
            "h" => open.extend(open.first().copied()),
            "S" | "s" | "B" | "b" | "f" | "n" => {
                done.push(std::mem::take(&mut open));
                let stroked = !curved && (token == "S" || token == "B");
                let scale = (now[0] * now[3] - now[1] * now[2]).abs().sqrt();
                let runs = std::mem::take(&mut done).into_iter().filter(|run| stroked && run.len() > 1);
                found.extend(runs.map(|points| Ink { pen: pen * scale / POINTS, points }));
                curved = false;
            }
            _ => {}
        }
        stack.clear();
    }
    found
}

/// A page read back from the bytes.
pub struct ReadPage {
    /// Width and height, mm.
    pub size: [f64; 2],
    pub paths: Vec<Ink>,
    /// Words and the middle of each.
    pub words: Vec<(String, Spot)>,
}

/// All pages of a PDF as qpdf and poppler read them.
pub fn read(name: &str, bytes: &[u8]) -> Vec<ReadPage> {
    let path = scratch(name);
    std::fs::write(&path, bytes).expect("a scratch file");
    let file = path.to_str().expect("a plain path");
    run("qpdf", "qpdf", &["--check", file]);
    let plain = run_bytes("qpdf", "qpdf", &["--qdf", "--object-streams=disable", file, "-"]);
    let boxes = run("pdftotext", "poppler-utils", &["-bbox", file, "-"]);
    let _ = std::fs::remove_file(&path);
    let attribute = |line: &str, name: &str| -> f64 {
        let rest = line.split(&format!("{name}=\"")).nth(1).expect("the attribute");
        rest.split('"').next().and_then(|v| v.parse().ok()).expect("a number")
    };
    let mut pages: Vec<ReadPage> = Vec::new();
    for line in boxes.lines().map(str::trim) {
        if line.starts_with("<page ") {
            let size = ["width", "height"].map(|side| attribute(line, side) / POINTS);
            pages.push(ReadPage { size, paths: Vec::new(), words: Vec::new() });
        } else if line.starts_with("<word ") {
            let mid = |a, b| 0.5 * (attribute(line, a) + attribute(line, b)) / POINTS;
            let word = line.split('>').nth(1).and_then(|w| w.split('<').next()).expect("a word").to_owned();
            pages.last_mut().expect("a page").words.push((word, [mid("xMin", "xMax"), mid("yMin", "yMax")]));
        }
    }
    let contents = page_contents(&plain);
    assert_eq!(contents.len(), pages.len());
    for (page, content) in pages.iter_mut().zip(contents) {
        page.paths = paths(&content, page.size[1]);
    }
    pages
}

/// How many boxes of that size, to so many mm, a page carries, lying or standing.
pub fn boxes(page: &ReadPage, [w, h]: [f64; 2], within: f64) -> usize {
    let is_box = |p: &[Spot]| {
        let sides: Vec<Spot> = p.windows(2).map(|w| [(w[1][0] - w[0][0]).abs(), (w[1][1] - w[0][1]).abs()]).collect();
        let fits = |wide: Spot, tall: Spot| {
            (wide[0] - w).abs() <= within && wide[1] < 0.01 && (tall[1] - h).abs() <= within && tall[0] < 0.01
        };
        let turned = |side: Spot| [side[1], side[0]];
        sides.len() == 4
            && (fits(sides[0], sides[1]) && fits(sides[2], sides[3])
                || fits(turned(sides[0]), turned(sides[1])) && fits(turned(sides[2]), turned(sides[3])))
    };
    page.paths.iter().filter(|path| is_box(&path.points)).count()
}

#[test]
fn the_box_finder_measures_through_transforms() {
    // 72 points are an inch; a scale of 2 makes two of it, and of its pen; a turned one is not upright; a filled one has no line; one
    // that stands begins with its long side upright.
    let content = "1 w q 2 0 0 -2 10 500 cm 0 0 m 72 0 l 72 36 l 0 36 l h S Q 0 0 m 10 0 l 10 5 l 0 5 l h S \
                   0 0 m 5 5 l 0 10 l -5 5 l h S 0 0 m 72 0 l 72 72 l 0 72 l h f 0 0 m 0 144 l 18 144 l 18 0 l h S";
    let page = ReadPage { size: [300.0, 300.0], paths: paths(content, 300.0), words: Vec::new() };
    assert_eq!(page.paths.len(), 4);
    assert!((page.paths[0].pen - 2.0 / POINTS).abs() < 1e-12);
    let found = |w: f64, h: f64| boxes(&page, [w, h], 1e-9);
    assert_eq!([found(50.8, 25.4), found(25.4, 25.4), found(50.8, 6.35)], [1, 0, 1]);
    assert_eq!(found(10.0 / POINTS, 5.0 / POINTS), 1);
    assert_eq!(boxes(&page, [5.0 * 2.0_f64.sqrt() / POINTS; 2], 0.5), 0);
}
