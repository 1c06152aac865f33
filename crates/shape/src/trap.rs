//! Joins of film: what is left of film beneath other film that is laid edge to edge with it, over its
//! edge, or on a base that keeps back.
//!
//! The words are the printers': a trap is how far two colours run under each other. The upper film keeps
//! its outline; only what lies beneath is changed.

use crate::boolean::{Plane, Region};
use crate::margin::{drawn_in, grown};
use crate::watch::Watch;
use crate::{PartShape, Surface};
use piece::{Diagnostic, FieldPath, FilmCut, FilmJoin, Finish, Piece, Settings};

/// Edges closer than this, mm, touch: curves are followed within 0.005 mm.
const TOUCHING_MM: f64 = 0.02;

/// Half the width, mm, below which a shape that a join leaves over is a hair that nobody can weed.
const HAIR_MM: f64 = 0.05;

/// Most times that a part is wider where it is widest than where film lies, in a first look at whether
/// two regions come near each other.
const AROUND_MOST: f64 = 20.0;

/// Changes the regions of film that lies beneath other film with a join. Reports film of which nothing
/// is left.
pub(crate) fn join_films(
    piece: &Piece,
    settings: &Settings,
    (parts, planes): (&[PartShape], &[Plane]),
    regions: &mut [Region],
    wrong: &mut Vec<Diagnostic>,
    watch: &mut Watch<'_>,
) {
    // Each upper film keeps its outline for what lies beneath, even where it is cut out for another.
    let whole: Vec<Option<(FilmCut, Region)>> = piece
        .zones
        .iter()
        .zip(&*regions)
        .map(|(zone, region)| match &zone.finish {
            Finish::Vinyl { cut, .. } => Some((*cut, region.clone())),
            _ => None,
        })
        .collect();
    for (index, zone) in piece.zones.iter().enumerate() {
        if whole[index].is_none() {
            continue;
        }
        let on = On { plane: &planes[zone.part], surface: &parts[zone.part].surface };
        for (over, upper) in piece.zones.iter().enumerate().skip(index + 1) {
            let Some((cut, outline)) = &whole[over] else { continue };
            if upper.part != zone.part || cut.join == FilmJoin::Whole || regions[index].is_empty() {
                continue;
            }
            if !watch.going() {
                return;
            }
            let trap_mm = cut.trap_mm.unwrap_or(settings.vinyl.trap_mm);
            if !near(on.plane, &regions[index], outline, trap_mm + TOUCHING_MM) {
                continue;
            }
            regions[index] = on.beneath(&regions[index], outline, cut.join, trap_mm);
            if regions[index].is_empty() {
                wrong.push(
                    Diagnostic::error(
                        FieldPath::root().key("zone").index(over).key("vinyl").key("join"),
                        format!(
                            "nothing is left of the film of `{}` beneath that of `{}`",
                            zone.name, upper.name
                        ),
                    )
                    .hint("Leave `join` out, so that what lies beneath stays whole, or make the trap smaller."),
                );
            }
        }
    }
}

/// The part on which film meets film.
struct On<'a> {
    plane: &'a Plane,
    surface: &'a Surface,
}

impl On<'_> {
    fn beneath(&self, lower: &Region, upper: &Region, join: FilmJoin, trap_mm: f64) -> Region {
        let (plane, surface) = (self.plane, self.surface);
        let left = match join {
            FilmJoin::Whole => return lower.clone(),
            FilmJoin::Butt => lower.without(plane, upper),
            FilmJoin::Overlap => {
                let reach = grown(plane, surface, lower, trap_mm);
                let edge = grown(plane, surface, upper, TOUCHING_MM);
                let run_on = lower.united(plane, &reach.intersected(plane, &edge));
                let run_on = self.touching(&run_on, lower);
                run_on.without(plane, &drawn_in(plane, surface, upper, trap_mm))
            }
            FilmJoin::Choke => {
                let both = lower.united(plane, upper);
                let inner = drawn_in(plane, surface, &both, trap_mm);
                lower.without(plane, &upper.without(plane, &inner))
            }
        };
        let firm = left.shapes().filter(|shape| shape.breadth_mm(plane) >= HAIR_MM);
        Region { loops: firm.flat_map(|shape| shape.loops).collect() }
    }

    /// The shapes of a region that lie on another at least in part.
    fn touching(&self, region: &Region, other: &Region) -> Region {
        let mut kept = Region::default();
        for shape in region.shapes() {
            if !shape.intersected(self.plane, other).is_empty() {
                kept.loops.extend(shape.loops);
            }
        }
        kept
    }
}

/// Whether two regions may come as near to each other as this: their rectangles do, or one of them
/// reaches the cut at the back.
fn near(plane: &Plane, one: &Region, other: &Region, mm: f64) -> bool {
    let box_of = |region: &Region| {
        let corners = || region.loops.iter().flatten();
        let x = (corners().map(|c| c.x).min()?, corners().map(|c| c.x).max()?);
        Some((x, (corners().map(|c| c.y).min()?, corners().map(|c| c.y).max()?)))
    };
    let (Some(one), Some(other)) = (box_of(one), box_of(other)) else { return false };
    let meet = |a: (i64, i64), b: (i64, i64), apart: i64| {
        a.0 <= b.1.saturating_add(apart) && b.0 <= a.1.saturating_add(apart)
    };
    // Round the part lengths are longest on the grid where the part is narrowest.
    let (up, round) = (plane.steps(mm), plane.steps(AROUND_MOST * mm));
    let at_back = |x: (i64, i64)| {
        plane.half_turn.is_some_and(|half| x.0 <= round - half || x.1 >= half - round)
    };
    meet(one.1, other.1, up) && (meet(one.0, other.0, round) || at_back(one.0) || at_back(other.0))
}
