//! How far parts that are filled at the same time have come together.

use crate::Stone;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Mutex, PoisonError};

/// Told the share that is behind; stops the work by returning false.
pub type Progress<'a> = dyn FnMut(f64) -> bool + Send + 'a;

/// Shown the stones of a layer, each time they are laid closer.
pub type Show<'a> = dyn FnMut(&[Stone]) + Send + 'a;

struct Behind<'a> {
    /// Zones that are behind, by part.
    zones: Vec<f64>,
    progress: &'a mut Progress<'a>,
}

/// How far all parts have come together.
pub struct Meter<'a> {
    behind: Mutex<Behind<'a>>,
    zones: f64,
    stopped: AtomicBool,
    show: Option<Mutex<&'a mut Show<'a>>>,
}

impl<'a> Meter<'a> {
    /// Parts with so many zones.
    pub fn new(
        zones: impl Iterator<Item = usize>,
        progress: &'a mut Progress<'a>,
        show: Option<&'a mut Show<'a>>,
    ) -> Self {
        let zones: Vec<f64> = zones.map(|count| count as f64).collect();
        Self {
            zones: zones.iter().sum(),
            behind: Mutex::new(Behind { zones: vec![0.0; zones.len()], progress }),
            stopped: AtomicBool::new(false),
            show: show.map(Mutex::new),
        }
    }

    /// Tells that `done` zones of a part are behind; false if the work is to stop.
    pub fn tell(&self, part: usize, done: f64) -> bool {
        if self.is_stopped() {
            return false;
        }
        // A hand that panicked takes the program with it anyway.
        let mut behind = self.behind.lock().unwrap_or_else(PoisonError::into_inner);
        behind.zones[part] = done;
        self.ask(&mut behind)
    }

    /// Asks whether to go on, with as much behind as before.
    pub fn goes_on(&self) -> bool {
        if self.is_stopped() {
            return false;
        }
        let mut behind = self.behind.lock().unwrap_or_else(PoisonError::into_inner);
        self.ask(&mut behind)
    }

    fn ask(&self, behind: &mut Behind<'_>) -> bool {
        let share = behind.zones.iter().sum::<f64>() / self.zones.max(1.0);
        let going = (behind.progress)(share);
        if !going {
            self.stopped.store(true, Ordering::Relaxed);
        }
        going
    }

    /// Whether somebody looks on.
    pub fn is_watched(&self) -> bool {
        self.show.is_some()
    }

    /// Shows stones to whoever looks on.
    pub fn show(&self, stones: &[Stone]) {
        if let Some(show) = &self.show {
            show.lock().unwrap_or_else(PoisonError::into_inner)(stones);
        }
    }

    /// Whether it was stopped.
    pub fn is_stopped(&self) -> bool {
        self.stopped.load(Ordering::Relaxed)
    }
}
