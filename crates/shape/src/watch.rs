//! Whether long work is to go on.

/// Tells how far the work is, and remembers that someone asked to stop it.
pub(crate) struct Watch<'a> {
    progress: &'a mut dyn FnMut(f64) -> bool,
    share: f64,
    stopped: bool,
}

impl<'a> Watch<'a> {
    /// `progress` is told the share done, and stops the work by returning false.
    pub(crate) fn new(progress: &'a mut dyn FnMut(f64) -> bool) -> Self {
        Self { progress, share: 0.0, stopped: false }
    }

    /// Whether to go on, when the part of the work from one share to another is at `done` of `of`.
    pub(crate) fn at(&mut self, (from, to): (f64, f64), done: usize, of: usize) -> bool {
        self.share = from + (to - from) * done as f64 / of.max(1) as f64;
        self.going()
    }

    /// Whether to go on.
    pub(crate) fn going(&mut self) -> bool {
        self.stopped = self.stopped || !(self.progress)(self.share);
        !self.stopped
    }

    /// Whether someone asked to stop; what was worked out since then is not whole.
    pub(crate) fn stopped(&self) -> bool {
        self.stopped
    }
}
