//! Dice that fall alike on every machine.

use piece::chance::unit_of;
use rand_core::Rng;
use rand_pcg::Pcg64;

/// A throw from 0 up to, never quite, 1.
pub fn unit(chance: &mut Pcg64) -> f64 {
    unit_of(chance.next_u64())
}

/// One of so many, from 0; at least one.
pub fn one_of(chance: &mut Pcg64, count: usize) -> usize {
    // Before it is cut to the width of the machine, so that it is the same on all.
    (chance.next_u64() % count as u64) as usize
}
