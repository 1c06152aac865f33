//! What `coats` takes.

use clap::Args;
use std::path::PathBuf;

pub const EXAMPLES: &str = "\
Examples:
  cupwright coats heron.toml
  cupwright coats heron.toml --studio studio.toml --out heron-coats";

/// What `coats` takes.
#[derive(Debug, Args)]
pub struct CoatsArgs {
    /// The piece file
    pub piece: PathBuf,
    /// A folder to write the plots into, each as SVG and PNG
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
    /// Your own resin, room and turner; without it, made-up examples are used
    #[arg(long, value_name = "STUDIO.toml")]
    pub studio: Option<PathBuf>,
    /// Print one JSON document
    #[arg(long)]
    pub json: bool,
    /// Do not say what was written
    #[arg(long)]
    pub quiet: bool,
}
