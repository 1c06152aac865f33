//! A settings file as it is typed. The doc comments here are the descriptions in the JSON Schema.

mod pricing;

pub use pricing::*;

use super::scalars::{Amount, Angle, Length, Mass, Share, Size, Stretch, Time, Volume};
use super::stones::MaterialFile;
use schemars::JsonSchema;
use serde::Deserialize;

/// The studio's times, prices and materials.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "Cupwright settings file, format 1")]
pub struct SettingsFile {
    /// Version of this file format: 1.
    #[schemars(extend("const" = 1))]
    pub cupwright_settings: u32,
    /// Name of the studio, printed on sheets.
    #[schemars(length(min = 1, max = 120))]
    pub studio: String,
    /// Prices and times are made-up examples; every sheet then says so.
    #[serde(default)]
    pub demo: bool,
    /// Currency that all amounts are in.
    pub currency: CurrencyFile,
    /// Paper the workbook is set on.
    pub paper: PaperFile,
    /// How lengths are shown to people.
    pub lengths: LengthsFile,
    /// Share of stones bought beyond the count.
    pub spare_stones: Share,
    /// Share of other materials bought beyond the need.
    pub spare_materials: Share,
    /// Bare height below a body's rim.
    pub lip: Length,
    /// Who works when.
    pub maker: MakerFile,
    /// The clear epoxy.
    pub resin: ResinProductFile,
    /// The paint.
    pub paint: PaintProductFile,
    /// The glitter.
    pub glitter: GlitterProductFile,
    /// The adhesive film.
    pub vinyl: VinylProductFile,
    /// The glue for stones.
    pub glue: GlueProductFile,
    /// Hands-on and waiting times.
    pub times: TimesFile,
    /// How a price is made.
    pub pricing: PricingFile,
    /// Stones by material and size.
    #[schemars(length(max = 400))]
    #[serde(default)]
    pub stone: Vec<StonePriceFile>,
    /// Stones in the drawer, ready to be set.
    #[schemars(length(max = 2000))]
    #[serde(default)]
    pub drawer: Vec<DrawerFile>,
    /// Things bought by the piece or used up by the piece.
    #[schemars(length(max = 200))]
    #[serde(default)]
    pub supply: Vec<SupplyFile>,
}

/// A currency.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CurrencyFile {
    /// ISO 4217 code, such as USD.
    #[schemars(length(min = 3, max = 3))]
    pub code: String,
    /// Sign put before amounts; left out, the code and a space.
    #[schemars(length(min = 1, max = 8))]
    pub sign: Option<String>,
    /// Digits after the point.
    #[serde(default = "two")]
    #[schemars(range(min = 0, max = 4))]
    pub minor_digits: u32,
}

fn two() -> u32 {
    2
}

/// Paper sizes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum PaperFile {
    /// 8.5 by 11 inches.
    Letter,
    /// 210 by 297 mm.
    A4,
}

/// How lengths are shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum LengthsFile {
    /// Millimetres.
    Millimetres,
    /// Inches.
    Inches,
}

/// A pair of hands.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct MakerFile {
    /// What she is called on sheets.
    #[schemars(length(min = 1, max = 60))]
    pub name: String,
    /// Wage per hour.
    pub wage_per_h: Amount,
    /// When she works.
    pub hours: HoursFile,
}

/// Working hours by weekday; a day left out is free.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct HoursFile {
    /// Stretches of work on Mondays.
    #[serde(default)]
    #[schemars(length(max = 12))]
    pub monday: Vec<Stretch>,
    /// Stretches of work on Tuesdays.
    #[serde(default)]
    #[schemars(length(max = 12))]
    pub tuesday: Vec<Stretch>,
    /// Stretches of work on Wednesdays.
    #[serde(default)]
    #[schemars(length(max = 12))]
    pub wednesday: Vec<Stretch>,
    /// Stretches of work on Thursdays.
    #[serde(default)]
    #[schemars(length(max = 12))]
    pub thursday: Vec<Stretch>,
    /// Stretches of work on Fridays.
    #[serde(default)]
    #[schemars(length(max = 12))]
    pub friday: Vec<Stretch>,
    /// Stretches of work on Saturdays.
    #[serde(default)]
    #[schemars(length(max = 12))]
    pub saturday: Vec<Stretch>,
    /// Stretches of work on Sundays.
    #[serde(default)]
    #[schemars(length(max = 12))]
    pub sunday: Vec<Stretch>,
}

/// What the data sheet and the price list say of a resin.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ResinProductFile {
    /// What the maker calls it.
    #[schemars(length(min = 1, max = 60))]
    pub name: String,
    /// Parts of A and of B by volume.
    #[schemars(inner(range(min = 0.01, max = 100.0)))]
    pub ratio_by_volume: [f64; 2],
    /// Density of A and of B, g/ml.
    #[schemars(inner(range(min = 0.5, max = 3.0)))]
    pub density_g_per_ml: [f64; 2],
    /// Share of a mix that stays in the cup, on the brush and on the glove.
    pub loss: Share,
    /// Least mixed amount lost whatever the size.
    pub least_loss: Volume,
    /// Working time of 100 g mixed at room temperature.
    pub pot_life: Time,
    /// The next coat bonds without sanding from this long after the pour.
    pub recoat_from: Time,
    /// The next coat bonds without sanding until this long after the pour.
    pub recoat_to: Time,
    /// Keep turning for this long after the pour.
    pub turning: Time,
    /// Hard enough to sand this long after the pour.
    pub sandable: Time,
    /// Full cure this long after the last pour.
    pub full_cure: Time,
    /// Price of a kit.
    pub kit_price: Amount,
    /// Mixed volume of a kit.
    pub kit: Volume,
}

/// Paint as it is bought and put on.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PaintProductFile {
    /// Wet paint for each square metre and coat, ml.
    #[schemars(range(min = 1.0, max = 2000.0))]
    pub ml_per_m2: f64,
    /// Dry thickness each coat leaves.
    pub film: Length,
    /// Wait between two coats.
    pub between_coats: Time,
    /// Wait after the last, before resin.
    pub before_resin: Time,
    /// Price of a can or bottle.
    pub pack_price: Amount,
    /// Content of a can or bottle.
    pub pack: Volume,
}

/// Glitter as it is bought and put on.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct GlitterProductFile {
    /// Mass that ends on the cup, g for each square metre.
    #[schemars(range(min = 1.0, max = 5000.0))]
    pub g_per_m2: f64,
    /// How many times that to have in the shaker; the rest is caught.
    #[schemars(range(min = 1.0, max = 20.0))]
    pub shaker_times: f64,
    /// Thickness of one flake.
    pub flake_thickness: Length,
    /// Price of a jar.
    pub pack_price: Amount,
    /// Content of a jar.
    pub pack: Mass,
}

/// What is cut round a piece of film to weed inside.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum WeedingFile {
    /// A line that follows the piece.
    #[default]
    Outline,
    /// A rectangle.
    Box,
    /// A rectangle, cut across wherever a level line passes between shapes.
    Strips,
    /// Nothing.
    None,
}

/// Adhesive film as it is bought.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct VinylProductFile {
    /// Thickness.
    pub film: Length,
    /// Thinnest stroke that is cut and weeded with ease; left out, 1 mm.
    pub least_stroke: Option<Length>,
    /// How far film of two layers runs under each other, with `join = "overlap"` or `"choke"` in a piece that names no `trap`; left out, 0.3 mm.
    pub trap: Option<Length>,
    /// What is cut round each piece to weed inside; left out, its outline.
    #[serde(default)]
    pub weeding: WeedingFile,
    /// From a shape to the line to weed inside; left out, 4 mm.
    pub weed_margin: Option<Length>,
    /// Between the lines to weed inside of two pieces on a sheet, half of it at the edges of the sheet; left out, 8 mm.
    pub spacing: Option<Length>,
    /// How far it may be stretched as it is laid on a wall that is curved both ways; left out, 2 %.
    pub stretch: Option<Share>,
    /// Width of a sheet.
    pub sheet_width: Length,
    /// Height of a sheet.
    pub sheet_height: Length,
    /// Price of a sheet.
    pub sheet_price: Amount,
    /// Price of transfer tape for each sheet of the same size.
    pub transfer_price: Amount,
}

/// Glue for stones.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct GlueProductFile {
    /// Thickness of the bond under a stone.
    pub bond: Length,
    /// Share of the stone's diameter that the dot covers after pressing.
    pub dot: Share,
    /// Share of the glue that strings, skins or stays in the tip.
    pub loss: Share,
    /// Stays open for.
    pub open: Time,
    /// From this long after it is set a stone holds wherever it is turned; left out, 20 min.
    pub set: Option<Time>,
    /// Farthest that a stone set more recently may lean from facing up; left out, 60 deg.
    pub tilt: Option<Angle>,
    /// Full strength after.
    pub full: Time,
    /// Price of a tube.
    pub pack_price: Amount,
    /// Content of a tube.
    pub pack: Volume,
}

/// Price of stones of one material and size.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct StonePriceFile {
    /// Material.
    pub material: MaterialFile,
    /// Size.
    pub size: Size,
    /// Stones in a pack (a gross is 144).
    #[schemars(range(min = 1, max = 1_000_000))]
    pub pack: u32,
    /// Price of a pack.
    pub pack_price: Amount,
    /// Stones a practised hand sets in an hour.
    #[schemars(range(min = 1.0, max = 10_000.0))]
    pub set_per_h: f64,
}

/// Stones of one material, size and colour in the drawer.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct DrawerFile {
    /// Material.
    #[serde(default)]
    pub material: MaterialFile,
    /// Size.
    pub size: Size,
    /// Name of the colour, as piece files have it.
    #[schemars(length(min = 1, max = 60))]
    pub colour: String,
    /// How many there are.
    #[schemars(range(min = 0, max = 10_000_000))]
    pub count: u32,
}
