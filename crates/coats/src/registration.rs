//! Registration marks: crosses in the same places beside each layer of one art, so that its films can
//! be laid on each other at the bench.

use crate::FilmLie;
use crate::film::fits;
use crate::unrolling::{Unrolled, wrapped};
use crate::weeding::dressed;
use piece::settings::VinylProduct;
use piece::{FilmTurns, Finish, Piece};
use shape::film::lie_among;
use shape::{Shape, Surface, SurfacePoint};

/// Half the length of a cross, mm (own choice: large enough to lift, small enough to fit a margin).
pub const REACH_MM: f64 = 3.0;
/// Width of its arms, mm: film of 1 mm is weeded with ease (common practice, no source).
pub const ARM_WIDTH_MM: f64 = 1.0;
/// Between the art and the nearest arm, mm.
const CLEAR_MM: f64 = 2.0;
/// Middles of art closer than this, mm and radians, are one place.
const SAME: f64 = 1e-6;

/// For each zone of film, for each of its copies and bands, where the middles of the crosses lie on its
/// sheet, mm; none where art lies in one film only, or where a layer would no longer fit on a sheet. Where
/// a wall is curved both ways its layers are then given one form in common.
pub(crate) fn marks(
    piece: &Piece,
    shape: &Shape,
    vinyl: &VinylProduct,
    zones: &[usize],
    layers: &mut [Vec<Unrolled>],
) -> Vec<Vec<Vec<[f64; 2]>>> {
    let mut marks: Vec<Vec<Vec<[f64; 2]>>> =
        layers.iter().map(|layer| vec![Vec::new(); layer.len()]).collect();
    let spot = |laid: &Unrolled| (laid.copy, laid.band);
    for stack in stacks(piece, zones) {
        let spots: Vec<(usize, usize)> = layers[stack[0]].iter().map(spot).collect();
        for here in spots {
            let group: Vec<(usize, usize)> = stack
                .iter()
                .filter_map(|&layer| {
                    let at = layers[layer].iter().position(|other| spot(other) == here)?;
                    Some((layer, at))
                })
                .collect();
            if group.len() < 2 {
                continue;
            }
            let bench = Bench { shape, vinyl, zones, layers: &*layers, group: &group };
            let Some(marked) = bench.marked() else { continue };
            let fit = group.iter().zip(&marked).all(|(&(layer, _), (laid, marks))| {
                let size_mm = dressed(laid.shapes.clone(), marks, false, vinyl).size_mm;
                fits(size_mm, vinyl, turns(piece, zones[layer]))
            });
            if fit {
                for (&(layer, at), (laid, on_sheet)) in group.iter().zip(marked) {
                    layers[layer][at] = laid;
                    marks[layer][at] = on_sheet;
                }
            }
        }
    }
    marks
}

fn turns(piece: &Piece, zone: usize) -> FilmTurns {
    match &piece.zones[zone].finish {
        Finish::Vinyl { cut, .. } => cut.turns,
        _ => FilmTurns::Quarter,
    }
}

/// Zones of film whose art has the same middles on the same part, as indices into `zones`: the layers of
/// one art, in more than one colour.
fn stacks(piece: &Piece, zones: &[usize]) -> Vec<Vec<usize>> {
    let mut stacks: Vec<Vec<usize>> = Vec::new();
    for (index, &zone) in zones.iter().enumerate() {
        let zone = &piece.zones[zone];
        let Finish::Vinyl { cut, .. } = &zone.finish else { continue };
        let Some(art) = zone.region.art.as_ref().filter(|_| cut.registration) else { continue };
        let same = |stack: &&mut Vec<usize>| {
            let other = &piece.zones[zones[stack[0]]];
            other.part == zone.part
                && other.region.art.as_ref().is_some_and(|other| {
                    (other.along_mm - art.along_mm).abs() < SAME
                        && (other.around - art.around).abs() < SAME
                        && (other.repeat, other.rows) == (art.repeat, art.rows)
                })
        };
        match stacks.iter_mut().find(same) {
            Some(stack) => stack.push(index),
            None => stacks.push(vec![index]),
        }
    }
    let colour = |&index: &usize| match &piece.zones[zones[index]].finish {
        Finish::Vinyl { colour, .. } => Some(*colour),
        _ => None,
    };
    stacks.retain(|stack| stack.iter().any(|index| colour(index) != colour(&stack[0])));
    stacks
}

/// The layers of one art in one place.
struct Bench<'a> {
    shape: &'a Shape,
    vinyl: &'a VinylProduct,
    zones: &'a [usize],
    layers: &'a [Vec<Unrolled>],
    /// Index into `layers`, and which of its copies.
    group: &'a [(usize, usize)],
}

impl Bench<'_> {
    fn surface(&self, layer: usize) -> &Surface {
        &self.shape.zones[self.zones[layer]].surface
    }

    fn laid(&self) -> impl Iterator<Item = &Unrolled> {
        self.group.iter().map(|&(layer, at)| &self.layers[layer][at])
    }

    /// Each layer with the middles of its crosses on its sheet; laid on each other on the cup they meet.
    fn marked(&self) -> Option<Vec<(Unrolled, Vec<[f64; 2]>)>> {
        let (layer, at) = self.group[0];
        let first = &self.layers[layer][at];
        let places = self.beside(self.surface(layer), first.band, first.centre)?;
        if self.surface(layer).bands()[first.band].straight {
            let marked = self.group.iter().map(|&(layer, at)| {
                let (laid, surface) = (&self.layers[layer][at], self.surface(layer));
                let sheet = surface.sheet(laid.band);
                let shift = wrapped(first.centre - laid.centre, surface);
                let on_sheet = places.map(|place| {
                    let place = SurfacePoint { around: place.around + shift, ..place };
                    sheet.sheet_from_surface(place).to_array()
                });
                (laid.clone(), on_sheet.to_vec())
            });
            return Some(marked.collect());
        }
        // There are no places beyond the ends of a band for polynomials to follow.
        let (top, bottom) = self.surface(layer).bands()[first.band].along_mm;
        let inside = |place: &SurfacePoint| {
            place.along_mm - REACH_MM >= top && place.along_mm + REACH_MM <= bottom
        };
        if places.iter().all(inside) { self.in_common(first.centre, &places) } else { None }
    }

    /// All layers in the form of one film that holds them and the crosses, unless they are slit or would
    /// then strain more than film bears.
    fn in_common(
        &self,
        front: f64,
        places: &[SurfacePoint; 3],
    ) -> Option<Vec<(Unrolled, Vec<[f64; 2]>)>> {
        if self.laid().any(|laid| laid.lie.is_none_or(|lie| lie.cuts > 0)) {
            return None;
        }
        let bears = self.vinyl.stretch;
        let pads = places.map(|place| self.pad(place));
        let turned: Vec<Vec<WallShape>> = self.laid().map(|laid| turned(laid, front)).collect();
        let marked = self.group.iter().zip(&turned).map(|(&(layer, at), own)| {
            let (laid, surface) = (&self.layers[layer][at], self.surface(layer));
            // Its own shapes again among all: what lies twice counts once.
            let others: Vec<WallShape> = turned.iter().flatten().chain(&pads).cloned().collect();
            let (flat, marks) = lie_among(surface, laid.band, own, &others, places)?;
            let strain = flat.strain?;
            let worse = strain.taut() > bears && laid.lie?.strain.taut() <= bears;
            if worse {
                return None;
            }
            let shift = laid.centre - front;
            let ((left, right), along_mm) = laid.extent;
            let lie = FilmLie { strain, cuts: 0, wedge_mm: 0.0 }.about_front(front);
            let ends = others.iter().flatten().flatten().map(|place| place.along_mm);
            let sheet_mm =
                ends.fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), mm| (a.min(mm), b.max(mm)));
            let laid = Unrolled {
                centre: front,
                extent: ((left + shift, right + shift), along_mm),
                shapes: flat.groups.into_iter().flatten().collect(),
                sheet_mm,
                lie: Some(lie),
                on_wall: own.clone(),
                ..*laid
            };
            Some((laid, marks))
        });
        marked.collect()
    }

    /// The square that a cross lies in.
    fn pad(&self, middle: SurfacePoint) -> WallShape {
        let surface = self.surface(self.group[0].0);
        let half = REACH_MM / surface.around_scale_mm(middle.along_mm).max(1e-3);
        let corner = |across: f64, down: f64| SurfacePoint {
            around: middle.around + across * half,
            along_mm: middle.along_mm + down * REACH_MM,
        };
        vec![vec![corner(-1.0, -1.0), corner(1.0, -1.0), corner(1.0, 1.0), corner(-1.0, 1.0)]]
    }

    /// Three places beside everything, two to its left and one to its right so that nobody lays a layer
    /// upside down, as places of the bare part counted from `front`; `None` where there is no room.
    fn beside(&self, first: &Surface, band: usize, front: f64) -> Option<[SurfacePoint; 3]> {
        let mut box_of = ((f64::INFINITY, f64::NEG_INFINITY), (f64::INFINITY, f64::NEG_INFINITY));
        for laid in self.laid() {
            let (around, along) = laid.extent;
            let shift = wrapped(laid.centre - front, first);
            box_of.0 = (box_of.0.0.min(around.0 + shift), box_of.0.1.max(around.1 + shift));
            box_of.1 = (box_of.1.0.min(along.0), box_of.1.1.max(along.1));
        }
        let (around, mut along) = box_of;
        // Two crosses one above the other need room, which the band may not have.
        let band_mm = first.bands()[band].along_mm;
        let short = (2.0 * REACH_MM + CLEAR_MM - (along.1 - along.0)).max(0.0);
        if first.period().is_some() {
            let (top, bottom) = (along.0 - 0.5 * short, along.1 + 0.5 * short);
            along = (top.max(band_mm.0), bottom.min(band_mm.1));
        } else {
            along = (along.0 - 0.5 * short, along.1 + 0.5 * short);
        }
        if along.1 - along.0 < 2.0 * REACH_MM {
            return None;
        }
        let out = |along_mm: f64| (REACH_MM + CLEAR_MM) / first.around_scale_mm(along_mm).max(1e-3);
        let at = |around: f64, along_mm: f64| SurfacePoint { around, along_mm };
        let places = [
            at(around.0 - out(along.0), along.0),
            at(around.0 - out(along.1), along.1),
            at(around.1 + out(along.1), along.1),
        ];
        // Round a narrow part both sides would meet at the back.
        let wide = places[2].around - places[0].around.min(places[1].around) + 2.0 * out(along.1);
        first.period().is_none_or(|turn| wide <= turn).then_some(places)
    }
}

/// An outline and its holes on the wall.
type WallShape = Vec<Vec<SurfacePoint>>;

/// A copy as it lies on the wall, counted from another angle.
fn turned(laid: &Unrolled, front: f64) -> Vec<WallShape> {
    let shift = laid.centre - front;
    let turn = |place: &SurfacePoint| SurfacePoint { around: place.around + shift, ..*place };
    let shape =
        |shape: &WallShape| shape.iter().map(|one| one.iter().map(turn).collect()).collect();
    laid.on_wall.iter().map(shape).collect()
}
