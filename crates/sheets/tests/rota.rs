//! The files of a timetable of many pieces, read back.

#[path = "rota/bench.rs"]
mod bench;
#[path = "rota/calendars.rs"]
mod calendars;
#[path = "rota/chart.rs"]
mod chart;
#[path = "rota/fixture.rs"]
mod fixture;
#[path = "rota/golden.rs"]
mod golden;
#[path = "rota/pages.rs"]
mod pages;
#[path = "rota/tables.rs"]
mod tables;
