//! Resin: cure, the mixing cup and the mix, against closed forms, arithmetic and another solver.

mod data_sheet;
mod films;
mod mixing;
mod pot;
mod support;
