//! Which zones of stones on a part are set in one go: those that no other finish comes between.

use piece::{Finish, Piece};

/// The zones of stones on a part, in runs, in the order of work.
pub fn runs_of(piece: &Piece, part: usize) -> Vec<Vec<usize>> {
    let mut runs: Vec<Vec<usize>> = Vec::new();
    let mut goes_on = false;
    for (zone, described) in piece.zones.iter().enumerate() {
        if described.part != part {
            continue;
        }
        let stones = matches!(described.finish, Finish::Stones(_));
        match runs.last_mut() {
            Some(last) if stones && goes_on => last.push(zone),
            _ if stones => runs.push(vec![zone]),
            _ => {}
        }
        goes_on = stones;
    }
    runs
}
