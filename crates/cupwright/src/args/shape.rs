//! What can be typed after `cupwright shape`, `cupwright blanks` and `cupwright measure`.

use clap::Args;
use std::path::PathBuf;

pub const SHAPE_EXAMPLES: &str = "\
Examples:
  cupwright shape heron.toml
  cupwright shape heron.toml --out heron-profile.pdf";

pub const MEASURE_EXAMPLES: &str = "\
Example:
  cupwright measure heron.toml";

/// What `shape` takes.
#[derive(Debug, Args)]
pub struct ShapeArgs {
    /// The piece file
    #[arg(value_name = "PIECE.toml")]
    pub piece: PathBuf,
    /// Draw the profiles with their dimensions at true size: a name that ends in .svg, .png or .pdf
    #[arg(long, value_name = "FILE", value_parser = drawing)]
    pub out: Option<PathBuf>,
    /// Write over a drawing that is there
    #[arg(long, requires = "out")]
    pub replace: bool,
    /// Your own settings: lengths are told in its unit, and without it in that of the piece file
    #[arg(long, value_name = "STUDIO.toml")]
    pub studio: Option<PathBuf>,
    /// Print one JSON document
    #[arg(long)]
    pub json: bool,
}

/// What `blanks` takes.
#[derive(Debug, Args)]
pub struct BlanksArgs {
    /// Print one JSON document
    #[arg(long)]
    pub json: bool,
}

/// What `measure` takes.
#[derive(Debug, Args)]
pub struct MeasureArgs {
    /// The piece file to write; it must not be there yet
    #[arg(value_name = "OUT.toml")]
    pub out: PathBuf,
}

/// The name of a drawing. Errors: in words.
fn drawing(text: &str) -> Result<PathBuf, String> {
    let path = PathBuf::from(text);
    let kind = path.extension().map(|kind| kind.to_string_lossy().to_lowercase());
    match kind.as_deref() {
        Some("svg" | "png" | "pdf") => Ok(path),
        _ => Err("the name must end in .svg, .png or .pdf".to_owned()),
    }
}
