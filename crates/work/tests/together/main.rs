//! Many pieces together: the book that orders and hours become, and the timetable that its plan does.

mod any;
mod clock;
mod going_on;
mod graph;
mod groups;
mod happened;
mod leaving;
mod mixes;
mod planned;
mod support;
mod told;
