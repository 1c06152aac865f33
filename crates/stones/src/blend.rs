//! How near a blend came to the one asked for, and what kept it away.

use crate::asked::Asked;
use crate::fill::Spot;
use piece::{Blend, Diagnostic, FieldPath};

/// Points by which the realised share of a size may miss the one asked for.
const SLACK: f64 = 0.02;

/// A warning where the share of a size is off: what it came to, and which size kept the blend away.
pub fn missed(asked: &Asked<'_>, spots: &[Spot], path: &FieldPath) -> Option<Diagnostic> {
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
        let name = &sizes[blocks].0.name;
        Diagnostic::warning(
            path.key("sizes"),
            format!("the blend was not met: {}; {name} finds too little room", missed.join(", ")),
        )
        .hint(format!("Give the zone more room, or ask for less of {name}."))
    })
}
