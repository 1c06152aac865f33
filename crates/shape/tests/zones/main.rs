//! Zones against closed forms, other libraries and what must always hold.

mod areas;
mod art;
mod bad_input;
mod distances;
mod letters;
mod support;
mod turning;
