//! One entry of the record as a device sends it, and everything that can be wrong with it.

use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

/// Letters of an entry's name.
const ID: usize = 32;

/// Longest texts, letters.
const LONGEST_SECTION: usize = 40;
const LONGEST_TYPED: usize = 200;
const LONGEST_WHAT: usize = 40;

/// Strakes of a side at most.
const STRAKES: i64 = 40;

/// No length of a boat is longer, mm.
const FARTHEST: f64 = 100_000.0;

/// No work that is written down at once takes longer, hours.
const MOST_HOURS: f64 = 1000.0;

/// The last moment of the year 9999, ms since 1970: what a date of four digits can say.
const LAST: i64 = 253_402_300_799_999;

/// What sort of entry it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Kind {
    /// Something measured.
    Reading,
    /// A step of the work.
    Done,
    /// Time spent.
    Hours,
    /// An earlier entry taken back.
    Withdrawn,
}

impl Kind {
    const ALL: [Kind; 4] = [Kind::Reading, Kind::Done, Kind::Hours, Kind::Withdrawn];

    /// As it stands in the record.
    pub fn word(self) -> &'static str {
        match self {
            Kind::Reading => "reading",
            Kind::Done => "done",
            Kind::Hours => "hours",
            Kind::Withdrawn => "withdrawn",
        }
    }

    /// The kind of that name.
    pub fn find(word: &str) -> Option<Kind> {
        Kind::ALL.into_iter().find(|k| k.word() == word)
    }

    /// What may be measured, done or worked at; nothing is asked of what is taken back.
    fn whats(self) -> &'static [&'static str] {
        match self {
            Kind::Reading => &["from the mark", "width", "height"],
            Kind::Done => {
                &["set up", "marked", "bevelled", "fitted", "hung", "riveted", "riveted at the mould", "mould out"]
            }
            Kind::Hours => &["strake", "timbers", "rivets", "other"],
            Kind::Withdrawn => &[],
        }
    }
}

/// An entry.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Entry {
    /// Made by the device: 32 of 0 to 9 and a to f.
    pub id: String,
    /// By the device's clock, ms since 1970.
    pub at: i64,
    /// What sort.
    pub kind: Kind,
    /// `port` or `starboard`.
    pub side: Option<String>,
    /// From the keel, 1 to 40.
    pub strake: Option<i64>,
    /// As in marks.csv.
    pub section: Option<String>,
    /// What was measured, done or worked at.
    pub what: String,
    /// mm, hours, or how many.
    pub value: Option<f64>,
    /// The girth of the mark when it was read, mm.
    pub against: Option<f64>,
    /// As it was typed.
    pub typed: String,
    /// The entry that it corrects or takes back.
    pub corrects: Option<String>,
}

/// Why an entry is not taken; `id` where it could be read.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Refusal {
    /// The entry's.
    pub id: Option<String>,
    /// The field, what stands in it, and what may.
    pub why: String,
}

impl Entry {
    /// Reads an entry from JSON.
    ///
    /// # Errors
    /// What is no such entry, by the first field that is wrong.
    pub fn read(text: &str) -> Result<Entry, Refusal> {
        #[derive(Deserialize)]
        struct Named {
            id: String,
        }
        let id = serde_json::from_str::<Named>(text).ok().map(|n| n.id.chars().take(ID).collect());
        let fields = serde_json::from_str::<Map<String, Value>>(text);
        let fields = fields.map_err(|why| format!("this is no entry: {why}"));
        fields.and_then(|fields| Entry::of(Fields(fields))).map_err(|why| Refusal { id, why })
    }

    fn of(mut fields: Fields) -> Result<Entry, String> {
        let kind = fields.needed("kind", Fields::text)?;
        let kinds = Kind::ALL.map(Kind::word);
        let kind = Kind::find(&kind).ok_or_else(|| not_one_of("kind", &kind, &kinds))?;
        let entry = Entry {
            id: fields.needed("id", Fields::text)?,
            at: fields.needed("at", Fields::whole)?,
            kind,
            side: fields.text("side")?,
            strake: fields.whole("strake")?,
            section: fields.text("section")?,
            what: fields.text("what")?.unwrap_or_default(),
            value: fields.number("value")?,
            against: fields.number("against")?,
            typed: fields.text("typed")?.unwrap_or_default(),
            corrects: fields.text("corrects")?,
        };
        if let Some(other) = fields.0.keys().next() {
            return Err(format!("{}: an entry has no such field", short(other)));
        }
        entry.check()?;
        Ok(entry)
    }

    /// What each field may hold, and which must be there.
    fn check(&self) -> Result<(), String> {
        self.check_names()?;
        self.check_fields()?;
        self.check_values()
    }

    fn check_names(&self) -> Result<(), String> {
        let id = |field: &str, id: &str| {
            let good = id.len() == ID && id.bytes().all(|b| matches!(b, b'0'..=b'9' | b'a'..=b'f'));
            if good { Ok(()) } else { Err(format!("{field}: {} is not {ID} of 0 to 9 and a to f", short(id))) }
        };
        id("id", &self.id)?;
        self.corrects.as_deref().map_or(Ok(()), |c| id("corrects", c))?;
        if !(0..=LAST).contains(&self.at) {
            return Err(format!("at: {} is no time between 1970 and 9999, in ms", self.at));
        }
        let whats = self.kind.whats();
        if !whats.is_empty() && !whats.contains(&self.what.as_str()) {
            return Err(not_one_of("what", &self.what, whats));
        }
        if let Some(side) = self.side.as_deref().filter(|s| !["port", "starboard"].contains(s)) {
            return Err(not_one_of("side", side, &["port", "starboard"]));
        }
        let texts = [
            ("section", self.section.as_deref().unwrap_or("-"), LONGEST_SECTION),
            ("what", &self.what, LONGEST_WHAT),
            ("typed", &self.typed, LONGEST_TYPED),
        ];
        for (field, text, longest) in texts {
            let long = text.chars().count();
            if long > longest {
                return Err(format!("{field}: {long} letters, and {longest} is the most"));
            }
            if text.chars().any(char::is_control) {
                return Err(format!("{field}: {} has a line break or another sign that cannot be seen", short(text)));
            }
        }
        if self.section.as_deref().is_some_and(|s| s.trim().is_empty()) {
            return Err("section: it is empty; leave it out, or name the section as in marks.csv".to_owned());
        }
        Ok(())
    }

    /// Which fields an entry of this sort must have.
    fn check_fields(&self) -> Result<(), String> {
        let what = self.what.as_str();
        let (reading, riveted) = (self.kind == Kind::Reading, self.counts_rivets());
        let of_mould = self.kind == Kind::Done && ["set up", "mould out"].contains(&what);
        let strake = reading || self.kind == Kind::Done && !of_mould;
        let needed = [
            ("side", reading && self.side.is_none()),
            ("strake", strake && self.strake.is_none()),
            ("section", (reading || riveted || of_mould) && self.section.is_none()),
            ("value", (reading || riveted || self.kind == Kind::Hours) && self.value.is_none()),
            ("against", reading && what == "from the mark" && self.against.is_none()),
            ("corrects", self.kind == Kind::Withdrawn && self.corrects.is_none()),
        ];
        match needed.iter().find(|(_, missing)| *missing) {
            Some((field, _)) => Err(format!("{field}: it is missing, and {} \"{what}\" needs it", self.kind.word())),
            None => Ok(()),
        }
    }

    /// Whether its value is a number of rivets: between two sections, or where a mould stood.
    pub(super) fn counts_rivets(&self) -> bool {
        self.kind == Kind::Done && ["riveted", "riveted at the mould"].contains(&self.what.as_str())
    }

    fn check_values(&self) -> Result<(), String> {
        if let Some(strake) = self.strake.filter(|s| !(1..=STRAKES).contains(s)) {
            return Err(format!("strake: {strake} is not between 1 and {STRAKES}"));
        }
        let mm = |field: &str, value: Option<f64>, least: f64| match value {
            Some(v) if !(least..=FARTHEST).contains(&v) => {
                Err(format!("{field}: {v} mm is not between {least} and {FARTHEST} mm"))
            }
            _ => Ok(()),
        };
        mm("against", self.against, 0.0)?;
        let Some(value) = self.value else { return Ok(()) };
        match (self.kind, self.what.as_str()) {
            (Kind::Reading, "width") if value <= 0.0 => Err(format!("value: a width of {value} mm is none")),
            _ if self.counts_rivets() && (value.fract() != 0.0 || !(0.0..=10_000.0).contains(&value)) => {
                Err(format!("value: {value} is no number of rivets; count them, 0 to 10000"))
            }
            (Kind::Hours, _) if value <= 0.0 || value > MOST_HOURS => {
                Err(format!("value: {value} hours is not more than 0 and at most {MOST_HOURS}"))
            }
            _ => mm("value", Some(value), -FARTHEST),
        }
    }
}

/// The fields of an entry; each is taken out as it is read.
struct Fields(Map<String, Value>);

impl Fields {
    fn needed<T>(
        &mut self,
        field: &str,
        read: impl Fn(&mut Fields, &str) -> Result<Option<T>, String>,
    ) -> Result<T, String> {
        read(self, field)?.ok_or_else(|| format!("{field}: it is missing"))
    }

    /// The value of a field; `null` is the same as none.
    fn take(&mut self, field: &str) -> Option<Value> {
        self.0.remove(field).filter(|v| !v.is_null())
    }

    fn text(&mut self, field: &str) -> Result<Option<String>, String> {
        match self.take(field) {
            Some(Value::String(text)) => Ok(Some(text)),
            Some(other) => Err(format!("{field}: {} is no text", short(&other.to_string()))),
            None => Ok(None),
        }
    }

    fn number(&mut self, field: &str) -> Result<Option<f64>, String> {
        let Some(value) = self.take(field) else { return Ok(None) };
        let number = value.as_f64().filter(|v| v.is_finite());
        number.map(Some).ok_or_else(|| format!("{field}: {} is no number", short(&value.to_string())))
    }

    fn whole(&mut self, field: &str) -> Result<Option<i64>, String> {
        let Some(value) = self.take(field) else { return Ok(None) };
        value.as_i64().map(Some).ok_or_else(|| format!("{field}: {} is no whole number", short(&value.to_string())))
    }
}

fn not_one_of(field: &str, word: &str, all: &[&str]) -> String {
    format!("{field}: {} is none of {}", short(word), all.join(", "))
}

/// A text as it can be quoted in a message.
fn short(text: &str) -> String {
    let cut: String = text.chars().filter(|c| !c.is_control()).take(40).collect();
    format!("\"{cut}\"")
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    fn reading() -> Value {
        json!({
            "id": "0123456789abcdef0123456789abcdef", "at": 1_700_000_000_000_i64, "kind": "reading", "side": "port",
            "strake": 3, "section": "4", "what": "from the mark", "value": -2.5, "against": 512.0, "typed": "2 1/2 down",
            "corrects": null
        })
    }

    #[test]
    fn every_kind_of_entry_is_read() {
        let entry = Entry::read(&reading().to_string()).unwrap();
        assert_eq!((entry.value, entry.strake, entry.section.as_deref()), (Some(-2.5), Some(3), Some("4")));
        assert_eq!(serde_json::to_value(&entry).unwrap(), reading());
        let with = |change: Value| {
            let mut all = reading();
            all.as_object_mut().unwrap().extend(change.as_object().unwrap().clone());
            Entry::read(&all.to_string())
        };
        for good in [
            json!({ "kind": "reading", "what": "width", "value": 96, "against": null }),
            json!({ "kind": "done", "what": "hung", "value": null, "section": null }),
            json!({ "kind": "done", "what": "riveted", "value": 12 }),
            json!({ "kind": "done", "what": "riveted at the mould", "value": 3 }),
            json!({ "kind": "done", "what": "set up", "side": null, "strake": null, "value": null }),
            json!({ "kind": "done", "what": "mould out", "side": null, "strake": null }),
            json!({ "kind": "hours", "what": "timbers", "value": 3.25, "side": null, "strake": null, "section": null }),
            json!({ "kind": "withdrawn", "what": "", "corrects": "ffffffffffffffffffffffffffffffff" }),
        ] {
            with(good.clone()).unwrap_or_else(|why| panic!("{good}: {}", why.why));
        }
    }

    #[test]
    fn what_is_wrong_is_told_by_field_value_and_limit() {
        for (field, value, said) in [
            ("id", json!("x"), "id: \"x\" is not 32 of 0 to 9 and a to f"),
            ("id", json!(null), "id: it is missing"),
            ("at", json!(-1), "at: -1 is no time"),
            ("at", json!(1.5), "at: \"1.5\" is no whole number"),
            ("kind", json!("guess"), "kind: \"guess\" is none of reading, done, hours, withdrawn"),
            ("side", json!("left"), "side: \"left\" is none of port, starboard"),
            ("side", json!(null), "side: it is missing, and reading \"from the mark\" needs it"),
            ("strake", json!(41), "strake: 41 is not between 1 and 40"),
            ("strake", json!("3"), "strake: \"\"3\"\" is no whole number"),
            ("section", json!("x".repeat(41)), "section: 41 letters, and 40 is the most"),
            ("section", json!(" "), "section: it is empty"),
            ("section", json!("4\n5"), "section: \"45\" has a line break"),
            ("what", json!("length"), "what: \"length\" is none of from the mark, width, height"),
            ("value", json!("2"), "value: \"\"2\"\" is no number"),
            ("value", json!(100_001), "value: 100001 mm is not between -100000 and 100000 mm"),
            ("value", json!(null), "value: it is missing"),
            ("against", json!(null), "against: it is missing"),
            ("against", json!(-1), "against: -1 mm is not between 0 and 100000 mm"),
            ("typed", json!("9".repeat(201)), "typed: 201 letters, and 200 is the most"),
            ("corrects", json!("it"), "corrects: \"it\" is not 32 of"),
            ("mood", json!("good"), "\"mood\": an entry has no such field"),
        ] {
            let mut all = reading();
            all[field] = value;
            let why = Entry::read(&all.to_string()).unwrap_err();
            assert!(why.why.starts_with(said), "{:?} does not begin with {said:?}", why.why);
            assert_eq!(why.id.is_some(), all["id"].is_string());
        }
        let changed = |pairs: &[(&str, Value)]| {
            let mut all = reading();
            pairs.iter().for_each(|(field, value)| all[*field] = value.clone());
            Entry::read(&all.to_string()).unwrap_err().why
        };
        let hours = |v: f64| changed(&[("kind", json!("hours")), ("what", json!("other")), ("value", json!(v))]);
        assert!(hours(0.0).starts_with("value: 0 hours") && hours(1000.5).starts_with("value: 1000.5 hours"));
        let rivets = |v: f64| changed(&[("kind", json!("done")), ("what", json!("riveted")), ("value", json!(v))]);
        assert!(rivets(2.5).contains("no number of rivets") && rivets(-1.0).contains("no number of rivets"));
        assert!(changed(&[("what", json!("width")), ("value", json!(0))]).contains("a width of 0 mm is none"));
        assert!(changed(&[("kind", json!("withdrawn"))]).contains("corrects: it is missing"));
        // A number that is none in this program, and what is no object at all.
        let huge = reading().to_string().replace("-2.5", "1e999");
        let why = Entry::read(&huge).unwrap_err();
        assert!(why.id.is_some() && why.why.contains("number out of range"), "{}", why.why);
        assert!(Entry::read("[1]").unwrap_err().why.starts_with("this is no entry"));
    }
}
