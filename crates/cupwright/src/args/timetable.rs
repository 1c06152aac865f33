//! What can be typed after `cupwright timetable`.

use clap::Args;
use jiff::civil::{Date, DateTime};
use piece::hours::When;
use std::path::PathBuf;

pub const EXAMPLES: &str = "\
Examples:
  cupwright timetable --hours hours.toml
  cupwright timetable --hours hours.toml --out march
  cupwright timetable --hours hours.toml --studio studio.toml --begin 2027-03-15
  cupwright timetable --hours hours.toml --begin 2027-03-18 --keep march --out march
  cupwright timetable --hours hours.toml --promise moon-tide.toml
  cupwright timetable frost-lid.toml --hours hours.toml --seconds 10";

/// What `timetable` takes.
#[derive(Debug, Args)]
pub struct TimetableArgs {
    /// Piece files to make beside those that the hours file orders
    #[arg(value_name = "PIECE.toml")]
    pub pieces: Vec<PathBuf>,
    /// Who works when, what turns, and what is ordered
    #[arg(long, value_name = "HOURS.toml")]
    pub hours: PathBuf,
    /// Your own times, prices and materials; without it, made-up examples are used
    #[arg(long, value_name = "STUDIO.toml")]
    pub studio: Option<PathBuf>,
    /// The first day or moment to plan, instead of that of the hours file
    #[arg(long, value_name = "YYYY-MM-DD[THH:MM]", value_parser = moment)]
    pub begin: Option<When>,
    /// Look for a better plan for so many rounds: the same number gives the same plan
    #[arg(long, value_name = "N", default_value_t = 100, conflicts_with = "seconds")]
    #[arg(value_parser = clap::value_parser!(u32).range(0..=1_000_000))]
    pub rounds: u32,
    /// Look for a better plan for so many seconds instead
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u32).range(1..=86_400))]
    pub seconds: Option<u32>,
    /// Go on from the timetable in this folder: what it puts before the first moment is done, what is
    /// under way stays, and the rest moves as little as it may
    #[arg(long, value_name = "DIR")]
    pub keep: Option<PathBuf>,
    /// Tell when one more piece could leave, and what it would make late; nothing is written
    #[arg(long, value_name = "PIECE.toml", conflicts_with = "out")]
    pub promise: Option<PathBuf>,
    /// A folder to write the tables, calendars, chart and week pages into
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
    /// Print one JSON document
    #[arg(long)]
    pub json: bool,
    /// Show no progress, and do not say what was written
    #[arg(long)]
    pub quiet: bool,
}

/// A day or a moment as typed. Errors: in words.
fn moment(text: &str) -> Result<When, String> {
    let day = || text.parse::<Date>().ok().filter(|_| text.len() == 10).map(When::Day);
    let moment = || text.parse::<DateTime>().ok().filter(|_| text.len() == 16).map(When::At);
    day()
        .or_else(moment)
        .ok_or_else(|| "write a day or a moment, such as 2027-03-15 or 2027-03-15T18:00".to_owned())
}
