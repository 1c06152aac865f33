//! One file for each command.

pub mod after;
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
pub mod order;
pub mod papers;
pub mod pattern;
pub mod plan;
pub mod price;
pub mod quote;
mod run;
pub mod schema;
pub mod shape;
pub mod timetable;
