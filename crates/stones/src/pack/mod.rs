//! Mixed sizes packed as close as they go: a draft from the rim down, then rounds of squeezing.
//!
//! The draft lays every stone where it touches two others (`draft.rs`). Squeezing adds a few stones
//! too many, lets all give way together (`relax.rs`) while sizes are exchanged between crowded and
//! loose places (`squeeze.rs`). With free choice stones are also taken away and others laid there
//! (`anew/`). Wide holes that are left are closed one by one (`windows.rs`). Work is counted in rounds,
//! never in seconds, and sums are taken in the same order by any number of threads, so the same order
//! gives the same spots everywhere. Distances are straight ones through space (`chart.rs`): nothing is
//! unrolled and there is no seam.
//! Read first: `board.rs`, then `draft.rs`, then `squeeze.rs`.

mod anew;
mod board;
mod cells;
mod chart;
mod draft;
mod finish;
mod grade;
mod laid;
mod meeting;
mod pocket;
mod relax;
mod rounds;
mod squeeze;
mod voids;
mod walls;
mod window;
mod windows;

use crate::fill::{Engine, Ground, Obstacle, Order, Show, Spot};
use crate::going::Going;
use crate::rows::Rows;
use board::{Board, Disc};
use chart::Place;
use draft::{Course, Draft};
use finish::finish;
use laid::Laid;
use piece::{Blend, Layout};
use rounds::{rounds, squeezed};
use shape::SurfacePoint;

/// Share of the progress that the draft is taken to be.
const DRAFT_SHARE: f64 = 0.1;

/// Stones laid in all drafts of a small ground together, and most drafts.
const DRAFTED: usize = 4000;
const MOST_DRAFTS: usize = 8;

/// Mixed sizes without order.
#[derive(Debug, Clone, Copy)]
pub struct Pack;

impl Engine for Pack {
    fn fill(
        &self,
        ground: &Ground<'_>,
        order: &Order,
        progress: &mut dyn FnMut(f64) -> bool,
    ) -> Vec<Spot> {
        self.fill_shown(ground, order, progress, None)
    }

    fn fill_shown(
        &self,
        ground: &Ground<'_>,
        order: &Order,
        progress: &mut dyn FnMut(f64) -> bool,
        mut show: Option<&mut Show<'_>>,
    ) -> Vec<Spot> {
        if order.sizes.is_empty() {
            return Vec::new();
        }
        let board = Board::new(ground, order);
        let (mut best, mut going) =
            drafted(&board, order.seed, &mut |share| progress(DRAFT_SHARE * share));
        if going && order.sizes.len() == 1 {
            // One size lies closest in rows.
            let mut told = |_| {
                going = going && progress(DRAFT_SHARE);
                going
            };
            let rows = in_rows(&board, order, &mut told);
            if rows.len() > best.len() {
                best = rows;
            }
        }
        if !going {
            // Nobody waits for a layout that was stopped.
            return Vec::new();
        }
        let spots = |laid: &[Disc], going: &mut dyn FnMut() -> bool| -> Vec<Spot> {
            let finished = finish(&board, laid, going).into_iter();
            finished.map(|(at, size)| Spot { at, size, row: 0 }).collect()
        };
        let mut shown = |laid: &[Disc], going: &mut dyn FnMut() -> bool| {
            if let Some(show) = &mut show {
                let spots = spots(laid, going);
                if going() {
                    show(&spots);
                }
            }
        };
        let asked = match order.layout {
            Layout::Scatter { rounds } => rounds,
            _ => None,
        };
        let rounds = asked.unwrap_or_else(|| rounds(&board, best.len()));
        let mut tell = |share: f64| {
            going = going && progress(DRAFT_SHARE + (1.0 - DRAFT_SHARE) * share);
            going
        };
        shown(&best, &mut || tell(0.0));
        best = squeezed(&board, best, order.seed, rounds, &mut tell, &mut shown);
        let mut draft = Draft::new(&board, Laid::with(&board, &best), order.seed);
        let ours = board.fixed.len()..board.fixed.len() + best.len();
        draft.fill_beside(ours, &mut || tell(1.0));
        best = draft.laid.discs.split_off(board.fixed.len());
        spots(&best, &mut || tell(1.0))
    }
}

/// The best of a few drafts on a small ground, where chance and course weigh most; one on a large one. False if
/// `progress` stopped it.
fn drafted(
    board: &Board<'_>,
    seed: [u64; 2],
    progress: &mut dyn FnMut(f64) -> bool,
) -> (Vec<Disc>, bool) {
    let (mut best, mut best_worth) = (Vec::new(), f64::NEG_INFINITY);
    let (mut done, mut drafts) = (0, 1);
    while done < drafts {
        let dice = [seed[0], seed[1].wrapping_add(done)];
        let mut draft = Draft::new(board, Laid::new(board), dice).going(Course::of(done));
        // How many there will be is known after the first, which counts for half.
        let mut tell = |share: f64| match done {
            0 => progress(share / 2.0),
            done => progress(0.5 + 0.5 * (done as f64 - 1.0 + share) / (drafts as f64 - 1.0)),
        };
        let going = draft.fill(&mut tell);
        let laid = draft.laid.discs.split_off(board.fixed.len());
        if done == 0 {
            drafts = (DRAFTED / laid.len().max(1)).clamp(1, MOST_DRAFTS) as u64;
        }
        let worth = squeeze::worth_of(board, &board.shares, &laid);
        if worth > best_worth {
            (best, best_worth) = (laid, worth);
        }
        if !going {
            return (best, false);
        }
        done += 1;
    }
    (best, true)
}

/// How many holes wider than this a layout leaves: circles between the stones' girdles and the edges,
/// no two of which overlap by more than a third.
pub fn voids_wider_than(
    ground: &Ground<'_>,
    order: &Order,
    spots: &[Spot],
    width_mm: f64,
) -> usize {
    let board = Board::new(ground, order);
    let laid = Laid::with(&board, &spots.iter().map(|spot| disc(&board, spot)).collect::<Vec<_>>());
    voids::voids(&board, &laid, width_mm / 2.0, board.half_gap_mm, &mut || true).len()
}

/// Middles of the holes that stones leave, twice over: circles of at least the first radius that touch
/// no reach and no edge where every stone reaches as far as its first reach, and the same of the second;
/// no two of which overlap by more than a third. Stones are their places with both reaches round them, mm;
/// obstacles count too, with their girdle, and with the larger of their gap and `gap_mm` round it.
pub(crate) fn holes(
    ground: &Ground<'_>,
    stones: &[(SurfacePoint, [f64; 2])],
    gap_mm: f64,
    least_mm: [f64; 2],
    going: Going<'_>,
) -> [Vec<SurfacePoint>; 2] {
    let reaches =
        |set: &Obstacle| [0.0, set.gap_mm.max(gap_mm)].map(|gap_mm| set.diameter_mm / 2.0 + gap_mm);
    let widest_mm = stones.iter().map(|stone| stone.1).chain(ground.obstacles.iter().map(reaches));
    // Edges are known as far off as somewhat more than the widest reach.
    let widest_mm = widest_mm.flatten().chain(least_mm).fold(0.0, f64::max);
    let order = Order {
        sizes: vec![(2.0 * widest_mm, 1.0)],
        gap_mm: 0.0,
        layout: Layout::Pockets,
        blend: Blend::Free,
        grade: None,
        most: Vec::new(),
        seed: [0, 0],
    };
    let bare = Ground { obstacles: &[], ..*ground };
    let board = Board::new(&bare, &order);
    let others =
        ground.obstacles.iter().map(|set| (board.chart.beside(set.centre_mm), reaches(set)));
    let own = stones.iter().map(|(at, reaches)| (board.chart.place_at(*at), *reaches));
    let places: Vec<(Place, [f64; 2])> = own.chain(others).collect();
    let found = |which: usize| -> Vec<SurfacePoint> {
        let disc = |(place, reaches): &(Place, [f64; 2])| Disc {
            place: *place,
            reach_mm: reaches[which],
            size: 0,
        };
        let laid = Laid::with(&board, &places.iter().map(disc).collect::<Vec<_>>());
        let voids = voids::voids(&board, &laid, least_mm[which], 0.0, &mut || going.on());
        voids.iter().map(|hole| board.chart.to_surface(&hole.place)).collect()
    };
    rayon::join(|| found(0), || found(1)).into()
}

fn disc(board: &Board<'_>, spot: &Spot) -> Disc {
    Disc {
        place: board.chart.place_at(spot.at),
        reach_mm: board.reach_mm(spot.size),
        size: spot.size,
    }
}

/// Level rows of the one size.
fn in_rows(board: &Board<'_>, order: &Order, progress: &mut dyn FnMut(f64) -> bool) -> Vec<Disc> {
    Rows.fill(board.ground, order, progress).iter().map(|spot| disc(board, spot)).collect()
}
