//! How a run ends: the exit codes that the help text and the handbook list.

use std::process::ExitCode;

/// The end of a run.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Exit {
    /// Everything asked for is done.
    Fine,
    /// The piece file or the studio file needs mending.
    Mend,
    /// The command line was not understood.
    Usage,
    /// A file or folder could not be read or written.
    Files,
    /// Cupwright itself is at fault.
    Fault,
    /// Stopped by the person or the system; nothing was written.
    Stopped,
}

impl Exit {
    /// The number that the shell sees; 130 is 128 and the number of the interrupt signal (POSIX).
    pub fn code(self) -> u8 {
        match self {
            Self::Fine => 0,
            Self::Mend => 1,
            Self::Usage => 2,
            Self::Files => 3,
            Self::Fault => 4,
            Self::Stopped => 130,
        }
    }
}

impl From<Exit> for ExitCode {
    fn from(exit: Exit) -> Self {
        Self::from(exit.code())
    }
}
