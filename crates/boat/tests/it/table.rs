//! Tables of offsets read.

use boat::findings::{Finding, Measure};
use boat::offsets::{Expected, RowKind, StationAt, Table, TableError, TableProblem, read_table};
use boat::spec::Diagonal;
use boat::units::Notation;
use proptest::prelude::*;

fn expected(lengths: Notation) -> Expected<'static> {
    Expected { lengths, spacing: None, diagonals: &[], transom: true, bow_transom: false }
}

const MM: &str = "\
row,0,1,2,3,transom
at,0,500,1000,1500,
height sheer,600,550,520,530,560
height rabbet,90,80,80,85,
half-breadth sheer,300,480,520,450,350
half-breadth waterline 300,180,400,450,340,200
height buttock 200,320,150,120,160,300
";

/// Turns a table on its diagonal.
fn turned(text: &str) -> String {
    let lines: Vec<Vec<&str>> = text.lines().map(|l| l.split(',').collect()).collect();
    (0..lines[0].len()).map(|c| lines.iter().map(|l| l[c]).collect::<Vec<_>>().join(",") + "\n").collect()
}

/// Stations and rows.
type Plain = (Vec<(String, StationAt)>, Vec<(String, RowKind, Vec<Option<f64>>)>);

/// A table without its lines and cells, which turning changes.
fn plain(table: &Table) -> Plain {
    let stations = table.stations.iter().map(|s| (s.name.clone(), s.at)).collect();
    let row = |r: &boat::offsets::Row| {
        (r.name.clone(), r.kind.clone(), r.cells.iter().map(|c| c.as_ref().map(|c| c.mm)).collect())
    };
    (stations, table.rows.iter().map(row).collect())
}

fn read(text: &str) -> Result<(Table, Vec<Finding>), TableError> {
    read_table(text, &expected(Notation::Mm))
}

#[test]
fn a_table_is_what_it_says() {
    let (table, findings) = read(MM).unwrap();
    assert!(findings.is_empty(), "{findings:?}");
    let (stations, rows) = plain(&table);
    let square = |name: &str, x| (name.to_owned(), StationAt::Square(x));
    assert_eq!(stations[..2], [square("0", 0.0), square("1", 500.0)]);
    assert_eq!(stations[4], ("transom".to_owned(), StationAt::Transom));
    assert_eq!(rows.len(), 5, "the row of positions is no row of offsets");
    assert_eq!(rows[1].1, RowKind::HeightRabbet);
    assert_eq!(rows[1].2, [Some(90.0), Some(80.0), Some(80.0), Some(85.0), None]);
    assert_eq!(rows[3].1, RowKind::HalfBreadthWaterline(300.0));
    let cell = table.rows[4].cells[1].as_ref().unwrap();
    assert_eq!((cell.mm, cell.text.as_str(), cell.line, cell.column), (150.0, "150", 7, 3));
}

#[test]
fn the_same_table_in_many_dresses() {
    let bare = plain(&read(MM).unwrap().0);
    let commented =
        format!("# From the plan, sheet 2\n\n{}\n# end\n", MM.replace("\nheight b", "\n\n# more\nheight b"));
    let quoted: String =
        MM.lines().map(|l| l.split(',').map(|c| format!("\"{c}\"")).collect::<Vec<_>>().join(",") + "\n").collect();
    for (dress, text) in [
        ("stations down", turned(MM)),
        ("semicolons", MM.replace(',', ";")),
        ("tabs", MM.replace(',', "\t")),
        ("quoted", quoted),
        ("Windows", format!("\u{feff}{}", MM.replace('\n', "\r\n"))),
        ("comments", commented),
        ("spaces", MM.replace(',', " , ")),
        ("dashes for nothing", MM.replace("85,\n", "85,—\n").replace("1500,\n", "1500,-\n")),
        ("columns left by a spreadsheet", MM.replace('\n', ",,\n")),
        ("units", MM.replace("550", "55 cm").replace("1500", "1.5 m")),
        ("no last line break", MM.trim_end().to_owned()),
    ] {
        let (table, findings) = read(&text).unwrap_or_else(|e| panic!("{dress}: {e}"));
        assert_eq!(plain(&table), bare, "{dress}");
        assert!(findings.is_empty(), "{dress}: {findings:?}");
    }
}

#[test]
fn cells_keep_their_places_stations_down() {
    let (table, _) = read(&format!("# one\n{}", turned(MM))).unwrap();
    let cell = table.rows[4].cells[1].as_ref().unwrap();
    assert_eq!((cell.mm, cell.line, cell.column), (150.0, 4, 7));
}

#[test]
fn positions_by_spacing_or_by_row_or_by_both() {
    let without: String = MM.lines().filter(|l| !l.starts_with("at,")).map(|l| format!("{l}\n")).collect();
    let spaced = Expected { spacing: Some(500.0), ..expected(Notation::Mm) };
    let by_row = plain(&read(MM).unwrap().0);
    assert_eq!(plain(&read_table(&without, &spaced).unwrap().0), by_row);
    assert_eq!(plain(&read_table(MM, &spaced).unwrap().0), by_row);
    assert_eq!(read(&without).unwrap_err().problem, TableProblem::NoPositions);
    let error = read_table(MM, &Expected { spacing: Some(490.0), ..spaced }).unwrap_err();
    assert!(matches!(error.problem, TableProblem::PositionsDiffer { .. }), "{error}");
}

/// A column left out would move all stations abaft it forward, and shorten the boat.
#[test]
fn by_the_spacing_no_number_may_be_left_out() {
    let without: String = MM.lines().filter(|l| !l.starts_with("at,")).map(|l| format!("{l}\n")).collect();
    let spaced = Expected { spacing: Some(500.0), ..expected(Notation::Mm) };
    let named = |names: &str| without.replacen("row,0,1,2,3,", &format!("row,{names},"), 1);
    for (names, next) in [("0,1,3,4", "3"), ("0,1,2,4", "4"), ("5,4,3,1", "1"), ("0,0.5,1,2", "2"), ("0,2,3,4", "2")]
    {
        let text = named(names);
        assert_ne!(text, without, "{names}");
        let error = read_table(&text, &spaced).unwrap_err();
        let TableProblem::StationMissing { next: found, .. } = &error.problem else { panic!("{names}: {error}") };
        assert_eq!(found, next, "{names}");
        assert!(error.to_string().contains("lines.spacing") && error.to_string().contains("row \"at\""), "{error}");
    }
    // Numbers that step alike, and names that are no numbers, stand at the spacing as ever.
    for names in ["0,1,2,3", "0,2,4,6", "10,9,8,7", "0,0.5,1,1.5", "A,B,C,E", "0,1,2a,4"] {
        assert!(read_table(&named(names), &spaced).is_ok(), "{names}");
    }
    // Where the row says where they stand, names are names.
    assert!(read(&MM.replacen("row,0,1,2,3,", "row,0,1,3,4,", 1)).is_ok());
}

#[test]
fn feet_and_eighths_with_a_diagonal() {
    let diagonals = [Diagonal { name: "A".to_owned(), height: 500.0, below_level: 0.7 }];
    let expected = Expected {
        lengths: Notation::FeetInchesEighths,
        spacing: Some(304.8),
        diagonals: &diagonals,
        transom: false,
        bow_transom: false,
    };
    let text =
        "Row,1,2,3,X\nheight deck,1-6,1-4-4,1-4,1-5\nhb_deck,0-6-1,0-9-4+,0-10,0-8\nDiagonal a,0-5,0-8-1,0-9,0-7\n";
    let (table, findings) = read_table(text, &expected).unwrap();
    assert_eq!(table.stations[3].at, StationAt::Square(914.4000000000001));
    assert_eq!(table.rows[2].kind, RowKind::Diagonal(0));
    assert_eq!(table.rows[1].cells[1].as_ref().unwrap().mm, 242.8875);
    // No rabbet anywhere: mentioned once, with its stations.
    assert_eq!(findings.len(), 1);
    assert_eq!(
        (findings[0].measured, findings[0].place.as_str()),
        (Measure::Count(4.0), "height rabbet, station 1, 2, 3, X")
    );
}

#[test]
fn odd_entries_are_read_and_mentioned() {
    let (_, findings) = read(&MM.replace("520,450,350", "1-8-4,450,13 in")).unwrap();
    assert_eq!(findings.len(), 1);
    assert_eq!(findings[0].place, "half-breadth sheer, station 2, and 1 more");
    assert_eq!((findings[0].measured, findings[0].limit), (Measure::Count(2.0), Measure::Count(0.0)));

    let (_, findings) = read(&MM.replace("530,560", "290,560")).unwrap();
    assert_eq!(findings.len(), 1);
    assert_eq!(findings[0].place, "half-breadth waterline 300, station 3");
    assert_eq!((findings[0].measured, findings[0].limit), (Measure::Length(300.0), Measure::Length(290.0)));
    assert!(findings[0].hint.contains("above the sheer"), "{}", findings[0].hint);

    let (_, findings) = read(&MM.replace("90,80,80", "90,310,80")).unwrap();
    assert_eq!(findings[0].place, "half-breadth waterline 300, station 1");
    assert!(findings[0].hint.contains("below the rabbet"), "{}", findings[0].hint);
}

#[test]
fn stations_whose_numbers_turn_back_are_mentioned() {
    let named = |names: &str| {
        let header = MM.lines().find(|l| l.starts_with("row,")).unwrap();
        read(&MM.replace(header, &format!("row,{names},transom"))).unwrap().1
    };
    for names in ["0,1,2,3", "9,7,5,3", "-1,0,0.5,1", "A,1,B,2", "0,X,2,1/2", "A,B,C,7"] {
        assert!(named(names).is_empty(), "{names}: {:?}", named(names));
    }
    for (names, place) in
        [("0,1,3,2", "station 2 after 3"), ("1,0,2,3", "station 2 after 0"), ("4,1,X,2", "station 2 after 1")]
    {
        let found = named(names);
        assert_eq!(found.len(), 1, "{names}");
        assert_eq!(found[0].place, place, "{names}");
        assert!(found[0].hint.contains("do not run in order") && found[0].hint.contains("as on the plan"));
    }
}

/// A table of a made-up hull, as lines of cells, and what it must be read as.
#[derive(Debug, Clone)]
struct Made {
    lines: Vec<Vec<String>>,
    values: Vec<Vec<Option<f64>>>,
    lengths: Notation,
}

fn made() -> impl Strategy<Value = Made> {
    let sixteenths = proptest::collection::vec(proptest::collection::vec(0..400_u32, 12), 5);
    let notation = proptest::sample::select(vec![Notation::Mm, Notation::Inches, Notation::FeetInchesEighths]);
    (4..12_usize, sixteenths, notation, proptest::bits::u32::ANY).prop_map(|(stations, random, lengths, gaps)| {
        // Whole sixteenths or whole mm print exactly.
        let unit = if lengths == Notation::Mm { 1.0 } else { 1.5875 };
        let print = |n: u32| lengths.long(f64::from(n) * unit);
        let kinds: [(&str, u32); 5] = [
            ("height sheer", 1000),
            ("Height_Rabbet", 100),
            ("half breadth deck", 200),
            ("hb-wl-1-0-0", 100),
            ("height buttock 9 in", 300),
        ];
        let mut lines = vec![vec!["row".to_owned()], vec!["at".to_owned()]];
        for c in 0..stations {
            lines[0].push(format!("S{c}"));
            lines[1].push(print(200 * c as u32));
        }
        let mut values = Vec::new();
        for (r, (name, least)) in kinds.iter().enumerate() {
            let mut line = vec![(*name).to_owned()];
            let mut row = Vec::new();
            for (c, sixteenths) in random[r].iter().enumerate().take(stations) {
                // The buttock may be missing here and there; all else must be there.
                if r == 4 && gaps >> c & 1 == 1 {
                    line.push(String::new());
                    row.push(None);
                    continue;
                }
                let n = least + sixteenths;
                line.push(print(n));
                row.push(Some(f64::from(n) * unit));
            }
            lines.push(line);
            values.push(row);
        }
        Made { lines, values, lengths }
    })
}

fn text(lines: &[Vec<String>], delimiter: &str) -> String {
    lines.iter().map(|l| l.join(delimiter) + "\n").collect()
}

fn transposed(lines: &[Vec<String>]) -> Vec<Vec<String>> {
    (0..lines[0].len()).map(|c| lines.iter().map(|l| l[c].clone()).collect()).collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn what_is_written_is_read_both_ways_round(made in made(), delimiter in proptest::sample::select(vec![",", ";", "\t"])) {
        for lines in [made.lines.clone(), transposed(&made.lines)] {
            let text = text(&lines, delimiter);
            let (table, _) = read_table(&text, &expected(made.lengths)).map_err(|e| TestCaseError::fail(format!("{e}\n{text}")))?;
            prop_assert_eq!(table.stations.len(), made.values[0].len());
            for (row, values) in table.rows.iter().zip(&made.values) {
                for (cell, value) in row.cells.iter().zip(values) {
                    let read = cell.as_ref().map(|c| c.mm);
                    prop_assert_eq!(read.is_some(), value.is_some());
                    prop_assert!((read.unwrap_or(0.0) - value.unwrap_or(0.0)).abs() < 1e-9);
                }
            }
        }
    }

    /// Any bytes, and a good table with some of its bytes replaced: an answer or an error, never a panic; and whatever
    /// is read keeps what the module promises.
    #[test]
    fn spoilt_tables_never_panic(
        made in made(),
        down in any::<bool>(),
        spoilt in proptest::collection::vec((any::<proptest::sample::Index>(), any::<u8>()), 1..12),
        cut in any::<proptest::sample::Index>(),
        cutting in any::<bool>(),
    ) {
        let lines = if down { transposed(&made.lines) } else { made.lines.clone() };
        let mut bytes = text(&lines, ",").into_bytes();
        for (at, byte) in spoilt {
            let at = at.index(bytes.len());
            bytes[at] = byte;
        }
        if cutting {
            bytes.truncate(cut.index(bytes.len()));
        }
        let text = String::from_utf8_lossy(&bytes);
        if let Ok((table, _)) = read_table(&text, &expected(made.lengths)) {
            prop_assert!(table.stations.len() >= 4);
            prop_assert!(table.rows.iter().all(|r| r.cells.len() == table.stations.len()));
            prop_assert!(table.rows.iter().flat_map(|r| &r.cells).flatten().all(|c| c.mm.is_finite()));
        }
    }

    #[test]
    fn any_text_at_all_never_panics(text in any::<String>(), ascii in "[-a-z0-9,;\t\"#\n\r /.+]{0,200}") {
        for text in [text, ascii] {
            if let Err(error) = read(&text) {
                prop_assert!(error.to_string().starts_with("offsets.csv"));
            }
        }
    }
}
