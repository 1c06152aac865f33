//! From tape measurements to the meridian of a surface of revolution.

use crate::band_names::band_names;
use crate::measures_check::{SAME_MM, check_measures};
use crate::smoothing::smoothest;
use crate::spline::Spline;
use crate::surface::Band;
use glam::DVec2;
use piece::{Diagnostic, FieldPath, Measure, PartRole, Run};

/// Two straight runs that meet at more than this are two bands, degrees.
const CREASE_DEG: f64 = 5.0;
/// Longest piece a smooth run is cut into, mm. On a curve of 5 mm radius its chord is then shorter
/// than its arc by less than 2 parts in 100 000.
const SMOOTH_STEP_MM: f64 = 0.1;
/// A smooth run may slope by this much more than its own length before it is refused: less than a
/// tape can tell, and a spline through a pole needs it.
const SLOPE_SLACK: f64 = 0.005;

/// A cone, cylinder or level ring of the bare surface. Points of the meridian are (radius, z), mm.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Segment {
    /// Index of its band.
    pub(crate) band: usize,
    /// Start and end along the bare wall, mm.
    pub(crate) along_mm: (f64, f64),
    /// Start and end of the bare meridian.
    pub(crate) bare_mm: (DVec2, DVec2),
    /// Outward unit normals at start and end: equal on a straight run.
    pub(crate) normal: (DVec2, DVec2),
    /// How far start and end move for each mm of growth: the normal, or the mitre where two runs of
    /// one band meet at a slight angle.
    pub(crate) push: (DVec2, DVec2),
}

/// The meridian of a bare surface of revolution, from its start downwards.
#[derive(Debug, PartialEq)]
pub(crate) struct Profile {
    pub(crate) segments: Vec<Segment>,
    pub(crate) bands: Vec<Band>,
}

/// A straight or smooth stretch: points (along, radius) with the slope there on either side.
struct Stretch {
    nodes: Vec<Node>,
    straight: bool,
    /// A crease at its start was asked for.
    crease: bool,
}

struct Node {
    along_mm: f64,
    radius_mm: f64,
    slope: f64,
}

impl Profile {
    /// Works the meridian out. `path` is where the list of measurements lives in the piece.
    pub(crate) fn new(
        measures: &[Measure],
        role: PartRole,
        path: &FieldPath,
    ) -> Result<Self, Vec<Diagnostic>> {
        check_measures(measures, path)?;
        let stretches = stretches(measures, path)?;
        let segments = segments(&stretches);
        let bands = bands(&stretches, &segments, role);
        Ok(Self { segments, bands })
    }
}

fn stretches(measures: &[Measure], path: &FieldPath) -> Result<Vec<Stretch>, Vec<Diagnostic>> {
    let mut found: Vec<Stretch> = Vec::new();
    let mut faults = Vec::new();
    let mut start = 0;
    while start + 1 < measures.len() {
        let run = measures[start + 1].run;
        let mut end = start + 1;
        while end + 1 < measures.len()
            && measures[end + 1].run == run
            && !measures[end].crease
            && (run == Run::Smooth || collinear(measures, start, end + 1))
        {
            end += 1;
        }
        let crease = measures[start].crease;
        match run {
            Run::Straight => found.push(straight(&measures[start], &measures[end], crease)),
            Run::Smooth => match smooth(measures, start, end, path) {
                Ok(nodes) => found.push(Stretch { nodes, straight: end == start + 1, crease }),
                Err(more) => faults.extend(more),
            },
        }
        start = end;
    }
    if faults.is_empty() { Ok(found) } else { Err(faults) }
}

/// Whether every measurement between `start` and `end` lies on the line between them.
fn collinear(measures: &[Measure], start: usize, end: usize) -> bool {
    let (a, b) = (&measures[start], &measures[end]);
    measures[start + 1..end].iter().all(|m| {
        let u = (m.along_mm - a.along_mm) / (b.along_mm - a.along_mm);
        (a.radius_mm + u * (b.radius_mm - a.radius_mm) - m.radius_mm).abs() <= SAME_MM
    })
}

fn straight(from: &Measure, to: &Measure, crease: bool) -> Stretch {
    let slope = (to.radius_mm - from.radius_mm) / (to.along_mm - from.along_mm);
    let node = |m: &Measure| Node { along_mm: m.along_mm, radius_mm: m.radius_mm, slope };
    Stretch { nodes: vec![node(from), node(to)], straight: true, crease }
}

fn smooth(
    measures: &[Measure],
    start: usize,
    end: usize,
    path: &FieldPath,
) -> Result<Vec<Node>, Vec<Diagnostic>> {
    let part = &measures[start..=end];
    let spline = curve(measures, start, end);
    let mut nodes = Vec::new();
    let mut faults = Vec::new();
    for (i, pair) in part.windows(2).enumerate() {
        let (from, to) = (&pair[0], &pair[1]);
        let length_mm = to.along_mm - from.along_mm;
        let (low, high) = spline.slope_range(i);
        // Two measurements are joined by a straight line, which cuts into one piece.
        let steps =
            if part.len() == 2 { 1 } else { (length_mm / SMOOTH_STEP_MM).ceil().max(1.0) as usize };
        let place = |k: usize| {
            let u = k as f64 / steps as f64;
            let (radius_mm, slope) = spline.eval(i, u);
            Node { along_mm: from.along_mm + u * length_mm, radius_mm, slope }
        };
        let piece: Vec<Node> = (0..steps).map(place).collect();
        if low.min(-high) < -1.0 - SLOPE_SLACK || piece.iter().any(|node| node.radius_mm < 0.0) {
            faults.push(
                Diagnostic::error(
                    path.index(start + i + 1),
                    format!(
                        "the smooth curve through the measurements cannot pass from {:.1} mm (radius {:.1} mm) to {:.1} mm (radius {:.1} mm): it would have to bulge more than the wall is long",
                        from.along_mm, from.radius_mm, to.along_mm, to.radius_mm
                    ),
                )
                .hint(format!(
                    "measure once more near {:.0} mm, or set crease = true where the wall has an edge",
                    (from.along_mm + to.along_mm) / 2.0
                )),
            );
        }
        nodes.extend(piece);
    }
    let last = &part[part.len() - 1];
    let (radius_mm, slope) = spline.eval(part.len() - 2, 1.0);
    nodes.push(Node { along_mm: last.along_mm, radius_mm, slope });
    if faults.is_empty() { Ok(nodes) } else { Err(faults) }
}

/// The curve of a smooth run: through its readings, or as near as they were read. Where another run
/// goes on, and where the wall closes, it passes through.
fn curve(measures: &[Measure], start: usize, end: usize) -> Spline {
    let part = &measures[start..=end];
    let at: Vec<f64> = part.iter().map(|m| m.along_mm).collect();
    let value: Vec<f64> = part.iter().map(|m| m.radius_mm).collect();
    if part.iter().all(|m| m.radius_step_mm == 0.0) {
        return Spline::new(at, value);
    }
    let step = (start..=end).map(|i| {
        let joined = (i == start && i > 0) || (i == end && i + 1 < measures.len());
        let closed = measures[i].radius_mm == 0.0;
        if joined || closed { 0.0 } else { measures[i].radius_step_mm }
    });
    smoothest(&at, &value, &step.collect::<Vec<f64>>())
}

/// Outward normal (radial, up) of a wall whose radius changes by `slope` for each mm along it.
fn normal(slope: f64) -> DVec2 {
    let slope = slope.clamp(-1.0, 1.0);
    DVec2::new((1.0 - slope * slope).sqrt(), slope)
}

fn segments(stretches: &[Stretch]) -> Vec<Segment> {
    let mut segments: Vec<Segment> = Vec::new();
    let (mut z_mm, mut band) = (0.0, 0);
    for stretch in stretches {
        let first = segments.len();
        for pair in stretch.nodes.windows(2) {
            let (from, to) = (&pair[0], &pair[1]);
            let length_mm = to.along_mm - from.along_mm;
            let change_mm = to.radius_mm - from.radius_mm;
            // The wall is as long as the tape says: what does not go outward goes down.
            let drop_mm = ((length_mm - change_mm) * (length_mm + change_mm)).max(0.0).sqrt();
            let normals = (normal(from.slope), normal(to.slope));
            segments.push(Segment {
                band: 0,
                along_mm: (from.along_mm, to.along_mm),
                bare_mm: (
                    DVec2::new(from.radius_mm, z_mm),
                    DVec2::new(to.radius_mm, z_mm - drop_mm),
                ),
                normal: normals,
                push: normals,
            });
            z_mm -= drop_mm;
        }
        if first > 0 {
            let (before, after) = (segments[first - 1].normal.1, segments[first].normal.0);
            let turn_deg = libm::atan2(before.perp_dot(after), before.dot(after)).to_degrees();
            if stretch.crease || turn_deg.abs() > CREASE_DEG {
                band += 1;
            } else {
                // Both sides keep their own direction when they grow, and still meet.
                let mitre = (before + after) / (1.0 + before.dot(after));
                segments[first - 1].push.1 = mitre;
                segments[first].push.0 = mitre;
            }
        }
        for segment in &mut segments[first..] {
            segment.band = band;
        }
    }
    let lowest_mm = z_mm;
    for segment in &mut segments {
        segment.bare_mm.0.y -= lowest_mm;
        segment.bare_mm.1.y -= lowest_mm;
    }
    segments
}

fn bands(stretches: &[Stretch], segments: &[Segment], role: PartRole) -> Vec<Band> {
    let spans: Vec<&[Segment]> = segments.chunk_by(|a, b| a.band == b.band).collect();
    let ends: Vec<(&Segment, &Segment)> =
        spans.iter().map(|span| (&span[0], &span[span.len() - 1])).collect();
    let slopes: Vec<(f64, f64)> = ends
        .iter()
        .map(|(first, last)| {
            let length_mm = last.along_mm.1 - first.along_mm.0;
            (length_mm, (last.bare_mm.1.x - first.bare_mm.0.x) / length_mm)
        })
        .collect();
    let names = band_names(role, &slopes);
    let inside = |stretch: &Stretch, band: &(f64, f64)| {
        stretch.nodes[0].along_mm >= band.0 && stretch.nodes[0].along_mm < band.1
    };
    ends.iter()
        .zip(names)
        .map(|((first, last), name)| {
            let along_mm = (first.along_mm.0, last.along_mm.1);
            let mut within = stretches.iter().filter(|stretch| inside(stretch, &along_mm));
            let straight =
                within.next().is_some_and(|stretch| stretch.straight) && within.next().is_none();
            Band { name, along_mm, straight }
        })
        .collect()
}
