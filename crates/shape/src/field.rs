//! How far a place is from the edges of an area, in space.

use crate::area::AXIS_MM;
use crate::{Area, Band, Surface, SurfacePoint};
use glam::DVec3;
use std::f64::consts::PI;

/// Segments in a leaf of the tree.
const LEAF: usize = 4;

/// Answers distance questions about an area on a surface.
#[derive(Debug)]
pub struct Field {
    surface: Surface,
    columns: Columns,
    tree: Tree,
    edges: Vec<EdgePiece>,
}

/// A straight piece of an edge: both ends on the surface and in the part frame, mm.
pub type EdgePiece = [(SurfacePoint, DVec3); 2];

impl Field {
    /// Prepares an area. Creases and the ends of the part count as edges.
    pub fn new(surface: &Surface, area: &Area) -> Self {
        let mut edges: Vec<EdgePiece> = Vec::new();
        let mut add = |line: &[(SurfacePoint, DVec3)]| {
            edges.extend(line.windows(2).map(|w| [w[0], w[1]]));
        };
        let world = |p: &SurfacePoint| (*p, surface.world_from_surface(*p));
        for edge in &area.edges {
            add(&edge.iter().map(world).collect::<Vec<_>>());
        }
        for (band, along) in rings(surface) {
            let steps = (2.0 * PI * surface.around_scale_mm(along) / 0.5).ceil().max(128.0) as u32;
            let around = |i: u32| PI * (2.0 * f64::from(i) / f64::from(steps) - 1.0);
            let place = |i| SurfacePoint { around: around(i), along_mm: along };
            let end = |i| (place(i), surface.place_in_band(band, place(i)).0);
            add(&(0..=steps).map(end).collect::<Vec<_>>());
        }
        let segments = edges.iter().map(|ends| ends.map(|end| end.1)).collect();
        Self {
            surface: surface.clone(),
            columns: Columns::new(surface, area),
            tree: Tree::new(segments),
            edges,
        }
    }

    /// The edges, as straight pieces in space.
    pub fn edges(&self) -> &[EdgePiece] {
        &self.edges
    }

    /// Distance in space from a place on the surface to the nearest edge, mm; negative outside the
    /// area. Never more than the distance along the surface (beyond 1 µm, the sag of an edge's
    /// chords). Minus infinity in an empty area without edges.
    pub fn clearance_mm(&self, point: SurfacePoint) -> f64 {
        let distance = self.tree.distance(self.surface.world_from_surface(point));
        if self.contains(point) { distance } else { -distance }
    }

    /// Whether a place is in the area.
    pub fn contains(&self, point: SurfacePoint) -> bool {
        self.columns.contain(point)
    }
}

/// Both ends of every band of a revolved part: creases and the ends of the part. A grown surface parts
/// at an outer crease, so each band has its own. Ends on the axis are no edge.
fn rings(surface: &Surface) -> Vec<(usize, f64)> {
    if surface.period().is_none() {
        return Vec::new();
    }
    let ends = |(index, band): (usize, &Band)| [(index, band.along_mm.0), (index, band.along_mm.1)];
    let mut rings: Vec<(usize, f64)> = surface.bands().iter().enumerate().flat_map(ends).collect();
    rings.retain(|(_, along)| surface.around_scale_mm(*along) > AXIS_MM);
    rings
}

/// Loop segments sorted into columns of equal width, to count the crossings above a place.
#[derive(Debug)]
struct Columns {
    turn: bool,
    from: f64,
    per_around: f64,
    /// Where each column's segments begin in `segments`; one more than columns.
    starts: Vec<usize>,
    segments: Vec<[SurfacePoint; 2]>,
}

impl Columns {
    fn new(surface: &Surface, area: &Area) -> Self {
        let turn = surface.period().is_some();
        let all: Vec<[SurfacePoint; 2]> = area
            .loops
            .iter()
            .flat_map(|one| one.iter().zip(one.iter().cycle().skip(1)))
            .filter(|(a, b)| a.around != b.around)
            .map(|(a, b)| if a.around < b.around { [*a, *b] } else { [*b, *a] })
            .collect();
        let (from, to) = if turn {
            (-PI, PI)
        } else {
            let ends =
                |pick: fn(f64, f64) -> f64| all.iter().flatten().map(|p| p.around).reduce(pick);
            (ends(f64::min).unwrap_or(0.0), ends(f64::max).unwrap_or(1.0))
        };
        let count = (all.len() / 2).clamp(1, 4096);
        let per_around = count as f64 / (to - from);
        let column = |around: f64| (((around - from) * per_around) as usize).min(count - 1);
        let mut lists: Vec<Vec<[SurfacePoint; 2]>> = vec![Vec::new(); count];
        for segment in &all {
            for list in &mut lists[column(segment[0].around)..=column(segment[1].around)] {
                list.push(*segment);
            }
        }
        let mut starts = vec![0];
        for list in &lists {
            starts.push(starts[starts.len() - 1] + list.len());
        }
        Self { turn, from, per_around, starts, segments: lists.concat() }
    }

    fn contain(&self, point: SurfacePoint) -> bool {
        let around =
            if self.turn { (point.around + PI).rem_euclid(2.0 * PI) - PI } else { point.around };
        let offset = (around - self.from) * self.per_around;
        if offset.is_nan() || offset < 0.0 {
            return false;
        }
        let column = (offset as usize).min(self.starts.len() - 2);
        let mut inside = false;
        for [a, b] in &self.segments[self.starts[column]..self.starts[column + 1]] {
            if a.around <= around && around < b.around {
                let share = (around - a.around) / (b.around - a.around);
                if a.along_mm + share * (b.along_mm - a.along_mm) > point.along_mm {
                    inside = !inside;
                }
            }
        }
        inside
    }
}

/// A tree of boxes over segments in space.
#[derive(Debug)]
struct Tree {
    segments: Vec<[DVec3; 2]>,
    nodes: Vec<Node>,
}

#[derive(Debug)]
struct Node {
    low: DVec3,
    high: DVec3,
    /// A leaf's segments, or the index of the second child (the first follows its parent).
    first: usize,
    count: usize,
}

impl Tree {
    fn new(mut segments: Vec<[DVec3; 2]>) -> Self {
        let mut nodes = Vec::new();
        if !segments.is_empty() {
            let count = segments.len();
            build(&mut segments, 0, count, &mut nodes);
        }
        Self { segments, nodes }
    }

    fn distance(&self, place: DVec3) -> f64 {
        let mut best = f64::INFINITY;
        let mut waiting = [0_usize; 64];
        let mut depth = usize::from(!self.nodes.is_empty());
        while depth > 0 {
            depth -= 1;
            let index = waiting[depth];
            let node = &self.nodes[index];
            if node.distance_squared(place) >= best {
                continue;
            }
            if node.count > 0 {
                for segment in &self.segments[node.first..node.first + node.count] {
                    best = best.min(to_segment_squared(place, segment));
                }
                continue;
            }
            let (near, far) = (index + 1, node.first);
            let swap =
                self.nodes[far].distance_squared(place) < self.nodes[near].distance_squared(place);
            let (near, far) = if swap { (far, near) } else { (near, far) };
            waiting[depth] = far;
            waiting[depth + 1] = near;
            depth += 2;
        }
        best.sqrt()
    }
}

impl Node {
    fn distance_squared(&self, place: DVec3) -> f64 {
        (place - place.clamp(self.low, self.high)).length_squared()
    }
}

/// Halves at the median of the longest side, so the tree is at most 60 deep.
fn build(segments: &mut [[DVec3; 2]], from: usize, to: usize, nodes: &mut Vec<Node>) {
    let own = &mut segments[from..to];
    let low = own.iter().flatten().copied().reduce(DVec3::min).unwrap_or_default();
    let high = own.iter().flatten().copied().reduce(DVec3::max).unwrap_or_default();
    let index = nodes.len();
    if own.len() <= LEAF {
        nodes.push(Node { low, high, first: from, count: own.len() });
        return;
    }
    let axis = (high - low).max_position();
    let middle = own.len() / 2;
    own.select_nth_unstable_by(middle, |a, b| (a[0] + a[1])[axis].total_cmp(&(b[0] + b[1])[axis]));
    nodes.push(Node { low, high, first: 0, count: 0 });
    build(segments, from, from + middle, nodes);
    nodes[index].first = nodes.len();
    build(segments, from + middle, to, nodes);
}

fn to_segment_squared(place: DVec3, [a, b]: &[DVec3; 2]) -> f64 {
    let (along, to) = (*b - *a, place - *a);
    let share = (to.dot(along) / along.length_squared().max(f64::MIN_POSITIVE)).clamp(0.0, 1.0);
    (to - along * share).length_squared()
}
