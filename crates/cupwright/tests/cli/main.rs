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
mod orders;
mod output_folder;
mod pattern;
mod places;
mod price;
mod price_pages;
mod quoting;
mod room;
mod slips;
mod timetable;
