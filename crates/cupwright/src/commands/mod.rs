//! One file for each command.

pub mod after;
pub mod blanks;
pub mod carry;
pub mod check;
pub mod coats;
pub mod compare;
pub mod completions;
pub mod demo;
pub mod grid;
pub mod licences;
pub mod measure;
pub mod plan;
pub mod price;
mod run;
pub mod schema;
pub mod shape;
pub mod timetable;
