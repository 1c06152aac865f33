//! Ways across a zone and pictures on it, as they are typed.

use super::scalars::{FileName, Length};
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

/// Down the wall between two distances from the rim.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct WallFile {
    /// Where it begins and where it ends, from the rim along the wall (on a flat part: down from the centre).
    pub wall: [Length; 2],
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
#[schemars(extend("allOf" = [{"oneOf": [{"required": ["width"]}, {"required": ["height"]}]}]))]
pub struct LineFile {
    /// SVG path data of one stroke; y grows downwards.
    #[schemars(length(min = 1, max = 100_000))]
    pub line: String,
    /// Width it is scaled to.
    pub width: Option<Length>,
    /// Height it is scaled to.
    pub height: Option<Length>,
    /// Distance of the middle from the rim along the wall (on a flat part: down from the centre; left out, 0).
    pub along: Option<Length>,
    /// Middle round the part from the front, as an angle (on a flat part: as a length right of the centre).
    pub around: Option<AroundFile>,
}

/// A picture whose colours the stones take.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PictureFile {
    /// A PNG or JPEG file beside this one.
    pub file: FileName,
    /// Width on the part.
    pub width: Length,
    /// Distance of the middle from the rim along the wall (on a flat part: down from the centre; left out, 0).
    pub along: Option<Length>,
    /// Middle round the part from the front, as an angle (on a flat part: as a length right of the centre).
    pub around: Option<AroundFile>,
}
