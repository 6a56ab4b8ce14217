//! Tables of offsets in other people's shapes come back as the table they were written from.

use crate::plans::texts;
use boat::offsets::{Expected, RowKind, StationAt, Table, read_table};
use boat::read_in::{Asked, Bare, Comma, TableIn, table};
use boat::units::{INCH, Notation};

fn corncrake() -> Table {
    read(&texts("corncrake").offsets, Notation::FeetInchesEighths, Some(18.0 * INCH))
}

fn read(text: &str, lengths: Notation, spacing: Option<f64>) -> Table {
    let bow_transom = text.contains("bow transom");
    read_table(text, &Expected { lengths, spacing, diagonals: &[], transom: true, bow_transom }).unwrap().0
}

/// A row's name as strangers write it, `length` writing the level.
fn called(kind: &RowKind, length: &dyn Fn(f64) -> String, group: bool) -> [String; 2] {
    let (over, name) = match kind {
        RowKind::HeightSheer => ("Heights", "Sheer".to_owned()),
        RowKind::HeightRabbet => ("Heights", "Rabbet".to_owned()),
        RowKind::HeightButtock(y) => ("Heights", format!("Buttock {}", length(*y))),
        RowKind::HalfBreadthSheer => ("Half-breadths", "Sheer".to_owned()),
        RowKind::HalfBreadthRabbet => ("Half-breadths", "Rabbet".to_owned()),
        RowKind::HalfBreadthWaterline(z) => ("Half-breadths", format!("WL {}", length(*z))),
        RowKind::Diagonal(_) => unreachable!("there is none"),
    };
    if group { [over.to_owned(), name] } else { [String::new(), format!("{over} {name}")] }
}

/// How many entries there are, and how far the two tables' entries and stations are apart at most, mm; their rows and names must be the
/// same.
fn apart(ours: &Table, found: &Table) -> (usize, f64) {
    let names = |t: &Table| t.stations.iter().map(|s| s.name.clone()).collect::<Vec<_>>();
    assert_eq!(names(ours), names(found));
    let (mut count, mut most) = (0, 0.0_f64);
    for (a, b) in ours.stations.iter().zip(&found.stations) {
        match (a.at, b.at) {
            (StationAt::Square(a), StationAt::Square(b)) => most = most.max((a - b).abs()),
            (a, b) => assert_eq!(a, b),
        }
    }
    for row in &ours.rows {
        let near = |k: &RowKind| match (k, &row.kind) {
            (RowKind::HeightButtock(a), RowKind::HeightButtock(b))
            | (RowKind::HalfBreadthWaterline(a), RowKind::HalfBreadthWaterline(b)) => (a - b).abs() < 0.1,
            (a, b) => a == b,
        };
        let other = found.rows.iter().find(|r| near(&r.kind)).unwrap_or_else(|| panic!("no {}", row.name));
        for (a, b) in row.cells.iter().zip(&other.cells) {
            assert_eq!(a.is_some(), b.is_some(), "{}", row.name);
            if let (Some(a), Some(b)) = (a, b) {
                count += 1;
                most = most.max((a.mm - b.mm).abs());
            }
        }
    }
    assert_eq!(ours.rows.len(), found.rows.len());
    (count, most)
}

type Writes = Box<dyn Fn(f64) -> String>;

/// Ways of writing a length, and how far it may come back off, mm.
fn ways() -> Vec<(&'static str, Option<Bare>, Writes, f64)> {
    let decimal = |mm: f64, places: usize| -> Writes { Box::new(move |v: f64| format!("{:.places$}", v / mm)) };
    let comma = |mm: f64, places: usize| -> Writes {
        Box::new(move |v: f64| format!("{:.places$}", v / mm).replace('.', ","))
    };
    vec![
        ("(mm)", None, decimal(1.0, 1), 0.06),
        ("(cm)", None, decimal(10.0, 2), 0.06),
        ("", Some(Bare::M), decimal(1000.0, 4), 0.06),
        ("", Some(Bare::Inches), decimal(INCH, 3), 0.02),
        ("all in feet", None, decimal(12.0 * INCH, 4), 0.02),
        ("", Some(Bare::Cm), comma(10.0, 2), 0.06),
        ("feet-inches-eighths", None, Box::new(|v| Notation::FeetInchesEighths.long(v)), 1e-9),
        (
            "",
            Some(Bare::FeetInchesEighths),
            Box::new(|v| Notation::FeetInchesEighths.long(v).replace('-', " ")),
            1e-9,
        ),
        ("", None, Box::new(|v| format!("{} in", Notation::Inches.long(v))), 1e-9),
    ]
}

fn come_back(text: &str, asked: &Asked) -> (TableIn, Table) {
    let found = table(text, "plan.csv", asked).unwrap_or_else(|e| panic!("{e}\n{text}"));
    let read = read(&found.table, found.lengths, None);
    (found, read)
}

fn in_csv(cells: &[String], between: char) -> String {
    let one =
        |c: &String| if c.contains([between, '"']) { format!("\"{}\"", c.replace('"', "\"\"")) } else { c.clone() };
    cells.iter().map(one).collect::<Vec<_>>().join(&between.to_string())
}

/// One table in 5 shapes, 9 ways of writing a length, 3 separators and 2 line ends: 270 files.
#[test]
fn a_table_comes_back_from_every_shape() {
    let ours = corncrake();
    let mut files = 0;
    for (unit, bare, write, off) in ways() {
        for between in [',', ';', '\t'] {
            for end in ["\n", "\r\n"] {
                for shape in 0..5 {
                    let text = shaped(&ours, shape, unit, &write, between).replace('\n', end);
                    let text = if end == "\n" { text } else { format!("\u{feff}{text}") };
                    let (found, back) = come_back(&text, &Asked { bare, ..Asked::default() });
                    let (count, most) = apart(&ours, &back);
                    assert!(count == 87 && most <= off, "{count} {most} {unit}\n{text}\n{}", found.table);
                    assert_eq!(back.stations[8].name, "transom");
                    assert!(found.said.len() == 3, "{:?}", found.said);
                    files += 1;
                }
            }
        }
    }
    assert_eq!(files, 270);
}

fn shaped(ours: &Table, shape: usize, unit: &str, write: &Writes, between: char) -> String {
    let at = |s: usize| if s < 8 { write(18.0 * INCH * s as f64) } else { String::new() };
    let entry = |r: usize, s: usize| ours.rows[r].cells[s].as_ref().map_or(String::new(), |c| write(c.mm));
    let title = format!("Offsets of Corncrake {unit}\n");
    let names: Vec<String> = ours.stations.iter().map(|s| s.name.clone()).collect();
    let mut lines: Vec<Vec<String>> = Vec::new();
    let rows = |group: bool| ours.rows.iter().map(|r| called(&r.kind, write, group)).collect::<Vec<_>>();
    let (n, m) = (names.len(), ours.rows.len());
    match shape {
        // Stations across, whole names.
        0 | 1 => {
            lines.push([vec!["station".to_owned()], names].concat());
            lines.push([vec!["at".to_owned()], (0..n).map(at).collect()].concat());
            for (r, [_, name]) in rows(false).into_iter().enumerate() {
                lines.push([vec![name], (0..n).map(|s| entry(r, s)).collect()].concat());
            }
            if shape == 1 {
                lines = (0..=n).map(|i| lines.iter().map(|l| l[i].clone()).collect()).collect();
            }
        }
        // Headings over groups of rows.
        2 => {
            lines.push([vec![String::new()], names.iter().map(|n| format!("Station {n}")).collect()].concat());
            lines.push([vec!["Distance from station 0".to_owned()], (0..n).map(at).collect()].concat());
            for group in ["Heights", "Half-breadths"] {
                lines.push([vec![group.to_owned()], vec![String::new(); n]].concat());
                for (r, [over, name]) in rows(true).into_iter().enumerate() {
                    if over == group {
                        lines.push([vec![name], (0..n).map(|s| entry(r, s)).collect()].concat());
                    }
                }
            }
        }
        // Two cells of names.
        3 => {
            lines.push([vec!["measures".to_owned(), "line".to_owned()], names].concat());
            lines.push([vec![String::new(), "at".to_owned()], (0..n).map(at).collect()].concat());
            for (r, [over, name]) in rows(true).into_iter().enumerate() {
                lines.push([vec![over, name], (0..n).map(|s| entry(r, s)).collect()].concat());
            }
        }
        // One entry to a line.
        _ => {
            lines.push(["station", "line", "kind", "value", "at"].map(str::to_owned).to_vec());
            for (r, [over, name]) in rows(true).into_iter().enumerate().take(m) {
                for (s, station) in names.iter().enumerate().filter(|(s, _)| !entry(r, *s).is_empty()) {
                    lines.push(vec![station.clone(), name.clone(), over.clone(), entry(r, s), at(s)]);
                }
            }
        }
    }
    // Python's csv writes the same: quotation marks where a cell needs them.
    title + &lines.iter().map(|l| in_csv(l, between) + "\n").collect::<String>()
}

#[test]
fn what_could_be_two_things_is_asked_for() {
    let ours = corncrake();
    let write: Writes = Box::new(|v| format!("{v:.1}"));
    let plain = shaped(&ours, 0, "", &write, ',');
    let fails = |text: &str, asked: &Asked| table(text, "plan.csv", asked).unwrap_err().to_string();
    let why = fails(&plain, &Asked::default());
    assert!(why.starts_with("line 3, cell 3: ") && why.contains("no unit") && why.contains("--lengths mm"), "{why}");
    assert!(why.contains("3.20 m in mm"), "{why}");
    let why =
        fails(&plain.replacen("Corncrake", "Corncrake (cm)", 1), &Asked { bare: Some(Bare::Mm), ..Asked::default() });
    assert!(why.contains("the file says cm, the command line mm"), "{why}");
    // Three figures after every comma: thousands or thousandths.
    let write: Writes = Box::new(|v| format!("1,{:03}", v.abs() as u64 % 1000));
    let text = shaped(&ours, 0, "(m)", &write, ';');
    let why = fails(&text, &Asked::default());
    assert!(why.contains("--comma decimal or --comma thousands") && why.contains("line 3, cell 2"), "{why}");
    let why = fails(&plain.replace("Offsets of Corncrake", "In millimetres; once in inches"), &Asked::default());
    assert!(why.contains("in and mm"), "{why}");
}

#[test]
fn thousands_can_be_said() {
    let text = "row;1;2;3;4\nat;0;600;1,200;1,800\nheight sheer;1,100;1,090;1,080;1,080\nhb sheer;300;500;500;400\nhb wl 900;200;400;400;300\n";
    let asked = Asked { bare: Some(Bare::Mm), comma: Some(Comma::Thousands), ..Asked::default() };
    let found = table(text, "plan.csv", &asked).unwrap();
    let expected =
        Expected { lengths: Notation::Mm, spacing: None, diagonals: &[], transom: false, bow_transom: false };
    let (back, _) = read_table(&found.table, &expected).unwrap();
    assert_eq!(back.rows[0].cells[0].as_ref().unwrap().mm, 1100.0);
}

#[test]
fn what_is_not_understood_is_named_by_its_place() {
    let head = "row,1,2,3,4\nat,0,600,1200,1800\n";
    let body = "height sheer,500,490,480,480\nhb sheer,300,500,500,400\nhb wl 300,200,400,400,300\n";
    let asked = Asked { bare: Some(Bare::Mm), ..Asked::default() };
    let fails = |text: String| table(&text, "plan.csv", &asked).unwrap_err().to_string();
    for (from, to, said) in [
        ("490", "4x0", "line 3, cell 3, row “height sheer”, station “2”: “4x0” is not a length"),
        ("490", "12-Mar", "line 3, cell 3, row “height sheer”, station “2”: “12-Mar” looks like a date"),
        ("1200", "600", "station 3 stands at 600 mm, not aft of the one before"),
        ("hb wl 300", "hb sheer", "line 5, row “hb sheer”: line 4 already gives this entry"),
        ("480,480", "480,9999", "line 3, cell 5, row “height sheer”, station “4”: "),
        ("at,0,600,1200,1800\n", "", "nothing says where the stations stand"),
        ("row,1,2,3,4", "row,1,2,2,4", "station “2”"),
        ("hb wl 300,200", "hb wl 300,\"200", "line 5, cell 2: a quotation mark is opened"),
    ] {
        let text = format!("{head}{body}");
        assert!(text.contains(from));
        let why = fails(text.replacen(from, to, 1));
        assert!(why.contains(said), "{why}\nwanted {said}");
    }
    for nothing in ["", "\u{feff}", "# only a comment\n", "a\nb\n", "1,2,3,4\n5,6,7,8\n", ";;;;\n"] {
        assert!(table(nothing, "plan.csv", &asked).is_err(), "{nothing:?}");
    }
    let list = "station,at,mark,out,up\n1,0,rabbet,20,100\n";
    assert!(fails(list.to_owned()).contains("strakewise take-off reads it"));
    // Rows and columns that a table has no place for are kept as comments and named.
    let found = table(&format!("{head}{body}chine,1,2,3,4\nDiagonal A,9,9,9,9\n"), "Åse's plan.csv", &asked).unwrap();
    assert!(found.look_at.iter().any(|l| l.starts_with("line 6, row “chine”")), "{:?}", found.look_at);
    assert!(found.table.contains("# left out: chine,1,2,3,4\n") && found.table.contains("Åse's plan.csv"));
    // What is left out is kept in the table's unit: its mark taken away, it is a row.
    let cm = Asked { bare: Some(Bare::Cm), ..Asked::default() };
    let rows = format!("{head}{body}Diagonal A,22.57,37.6,40,41\n");
    let kept = table(&rows, "plan.csv", &cm).unwrap().table;
    assert!(kept.contains("# left out: Diagonal A,225.7"), "{kept}");
    let stem = format!("{head}{body}")
        .replace("row,", "row,stem,")
        .replace("at,0", "at,,0")
        .replace("sheer,", "sheer,1,")
        .replace("300,2", "300,,2");
    let found = table(&stem, "plan.csv", &asked).unwrap();
    assert!(found.look_at[0].contains("“stem” is an end and no station"), "{:?}", found.look_at);
}

#[test]
fn distances_can_be_said_and_are_taken_from_the_first() {
    let body = "row,0,1,2,3\nheight sheer,500,490,480,480\nhb sheer,300,500,500,400\nhb wl 300,200,400,400,300\n";
    let asked = Asked { bare: Some(Bare::Mm), spacing: Some(600.0), ..Asked::default() };
    let by_spacing = table(body, "p", &asked).unwrap().table;
    assert!(by_spacing.contains("at,0 mm,600 mm,1200 mm,1800 mm"), "{by_spacing}");
    let asked = Asked { spacing: None, at: Some(vec![0.0, 500.0, 1000.0]), ..asked };
    let why = table(body, "p", &asked).unwrap_err().to_string();
    assert!(why.contains("--at gives 3 distances and the file has 4 stations"), "{why}");
    let shifted = body.replacen('\n', "\nat,250,850,1450,2050\n", 1);
    let found = table(&shifted, "p", &Asked { bare: Some(Bare::Mm), ..Asked::default() }).unwrap();
    assert!(found.table.contains("at,0 mm,600 mm,") && found.said.iter().any(|s| s.contains("stood at 250 mm")));
}
