//! A usual resin, and the figures of another solver.

use coats::cure::kinetics::{Glass, Kinetics};
use coats::cure::viscosity::Flow;
use coats::cure::{Model, Sheet};
use piece::Settings;
use piece::settings::ResinProduct;

/// The slow decorative resin of the reference.
pub const SLOW: Model = Model {
    kinetics: Kinetics {
        k1_per_s: 3.4461e-5,
        k2_per_s: 2.1896e-4,
        e1_j_per_mol: 58e3,
        e2_j_per_mol: 58e3,
        at_k: 297.15,
    },
    glass: Glass { end_k: 333.15, lambda: 0.40 },
    flow: Flow { mixed_pa_s: 1.0, at_k: 297.15 },
};

/// The same by its sheet: pot life 40 min of 100 g, recoat 4 to 8 h, hard 24 h, full 72 h, at 24 °C.
pub fn slow_resin() -> ResinProduct {
    let mut resin = Settings::demo().resin;
    resin.density_g_per_ml = (1.1, 1.1);
    resin.sheet_at_c = 24.0;
    resin.viscosity_at_c = 24.0;
    resin
}

/// That sheet in the units of formulas.
pub fn sheet() -> Sheet {
    Sheet::of(&slow_resin())
}

/// One figure of the reference.
#[derive(Debug)]
pub struct Row {
    pub resin: String,
    pub case: String,
    pub figure: String,
    pub value: f64,
}

/// All figures of the reference.
pub fn reference() -> Vec<Row> {
    let table = include_str!("reference/cure.csv");
    let rows: Vec<Row> = csv::Reader::from_reader(table.as_bytes())
        .records()
        .map(|record| {
            let record = record.expect("a row");
            Row {
                resin: record[0].to_owned(),
                case: record[1].to_owned(),
                figure: record[2].to_owned(),
                value: record[3].parse().expect("a number"),
            }
        })
        .collect();
    assert!(rows.len() > 100);
    rows
}

pub fn near(found: f64, expected: f64, tolerance: f64) {
    assert!((found - expected).abs() <= tolerance, "{found} is not {expected} within {tolerance}");
}
