//! The command line.

mod choices;
mod lengths;
mod read_in;

use crate::examples::Example;
use crate::trouble::Trouble;
use boat::words;
use clap::{Args, CommandFactory, Parser, Subcommand};
use std::net::Ipv4Addr;
use std::path::{Path, PathBuf};

pub use choices::{Face, FileKind, Form, Lengths, Lines, Paper, Sheet, TakenOn, What};
pub use lengths::{named_length, roll_width, spacing, width_of_roll};
pub use read_in::{ReadAs, ReadIn};

/// Plans the planking of a clinker boat from her table of offsets, and writes the bench book to build her by.
///
/// A boat is a folder with boat.toml and offsets.csv, and perhaps marks.csv, boards.csv, nails.csv and rates.toml. Without a boat,
/// the commands show an example that is built in.
#[derive(Debug, Parser)]
#[command(name = "strakewise", version = VERSION, after_help = EXIT_CODES, args_conflicts_with_subcommands = true)]
pub struct Arguments {
    /// What to do; without a command, the screen opens.
    #[command(subcommand)]
    pub command: Option<Command>,
    /// How the screen opens.
    #[command(flatten)]
    pub screen: Screen,
}

impl Arguments {
    /// Reads the command line; ends the program where it asks for help, or is wrong in a way that needs no more words.
    ///
    /// # Errors
    /// A first word that is no command and, as it seems, was meant for one: without a command a boat's folder may stand there.
    pub fn read() -> Result<Self, Trouble> {
        let first = std::env::args().nth(1).unwrap_or_default();
        match Self::try_parse() {
            Ok(read) if read.command.is_none() => no_command(&first, false).map_or(Ok(read), Err),
            Ok(read) => Ok(read),
            Err(why) if why.use_stderr() => Err(no_command(&first, true).unwrap_or_else(|| why.exit())),
            Err(why) => why.exit(),
        }
    }
}

/// That `word` is no command, unless it is one, an option or a path. Where nothing else is
/// `wrong`, only if a command is near.
fn no_command(word: &str, wrong: bool) -> Option<Trouble> {
    let program = Arguments::command();
    let known: Vec<&str> = program.get_subcommands().map(clap::Command::get_name).collect();
    let bare = !word.is_empty() && !word.starts_with('-') && !word.contains(['/', '\\', '.']);
    if !bare || known.contains(&word) || word == "help" || Path::new(word).exists() {
        return None;
    }
    let near = words::nearest(word, known.iter().copied());
    let meant =
        near.map_or_else(|| format!("the commands are {}", known.join(", ")), |near| format!("did you mean {near}?"));
    (wrong || near.is_some()).then(|| {
        Trouble::Usage(format!("there is no command {}, and no folder of that name; {meant}", words::quoted(word)))
    })
}

/// The screen.
#[derive(Debug, Args)]
pub struct Screen {
    /// The boat.
    #[command(flatten)]
    pub which: Which,
    /// The port on this machine; 0 takes any that is free.
    #[arg(long, default_value_t = 0)]
    pub port: u16,
    /// Only print the address, and open no browser.
    #[arg(long)]
    pub no_browser: bool,
    /// Let phones of the local network in from the start, for the page at the boat, and print how one is paired. An address of
    /// this machine may be given after =, where it has several.
    #[arg(long, value_name = "ADDRESS", num_args = 0..=1, require_equals = true)]
    #[allow(clippy::option_option, reason = "left out, given alone, given with an address")]
    pub phones: Option<Option<Ipv4Addr>>,
}

/// The version, and the commit where the build knew it (`build.rs`).
pub const VERSION: &str = concat!(env!("CARGO_PKG_VERSION"), env!("STRAKEWISE_COMMIT"));

const EXIT_CODES: &str = "\
Exit codes:
  0  done; for check: and nothing to look at
  1  check only: there are doubtful entries or other things to look at
  2  the boat or the command line cannot be understood, or no plan comes of it
  3  something could not be written";

/// The commands.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Start a boat folder from an example, to be changed into your own.
    New(New),
    /// Read the table, fair it, and show how far each entry was moved and which are doubtful.
    ///
    /// `strakewise check - --lengths mm` reads a table of offsets alone from standard input. Without its boat it can be
    /// checked but not faired, and cannot have diagonals.
    #[command(after_help = EXIT_CODES)]
    Check(Check),
    /// Fair the table and print it corrected, laid out as it is in offsets.csv.
    ///
    /// Same rows, stations, notation and blanks, to 1 mm or 1/16 in and to the face the plan was drawn to; it can stand in
    /// place of offsets.csv, with the `[[entries]]` of boat.toml taken out.
    #[command(after_help = EXIT_CODES)]
    Offsets(Offsets),
    /// Plan the boat and say what comes of it.
    Plan(Plan),
    /// Plan the boat and write her bench book, a PDF to be printed at 100 %.
    Book(Book),
    /// Plan the boat and write full-size patterns: moulds, stem, keel, transom and planks.
    ///
    /// A roll or tiles are one PDF for all of them, to be printed at 100 %; SVG and DXF are a file for each, in a folder.
    Patterns(Patterns),
    /// Plan the boat and draw her in ink as people see her: from the beam, off the bow, off the quarter, and heeled.
    ///
    /// A file for each, in a folder; what is hidden is left out. Where the eye stands is said in boat.toml, `[lining]`.
    Pictures(Pictures),
    /// Plan the boat and write her as files for other programs: a model of her (glTF), solids (STL), flat shapes for a router
    /// (DXF) and full size (SVG), tables for a spreadsheet (CSV).
    ///
    /// All in one folder. docs/files.md says what each holds, in which unit, and how near it is to the plan.
    Files(Files),
    /// Plan the boat and say which plank comes out of which board of the rack (boards.csv).
    ///
    /// Both sides' planks, with a saw cut and what is planed off between them, clear of faults and knots. How wide a cut and how
    /// far off the grain is said in boat.toml, `[sawing]`. Scarfs may move to suit the boards. Ctrl-C takes the best so far.
    Boards(Boards),
    /// Plan the boat and say what she costs at your own rates (rates.toml): wood, fastenings, sundries, work.
    ///
    /// Prints the builder's sheet, every line with how it was reckoned. With -o a PDF of it too, and one page to give to a
    /// customer.
    Quote(Quote),
    /// Print the record of what was measured and done at the boat, for a spreadsheet (CSV).
    ///
    /// Every entry, in the order in which they were stored, those that were corrected or taken back marked so. It can be read
    /// while the screen is open.
    Record(Record),
    /// Make one plank for a standing boat from readings alone (repair.toml, readings.csv): no table of offsets is wanted.
    ///
    /// Writes a card with the plank's shape, bevels and rivets, and a full-size pattern, both PDFs to be printed at 100 %.
    Repair(Repair),
    /// Make a boat folder of points taken off a standing hull with a tape, on the outside of her planking.
    ///
    /// Points that do not fit the others are named; what the offsets are good to, and what is still wanted, is said.
    TakeOff(TakeOff),
    /// Make a boat folder of somebody else's file: a table of offsets (CSV), a body plan (DXF, SVG), a cloud of points (PLY, XYZ, CSV).
    ///
    /// What was recognised is said, what was not is named by its place, and a unit that the file does not tell is asked for. A stem's or
    /// sternpost's rabbet and boards' outlines are printed as lines for boat.toml and boards.csv. docs/read-in.md says how.
    ReadIn(ReadIn),
    /// Write the manual's pages, one for the program and one for each command, for `man` to show.
    Manual(Manual),
    /// Print what a shell needs to complete commands and options when Tab is pressed.
    ///
    /// docs/release.md says where each shell looks for it.
    Completions(Completions),
}

/// `manual`.
#[derive(Debug, Args)]
pub struct Manual {
    /// The folder to write in, one that `man` looks in, such as ~/.local/share/man/man1.
    pub folder: PathBuf,
}

/// `completions`.
#[derive(Debug, Args)]
pub struct Completions {
    /// The shell.
    #[arg(value_enum)]
    pub shell: clap_complete::Shell,
}

/// `take-off`.
#[derive(Debug, Args)]
pub struct TakeOff {
    /// The list of points, a CSV file; docs/repair.md says what stands in it.
    pub points: PathBuf,
    /// The folder to make; files that are in it already are never overwritten.
    pub folder: PathBuf,
    /// What a bare number in the list means.
    #[arg(long, value_enum, value_name = "NOTATION")]
    pub lengths: Lengths,
    /// How thick her planks are.
    #[arg(long, value_name = "LENGTH")]
    pub plank: String,
    /// Where on the planks the points were taken, where the list does not say.
    #[arg(long, value_enum, value_name = "WHERE", default_value_t = TakenOn::Edge)]
    pub on: TakenOn,
    /// How far one plank lies over the next; twice the plank where nothing is said.
    #[arg(long, value_name = "LENGTH")]
    pub lap: Option<String>,
    /// Length over which the lands run out flush at her ends; 0 where they do not, 12 in where nothing is said.
    #[arg(long, value_name = "LENGTH")]
    pub gain: Option<String>,
    /// The same at her transoms, where it is another.
    #[arg(long, value_name = "LENGTH")]
    pub transom_gain: Option<String>,
    /// How far a reading may be off; 1 mm or 1/16 in where nothing is said.
    #[arg(long, value_name = "LENGTH")]
    pub tape: Option<String>,
    /// Her name; the folder's where nothing is said.
    #[arg(long)]
    pub name: Option<String>,
}

/// `repair`.
#[derive(Debug, Args)]
pub struct Repair {
    /// The repair's folder; left out, an example.
    pub folder: Option<PathBuf>,
    /// Where to write the card. Otherwise a file named after the boat, where you are; the pattern stands beside it.
    #[arg(short, long, value_name = "FILE")]
    pub output: Option<PathBuf>,
    /// The paper in the printer.
    #[arg(long, value_enum, default_value_t = Paper::A4)]
    pub paper: Paper,
    /// Print the pattern on a roll so wide, in mm or as a length such as "24 in", instead of on sheets to stick together.
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub roll: Option<String>,
}

/// `new`.
#[derive(Debug, Args)]
pub struct New {
    /// The folder to make; files that are in it already are never overwritten.
    pub folder: PathBuf,
    /// The example to start from.
    #[arg(long, value_enum, default_value_t = Example::Dinghy)]
    pub like: Example,
}

/// Which boat.
#[derive(Debug, Args)]
pub struct Which {
    /// The boat's folder; left out, an example.
    pub boat: Option<PathBuf>,
    /// Which example, where no boat is given.
    #[arg(long, value_enum, value_name = "NAME", conflicts_with = "boat")]
    pub example: Option<Example>,
}

/// `check`.
#[derive(Debug, Args)]
pub struct Check {
    /// The boat; `-` for a table on standard input.
    #[command(flatten)]
    pub which: Which,
    /// With `-`: what a bare number in the table means.
    #[arg(long, value_enum, value_name = "NOTATION")]
    pub lengths: Option<Lengths>,
    /// With `-`: the spacing of the stations, where the table has no row "at".
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub spacing: Option<String>,
}

/// `offsets`.
#[derive(Debug, Args)]
pub struct Offsets {
    /// The boat.
    #[command(flatten)]
    pub which: Which,
    /// Where to write, a file that does not exist yet; `-`, or nothing, is standard output.
    #[arg(short, long, value_name = "FILE")]
    pub output: Option<PathBuf>,
}

/// `plan`.
#[derive(Debug, Args)]
pub struct Plan {
    /// The boat.
    #[command(flatten)]
    pub which: Which,
    /// Print the whole plan as JSON, and nothing else, on standard output.
    #[arg(long)]
    pub json: bool,
    /// Print what that JSON is made of, as a JSON Schema (draft 2020-12), and plan nothing.
    #[arg(long, conflicts_with_all = ["json", "boat", "example"])]
    pub schema: bool,
}

/// `book`.
#[derive(Debug, Args)]
pub struct Book {
    /// The boat.
    #[command(flatten)]
    pub which: Which,
    /// Lay the planks out on the boards of the rack, too, with scarfs where they suit it: some seconds more. Ctrl-C takes the
    /// best so far.
    #[arg(long)]
    pub boards: bool,
    /// Where to write; `-` is standard output. Otherwise a file named after the boat, where you are.
    #[arg(short, long, value_name = "FILE")]
    pub output: Option<PathBuf>,
    /// The paper in the printer.
    #[arg(long, value_enum, default_value_t = Paper::A4)]
    pub paper: Paper,
}

/// `patterns`.
#[derive(Debug, Args)]
pub struct Patterns {
    /// The boat.
    #[command(flatten)]
    pub which: Which,
    /// What to write.
    #[arg(long = "as", value_enum, value_name = "FORM", default_value_t = Form::Tiles)]
    pub form: Form,
    /// With tiles: the paper in the printer; A4 where nothing is said.
    #[arg(long, value_enum)]
    pub paper: Option<Sheet>,
    /// With a roll: its width, in mm or as a length such as "24 in"; 36 in where nothing is said.
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub width: Option<String>,
    /// Only these; may be given more than once. All of them where nothing is said.
    #[arg(long, value_enum, value_name = "WHAT")]
    pub only: Vec<What>,
    /// Where to write: for a roll or tiles a file, `-` being standard output; for SVG or DXF a folder. Otherwise named
    /// after the boat, where you are.
    #[arg(short, long, value_name = "FILE_OR_FOLDER")]
    pub output: Option<PathBuf>,
}

/// `pictures`.
#[derive(Debug, Args)]
pub struct Pictures {
    /// The boat.
    #[command(flatten)]
    pub which: Which,
    /// What to write.
    #[arg(long = "as", value_enum, value_name = "FORM", default_value_t = Lines::Svg)]
    pub form: Lines,
    /// The folder to write in. Otherwise named after the boat, where you are.
    #[arg(short, long, value_name = "FOLDER")]
    pub output: Option<PathBuf>,
}

/// `files`.
#[derive(Debug, Args)]
pub struct Files {
    /// The boat.
    #[command(flatten)]
    pub which: Which,
    /// Only these; may be given more than once. All of them where nothing is said.
    #[arg(long, value_enum, value_name = "KIND")]
    pub only: Vec<FileKind>,
    /// The folder to write in. Otherwise named after the boat, where you are.
    #[arg(short, long, value_name = "FOLDER")]
    pub output: Option<PathBuf>,
}

/// `boards`.
#[derive(Debug, Args)]
pub struct Boards {
    /// The boat.
    #[command(flatten)]
    pub which: Which,
    /// Most rounds of the search; it ends sooner when sixty running find nothing better.
    #[arg(long, value_name = "N", default_value_t = 300, value_parser = clap::value_parser!(u32).range(0..=100_000))]
    rounds: u32,
    /// Another number looks in another order; the same gives the same layout.
    #[arg(long, value_name = "N", default_value_t = 1)]
    pub seed: u64,
    /// Draw every board that is cut, too: a PDF.
    #[arg(short, long, value_name = "FILE")]
    pub output: Option<PathBuf>,
    /// The paper in the printer.
    #[arg(long, value_enum, default_value_t = Paper::A4)]
    pub paper: Paper,
}

impl Boards {
    /// Most rounds.
    pub fn rounds(&self) -> usize {
        self.rounds as usize
    }
}

/// `quote`.
#[derive(Debug, Args)]
pub struct Quote {
    /// The boat.
    #[command(flatten)]
    pub which: Which,
    /// Write the builder's sheet and the customer's page, too: a PDF.
    #[arg(short, long, value_name = "FILE")]
    pub output: Option<PathBuf>,
    /// The paper in the printer.
    #[arg(long, value_enum, default_value_t = Paper::A4)]
    pub paper: Paper,
}

/// `record`.
#[derive(Debug, Args)]
pub struct Record {
    /// The boat's folder; where you are, if it is left out.
    #[arg(default_value = ".")]
    pub folder: PathBuf,
}
