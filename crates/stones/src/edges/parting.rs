//! Strokes that leave a junction at a narrow angle: how far they have to go until stones lie side by side,
//! and the stones that they share on the way there.

use crate::edges::offset::Point;
use shape::SurfacePoint;

/// Strokes that part within so many stones need no stone in common.
const SOON: f64 = 1.6;

/// How strokes leave a junction.
pub(crate) struct Parting {
    /// Of every stroke the number of the place at which its own stones begin; 0 is the junction.
    pub(crate) own: Vec<usize>,
    /// Between two strokes that have not parted yet.
    pub(crate) shared: Vec<SurfacePoint>,
}

/// How strokes, each from the junction on, leave room for stones that take `pitch_mm`.
pub(crate) fn parting(strokes: &[Vec<Point>], pitch_mm: f64) -> Parting {
    let mut out = Parting { own: vec![0; strokes.len()], shared: Vec::new() };
    for one in 0..strokes.len() {
        for other in one + 1..strokes.len() {
            let (a, b) = (&strokes[one], &strokes[other]);
            let Some((i, j)) = apart(a, b, pitch_mm) else { continue };
            // At 60 degrees and more they part with their first stone.
            let far_mm = a[i].mm.distance(a[0].mm);
            if far_mm <= pitch_mm * 1.001 {
                continue;
            }
            out.own[one] = out.own[one].max(i);
            out.own[other] = out.own[other].max(j);
            if far_mm > SOON * pitch_mm {
                out.shared.extend(shared(&a[..=i], &b[..=j], pitch_mm));
            }
        }
    }
    out
}

/// The first places on two strokes, as far along each from the junction, that lie apart by `pitch_mm`;
/// `None` if they never do.
fn apart(a: &[Point], b: &[Point], pitch_mm: f64) -> Option<(usize, usize)> {
    let (mut j, mut on_a, mut on_b) = (0, 0.0, 0.0);
    for i in 1..a.len() {
        on_a += a[i].mm.distance(a[i - 1].mm);
        while on_b < on_a {
            j += 1;
            on_b += b.get(j)?.mm.distance(b[j - 1].mm);
        }
        if a[i].mm.distance(b[j].mm) >= pitch_mm {
            return Some((i, j));
        }
    }
    None
}

/// Places in the middle between two strokes at even steps from the junction to where they part.
///
/// With c the way down the middle to where they part, in stones and gaps, m shared stones lie d apart and
/// the last as far from the first two of their own: d² = (c - m d)² + 1/4.
fn shared(a: &[Point], b: &[Point], pitch_mm: f64) -> Vec<SurfacePoint> {
    let middles: Vec<(f64, SurfacePoint)> = a
        .iter()
        .zip(0..)
        .map(|(on_a, index)| {
            let on_b = &b[(index * (b.len() - 1)).div_ceil((a.len() - 1).max(1))];
            let middle = on_a.mm.midpoint(on_b.mm);
            let at = SurfacePoint {
                around: 0.5 * (on_a.at.around + on_b.at.around),
                along_mm: 0.5 * (on_a.at.along_mm + on_b.at.along_mm),
            };
            (middle.distance(a[0].mm) / pitch_mm, at)
        })
        .collect();
    let c = middles.last().map_or(0.0, |middle| middle.0);
    let step = |m: f64| {
        if m == 1.0 {
            return (c * c + 0.25) / (2.0 * c);
        }
        let (square, half) = (m * m - 1.0, c * m);
        (half - (half * half - square * (c * c + 0.25)).max(0.0).sqrt()) / square
    };
    let count = (1..=c as u32).rev().find(|m| step(f64::from(*m)) >= 1.0 + 1e-6).unwrap_or(0);
    let places = (1..=count).map(|k| f64::from(k) * step(f64::from(count)));
    places
        .filter_map(|far| middles.iter().find(|middle| middle.0 >= far).map(|middle| middle.1))
        .collect()
}
