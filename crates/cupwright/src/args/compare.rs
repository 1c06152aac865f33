//! What can be typed after `cupwright compare`.

use clap::{Args, ValueEnum};
use piece::StoneSize;
use std::path::PathBuf;

pub const EXAMPLES: &str = "\
Examples:
  cupwright compare heron.toml
  cupwright compare heron.toml --zone deep --sizes SS6,SS8,SS8+SS10
  cupwright compare heron.toml --layouts rows,edge-rows,scatter --out deep-compared";

/// What `compare` takes.
#[derive(Debug, Args)]
pub struct CompareArgs {
    /// The piece file
    #[arg(value_name = "PIECE.toml")]
    pub piece: PathBuf,
    /// The zone of stones; without it, the largest one
    #[arg(long, value_name = "NAME")]
    pub zone: Option<String>,
    /// Sizes to try, with commas between them; a plus joins those of a mix: SS6,SS8+SS10
    #[arg(long, value_name = "SIZES", value_delimiter = ',', value_parser = size_set)]
    pub sizes: Vec<SizeSet>,
    /// Layouts to try, with commas between them; without it, rows and rings of one size, a scatter and layers of several
    #[arg(long, value_name = "LAYOUTS", value_delimiter = ',', value_enum)]
    pub layouts: Vec<LayoutWord>,
    /// A folder to write the table and a plot into: compare.csv, compare.svg, compare.png
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
    /// Your own times, prices and materials; without it, made-up examples are used
    #[arg(long, value_name = "STUDIO.toml")]
    pub studio: Option<PathBuf>,
    /// Print one JSON document
    #[arg(long)]
    pub json: bool,
    /// Show no progress
    #[arg(long)]
    pub quiet: bool,
}

/// Sizes that lie in one zone together, largest first, each once.
#[derive(Debug, Clone, PartialEq)]
pub struct SizeSet(pub Vec<StoneSize>);

impl SizeSet {
    /// `SS8+SS10`.
    pub fn name(&self) -> String {
        let names: Vec<&str> = self.0.iter().rev().map(|size| size.name.as_str()).collect();
        names.join("+")
    }
}

/// Sizes as typed. Errors: in words.
fn size_set(text: &str) -> Result<SizeSet, String> {
    let mut sizes: Vec<StoneSize> = Vec::new();
    for name in text.split('+') {
        let size = StoneSize::read(name.trim())
            .map_err(|complaint| [vec![complaint.message], complaint.hints].concat().join("; "))?;
        if sizes.iter().any(|other| other.diameter_mm == size.diameter_mm) {
            return Err(format!("{} stands in it twice", size.name));
        }
        sizes.push(size);
    }
    sizes.sort_by(|a, b| b.diameter_mm.total_cmp(&a.diameter_mm));
    Ok(SizeSet(sizes))
}

/// A layout to try.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum LayoutWord {
    /// Level rows of one size
    Rows,
    /// Rows of one size along the zone's edge
    EdgeRows,
    /// One or more sizes without order, in equal numbers
    Scatter,
    /// One or more sizes without order, whatever numbers cover most
    Free,
    /// Rings of one size that follow the zone's edge to its middle
    Rings,
    /// One row of one size along the strokes of the zone's lettering or art
    Line,
    /// An outline of the largest size, a scatter of all, then pockets filled with the smallest
    Layered,
}
