//! Zones against closed forms, other libraries and what must always hold.

// Nothing computed here leaves the test, so any sine will do.
#![allow(clippy::disallowed_methods)]

mod areas;
mod art;
mod bad_input;
mod copies;
mod distances;
mod film_joins;
mod fine;
mod handles;
mod layers;
mod letters;
mod lying;
mod motif_limits;
mod motif_shapes;
mod motifs;
mod name_bands;
mod outlines;
mod support;
mod traced;
mod turning;
mod unions;
