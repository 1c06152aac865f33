//! The studio's times, prices and materials: what a maker fills in once.

mod air;
mod currency;
mod film;
mod materials;
mod pricing;
mod quote;
mod resin;
mod room;
mod stones;
mod turner;

pub use air::*;
pub use currency::*;
pub use film::*;
pub use materials::*;
pub use pricing::*;
pub use quote::*;
pub use resin::*;
pub use room::*;
pub use stones::*;
pub use turner::*;

use crate::Money;
use jiff::civil::Weekday;

/// Everything about the studio that a plan needs.
#[derive(Debug, Clone, PartialEq)]
pub struct Settings {
    /// Name of the studio, printed on sheets.
    pub studio: String,
    /// True when prices and times are made-up examples; every sheet then says so.
    pub demo: bool,
    /// Currency the amounts are in.
    pub currency: Currency,
    /// Paper the workbook is set on.
    pub paper: Paper,
    /// How lengths are shown to people.
    pub lengths: LengthUnit,
    /// Who works when.
    pub maker: Maker,
    /// The clear epoxy.
    pub resin: ResinProduct,
    /// What turns the cup while a coat sets.
    pub turner: Turner,
    /// The room.
    pub room: Room,
    /// Limits for its air beside the federal ones, no solvent twice.
    pub air_limits: Vec<OwnLimit>,
    /// Solvents used beside those in the paint.
    pub solvents: Vec<SolventUse>,
    /// The paint.
    pub paint: PaintProduct,
    /// The glitter.
    pub glitter: GlitterProduct,
    /// The adhesive film.
    pub vinyl: VinylProduct,
    /// The glue for stones.
    pub glue: GlueProduct,
    /// Stones by material and size.
    pub stones: Vec<StonePrice>,
    /// Stones in the drawer, ready to be set; no material, size and colour twice.
    pub drawer: Vec<DrawerStones>,
    /// Things bought by the piece or used up by the piece: blank, lid, gloves, cups, box, card.
    pub supplies: Vec<Supply>,
    /// What each customer gets to mend a piece with stones with.
    pub repair_kit: RepairKit,
    /// The scale that weighs parts A and B.
    pub scale: Scale,
    /// Hands-on and waiting times.
    pub times: Times,
    /// How a price is made.
    pub pricing: Pricing,
    /// What stands on quotes, invoices and slips.
    pub quote: QuoteTerms,
    /// Share of stones bought beyond the count (0.12 is 12 %).
    pub spare_stones: f64,
    /// Share of other materials bought beyond the need.
    pub spare_materials: f64,
    /// Bare height below a body's rim, mm; nothing should be laid there.
    pub lip_mm: f64,
}

impl Settings {
    /// Text of the settings of a made-up studio, for a maker to copy and fill in.
    pub const DEMO_TEXT: &str = include_str!("../settings/demo.toml");

    /// The settings of a made-up studio: invented prices, example times, marked as such.
    pub fn demo() -> Self {
        let reading = crate::read_settings(&crate::Source::new("demo.toml", Self::DEMO_TEXT));
        reading.value.expect("the demo settings ship with the program and a test reads them")
    }
}

/// Paper sizes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Paper {
    /// 8.5 by 11 inches.
    Letter,
    /// 210 by 297 mm.
    A4,
}

/// How lengths are shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LengthUnit {
    /// Millimetres.
    Millimetres,
    /// Inches.
    Inches,
}

/// A pair of hands.
#[derive(Debug, Clone, PartialEq)]
pub struct Maker {
    /// What she is called on sheets.
    pub name: String,
    /// Wage per hour.
    pub wage_per_h: Money,
    /// When she works, Monday first; minutes after midnight, sorted, not overlapping. Not all empty.
    pub hours: [Vec<(u16, u16)>; 7],
}

impl Maker {
    /// The stretches of work on one weekday.
    pub fn hours_on(&self, day: Weekday) -> &[(u16, u16)] {
        &self.hours[day.to_monday_zero_offset() as usize]
    }
}
