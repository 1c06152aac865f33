//! What can be typed after `cupwright carry`.

use clap::Args;
use std::path::PathBuf;

pub const EXAMPLES: &str = "\
Examples:
  cupwright carry heron.toml --to tall-cup.toml --out heron-tall.toml
  cupwright carry heron.toml --to \"tapered 30 fl oz\" --out heron-30.toml
  cupwright carry heron.toml --to new-lid.toml --part lid --out heron-new-lid.toml";

/// What `carry` takes.
#[derive(Debug, Args)]
pub struct CarryArgs {
    /// The piece file with the design
    #[arg(value_name = "PIECE.toml")]
    pub piece: PathBuf,
    /// A piece file with the measurements of the other cup, or the name of a generic blank
    #[arg(long, value_name = "OTHER.toml|BLANK")]
    pub to: PathBuf,
    /// Carry this part alone; without it, every part that the other file has too
    #[arg(long, value_name = "NAME")]
    pub part: Option<String>,
    /// The piece file to write
    #[arg(long, value_name = "NEW.toml")]
    pub out: PathBuf,
    /// Write over a piece file that is there
    #[arg(long)]
    pub replace: bool,
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
