//! What can be typed after `cupwright grid`.

use clap::Args;
use std::path::PathBuf;

pub const EXAMPLES: &str = "\
Examples:
  cupwright grid heron.toml --out heron-grid.pdf
  cupwright grid heron.toml --part lid --out lid-grid.svg";

/// What `grid` takes.
#[derive(Debug, Args)]
pub struct GridArgs {
    /// The piece file
    #[arg(value_name = "PIECE.toml")]
    pub piece: PathBuf,
    /// The part to test; without it, the first one that is round
    #[arg(long, value_name = "NAME")]
    pub part: Option<String>,
    /// The file to write: a name that ends in .pdf (pages of your paper) or .svg (in one piece)
    #[arg(long, value_name = "FILE", value_parser = sheet)]
    pub out: PathBuf,
    /// Write over a file that is there
    #[arg(long)]
    pub replace: bool,
    /// Your own settings, for the size of the paper
    #[arg(long, value_name = "STUDIO.toml")]
    pub studio: Option<PathBuf>,
}

/// The name of a sheet. Errors: in words.
fn sheet(text: &str) -> Result<PathBuf, String> {
    let path = PathBuf::from(text);
    let kind = path.extension().map(|kind| kind.to_string_lossy().to_lowercase());
    match kind.as_deref() {
        Some("svg" | "pdf") => Ok(path),
        _ => Err("the name must end in .svg or .pdf".to_owned()),
    }
}
