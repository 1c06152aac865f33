//! The region of one zone as a maker drew it: band, window, inset, art and motif.

use crate::art::{self, Place};
use crate::boolean::{Plane, Region};
use crate::line::Strokes;
use crate::met::run_together;
use crate::motif::{self, Ground};
use crate::readable::readable;
use crate::watch::Watch;
use crate::zones::SAME_MM;
use crate::{Surface, SurfacePoint, edge, line};
use piece::{BandEdges, Diagnostic, Edge, FieldPath, Finish, PlacedArt, Settings, Wave, Zone};
use std::f64::consts::PI;

/// Shortest wave that can be cut, painted or set, mm.
const LEAST_WAVE_MM: f64 = 1.0;

/// One zone while its region is drawn.
pub(crate) struct Sketch<'a> {
    pub(crate) zone: &'a Zone,
    pub(crate) path: FieldPath,
    /// The bare surface of its part.
    pub(crate) surface: &'a Surface,
    pub(crate) plane: &'a Plane,
    pub(crate) settings: &'a Settings,
    /// Of the piece.
    pub(crate) seed: u64,
}

impl Sketch<'_> {
    /// The region and, of stones in a line, what they follow; `None` after something wrong was told or
    /// `watch` was stopped.
    pub(crate) fn region(
        &self,
        wrong: &mut Vec<Diagnostic>,
        notes: &mut Vec<Diagnostic>,
        watch: &mut Watch<'_>,
    ) -> Option<(Region, Vec<Vec<SurfacePoint>>)> {
        let before = wrong.len();
        let mut strokes = Vec::new();
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
            let at = art::path_of(placed, &self.path);
            let (surface, settings) = (self.surface, self.settings);
            let found = match self.line_mm() {
                Some(stone_mm) => self.in_line(placed, stone_mm, &place, &at, notes, watch),
                None => art::placed(placed, &place, &at, watch).map(|(region, drawn)| {
                    notes.extend(readable(self.zone, placed, &drawn, surface, settings, &at));
                    let bare = (surface, self.plane);
                    notes.extend(run_together(self.zone, placed, &drawn.ink, bare, &at));
                    (region, Vec::new())
                }),
            };
            match found {
                Ok((region, lines)) => {
                    bounds.push(Some(region));
                    strokes = lines;
                }
                Err(mut found) => wrong.append(&mut found),
            }
        }
        if wrong.len() > before || watch.stopped() {
            return None;
        }
        let mut region = part;
        for bound in bounds.into_iter().flatten() {
            region = region.intersected(self.plane, &bound);
        }
        if region.is_empty() {
            wrong.push(
                Diagnostic::error(self.path.clone(), format!("zone `{}` is empty", self.zone.name))
                    .hint(
                        "Its band, window, inset and art have nothing in common; move one of them.",
                    ),
            );
            return None;
        }
        let Some(motif) = &self.zone.region.motif else { return Some((region, strokes)) };
        let ground = Ground::new(self, &region);
        match motif::drawn(motif, &ground, notes, watch) {
            Ok(region) => Some((region, strokes)),
            Err(found) => {
                wrong.push(found);
                None
            }
        }
    }

    /// Diameter and gap, mm, of stones that follow the strokes of the art.
    fn line_mm(&self) -> Option<(f64, f64)> {
        match &self.zone.finish {
            Finish::Stones(stones) => stones.line_mm(),
            _ => None,
        }
    }

    /// What stones in a line take and follow, told where they cannot show it. `at` is the path of the art.
    fn in_line(
        &self,
        placed: &PlacedArt,
        stone_mm: (f64, f64),
        place: &Place<'_>,
        at: &FieldPath,
        notes: &mut Vec<Diagnostic>,
        watch: &mut Watch<'_>,
    ) -> Result<(Region, Vec<Vec<SurfacePoint>>), Vec<Diagnostic>> {
        let strokes = Strokes::new(placed, place.surface, stone_mm.0 + stone_mm.1, at, watch)?;
        let found = line::placed(placed, stone_mm, &strokes, place, at, watch)?;
        let told = line::readable(self.zone, placed, stone_mm, &strokes, place.surface, at, watch);
        notes.extend(told);
        if placed.repeat > 1 || placed.rows.count > 1 {
            // Open lines cover nothing and cannot be told.
            let drawn = art::inked(placed, place.surface, at, watch).ok();
            notes.extend(drawn.into_iter().flat_map(|drawn| {
                run_together(self.zone, placed, &drawn.ink, (place.surface, self.plane), at)
            }));
        }
        Ok(found)
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
                Diagnostic::error(
                    self.path.key("inset"),
                    format!("an inset of {inset} mm leaves nothing of the part"),
                )
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
        let lower = if edge.wave == Wave::Level { "" } else { " or make its waves lower" };
        if nearest < start - SAME_MM {
            let message = format!("this edge reaches {:.1} mm above the rim", start - nearest);
            wrong.push(
                Diagnostic::error(path.clone(), message).hint(format!("Move it down{lower}.")),
            );
        }
        if farthest > end + SAME_MM {
            let message = format!(
                "this edge reaches {:.1} mm past the end of the part, which is {end:.1} mm long",
                farthest - end
            );
            wrong
                .push(Diagnostic::error(path.clone(), message).hint(format!("Move it up{lower}.")));
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
            SurfacePoint { around: begin, along_mm: start },
            SurfacePoint { around: begin + (to - from).min(2.0 * PI), along_mm: end },
        )];
        Some(self.plane.wrapped(&loops))
    }
}
