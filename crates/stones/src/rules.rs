//! What to say when the rules on sizes leave places without a stone.

use crate::asked::Asked;
use crate::fill::{Ground, Spot};
use crate::limits::Limits;
use crate::room;
use piece::{Diagnostic, FieldPath, StoneSize};
use shape::SurfacePoint;

/// Share of a zone that rules leave bare before it is worth a word.
const BARE: f64 = 0.005;

/// How many of the places of a zone every rule leaves bare, by itself and with the other.
#[derive(Debug, Default)]
struct Bare {
    of: usize,
    by_wear: usize,
    by_bond: usize,
    /// Places where either rule alone leaves a size, but not both.
    by_both: usize,
}

/// An error where rules leave no place for any size, or where one rule forbids what the other
/// leaves; a warning where they leave a part of the zone bare.
pub fn bare(
    ground: &Ground<'_>,
    asked: &Asked<'_>,
    path: &FieldPath,
    zone: &str,
) -> Vec<Diagnostic> {
    let Some(limits) = ground.limits else { return Vec::new() };
    let sizes = asked.sizes();
    let bare = counted(ground, limits, &sizes);
    let path = path.clone();
    let rules = &asked.finish.rules;
    let wear = rules.wear.map_or(String::new(), |(within_mm, least_mm)| {
        format!("\"wear\" (nothing under {least_mm} mm within {within_mm} mm of the ends)")
    });
    let bond = rules.bond_line_mm.map_or(String::new(), |bond_mm| {
        format!("\"bond_line\" (no flat back higher than {bond_mm} mm above the curved wall)")
    });
    let share = |count: usize| 100.0 * count as f64 / bare.of.max(1) as f64;
    if bare.by_both as f64 > BARE * bare.of as f64 {
        return vec![
            Diagnostic::error(
                path,
                format!(
                    "two rules of zone \"{zone}\" conflict: on {:.0} % of it {wear} and {bond} leave \
                     no size together",
                    share(bare.by_both).max(1.0)
                ),
            )
            .hint("Let smaller stones lie near the ends, or let the glue fill a thicker bond line."),
        ];
    }
    let mut found = Vec::new();
    for (count, rule, mend) in [
        (bare.by_wear, wear, "Add a larger size, or keep the zone away from the ends."),
        (bare.by_bond, bond, "Add a smaller size, or let the glue fill a thicker bond line."),
    ] {
        if bare.of > 0 && count == bare.of {
            let text = format!("the rule {rule} leaves no size for any place in zone \"{zone}\"");
            found.push(Diagnostic::error(path.clone(), text).hint(mend));
        } else if count as f64 > BARE * bare.of as f64 {
            let text = format!(
                "the rule {rule} leaves no size for {:.0} % of zone \"{zone}\": it stays bare",
                share(count).max(1.0)
            );
            found.push(Diagnostic::warning(path.clone(), text).hint(mend));
        }
    }
    found
}

fn counted(ground: &Ground<'_>, limits: &Limits, sizes: &[(&StoneSize, f64)]) -> Bare {
    let mut out = Bare::default();
    let any = |allows: &dyn Fn(f64) -> bool| sizes.iter().any(|(size, _)| allows(size.diameter_mm));
    for (at, _) in room::samples(ground).into_iter().filter(|(_, room_mm)| *room_mm > 0.0) {
        // A stone need not have its middle here to cover the place.
        let near = |diameter_mm: f64| beside(ground, at, 0.5 * diameter_mm);
        let wear = any(&|d| near(d).iter().any(|at| limits.wear_allows(*at, d, 0.0)));
        let bond = any(&|d| near(d).iter().any(|at| limits.bond_allows(*at, d)));
        let both = any(&|d| near(d).iter().any(|at| limits.allow(*at, d, 0.0)));
        out.of += 1;
        out.by_wear += usize::from(!wear);
        out.by_bond += usize::from(!bond);
        out.by_both += usize::from(wear && bond && !both);
    }
    out
}

/// A place and those so far up and down, left and right of it.
fn beside(ground: &Ground<'_>, at: SurfacePoint, by_mm: f64) -> [SurfacePoint; 5] {
    let frame = ground.frame(at);
    [(0.0, 0.0), (0.0, by_mm), (0.0, -by_mm), (by_mm, 0.0), (-by_mm, 0.0)]
        .map(|(right_mm, down_mm)| ground.moved(&frame, right_mm, down_mm))
}

/// Leaves out the stones that the rules forbid where an engine laid them; a warning says how many.
pub fn kept(
    ground: &Ground<'_>,
    asked: &Asked<'_>,
    spots: &mut Vec<Spot>,
    path: &FieldPath,
    zone: &str,
) -> Option<Diagnostic> {
    ground.limits?;
    let sizes = asked.sizes();
    let before = spots.len();
    spots.retain(|spot| ground.allows(spot.at, sizes[spot.size].0.diameter_mm));
    let gone = before - spots.len();
    (gone > 0).then(|| {
        let stones = if gone == 1 { "1 stone is" } else { &format!("{gone} stones are") };
        Diagnostic::warning(
            path.clone(),
            format!("{stones} left out of zone \"{zone}\": its rules allow no such size there"),
        )
        .hint("Choose a size that the rules allow there, or keep the zone away from the place.")
    })
}
