//! Mixed sizes packed from the rim down: every stone goes where it touches two others (or one and
//! an edge), in the size that fits there best while the blend is kept.

use crate::bed::Bed;
use crate::fill::{Engine, Ground, Order, Spot};
use rand_core::Rng;
use rand_pcg::Pcg64;
use shape::SurfacePoint;
use std::cmp::Ordering;
use std::collections::BinaryHeap;

/// Packings tried for the sake of the blend.
const TRIES: u32 = 4;
/// How far a share may miss without another try.
const FAIR: f64 = 0.01;
/// Weight of one stone too few of a size against looseness.
const LACK: f64 = 0.05;
/// Weight of chance.
const DICE: f64 = 0.02;

/// Mixed sizes without order.
#[derive(Debug, Clone, Copy)]
pub struct Scatter;

impl Engine for Scatter {
    fn fill(
        &self,
        ground: &Ground<'_>,
        order: &Order,
        progress: &mut dyn FnMut(f64) -> bool,
    ) -> Vec<Spot> {
        // Along the last edge only small stones fit. Where that shows in the blend, another try asks
        // for as much more of each size as the one before lacked.
        let mut aims: Vec<f64> = order.sizes.iter().map(|size| size.1).collect();
        let mut best: Option<(f64, Vec<Spot>)> = None;
        for _ in 0..TRIES {
            let Some(spots) = packed(ground, order, &aims, progress) else { break };
            let count = spots.len().max(1) as f64;
            let lacks: Vec<f64> = (0..aims.len())
                .map(|size| {
                    let laid = spots.iter().filter(|spot| spot.size == size).count();
                    order.sizes[size].1 - laid as f64 / count
                })
                .collect();
            let miss = lacks.iter().fold(0.0, |most: f64, lack| most.max(lack.abs()));
            if best.as_ref().is_none_or(|(least, _)| miss < *least) {
                best = Some((miss, spots));
            }
            if miss <= FAIR {
                break;
            }
            for (aim, lack) in aims.iter_mut().zip(&lacks) {
                *aim = (*aim + lack).max(0.0);
            }
        }
        best.map(|(_, spots)| spots).unwrap_or_default()
    }
}

/// One packing that aims for these shares; `None` if it was stopped.
fn packed(
    ground: &Ground<'_>,
    order: &Order,
    aims: &[f64],
    progress: &mut dyn FnMut(f64) -> bool,
) -> Option<Vec<Spot>> {
    let widest_mm = order.sizes.iter().map(|size| size.0).fold(0.0, f64::max);
    let mut front = Front {
        bed: Bed::new(ground, widest_mm, order.gap_mm, 4096),
        order,
        aims,
        laid: vec![0; order.sizes.len()],
        pockets: BinaryHeap::new(),
        chance: Pcg64::new(u128::from(order.seed[0]), u128::from(order.seed[1])),
    };
    let done = front.run(progress);
    done.then(|| front.bed.laid.iter().map(|laid| laid.spot).collect())
}

/// A place beside laid stones that waits to be filled, the one nearest to the rim first.
#[derive(Debug, Clone, Copy)]
struct Pocket {
    /// Where the smallest size would lie.
    at: SurfacePoint,
    /// A laid stone it touches.
    a: usize,
    /// The other one and the side, or `None` for an edge.
    b: Option<(usize, usize)>,
}

impl Ord for Pocket {
    fn cmp(&self, other: &Self) -> Ordering {
        (other.at.along_mm.total_cmp(&self.at.along_mm))
            .then(other.at.around.total_cmp(&self.at.around))
            .then(other.a.cmp(&self.a))
            .then(other.b.cmp(&self.b))
    }
}
impl PartialOrd for Pocket {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}
impl PartialEq for Pocket {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}
impl Eq for Pocket {}

struct Front<'a> {
    bed: Bed<'a>,
    order: &'a Order,
    /// Share by count to lay of each size.
    aims: &'a [f64],
    laid: Vec<usize>,
    pockets: BinaryHeap<Pocket>,
    chance: Pcg64,
}

impl Front<'_> {
    /// Fills the zone; false if it was stopped.
    fn run(&mut self, progress: &mut dyn FnMut(f64) -> bool) -> bool {
        let seeds = self.seeds();
        let (start, end) = self.bed.ground.along_mm;
        for (number, seed) in seeds.iter().enumerate() {
            if number % 256 == 0 && !progress((seed.along_mm - start) / (end - start)) {
                return false;
            }
            let smallest = self.order.sizes.len() - 1;
            if !self.bed.takes(*seed, self.order.sizes[smallest].0) {
                continue;
            }
            self.fill(|_, _| vec![*seed], None);
            while let Some(pocket) = self.pockets.pop() {
                self.fill_pocket(&pocket);
            }
        }
        true
    }

    /// Places all over the zone, the ones nearest to the rim first: wherever no stone touches yet, a
    /// stone must start.
    fn seeds(&self) -> Vec<SurfacePoint> {
        let ground = self.bed.ground;
        let step_mm = self.order.sizes.iter().map(|size| size.0).fold(f64::MAX, f64::min) / 2.0;
        let mut out = Vec::new();
        let mut along_mm = ground.along_mm.0;
        while along_mm <= ground.along_mm.1 {
            let step = step_mm / ground.surface.around_scale_mm(along_mm).max(step_mm / 3.0);
            let mut around = ground.around.0;
            while around <= ground.around.1 {
                out.push(SurfacePoint { around: ground.wrapped(around), along_mm });
                around += step;
            }
            along_mm += step_mm / ground.surface.along_scale(along_mm).max(0.1);
        }
        out
    }

    fn fill_pocket(&mut self, pocket: &Pocket) {
        let (a, near) = (pocket.a, pocket.at);
        match pocket.b {
            Some((b, side)) => self.fill(
                |bed, diameter_mm| bed.spots_on_two(a, b, diameter_mm)[side].into_iter().collect(),
                Some((a, Some(b))),
            ),
            None => self.fill(
                |bed, diameter_mm| {
                    let mut found = Vec::new();
                    bed.spots_on_edge(a, diameter_mm, &mut found);
                    // The same side of the stone as the pocket was seen on.
                    let centre = bed.ground.surface.world_from_surface(near);
                    found.retain(|at| {
                        let away = bed.ground.surface.world_from_surface(*at).distance(centre);
                        away < diameter_mm
                    });
                    found
                },
                Some((a, None)),
            ),
        }
    }

    /// Lays the best size at the spot each size would have.
    fn fill(
        &mut self,
        spots: impl Fn(&Bed<'_>, f64) -> Vec<SurfacePoint>,
        touches: Option<(usize, Option<usize>)>,
    ) {
        let mut best: Option<(f64, Spot)> = None;
        for (size, (diameter_mm, _)) in self.order.sizes.iter().copied().enumerate() {
            for at in spots(&self.bed, diameter_mm) {
                if !self.bed.takes(at, diameter_mm) {
                    continue;
                }
                let total = self.bed.laid.len() as f64;
                let lack = self.aims[size] * (total + 1.0) - self.laid[size] as f64;
                let loose = self.looseness(at, diameter_mm, touches);
                let dice = (self.chance.next_u64() >> 11) as f64 / (1_u64 << 53) as f64;
                let score = LACK * lack - loose + DICE * dice;
                if best.is_none_or(|(most, _)| score > most) {
                    best = Some((score, Spot { at, size, row: 0 }));
                }
            }
        }
        if let Some((_, spot)) = best {
            let number = self.bed.lay(spot, self.order.sizes[spot.size].0);
            self.laid[spot.size] += 1;
            self.offer(number);
        }
    }

    /// Room left to the nearest stone or edge that the new one would not touch, in diameters.
    fn looseness(
        &self,
        at: SurfacePoint,
        diameter_mm: f64,
        touches: Option<(usize, Option<usize>)>,
    ) -> f64 {
        let mut near = Vec::new();
        self.bed.near(at, diameter_mm / 2.0 + 1.5 * self.bed.reach_mm, &mut near);
        let centre = self.bed.ground.surface.world_from_surface(at);
        let (a, b) = touches.map_or((None, None), |(a, b)| (Some(a), b));
        let mut room_mm = self.bed.reach_mm;
        for other in near {
            if Some(other) != a && Some(other) != b {
                let away = self.bed.laid[other].frame.centre_mm.distance(centre);
                room_mm = room_mm.min(away - self.bed.touching_mm(other, diameter_mm));
            }
        }
        if b.is_some() {
            room_mm = room_mm.min(self.bed.ground.field.clearance_mm(at) - diameter_mm / 2.0);
        }
        (room_mm / diameter_mm).max(0.0)
    }

    /// Adds the pockets beside a stone just laid.
    fn offer(&mut self, number: usize) {
        let smallest_mm = self.order.sizes.iter().map(|size| size.0).fold(f64::MAX, f64::min);
        let own_mm = self.bed.laid[number].diameter_mm;
        let mut near = Vec::new();
        self.bed.neighbours(
            number,
            own_mm / 2.0 + 1.5 * self.bed.reach_mm + self.bed.gap_mm,
            &mut near,
        );
        for other in near {
            for (side, at) in
                self.bed.spots_on_two(number, other, smallest_mm).into_iter().enumerate()
            {
                if let Some(at) = at
                    && self.bed.ground.field.clearance_mm(at) > 0.0
                {
                    self.pockets.push(Pocket { at, a: number, b: Some((other, side)) });
                }
            }
        }
        let mut flush = Vec::new();
        self.bed.spots_on_edge(number, smallest_mm, &mut flush);
        for at in flush {
            self.pockets.push(Pocket { at, a: number, b: None });
        }
    }
}
