//! The progress bar on the terminal.

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};
use std::time::Duration;

const TICKS: f64 = 1000.0;

/// How far a plan has come. Draws on the error stream, and only on a terminal.
#[derive(Debug)]
pub struct Progress(ProgressBar);

impl Progress {
    /// A bar, or nothing at all if it should stay `hidden`.
    pub fn new(hidden: bool) -> Self {
        let target =
            if hidden { ProgressDrawTarget::hidden() } else { ProgressDrawTarget::stderr() };
        let bar = ProgressBar::with_draw_target(Some(TICKS as u64), target);
        if let Ok(style) = ProgressStyle::with_template("{spinner} {bar:32} {percent:>3} %  {msg}")
        {
            bar.set_style(style.progress_chars("█▌░"));
        }
        bar.enable_steady_tick(Duration::from_millis(120));
        Self(bar)
    }

    /// Shows what is being done and the share of the whole that is behind it.
    pub fn show(&self, share: f64, doing: &str) {
        self.0.set_position((share.clamp(0.0, 1.0) * TICKS) as u64);
        self.0.set_message(doing.to_owned());
    }

    /// Does something without the bar in the way.
    pub fn aside<T>(&self, something: impl FnOnce() -> T) -> T {
        self.0.suspend(something)
    }

    /// Takes the bar away.
    pub fn clear(&self) {
        self.0.finish_and_clear();
    }
}
