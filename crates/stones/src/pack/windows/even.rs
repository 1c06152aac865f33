//! A wide hole shared out among its neighbours: as many stones of each size as before, none of them
//! round a hole that shows.

use super::{Found, Window, Windows};
use crate::chance::{one_of, unit};
use crate::pack::board::Disc;
use crate::pack::chart::{distance_squared, slopes};
use crate::quality::WIDE_HOLE_MM;
use rand_pcg::Pcg64;

/// Times that it is tried, each with other dice.
const TRIES: u32 = 4;
/// Stones about the hole of which one moves or takes another size.
const ABOUT_HOLE: usize = 5;
/// Steps of the grid on which holes are looked for, mm, and how much narrower a hole seems from the
/// nearest point of it.
const STEP_MM: f64 = 0.25;
const NARROWER_MM: f64 = 0.09;

impl Windows<'_, '_> {
    /// A stone beside the hole moves into it or changes its size with one farther off, and all give
    /// way; kept where less of the window is a wide hole than before.
    pub(super) fn evened(&self, window: &Window, chance: &mut Pcg64) -> Found {
        let own: Vec<Disc> = window.moving.iter().map(|number| self.ours[*number]).collect();
        let mut near: Vec<(f64, usize)> = (own.iter().enumerate())
            .map(|(k, disc)| {
                (distance_squared(&disc.place, &window.middle).sqrt() - disc.reach_mm, k)
            })
            .collect();
        near.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        if near.len() <= ABOUT_HOLE {
            return None;
        }
        let before = self.wide(window, &own);
        for _ in 0..TRIES {
            let mut discs = own.clone();
            let beside = near[one_of(chance, ABOUT_HOLE)].1;
            if unit(chance) < 0.5 {
                let farther = near[ABOUT_HOLE + one_of(chance, near.len() - ABOUT_HOLE)].1;
                self.change_sizes(&mut discs, beside, farther);
            }
            let place = &discs[beside].place;
            let (_, right, down) = slopes(place, &window.middle);
            let share = -unit(chance);
            discs[beside].place = self.board.chart.moved(place, share * right, share * down);
            if let Some(found) = self.relaxed(window, &discs, chance)
                && self.wide(window, &found) < before
            {
                return Some(found);
            }
        }
        None
    }

    /// The larger size goes to the stone beside the hole.
    fn change_sizes(&self, discs: &mut [Disc], beside: usize, farther: usize) {
        let board = self.board;
        let (a, b) = (discs[beside], discs[farther]);
        if b.reach_mm > a.reach_mm && board.may(&a.place, b.size) && board.may(&b.place, a.size) {
            discs[beside] = Disc { place: a.place, ..b };
            discs[farther] = Disc { place: b.place, ..a };
        }
    }

    /// Points of a grid about the window's middle that are the middle of a wide hole, or nearly.
    fn wide(&self, window: &Window, own: &[Disc]) -> usize {
        let board = self.board;
        let least_mm = 0.5 * WIDE_HOLE_MM - NARROWER_MM;
        let steps = (window.within_mm / STEP_MM).ceil() as i32;
        let mut count = 0;
        for row in -steps..=steps {
            for column in -steps..=steps {
                let (right, down) = (f64::from(column) * STEP_MM, f64::from(row) * STEP_MM);
                let place = board.chart.moved(&window.middle, right, down);
                let free = |disc: &Disc| {
                    let least = disc.reach_mm - board.half_gap_mm + least_mm;
                    distance_squared(&disc.place, &place) >= least * least
                };
                let wide = own.iter().chain(&window.still).all(free)
                    && board.walls.room_mm(&place) >= least_mm
                    && board.holds_centre(&place);
                count += usize::from(wide);
            }
        }
        count
    }
}
