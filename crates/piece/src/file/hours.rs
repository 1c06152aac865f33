//! An hours file as it is typed: who works when, what turns, and what is ordered. The doc comments
//! here are the descriptions in the JSON Schema.

use super::scalars::{Clock, Day, Days, FileName, Moment, Name, Stretch, Time};
use super::settings::HoursFile;
use schemars::JsonSchema;
use serde::Deserialize;

/// When a studio works, and what it is to make.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "Cupwright hours file, format 1")]
pub struct BookFile {
    /// Version of this file format: 1.
    #[schemars(extend("const" = 1))]
    pub cupwright_hours: u32,
    /// Where the studio's clocks hang, by the name of the IANA database, such as Europe/London.
    #[schemars(length(min = 1, max = 60))]
    pub time_zone: String,
    /// First day or moment to plan; nothing is placed before it.
    pub begin: Option<Moment>,
    /// How many cups and lids can turn at once.
    #[schemars(range(min = 0, max = 500))]
    pub spindles: u32,
    /// How many parts can stand and dry at once; left out, as many as there are.
    #[schemars(range(min = 0, max = 5000))]
    pub racks: Option<u32>,
    /// How much earlier than needed everything should leave.
    pub buffer: Option<Time>,
    /// Days on which nobody works and nothing is posted.
    #[serde(default)]
    #[schemars(length(max = 400))]
    pub closed: Vec<Days>,
    /// When parcels leave, by weekday; left out, any hour of work will do.
    pub post: Option<PostFile>,
    /// Days on which the post does not go.
    #[serde(default)]
    #[schemars(length(max = 400))]
    pub no_post: Vec<Days>,
    /// Who works; left out, the maker of the studio file.
    #[serde(default)]
    #[schemars(length(max = 40))]
    pub maker: Vec<MakerHoursFile>,
    /// What is ordered.
    #[serde(default)]
    #[schemars(length(max = 1000))]
    pub order: Vec<OrderFile>,
    /// Spindles that cannot be used for a time.
    #[serde(default)]
    #[schemars(length(max = 400))]
    pub spindle_out: Vec<SpindleOutFile>,
    /// What was done, is under way or failed.
    #[serde(default)]
    #[schemars(length(max = 5000))]
    pub happened: Vec<HappenedFile>,
}

/// When parcels leave; a weekday left out has no post.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PostFile {
    /// Last moment for Monday's post.
    pub monday: Option<Clock>,
    /// Last moment for Tuesday's post.
    pub tuesday: Option<Clock>,
    /// Last moment for Wednesday's post.
    pub wednesday: Option<Clock>,
    /// Last moment for Thursday's post.
    pub thursday: Option<Clock>,
    /// Last moment for Friday's post.
    pub friday: Option<Clock>,
    /// Last moment for Saturday's post.
    pub saturday: Option<Clock>,
    /// Last moment for Sunday's post.
    pub sunday: Option<Clock>,
}

/// Someone who works.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct MakerHoursFile {
    /// What she is called.
    #[schemars(length(min = 1, max = 60))]
    pub name: String,
    /// Kinds of step that she does; left out, all of them.
    #[schemars(length(min = 1, max = 12))]
    pub does: Option<Vec<CraftFile>>,
    /// When she works.
    pub hours: HoursFile,
    /// Days with hours beside those of the week.
    #[serde(default)]
    #[schemars(length(max = 400))]
    pub extra: Vec<ExtraFile>,
    /// Days on which she does not work.
    #[serde(default)]
    #[schemars(length(max = 400))]
    pub away: Vec<Days>,
}

/// Kinds of step.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum CraftFile {
    /// Messages, artwork, buying.
    Order,
    /// Wash, scuff, wipe.
    Prepare,
    /// Tape what stays bare.
    Mask,
    /// Paint.
    Paint,
    /// Glitter.
    Glitter,
    /// Pour resin.
    Pour,
    /// Sand and wipe.
    Sand,
    /// Cut, weed, place film.
    Film,
    /// Photograph and ask the customer.
    Approve,
    /// Set stones.
    Set,
    /// Check, photograph, clean.
    Finish,
    /// Pack.
    Pack,
}

/// Hours beside those of the week.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ExtraFile {
    /// The day.
    pub day: Day,
    /// Stretches of work on it.
    #[schemars(length(min = 1, max = 12))]
    pub hours: Vec<Stretch>,
}

/// One order: a piece, or several made alike.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct OrderFile {
    /// The piece file, beside this one.
    pub file: FileName,
    /// Short name of the order; left out, the name of its file.
    pub name: Option<Name>,
    /// Day on which the customer wants it; left out, the `due` of the piece file.
    pub due: Option<Day>,
    /// How much a day late weighs, beside other orders.
    #[serde(default = "one")]
    #[schemars(range(min = 1, max = 100))]
    pub weight: u32,
    /// How many to make; left out, the `quantity` of the piece file.
    #[schemars(range(min = 1, max = 1000))]
    pub quantity: Option<u32>,
    /// First day or moment on which it may be begun.
    pub begin: Option<Moment>,
    /// Handed over in the studio, in any hour of work: no post, and no days on the way.
    #[serde(default)]
    pub hand_over: bool,
}

fn one() -> u32 {
    1
}

/// Spindles that cannot be used.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SpindleOutFile {
    /// From this day or moment.
    pub from: Moment,
    /// Up to this moment, or to the end of this day.
    pub to: Moment,
    /// How many.
    #[serde(default = "one")]
    #[schemars(range(min = 1, max = 500))]
    pub spindles: u32,
}

/// How far a step has come.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum StateFile {
    /// It is done.
    Done,
    /// It was begun and goes on.
    UnderWay,
    /// It was done and must be done again.
    Failed,
}

/// What came of one step.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct HappenedFile {
    /// Short name of the order.
    pub order: Name,
    /// Which of its groups of pieces made together, from 1; needed where there are several.
    #[schemars(range(min = 1, max = 1000))]
    pub group: Option<u32>,
    /// Name of the part, where the step is about one.
    pub part: Option<Name>,
    /// Name of the step as in the timetable.
    #[schemars(length(min = 1, max = 200))]
    pub step: String,
    /// Which of the steps of that name on the part, from 1.
    #[serde(default = "one")]
    #[schemars(range(min = 1, max = 100))]
    pub number: u32,
    /// How far it has come.
    pub state: StateFile,
    /// When it was begun.
    pub began: Option<Moment>,
    /// When it ended.
    pub ended: Option<Moment>,
    /// Hands-on time that is left of a step under way; left out, all that was not spent since `began`.
    pub left: Option<Time>,
    /// Who does it.
    #[schemars(length(min = 1, max = 60))]
    pub maker: Option<String>,
}
