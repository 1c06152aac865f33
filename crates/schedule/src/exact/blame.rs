//! Which links are to blame that a book has no plan, by trying without each.

use super::conflict::{Conflict, Reason};
use super::floor::least_end;
use super::lags::windows;
use super::model::Bounds;
use super::plain::Plain;
use super::solve::{Asking, Found, any};

/// Names the links of a book of which the solver has proved that it has no plan.
///
/// A deletion filter (Chinneck, "Feasibility and Infeasibility in Optimization", 2008, from memory):
/// a link without which there is still no plan is dropped for good. If `asking` stops it, the links
/// still contradict each other, but some may not be needed for that.
pub(super) fn blame(plain: &Plain, asking: &mut Asking) -> Conflict {
    let all: Vec<usize> = (0..plain.book.links.len()).collect();
    if has_plan(plain, &[], asking) == Some(false) {
        return Conflict::new(plain.book, Reason::Full);
    }
    let together = fewest(plain, all.clone(), asking);
    let loosen = loosen(plain, all, together.clone(), asking).unwrap_or_default();
    Conflict::new(plain.book, Reason::Links { together, loosen })
}

/// Links without which the whole book has a plan; nothing if it was stopped before that was known.
fn loosen(
    plain: &Plain,
    mut kept: Vec<usize>,
    mut guilty: Vec<usize>,
    asking: &mut Asking,
) -> Option<Vec<usize>> {
    let mut loosen = Vec::new();
    // Of each set that cannot be kept, the link with a greatest gap that leaves least room.
    while let Some(&link) = guilty.iter().min_by_key(|&&link| {
        let gap = &plain.book.links[link];
        (gap.most.is_none(), gap.most.map(|most| i64::from(most) - i64::from(gap.least)), link)
    }) {
        loosen.push(link);
        kept.retain(|&other| other != link);
        guilty = if has_plan(plain, &kept, asking)? {
            Vec::new()
        } else {
            fewest(plain, kept.clone(), asking)
        };
    }
    // What turned out not to be in the way is kept after all.
    let mut at = 0;
    while at < loosen.len() && loosen.len() > 1 {
        let mut more = kept.clone();
        more.push(loosen[at]);
        if has_plan(plain, &more, asking) == Some(true) {
            kept = more;
            loosen.remove(at);
        } else {
            at += 1;
        }
    }
    Some(loosen)
}

/// Links that cannot be kept together, of which none can be left out.
fn fewest(plain: &Plain, mut links: Vec<usize>, asking: &mut Asking) -> Vec<usize> {
    let mut at = links.len();
    // From the back, in ever smaller lots: most links have nothing to do with it.
    let mut lot = links.len().div_ceil(2);
    while lot > 0 {
        while at > 0 {
            let from = at.saturating_sub(lot);
            let mut fewer = links.clone();
            fewer.drain(from..at);
            if has_plan(plain, &fewer, asking) == Some(false) {
                links = fewer;
            }
            at = from;
        }
        at = links.len();
        lot = if lot == 1 { 0 } else { lot.div_ceil(2) };
    }
    links
}

/// Whether there is a plan that keeps these links; nothing if it was stopped.
fn has_plan(plain: &Plain, links: &[usize], asking: &mut Asking) -> Option<bool> {
    let mut fewer = plain.clone();
    fewer.arcs = plain.arcs_of(|link| links.contains(&link));
    let Some((early, late)) = windows(&fewer) else { return Some(false) };
    if least_end(&fewer, &early, &late).is_none() {
        return Some(false);
    }
    let bounds = Bounds { ends: fewer.ends(&late), early, late };
    match any(&fewer, &fewer.arcs, &bounds, asking) {
        Found::Begins(_) => Some(true),
        Found::Nothing => Some(false),
        Found::Stopped => None,
    }
}
