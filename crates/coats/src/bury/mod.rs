//! Glitter, edges of film and paint, buried under clear resin.

mod coats_needed;
mod cover;
pub mod flake;
mod zones;

pub use coats_needed::{
    Burial, BuryCoat, BuryKind, BuryPlan, Relief, bury, bury_plan, coat_added_mm,
};
pub use cover::{LAYERS_HELD, Sprinkled};
pub use zones::BuriedEdge;
pub(crate) use zones::{USUAL_FILM_MM, buried, edges};
