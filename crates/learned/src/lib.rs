//! What a studio's own records teach: minutes by kind of step, stones an hour by size and layout, losses of
//! materials, and how many pieces fail.
//!
//! Takes the settings and [`piece::Records`] and gives [`Learned`]: for each figure the standard of the
//! settings, what the records say, how sure that is and from how many lines; [`Learned::settings`] puts
//! what is learned into settings, which the road then plans with. It reads no clock and no file.
//! Read first: `figure.rs`, then `hours.rs`; `robust.rs` is the regression beneath all of it.

mod failures;
mod figure;
mod hours;
mod losses;
mod pace;
pub mod robust;
mod settings;
mod words;

pub use figure::{Figure, Found, Subject};

use piece::{Records, Settings};

/// Everything that the records say.
#[derive(Debug, Clone, PartialEq)]
pub struct Learned {
    /// Minutes of steps first, then stones an hour, losses, and failures.
    pub figures: Vec<Figure>,
}

/// Learns from records, with the settings as what is believed before.
pub fn learn(settings: &Settings, records: &Records) -> Learned {
    let mut figures = hours::times(settings, records);
    figures.extend(pace::setting(settings, records));
    figures.extend(losses::losses(settings, records));
    figures.push(failures::failures(settings, records));
    Learned { figures }
}
