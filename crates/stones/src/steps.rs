//! Counts steps of work while this crate tests itself, so that a test can tell how soon a stop is answered.

#[cfg(test)]
mod counted {
    use std::cell::Cell;

    thread_local! {
        static DONE: Cell<u64> = const { Cell::new(0) };
    }

    /// One step more on this thread.
    pub fn step() {
        DONE.with(|done| done.set(done.get() + 1));
    }

    /// Steps so far on this thread.
    pub fn done() -> u64 {
        DONE.with(Cell::get)
    }
}

#[cfg(test)]
pub use counted::{done, step};

/// Told of a step; nobody counts.
#[cfg(not(test))]
#[inline(always)]
pub fn step() {}
