//! Stone sizes of the trade.

/// Flat-back sizes by stone-size number: name and diameter in mm, the middle of the trade's tolerance.
/// SS5 to SS12: common practice, no source; SS16, SS20, SS30, SS34 and up: sellers' size charts.
pub const STONE_SIZES: [(&str, f64); 13] = [
    ("SS5", 1.8),
    ("SS6", 2.0),
    ("SS8", 2.4),
    ("SS10", 2.8),
    ("SS12", 3.1),
    ("SS16", 3.9),
    ("SS20", 4.7),
    ("SS30", 6.4),
    ("SS34", 7.15),
    ("SS40", 8.6),
    ("SS42", 9.1),
    ("SS48", 11.0),
    ("SS50", 12.0),
];

/// A stone size: one of the trade's, or a diameter measured by the maker.
#[derive(Debug, Clone, PartialEq)]
pub struct StoneSize {
    /// `SS10`, or the diameter as typed for a size outside the trade's table (`2.2 mm`).
    pub name: String,
    /// Diameter of the girdle in mm.
    pub diameter_mm: f64,
}
