//! Integrals over a stretch.

/// Places and weights of the Gauss–Legendre rule of eight points on -1 to 1, one half of them: the
/// other half mirrors it (Abramowitz & Stegun, Handbook of Mathematical Functions, table 25.4).
const HALF: [(f64, f64); 4] = [
    (0.183_434_642_495_649_8, 0.362_683_783_378_362),
    (0.525_532_409_916_329, 0.313_706_645_877_887_3),
    (0.796_666_477_413_626_7, 0.222_381_034_453_374_5),
    (0.960_289_856_497_536_3, 0.101_228_536_290_376_3),
];

/// The integral of `f` from `from` to `to`, in one piece: exact for polynomials of degree 15.
pub(super) fn integral(f: &dyn Fn(f64) -> f64, from: f64, to: f64) -> f64 {
    let (middle, half) = (f64::midpoint(from, to), 0.5 * (to - from));
    let pair = |&(place, weight): &(f64, f64)| {
        weight * (f(middle - half * place) + f(middle + half * place))
    };
    half * HALF.iter().map(pair).sum::<f64>()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_rule_is_exact_for_powers_up_to_the_fifteenth() {
        for power in 0..=15_u32 {
            let f = |x: f64| (0..power).fold(1.0, |product, _| product * x);
            let exact = 1.0 / f64::from(power + 1);
            assert!((integral(&f, 0.0, 1.0) - exact).abs() < 1e-14, "{power}");
        }
    }
}
