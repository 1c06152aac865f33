//! A number by chance out of random bits, the same on every machine.

/// A throw from 0 up to, never quite, 1, from 64 bits at random, of which as many are used as an `f64`
/// tells apart.
pub fn unit_of(bits: u64) -> f64 {
    (bits >> 11) as f64 / (1_u64 << 53) as f64
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn it_begins_at_0_and_ends_one_step_before_1() {
        // 53 bits of significand (IEEE 754 binary64).
        assert_eq!(unit_of(0), 0.0);
        assert_eq!(unit_of(1 << 63), 0.5);
        assert_eq!(unit_of(u64::MAX), 1.0 - f64::EPSILON / 2.0);
    }
}
