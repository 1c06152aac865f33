//! Ctrl-C: a flag that long work looks at, so that it can stop with nothing half written.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

/// Whether someone asked for the work to stop.
#[derive(Debug, Clone, Default)]
pub struct Stop(Arc<AtomicBool>);

impl Stop {
    /// Listens for the interrupt and terminate signals from now on. A second one ends the program
    /// at once; what it leaves behind is a draft folder that the next plan clears away. If the
    /// system refuses to let us listen, the signals end the program at once.
    pub fn listen() -> Self {
        use signal_hook::consts::{SIGINT, SIGTERM};
        let stop = Self::default();
        for signal in [SIGINT, SIGTERM] {
            let at_once = crate::exit::Exit::Stopped.code().into();
            let _ =
                signal_hook::flag::register_conditional_shutdown(signal, at_once, stop.0.clone());
            let _ = signal_hook::flag::register(signal, stop.0.clone());
        }
        stop
    }

    /// Whether someone asked.
    pub fn asked(&self) -> bool {
        self.0.load(Ordering::Relaxed)
    }
}
