//! One file for each command.

pub mod check;
pub mod compare;
pub mod completions;
pub mod demo;
pub mod licences;
pub mod plan;
pub mod schema;
