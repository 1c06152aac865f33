//! Zones as they are typed: where they lie and what bounds them.

use super::finish::{GlitterFile, PaintFile, ResinFile, VinylFile};
use super::piece::one;
use super::scalars::{Angle, FileName, Length, Name};
use super::stones::{StoneRulesFile, StonesFile};
use schemars::JsonSchema;
use serde::Deserialize;

/// A region of a part with one finish.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(extend(
    "oneOf" = [
        {"required": ["paint"]}, {"required": ["glitter"]}, {"required": ["resin"]},
        {"required": ["vinyl"]}, {"required": ["stones"]}
    ],
    "not" = {"required": ["lettering", "art"]}
))]
pub struct ZoneFile {
    /// Name of the zone.
    pub name: Name,
    /// Name of the part it lies on.
    pub part: String,
    /// Between two edges counted along the wall from the rim; left out, the whole length.
    pub band: Option<BandFile>,
    /// Between two angles round the axis; left out, all round.
    pub window: Option<WindowFile>,
    /// Kept this far inside the outline of a flat part, or away from both ends of a revolved one.
    pub inset: Option<Length>,
    /// Other zones that are kept clear of this one.
    #[serde(default)]
    #[schemars(length(max = 60))]
    pub leave_out: Vec<LeaveOutFile>,
    /// Words that bound it.
    pub lettering: Option<LetteringFile>,
    /// A drawing that bounds it.
    pub art: Option<ArtFile>,
    /// Finish: sprayed or brushed colour.
    pub paint: Option<PaintFile>,
    /// Finish: loose glitter in a wet coat or glue.
    pub glitter: Option<GlitterFile>,
    /// Finish: clear epoxy.
    pub resin: Option<ResinFile>,
    /// Finish: cut adhesive film.
    pub vinyl: Option<VinylFile>,
    /// Finish: flat-back stones.
    pub stones: Option<StonesFile>,
    /// Which sizes of stones may lie where. Only with `stones`.
    pub stone_rules: Option<StoneRulesFile>,
}

/// The two edges of a band.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct BandFile {
    /// Edge nearer to the rim.
    pub from: EdgeFile,
    /// Edge farther from the rim.
    pub to: EdgeFile,
}

/// An edge: a distance from the rim, or a wave about one.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(untagged)]
pub enum EdgeFile {
    /// A level line.
    Level(Length),
    /// A wave.
    Wave(WaveFile),
}

/// A wave that runs once round a part.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct WaveFile {
    /// Mean distance from the rim along the wall.
    pub along: Length,
    /// Shape of the wave.
    pub wave: WaveShape,
    /// Greatest departure from the mean.
    pub amplitude: Length,
    /// Whole waves round the part.
    #[schemars(range(min = 1, max = 200))]
    pub count: u32,
    /// Angle of the first crest, the point nearest to the rim, from the front; left out, 0 deg.
    pub crest: Option<Angle>,
}

/// Shape of a wave.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum WaveShape {
    /// A sine.
    Sine,
    /// Straight teeth.
    Zigzag,
    /// Half circles stretched to fit, points towards the rim.
    Scallop,
}

/// A stretch round the axis; 0 deg is the front, positive to the right as one looks at it.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct WindowFile {
    /// Where it starts.
    pub from: Angle,
    /// Where it ends, to the right of the start.
    pub to: Angle,
}

/// A zone that is kept clear.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LeaveOutFile {
    /// Name of the zone.
    pub zone: String,
    /// Bare margin round it; left out, none.
    pub margin: Option<Length>,
}

/// Words set on a level line.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LetteringFile {
    /// The words.
    #[schemars(length(min = 1, max = 200))]
    pub text: String,
    /// A typeface that ships with the program, or a `.ttf` or `.otf` file beside this one; left out, a sturdy one.
    pub font: Option<String>,
    /// Height of a capital H.
    pub height: Length,
    /// Distance of the middle from the rim along the wall (on a flat part: down from the centre; left out, 0).
    pub along: Option<Length>,
    /// Middle round the part from the front, as an angle (on a flat part: as a length right of the centre).
    pub around: Option<AroundFile>,
    /// Turned clockwise as seen from outside.
    pub turn: Option<Angle>,
    /// Copies spread evenly round the part.
    #[serde(default = "one")]
    #[schemars(range(min = 1, max = 60))]
    pub repeat: u32,
}

/// A place round the part.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize, JsonSchema)]
#[serde(untagged)]
pub enum AroundFile {
    /// On a revolved part: angle from the front, positive to the right.
    Angle(Angle),
    /// On a flat part: distance right of the centre.
    Length(Length),
}

/// A drawing laid on the surface.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(extend("allOf" = [
    {"oneOf": [{"required": ["path"]}, {"required": ["file"]}]},
    {"oneOf": [{"required": ["width"]}, {"required": ["height"]}]}
]))]
pub struct ArtFile {
    /// SVG path data; y grows downwards.
    #[schemars(length(min = 1, max = 1_000_000))]
    pub path: Option<String>,
    /// An SVG file beside this one.
    pub file: Option<FileName>,
    /// Width it is scaled to.
    pub width: Option<Length>,
    /// Height it is scaled to.
    pub height: Option<Length>,
    /// Distance of the middle from the rim along the wall (on a flat part: down from the centre; left out, 0).
    pub along: Option<Length>,
    /// Middle round the part from the front, as an angle (on a flat part: as a length right of the centre).
    pub around: Option<AroundFile>,
    /// Turned clockwise as seen from outside.
    pub turn: Option<Angle>,
    /// Mirrored left to right before turning.
    #[serde(default)]
    pub mirror: bool,
    /// Copies spread evenly round the part.
    #[serde(default = "one")]
    #[schemars(range(min = 1, max = 60))]
    pub repeat: u32,
}
