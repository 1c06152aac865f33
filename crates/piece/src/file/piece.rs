//! A piece file as it is typed. The doc comments here are the descriptions in the JSON Schema.

use super::named::Named;
use super::scalars::{Angle, Day, FileName, Length, Letter, Name, Share, Size, Srgb, Volume};
use schemars::JsonSchema;
use serde::Deserialize;

/// A piece: one decorated cup with everything that belongs to it.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "Cupwright piece file, format 1")]
pub struct PieceFile {
    /// Version of this file format: 1.
    #[schemars(extend("const" = 1))]
    pub cupwright: u32,
    /// Title, as the customer knows it.
    #[schemars(length(min = 1, max = 120))]
    pub title: String,
    /// Notes that the customer may read.
    #[serde(default)]
    #[schemars(length(max = 4000))]
    pub notes: String,
    /// How many of it are made.
    #[serde(default = "one")]
    #[schemars(range(min = 1, max = 1000))]
    pub quantity: u32,
    /// Day it must be with the customer.
    pub due: Option<Day>,
    /// What it will hold.
    #[serde(default)]
    pub drinks: DrinksFile,
    /// Made for a child of 12 or under.
    #[serde(default)]
    pub for_child: bool,
    /// Seed of everything random; another seed gives another scatter.
    #[serde(default = "seed")]
    #[schemars(range(min = 0, max = 9_007_199_254_740_991_u64))]
    pub seed: u64,
    /// Colours by the maker's own names; blank, paint, glitter, film and stones share them.
    #[serde(default)]
    #[schemars(extend("maxProperties" = 100))]
    pub colours: Named<ColourFile>,
    /// Separate surfaces: body, lid, topper.
    #[schemars(length(min = 1, max = 12))]
    pub part: Vec<PartFile>,
    /// Finishes in the order of work; a later one lies on top.
    #[serde(default)]
    #[schemars(length(max = 60))]
    pub zone: Vec<ZoneFile>,
}

fn one() -> u32 {
    1
}

fn seed() -> u64 {
    1
}

/// What a cup holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum DrinksFile {
    /// Cold drinks only.
    #[default]
    Cold,
    /// Hot drinks, perhaps also cold ones.
    Hot,
}

/// A colour: `"#rrggbb"`, or a table that also gives its letter.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(untagged)]
pub enum ColourFile {
    /// Only the colour; its letter is given out automatically.
    Srgb(Srgb),
    /// The colour and its letter.
    Lettered(LetteredColour),
}

/// A colour with the letter that tells it apart on paper.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LetteredColour {
    /// The colour in sRGB.
    pub srgb: Srgb,
    /// One or two capital letters printed beside or inside stones of this colour.
    pub letter: Option<Letter>,
}

/// A separate surface of the piece.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(extend("oneOf" = [{"required": ["revolved"]}, {"required": ["flat"]}]))]
pub struct PartFile {
    /// Name of the part: `body`, `lid`, `topper` or the maker's own.
    pub name: Name,
    /// What it is; may be left out where the name says it.
    pub role: Option<RoleFile>,
    /// Stated capacity, for a plausibility check.
    pub capacity: Option<Volume>,
    /// Colour of the bare blank; left out, it is brushed steel.
    pub colour: Option<String>,
    /// Tape measurements from the rim down (of a lid: from the middle outward and down).
    #[schemars(length(min = 2, max = 200))]
    pub revolved: Option<Vec<MeasureFile>>,
    /// Outline of a flat plate.
    pub flat: Option<FlatFile>,
    /// Where it sits when the piece is put together; left out, it stands on the table.
    pub sits_on: Option<SeatFile>,
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
    /// A flat part stands upright and faces the front, instead of lying face up.
    #[serde(default)]
    pub upright: bool,
}

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
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
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

/// Sprayed or brushed colour.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PaintFile {
    /// Name of its colour.
    pub colour: String,
    /// How many coats.
    #[serde(default = "one")]
    #[schemars(range(min = 1, max = 20))]
    pub coats: u32,
}

/// Loose glitter.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct GlitterFile {
    /// Name of its colour.
    pub colour: String,
    /// Width of a flake across flats; left out, 0.4 mm (fine).
    pub flake: Option<Length>,
}

/// Clear epoxy.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ResinFile {
    /// How many coats.
    #[serde(default = "one")]
    #[schemars(range(min = 1, max = 20))]
    pub coats: u32,
    /// Thickness each coat leaves; left out, 0.2 mm.
    pub film: Option<Length>,
}

/// Cut adhesive film.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct VinylFile {
    /// Name of its colour.
    pub colour: String,
}

/// Flat-back stones.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(extend("allOf" = [
    {"oneOf": [{"required": ["size"]}, {"required": ["sizes"]}]},
    {"oneOf": [{"required": ["colour"]}, {"required": ["colours"]}]}
]))]
pub struct StonesFile {
    /// How they are laid.
    pub layout: LayoutFile,
    /// Which line rows run along; left out, level. Only with `layout = "rows"`.
    pub follow: Option<FollowFile>,
    /// Their one size.
    pub size: Option<Size>,
    /// Several sizes with their share by count; the shares sum to 100 %.
    #[schemars(length(min = 1, max = 12))]
    pub sizes: Option<Vec<SizeShare>>,
    /// Name of their one colour.
    pub colour: Option<String>,
    /// Several colours with their share by count; the shares sum to 100 %.
    #[schemars(length(min = 1, max = 40))]
    pub colours: Option<Vec<ColourShare>>,
    /// Least clear distance between two stones, in space; left out, 0.1 mm.
    pub gap: Option<Length>,
    /// What they are made of.
    #[serde(default)]
    pub material: MaterialFile,
}

/// How stones fill a zone.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum LayoutFile {
    /// Rows of one size, each offset by half a stone against the next.
    Rows,
    /// Mixed sizes packed with no order.
    Scatter,
}

/// Which line rows run along.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum FollowFile {
    /// Level rings.
    Level,
    /// The zone's edge nearer the rim, then inward.
    Edge,
}

/// What stones are made of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum MaterialFile {
    /// Lead-free glass.
    #[default]
    Glass,
    /// Leaded crystal.
    LeadCrystal,
    /// Moulded resin.
    Resin,
}

/// A size and its share.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SizeShare {
    /// The size.
    pub size: Size,
    /// Its share by count.
    pub share: Share,
}

/// A colour and its share.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ColourShare {
    /// Name of the colour.
    pub colour: String,
    /// Its share by count.
    pub share: Share,
}
