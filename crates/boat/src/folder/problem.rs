//! What can be wrong with boat.toml.

use super::VERSION;
use crate::units::LengthError;
use crate::words::quoted;

/// Why `boat.toml` cannot be read: the line, the key, and the trouble there.
#[derive(Debug, Clone, PartialEq)]
pub struct BoatError {
    /// From 1.
    pub line: usize,
    /// The key with its section, `planking.lap`; empty where no key can be named.
    pub key: String,
    /// The trouble.
    pub problem: BoatProblem,
}

impl std::error::Error for BoatError {}

impl std::fmt::Display for BoatError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        self.said_of("boat.toml", f)
    }
}

/// So many letters of a key are given: the longest there is, twice over.
const MOST_KEY: usize = 120;

impl BoatError {
    /// The same trouble in another file of the same form.
    pub(super) fn said_of(&self, file: &str, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{file}, line {}", self.line)?;
        if !self.key.is_empty() {
            write!(f, ", {}", crate::words::shown(&self.key, MOST_KEY))?;
        }
        write!(f, ": {}", self.problem)
    }
}

/// The trouble itself. Lengths are said in the boat's own notation.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum BoatProblem {
    /// Not TOML.
    #[error("the file is not in the form it should be: {0}; texts stand in quotes, sections in [brackets]")]
    Syntax(String),
    /// Another version of the form.
    #[error(
        "the folder is of form {found}; this program reads form {VERSION}: write strakewise = {VERSION}, or use a newer program"
    )]
    Version {
        /// As typed.
        found: String,
    },
    /// A key or section that does not exist.
    #[error("there is no such key{}; known here: {known}", nearest.as_ref().map_or_else(String::new, |n| format!(" (did you mean {n}?)")))]
    Unknown {
        /// What it was perhaps meant for.
        nearest: Option<String>,
        /// All that may stand there.
        known: String,
    },
    /// Something that must be there.
    #[error("is missing; write for example {example}")]
    Missing {
        /// A line to copy.
        example: &'static str,
    },
    /// A number where a text is wanted, and the like.
    #[error("{found} stands here; {wanted} is wanted", found = quoted(found))]
    Kind {
        /// As typed.
        found: String,
        /// What should stand there.
        wanted: &'static str,
    },
    /// No length.
    #[error(transparent)]
    Length(LengthError),
    /// A mass without its unit in a boat of feet and inches.
    #[error("{} could be pounds or kilograms: write \"{number} lb\" or \"{number} kg\"", quoted(number))]
    BareMass {
        /// As typed.
        number: String,
    },
    /// Too small or too large.
    #[error("{} is out of range: {range} is allowed; {hint}", quoted(found))]
    Range {
        /// As typed.
        found: String,
        /// Least and most.
        range: String,
        /// What to do.
        hint: &'static str,
    },
    /// A least that is more than the most.
    #[error("the least, {least}, is more than the most, {most}: give the smaller number first")]
    LeastOverMost {
        /// As typed.
        least: u32,
        /// As typed.
        most: u32,
    },
    /// A screw, and nothing that is screwed.
    #[error("nothing is screwed: say ends = \"screws\", fore_ends, aft_ends or keel so, or take this line out")]
    NoScrews,
    /// A screw that does not come through the plank.
    #[error("a screw {length} long does not reach through a plank {thickness} thick; take a longer one")]
    ShortScrew {
        /// Of the screw.
        length: String,
        /// Of the plank.
        thickness: String,
    },
    /// Two loads of one name aboard at once.
    #[error("another of the loads is called {} too: give them different names", quoted(name))]
    SameLoad {
        /// As typed.
        name: String,
    },
    /// A head or a rove that is no wider than its nail.
    #[error(
        "a {what} {found} across is no wider than a nail of gauge {gauge}, {side}; check its digits and its unit"
    )]
    NarrowerThanNail {
        /// Head or rove.
        what: &'static str,
        /// Its diameter.
        found: String,
        /// Of the nail.
        side: String,
        /// Of the nail.
        gauge: u32,
    },
    /// Fastenings too near to one another.
    #[error(
        "fastenings would stand {found} apart, and nails of gauge {gauge} nearer than {least} (four of their sides) split the wood \
         between them; ask for fewer, or for thinner nails"
    )]
    NoWoodBetween {
        /// Centre to centre.
        found: String,
        /// Least.
        least: String,
        /// Of the nails.
        gauge: u32,
    },
    /// Said here and in nails.csv.
    #[error("nails.csv says {what} too, and only one of the two may: take this line out, or those out of nails.csv")]
    SaidTwice {
        /// What it says.
        what: &'static str,
    },
    /// Not one of the words that may stand there.
    #[error("{} stands here; write {known}", quoted(found))]
    Word {
        /// As typed.
        found: String,
        /// Those that may.
        known: String,
    },
    /// An entry to be settled that is not there.
    #[error("the table has no entry for that row at that station: take these lines out, or fill it in")]
    NoEntry,
    /// One entry settled twice.
    #[error("line {first} settles this entry already: keep one of the two")]
    SettledTwice {
        /// Its line.
        first: usize,
    },
    /// A settled entry that leaves nothing between sheer and rabbet.
    #[error(
        "the sheer at {sheer} would not be above the rabbet at {rabbet} there; one of the two is wrong: check the plan"
    )]
    SheerUnderRabbet {
        /// Height of the sheer, as said.
        sheer: String,
        /// Height of the rabbet, as said.
        rabbet: String,
    },
    /// A name that no paper could carry.
    #[error("the text has {found} letters; 1 to {most} are allowed, and no line breaks or tabs")]
    Text {
        /// Letters found.
        found: usize,
        /// Most.
        most: usize,
    },
    /// Both a transom and a sternpost, or neither.
    #[error(
        "the boat has {found}; give exactly one of [transom] (foot and head) and [sternpost] (half_siding and rabbet)"
    )]
    OneAfterEnd {
        /// `both a transom and a sternpost`, or `neither a transom nor a sternpost`.
        found: &'static str,
    },
    /// Both a stem and a bow transom, or neither.
    #[error(
        "the boat has {found}; give exactly one of [stem] (half_siding and rabbet) and [bow_transom] (foot and head)"
    )]
    OneForeEnd {
        /// `both a stem and a bow transom`, or `neither a stem nor a bow transom`.
        found: &'static str,
    },
    /// A transom rounder than its beam allows.
    #[error(
        "a radius of {radius} is less than the {rise} that the face rises: a curved transom is flatter; look for a slip"
    )]
    TransomRadius {
        /// As said.
        radius: String,
        /// Its rise up the face, as said.
        rise: String,
    },
    /// A transom's top edge rounder than its breadth allows.
    #[error(
        "a crown of {crown} over a half-breadth of {half} at the sheer (offsets.csv) is rounder than a transom's top edge is: \
         at most {most}, half of that; look for a slip"
    )]
    Crown {
        /// As said.
        crown: String,
        /// Half-breadth at the sheer, as said.
        half: String,
        /// Limit, as said.
        most: String,
    },
    /// A key for a transom in a boat with a sternpost.
    #[error(
        "the boat has a sternpost and no transom; her lands run out over planking.gain there: take this line out"
    )]
    NoTransom,
    /// A gain where the lands stand proud.
    #[error(
        "the lands stand proud at this transom (transom_ends) and have no gain: take this line out, or write transom_ends = \"flush\""
    )]
    NoGainThere,
    /// A head on a post whose faces are not known.
    #[error("the head is that of the wood: give wood_outside and wood_inside beside it, or take this line out")]
    HeadOfNoWood,
    /// Rivets in a boat that is glued.
    #[error(
        "the lands are glued (planking.construction), and take no rivets: take this section out (or put # before its lines, to keep them), or write construction = \"riveted\""
    )]
    GluedFastenings,
    /// Glue in a boat that is riveted.
    #[error("the lands are riveted, and take no glue: take this line out, or write construction = \"glued\"")]
    GlueInRiveted,
    /// Too few or too many in a list.
    #[error("the list has {found}; {least} to {most} are allowed: add some or take some out")]
    ListLength {
        /// Found.
        found: usize,
        /// Least.
        least: usize,
        /// Most.
        most: usize,
    },
    /// Lengths that should rise.
    #[error("{value} follows {before}; write the list shortest first, each once")]
    NotAscending {
        /// The length out of order.
        value: String,
        /// The one before it.
        before: String,
    },
    /// A rabbet that does not run down from its head, or doubles back.
    #[error("point {point}, at {value}, follows {before}: from the head down, {rule}; check its digits and its sign")]
    Rabbet {
        /// From 1.
        point: usize,
        /// The coordinate out of order.
        value: String,
        /// The same coordinate of the point before.
        before: String,
        /// What must hold.
        rule: &'static str,
    },
    /// A transom on its head, or nearly flat.
    #[error(
        "the head is {rise} above the foot and {rake} aft of it; it must be at least {least_rise} above, and lean no more than {most_rake} times its rise"
    )]
    TransomPlane {
        /// Height of the head above the foot.
        rise: String,
        /// How far the head is aft of the foot.
        rake: String,
        /// Least rise.
        least_rise: String,
        /// Most lean as a multiple of the rise.
        most_rake: f64,
    },
    /// The ends too near or too far.
    #[error(
        "the rabbet of the keel ends {value} aft of where it begins at the fore-foot; {range} is allowed: check foot and rabbet"
    )]
    Ends {
        /// The distance.
        value: String,
        /// Least and most.
        range: String,
    },
    /// A wood whose density is not known.
    #[error("the weight of {} is not known{}; give its density in kg/m³ beside it, or one of: {known}", quoted(found), nearest.as_ref().map_or_else(String::new, |n| format!(" (did you mean {}?)", quoted(n))))]
    Wood {
        /// As typed.
        found: String,
        /// What it was perhaps meant for.
        nearest: Option<String>,
        /// Those known.
        known: String,
    },
    /// A plank or a timber that would bend further cold than steamed.
    #[error(
        "steamed, it would bend to {steamed:.0} thicknesses at the least, and cold to {cold:.0}: steam bends it further; make steamed_radius smaller, or cold_radius larger"
    )]
    Steamed {
        /// In thicknesses.
        steamed: f64,
        /// In thicknesses.
        cold: f64,
    },
    /// Timbers placed both by hand and by a spacing.
    #[error("timbers stand where `at` says, and by no spacing: take one of the two lines out")]
    PlacedTwice,
    /// Timbers that fill all the room.
    #[error(
        "{spacing} from centre to centre leaves no wood of the planking to be seen between timbers {sided} sided: space them wider (timbers.spacing), or make them thinner (timbers.sided)"
    )]
    NoWood {
        /// As lengths are said.
        spacing: String,
        /// As lengths are said.
        sided: String,
    },
    /// Two timbers in one place, or out of order.
    #[error(
        "{value} follows {before}: write the places from forward, each once, and no two nearer than a timber is sided, {sided}"
    )]
    OnePlace {
        /// As lengths are said.
        value: String,
        /// The one before it.
        before: String,
        /// What each takes.
        sided: String,
    },
    /// A place given twice.
    #[error("a place is station and perhaps aft, or else at: take one out")]
    OnePlaceOnly,
    /// A height given twice.
    #[error("a height is height above base, or else below_sheer: take one out")]
    OneLevel,
    /// A timber stopped at neither or at both.
    #[error("a timber stops at a strake or at a height: give one of the two")]
    StopOnce,
    /// A timber stopped twice.
    #[error("timber {timber} is stopped twice: take one out")]
    StoppedTwice {
        /// Its number.
        timber: usize,
    },
    /// A strake's longest part said twice.
    #[error("strake {strake} stands here twice: take one out")]
    LongestTwice {
        /// Its number.
        strake: usize,
    },
    /// Two diagonals of one name.
    #[error("two diagonals have this name but for capitals; rename one")]
    SameDiagonal,
    /// A price or a share with more places than it may have.
    #[error("{} has more than {most} places after its point; round it", quoted(found))]
    Places {
        /// As typed.
        found: String,
        /// Most.
        most: u32,
    },
    /// A wood with no price, or two.
    #[error("the wood has {found}; give exactly one of per_m3 and per_board_foot")]
    OnePrice {
        /// `no price` or `two prices`.
        found: &'static str,
    },
    /// A wood priced twice under one name.
    #[error("this is the wood that already stands there as {}; keep one of the two", quoted(first))]
    SameWood {
        /// The first.
        first: String,
    },
    /// A sum and how it comes about.
    #[error("stands beside a sum; give sum alone, or quantity, unit and each without it")]
    BesideSum,
}
