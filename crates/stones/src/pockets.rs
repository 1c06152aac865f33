//! Small stones in the pockets that are left: the largest that fits in each, and none left empty.

use crate::bed::Bed;
use crate::fill::{Engine, Ground, Order, Spot};
use crate::graded::Steps;
use crate::search::{cells, climb, find};
use shape::SurfacePoint;

/// Side of the cells that are looked through, in radii of the stone.
const SIDE: f64 = 0.6;
/// A stone with more room than this, in radii, is not centred but laid against its neighbours.
const SNUG: f64 = 0.35;

/// Fills pockets.
#[derive(Debug, Clone, Copy, Default)]
pub struct Pockets;

impl Engine for Pockets {
    fn fill(
        &self,
        ground: &Ground<'_>,
        order: &Order,
        progress: &mut dyn FnMut(f64) -> bool,
    ) -> Vec<Spot> {
        let widest_mm = order.sizes.iter().map(|size| size.0).fold(0.0, f64::max);
        let mut bed = Bed::new(ground, widest_mm, order.gap_mm, ground.obstacles.len());
        let mut ladder: Vec<usize> = (0..order.sizes.len()).collect();
        ladder.sort_by(|a, b| order.sizes[*b].0.total_cmp(&order.sizes[*a].0));
        let steps = ladder.len() as f64;
        // Sizes are asked for by place: no larger one lies there.
        let graded = Steps::new(order, ground.surface);
        let anywhere = |_: SurfacePoint| true;
        for (step, size) in ladder.into_iter().enumerate() {
            let most = order.most.get(size).copied().flatten().unwrap_or(usize::MAX);
            let lot = Lot { diameter_mm: order.sizes[size].0, size, row: 0, most };
            let mut told = |share: f64| progress((step as f64 + share) / steps);
            let going = match &graded {
                Some(steps) => fill(&mut bed, lot, &|at| steps.reaches(size, at), &mut told),
                None => fill(&mut bed, lot, &anywhere, &mut told),
            };
            if !going {
                break;
            }
        }
        bed.laid.iter().map(|laid| laid.spot).collect()
    }
}

/// Stones of one size to be laid wherever they fit.
#[derive(Debug, Clone, Copy)]
pub struct Lot {
    /// Diameter, mm.
    pub diameter_mm: f64,
    /// Index into the order's sizes.
    pub size: usize,
    /// Row they are told to lie in.
    pub row: u32,
    /// Most of them.
    pub most: usize,
}

/// Lays stones of one size until no place is left that takes one and where it is `wanted`; false if
/// `progress` stopped it.
pub fn fill(
    bed: &mut Bed<'_>,
    lot: Lot,
    wanted: &dyn Fn(SurfacePoint) -> bool,
    progress: &mut dyn FnMut(f64) -> bool,
) -> bool {
    let ground = bed.ground;
    let (diameter_mm, radius_mm) = (lot.diameter_mm, lot.diameter_mm / 2.0);
    let rows = cells(ground, SIDE * radius_mm);
    let mut left = lot.most;
    for (done, row) in rows.iter().enumerate() {
        if !progress(done as f64 / rows.len() as f64) {
            return false;
        }
        for cell in row {
            // Looked at closely only where the stone is wanted.
            let places = [(0.5, 0.5), (0.0, 0.0), (1.0, 0.0), (0.0, 1.0), (1.0, 1.0)];
            if !places.into_iter().any(|(across, down)| wanted(cell.at(ground, across, down))) {
                continue;
            }
            while left > 0 {
                let room = |at| bed.room_mm(at, diameter_mm, diameter_mm);
                let may = |at| wanted(at) && ground.allows(at, diameter_mm);
                let Some(found) = find(ground, *cell, &room, &may) else { break };
                let at = settled(bed, found, diameter_mm, &may);
                bed.lay(Spot { at, size: lot.size, row: lot.row }, diameter_mm);
                left -= 1;
            }
        }
    }
    true
}

/// Where a stone that fits at a place is best laid: in the middle of a small pocket, in a large one
/// against two stones or one edge.
fn settled(
    bed: &Bed<'_>,
    found: SurfacePoint,
    diameter_mm: f64,
    may: &dyn Fn(SurfacePoint) -> bool,
) -> SurfacePoint {
    let ground = bed.ground;
    let snug_mm = SNUG * diameter_mm / 2.0;
    let room = |at| bed.room_mm(at, diameter_mm, 2.0 * diameter_mm);
    let takes = |at: &SurfacePoint| room(*at) > -1e-9 && bed.takes(*at, diameter_mm) && may(*at);
    let top = climb(ground, found, snug_mm, &room);
    if room(top) < snug_mm {
        return if takes(&top) { top } else { found };
    }
    let mut near = Vec::new();
    bed.beside_place(found, 2.0 * bed.reach_mm + diameter_mm, &mut near);
    let from_mm = ground.surface.world_from_surface(found);
    let away = |at: &SurfacePoint| ground.surface.world_from_surface(*at).distance(from_mm);
    let mut best: Option<(f64, SurfacePoint)> = None;
    for (index, a) in near.iter().enumerate() {
        let mut on_edge = Vec::new();
        bed.spots_on_edge(*a, diameter_mm, &mut on_edge);
        let pairs = near[..index].iter();
        let on_two = pairs.flat_map(|b| bed.spots_on_two(*a, *b, diameter_mm)).flatten();
        for at in on_two.chain(on_edge) {
            let far = away(&at);
            if best.is_none_or(|best| far < best.0) && takes(&at) {
                best = Some((far, at));
            }
        }
    }
    if let Some((_, at)) = best {
        return at;
    }
    // Straight towards the nearest stone or edge.
    let step_mm = 1e-4;
    let frame = ground.frame(found);
    let slope = |x: f64, y: f64| {
        let [on, back] = [1.0, -1.0].map(|way| room(ground.moved(&frame, way * x, way * y)));
        (on - back) / (2.0 * step_mm)
    };
    let (x, y) = (slope(step_mm, 0.0), slope(0.0, step_mm));
    let spare_mm = room(found) / (x * x + y * y).sqrt().max(0.5);
    let against = [0.999_999, 0.9, 0.5]
        .map(|part| ground.moved(&frame, -part * spare_mm * x, -part * spare_mm * y));
    against.into_iter().find(takes).unwrap_or(found)
}
