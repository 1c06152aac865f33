//! The checker of plans lets a right plan pass and catches each rule that is broken; the books of
//! made-up studios are what they say.

#[path = "../checker/mod.rs"]
mod checker;
#[path = "../studio_books/mod.rs"]
mod studio_books;

mod books;
mod broken;
mod right;
