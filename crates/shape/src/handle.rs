//! The window of a wall that a handle keeps to itself, and what it takes from zones.

use crate::PartShape;
use crate::area::Area;
use crate::boolean::{Plane, Region};
use crate::margin::grown;
use piece::{Diagnostic, FieldPath, Finish, Handle, Piece};
use std::f64::consts::{PI, TAU};

/// Places along a handle at which its width is laid off, mm apart: on a cone the sides then lie
/// within 0.01 mm of where they should.
const STEP_MM: f64 = 2.0;
/// Share of art that a handle must take before it is told of (own choice).
const LOST: f64 = 0.03;

/// The window of a handle, as wide everywhere as it says.
fn window(handle: &Handle, part: &PartShape, plane: &Plane) -> Region {
    let (start_mm, end_mm) = part.surface.along_range_mm();
    let (from_mm, to_mm) =
        (handle.along_mm.0.clamp(start_mm, end_mm), handle.along_mm.1.clamp(start_mm, end_mm));
    let steps = ((to_mm - from_mm) / STEP_MM).ceil().max(1.0) as usize;
    let halves: Vec<(f64, f64)> = (0..=steps)
        .map(|step| {
            let along_mm = from_mm + (to_mm - from_mm) * step as f64 / steps as f64;
            let radius_mm = part.surface.around_scale_mm(along_mm).max(f64::MIN_POSITIVE);
            ((handle.width_mm / 2.0 / radius_mm).min(PI), along_mm)
        })
        .collect();
    let widest = halves.iter().map(|(half, _)| *half).fold(0.0, f64::max);
    // Brought to begin within the turn, so that it ends at most one turn past the back.
    let begin = (handle.around_rad - widest + PI).rem_euclid(TAU) - PI;
    let middle = begin + widest;
    let right = halves.iter().map(|(half, along_mm)| plane.corner(middle + half, *along_mm));
    let left = halves.iter().rev().map(|(half, along_mm)| plane.corner(middle - half, *along_mm));
    plane.wrapped(&[right.chain(left).collect()])
}

/// Takes the windows of handles out of the zones of their parts, and says of which.
pub(crate) fn keep_out(
    piece: &Piece,
    parts: &[PartShape],
    planes: &[Plane],
    drawn: &mut [Region],
    notes: &mut Vec<Diagnostic>,
    wrong: &mut Vec<Diagnostic>,
) {
    for (index, part) in piece.parts.iter().enumerate() {
        let Some(handle) = &part.handle else { continue };
        let plane = &planes[index];
        let window = window(handle, &parts[index], plane);
        // Stones stand up beside a strap, coats do not.
        let roomy = grown(plane, &parts[index].surface, &window, handle.clearance_mm);
        let mut cut = Vec::new();
        for (at, zone) in piece.zones.iter().enumerate() {
            if zone.part != index || handle.beneath.contains(&at) {
                continue;
            }
            let window = if matches!(zone.finish, Finish::Stones(_)) { &roomy } else { &window };
            if drawn[at].intersected(plane, window).is_empty() {
                continue;
            }
            let whole = drawn[at].clone();
            drawn[at] = drawn[at].without(plane, window);
            cut.push(format!("`{}`", zone.name));
            let area_mm2 = |region: &Region| {
                let surface = &parts[index].surface;
                Area::new(plane, region, surface).area_mm2(surface)
            };
            let lost = 1.0 - area_mm2(&drawn[at]) / area_mm2(&whole).max(f64::MIN_POSITIVE);
            if zone.region.art.is_some() && !drawn[at].is_empty() && lost > LOST {
                let path = FieldPath::root().key("zone").index(at);
                let message = format!(
                    "{:.0} % of the art of zone `{}` is cut away beneath the handle of `{}`",
                    lost * 100.0,
                    zone.name,
                    part.name
                );
                notes.push(Diagnostic::warning(path, message).hint(
                    "Move it with `around`, make it smaller, or name the zone in `beneath` of the handle if it runs on there.",
                ));
            }
            if drawn[at].is_empty() {
                let path = FieldPath::root().key("zone").index(at);
                let message = format!(
                    "zone `{}` lies wholly beneath the handle of `{}`",
                    zone.name, part.name
                );
                wrong.push(Diagnostic::error(path, message).hint(
                    "Move it, or name it in `beneath` of the handle if it runs on there all the same.",
                ));
            }
        }
        if !cut.is_empty() {
            let path = FieldPath::root().key("part").index(index).key("handle");
            let zones = if cut.len() == 1 { "zone" } else { "zones" };
            let message = format!(
                "the handle of `{}` keeps its place on the wall bare: {zones} {} cut out there",
                part.name,
                match cut.as_slice() {
                    [only] => format!("{only} is"),
                    [rest @ .., last] => format!("{} and {last} are", rest.join(", ")),
                    [] => String::new(),
                }
            );
            notes.push(Diagnostic::caution(path, message).hint(
                "Coats and stones beneath a strap are ground off by it; a handle that comes off is taken off first, any other is masked.",
            ));
        }
    }
}
