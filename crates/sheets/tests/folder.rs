//! The whole folder of a plan, read back and measured.

#[path = "folder/road.rs"]
mod road;

#[path = "folder/calendar.rs"]
mod calendar;
#[path = "folder/collar.rs"]
mod collar;
#[path = "folder/collar_fits.rs"]
mod collar_fits;
#[path = "folder/cut_lines.rs"]
mod cut_lines;
#[path = "folder/film.rs"]
mod film;
#[path = "folder/golden.rs"]
mod golden;
#[path = "folder/grid.rs"]
mod grid;
#[path = "folder/layers.rs"]
mod layers;
#[path = "folder/pages.rs"]
mod pages;
#[path = "folder/pdf.rs"]
mod pdf;
#[path = "folder/sides.rs"]
mod sides;
#[path = "folder/svg.rs"]
mod svg;
#[path = "folder/tables.rs"]
mod tables;
#[path = "folder/writing.rs"]
mod writing;
