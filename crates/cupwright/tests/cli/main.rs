//! The real program, run as a person or a script runs it.

mod bad_input;
mod beside;
mod buy;
mod carry;
mod coats;
mod compare;
mod demo;
mod examples;
mod gltf;
mod handbook;
mod json;
mod killed;
mod lines;
mod measuring;
mod output_folder;
mod places;
mod room;
mod slips;
mod timetable;
