//! The measured shape of a part in words and as data.

use piece::blanks::{BLANKS, Blank};
use piece::settings::LengthUnit;
use piece::{Form, Part, lengths};
use serde_json::{Value, json};
use shape::{Measured, PartShape, Surface, measured};
use std::f64::consts::TAU;
use std::fmt::Write;

/// Capacities that differ by less than this share are the same on a label.
const SAME_CAPACITY: f64 = 0.03;

/// For a person: family, readings, walls, capacity; ends with a line break.
pub fn text(part: &Part, shape: &PartShape, unit: LengthUnit) -> String {
    let length = |mm: f64| lengths::show(mm, unit);
    let mut text = String::new();
    // Writing to a string does not fail.
    let Some(measured) = measured(part, shape) else {
        let Surface::Flat(flat) = &shape.surface else { return text };
        let size = flat.size_mm();
        let _ = writeln!(text, "{}: flat, {} by {}", part.name, length(size.x), length(size.y));
        return text;
    };
    let _ = match &measured.family {
        Some((family, why)) => writeln!(text, "{}: {family}, since {why}", part.name),
        None => writeln!(text, "{}:", part.name),
    };
    readings(&mut text, &measured, unit);
    for band in &measured.bands {
        let lean_deg = band.lean_rad.to_degrees();
        let cone = || {
            let way = if lean_deg > 0.0 { "narrows" } else { "widens" };
            let lean_deg = lean_deg.abs();
            format!("{way} downwards, leans {lean_deg:.2} deg, cone of {:.2} deg", 2.0 * lean_deg)
        };
        let form = band.form().map_or_else(cone, str::to_owned);
        let wall_mm = band.along_mm.1 - band.along_mm.0;
        let _ = writeln!(
            text,
            "  {}: {} of wall, {} high, {form}",
            band.name,
            length(wall_mm),
            length(band.height_mm)
        );
    }
    if let Some(handle) = &part.handle {
        let (from_mm, to_mm) = handle.along_mm;
        let _ = writeln!(
            text,
            "  handle: from {} to {} along the wall, {} wide, at {:.0} deg",
            length(from_mm),
            length(to_mm),
            length(handle.width_mm),
            handle.around_rad.to_degrees()
        );
    }
    let _ = write!(text, "  the outside encloses {:.0} ml", shape.volume_ml);
    let stated_ml = part.capacity_ml.filter(|ml| *ml > 0.0);
    let _ = match stated_ml {
        Some(ml) => {
            writeln!(text, ", {:.2} times the {ml:.0} ml it is said to hold", shape.volume_ml / ml)
        }
        None => writeln!(text),
    };
    if let Some((blank, difference)) = like(part, shape, &measured) {
        let told = difference.map(|mm| format!("{:+.0} mm", mm.round() + 0.0));
        let [mouth, foot, wall] = told;
        let _ = writeln!(
            text,
            "  against a common `{}`: mouth {mouth} across, foot {foot} across, wall {wall}",
            blank.name
        );
    }
    text
}

fn readings(text: &mut String, measured: &Measured, unit: LengthUnit) {
    let length = |mm: f64| lengths::show(mm, unit);
    let _ = writeln!(
        text,
        "  {:<22} {:<22} {:<22} {:<22} wall off the reading",
        "along", "height", "round", "across"
    );
    for reading in &measured.readings {
        let read_mm = reading.radius_mm - reading.off_mm;
        let off = if reading.step_mm > 0.0 {
            let step_mm = reading.step_mm * TAU / 2.0;
            let off_mm = (reading.off_mm * TAU * 100.0).round() / 100.0 + 0.0;
            format!("{off_mm:+.2} mm round (read to +/-{step_mm:.2} mm)")
        } else {
            "none".to_owned()
        };
        let _ = writeln!(
            text,
            "  {:<22} {:<22} {:<22} {:<22} {off}",
            length(reading.along_mm),
            length(reading.z_mm),
            length(TAU * read_mm),
            length(2.0 * read_mm)
        );
    }
}

/// The generic blank of the same family and capacity, and how far the part is from it: mouth and foot
/// across and length of wall, mm. `None` if there is none, or the part is one.
fn like(part: &Part, shape: &PartShape, found: &Measured) -> Option<(&'static Blank, [f64; 3])> {
    let (family, _) = found.family.as_ref()?;
    let capacity_ml = part.capacity_ml?;
    let off = |blank: &Blank| {
        let measures = blank.measures();
        let (first, last) = (measures.first()?, measures.last()?);
        let ends = (found.readings.first()?, found.readings.last()?);
        Some([
            2.0 * (ends.0.radius_mm - first.radius_mm),
            2.0 * (ends.1.radius_mm - last.radius_mm),
            shape.wall_mm - last.along_mm,
        ])
    };
    let alike = BLANKS.iter().filter(|blank| {
        blank.family == family.to_string()
            && (blank.capacity_ml() / capacity_ml - 1.0).abs() < SAME_CAPACITY
    });
    let alike = alike.filter_map(|blank| Some((blank, off(blank)?)));
    let far = |off: &[f64; 3]| off.iter().map(|mm| mm.abs()).sum::<f64>();
    let nearest = alike.min_by(|a, b| far(&a.1).total_cmp(&far(&b.1)))?;
    let itself =
        matches!(&part.form, Form::Revolved(measures) if *measures == nearest.0.measures());
    (!itself).then_some(nearest)
}

/// For a script; lengths in mm, angles in degrees.
pub fn json(part: &Part, shape: &PartShape) -> Value {
    let measured = measured(part, shape);
    let reading = |reading: &shape::measured::Reading| {
        json!({
            "along_mm": reading.along_mm,
            "height_mm": reading.z_mm,
            "radius_mm": reading.radius_mm,
            "wall_off_mm": reading.off_mm,
            "read_to_mm": reading.step_mm,
        })
    };
    let band = |band: &shape::measured::MeasuredBand| {
        json!({
            "name": band.name,
            "along_mm": [band.along_mm.0, band.along_mm.1],
            "radius_mm": [band.radius_mm.0, band.radius_mm.1],
            "height_mm": band.height_mm,
            "straight": band.straight,
            "lean_deg": band.lean_rad.to_degrees(),
        })
    };
    let family = measured.as_ref().and_then(|measured| measured.family.as_ref());
    let all = |measured: &Measured| {
        (
            measured.readings.iter().map(reading).collect::<Value>(),
            measured.bands.iter().map(band).collect::<Value>(),
        )
    };
    let (readings, bands) = measured.as_ref().map(all).unwrap_or_default();
    json!({
        "part": part.name,
        "family": family.map(|(family, _)| family.to_string()),
        "why": family.map(|(_, why)| why),
        "wall_mm": shape.wall_mm,
        "height_mm": shape.height_mm,
        "area_mm2": shape.area_mm2,
        "outside_ml": shape.volume_ml,
        "capacity_ml": part.capacity_ml,
        "handle": part.handle.as_ref().map(|handle| json!({
            "along_mm": [handle.along_mm.0, handle.along_mm.1],
            "around_deg": handle.around_rad.to_degrees(),
            "width_mm": handle.width_mm,
        })),
        "readings": readings,
        "bands": bands,
    })
}
