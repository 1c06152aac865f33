//! Counts steps of work while this crate tests itself, so that a test can tell how soon a stop is answered.

#[cfg(test)]
thread_local! {
    static DONE: std::cell::Cell<u64> = const { std::cell::Cell::new(0) };
}

/// One step more on this thread; but for tests nobody counts.
#[inline(always)]
pub fn step() {
    #[cfg(test)]
    DONE.with(|done| done.set(done.get() + 1));
}

/// Steps so far on this thread.
#[cfg(test)]
pub fn done() -> u64 {
    DONE.with(std::cell::Cell::get)
}
