//! The studio's times, prices and materials: what a maker fills in once.

mod pricing;

pub use pricing::*;

use crate::film::Weeding;
use crate::{Money, StoneMaterial};
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
    /// Hands-on and waiting times.
    pub times: Times,
    /// How a price is made.
    pub pricing: Pricing,
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

/// A currency.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Currency {
    /// ISO 4217 code.
    pub code: String,
    /// Sign put before amounts, or the code and a space.
    pub sign: String,
    /// Digits after the point.
    pub minor_digits: u32,
}

impl Currency {
    /// `$12.34`, `-$0.05`; for people.
    pub fn show(&self, amount: Money) -> String {
        let number = self.number(amount);
        match number.strip_prefix('-') {
            Some(number) => format!("-{}{number}", self.sign),
            None => format!("{}{number}", self.sign),
        }
    }

    /// `12.34`; for tables.
    pub fn number(&self, amount: Money) -> String {
        let minus = if amount.0 < 0 { "-" } else { "" };
        let unit = 10_u64.pow(self.minor_digits);
        let (whole, part) = (amount.0.unsigned_abs() / unit, amount.0.unsigned_abs() % unit);
        if self.minor_digits == 0 {
            format!("{minus}{whole}")
        } else {
            format!("{minus}{whole}.{part:0width$}", width = self.minor_digits as usize)
        }
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

/// What the data sheet and the price list say of a resin.
#[derive(Debug, Clone, PartialEq)]
pub struct ResinProduct {
    /// What the maker calls it.
    pub name: String,
    /// Parts of A and B by volume.
    pub ratio_by_volume: (f64, f64),
    /// Density of A and B, g/ml.
    pub density_g_per_ml: (f64, f64),
    /// Share of a mix that stays in the cup, on the brush and on the glove.
    pub loss: f64,
    /// Least mixed amount lost whatever the size, ml.
    pub least_loss_ml: f64,
    /// Working time of 100 g mixed at room temperature, min.
    pub pot_life_min: f64,
    /// The next coat bonds without sanding from, to, min after the pour.
    pub recoat_min: (f64, f64),
    /// Keep turning for, min after the pour.
    pub turning_min: f64,
    /// Hard enough to sand, min after the pour.
    pub sandable_min: f64,
    /// Full cure, min after the last pour.
    pub full_cure_min: f64,
    /// Price of a kit.
    pub kit_price: Money,
    /// Mixed volume of a kit, ml.
    pub kit_ml: f64,
}

/// Paint as it is bought and put on.
#[derive(Debug, Clone, PartialEq)]
pub struct PaintProduct {
    /// Wet paint per area and coat, ml/m².
    pub ml_per_m2: f64,
    /// Dry thickness each coat leaves, mm.
    pub film_mm: f64,
    /// Between two coats, min.
    pub between_coats_min: f64,
    /// After the last, before resin, min.
    pub before_resin_min: f64,
    /// Price of a can or bottle.
    pub pack_price: Money,
    /// Content of a can or bottle, ml.
    pub pack_ml: f64,
}

/// Glitter as it is bought and put on.
#[derive(Debug, Clone, PartialEq)]
pub struct GlitterProduct {
    /// Mass that ends on the cup, g/m².
    pub g_per_m2: f64,
    /// How many times that to have in the shaker (the rest is caught).
    pub shaker_times: f64,
    /// Thickness of one flake, mm.
    pub flake_thickness_mm: f64,
    /// Price of a jar.
    pub pack_price: Money,
    /// Content of a jar, g.
    pub pack_g: f64,
}

impl VinylProduct {
    /// Film left on each side of what is cut, mm.
    pub fn margin_mm(&self) -> f64 {
        self.weed_margin_mm + 0.5 * self.spacing_mm
    }
}

/// Adhesive film as it is bought.
#[derive(Debug, Clone, PartialEq)]
pub struct VinylProduct {
    /// Thickness, mm.
    pub film_mm: f64,
    /// Thinnest stroke that is cut and weeded with ease, mm.
    pub least_stroke_mm: f64,
    /// How far film of two layers runs under each other where a piece does not say, mm.
    pub trap_mm: f64,
    /// What is cut round a piece to weed inside.
    pub weeding: Weeding,
    /// From a shape to the frame round it, mm.
    pub weed_margin_mm: f64,
    /// Between the frames of two pieces, mm; half of it is left at the edge of a sheet.
    pub spacing_mm: f64,
    /// Greatest share by which it may be stretched as it is laid.
    pub stretch: f64,
    /// Width of a sheet, mm.
    pub sheet_width_mm: f64,
    /// Height of a sheet, mm.
    pub sheet_height_mm: f64,
    /// Price of a sheet.
    pub sheet_price: Money,
    /// Transfer tape, price per sheet of the same size.
    pub transfer_price: Money,
}

/// Glue for stones.
#[derive(Debug, Clone, PartialEq)]
pub struct GlueProduct {
    /// A dot spread under a stone: thickness of the bond, mm.
    pub bond_mm: f64,
    /// Share of the stone's diameter the dot covers after pressing.
    pub dot_share: f64,
    /// Share of the glue that strings, skins or stays in the tip.
    pub loss: f64,
    /// Stays open, min.
    pub open_min: f64,
    /// Holds a stone wherever it is turned from this long after it is set, min.
    pub set_min: f64,
    /// Farthest that a stone set more recently may lean from facing up without sliding, rad.
    pub tilt_rad: f64,
    /// Full strength, min.
    pub full_min: f64,
    /// Price of a tube.
    pub pack_price: Money,
    /// Content of a tube, ml.
    pub pack_ml: f64,
}

/// Price of stones of one material and size.
#[derive(Debug, Clone, PartialEq)]
pub struct StonePrice {
    /// Material.
    pub material: StoneMaterial,
    /// Size name, as in the piece file.
    pub size: String,
    /// Stones in a pack (a gross is 144).
    pub pack: u32,
    /// Price of a pack.
    pub pack_price: Money,
    /// Stones a practised hand sets in an hour.
    pub set_per_h: f64,
}

/// Stones of one material, size and colour in the drawer.
#[derive(Debug, Clone, PartialEq)]
pub struct DrawerStones {
    /// Material.
    pub material: StoneMaterial,
    /// Size name, as in the piece file.
    pub size: String,
    /// Name of the colour, as in the piece file.
    pub colour: String,
    /// How many there are.
    pub count: u32,
}
