//! What `price` and `after` take.

use clap::Args;
use std::path::PathBuf;

pub const PRICE_EXAMPLES: &str = "\
Examples:
  cupwright price heron.toml
  cupwright price heron.toml --studio studio.toml --channel online --quantity 1,4,12
  cupwright price heron.toml --records records.csv --asked 185.00 --out heron-price";

pub const AFTER_EXAMPLES: &str = "\
Examples:
  cupwright after heron.toml --records records.csv
  cupwright after heron.toml --records records.csv --studio studio.toml --out heron-after";

/// What `price` takes.
#[derive(Debug, Args)]
pub struct PriceArgs {
    /// The piece file
    #[arg(value_name = "PIECE.toml")]
    pub piece: PathBuf,
    /// Your own times, prices and materials; without it, made-up examples are used
    #[arg(long, value_name = "STUDIO.toml")]
    pub studio: Option<PathBuf>,
    /// Where it is sold: a channel of the studio file; without it, the fees under [pricing]
    #[arg(long, value_name = "NAME")]
    pub channel: Option<String>,
    /// How many are made together: the first is priced in full, all stand in the batch table; without
    /// it, the quantity of the piece, beside 1, 5 and 10
    #[arg(long, value_name = "N,N", value_delimiter = ',')]
    #[arg(value_parser = clap::value_parser!(u32).range(1..=1000))]
    pub quantity: Vec<u32>,
    /// A price that you think of, without tax on top: what does it pay an hour?
    #[arg(long, value_name = "AMOUNT")]
    pub asked: Option<String>,
    /// What you wrote down of your work: plan with it
    #[arg(long, value_name = "RECORDS.csv")]
    pub records: Option<PathBuf>,
    /// A folder to write price.csv, batch.csv and price.pdf into
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
    /// Print one JSON document
    #[arg(long)]
    pub json: bool,
    /// Do not say what was written
    #[arg(long)]
    pub quiet: bool,
}

/// What `after` takes.
#[derive(Debug, Args)]
pub struct AfterArgs {
    /// The piece file
    #[arg(value_name = "PIECE.toml")]
    pub piece: PathBuf,
    /// What you wrote down of your work
    #[arg(long, value_name = "RECORDS.csv")]
    pub records: PathBuf,
    /// Your own times, prices and materials; without it, made-up examples are used
    #[arg(long, value_name = "STUDIO.toml")]
    pub studio: Option<PathBuf>,
    /// A folder to write after.csv and learned.csv into
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
    /// Print one JSON document
    #[arg(long)]
    pub json: bool,
    /// Do not say what was written
    #[arg(long)]
    pub quiet: bool,
}
