//! Ways across a zone and pictures on it, as they are typed.

use super::places::{Place, Reach};
use super::scalars::{FileName, Length, Share};
use super::zone::AroundFile;
use schemars::JsonSchema;
use serde::Deserialize;

/// A way across a zone, along which colours or sizes change.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(untagged)]
pub enum WayFile {
    /// Down the wall.
    Wall(WallFile),
    /// Round the part.
    Around(AroundWayFile),
    /// Along a line.
    Line(LineFile),
}

/// Down the wall between two places on it.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct WallFile {
    /// Where it begins and where it ends along the wall: from the rim, from the foot, or as shares of the
    /// wall (on a flat part: down from the centre).
    pub wall: [Place; 2],
}

/// Round the part between two places.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct AroundWayFile {
    /// Where it begins and where it ends, as angles from the front (on a flat part: as lengths right of the centre).
    pub around: [AroundFile; 2],
}

/// Along a line that is drawn on the part.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(extend("allOf" = [{"oneOf": [{"required": ["width"]}, {"required": ["height"]}, {"required": ["round"]}]}]))]
pub struct LineFile {
    /// SVG path data of one stroke; y grows downwards.
    #[schemars(length(min = 1, max = 100_000))]
    pub line: String,
    /// Width it is scaled to.
    pub width: Option<Length>,
    /// Height it is scaled to, as a length or as a share of the wall.
    pub height: Option<Reach>,
    /// Width it is scaled to, as a share of the way round the bare part at its middle.
    pub round: Option<Share>,
    /// The middle along the wall: from the rim, from the foot, or as a share of the wall (on a flat part:
    /// down from the centre; left out, 0).
    pub along: Option<Place>,
    /// Middle round the part from the front, as an angle (on a flat part: as a length right of the centre).
    pub around: Option<AroundFile>,
}

/// A picture whose colours the stones take.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(extend("oneOf" = [{"required": ["width"]}, {"required": ["round"]}]))]
pub struct PictureFile {
    /// A PNG or JPEG file beside this one.
    pub file: FileName,
    /// Width on the part.
    pub width: Option<Length>,
    /// Width as a share of the way round the bare part at its middle.
    pub round: Option<Share>,
    /// The middle along the wall: from the rim, from the foot, or as a share of the wall (on a flat part:
    /// down from the centre; left out, 0).
    pub along: Option<Place>,
    /// Middle round the part from the front, as an angle (on a flat part: as a length right of the centre).
    pub around: Option<AroundFile>,
}
