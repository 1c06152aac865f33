//! How near a blend came to the one asked for, and what kept it away.

use crate::asked::Asked;
use crate::fill::{Ground, Spot};
use crate::room;
use piece::{Blend, Diagnostic, FieldPath, StoneSize};
use shape::SurfacePoint;

/// Points by which the realised share of a size may miss the one asked for.
const SLACK: f64 = 0.02;

/// Share of a zone that rules close to a size before they are named as the cause.
const CLOSED: f64 = 0.05;

/// A warning where the share of a size is off: what it came to, which size kept the blend away, and
/// why. Of each size there are at most so many as `most` says, if it says anything.
pub fn missed(
    ground: &Ground<'_>,
    asked: &Asked<'_>,
    most: &[Option<usize>],
    spots: &[Spot],
    path: &FieldPath,
) -> Option<Diagnostic> {
    if asked.layer.blend == Blend::Free || asked.layer.grade.is_some() {
        return None;
    }
    let sizes = asked.sizes();
    let (what, weight): (_, &dyn Fn(f64) -> f64) = match asked.layer.blend {
        Blend::Area => ("the covered area", &|diameter_mm| diameter_mm * diameter_mm),
        Blend::Count | Blend::Free => ("the stones", &|_| 1.0),
    };
    let mut sums = vec![0.0; sizes.len()];
    for spot in spots {
        sums[spot.size] += weight(sizes[spot.size].0.diameter_mm);
    }
    let total: f64 = sums.iter().sum();
    let mut missed = Vec::new();
    let mut blocks: Option<(f64, usize)> = None;
    for (index, (size, share)) in sizes.iter().enumerate() {
        let is = sums[index] / total.max(f64::MIN_POSITIVE);
        // One stone more or less is no fault of the blend.
        let one = weight(size.diameter_mm) / total.max(f64::MIN_POSITIVE);
        if (is - share).abs() > SLACK.max(one) {
            missed.push(format!(
                "{} came to {:.0} % of {what} instead of {:.0} %",
                size.name,
                is * 100.0,
                share * 100.0
            ));
        }
        if blocks.is_none_or(|(most, _)| share - is > most) {
            blocks = Some((share - is, index));
        }
    }
    let (_, blocks) = blocks?;
    (!missed.is_empty()).then(|| {
        let size = sizes[blocks].0;
        let laid = spots.iter().filter(|spot| spot.size == blocks).count();
        let all = most.get(blocks).copied().flatten().is_some_and(|most| laid >= most);
        let (why, mend) = if all { used_up(size) } else { cause(ground, size) };
        Diagnostic::warning(
            path.key("sizes"),
            format!("the blend was not met: {}; {why}", missed.join(", ")),
        )
        .hint(mend)
    })
}

/// What to say of a size of which the drawer holds no more, and what to do.
fn used_up(size: &StoneSize) -> (String, String) {
    let name = &size.name;
    let why = format!("the drawer holds no more of {name}");
    (why, format!("Buy more of {name}, or ask for less of it."))
}

/// Why a size found no place: no room anywhere, a rule, or other stones.
fn cause(ground: &Ground<'_>, size: &StoneSize) -> (String, String) {
    let (name, diameter_mm) = (&size.name, size.diameter_mm);
    let widest_mm = room::widest_mm(ground);
    if diameter_mm > widest_mm {
        let why = format!(
            "{name} is {diameter_mm} mm wide, and the widest place of the zone takes {widest_mm:.1} mm"
        );
        return (why, format!("Make the zone wider, or leave {name} out."));
    }
    let roomy: Vec<SurfacePoint> = room::samples(ground)
        .into_iter()
        .filter(|(_, clear_mm)| 2.0 * clear_mm >= diameter_mm)
        .map(|(at, _)| at)
        .collect();
    if let Some(limits) = ground.limits {
        let closed = |allows: &dyn Fn(SurfacePoint) -> bool| {
            roomy.iter().filter(|at| !allows(**at)).count() as f64 / roomy.len().max(1) as f64
        };
        let by_wear = closed(&|at| limits.wear_allows(at, diameter_mm, 0.0));
        let by_bond = closed(&|at| limits.bond_allows(at, diameter_mm));
        let (share, rule) =
            if by_bond > by_wear { (by_bond, "bond_line") } else { (by_wear, "wear") };
        if share > CLOSED {
            let where_to = if share < 1.0 {
                format!("out of {:.0} % of the places that are wide enough", share * 100.0)
            } else {
                "out of the whole zone".into()
            };
            let why = format!("the rule \"{rule}\" keeps {name} {where_to}");
            return (why, format!("Ask for less of {name}, or ease the rule."));
        }
    }
    let why = format!("{name} finds too little room, and places that only others fit are filled");
    (why, format!("Give the zone more room, or ask for less of {name}."))
}
