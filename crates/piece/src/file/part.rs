//! Parts as they are typed.

use super::scalars::{Angle, Length, Name, Volume};
use schemars::JsonSchema;
use serde::Deserialize;

/// A separate surface of the piece.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(extend("oneOf" = [{"required": ["revolved"]}, {"required": ["flat"]}, {"required": ["blank"]}]))]
pub struct PartFile {
    /// Name of the part: `body`, `lid`, `topper` or the maker's own.
    pub name: Name,
    /// What it is; may be left out where the name says it.
    pub role: Option<RoleFile>,
    /// Stated capacity, for a plausibility check.
    pub capacity: Option<Volume>,
    /// Whether its wall is single or double, to judge the capacity by; left out, a generic blank says it,
    /// a part with a handle may be either, and any other body is double-walled.
    pub wall: Option<WallsFile>,
    /// Colour of the bare blank; left out, a body is brushed steel, a lid or topper clear plastic.
    pub colour: Option<String>,
    /// Tape measurements from the rim down (of a lid: from the middle outward and down).
    #[schemars(length(min = 2, max = 200))]
    pub revolved: Option<Vec<MeasureFile>>,
    /// Outline of a flat plate.
    pub flat: Option<FlatFile>,
    /// Name of a generic blank, for a first sketch: its sizes are a guess until yours is measured.
    pub blank: Option<String>,
    /// How finely the tape or ruler was read: smooth runs pass within what it can tell of each
    /// reading, instead of through it. Left out, every reading is taken as exact.
    pub read_to: Option<Length>,
    /// The handle: a window of the wall that zones keep out of.
    pub handle: Option<HandleFile>,
    /// Where it sits when the piece is put together; left out, it stands on the table.
    pub sits_on: Option<SeatFile>,
    /// Height of the lower end of its wall above the table it stands on; left out, none is known.
    pub foot: Option<Length>,
    /// Diameter of the straw that passes the hole of a lid; left out, none is known.
    pub straw: Option<Length>,
    /// Inner diameter of the cup holder that its lower end goes into; left out, none is known.
    pub holder: Option<Length>,
}

/// What a part is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum RoleFile {
    /// The drinking vessel.
    Body,
    /// What closes it.
    Lid,
    /// A small decorated thing for lid or straw.
    Topper,
}

/// How the wall of a vessel is built.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum WallsFile {
    /// One layer, as of ceramic or enamel mugs.
    Single,
    /// Two with a vacuum between, as of steel cups that keep warm.
    Double,
}

/// One measurement with the tape.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(extend("oneOf" = [{"required": ["circumference"]}, {"required": ["diameter"]}, {"required": ["radius"]}]))]
pub struct MeasureFile {
    /// Distance along the wall from the start; the first is 0.
    pub along: Length,
    /// Distance round the part there.
    pub circumference: Option<Length>,
    /// Distance across the part there.
    pub diameter: Option<Length>,
    /// Half the distance across.
    pub radius: Option<Length>,
    /// How the wall runs from the measurement before to this one.
    #[serde(default)]
    pub run: RunFile,
    /// There is an edge here that no stone may straddle.
    #[serde(default)]
    pub crease: bool,
}

/// How a wall runs between two measurements.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum RunFile {
    /// A cone or cylinder.
    #[default]
    Straight,
    /// A smooth curve through this and its smooth neighbours.
    Smooth,
}

/// Where a handle sits.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct HandleFile {
    /// Its upper end, along the wall from the rim.
    pub from: Length,
    /// Its lower end, along the wall from the rim.
    pub to: Length,
    /// Its middle, round the part from the front; left out, at the right-hand side, 90 deg.
    pub around: Option<Angle>,
    /// Width round the wall that it keeps.
    pub width: Length,
    /// Room beside it that stones leave, so that it can close and come off; left out, 1 mm.
    pub clearance: Option<Length>,
    /// Names of zones that run on beneath it all the same.
    #[serde(default)]
    #[schemars(length(max = 60))]
    pub beneath: Vec<String>,
}

/// Outline of a flat plate.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(untagged)]
pub enum FlatFile {
    /// A disc.
    Circle(CircleFile),
    /// A path.
    Path(PathFile),
    /// A rectangle.
    Rectangle(RectangleFile),
}

/// A disc.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CircleFile {
    /// Diameter.
    pub circle: Length,
}

/// A rectangle.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RectangleFile {
    /// Width.
    pub width: Length,
    /// Height.
    pub height: Length,
    /// Radius of the corners; left out, they are sharp.
    pub corner: Option<Length>,
}

/// A closed path.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PathFile {
    /// SVG path data; y grows downwards.
    #[schemars(length(min = 1, max = 1_000_000))]
    pub path: String,
    /// Width the path is scaled to.
    pub width: Length,
}

/// Where a part sits on another.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SeatFile {
    /// Name of the part below.
    pub part: String,
    /// How far its lowest point lies below the highest point of the part below.
    pub sink: Option<Length>,
    /// Room between both where they lie beside each other: stones that stand no higher are in nobody's
    /// way. Left out, none is known.
    pub clearance: Option<Length>,
    /// A flat part stands upright and faces the front, instead of lying face up.
    #[serde(default)]
    pub upright: bool,
}
