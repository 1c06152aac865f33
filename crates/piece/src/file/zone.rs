//! Zones as they are typed: where they lie and what bounds them.

use super::art::{ArtFile, LetteringFile};
use super::finish::{GlitterFile, PaintFile, ResinFile, VinylFile};
use super::motif::MotifFile;
use super::places::{Place, Reach};
use super::scalars::{Angle, Length, Name};
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
    "allOf" = [
        {"not": {"required": ["lettering", "art"]}},
        {"not": {"required": ["lettering", "motif"]}},
        {"not": {"required": ["art", "motif"]}}
    ]
))]
pub struct ZoneFile {
    /// Name of the zone.
    pub name: Name,
    /// Name of the part it lies on.
    pub part: String,
    /// Between two edges along the wall; left out, the whole length.
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
    /// A pattern that bounds it.
    pub motif: Option<MotifFile>,
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
    /// Edge nearer to the rim; left out, what the studio keeps bare for lips ends there on a body, and
    /// on other parts it is the start of the part.
    pub from: Option<EdgeFile>,
    /// Edge farther from the rim.
    pub to: EdgeFile,
}

/// An edge: a place along the wall, or a wave about one.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(untagged)]
pub enum EdgeFile {
    /// A level line.
    Level(Place),
    /// A wave.
    Wave(WaveFile),
}

/// A wave that runs once round a part.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct WaveFile {
    /// Its middle along the wall: from the rim, from the foot, or as a share of the wall.
    pub along: Place,
    /// Shape of the wave.
    pub wave: WaveShape,
    /// Greatest departure from the mean, as a length or as a share of the wall.
    pub amplitude: Reach,
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

/// A place round the part.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize, JsonSchema)]
#[serde(untagged)]
pub enum AroundFile {
    /// On a revolved part: angle from the front, positive to the right.
    Angle(Angle),
    /// On a flat part: distance right of the centre.
    Length(Length),
}
