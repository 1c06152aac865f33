//! Zones against closed forms, other libraries and what must always hold.

mod areas;
mod support;
