//! What a mix of a few colours can show.

/// Enough for a hundredth of a unit with any number of colours met so far.
const STEPS: usize = 200;
/// How much nearer a step must be able to come, squared units.
const LEAST: f64 = 1e-4;

/// How much a mix of near colours is liked better than one of far ones that comes to the same.
const NEAR: f64 = 0.002;

/// A mix of colours.
#[derive(Debug, Clone)]
pub struct Mix {
    /// What it shows.
    pub light: [f64; 3],
    /// Share of each colour; they sum to 1.
    pub shares: Vec<f64>,
}

/// The mix of `colours` that lies nearest to `wanted`, out of the ones that come to it the one of the
/// nearest colours: share is moved from the colour that helps least to the one that helps most
/// (pairwise Frank-Wolfe; Lacoste-Julien and Jaggi 2015).
pub fn nearest_mix(colours: &[[f64; 3]], wanted: [f64; 3]) -> Mix {
    let far: Vec<f64> = colours.iter().map(|colour| squared(minus(*colour, wanted))).collect();
    let first = (0..colours.len()).min_by(|a, b| far[*a].total_cmp(&far[*b])).unwrap_or(0);
    let mut shares = vec![0.0; colours.len()];
    shares[first] = 1.0;
    let mut light = colours[first];
    for _ in 0..STEPS {
        let miss = minus(light, wanted);
        let slope: Vec<f64> = colours
            .iter()
            .zip(&far)
            .map(|(colour, far)| dot(miss, *colour) + NEAR / 2.0 * far)
            .collect();
        let best =
            (0..colours.len()).min_by(|a, b| slope[*a].total_cmp(&slope[*b])).unwrap_or(first);
        let worst = (0..colours.len())
            .filter(|colour| shares[*colour] > 0.0)
            .max_by(|a, b| slope[*a].total_cmp(&slope[*b]))
            .unwrap_or(first);
        let gain = slope[worst] - slope[best];
        if gain < LEAST {
            break;
        }
        let way = minus(colours[worst], colours[best]);
        let part = (gain / squared(way).max(f64::MIN_POSITIVE)).min(shares[worst]);
        shares[worst] -= part;
        shares[best] += part;
        light = minus(light, way.map(|one| one * part));
    }
    Mix { light, shares }
}

fn minus(a: [f64; 3], b: [f64; 3]) -> [f64; 3] {
    [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
}

fn dot(a: [f64; 3], b: [f64; 3]) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

fn squared(a: [f64; 3]) -> f64 {
    dot(a, a)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_mix_is_the_colour_wanted_or_the_foot_on_the_nearest_face() {
        let corners = [[0.0, 0.0, 0.0], [9.0, 0.0, 0.0], [0.0, 9.0, 0.0], [0.0, 0.0, 9.0]];
        let inside = nearest_mix(&corners, [2.0, 2.5, 3.0]).light;
        assert!(squared(minus(inside, [2.0, 2.5, 3.0])) < 0.05, "{inside:?}");
        // The foot of the perpendicular on the slanted face x + y + z = 9 (plain geometry).
        let outside = nearest_mix(&corners, [6.0, 5.0, 4.0]).light;
        assert!(squared(minus(outside, [4.0, 3.0, 2.0])) < 0.05, "{outside:?}");
        let corner = nearest_mix(&corners, [20.0, -3.0, -1.0]).light;
        assert!(squared(minus(corner, corners[1])) < 0.05, "{corner:?}");
    }
}
