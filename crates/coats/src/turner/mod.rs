//! The coat on the turning cup: how much it can carry, how it levels, and what stays in it.
//!
//! Pure functions of a resin's density, surface tension and viscosity, of the turner's speed and of
//! the shape. Lengths mm, times min, angles radians outside; SI inside the formulas. How the
//! viscosity rises is left to the caller: as a function of the minutes since the pour, or as the
//! fluidity gathered until the resin gels ([`liquid::fluidity_per_pa`]).
//! Read first: `liquid.rs`, then `load.rs`.

pub mod allowed;
pub mod along;
pub mod bubble;
pub mod edge;
pub mod flat;
pub mod level;
pub mod liquid;
pub mod load;
mod quadrature;
pub mod ripple;

pub use allowed::{Allowed, Fate, Moment, TurnedCoat, allowed};
pub use along::{Along, Place, allowed_along};
pub use edge::{Edge, edge};
pub use liquid::{Liquid, Viscosity, fluidity_per_pa};
pub use load::{Pattern, Turning};
