//! What can be typed after `cupwright pattern`.

use clap::Args;
use std::path::PathBuf;

pub const EXAMPLES: &str = "\
Examples:
  cupwright pattern heron.toml --people 8 --out class
  cupwright pattern heron.toml --people 8 --blank \"tapered 30 fl oz\" --out class";

/// What `pattern` takes.
#[derive(Debug, Args)]
pub struct PatternArgs {
    /// The piece file
    #[arg(value_name = "PIECE.toml")]
    pub piece: PathBuf,
    /// How many people make one each
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u32).range(1..=1000))]
    pub people: u32,
    /// Their own cup: a piece file with its measurements, or the name of a generic blank
    #[arg(long, value_name = "OTHER.toml|BLANK")]
    pub blank: Option<PathBuf>,
    /// The folder to write
    #[arg(long, value_name = "DIR")]
    pub out: PathBuf,
    /// Your own times and materials; without it, made-up examples are used
    #[arg(long, value_name = "STUDIO.toml")]
    pub studio: Option<PathBuf>,
    /// Print one JSON document
    #[arg(long)]
    pub json: bool,
    /// Show no progress, and no report when all is well
    #[arg(long)]
    pub quiet: bool,
}
