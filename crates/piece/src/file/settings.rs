//! A settings file as it is typed. The doc comments here are the descriptions in the JSON Schema.

mod air;
mod film;
mod materials;
mod pricing;
mod quote;
mod resin;
mod room;
mod stones;
mod turner;

pub use air::*;
pub use film::*;
pub use materials::*;
pub use pricing::*;
pub use quote::*;
pub use resin::*;
pub use room::*;
pub use stones::*;
pub use turner::*;

use super::scalars::{Amount, Length, Share, Stretch};
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
    /// What turns the cup while a coat sets.
    pub turner: Option<TurnerFile>,
    /// The room; left out, as warm as the resin's sheet has it, and 50 % humidity.
    #[serde(default)]
    pub room: RoomFile,
    /// Limits for its air beside the federal ones.
    #[serde(default)]
    pub air: AirFile,
    /// Solvents used beside those in the paint.
    #[schemars(length(max = 40))]
    #[serde(default)]
    pub solvent: Vec<SolventUseFile>,
    /// The paint.
    pub paint: PaintProductFile,
    /// The glitter.
    pub glitter: GlitterProductFile,
    /// The adhesive film.
    pub vinyl: VinylProductFile,
    /// The glue for stones.
    pub glue: GlueProductFile,
    /// The scale that weighs parts A and B; left out, one that shows 0.1 g.
    pub scale: Option<ScaleFile>,
    /// Hands-on and waiting times.
    pub times: TimesFile,
    /// How a price is made.
    pub pricing: PricingFile,
    /// What stands on quotes, invoices and slips.
    #[serde(default)]
    pub quote: QuoteFile,
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
    /// What each customer gets to mend a piece with stones with.
    #[serde(default)]
    pub repair_kit: RepairKitFile,
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
