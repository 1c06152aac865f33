//! One file for each command.

pub mod blanks;
pub mod buy;
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
mod run;
pub mod schema;
pub mod shape;
pub mod timetable;
