//! How long a search has worked: by the clock or, on a machine that is shared, by the processor.

use std::time::Instant;

/// Threads that the search works on.
const THREADS: f64 = 2.0;
/// Ticks of a processor's time a second, as Linux tells them to programs.
const TICKS_PER_S: f64 = 100.0;

/// Time since the beginning of a search.
pub struct Clock {
    begun: Instant,
    /// What the process and the thread had worked at the beginning, s, if the processor counts.
    worked: Option<(f64, f64)>,
}

impl Clock {
    /// Begins now.
    ///
    /// # Panics
    /// If the processor is to count and the system does not tell how long it worked, as only Linux does.
    pub fn begin(processor: bool) -> Self {
        let worked = || (process_s().expect("Linux"), thread_s().expect("Linux"));
        Self { begun: Instant::now(), worked: processor.then(worked) }
    }

    /// Seconds of the search, as if it had its threads for itself.
    pub fn search_s(&self) -> f64 {
        match self.worked {
            Some((before, _)) => (process_s().unwrap_or(f64::INFINITY) - before) / THREADS,
            None => self.begun.elapsed().as_secs_f64(),
        }
    }

    /// Seconds that this thread alone has worked.
    pub fn thread_s(&self) -> f64 {
        match self.worked {
            Some((_, before)) => thread_s().unwrap_or(f64::INFINITY) - before,
            None => self.begun.elapsed().as_secs_f64(),
        }
    }
}

/// Processor time of the process and all its threads, s.
fn process_s() -> Option<f64> {
    let stat = std::fs::read_to_string("/proc/self/stat").ok()?;
    // Counted from the end of the name, which may hold blanks: fields 14 and 15 of the whole.
    let fields: Vec<&str> = stat.rsplit_once(')')?.1.split_whitespace().collect();
    let ticks = |field: usize| fields.get(field)?.parse::<f64>().ok();
    Some((ticks(11)? + ticks(12)?) / TICKS_PER_S)
}

/// Processor time of this thread, s.
fn thread_s() -> Option<f64> {
    let stat = std::fs::read_to_string("/proc/thread-self/schedstat").ok()?;
    Some(stat.split_whitespace().next()?.parse::<f64>().ok()? * 1e-9)
}
