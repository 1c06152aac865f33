//! Steps and timetable: what must always hold, and figures of the trade.

mod bench;
mod steps;
mod timetable;
