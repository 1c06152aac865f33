//! Chance without state: the same numbers for the same place, whichever thread asks.

/// Three well-mixed words from three words: the PCG3D hash of Jarzynski and Olano, "Hash Functions
/// for GPU Rendering", Journal of Computer Graphics Techniques 9(3), 2020.
pub(crate) fn pcg3d(key: [u32; 3]) -> [u32; 3] {
    let [mut x, mut y, mut z] = key.map(|w| w.wrapping_mul(1_664_525).wrapping_add(1_013_904_223));
    x = x.wrapping_add(y.wrapping_mul(z));
    y = y.wrapping_add(z.wrapping_mul(x));
    z = z.wrapping_add(x.wrapping_mul(y));
    x ^= x >> 16;
    y ^= y >> 16;
    z ^= z >> 16;
    x = x.wrapping_add(y.wrapping_mul(z));
    y = y.wrapping_add(z.wrapping_mul(x));
    z = z.wrapping_add(x.wrapping_mul(y));
    [x, y, z]
}

/// A word as a number in [0, 1).
pub(crate) fn unit(word: u32) -> f32 {
    (word >> 8) as f32 * (1.0 / 16_777_216.0)
}

/// Three numbers in [0, 1).
pub(crate) fn units(key: [u32; 3]) -> [f32; 3] {
    pcg3d(key).map(unit)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn chance_is_even_and_the_same_for_the_same_place() {
        let (mut sum, mut square, count) = (0.0_f64, 0.0_f64, 30_000);
        for i in 0..count / 3 {
            for u in units([i, i / 7, 5]) {
                assert!((0.0..1.0).contains(&u));
                sum += f64::from(u);
                square += f64::from(u * u);
            }
        }
        let mean = sum / f64::from(count);
        // Mean 1/2 and variance 1/12 of a uniform number (any textbook on probability).
        assert!((mean - 0.5).abs() < 0.01, "{mean}");
        assert!((square / f64::from(count) - mean * mean - 1.0 / 12.0).abs() < 0.005);
        assert_eq!(units([3, 1, 4]), units([3, 1, 4]));
    }
}
