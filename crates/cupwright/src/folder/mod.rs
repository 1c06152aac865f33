//! The folder that a plan is written to: whole or not at all, and never over anyone else's files.
//!
//! A draft is made beside the target, on the same disk. When it is complete it changes places with
//! the folder that was there, in one step where the system can do that, and only then is the old
//! one removed, file by file, by the list it carries.
//!
//! The list is also what runs at the same time agree by: it is locked while its folder is made and
//! while it is removed.

mod draft;
mod flush;
mod manifest;
mod remove;
mod swap;

pub use draft::{Draft, Placed};
