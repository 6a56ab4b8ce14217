//! Boats with one thing wrong: each is refused, and the message names the place, the value, the limit, what to do.

use boat::fastenings::stock::Pack;
use boat::folder::{BoatTexts, FolderError, read};
use proptest::prelude::*;

const TOML: &str = r#"strakewise = 1
name = "Dunlin"
kind = "clinker pram tender, 2.4 m"
lengths = "mm"

[lines]
drawn_to = "inside of plank"
fair_within = 1
[lines.diagonals.A]
height = 500
below_level = 40

[stem]
half_siding = 15
rabbet = [[-250, 620], [-230, 400], [-120, 150]]

[transom]
foot = [1700, 95]
head = [1850, 560]

[planking]
thickness = 8
lap = 18
strakes = 7
wood = "spruce, Sitka"

[timbers]
spacing = 150

[fastenings]
gauge = 14
nail_lengths = [16, 20, 25, 30]
"#;

const OFFSETS: &str = "\
# Dunlin
row,0,1,2,3,transom
at,0,500,1000,1500,
height sheer,600,550,520,530,560
height rabbet,90,80,80,85,
half-breadth sheer,300,480,520,450,350
half-breadth waterline 300,180,400,450,340,200
height buttock 200,320,150,120,160,300
diagonal A,250,400,440,360,
";

const MARKS: &str = "land,station,girth_mm\n1,stem,90\n2,stem,180\n1,2,100\n2,2,205.5\n3,transom,300\n";
const BOARDS: &str = "board,length,width,thickness,wood\nA1,4200,200,12,\"spruce, Sitka\"\nA2,3 m,8 in,12,\n";

/// With this one the lengths of nails stand here, and not in boat.toml.
const NAILS: &str = "kind,gauge,length,diameter,height,thickness,pack,in_hand,notes\n\
                     nail,14,20,,,,1 kg,,\nnail,14,25,,,,250,2,the blue tin\nnail,12,40,,,,500 g,,\n\
                     rove,14,,9.5,1.5,0.9,500,1,\nscrew,8,32,,,,100,,\n";

fn good() -> BoatTexts {
    BoatTexts {
        toml: TOML.to_owned(),
        offsets: OFFSETS.to_owned(),
        marks: Some(MARKS.to_owned()),
        boards: Some(BOARDS.to_owned()),
        nails: None,
    }
}

/// The same with its nails in a list of their own.
fn with_nails() -> BoatTexts {
    let toml = TOML.replace("nail_lengths = [16, 20, 25, 30]\n", "");
    BoatTexts { toml, nails: Some(NAILS.to_owned()), ..good() }
}

#[test]
fn the_boat_is_good_before_it_is_spoilt() {
    let input = read(&good()).unwrap();
    assert!(input.findings.is_empty(), "{:?}", input.findings);
    assert_eq!((input.spec.name.as_str(), input.table.rows.len(), input.table.stations.len()), ("Dunlin", 6, 5));
    assert_eq!((input.pins.len(), input.boards.len()), (5, 2));
    assert_eq!((input.pins[3].land, input.pins[3].station.as_str(), input.pins[3].girth), (2, "2", 205.5));
    assert!((input.boards[1].width - 203.2).abs() < 1e-9);
    // What is not given is as docs/boat-folder.md says.
    let spec = &input.spec;
    assert_eq!(
        (spec.lines.keel_half_siding, spec.planking.gain, spec.planking.transom_gain),
        (15.0, 304.8, Some(304.8))
    );
    assert_eq!((spec.planking.widest, spec.planking.garboard, spec.planking.edge_floor), (127.0, 1.0, 3.2));
    assert!((spec.planking.wood.density - 448.0).abs() < 1e-9 && (spec.timbers.wood.density - 761.6).abs() < 1e-9);
}

#[test]
fn a_list_of_nails_says_what_boat_toml_does_not() {
    let input = read(&with_nails()).unwrap();
    let f = &input.spec.fastenings;
    assert_eq!(
        (f.nail_lengths.as_slice(), f.rove_diameter, f.rove, f.rove_thickness),
        (&[20.0, 25.0][..], 9.5, 1.5, 0.9)
    );
    assert_eq!(input.nails.len(), 5);
    assert_eq!((input.nails[0].pack, input.nails[1].pack), (Some(Pack::Mass(1.0)), Some(Pack::Count(250))));
    assert_eq!((input.nails[1].in_hand, input.nails[3].in_hand, input.nails[4].pack), (2, 1, Some(Pack::Count(100))));
    // In any units, and by the piece.
    for (pack, grams) in [("1 lb", 453.592_37), ("8oz", 226.796_185), ("0.5 kg", 500.0), ("500g", 500.0)] {
        let nails = Some(NAILS.replacen("1 kg", pack, 1));
        let input = read(&BoatTexts { nails, ..with_nails() }).unwrap();
        assert!(matches!(input.nails[0].pack, Some(Pack::Mass(kg)) if (kg * 1000.0 - grams).abs() < 1e-9), "{pack}");
    }
    let loose = read(&BoatTexts { nails: Some(NAILS.replacen("1 kg", "", 1)), ..with_nails() }).unwrap();
    assert_eq!(loose.nails[0].pack, None);
    // A list of roves alone leaves the lengths to boat.toml, and one for another gauge changes nothing.
    let roves = "kind,gauge,diameter\nrove,12,11\n".to_owned();
    let input = read(&BoatTexts { nails: Some(roves), ..good() }).unwrap();
    assert_eq!((input.spec.fastenings.nail_lengths.len(), input.spec.fastenings.rove_diameter), (4, 9.5));
}

/// What stands in nails.csv and in boat.toml too is refused, and the message names the line of boat.toml.
#[test]
fn nails_said_twice_are_refused() {
    for (line, key, nails) in [
        ("nail_lengths = [16, 20]", "fastenings.nail_lengths", NAILS.to_owned()),
        ("rove_diameter = 9", "fastenings.rove_diameter", NAILS.to_owned()),
        ("rove = 2", "fastenings.rove", NAILS.to_owned()),
    ] {
        let toml = with_nails().toml.replace("gauge = 14", &format!("gauge = 14\n{line}"));
        let said = read(&BoatTexts { toml, nails: Some(nails), ..good() }).unwrap_err().to_string();
        let at = TOML.lines().position(|l| l == "gauge = 14").unwrap() + 2;
        assert!(said.starts_with(&format!("boat.toml, line {at}, {key}: nails.csv says")), "{said}");
        assert!(said.contains("take this line out"), "{said}");
    }
    // A rove's height that the list leaves out may be said.
    let toml = with_nails().toml.replace("gauge = 14", "gauge = 14\nrove = 2");
    let nails = Some(NAILS.replace("9.5,1.5", "9.5,"));
    assert_eq!(read(&BoatTexts { toml, nails, ..good() }).unwrap().spec.fastenings.rove, 2.0);
}

/// A name, the file, what is replaced by what, and what the message must say.
type Case = (&'static str, &'static str, &'static str, &'static str, &'static [&'static str]);

const CASES: &[Case] = &[
    // boat.toml: its form
    ("another form", "boat", "strakewise = 1", "strakewise = 2", &["line 1", "form 2", "form 1", "strakewise = 1"]),
    ("no form", "boat", "strakewise = 1\n", "", &["strakewise", "missing", "strakewise = 1"]),
    ("form as text", "boat", "strakewise = 1", "strakewise = \"1\"", &["form \"1\"", "form 1"]),
    ("no TOML", "boat", "kind = ", "kind == ", &["boat.toml, line 3", "quotes"]),
    (
        "entry settled nowhere",
        "boat",
        "[planking]",
        "[[entries]]\nrow = \"height sheer\"\nstation = \"9\"\ntake = \"as printed\"\nreason = \"so\"\n[planking]",
        &["boat.toml, line", "entries, item 1.station", "“9”", "\"transom\""],
    ),
    (
        "entry settled in no row",
        "boat",
        "[planking]",
        "[[entries]]\nrow = \"height sher\"\nstation = \"1\"\ntake = 540\nreason = \"so\"\n[planking]",
        &["boat.toml, line", "entries, item 1.row", "“height sher”", "\"height sheer\""],
    ),
    (
        "empty entry settled",
        "boat",
        "[planking]",
        "[[entries]]\nrow = \"diagonal A\"\nstation = \"transom\"\ntake = 300\nreason = \"so\"\n[planking]",
        &["boat.toml, line", "entries, item 1.station", "no entry for that row", "fill it in"],
    ),
    (
        "entry settled without a reason",
        "boat",
        "[planking]",
        "[[entries]]\nrow = \"height sheer\"\nstation = \"1\"\ntake = 540\n[planking]",
        &["boat.toml, line", "entries, item 1.reason", "is missing"],
    ),
    ("text without quotes", "boat", "lap = 18", "lap = 3/4 in", &["boat.toml, line 23"]),
    ("key twice", "boat", "lap = 18", "lap = 18\nlap = 20", &["boat.toml, line 24", "duplicate"]),
    ("misspelt key", "boat", "thickness = 8", "thicknes = 8", &["line 22", "planking.thicknes", "thickness", "lap"]),
    ("misspelt section", "boat", "[planking]", "[plankng]", &["line 21", "plankng", "did you mean planking"]),
    ("unknown key", "boat", "gauge = 14", "gauge = 14\ncolour = 3", &["fastenings.colour", "no such key", "gauge"]),
    (
        "unknown key of a diagonal",
        "boat",
        "below_level = 40",
        "below_level = 40\nangle = 3",
        &["lines.diagonals.A.angle"],
    ),
    ("no name", "boat", "name = \"Dunlin\"\n", "", &["name", "missing", "for example"]),
    ("empty name", "boat", "\"Dunlin\"", "\"  \"", &["line 2", "name", "0 letters", "1 to 40"]),
    (
        "endless name",
        "boat",
        "Dunlin",
        "Dunlin Dunlin Dunlin Dunlin Dunlin Dunlin Dunlin",
        &["name", "48 letters", "40"],
    ),
    ("line break in a name", "boat", "\"Dunlin\"", "\"Dun\\nlin\"", &["name", "line breaks"]),
    ("name as number", "boat", "\"Dunlin\"", "7", &["name", "“7”", "text in quotes"]),
    ("lengths not declared", "boat", "lengths = \"mm\"\n", "", &["lengths", "missing", "ft-in-8ths"]),
    (
        "lengths unknown",
        "boat",
        "lengths = \"mm\"",
        "lengths = \"cubits\"",
        &["line 4", "cubits", "mm", "in", "ft-in-8ths"],
    ),
    (
        "face not told",
        "boat",
        "drawn_to = \"inside of plank\"\n",
        "",
        &["lines.drawn_to", "missing", "outside of plank"],
    ),
    ("face unknown", "boat", "inside of plank", "middle of plank", &["line 7", "middle of plank", "inside of plank"]),
    (
        "no stem",
        "boat",
        "[stem]\nhalf_siding = 15\nrabbet = [[-250, 620], [-230, 400], [-120, 150]]\n",
        "",
        &["neither", "[stem]", "[bow_transom]"],
    ),
    (
        "no after end",
        "boat",
        "[transom]\nfoot = [1700, 95]\nhead = [1850, 560]\n",
        "",
        &["neither", "[transom]", "[sternpost]"],
    ),
    (
        "two fore ends",
        "boat",
        "[planking]",
        "[bow_transom]\nfoot = [-100, 200]\nhead = [-200, 560]\n[planking]",
        &["bow_transom", "both a stem and a bow transom", "exactly one"],
    ),
    (
        "transom rounder than it is high",
        "boat",
        "head = [1850, 560]",
        "head = [1850, 560]\nradius = 400",
        &["transom.radius", "400 mm", "488.6 mm"],
    ),
    (
        "transom's crown nearly half a circle",
        "boat",
        "head = [1850, 560]",
        "head = [1850, 560]\ncrown = 300",
        &["transom.crown", "300 mm", "offsets.csv", "at most", "half of that"],
    ),
    (
        "transom's crown hollow",
        "boat",
        "head = [1850, 560]",
        "head = [1850, 560]\ncrown = -20",
        &["transom.crown", "“-20”", "0 mm to 500 mm"],
    ),
    (
        "stem's wood thinner than its rabbet",
        "boat",
        "half_siding = 15",
        "half_siding = 15\nwood_half_siding = 12",
        &["stem.wood_half_siding", "“12”", "15 mm to 300 mm"],
    ),
    (
        "a stem's head without its wood",
        "boat",
        "half_siding = 15",
        "half_siding = 15\nwood_outside = 30\nhead = 90",
        &["stem.head", "line 16", "wood_outside and wood_inside", "take this line out"],
    ),
    (
        "a stem's head as tall as a mast",
        "boat",
        "half_siding = 15",
        "half_siding = 15\nwood_outside = 30\nwood_inside = 30\nhead = 2000",
        &["stem.head", "“2000”", "0 mm to 1000 mm"],
    ),
    (
        "legs as wide as the mould",
        "boat",
        "[planking]",
        "[moulds]\nleg = 900\n[planking]",
        &["moulds.leg", "“900”", "0 mm to 300 mm"],
    ),
    (
        "hog as wide as a house",
        "boat",
        "[planking]",
        "[keel]\nhog_half_breadth = 1200\n[planking]",
        &["keel.hog_half_breadth", "“1200”", "1 mm to 500 mm"],
    ),
    (
        "stood on her side",
        "boat",
        "[planking]",
        "[moulds]\nstand = \"on her side\"\n[planking]",
        &["moulds.stand", "on her side", "upright", "upside down"],
    ),
    (
        "two after ends",
        "boat",
        "[planking]",
        "[sternpost]\nhalf_siding = 1\nrabbet = []\n[planking]",
        &["both", "exactly one"],
    ),
    // boat.toml: its values
    (
        "unknown kind of row",
        "boat",
        "fair_within = 1",
        "fair_within = 1\nfair_within_by = { height = 1 }",
        &["lines.fair_within_by.height", "heights", "half_breadths"],
    ),
    (
        "rows moved by a hand's breadth",
        "boat",
        "fair_within = 1",
        "fair_within = 1\nfair_within_by = { buttocks = 80 }",
        &["lines.fair_within_by.buttocks", "“80”", "0 mm to 25.4 mm"],
    ),
    (
        "one tolerance by kind",
        "boat",
        "fair_within = 1",
        "fair_within = 1\nfair_within_by = 2",
        &["line 9", "lines.fair_within_by", "section"],
    ),
    ("no length", "boat", "lap = 18", "lap = \"wide\"", &["line 23", "planking.lap", "“wide”", "not a length"]),
    ("length as truth", "boat", "lap = 18", "lap = true", &["planking.lap", "“true”", "a length"]),
    ("not a number", "boat", "lap = 18", "lap = nan", &["planking.lap", "“nan”", "a length"]),
    (
        "timbers side by side",
        "boat",
        "spacing = 150",
        "spacing = 60\nsided = 60",
        &["timbers.spacing", "60 mm", "leaves no wood", "timbers.sided"],
    ),
    (
        "two timbers in one place",
        "boat",
        "spacing = 150",
        "at = [300, 450, 450]",
        &["timbers.at, item 3", "450 mm", "each once"],
    ),
    (
        "timbers aft first",
        "boat",
        "spacing = 150",
        "at = [450, 300]",
        &["timbers.at, item 2", "300 mm", "from forward"],
    ),
    (
        "timbers placed twice",
        "boat",
        "spacing = 150",
        "spacing = 150\nat = [300, 450]",
        &["timbers.spacing", "take one of the two lines out"],
    ),
    (
        "a timber of no layers",
        "boat",
        "spacing = 150",
        "layers = 0\nspacing = 150",
        &["timbers.layers", "“0”", "1 to 20"],
    ),
    (
        "a timber bent neither way",
        "boat",
        "spacing = 150",
        "bent = \"wet\"\nspacing = 150",
        &["timbers.bent", "wet", "steamed", "cold"],
    ),
    (
        "a timber that bends further cold",
        "boat",
        "spacing = 150",
        "steamed_radius = 60\ncold_radius = 50\nspacing = 150",
        &["timbers.cold_radius", "60 thicknesses", "50"],
    ),
    (
        "wetter than wood gets",
        "boat",
        "[timbers]",
        "[moisture]\nafloat = 250\n[timbers]",
        &["moisture.afloat", "“250”", "0 to 200"],
    ),
    (
        "shrinkage one way only",
        "boat",
        "[timbers]",
        "[moisture]\nshrinkage = [4.5]\n[timbers]",
        &["moisture.shrinkage", "1", "2"],
    ),
    (
        "rings askew",
        "boat",
        "[timbers]",
        "[moisture]\nrings = \"rift\"\n[timbers]",
        &["moisture.rings", "rift", "flat", "quarter"],
    ),
    (
        "canted past half",
        "boat",
        "spacing = 150",
        "spacing = 150\ncant_fore = [60]",
        &["timbers.cant_fore, item 1", "“60”", "0 to 45"],
    ),
    (
        "stopped at both",
        "boat",
        "spacing = 150",
        "spacing = 150\nstopped = [{ timber = 3, strake = 4, height = 300 }]",
        &["timbers.stopped, item 1", "one of the two"],
    ),
    (
        "stopped twice",
        "boat",
        "spacing = 150",
        "spacing = 150\nstopped = [{ timber = 3, strake = 4 }, { timber = 3, strake = 5 }]",
        &["timbers.stopped, item 2", "timber 3", "take one out"],
    ),
    (
        "thirteen inches",
        "boat",
        "spacing = 150",
        "spacing = \"0-13-0\"",
        &["line 28", "timbers.spacing", "13 inches", "0 to 11"],
    ),
    ("paper planks", "boat", "thickness = 8", "thickness = 0.8", &["planking.thickness", "“0.8”", "3 mm to 50 mm"]),
    (
        "negative thickness",
        "boat",
        "thickness = 8",
        "thickness = -8",
        &["planking.thickness", "“-8”", "3 mm to 50 mm"],
    ),
    (
        "land narrower than the plank is thick",
        "boat",
        "lap = 18",
        "lap = 6",
        &["planking.lap", "“6”", "8 mm to 64 mm", "thickness"],
    ),
    ("land wider than any", "boat", "lap = 18", "lap = 90", &["planking.lap", "“90”", "64 mm"]),
    ("two strakes", "boat", "strakes = 7", "strakes = 2", &["planking.strakes", "“2”", "3 to 40"]),
    ("half a strake", "boat", "strakes = 7", "strakes = 7.5", &["planking.strakes", "“7.5”", "whole number"]),
    ("strakes past counting", "boat", "strakes = 7", "strakes = 99999999999", &["planking.strakes", "3 to 40"]),
    (
        "unknown wood",
        "boat",
        "spruce, Sitka",
        "spruce, Sikta",
        &["planking.wood", "“spruce, Sikta”", "did you mean “spruce, Sitka”", "density"],
    ),
    (
        "lead planks",
        "boat",
        "strakes = 7",
        "strakes = 7\ndensity = 11000",
        &["planking.density", "11000", "50 to 1500"],
    ),
    ("gauge not in the table", "boat", "gauge = 14", "gauge = 31", &["fastenings.gauge", "“31”", "1 to 30"]),
    (
        "nails out of order",
        "boat",
        "[16, 20, 25, 30]",
        "[16, 25, 20, 30]",
        &["nail_lengths, item 3", "20 mm", "25 mm", "shortest first"],
    ),
    ("no nails", "boat", "[16, 20, 25, 30]", "[]", &["nail_lengths", "0", "1 to 60"]),
    ("nails as one", "boat", "[16, 20, 25, 30]", "16", &["nail_lengths", "“16”", "a list"]),
    (
        "rabbet doubles back",
        "boat",
        "[-230, 400]",
        "[-260, 400]",
        &["stem.rabbet, item 2", "-260 mm", "-250 mm", "aft or plumb"],
    ),
    ("rabbet runs up", "boat", "[-120, 150]", "[-120, 450]", &["stem.rabbet, item 3", "450 mm", "400 mm", "below"]),
    ("rabbet of one point", "boat", ", [-230, 400], [-120, 150]", "", &["stem.rabbet", "1", "2 to 60"]),
    ("point of three numbers", "boat", "[-230, 400]", "[-230, 10, 400]", &["stem.rabbet, item 2", "a point"]),
    ("transom on its head", "boat", "head = [1850, 560]", "head = [1850, 60]", &["transom.head", "-35 mm", "50 mm"]),
    (
        "transom lying down",
        "boat",
        "head = [1850, 560]",
        "head = [3850, 560]",
        &["transom.head", "2150 mm", "2 its rise"],
    ),
    (
        "transom before the stem",
        "boat",
        "foot = [1700, 95]\nhead = [1850",
        "foot = [-300, 95]\nhead = [-150",
        &["transom", "-180 mm", "500 mm to 30000 mm"],
    ),
    (
        "gain at a post",
        "boat",
        "[transom]\nfoot = [1700, 95]\nhead = [1850, 560]\n\n[planking]",
        "[sternpost]\nhalf_siding = 15\nrabbet = [[1850, 560], [1700, 95]]\n[planking]\ntransom_gain = 200",
        &["planking.transom_gain", "sternpost", "take this line out"],
    ),
    (
        "diagonal that does not fall",
        "boat",
        "below_level = 40",
        "below_level = 0",
        &["lines.diagonals.A.below_level", "“0”", "1 to 89"],
    ),
    ("diagonal without a height", "boat", "height = 500\n", "", &["lines.diagonals.A.height", "missing"]),
    (
        "diagonals alike",
        "boat",
        "[stem]",
        "[lines.diagonals.a]\nheight = 1\nbelow_level = 9\n[stem]",
        &["lines.diagonals.a", "rename"],
    ),
    // offsets.csv: its form
    ("empty table", "offsets", OFFSETS, "# nothing\n\n", &["offsets.csv", "empty", "stations"]),
    ("stations only", "offsets", OFFSETS, "row,0,1,2,3\n", &["offsets.csv", "empty"]),
    (
        "open quotation mark",
        "offsets",
        "height sheer,600",
        "height sheer,\"600",
        &["line 4, cell 2", "quotation mark", "close it"],
    ),
    ("short line", "offsets", "85,\n", "85\n", &["line 5", "5 cells", "first line has 6"]),
    ("long line", "offsets", "450,350", "450,350,360", &["line 6", "7 cells", "first line has 6"]),
    (
        "no rows named",
        "offsets",
        OFFSETS,
        "a,b,c\nhieght sheer,1,2\n",
        &["line 1", "hieght sheer", "did you mean “height sheer”"],
    ),
    ("rows named both ways", "offsets", "row,0,", "row,height sheer,", &["both", "“height sheer”"]),
    (
        "misspelt row",
        "offsets",
        "height rabbet",
        "hieght rabbet",
        &["line 5, cell 1", "hieght rabbet", "did you mean “height rabbet”"],
    ),
    (
        "waterline without level",
        "offsets",
        "half-breadth waterline 300",
        "half-breadth waterline",
        &["line 7", "level", "missing"],
    ),
    ("waterline with a bad level", "offsets", "waterline 300", "waterline 1-3-9", &["line 7", "9 eighths", "0 to 7"]),
    ("buttock on the centreline", "offsets", "buttock 200", "buttock 0", &["line 8", "0 mm", "5000 mm"]),
    ("waterline up the mast", "offsets", "waterline 300", "waterline 30000", &["line 7", "30000 mm", "6000 mm"]),
    (
        "one row twice",
        "offsets",
        "height rabbet",
        "height deck",
        &["line 5", "“height deck”", "line 4", "“height sheer”"],
    ),
    (
        "one level twice",
        "offsets",
        "height buttock 200",
        "hb wl 30 cm",
        &["line 8", "half-breadth waterline 300", "line 7"],
    ),
    (
        "diagonal unknown",
        "offsets",
        "diagonal A",
        "diagonal B",
        &["line 9", "“B”", "it has A", "[lines.diagonals.B]"],
    ),
    // offsets.csv: its stations
    ("two stations of a name", "offsets", "row,0,1,2", "row,0,2,2", &["line 2, cell 4", "“2”", "rename"]),
    ("nameless station", "offsets", "row,0,1,2", "row,0,,2", &["line 2, cell 3", "no name"]),
    (
        "endless name of a station",
        "offsets",
        "row,0,1",
        "row,0,the one that is by the after thwart",
        &["35 letters", "24"],
    ),
    ("stem as station", "offsets", "row,0,", "row,Stem,", &["“Stem”", "boat.toml"]),
    (
        "transom in the middle",
        "offsets",
        "row,0,1,2,3,transom",
        "row,0,1,2,transom,3",
        &["“transom”", "move its column to the end"],
    ),
    (
        "bow transom in a boat with a stem",
        "offsets",
        "row,0,1,2,3,transom",
        "row,bow transom,1,2,3,transom",
        &["“bow transom”", "boat.toml has a stem"],
    ),
    ("three stations", "offsets", OFFSETS, "row,0,1,2\nheight sheer,1,2,3\n", &["3 stations", "4"]),
    ("no positions", "offsets", "at,0,500,1000,1500,\n", "", &["spacing", "\"at\""]),
    ("position missing", "offsets", "at,0,500,1000", "at,0,,1000", &["line 3, cell 3", "“1”", "no position"]),
    ("position no length", "offsets", "at,0,500", "at,0,five", &["line 3, cell 3", "row “at”", "“five”"]),
    (
        "stations out of order",
        "offsets",
        "at,0,500,1000",
        "at,0,1000,500",
        &["line 3", "station “2”", "500 mm", "1000 mm", "forward aft"],
    ),
    ("stations on top of one another", "offsets", "at,0,500,1000", "at,0,500,510", &["510 mm", "20 mm"]),
    ("first station not at 0", "offsets", "at,0,", "at,100,", &["line 3", "100 mm", "must be 0"]),
    ("ship", "offsets", "1000,1500,", "1000,31000,", &["31000 mm", "30000 mm"]),
    (
        "positions twice, differently",
        "both",
        "fair_within = 1",
        "fair_within = 1\nspacing = 400",
        &["station “1”", "500 mm", "400 mm"],
    ),
    (
        "transom with a position",
        "offsets",
        "1000,1500,",
        "1000,1500,1700",
        &["row “at”, station “transom”", "1700", "leave it empty"],
    ),
    (
        "transom without one in boat.toml",
        "boat",
        "[transom]\nfoot = [1700, 95]\nhead = [1850, 560]",
        "[sternpost]\nhalf_siding = 15\nrabbet = [[1850, 560], [1700, 95]]",
        &["offsets.csv", "transom", "sternpost"],
    ),
    // offsets.csv: its entries
    (
        "no entry",
        "offsets",
        "520,450,350",
        "52O,450,350",
        &["line 6, cell 4", "row “half-breadth sheer”, station “2”", "“52O”"],
    ),
    ("decimal comma", "offsets", "520,450,350", "\"520,5\",450,350", &["line 6, cell 4", "“520,5”", "decimal point"]),
    ("a date", "offsets", "520,450,350", "2004-01-08,450,350", &["“2004-01-08”", "date", "as text"]),
    ("negative half-breadth", "offsets", "520,450,350", "-520,450,350", &["station “2”", "-520", "0 or more"]),
    ("half-breadth of a ship", "offsets", "520,450,350", "5200,450,350", &["station “2”", "5200", "5000 mm"]),
    ("height of a mast", "offsets", "550,520", "7550,520", &["row “height sheer”, station “1”", "7550", "6000 mm"]),
    (
        "no sheer height",
        "offsets",
        "550,520",
        ",520",
        &["line 4, cell 3", "row “height sheer”, station “1”", "\"height sheer\"", "fill it in"],
    ),
    (
        "no sheer half-breadth",
        "offsets",
        "300,480",
        "300,",
        &["line 6, cell 3", "station “1”", "\"half-breadth sheer\""],
    ),
    (
        "no row of sheer heights",
        "offsets",
        "height sheer,600,550,520,530,560\n",
        "",
        &["line 2, cell 2", "station “0”"],
    ),
    (
        "sheer below rabbet",
        "offsets",
        "600,550,520",
        "600,60,520",
        &["line 4, cell 3", "station “1”", "60 mm", "80 mm", "check the plan"],
    ),
    // marks.csv
    ("empty marks", "marks", MARKS, "", &["marks.csv", "empty", "land, station, girth"]),
    ("no column of girths", "marks", ",girth_mm", "", &["marks.csv, line 1", "“girth”", "missing"]),
    ("misspelt column", "marks", "station,", "staton,", &["marks.csv, line 1", "“staton”", "did you mean station"]),
    (
        "land that is no number",
        "marks",
        "1,2,100",
        "one,2,100",
        &["marks.csv, line 4", "“land”", "“one”", "whole number"],
    ),
    ("land above the sheer", "marks", "3,transom", "8,transom", &["marks.csv, line 6", "“8”", "0 (the rabbet) to 7"]),
    (
        "unknown station of a mark",
        "marks",
        "1,2,100",
        "1,9,100",
        &["marks.csv, line 4", "“9”", "stem, 0, 1, 2, 3, transom"],
    ),
    ("sternpost in a boat with a transom", "marks", "3,transom", "3,sternpost", &["“sternpost”", "transom"]),
    ("one mark twice", "marks", "2,stem", "1,Stem", &["marks.csv, line 3", "land 1", "line 2"]),
    ("marks that cross", "marks", "205.5", "95", &["marks.csv, line 5", "95 mm", "100 mm", "line 4"]),
    ("girth of nothing", "marks", "205.5", "", &["marks.csv, line 5", "“girth”", "empty"]),
    ("negative girth", "marks", "205.5", "-205.5", &["“-205.5”", "0 mm to 10000 mm"]),
    ("land 0 off the rabbet", "marks", "1,2,100", "0,2,50", &["marks.csv, line 4", "rabbet", "50 mm"]),
    // boards.csv
    (
        "transom ends unknown",
        "boat",
        "lap = 18",
        "lap = 18\ntransom_ends = \"stepped\"",
        &["planking.transom_ends", "stepped", "flush", "notched", "plain"],
    ),
    (
        "gain on a plain transom",
        "boat",
        "lap = 18",
        "lap = 18\ntransom_ends = \"plain\"\ntransom_gain = 200",
        &["planking.transom_gain", "stand proud", "take this line out"],
    ),
    (
        "plain and notched at once",
        "boat",
        "lap = 18",
        "lap = 18\ntransom_ends = \"plain\"\ntransom_gain = \"notched\"",
        &["planking.transom_gain", "stand proud"],
    ),
    (
        "left short",
        "boat",
        "lap = 18",
        "lap = 18\nleft_long_fore = -5",
        &["planking.left_long_fore", "-5", "0 mm to 300 mm"],
    ),
    (
        "left very long aft",
        "boat",
        "lap = 18",
        "lap = 18\nleft_long_aft = 900",
        &["planking.left_long_aft", "900", "0 mm to 300 mm"],
    ),
    (
        "overhang inboard",
        "boat",
        "lap = 18",
        "lap = 18\ntransom_overhang = -1",
        &["planking.transom_overhang", "0 mm to 300 mm"],
    ),
    (
        "sheer below itself",
        "boat",
        "lap = 18",
        "lap = 18\nsheer_proud = -1",
        &["planking.sheer_proud", "0 mm to 50 mm"],
    ),
    (
        "bevels at every step of nothing",
        "boat",
        "lap = 18",
        "lap = 18\nbevel_every = 0",
        &["planking.bevel_every", "20 mm to 1000 mm"],
    ),
    (
        "spiling without end",
        "boat",
        "lap = 18",
        "lap = 18\nspile_every = 2",
        &["planking.spile_every", "2", "20 mm to 1000 mm"],
    ),
    (
        "held by nothing",
        "boat",
        "lap = 18",
        "lap = 18\nconstruction = \"tied\"",
        &["planking.construction", "tied", "riveted", "glued"],
    ),
    (
        "rivets in glue",
        "boat",
        "lap = 18",
        "lap = 18\nconstruction = \"glued\"",
        &["fastenings", "glued", "take this section out", "put # before its lines"],
    ),
    (
        "glue in rivets",
        "boat",
        "lap = 18",
        "lap = 18\nglue_rate = 400",
        &["planking.glue_rate", "riveted", "take this line out"],
    ),
    (
        "neither board nor sheet",
        "boards",
        BOARDS,
        "board,length,width,thickness,kind\nA1,4200,200,12,log\n",
        &["boards.csv, line 2", "kind", "log", "board or sheet"],
    ),
    ("one board twice", "boards", "A2", "A1", &["boards.csv, line 3", "board A1", "line 2"]),
    ("board without width", "boards", "8 in", "", &["boards.csv, line 3", "“width”", "empty"]),
    (
        "board as thick as a tree",
        "boards",
        "200,12",
        "200,1200",
        &["boards.csv, line 2", "“thickness”", "1200", "150 mm"],
    ),
    (
        "column of colours",
        "boards",
        "thickness,wood",
        "thickness,colour",
        &["boards.csv, line 1", "“colour”", "wood"],
    ),
    // fastenings
    (
        "rivets that leave no wood",
        "boat",
        "gauge = 14",
        "gauge = 14\nbetween = 18",
        &["boat.toml, line", "fastenings.between", "7.9 mm", "8.1 mm", "gauge 14", "ask for fewer"],
    ),
    (
        "thick nails through a thin plank",
        "boat",
        "gauge = 14",
        "gauge = 2\napart = 3",
        &["fastenings.apart", "24.0 mm", "28.0 mm", "gauge 2", "thinner nails"],
    ),
    (
        "ends nailed hole to hole",
        "boat",
        "gauge = 14",
        "gauge = 14\nend_spacing = 6",
        &["fastenings.end_spacing", "6.0 mm", "8.1 mm"],
    ),
    (
        "transom with more at least than at most",
        "boat",
        "gauge = 14",
        "gauge = 14\ntransom_fastenings = [4, 3]",
        &["fastenings.transom_fastenings", "4", "3", "the smaller number first"],
    ),
    (
        "transom with one",
        "boat",
        "gauge = 14",
        "gauge = 14\ntransom_fastenings = [1, 3]",
        &["transom_fastenings, item 1", "“1”", "2 to 12"],
    ),
    (
        "transom with a few",
        "boat",
        "gauge = 14",
        "gauge = 14\ntransom_fastenings = 3",
        &["“3”", "the least and the most"],
    ),
    (
        "ends glued",
        "boat",
        "gauge = 14",
        "gauge = 14\nends = \"glue\"",
        &["fastenings.ends", "glue", "\"nails\" or \"screws\""],
    ),
    (
        "screws of no size",
        "boat",
        "gauge = 14",
        "gauge = 14\nfore_ends = \"screws\"",
        &["fastenings.screw_gauge", "is missing", "screw_gauge = 8"],
    ),
    (
        "screws of no length",
        "boat",
        "gauge = 14",
        "gauge = 14\nkeel = \"screws\"\nscrew_gauge = 8",
        &["fastenings.screw_length", "is missing", "screw_length ="],
    ),
    (
        "screws that stay in the plank",
        "boat",
        "gauge = 14",
        "gauge = 14\nkeel = \"screws\"\nscrew_gauge = 8\nscrew_length = 8",
        &["fastenings.screw_length", "8 mm", "longer"],
    ),
    (
        "a screw as thick as a post",
        "boat",
        "gauge = 14",
        "gauge = 14\nends = \"screws\"\nscrew_gauge = 80\nscrew_length = 30",
        &["fastenings.screw_gauge", "“80”", "0 to 24"],
    ),
    (
        "screws for nothing",
        "boat",
        "gauge = 14",
        "gauge = 14\nscrew_gauge = 8",
        &["fastenings.screw_gauge", "nothing is screwed", "take this line out"],
    ),
    (
        "nails that hold nothing",
        "boat",
        "gauge = 14",
        "gauge = 14\nhold = 0",
        &["fastenings.hold", "“0”", "0.5 to 6"],
    ),
    (
        "head like a plate",
        "boat",
        "gauge = 14",
        "gauge = 14\nhead_diameter = 50",
        &["fastenings.head_diameter", "1 mm to 30 mm"],
    ),
    (
        "head like its nail",
        "boat",
        "gauge = 14",
        "gauge = 5\nhead_diameter = 5",
        &["boat.toml, line", "fastenings.head_diameter", "head 5.0 mm", "gauge 5, 5.4 mm", "check its digits"],
    ),
    (
        "rove that its nail falls through",
        "boat",
        "gauge = 14",
        "gauge = 14\nrove_diameter = 2",
        &["fastenings.rove_diameter", "rove 2.00 mm", "gauge 14, 2.03 mm"],
    ),
    // nails.csv
    ("an unknown gauge", "nails", "nail,14,20", "nail,31,20", &["nails.csv, line 2", "“gauge”", "“31”", "1 to 30"]),
    (
        "a gauge in words",
        "nails",
        "nail,14,20",
        "nail,thin,20",
        &["nails.csv, line 2", "“gauge”", "“thin”", "whole number"],
    ),
    (
        "neither nail nor rove",
        "nails",
        "nail,14,20",
        "spike,14,20",
        &["nails.csv, line 2", "“kind”", "“spike”", "nail, rove or screw"],
    ),
    (
        "a nail as long as an arm",
        "nails",
        "nail,14,20",
        "nail,14,700",
        &["nails.csv, line 2", "“length”", "700", "5 mm to 300 mm"],
    ),
    (
        "a nail of no length",
        "nails",
        "nail,14,20",
        "nail,14,",
        &["nails.csv, line 2", "“length”", "empty", "fill it in"],
    ),
    ("a pack of none", "nails", "250", "0", &["nails.csv, line 3", "“pack”", "“0”", "1 to 100000"]),
    ("a pack of no mass", "nails", "1 kg", "0 kg", &["nails.csv, line 2", "“pack”", "“0 kg”", "10 g to 100 kg"]),
    ("a pack in no unit", "nails", "1 kg", "a box", &["nails.csv, line 2", "“pack”", "“a box”", "1 kg, 500 g, 1 lb"]),
    ("a pack less than nothing", "nails", "1 kg", "-1 kg", &["nails.csv, line 2", "“pack”", "“-1 kg”", "is no pack"]),
    (
        "a pack lighter than its nail",
        "nails",
        "nail,12,40,,,,500 g",
        "nail,1,300,,,,20 g",
        &["nails.csv, line 4", "“pack”", "“20 g”", "would not hold one", "156.1 g each"],
    ),
    (
        "screws by mass",
        "nails",
        "32,,,,100",
        "32,,,,1 kg",
        &["nails.csv, line 6", "“pack”", "how many are in a pack"],
    ),
    (
        "half a pack in hand",
        "nails",
        "250,2",
        "250,0.5",
        &["nails.csv, line 3", "“in_hand”", "“0.5”", "whole number"],
    ),
    ("packs in hand of none", "nails", "250,2", ",2", &["nails.csv, line 3", "“in_hand”", "pack", "fill it in"]),
    (
        "one nail twice",
        "nails",
        "14,25",
        "14,20",
        &["nails.csv, line 3", "nail of gauge 14 and 20 mm", "line 2", "keep one"],
    ),
    (
        "two roves for a nail",
        "nails",
        "screw,8,32,,,,100",
        "rove,14,,12,,,",
        &["nails.csv, line 6", "rove for gauge 14", "line 5"],
    ),
    (
        "a nail with a diameter",
        "nails",
        "14,20,,",
        "14,20,5,",
        &["nails.csv, line 2", "“diameter”", "“5”", "nail does not have"],
    ),
    (
        "a rove with a length",
        "nails",
        "rove,14,,",
        "rove,14,9,",
        &["nails.csv, line 5", "“length”", "“9”", "rove does not have"],
    ),
    ("a rove of no width", "nails", "rove,14,,9.5", "rove,14,,", &["nails.csv, line 5", "“diameter”", "empty"]),
    (
        "a rove for a needle",
        "nails",
        "rove,14,,9.5",
        "rove,1,,7",
        &["nails.csv, line 5", "“diameter”", "7.0 mm", "7.6 mm"],
    ),
    (
        "no nails of her gauge",
        "nails",
        NAILS,
        "kind,gauge,length\nnail,12,40\nnail,16,20\n",
        &["nails.csv, “gauge”", "gauge 14", "12, 16", "fastenings.gauge"],
    ),
    (
        "nails without gauge",
        "nails",
        "kind,gauge,",
        "kind,notes2,",
        &["nails.csv, line 1", "“notes2”", "no such column"],
    ),
    ("an empty list of nails", "nails", NAILS, "# none\n", &["nails.csv: the file is empty", "take the file away"]),
];

fn spoilt((name, file, from, to, _): &Case) -> BoatTexts {
    let mut texts = good();
    let replace = |text: &mut String| {
        assert!(text.contains(from), "{name}: the good boat has no {from:?}");
        *text = text.replacen(from, to, 1);
    };
    match *file {
        "boat" | "both" => replace(&mut texts.toml),
        "offsets" => replace(&mut texts.offsets),
        "marks" => replace(texts.marks.get_or_insert_default()),
        "nails" => {
            texts = with_nails();
            replace(texts.nails.get_or_insert_default());
        }
        _ => replace(texts.boards.get_or_insert_default()),
    }
    texts
}

#[test]
fn one_thing_wrong_is_named_with_its_place_value_limit_and_remedy() {
    let mut wrong = Vec::new();
    for case in CASES {
        let message = match read(&spoilt(case)) {
            Ok(_) => "read without complaint".to_owned(),
            Err(error) => error.to_string(),
        };
        let unsaid: Vec<&&str> = case.4.iter().filter(|part| !message.contains(**part)).collect();
        if !unsaid.is_empty() {
            wrong.push(format!("{}: {message}\n    does not say {unsaid:?}", case.0));
        }
    }
    assert!(wrong.is_empty(), "{} of {}:\n{}", wrong.len(), CASES.len(), wrong.join("\n"));
    assert!(CASES.len() >= 45);
}

#[test]
fn errors_tell_which_file() {
    for (file, name) in [
        ("boat", "boat.toml"),
        ("offsets", "offsets.csv"),
        ("marks", "marks.csv"),
        ("boards", "boards.csv"),
        ("nails", "nails.csv"),
    ] {
        let case = CASES.iter().find(|c| c.1 == file).unwrap();
        let error = read(&spoilt(case)).unwrap_err();
        assert!(error.to_string().starts_with(name), "{error}");
        assert_eq!(matches!(error, FolderError::Table(_)), file == "offsets");
    }
}

#[test]
fn a_station_without_points_or_entries() {
    let sparse: String =
        OFFSETS.lines().filter(|l| !l.starts_with("height buttock")).map(|l| format!("{l}\n")).collect();
    let two_points = sparse.replace("300,180,400", "300,180,").replace("250,400", "250,");
    let message = read(&BoatTexts { offsets: two_points, ..good() }).unwrap_err().to_string();
    assert!(message.contains("station “1”") && message.contains("2 points") && message.contains('3'), "{message}");

    let nothing = "row,0,1,2,3,4\nat,0,500,1000,1500,1600\nheight sheer,6,6,6,6,\nhb sheer,3,3,3,3,\nwl 4,2,2,2,2,\n";
    let message = read(&BoatTexts { offsets: nothing.to_owned(), ..good() }).unwrap_err().to_string();
    assert!(message.contains("station “4”") && message.contains("no entries"), "{message}");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    /// A good folder with some bytes of one file replaced: an answer or an error, never a panic.
    #[test]
    fn spoilt_folders_never_panic(
        file in 0..5_usize,
        spoilt in proptest::collection::vec((any::<proptest::sample::Index>(), any::<u8>()), 1..8),
    ) {
        let mut texts = if file == 4 { with_nails() } else { good() };
        let text = match file {
            4 => texts.nails.get_or_insert_default(),
            0 => &mut texts.toml,
            1 => &mut texts.offsets,
            2 => texts.marks.get_or_insert_default(),
            _ => texts.boards.get_or_insert_default(),
        };
        let mut bytes = std::mem::take(text).into_bytes();
        for (at, byte) in spoilt {
            let at = at.index(bytes.len());
            bytes[at] = byte;
        }
        *text = String::from_utf8_lossy(&bytes).into_owned();
        if let Err(error) = read(&texts) {
            prop_assert!(error.to_string().contains(".csv") || error.to_string().contains(".toml"));
        }
    }

    #[test]
    fn any_texts_at_all_never_panic(
        toml in any::<String>(),
        marks in any::<String>(),
        boards in any::<String>(),
        nails in any::<String>(),
    ) {
        let read_toml = read(&BoatTexts { toml, ..good() });
        prop_assert!(read_toml.is_err());
        let _ = read(&BoatTexts { marks: Some(marks), ..good() });
        let _ = read(&BoatTexts { boards: Some(boards), ..good() });
        let _ = read(&BoatTexts { nails: Some(nails), ..with_nails() });
    }
}
