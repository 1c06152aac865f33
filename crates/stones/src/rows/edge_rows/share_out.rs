//! Stones of a row brought as near as can be to the places under those above, dropped and added where
//! the line has become too short or long for them.

use crate::rows::edge_rows::aligned::Line;

/// How far a stone may stray from its place, in pitches, before one is dropped.
const DROPS: f64 = 0.3;
/// One is added where no other gives way farther than this for it, in pitches.
const ADDS: f64 = 0.35;
/// How far stones stray to share gaps out, in pitches.
const EVENED: f64 = 0.25;
/// Rounds of sharing gaps out.
const ROUNDS: u32 = 12;

/// Places along a line, mm, for stones that would best lie at `feet`.
pub fn shared_out(line: &Line, feet: Vec<f64>, pitch_mm: f64) -> Vec<f64> {
    let Some(mut feet) = in_order(line, feet) else { return Vec::new() };
    let mut row = nearest(line, &feet, pitch_mm);
    // Drop where it is tightest.
    while !row.fits || strays(&row.places, &feet) > DROPS * pitch_mm {
        if feet.len() < 2 {
            return Vec::new();
        }
        feet.remove(tightest(&feet, &row.places));
        row = nearest(line, &feet, pitch_mm);
    }
    // Add where it is widest.
    let mut tried = 0;
    while tried < 3 {
        let gaps = gaps(line, &row.places);
        let mut widest: Vec<usize> = (0..gaps.len()).collect();
        widest.sort_by(|a, b| gaps[*b].1.total_cmp(&gaps[*a].1).then(a.cmp(b)));
        let Some(&(at, _)) = widest.get(tried).map(|k| &gaps[*k]) else { break };
        let mut more = feet.clone();
        let place = more.partition_point(|foot| *foot < at);
        more.insert(place, at);
        let grown = nearest(line, &more, pitch_mm);
        if grown.fits && gives_way(&row.places, &grown.places, place) <= ADDS * pitch_mm {
            (feet, row) = (more, grown);
            tried = 0;
        } else {
            tried += 1;
        }
    }
    let evened = evened(line, &row.places, &feet, pitch_mm);
    let last = nearest(line, &evened, pitch_mm);
    let places = if last.fits { last.places } else { row.places };
    let long_mm = line.long_mm();
    let mut places: Vec<f64> =
        places.iter().map(|at| if line.closed { at.rem_euclid(long_mm) } else { *at }).collect();
    places.sort_by(f64::total_cmp);
    places
}

/// Feet one after the other, those of a closed line begun after its widest gap.
fn in_order(line: &Line, mut feet: Vec<f64>) -> Option<Vec<f64>> {
    feet.sort_by(f64::total_cmp);
    let (first, last) = (*feet.first()?, *feet.last()?);
    if line.closed {
        let across = (first + line.long_mm() - last, 0);
        let widest = (1..feet.len())
            .map(|k| (feet[k] - feet[k - 1], k))
            .fold(across, |most, gap| if gap.0 > most.0 + 1e-9 { gap } else { most });
        feet.rotate_left(widest.1);
        let from = feet[0];
        feet.iter_mut().filter(|foot| **foot < from).for_each(|foot| *foot += line.long_mm());
    }
    Some(feet)
}

/// A row that keeps its distances.
struct Row {
    places: Vec<f64>,
    /// Whether the line is long enough.
    fits: bool,
}

/// The places nearest to the feet (least squares) that keep the pitch through space.
fn nearest(line: &Line, feet: &[f64], pitch_mm: f64) -> Row {
    let mut needs = vec![pitch_mm; feet.len()];
    let mut row = spaced(line, feet, &needs);
    // Where the line bends, the chord between two is shorter than the way.
    for _ in 0..3 {
        for (k, need) in needs.iter_mut().enumerate() {
            let Some(from) = row.places.get(k).copied() else { continue };
            *need = pitch_mm;
            for _ in 0..8 {
                let short_mm = pitch_mm - line.centre(from).distance(line.centre(from + *need));
                if short_mm < 1e-6 {
                    break;
                }
                *need += short_mm + 1e-6;
            }
        }
        row = spaced(line, feet, &needs);
    }
    row
}

/// The places nearest to the feet with at least `needs[k]` mm between stone k and the next: isotonic
/// regression of what is left when the needs are taken away (pool adjacent violators; Ayer, Brunk,
/// Ewing, Reid and Silverman 1955).
fn spaced(line: &Line, feet: &[f64], needs: &[f64]) -> Row {
    let mut sum = 0.0;
    let before: Vec<f64> = needs
        .iter()
        .map(|need| {
            let here = sum;
            sum += need;
            here
        })
        .collect();
    // Blocks: sum of what is left, and how many.
    let mut blocks: Vec<(f64, usize)> = Vec::new();
    for (foot, before) in feet.iter().zip(&before) {
        let mut block = (foot - before, 1);
        while let Some(last) = blocks.last().copied() {
            if last.0 / last.1 as f64 <= block.0 / block.1 as f64 {
                break;
            }
            blocks.pop();
            block = (block.0 + last.0, block.1 + last.1);
        }
        blocks.push(block);
    }
    let left = blocks.iter().flat_map(|(sum, count)| vec![sum / *count as f64; *count]);
    let long_mm = line.long_mm();
    if line.closed {
        let places: Vec<f64> = left.zip(&before).map(|(left, before)| left + before).collect();
        let turn = places[places.len() - 1] + needs[needs.len() - 1] - places[0];
        return Row { fits: turn <= long_mm + 1e-9, places };
    }
    let most = long_mm - before[before.len() - 1];
    let left = left.map(|left| left.min(most).max(0.0));
    Row {
        fits: most >= 0.0,
        places: left.zip(&before).map(|(left, before)| left + before).collect(),
    }
}

fn strays(places: &[f64], feet: &[f64]) -> f64 {
    places.iter().zip(feet).map(|(place, foot)| (place - foot).abs()).fold(0.0, f64::max)
}

/// How far at most stones move for one that is put in as number `at`, mm.
fn gives_way(before: &[f64], after: &[f64], at: usize) -> f64 {
    let was = |k: usize| before[if k < at { k } else { k - 1 }];
    let others = (0..after.len()).filter(|k| *k != at);
    others.map(|k| (after[k] - was(k)).abs()).fold(0.0, f64::max)
}

/// The stone to drop: of all that lie about one that strays most, the one nearest to the next.
fn tightest(feet: &[f64], places: &[f64]) -> usize {
    let strayed = |k: usize| (places[k] - feet[k]).abs();
    let most = (0..feet.len()).max_by(|a, b| strayed(*a).total_cmp(&strayed(*b))).unwrap_or(0);
    let reach = most.saturating_sub(12)..(most + 12).min(feet.len() - 1);
    reach
        .min_by(|a, b| (feet[a + 1] - feet[*a]).total_cmp(&(feet[b + 1] - feet[*b])))
        .unwrap_or(most)
}

/// Middles of gaps and how wide they are, mm; the ends of an open line are gaps too.
fn gaps(line: &Line, places: &[f64]) -> Vec<(f64, f64)> {
    let mut gaps: Vec<(f64, f64)> =
        places.windows(2).map(|two| ((two[0] + two[1]) / 2.0, two[1] - two[0])).collect();
    let (Some(first), Some(last)) = (places.first(), places.last()) else { return gaps };
    if line.closed {
        let wide_mm = first + line.long_mm() - last;
        gaps.push((last + wide_mm / 2.0, wide_mm));
    } else {
        gaps.push((0.0, 2.0 * first));
        gaps.push((line.long_mm(), 2.0 * (line.long_mm() - last)));
    }
    gaps
}

/// Stones drawn towards the middle between their neighbours, not far from their feet.
fn evened(line: &Line, places: &[f64], feet: &[f64], pitch_mm: f64) -> Vec<f64> {
    let count = places.len();
    let mut now = places.to_vec();
    if count < 3 {
        return now;
    }
    for _ in 0..ROUNDS {
        let was = now.clone();
        for k in 0..count {
            let before = match (k, line.closed) {
                (0, true) => was[count - 1] - line.long_mm(),
                (0, false) => continue,
                _ => was[k - 1],
            };
            let after = match (k + 1 == count, line.closed) {
                (true, true) => was[0] + line.long_mm(),
                (true, false) => continue,
                _ => was[k + 1],
            };
            let stray_mm = (EVENED * pitch_mm).max((places[k] - feet[k]).abs());
            let middle = (was[k] + (before + after) / 2.0) / 2.0;
            now[k] = middle.clamp(feet[k] - stray_mm, feet[k] + stray_mm);
        }
    }
    now
}
