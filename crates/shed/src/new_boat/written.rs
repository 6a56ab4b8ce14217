//! boat.toml of what has been typed, each line with what it says; and where in the form a trouble of the folder belongs.

use super::fields::{self, AFT, FORE, Field, Kind, TABLE, Typed, When};
use boat::folder::{self, BoatError, BoatInput, BoatTexts, FolderError};

/// What is wrong with a field; `None`: with the whole.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Wrong {
    /// The field's key.
    pub key: Option<&'static str>,
    /// In the table: line of the text and cell in it, from 1, where they are known.
    pub cell: Option<(usize, Option<usize>)>,
    pub why: String,
}

impl Wrong {
    fn field(key: &'static str, why: String) -> Wrong {
        Wrong { key: Some(key), cell: None, why }
    }
}

/// The boat's files, and the lines of boat.toml on which each field's parts begin.
pub struct Written {
    pub toml: String,
    pub offsets: String,
    /// Line of boat.toml, the field, and which line of the field it was.
    places: Vec<(usize, &'static str, usize)>,
}

/// A text as TOML has it.
pub fn quoted(text: &str) -> String {
    let mut out = String::from("\"");
    for c in text.chars() {
        match c {
            '"' => out.push_str("\\\""),
            '\\' => out.push_str("\\\\"),
            c if c.is_control() => out.push_str(&format!("\\u{:04X}", u32::from(c))),
            c => out.push(c),
        }
    }
    out + "\""
}

/// A length or a number: bare where it is a plain one, else as a text.
pub fn length(text: &str) -> String {
    let text = text.replace('\u{2212}', "-");
    let digits = |t: &str| !t.is_empty() && t.bytes().all(|b| b.is_ascii_digit());
    let whole = text.strip_prefix('-').unwrap_or(&text);
    let plain = match whole.split_once('.') {
        Some((a, b)) => digits(a) && digits(b),
        None => digits(whole),
    };
    // A number that begins with 0 is no number in TOML.
    let leading = whole.len() > 1 && whole.starts_with('0') && !whole.starts_with("0.");
    if plain && !leading && whole.len() < 12 { text } else { quoted(&text) }
}

/// The two lengths of a point.
fn point(text: &str) -> Result<[String; 2], String> {
    let by = |c: char| text.split(c).map(str::trim).filter(|t| !t.is_empty()).collect::<Vec<_>>();
    let parts = [',', ';', '\t', ' '].into_iter().map(by).find(|p| p.len() > 1).unwrap_or_default();
    match parts[..] {
        [x, z] => Ok([length(x), length(z)]),
        _ => Err(format!("{}: two lengths are wanted, how far aft and how high, with a comma between", short(text))),
    }
}

fn short(text: &str) -> String {
    let cut: String = text.chars().take(30).collect();
    quoted(&cut)
}

/// Writes her files, or says at every field what is wanting.
///
/// # Errors
/// All fields that are empty and must not be, and points that are none.
pub fn write(typed: &Typed) -> Result<Written, Vec<Wrong>> {
    let (written, wrong) = as_far_as_known(typed, "begun on the screen");
    if wrong.is_empty() { Ok(written) } else { Err(wrong) }
}

/// Her files without what is wanting, which is told beside them. `begun` says in boat.toml how she was begun.
pub fn as_far_as_known(typed: &Typed, begun: &str) -> (Written, Vec<Wrong>) {
    let mut wrong: Vec<Wrong> = Vec::new();
    let mut out = Writer { lines: Vec::new(), places: Vec::new() };
    // A comment takes no sign that cannot be seen; what is wrong with the name is told at the name.
    let name = typed.get("name").replace(char::is_control, " ");
    out.say(&format!("# {name}: {begun}; docs/boat-folder.md says what more may stand here."));
    out.say("strakewise = 1                  # the form of this file");
    out.say("");
    for key in ["name", "kind", "lengths"] {
        out.put(typed, key, &mut wrong);
    }
    for (section, note, keys) in [
        ("lines", "the table of offsets", &["lines.drawn_to", "lines.spacing", "lines.keel_half_siding"][..]),
        ("stem", "where the planks end forward", &["stem.half_siding", "stem.rabbet"]),
        (
            "bow_transom",
            "where the planks end forward: two points of its fore face",
            &["bow_transom.foot", "bow_transom.head"],
        ),
        ("transom", "where the planks end aft: two points of its after face", &["transom.foot", "transom.head"]),
        ("sternpost", "where the planks end aft", &["sternpost.half_siding", "sternpost.rabbet"]),
        (
            "planking",
            "planks and lands",
            &["planking.thickness", "planking.lap", "planking.strakes", "planking.gain", "planking.transom_gain"],
        ),
    ] {
        let end = |choice: &str| {
            ["stem", "bow_transom", "transom", "sternpost"].contains(&section) && typed.get(choice) == section
        };
        if ["lines", "planking"].contains(&section) || end(FORE) || end(AFT) {
            out.say("");
            out.say(&format!("{:32}# {note}", format!("[{section}]")));
            for key in keys {
                out.put(typed, key, &mut wrong);
            }
        }
    }
    out.say("");
    out.say("# Timbers, fastenings and moulds are as is common until they are said here.");
    let offsets = typed.0.get(TABLE).map_or("", String::as_str).replace("\r\n", "\n");
    if offsets.trim().is_empty() {
        wrong.push(Wrong::field(TABLE, "paste her table here".to_owned()));
    }
    let offsets = format!("{}\n", offsets.trim_end());
    (Written { toml: out.lines.join("\n") + "\n", offsets, places: out.places }, wrong)
}

struct Writer {
    lines: Vec<String>,
    places: Vec<(usize, &'static str, usize)>,
}

impl Writer {
    fn say(&mut self, line: &str) {
        self.lines.push(line.to_owned());
    }

    /// A field's line or lines, or what is wrong with it.
    fn put(&mut self, typed: &Typed, key: &str, wrong: &mut Vec<Wrong>) {
        let Some(field) = fields::all().find(|f| f.key == key && typed.wants(f)) else { return };
        let text = typed.get(key);
        if text.is_empty() {
            if !field.may_be_empty {
                wrong.push(Wrong::field(field.key, wanting(field)));
            }
            return;
        }
        let short_key = key.rsplit('.').next().unwrap_or(key);
        self.places.push((self.lines.len() + 1, field.key, 1));
        let note = field.means.split(['.', ';', ':']).next().unwrap_or_default().to_lowercase();
        let line = match field.kind {
            Kind::Points => {
                self.say(&format!(
                    "{:32}# aft of the first station, above base; from the head down",
                    format!("{short_key} = [")
                ));
                for (i, line) in text.lines().enumerate().filter(|(_, l)| !l.trim().is_empty()) {
                    match point(line) {
                        Ok([x, z]) => {
                            self.places.push((self.lines.len() + 1, field.key, i + 1));
                            self.say(&format!("    [{x}, {z}],"));
                        }
                        Err(why) => wrong.push(Wrong::field(field.key, format!("line {}, {why}", i + 1))),
                    }
                }
                self.say("]");
                return;
            }
            Kind::Point => match point(text) {
                Ok([x, z]) => format!("{short_key} = [{x}, {z}]"),
                Err(why) => return wrong.push(Wrong::field(field.key, why)),
            },
            Kind::Length => format!("{short_key} = {}", length(text)),
            Kind::Words | Kind::Choice(_) | Kind::Table => format!("{short_key} = {}", quoted(text)),
        };
        self.say(&format!("{line:32}# {note}"));
    }
}

fn wanting(field: &Field) -> String {
    let example = field.example.lines().next().unwrap_or_default();
    let needs = match field.when {
        When::Chosen(..) => "is wanted for such an end",
        When::Always => "is wanted",
    };
    // With its unit, whatever a bare number means in her table.
    let unit = |v: &str| if v.parse::<f64>().is_ok() { format!("{v} mm") } else { v.to_owned() };
    let example = match field.kind {
        Kind::Length | Kind::Point | Kind::Points => example.split(", ").map(unit).collect::<Vec<_>>().join(", "),
        Kind::Words | Kind::Choice(_) | Kind::Table => example.to_owned(),
    };
    format!("this {needs}; for example {example}")
}

impl Written {
    /// Reads the folder as it will be, `kept` being the other files of it.
    ///
    /// # Errors
    /// What is wrong, and at which field.
    pub fn read(&self, kept: &BoatTexts) -> Result<BoatInput, Wrong> {
        let texts = BoatTexts { toml: self.toml.clone(), offsets: self.offsets.clone(), ..kept.clone() };
        folder::read(&texts).map_err(|why| match why {
            FolderError::Boat(why) => self.of_boat(&why),
            FolderError::Table(why) => {
                Wrong { key: Some(TABLE), cell: why.line.map(|l| (l, why.column)), why: why.problem.to_string() }
            }
            FolderError::List(why) => Wrong { key: None, cell: None, why: why.to_string() },
        })
    }

    fn of_boat(&self, why: &BoatError) -> Wrong {
        let said = why.problem.to_string();
        // An item of a list is told as `stem.rabbet, item 3`; the line tells where it was typed.
        let bare = why.key.split(',').next().unwrap_or_default();
        let at = self.places.iter().rev().find(|p| p.0 == why.line && p.1 == bare);
        let key = fields::all().find(|f| f.key == bare).map(|f| f.key);
        // A whole end: beside the last of its fields.
        let key =
            key.or_else(|| fields::all().filter(|f| f.key.starts_with(&format!("{bare}."))).last().map(|f| f.key));
        let several = |key: &str| fields::all().any(|f| f.key == key && f.kind == Kind::Points);
        match key {
            Some(key) => match at.filter(|_| several(key)) {
                Some(at) => Wrong::field(key, format!("line {}: {said}", at.2)),
                None => Wrong::field(key, said),
            },
            None => Wrong { key: None, cell: None, why: why.to_string() },
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn example() -> Typed {
        Typed(fields::all().map(|f| (f.key.to_owned(), f.example.to_owned())).collect())
    }

    fn with(key: &str, text: &str) -> Typed {
        let mut typed = example();
        typed.0.insert(key.to_owned(), text.to_owned());
        typed
    }

    fn trouble(typed: &Typed) -> Wrong {
        let written = write(typed).unwrap_or_else(|w| panic!("{w:?}"));
        written.read(&BoatTexts::default()).expect_err("this should be refused")
    }

    #[test]
    fn the_examples_beside_the_fields_are_a_boat_that_can_be_planned() {
        let written = write(&example()).unwrap();
        let input = written.read(&BoatTexts::default()).unwrap();
        let plan = boat::plan::plan(&input).unwrap();
        assert_eq!((plan.spec.name.as_str(), plan.strakes.len(), plan.spec.planking.gain), ("Whinchat", 10, 250.0));
        assert_eq!(plan.findings.iter().filter(|f| f.stage.word() == "lines").count(), 0);
    }

    #[test]
    fn a_trouble_is_told_at_the_field_it_belongs_to() {
        for (key, text) in [
            ("name", "a name that is a good deal longer than the forty letters that a page has room for"),
            ("planking.thickness", "800"),
            ("planking.thickness", "eight"),
            ("planking.lap", "8 furlongs"),
            ("planking.strakes", "many"),
            ("planking.gain", "-1"),
            ("stem.half_siding", "0"),
            ("transom.head", "2930, 120"),
            ("lines.spacing", "1 mm"),
        ] {
            assert_eq!(trouble(&with(key, text)).key, Some(key), "{key} = {text}");
        }
        let rabbet = trouble(&with("stem.rabbet", "-300, 600\n\n-290, 480\n-262, 500\n-60, 126"));
        assert_eq!(rabbet.key, Some("stem.rabbet"));
        assert!(rabbet.why.starts_with("line 4: "), "{}", rabbet.why);
        let table = trouble(&with(TABLE, &example().get(TABLE).replace("545,468", "wide,468")));
        assert_eq!((table.key, table.cell), (Some(TABLE), Some((5, Some(6)))));
    }

    #[test]
    fn everything_that_is_wanting_is_told_at_once() {
        let wrong = write(&Typed::default()).err().unwrap();
        let keys: Vec<_> = wrong.iter().filter_map(|w| w.key).collect();
        let all =
            ["name", "stem.half_siding", "stem.rabbet", "transom.foot", "transom.head", "planking.thickness", TABLE];
        assert_eq!(keys, all);
        let foot = wrong.iter().find(|w| w.key == Some("transom.foot")).unwrap();
        assert!(foot.why.ends_with("for example 2843 mm, 165 mm"), "{}", foot.why);
        assert_eq!(write(&with("transom.foot", "2843")).err().unwrap()[0].key, Some("transom.foot"));
    }

    #[test]
    fn what_is_typed_cannot_break_out_of_its_text() {
        let name = "Whin\"chat\\\" # [planking]";
        let input = write(&with("name", name)).unwrap().read(&BoatTexts::default()).unwrap();
        assert_eq!(input.spec.name, name);
        for key in ["name", "kind"] {
            assert_eq!(trouble(&with(key, "skiff\u{7}\"\nstrakewise = 2")).key, Some(key));
        }
    }

    #[test]
    fn all_ends_and_notations_can_be_typed() {
        let mut typed = example();
        typed.0.insert("lengths".to_owned(), "ft-in-8ths".to_owned());
        for (key, text) in [
            ("planking.thickness", "3/8 in"),
            ("planking.lap", "0-0-6"),
            ("stem.half_siding", "5/8 in"),
            ("planking.gain", "10 in"),
        ] {
            typed.0.insert(key.to_owned(), text.to_owned());
        }
        // A bare number could be inches or feet there: refused, at its field.
        assert_eq!(trouble(&typed).key, Some("stem.rabbet"));
        let mut pram = example();
        pram.0.insert(FORE.to_owned(), "bow_transom".to_owned());
        pram.0.insert(AFT.to_owned(), "sternpost".to_owned());
        let toml = write(&pram).unwrap().toml;
        assert!(toml.contains("[bow_transom]") && toml.contains("[sternpost]"), "{toml}");
        assert!(!toml.contains("[stem]") && !toml.contains("[transom]"), "{toml}");
    }
}
