//! Shapes strewn over a zone, kept apart and whole.
//!
//! Each is laid as a small flat sticker is: unrolled, it is the drawing itself, turned nowhere and
//! stretched nowhere. Each is held in discs; two shapes are kept so far apart that the straight
//! distance between the centres of any two of their discs is at least both radii and `apart`. What
//! lies along the surface is never shorter than what is straight, so by the triangle inequality the
//! shapes are that far apart, too.
//! Places are drawn evenly over the surface, the larger shapes first (dart throwing: Cook 1986).

use super::chance::Chance;
use super::ground::Ground;
use super::{MOST_SHAPES, TOLERANCE_MM};
use crate::boolean::Loop;
use crate::margin::moved;
use crate::watch::Watch;
use crate::{Area, Field, SurfacePoint};
use glam::{DVec2, DVec3};
use piece::{Diagnostic, FieldPath, Strewn};
use std::collections::BTreeMap;

/// Places tried for one shape.
const TRIES: u32 = 250;
/// Share of a zone that shapes thrown at random fill, counted as squares of their diameter: discs jam
/// at 0.547 of the area (Feder 1980, Journal of Theoretical Biology 87, 237), which is 0.70 of squares.
const JAMMED: f64 = 0.70;

/// One shape in mm about its middle, x to the right, y down.
pub(super) struct Made {
    /// Discs that together hold it: middle and radius.
    pub(super) discs: Vec<(DVec2, f64)>,
    pub(super) loops: Vec<Vec<DVec2>>,
}

/// What is to be strewn.
pub(super) struct Order<'a> {
    pub(super) strewn: &'a Strewn,
    /// Least and greatest size, mm.
    pub(super) size_mm: (f64, f64),
    /// Width, where that is not the size, mm.
    pub(super) wide_mm: Option<f64>,
    pub(super) noun: &'static str,
}

impl Order<'_> {
    /// `make` draws a shape of a size.
    pub(super) fn loops(
        &self,
        ground: &Ground<'_>,
        at: &FieldPath,
        chance: &mut Chance,
        make: &mut dyn FnMut(f64, &mut Chance) -> Made,
        watch: &mut Watch<'_>,
    ) -> Result<Vec<Loop>, Diagnostic> {
        let area = Area::new(ground.plane, ground.region, ground.surface);
        let wanted = self.wanted(area.area_mm2(ground.surface), at)?;
        let mut table = Table {
            field: Field::new(ground.surface, &area),
            ground,
            widest_mm: ground.scales_mm(ground.along_mm).1,
            apart_mm: self.strewn.apart_mm,
            cell_mm: self.size_mm.1.max(self.wide_mm.unwrap_or(0.0)) * 1.5 + self.strewn.apart_mm,
            cells: BTreeMap::new(),
        };
        let mut sizes = chance.spread(self.size_mm, wanted);
        sizes.sort_by(|a, b| b.total_cmp(a));
        let (mut loops, mut laid) = (Vec::new(), 0_usize);
        for size_mm in sizes {
            if !watch.going() {
                return Ok(Vec::new());
            }
            let made = make(size_mm, chance);
            if let Some(place) = (0..TRIES).find_map(|_| table.place(&made, chance)) {
                loops.extend(made.loops.iter().map(|one| laid_flat(ground, place, one)));
                laid += 1;
            }
        }
        match self.strewn.count {
            Some(count) if laid < wanted => {
                let message = format!("only {laid} of {count} {} find room in the zone", self.noun);
                Err(Diagnostic::error(at.key("count"), message).hint(
                    "Ask for fewer, make them smaller or less far apart, or leave `count` out.",
                ))
            }
            None if laid == 0 => {
                let message = format!(
                    "not even one of these {} finds room: they lie whole in the zone and cross no crease",
                    self.noun
                );
                Err(Diagnostic::error(at.clone(), message)
                    .hint("Make them smaller, or the zone larger."))
            }
            _ => Ok(loops),
        }
    }

    /// How many to try.
    fn wanted(&self, area_mm2: f64, at: &FieldPath) -> Result<usize, Diagnostic> {
        let mean_mm = 0.5 * (self.size_mm.0 + self.size_mm.1);
        let apart_mm = self.strewn.apart_mm;
        let foot_mm2 = (mean_mm + apart_mm) * (self.wide_mm.unwrap_or(mean_mm) + apart_mm);
        let fit = (JAMMED * area_mm2 / foot_mm2).ceil().max(1.0);
        let wanted = self.strewn.count.map_or(fit, f64::from);
        if wanted <= MOST_SHAPES as f64 {
            return Ok(wanted as usize);
        }
        let message = format!("about {wanted:.0} {} find room, more than {MOST_SHAPES}", self.noun);
        Err(Diagnostic::error(at.clone(), message)
            .hint("Make them larger or farther apart, or say how many with `count`."))
    }
}

/// The shapes laid so far.
struct Table<'a> {
    ground: &'a Ground<'a>,
    field: Field,
    widest_mm: f64,
    apart_mm: f64,
    /// At least as wide as two discs and the distance between their shapes.
    cell_mm: f64,
    cells: BTreeMap<[i32; 3], Vec<(DVec3, f64)>>,
}

impl Table<'_> {
    /// Draws a place and lays the shape there if it has room.
    fn place(&mut self, made: &Made, chance: &mut Chance) -> Option<SurfacePoint> {
        let (ground, surface) = (self.ground, self.ground.surface);
        let (top, bottom) = ground.along_mm;
        let along_mm = top + (bottom - top) * chance.unit();
        let around = ground.around.0 + (ground.around.1 - ground.around.0) * chance.unit();
        // Evenly over the surface: fewer where a girth is shorter.
        if chance.unit() * self.widest_mm > ground.scale_mm(along_mm) {
            return None;
        }
        let middle = SurfacePoint { around: wrapped(around, surface.period()), along_mm };
        let mut held = Vec::with_capacity(made.discs.len());
        for (offset, radius_mm) in &made.discs {
            let at = moved(surface, middle, *offset);
            let at = SurfacePoint { around: wrapped(at.around, surface.period()), ..at };
            // A shape over the axis would have no place round it.
            if surface.period().is_some() && ground.scale_mm(at.along_mm) <= *radius_mm {
                return None;
            }
            held.push((at, surface.world_from_surface(at), *radius_mm + TOLERANCE_MM));
        }
        if held.iter().any(|(_, at, radius_mm)| self.crowded(*at, *radius_mm)) {
            return None;
        }
        if held.iter().any(|(at, _, radius_mm)| self.field.clearance_mm(*at) < *radius_mm) {
            return None;
        }
        for (_, at, radius_mm) in held {
            self.cells.entry(self.cell(at)).or_default().push((at, radius_mm));
        }
        Some(middle)
    }

    fn cell(&self, at: DVec3) -> [i32; 3] {
        let cell = (at / self.cell_mm).floor();
        [cell.x as i32, cell.y as i32, cell.z as i32]
    }

    fn crowded(&self, at: DVec3, radius_mm: f64) -> bool {
        let [x, y, z] = self.cell(at);
        let near = |dx: i32, dy: i32, dz: i32| self.cells.get(&[x + dx, y + dy, z + dz]);
        (-1..=1)
            .flat_map(|dx| (-1..=1).flat_map(move |dy| (-1..=1).map(move |dz| (dx, dy, dz))))
            .filter_map(|(dx, dy, dz)| near(dx, dy, dz))
            .flatten()
            .any(|(other, theirs)| at.distance(*other) < radius_mm + theirs + self.apart_mm)
    }
}

/// Within half a turn of the front.
fn wrapped(around: f64, turn: Option<f64>) -> f64 {
    turn.map_or(around, |turn| (around + 0.5 * turn).rem_euclid(turn) - 0.5 * turn)
}

/// A drawing laid as a flat sticker with its middle at a place.
fn laid_flat(ground: &Ground<'_>, middle: SurfacePoint, drawing: &[DVec2]) -> Loop {
    let lay = |at: &DVec2| {
        let place = moved(ground.surface, middle, *at);
        ground.plane.corner(place.around, place.along_mm)
    };
    drawing.iter().map(lay).collect()
}
