//! Motifs as they are typed.

use super::places::Reach;
use super::scalars::{Angle, Length, Share};
use schemars::JsonSchema;
use serde::Deserialize;

/// A pattern made from numbers.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(extend("oneOf" = [
    {"required": ["drips"]}, {"required": ["reeds"]}, {"required": ["rain"]},
    {"required": ["stars"]}, {"required": ["petals"]}, {"required": ["confetti"]},
    {"required": ["scales"]}, {"required": ["checks"]}, {"required": ["stripes"]},
    {"required": ["honeycomb"]}, {"required": ["name_band"]}
]))]
pub struct MotifFile {
    /// Drips that run down from the upper edge of the zone.
    pub drips: Option<DripsFile>,
    /// Blades that stand on the lower edge of the zone.
    pub reeds: Option<ReedsFile>,
    /// Drops that fall all one way.
    pub rain: Option<RainFile>,
    /// Stars.
    pub stars: Option<StarsFile>,
    /// Flowers of separate petals round a heart.
    pub petals: Option<PetalsFile>,
    /// Small shapes turned every way.
    pub confetti: Option<ConfettiFile>,
    /// Rows of round scales.
    pub scales: Option<ScalesFile>,
    /// A chessboard.
    pub checks: Option<ChecksFile>,
    /// Stripes down the wall, straight or twisted.
    pub stripes: Option<StripesFile>,
    /// Six-sided cells with bars between.
    pub honeycomb: Option<HoneycombFile>,
    /// A name that runs round the part again and again.
    pub name_band: Option<NameBandFile>,
    /// Seed of what is random in it; left out, it follows from the piece's seed and the name of the zone.
    #[schemars(range(min = 0, max = 9_007_199_254_740_991_u64))]
    pub seed: Option<u64>,
    /// The zone is what lies between the shapes instead of the shapes.
    #[serde(default)]
    pub inverse: bool,
}

/// One size for all, or from the least to the most.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize, JsonSchema)]
#[serde(untagged)]
pub enum SpanFile {
    /// One size.
    One(Length),
    /// From the first to the second.
    Between([Length; 2]),
}

/// One height for all, or from the least to the most; each a length, or a share of the band, or of the
/// wall where there is none.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize, JsonSchema)]
#[serde(untagged)]
pub enum HeightsFile {
    /// One height.
    One(Reach),
    /// From the first to the second.
    Between([Reach; 2]),
}

/// Drips.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct DripsFile {
    /// How many side by side.
    #[schemars(range(min = 1, max = 200))]
    pub count: u32,
    /// Width of a drip.
    pub width: SpanFile,
    /// How far a drip runs below the solid strip.
    pub length: HeightsFile,
    /// Depth of the strip from which they run; left out, 4 mm.
    pub solid: Option<Reach>,
}

/// Reeds.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ReedsFile {
    /// How many side by side.
    #[schemars(range(min = 1, max = 1000))]
    pub count: u32,
    /// Height of a blade.
    pub height: HeightsFile,
    /// Width of a blade at its foot; left out, 3 mm.
    pub width: Option<Length>,
    /// How far blades lean at most to either side; left out, 15 deg.
    pub lean: Option<Angle>,
    /// Share of them that bear a head, as a bulrush does; left out, none.
    pub heads: Option<Share>,
}

/// Rain.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RainFile {
    /// Length of a drop.
    pub length: SpanFile,
    /// Width of a drop; left out, 1.2 mm.
    pub width: Option<Length>,
    /// How far from upright they fall, their feet to the left; left out, 12 deg.
    pub slant: Option<Angle>,
    /// Least distance between two drops.
    pub apart: Length,
    /// How many; left out, about as many as find room.
    #[schemars(range(min = 1, max = 5000))]
    pub count: Option<u32>,
}

/// Stars.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct StarsFile {
    /// Points of a star; left out, 5.
    #[schemars(range(min = 3, max = 24))]
    pub points: Option<u32>,
    /// Diameter of a star over its points.
    pub size: SpanFile,
    /// Diameter over its inner corners, as a share of that over its points; left out, 40 %.
    pub inner: Option<Share>,
    /// How far they tilt at most to either side; left out, 15 deg.
    pub tilt: Option<Angle>,
    /// Least distance between two stars.
    pub apart: Length,
    /// How many; left out, about as many as find room.
    #[schemars(range(min = 1, max = 5000))]
    pub count: Option<u32>,
}

/// Flowers.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PetalsFile {
    /// Petals of a flower; left out, 6.
    #[schemars(range(min = 3, max = 16))]
    pub petals: Option<u32>,
    /// Diameter of a flower.
    pub size: SpanFile,
    /// Diameter of the circle on which the petals begin, as a share of the flower's; left out, 30 %.
    pub heart: Option<Share>,
    /// Least distance between two flowers.
    pub apart: Length,
    /// How many; left out, about as many as find room.
    #[schemars(range(min = 1, max = 5000))]
    pub count: Option<u32>,
}

/// Confetti.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ConfettiFile {
    /// Which shapes, in equal numbers; left out, all of them.
    #[schemars(length(min = 1, max = 4))]
    pub shapes: Option<Vec<ConfettoWord>>,
    /// Diameter of the circle that just holds a shape.
    pub size: SpanFile,
    /// Least distance between two shapes.
    pub apart: Length,
    /// How many; left out, about as many as find room.
    #[schemars(range(min = 1, max = 5000))]
    pub count: Option<u32>,
}

/// A shape of confetti.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum ConfettoWord {
    /// A disc.
    Disc,
    /// A square.
    Square,
    /// A triangle of equal sides.
    Triangle,
    /// A strip four times as long as it is wide.
    Strip,
}

/// Scales.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(extend("oneOf" = [{"required": ["round"]}, {"required": ["pitch"]}]))]
pub struct ScalesFile {
    /// How many go once round the part.
    #[schemars(range(min = 3, max = 400))]
    pub round: Option<u32>,
    /// From one to the next, at the middle of the zone; round a part it is rounded to a whole number.
    pub pitch: Option<Length>,
    /// Bare line between two scales; left out, 0.8 mm.
    pub gap: Option<Length>,
    /// No scale is cut by the lower edge of the zone.
    #[serde(default)]
    pub whole: bool,
}

/// Checks.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(extend("oneOf" = [{"required": ["round"]}, {"required": ["pitch"]}]))]
pub struct ChecksFile {
    /// How many go once round the part, an even number; half of them are covered.
    #[schemars(range(min = 2, max = 400))]
    pub round: Option<u32>,
    /// Width of one, at the middle of the zone; round a part it is rounded to an even number.
    pub pitch: Option<Length>,
}

/// Stripes.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(extend("oneOf" = [{"required": ["round"]}, {"required": ["pitch"]}]))]
pub struct StripesFile {
    /// How many go once round the part.
    #[schemars(range(min = 1, max = 400))]
    pub round: Option<u32>,
    /// From one to the next, at the middle of the zone; round a part it is rounded to a whole number.
    pub pitch: Option<Length>,
    /// Share of the pitch that a stripe takes; left out, 50 %.
    pub share: Option<Share>,
    /// How far a stripe runs round from the upper to the lower edge of the zone, to the right.
    pub twist: Option<Angle>,
}

/// Honeycomb.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(extend("oneOf" = [{"required": ["round"]}, {"required": ["pitch"]}]))]
pub struct HoneycombFile {
    /// How many cells go once round the part.
    #[schemars(range(min = 3, max = 400))]
    pub round: Option<u32>,
    /// From one cell to the next, at the middle of the zone; round a part it is rounded to a whole number.
    pub pitch: Option<Length>,
    /// Width of the bars between the cells; left out, 1 mm.
    pub bar: Option<Length>,
    /// No cell is cut by the upper or the lower edge of the zone.
    #[serde(default)]
    pub whole: bool,
}

/// A name band.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct NameBandFile {
    /// The words; they are as high as the zone lets them.
    #[schemars(length(min = 1, max = 200))]
    pub text: String,
    /// A typeface that ships with the program, or a `.ttf` or `.otf` file beside this one; left out, a sturdy one.
    pub font: Option<String>,
    /// What stands between two of them; left out, a diamond.
    #[serde(default)]
    pub ornament: OrnamentWord,
    /// How many go once round the part; left out, as many as find room.
    #[schemars(range(min = 1, max = 60))]
    pub round: Option<u32>,
    /// Width of a line along the upper and the lower edge of the zone; left out, no line.
    pub border: Option<Length>,
    /// Only a part of it, so that others can have a zone and a finish of their own.
    pub only: Option<BandPartWord>,
}

/// What stands between two names.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum OrnamentWord {
    /// A disc.
    Dot,
    /// A square on its corner.
    #[default]
    Diamond,
    /// A star of five points.
    Star,
    /// A wave.
    Wave,
    /// Three blades, one with the head of a bulrush.
    Reeds,
    /// Nothing.
    None,
}

/// A part of a name band.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum BandPartWord {
    /// The words.
    Text,
    /// What stands between them.
    Ornaments,
    /// The lines along the edges.
    Border,
}
