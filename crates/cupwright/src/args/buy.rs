//! What can be typed after `cupwright buy`.

use clap::Args;
use jiff::civil::Date;
use std::path::PathBuf;

pub const EXAMPLES: &str = "\
Examples:
  cupwright buy heron.toml --sellers sellers.toml
  cupwright buy heron.toml moon.toml --stock stock.toml --sellers sellers.toml --out shopping
  cupwright buy heron.toml --stock stock.toml --sellers sellers.toml --on 2027-03-01 --by 2027-03-10";

/// What `buy` takes.
#[derive(Debug, Args)]
pub struct BuyArgs {
    /// The piece files
    #[arg(value_name = "PIECE.toml", required = true)]
    pub pieces: Vec<PathBuf>,
    /// Who sells what, at which postage
    #[arg(long, value_name = "SELLERS.toml")]
    pub sellers: PathBuf,
    /// What is on hand; without it, nothing is
    #[arg(long, value_name = "STOCK.toml")]
    pub stock: Option<PathBuf>,
    /// Your own prices and materials; without it, made-up examples are used
    #[arg(long, value_name = "STUDIO.toml")]
    pub studio: Option<PathBuf>,
    /// The day on which all goods must be there; without it, the first day of work on each piece, counted
    /// back from the day it is due
    #[arg(long, value_name = "YYYY-MM-DD", value_parser = super::day)]
    pub by: Option<Date>,
    /// The day on which you order: sellers that cannot deliver in time are then left out
    #[arg(long, value_name = "YYYY-MM-DD", value_parser = super::day)]
    pub on: Option<Date>,
    /// Buy also what brings stock back to its least
    #[arg(long)]
    pub refill: bool,
    /// Most seconds to look for an order that costs less
    #[arg(long, value_name = "N", default_value_t = 60)]
    #[arg(value_parser = clap::value_parser!(u32).range(1..=3600))]
    pub seconds: u32,
    /// A folder to write the orders and tables into
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
    /// Print one JSON document
    #[arg(long)]
    pub json: bool,
    /// Show no progress, and do not say what was written
    #[arg(long)]
    pub quiet: bool,
}
