//! Zones: from what a maker wrote to regions of the surface as it has grown.

use crate::area::Area;
use crate::art::{self, Place};
use crate::boolean::{Plane, Region};
use crate::margin::grown;
use crate::{PartShape, Surface, ZoneShape, edge};
use piece::{
    BandEdges, Diagnostic, Edge, FieldPath, Finish, PartRole, Piece, Settings, Wave, Zone,
};
use std::f64::consts::PI;

/// Shortest wave that can be cut, painted or set, mm.
const LEAST_WAVE_MM: f64 = 1.0;

/// How many layers of flakes a glitter coat holds on average (pour on, shake off; simulated).
const FLAKE_LAYERS: f64 = 1.5;

/// Lengths closer than this, mm, are equal to a maker.
const SAME_MM: f64 = 1.0e-6;

/// Brings every zone onto its part. Cautions about the lip go to `notes`.
///
/// # Errors
/// All that is wrong with the zones at once: reaching outside the part, crossing edges, nothing left,
/// unreadable art, letters a typeface lacks.
pub fn shape_zones(
    piece: &Piece,
    settings: &Settings,
    parts: &[PartShape],
    notes: &mut Vec<Diagnostic>,
) -> Result<Vec<ZoneShape>, Vec<Diagnostic>> {
    let mut wrong = Vec::new();
    let planes: Vec<Plane> = parts.iter().map(|part| Plane::new(&part.surface)).collect();
    let drawn: Vec<Region> = piece
        .zones
        .iter()
        .enumerate()
        .map(|(index, zone)| {
            let sketch = Sketch {
                zone,
                path: FieldPath::root().key("zone").index(index),
                surface: &parts[zone.part].surface,
                plane: &planes[zone.part],
            };
            sketch.region(&mut wrong).unwrap_or_default()
        })
        .collect();
    if !wrong.is_empty() {
        return Err(wrong);
    }
    let regions = left_over(piece, parts, &planes, &drawn, &mut wrong);
    if !wrong.is_empty() {
        return Err(wrong);
    }
    let areas: Vec<Area> = (piece.zones.iter().zip(&regions))
        .map(|(zone, region)| Area::new(&planes[zone.part], region, &parts[zone.part].surface))
        .collect();
    let mut shapes = Vec::with_capacity(areas.len());
    for (index, (zone, area)) in piece.zones.iter().zip(areas).enumerate() {
        if piece.parts[zone.part].role == PartRole::Body {
            notes.extend(lip_caution(zone, index, &area, settings.lip_mm));
        }
        let bare = &parts[zone.part].surface;
        let below_mm = below(piece, settings, index, &regions, &planes[zone.part], bare, area.area_mm2(bare));
        let surface = bare.grown(below_mm);
        let area_mm2 = area.area_mm2(&surface);
        shapes.push(ZoneShape { part: zone.part, surface, below_mm, area, area_mm2 });
    }
    Ok(shapes)
}

/// What is left of each drawn region: without the zones it leaves out (as they are drawn, grown by
/// their margin), and, for stones, without every later zone of stones on the same part.
fn left_over(
    piece: &Piece,
    parts: &[PartShape],
    planes: &[Plane],
    drawn: &[Region],
    wrong: &mut Vec<Diagnostic>,
) -> Vec<Region> {
    let mut left = drawn.to_vec();
    for (index, zone) in piece.zones.iter().enumerate().rev() {
        let (plane, surface) = (&planes[zone.part], &parts[zone.part].surface);
        let path = FieldPath::root().key("zone").index(index);
        for (entry, (other, margin_mm)) in zone.region.leave_out.iter().enumerate() {
            let at = path.key("leave_out").index(entry);
            if *other == index {
                wrong.push(Diagnostic::error(at, format!("zone `{}` leaves out itself", zone.name)));
            } else if piece.zones[*other].part != zone.part {
                let (theirs, ours) = (&piece.parts[piece.zones[*other].part].name, &piece.parts[zone.part].name);
                let name = &piece.zones[*other].name;
                wrong.push(
                    Diagnostic::error(at, format!("zone `{name}` lies on part `{theirs}`, not on `{ours}`"))
                        .hint("Leave out zones of the same part."),
                );
            } else {
                let bare = grown(plane, surface, &drawn[*other], *margin_mm);
                left[index] = left[index].without(plane, &bare);
            }
        }
        if matches!(zone.finish, Finish::Stones(_)) {
            for (other, later) in piece.zones.iter().enumerate().skip(index + 1) {
                if later.part == zone.part && matches!(later.finish, Finish::Stones(_)) {
                    left[index] = left[index].without(plane, &left[other].clone());
                }
            }
        }
        if left[index].is_empty() && wrong.is_empty() {
            wrong.push(
                Diagnostic::error(path, format!("nothing is left of zone `{}`", zone.name))
                    .hint("Other zones cover it or are left out of it; move it, or make a margin smaller."),
            );
        }
    }
    left
}

/// Mean thickness of the finishes beneath a zone, mm, weighted by the area on which they lie.
fn below(
    piece: &Piece,
    settings: &Settings,
    index: usize,
    regions: &[Region],
    plane: &Plane,
    bare: &Surface,
    area_mm2: f64,
) -> f64 {
    let part = piece.zones[index].part;
    let mut volume = 0.0;
    for (earlier, region) in piece.zones[..index].iter().zip(regions) {
        let thickness = thickness_mm(&earlier.finish, settings);
        if earlier.part == part && thickness > 0.0 {
            let shared = regions[index].intersected(plane, region);
            volume += thickness * Area::new(plane, &shared, bare).area_mm2(bare);
        }
    }
    volume / area_mm2.max(f64::MIN_POSITIVE)
}

/// Thickness a finish adds to the surface, mm. Glitter counts as its mean layer of 1.5 flakes, not its
/// peaks; stones add none, since nothing is laid over them.
pub fn thickness_mm(finish: &Finish, settings: &Settings) -> f64 {
    match finish {
        Finish::Paint { coats, .. } => f64::from(*coats) * settings.paint.film_mm,
        Finish::Resin { coats, film_mm } => f64::from(*coats) * film_mm,
        Finish::Vinyl { .. } => settings.vinyl.film_mm,
        Finish::Glitter { .. } => FLAKE_LAYERS * settings.glitter.flake_thickness_mm,
        Finish::Stones(_) => 0.0,
    }
}

/// Within 20 mm of the rim lies the lip and rim area of ISO 6486 and ASTM C927.
fn lip_caution(zone: &Zone, index: usize, area: &Area, lip_mm: f64) -> Option<Diagnostic> {
    let (nearest, _) = area.along_range_mm()?;
    if nearest > lip_mm - SAME_MM {
        return None;
    }
    let message = format!(
        "zone `{}` comes within {nearest:.1} mm of the rim, nearer than the {lip_mm:.0} mm that stay bare for lips",
        zone.name
    );
    Some(
        Diagnostic::caution(FieldPath::root().key("zone").index(index), message)
            .hint("Begin it farther down, or tell the customer that lips will touch it.")
            .hint("Standards for the lip and rim (ISO 6486, ASTM C927) look at the top 20 mm; check the current text."),
    )
}

/// One zone while its region is drawn.
struct Sketch<'a> {
    zone: &'a Zone,
    path: FieldPath,
    surface: &'a Surface,
    plane: &'a Plane,
}

impl Sketch<'_> {
    /// `None` after something wrong was told.
    fn region(&self, wrong: &mut Vec<Diagnostic>) -> Option<Region> {
        let before = wrong.len();
        let part = self.whole();
        let mut bounds = vec![self.inset(&part, wrong)];
        if let Some(band) = &self.zone.region.band {
            bounds.push(self.band(band, wrong));
        }
        if let Some((from, to)) = self.zone.region.window_rad {
            bounds.push(self.window(from, to, wrong));
        }
        if let Some(placed) = &self.zone.region.art {
            let place = Place { plane: self.plane, surface: self.surface, part: &part };
            match art::placed(placed, &place, &self.path) {
                Ok(region) => bounds.push(Some(region)),
                Err(mut found) => wrong.append(&mut found),
            }
        }
        if wrong.len() > before {
            return None;
        }
        let mut region = part;
        for bound in bounds.into_iter().flatten() {
            region = region.intersected(self.plane, &bound);
        }
        if region.is_empty() {
            wrong.push(
                Diagnostic::error(self.path.clone(), format!("zone `{}` is empty", self.zone.name))
                    .hint("Its band, window, inset and art have nothing in common; move one of them."),
            );
            return None;
        }
        Some(region)
    }

    fn whole(&self) -> Region {
        match self.surface {
            Surface::Revolved(_) => {
                let (start, end) = self.surface.along_range_mm();
                Region { loops: vec![self.plane.ring(start, end)] }
            }
            Surface::Flat(flat) => {
                let loops: Vec<_> = flat
                    .outline()
                    .iter()
                    .map(|one| one.iter().map(|p| self.plane.corner(p.x, -p.y)).collect())
                    .collect();
                Region::filled(self.plane, &loops)
            }
        }
    }

    fn inset(&self, part: &Region, wrong: &mut Vec<Diagnostic>) -> Option<Region> {
        let inset = self.zone.region.inset_mm;
        if inset <= 0.0 {
            return None;
        }
        let inner = match self.surface {
            Surface::Revolved(_) => {
                let (start, end) = self.surface.along_range_mm();
                let room = end - start > 2.0 * inset;
                let loops = room.then(|| self.plane.ring(start + inset, end - inset));
                Region { loops: loops.into_iter().collect() }
            }
            Surface::Flat(_) => part.inset(self.plane, inset),
        };
        if inner.is_empty() {
            wrong.push(
                Diagnostic::error(self.path.key("inset"), format!("an inset of {inset} mm leaves nothing of the part"))
                    .hint("Make it smaller."),
            );
        }
        Some(inner)
    }

    fn band(&self, band: &BandEdges, wrong: &mut Vec<Diagnostic>) -> Option<Region> {
        let path = self.path.key("band");
        if self.plane.half_turn.is_none() {
            wrong.push(
                Diagnostic::error(path, "a band runs round a revolved part, but this part is flat")
                    .hint("Use `inset` on a flat part."),
            );
            return None;
        }
        let before = wrong.len();
        self.check_edge(&band.from, &path.key("from"), wrong);
        self.check_edge(&band.to, &path.key("to"), wrong);
        if wrong.len() > before {
            return None;
        }
        if let Some((around, over)) = edge::crossing(&band.from, &band.to) {
            wrong.push(
                Diagnostic::error(
                    path,
                    format!(
                        "`from` lies up to {over:.1} mm below `to` (at {:.0} deg), but `from` is the edge nearer to the rim",
                        around.to_degrees()
                    ),
                )
                .hint("Move the two edges apart, swap them, or make the waves lower."),
            );
            return None;
        }
        let places = edge::between(&band.from, &band.to);
        let corners = places.iter().map(|p| self.plane.corner(p.around, p.along_mm)).collect();
        Some(Region::filled(self.plane, &[corners]))
    }

    fn check_edge(&self, edge: &Edge, path: &FieldPath, wrong: &mut Vec<Diagnostic>) {
        let (start, end) = self.surface.along_range_mm();
        let (nearest, farthest) = edge::reach_mm(edge);
        if nearest < start - SAME_MM {
            let message = format!("this edge reaches {:.1} mm above the rim", start - nearest);
            wrong.push(Diagnostic::error(path.clone(), message).hint("Move it down or make its waves lower."));
        }
        if farthest > end + SAME_MM {
            let message = format!(
                "this edge reaches {:.1} mm past the end of the part, which is {end:.1} mm long",
                farthest - end
            );
            wrong.push(Diagnostic::error(path.clone(), message).hint("Move it up or make its waves lower."));
        }
        let girth = 2.0 * PI * self.surface.around_scale_mm(edge.along_mm.clamp(start, end));
        if edge.wave != Wave::Level && girth < LEAST_WAVE_MM * f64::from(edge.count) {
            let message = format!(
                "{} waves are too many for a girth of {girth:.0} mm; a wave must be at least {LEAST_WAVE_MM} mm long",
                edge.count
            );
            wrong.push(Diagnostic::error(path.key("count"), message).hint("Use fewer waves."));
        }
    }

    fn window(&self, from: f64, to: f64, wrong: &mut Vec<Diagnostic>) -> Option<Region> {
        if self.plane.half_turn.is_none() {
            wrong.push(
                Diagnostic::error(
                    self.path.key("window"),
                    "a window of angles belongs on a revolved part, but this part is flat",
                )
                .hint("Use `art` or `inset` on a flat part."),
            );
            return None;
        }
        let (start, end) = self.surface.along_range_mm();
        // Brought to begin within the turn, so that it ends at most one turn past the back.
        let begin = (from + PI).rem_euclid(2.0 * PI) - PI;
        let loops = [self.plane.rectangle(
            crate::SurfacePoint { around: begin, along_mm: start },
            crate::SurfacePoint { around: begin + (to - from).min(2.0 * PI), along_mm: end },
        )];
        Some(self.plane.wrapped(&loops))
    }
}
