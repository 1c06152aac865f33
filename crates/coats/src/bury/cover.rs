//! How high glitter stands and how much of it is solid.

use piece::Pressed;

/// Full layers of flakes that stay after pouring on and shaking off (our own simulation: a flake stays
/// if a fifth to a third of it touches the wet bed; 1.45 to 1.74 layers).
pub const LAYERS_HELD: f64 = 1.5;

/// Flakes stacked under the highest ones of one sprinkled layer (the 99th percentile of the Poisson
/// stack is 4 to 5; a choice, no source).
const STACKED: f64 = 4.0;

/// Share of the flakes that lie no higher than what is called the peak.
const MOST: f64 = 0.99;

/// The mean tilt of the flakes over that of the steepest in a hundred, for tilts of a half-normal
/// distribution: √(2/π) / 2.5758.
const MEAN_OF_STEEPEST: f64 = 0.797_885 / 2.575_829;

/// Glitter as it lies on a bed, before any clear resin.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sprinkled {
    /// Width of a flake across flats, mm.
    pub width_mm: f64,
    /// Thickness of a flake, mm.
    pub thickness_mm: f64,
    /// How many times it was sprinkled, each time on a fresh bed.
    pub layers: u32,
    /// How the flakes were laid down.
    pub pressed: Pressed,
}

/// Tilt of the steepest flakes, degrees (choices, no source).
fn steepest_deg(pressed: Pressed) -> f64 {
    match pressed {
        Pressed::Rolled => 15.0,
        Pressed::Patted => 20.0,
        Pressed::Loose => 30.0,
    }
}

/// The fewest flakes that at least 99 % of all places have no more of over them, where so many lie over
/// a place in the mean (Poisson distribution).
fn most_stacked(mean: f64) -> u32 {
    let mut chance = libm::exp(-mean);
    let (mut sum, mut flakes) = (chance, 0_u32);
    while sum < MOST && flakes < 1000 {
        flakes += 1;
        chance *= mean / f64::from(flakes);
        sum += chance;
    }
    flakes
}

impl Sprinkled {
    /// Full layers of flakes that it holds.
    pub fn held(&self) -> f64 {
        LAYERS_HELD * f64::from(self.layers)
    }

    /// Mean thickness of its flakes as a solid layer, mm.
    pub fn solid_mm(&self) -> f64 {
        self.held() * self.thickness_mm
    }

    /// Height of the highest flakes over the bed, mm: four stacked (more where it was sprinkled more than
    /// once, as the Poisson stack has it) and the topmost tilted.
    pub fn peak_mm(&self) -> f64 {
        let more = most_stacked(self.held()) - most_stacked(LAYERS_HELD);
        let tilt = steepest_deg(self.pressed).to_radians();
        (STACKED + f64::from(more)) * self.thickness_mm + self.width_mm * libm::sin(tilt)
    }

    /// Resin that its bare flakes drink from the first coat over them, as a mean thickness, mm: the
    /// wedges under tilted flakes, half the width times the sine of the mean tilt (a model, no source;
    /// common practice: 20 to 50 % more than a coat over coarse flakes).
    pub fn drinks_mm(&self) -> f64 {
        let tilt = MEAN_OF_STEEPEST * steepest_deg(self.pressed).to_radians();
        0.5 * self.width_mm * libm::sin(tilt)
    }
}
