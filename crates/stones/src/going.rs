//! Whether long work is to go on: asked step by step, so that a stop is answered soon.

use std::fmt;

/// Steps between two questions.
const AT_ONCE: usize = 512;

/// Asks whether to go on. Once the answer was no it stays no, and what is worked out from then on is
/// thrown away.
#[derive(Clone, Copy)]
pub struct Going<'a>(&'a (dyn Fn() -> bool + Sync));

impl<'a> Going<'a> {
    /// Asks this.
    pub fn new(ask: &'a (dyn Fn() -> bool + Sync)) -> Self {
        Self(ask)
    }

    /// For work that nobody stops.
    pub fn always() -> Self {
        Self(&|| true)
    }

    /// Whether to go on.
    pub fn on(&self) -> bool {
        (self.0)()
    }

    /// Whether to go on with this of many small steps.
    pub fn at(&self, step: usize) -> bool {
        !step.is_multiple_of(AT_ONCE) || self.on()
    }
}

impl fmt::Debug for Going<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("Going")
    }
}
