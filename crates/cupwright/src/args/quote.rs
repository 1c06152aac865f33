//! What can be typed after `cupwright quote`, `cupwright order` and `cupwright papers`.

use clap::Args;
use jiff::civil::Date;
use piece::StoneSize;
use std::path::PathBuf;

pub const QUOTE_EXAMPLES: &str = "\
Examples:
  cupwright quote heron.toml --out heron-quote
  cupwright quote heron.toml --options sizes=SS6,SS10 --for \"The boathouse\" --out heron-quote
  cupwright quote heron.toml --hours hours.toml --out heron-quote
  cupwright quote heron.toml --studio studio.toml --date 2027-03-01 --begin 2027-03-15 --out heron-quote";

pub const ORDER_EXAMPLES: &str = "\
Examples:
  cupwright order heron-quote --option B --out heron-order
  cupwright order heron-order
  cupwright order heron-order --piece heron.toml";

pub const PAPERS_EXAMPLES: &str = "\
Examples:
  cupwright papers heron-order --out heron-papers
  cupwright papers heron-order --invoice 2027-014 --out heron-papers";

/// Most sizes in one quote, so that a page has room for them.
const MOST_SIZES: usize = 8;

/// Which options are offered.
#[derive(Debug, Clone, PartialEq)]
pub enum OptionsWord {
    /// Fewer stones and all of them.
    Strengths,
    /// Stones of these sizes beside those of the file.
    Sizes(Vec<StoneSize>),
    /// The piece as it is.
    One,
}

/// Options as typed. Errors: in words.
fn options(text: &str) -> Result<OptionsWord, String> {
    match text.split_once('=') {
        None if text == "strengths" => Ok(OptionsWord::Strengths),
        None if text == "one" => Ok(OptionsWord::One),
        Some(("sizes", list)) => {
            let size = |one: &str| {
                StoneSize::read(one.trim()).map_err(|complaint| {
                    [vec![complaint.message], complaint.hints].concat().join("; ")
                })
            };
            let sizes: Vec<StoneSize> = list.split(',').map(size).collect::<Result<_, _>>()?;
            if sizes.len() > MOST_SIZES {
                return Err(format!(
                    "{} sizes; at most {MOST_SIZES} are offered at once",
                    sizes.len()
                ));
            }
            Ok(OptionsWord::Sizes(sizes))
        }
        _ => Err("write strengths, one, or sizes=SS6,SS10".to_owned()),
    }
}

/// What `quote` takes.
#[derive(Debug, Args)]
pub struct QuoteArgs {
    /// The piece file
    #[arg(value_name = "PIECE.toml")]
    pub piece: PathBuf,
    /// The folder to write
    #[arg(long, value_name = "DIR")]
    pub out: PathBuf,
    /// What to offer: strengths (fewer stones and all of them), sizes=SS6,SS10 (other stones), or one (as it is)
    #[arg(long, value_name = "WORD", default_value = "strengths", value_parser = options)]
    pub options: OptionsWord,
    /// Whom it is for
    #[arg(long = "for", value_name = "NAME", default_value = "")]
    pub customer: String,
    /// A line of the customer's address; may be given several times
    #[arg(long, value_name = "LINE")]
    pub address: Vec<String>,
    /// Number of the quote; without it, made of the day and the name of the piece file
    #[arg(long, value_name = "TEXT")]
    pub number: Option<String>,
    /// Day of the quote; without it, today
    #[arg(long, value_name = "YYYY-MM-DD", value_parser = super::day)]
    pub date: Option<Date>,
    /// The day from which the promised days are counted; without it, the last day on which the quote is valid
    #[arg(long, value_name = "YYYY-MM-DD", value_parser = super::day)]
    pub begin: Option<Date>,
    /// Who works when and what is ordered: promise days beside the orders in hand
    #[arg(long, value_name = "HOURS.toml")]
    pub hours: Option<PathBuf>,
    /// Your own times, prices, materials and terms; without it, made-up examples are used
    #[arg(long, value_name = "STUDIO.toml")]
    pub studio: Option<PathBuf>,
    /// Print one JSON document
    #[arg(long)]
    pub json: bool,
    /// Show no progress, and do not say what was written
    #[arg(long)]
    pub quiet: bool,
}

/// What `order` takes.
#[derive(Debug, Args)]
pub struct OrderArgs {
    /// The folder of a quote, to make an order of it; or that of an order, to look at it
    #[arg(value_name = "DIR")]
    pub folder: PathBuf,
    /// The option that was accepted, by its letter or name
    #[arg(long, value_name = "LETTER", requires = "out", conflicts_with = "piece")]
    pub option: Option<String>,
    /// The folder to write the order to
    #[arg(long, value_name = "DIR", requires = "option")]
    pub out: Option<PathBuf>,
    /// Number of the order; without it, that of the quote and the letter of the option
    #[arg(long, value_name = "TEXT", requires = "option")]
    pub number: Option<String>,
    /// Day on which it was accepted; without it, today
    #[arg(long, value_name = "YYYY-MM-DD", value_parser = super::day, requires = "option")]
    pub date: Option<Date>,
    /// Your own piece file, to list what was changed in it since the quote
    #[arg(long, value_name = "PIECE.toml")]
    pub piece: Option<PathBuf>,
    /// Print one JSON document
    #[arg(long)]
    pub json: bool,
    /// Show no progress, and do not say what was written
    #[arg(long)]
    pub quiet: bool,
}

/// What `papers` takes.
#[derive(Debug, Args)]
pub struct PapersArgs {
    /// The folder of an order
    #[arg(value_name = "ORDER")]
    pub order: PathBuf,
    /// The folder to write
    #[arg(long, value_name = "DIR")]
    pub out: PathBuf,
    /// Number of the invoice; without it, none is written
    #[arg(long, value_name = "TEXT")]
    pub invoice: Option<String>,
    /// Day of the papers; without it, today
    #[arg(long, value_name = "YYYY-MM-DD", value_parser = super::day)]
    pub date: Option<Date>,
    /// Print one JSON document
    #[arg(long)]
    pub json: bool,
    /// Show no progress, and do not say what was written
    #[arg(long)]
    pub quiet: bool,
}
