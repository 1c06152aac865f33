//! The best that was ever found for each book, kept from run to run.

use crate::solver::weighed;
use schedule::{Book, Cost, Plan};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use std::hash::{DefaultHasher, Hash, Hasher};
use std::path::PathBuf;

/// The best of one book.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct Best {
    /// Least cost, what stands first counting first.
    pub cost: Cost,
    /// Least weighed cost.
    pub weighed: f64,
    /// Longest that our search was given, s.
    pub seconds: f64,
}

/// The best of all books, in a file.
pub struct Kept {
    path: PathBuf,
    books: BTreeMap<String, Best>,
}

impl Kept {
    /// What earlier runs left.
    pub fn read() -> Self {
        let path = concat!(env!("CARGO_TARGET_TMPDIR"), "/studios-best.json").into();
        let text = std::fs::read_to_string(&path).unwrap_or_default();
        Self { path, books: serde_json::from_str(&text).unwrap_or_default() }
    }

    /// The name of a book: another book of the same kind and seed has another.
    pub fn name(kind: &str, seed: u64, book: &Book) -> String {
        let mut hasher = DefaultHasher::new();
        serde_json::to_string(book).expect("JSON").hash(&mut hasher);
        format!("{kind} {seed} {:016x}", hasher.finish())
    }

    /// The best of a book so far.
    pub fn best(&self, name: &str) -> Option<&Best> {
        self.books.get(name)
    }

    /// Takes in a plan that was looked for so long.
    pub fn add(&mut self, name: &str, plan: &Plan, seconds: f64) {
        let own = Best { cost: plan.cost, weighed: weighed(plan), seconds };
        let best = self.books.entry(name.to_owned()).or_insert_with(|| own.clone());
        best.cost = best.cost.min(own.cost);
        best.weighed = best.weighed.min(own.weighed);
        best.seconds = best.seconds.max(seconds);
        let text = serde_json::to_string_pretty(&self.books).expect("JSON");
        std::fs::write(&self.path, text).expect("the folder for builds can be written");
    }
}
