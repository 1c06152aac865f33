//! cupwright
fn main() {}
