//! A small library of generic blanks, for a first sketch before the cup is on the bench.
//!
//! Their sizes are the middle of what makers report (common practice, no source); cups of one
//! capacity differ by several millimetres, so each use of one says that it is to be measured.

use crate::{Measure, Run, Walls};

/// A cup as it is commonly sold, in round figures.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Blank {
    /// Name, as a piece file says it.
    pub name: &'static str,
    /// Stated capacity, US fluid ounces.
    pub capacity_fl_oz: f64,
    /// Its family of shapes, in words.
    pub family: &'static str,
    /// How its wall is built.
    pub walls: Walls,
    /// Readings from the rim down.
    pub readings: &'static [Reading],
    /// Where its handle keeps the wall from being decorated.
    pub handle: Option<HandleSize>,
}

/// One reading of a generic blank.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reading {
    /// Distance along the wall from the rim, mm.
    pub along_mm: f64,
    /// Distance across, mm.
    pub diameter_mm: f64,
    /// How the wall runs from the reading before.
    pub run: Run,
}

/// The stretch of wall that a handle covers, at the side of the cup.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HandleSize {
    /// Its upper and lower end along the wall from the rim, mm.
    pub along_mm: (f64, f64),
    /// Width round the wall that it keeps, mm.
    pub width_mm: f64,
}

impl Blank {
    /// Stated capacity, ml. 1 US fl oz = 29.573 53 ml (NIST SP 811, appendix B.8).
    pub fn capacity_ml(&self) -> f64 {
        self.capacity_fl_oz * 29.573_53
    }

    /// Its readings as a part has them.
    pub fn measures(&self) -> Vec<Measure> {
        let measure = |reading: &Reading| Measure {
            along_mm: reading.along_mm,
            radius_mm: reading.diameter_mm / 2.0,
            run: reading.run,
            crease: false,
            radius_step_mm: 0.0,
        };
        self.readings.iter().map(measure).collect()
    }
}

/// The blank of this name; capitals and spaces at the ends don't matter.
pub fn find(name: &str) -> Option<&'static Blank> {
    let name = name.trim().to_lowercase();
    BLANKS.iter().find(|blank| blank.name == name)
}

const fn straight(along_mm: f64, diameter_mm: f64) -> Reading {
    Reading { along_mm, diameter_mm, run: Run::Straight }
}

const fn smooth(along_mm: f64, diameter_mm: f64) -> Reading {
    Reading { along_mm, diameter_mm, run: Run::Smooth }
}

const fn plain(
    name: &'static str,
    capacity_fl_oz: f64,
    family: &'static str,
    readings: &'static [Reading],
) -> Blank {
    Blank { name, capacity_fl_oz, family, walls: Walls::Double, readings, handle: None }
}

/// All of them, by family and capacity.
pub const BLANKS: [Blank; 12] = [
    plain("straight 12 fl oz", 12.0, "straight", &[straight(0.0, 70.0), straight(148.0, 70.0)]),
    plain("straight 20 fl oz", 20.0, "straight", &[straight(0.0, 74.0), straight(205.0, 74.0)]),
    plain(
        "wide straight 22 fl oz",
        22.0,
        "straight",
        &[straight(0.0, 84.0), straight(168.0, 84.0)],
    ),
    plain("straight 30 fl oz", 30.0, "straight", &[straight(0.0, 81.0), straight(242.0, 81.0)]),
    plain("tapered pint 16 fl oz", 16.0, "tapered", &[straight(0.0, 87.0), straight(150.0, 66.0)]),
    plain("slim tapered 20 fl oz", 20.0, "tapered", &[straight(0.0, 76.0), straight(212.0, 66.0)]),
    plain("tapered 20 fl oz", 20.0, "tapered", &[straight(0.0, 87.0), straight(170.0, 68.0)]),
    plain("tapered 30 fl oz", 30.0, "tapered", &[straight(0.0, 105.0), straight(206.0, 74.0)]),
    plain(
        "curved 12 fl oz",
        12.0,
        "curved",
        &[
            straight(0.0, 73.0),
            smooth(20.0, 79.0),
            smooth(45.0, 87.0),
            smooth(70.0, 85.0),
            smooth(92.0, 75.0),
            smooth(110.0, 64.0),
        ],
    ),
    plain(
        "bottle 17 fl oz",
        17.0,
        "bottle",
        &[
            straight(0.0, 48.0),
            straight(24.0, 48.0),
            smooth(31.0, 51.0),
            smooth(40.0, 61.0),
            smooth(49.0, 69.0),
            smooth(58.0, 72.0),
            straight(205.0, 72.0),
        ],
    ),
    Blank {
        name: "handled 40 fl oz",
        capacity_fl_oz: 40.0,
        family: "mug with handle",
        walls: Walls::Double,
        readings: &[
            straight(0.0, 98.0),
            straight(152.0, 90.0),
            straight(160.0, 79.0),
            straight(243.0, 79.0),
        ],
        handle: Some(HandleSize { along_mm: (15.0, 135.0), width_mm: 40.0 }),
    },
    Blank {
        name: "mug 12 fl oz",
        capacity_fl_oz: 12.0,
        family: "mug with handle",
        walls: Walls::Single,
        readings: &[straight(0.0, 86.0), straight(98.0, 82.0)],
        handle: Some(HandleSize { along_mm: (12.0, 82.0), width_mm: 28.0 }),
    },
];

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn every_blank_can_be_found_by_its_own_name_and_by_no_other() {
        let names: BTreeSet<_> = BLANKS.iter().map(|blank| blank.name).collect();
        assert_eq!(names.len(), BLANKS.len());
        for blank in &BLANKS {
            assert_eq!(find(&format!(" {} ", blank.name.to_uppercase())), Some(blank));
        }
        assert_eq!(find("tapered"), None);
    }

    /// 1 US gallon is 3.785 411 784 l exactly, and 128 fl oz (NIST Handbook 44, appendix C).
    #[test]
    fn a_capacity_in_fluid_ounces_is_what_the_gallon_says() {
        let pint = find("tapered pint 16 fl oz").map(Blank::capacity_ml);
        assert!(pint.is_some_and(|ml| (ml - 3_785.411_784 / 8.0).abs() < 1e-3), "{pint:?}");
    }
}
