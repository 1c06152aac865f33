//! Stone sizes of the trade.

use crate::units::{Complaint, LENGTH, or_list, shorten};

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

impl StoneSize {
    /// Least and greatest diameter of a stone that a hand can set, mm (common practice, no source).
    const DIAMETERS_MM: std::ops::RangeInclusive<f64> = 0.8..=30.0;

    /// One of the trade's sizes by name, or a measured diameter such as `2.2 mm`.
    pub fn read(text: &str) -> Result<Self, Complaint> {
        if let Some((name, diameter_mm)) = STONE_SIZES.iter().find(|(name, _)| *name == text) {
            return Ok(Self { name: (*name).to_owned(), diameter_mm: *diameter_mm });
        }
        let compact: String = text.to_uppercase().chars().filter(|c| !c.is_whitespace()).collect();
        // As some sellers write it, number first: 16ss.
        let turned = compact.strip_suffix("SS").map(|number| format!("SS{number}"));
        if let Some((name, _)) =
            STONE_SIZES.iter().find(|(name, _)| Some(*name) == turned.as_deref())
        {
            let message = format!("`{}` is not a stone size that is known here", shorten(text));
            return Err(Complaint::new(message).hint(format!("did you mean \"{name}\"?")));
        }
        if compact.starts_with('S') {
            let names: Vec<_> = STONE_SIZES.iter().map(|(name, _)| *name).collect();
            let complaint = Complaint::new(format!(
                "`{}` is not a stone size that is known here",
                shorten(text)
            ));
            return Err(if let Some(name) = names.iter().find(|name| **name == compact) {
                complaint.hint(format!("write \"{name}\""))
            } else {
                complaint
                    .hint(format!("known sizes are {}", or_list(&names)))
                    .hint("for any other, measure ten stones in a row and write the diameter, such as \"2.2 mm\"")
            });
        }
        let diameter_mm = LENGTH.parse(text).map_err(|complaint| Complaint {
            hints: vec![
                "write a size number such as \"SS10\" or a diameter such as \"2.2 mm\"".to_owned(),
            ],
            ..complaint
        })?;
        if !Self::DIAMETERS_MM.contains(&diameter_mm) {
            let (least, most) = (Self::DIAMETERS_MM.start(), Self::DIAMETERS_MM.end());
            return Err(Complaint::new(format!(
                "a stone of {} is not expected; stones are {least} mm to {most} mm across",
                shorten(text)
            )));
        }
        Ok(Self { name: text.trim().to_owned(), diameter_mm })
    }

    /// With its diameter: `SS10 (2.8 mm)`, or only that of a size that was measured.
    pub fn in_words(&self) -> String {
        let measured = format!("{} mm", (100.0 * self.diameter_mm).round() / 100.0);
        if STONE_SIZES.iter().any(|(name, _)| *name == self.name) {
            format!("{} ({measured})", self.name)
        } else {
            measured
        }
    }
}
