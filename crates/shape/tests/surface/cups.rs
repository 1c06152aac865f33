//! Random cups.

use piece::{Measure, Run};
use proptest::prelude::*;

/// One stretch: length in mm, change of radius for each mm, smooth or not, crease or not.
fn stretch() -> impl Strategy<Value = (f64, f64, bool, bool)> {
    (3.0..60.0, -0.98..0.98, any::<bool>(), any::<bool>())
}

/// Measurements that a tape could bring: walls never steeper than their length, radii of 5 mm and
/// more. A smooth curve through them may still be impossible.
pub fn any_cup() -> impl Strategy<Value = Vec<Measure>> {
    (15.0..60.0, prop::collection::vec(stretch(), 1..7)).prop_map(|(start_mm, stretches)| {
        let mut measure = Measure {
            along_mm: 0.0,
            radius_mm: start_mm,
            run: Run::Straight,
            crease: false,
            radius_step_mm: 0.0,
        };
        let mut cup = vec![measure];
        for (length_mm, slope, smooth, crease) in stretches {
            // Smooth walls change slowly, or few of them could be drawn.
            let slope = if smooth { slope * 0.4 } else { slope };
            measure.along_mm += length_mm;
            measure.radius_mm = (measure.radius_mm + slope * length_mm).max(5.0);
            measure.run = if smooth { Run::Smooth } else { Run::Straight };
            measure.crease = crease;
            cup.push(measure);
        }
        cup
    })
}

/// Anything at all, typed or not: for the refusals.
pub fn any_numbers() -> impl Strategy<Value = Vec<Measure>> {
    let number = || {
        prop_oneof![
            any::<f64>(),
            -10.0..300.0,
            Just(0.0),
            Just(f64::NAN),
            Just(f64::INFINITY),
            Just(5e-324),
        ]
    };
    let measure = (number(), number(), any::<bool>(), any::<bool>()).prop_map(
        |(along_mm, radius_mm, smooth, crease)| Measure {
            along_mm,
            radius_mm,
            run: if smooth { Run::Smooth } else { Run::Straight },
            crease,
            radius_step_mm: 0.0,
        },
    );
    prop::collection::vec(measure, 0..6).prop_map(|mut measures| {
        // Half of the lists in order, so that more than the first check is reached.
        if measures.len() % 2 == 0 {
            measures.sort_by(|a, b| a.along_mm.total_cmp(&b.along_mm));
        }
        if let Some(first) = measures.first_mut() {
            first.along_mm = 0.0;
        }
        measures
    })
}
