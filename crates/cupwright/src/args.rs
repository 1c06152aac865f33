//! What can be typed after `cupwright`; the help text comes from here.

mod buy;
mod carry;
mod coats;
mod compare;
mod grid;
mod pattern;
mod price;
mod quote;
mod shape;
mod timetable;

pub use buy::BuyArgs;
pub use carry::CarryArgs;
pub use coats::CoatsArgs;
pub use compare::{CompareArgs, LayoutWord, SizeSet};
pub use grid::GridArgs;
pub use pattern::PatternArgs;
pub use price::{AfterArgs, PriceArgs};
pub use quote::{OptionsWord, OrderArgs, PapersArgs, QuoteArgs};
pub use shape::{BlanksArgs, MeasureArgs, ShapeArgs};
pub use timetable::TimetableArgs;

use clap::{Args, Parser, Subcommand, ValueEnum};
use std::path::PathBuf;

const EXIT_CODES: &str = "\
Exit codes:
  0    everything is done
  1    a piece file, or the studio, hours, records, stock or sellers file, needs mending
  2    the command line was not understood
  3    a file or folder could not be read or written
  4    a fault in Cupwright itself
  130  stopped with Ctrl-C; nothing was written";

const START: &str = "\
A first try:
  cupwright demo marsh
  cupwright plan marsh/heron-low-tide.toml --out marsh/heron";

const PLAN_EXAMPLES: &str = "\
Examples:
  cupwright plan heron.toml --out heron
  cupwright plan heron.toml --out heron --studio studio.toml --begin 2026-07-01
  cupwright plan heron.toml --out heron --json > heron.json";

const CHECK_EXAMPLES: &str = "\
Examples:
  cupwright check heron.toml
  cupwright check orders/*.toml --json";

const SCHEMA_EXAMPLES: &str = "\
Example:
  cupwright schema piece > piece.schema.json";

const COMPLETIONS_EXAMPLES: &str = "\
Example:
  cupwright completions bash > ~/.local/share/bash-completion/completions/cupwright";

/// Plans decorated cups: stones, coats, times, price and sheets from one piece file.
#[derive(Debug, Parser)]
#[command(name = "cupwright", version, propagate_version = true, max_term_width = 100)]
#[command(after_help = format!("{START}\n\n{EXIT_CODES}"))]
pub struct CommandLine {
    /// What to do.
    #[command(subcommand)]
    pub command: Command,
}

/// One command.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Write the folder with everything needed to make a piece
    #[command(
        long_about = "Writes a folder with everything needed to make a piece: the workbook, \
        true-size wraps, cut files, tables of stones, coats, steps, materials and price, a calendar, \
        and the piece in 3D.\n\nThe folder is written whole or not at all. A folder that Cupwright \
        wrote before is replaced; any other folder that is not empty is left alone."
    )]
    #[command(after_help = format!("{PLAN_EXAMPLES}\n\n{EXIT_CODES}"))]
    Plan(PlanArgs),
    /// Look for mistakes in piece files, and say in short what each would give
    #[command(after_help = format!("{CHECK_EXAMPLES}\n\n{EXIT_CODES}"))]
    Check(CheckArgs),
    /// Set one zone of stones in several ways, and show what each takes and gives
    #[command(
        long_about = "Sets one zone of stones in several ways, and shows for each how many stones it \
        takes, how much of the zone they cover, the pockets left, and the hours and the price of the \
        whole piece.\n\nWithout --sizes and --layouts: as the piece file says, rows of each size \
        that the studio file prices and that is not far from the present ones, and a scatter of three \
        neighbouring sizes."
    )]
    #[command(after_help = format!("{}\n\n{EXIT_CODES}", compare::EXAMPLES))]
    Compare(CompareArgs),
    /// Plan the coats: how much to mix, whether it sags, when the next may go on, what to wait for
    #[command(
        long_about = "Follows every pour of a piece through the studio's own room: how well the resin's \
        sheet is met, what to weigh, how long a mix can be worked, what stays on the turner, how it levels, \
        when the next coat may go on and when it is hard; then all steps up to the stones in order with \
        their waits, what still fits, and what is in the air.\n\nWith --out it draws what may be done when \
        after a pour, and for each zone of resin what stays on as time goes on and along the wall."
    )]
    #[command(after_help = format!("{}\n\n{EXIT_CODES}", coats::EXAMPLES))]
    Coats(CoatsArgs),
    /// Plan many pieces together: who does what when, what turns, and when each order leaves
    #[command(
        long_about = "Plans all orders together over makers, spindles and hours: hands-on work in the \
        hours of those who do it, real waits through nights and over the change of clocks, pours within \
        their recoat windows or with a sanding between, mixes of resin shared where it helps, and parcels \
        that leave with the post.\n\nTells of each order when it is done and leaves, and how late the plan \
        is against what no plan can beat. Ctrl-C ends the search and keeps the best plan so far."
    )]
    #[command(after_help = format!("{}\n\n{EXIT_CODES}", timetable::EXAMPLES))]
    Timetable(TimetableArgs),
    /// Work out a price from cost upwards, and what it pays an hour
    #[command(
        long_about = "Builds up the price of a piece: materials, overhead, pieces that fail, fees, tax and \
        your hours. Tells the floor (nothing out of your pocket, hours unpaid), the fair price (your wage \
        paid) and what to ask, what each pays an hour, what pieces made together really save, what each \
        channel of the studio file takes, and where rules of thumb lose money.\n\nWith --records the times, \
        losses and failures that you wrote down take the place of those in the studio file, each as soon \
        as there are lines enough."
    )]
    #[command(after_help = format!("{}\n\n{EXIT_CODES}", price::PRICE_EXAMPLES))]
    Price(PriceArgs),
    /// Hold what a piece took against what was planned, and tell what to change
    #[command(after_help = format!("{}\n\n{EXIT_CODES}", price::AFTER_EXAMPLES))]
    After(AfterArgs),
    /// Work out what lacks for some pieces, and the order that costs least
    #[command(
        long_about = "Adds up what some pieces need, takes off what is on hand, and works out which packs \
        to order from whom: packs, postage with its thresholds, least orders, days on the way, and what \
        leftovers are worth. That no other order costs less is proved, or how much less one might cost is \
        told. What cannot be bought is told with its reason and what is nearest, and the exit code is 1."
    )]
    #[command(after_help = format!("{}\n\n{EXIT_CODES}", buy::EXAMPLES))]
    Buy(BuyArgs),
    /// Carry a design to another cup, and tell what could not be kept
    #[command(
        long_about = "Writes a new piece file: the design of one with the measurements of another cup, \
        comments and layout kept. Places and sizes keep what each of them says: from the rim, from the \
        foot, a share of the wall or of the round.\n\nStones are laid anew, and everything that could \
        not be kept is listed with the line of the new file and what to do about it. The file is \
        written even if something in it is to be mended first; the exit code is 1 then."
    )]
    #[command(after_help = format!("{}\n\n{EXIT_CODES}", carry::EXAMPLES))]
    Carry(CarryArgs),
    /// Offer a design to a customer: options side by side, with pictures, days and prices
    #[command(
        long_about = "Lays and plans the same design in several strengths, or with stones of other sizes, and \
        writes a quote for the customer: a picture of each option, what is included, when it can be there, \
        and the price, deposit and terms of your studio file; no hours and no costs.\n\nThe folder keeps \
        every option as a piece file of its own with the studio file, so that `cupwright order` can make an \
        order of it as it was offered. The table of hours, stones and prices is for you."
    )]
    #[command(after_help = format!("{}\n\n{EXIT_CODES}", quote::QUOTE_EXAMPLES))]
    Quote(QuoteArgs),
    /// Make an order of an accepted quote, or look whether one is still as it was agreed
    #[command(
        long_about = "With the folder of a quote and --option: writes the folder of an order, with the piece \
        and the studio file as they were offered, and what was agreed in order.toml.\n\nWith the folder of an \
        order: tells what was agreed and what is still to be paid, makes sure that its piece still gives \
        the agreed stones, and with --piece lists what was changed in your own piece file since the quote."
    )]
    #[command(after_help = format!("{}\n\n{EXIT_CODES}", quote::ORDER_EXAMPLES))]
    Order(OrderArgs),
    /// Write the papers of an order: invoice, packing slip and care cards
    #[command(after_help = format!("{}\n\n{EXIT_CODES}", quote::PAPERS_EXAMPLES))]
    Papers(PapersArgs),
    /// Write a piece as instructions and kits for a class or a helper, without prices
    #[command(after_help = format!("{}\n\n{EXIT_CODES}", pattern::EXAMPLES))]
    Pattern(PatternArgs),
    /// Tell the measured shape of each part, and draw its profile with dimensions
    #[command(
        long_about = "Tells for each part its family of shapes, what was measured and how far the wall \
        is from it, heights, lengths of wall, angles of cones, and what it encloses against what it is \
        said to hold. With --out it draws the profiles with these dimensions at true size."
    )]
    #[command(after_help = format!("{}\n\n{EXIT_CODES}", shape::SHAPE_EXAMPLES))]
    Shape(ShapeArgs),
    /// Draw a part under a grid at true size: print it, wrap it, and see whether the measurements are right
    #[command(
        long_about = "Draws a round part unrolled at true size under a grid of level lines each 10 mm and \
        lines down the wall each 15 degrees. Print it at 100 %, cut it out and wrap it round the bare \
        blank: a scale at its end shows at every height by how much the girth is to be corrected."
    )]
    #[command(after_help = format!("{}\n\n{EXIT_CODES}", grid::EXAMPLES))]
    Grid(GridArgs),
    /// Ask what to measure on a cup, one question at a time, and write a piece file of it
    #[command(
        long_about = "Asks what to measure on a cup, one question at a time, with a word on how to hold \
        the tape; checks each answer against those before, and writes a piece file with the part in it. \
        Answers can also come from a pipe, one a line."
    )]
    #[command(after_help = format!("{}\n\n{EXIT_CODES}", shape::MEASURE_EXAMPLES))]
    Measure(MeasureArgs),
    /// List the generic blanks that a piece file can name for a first sketch
    Blanks(BlanksArgs),
    /// Print the JSON Schema of a piece, studio, hours, order, stock or sellers file
    #[command(after_help = SCHEMA_EXAMPLES)]
    Schema(SchemaArgs),
    /// Print a completion script for a shell
    #[command(after_help = COMPLETIONS_EXAMPLES)]
    Completions(CompletionsArgs),
    /// Write example files to begin from
    Demo(DemoArgs),
    /// Print the licences of the program and of the typefaces inside it
    Licences,
}

/// A day as typed. Errors: in words.
fn day(text: &str) -> Result<jiff::civil::Date, String> {
    let day = text.parse().ok().filter(|_| text.len() == 10);
    day.ok_or_else(|| "a day is written as YYYY-MM-DD, such as 2026-07-01".to_owned())
}

/// What `plan` takes.
#[derive(Debug, Args)]
pub struct PlanArgs {
    /// The piece file
    #[arg(value_name = "PIECE.toml")]
    pub piece: PathBuf,
    /// The folder to write
    #[arg(long, value_name = "DIR")]
    pub out: PathBuf,
    /// Your own times, prices and materials; without it, made-up examples are used
    #[arg(long, value_name = "STUDIO.toml")]
    pub studio: Option<PathBuf>,
    /// The day to begin; without it, the timetable counts back from the day the piece is due
    #[arg(long, value_name = "YYYY-MM-DD", value_parser = day)]
    pub begin: Option<jiff::civil::Date>,
    /// What you wrote down of your work: plan with it
    #[arg(long, value_name = "RECORDS.csv")]
    pub records: Option<PathBuf>,
    /// Print one JSON document about the plan and everything found in the files
    #[arg(long)]
    pub json: bool,
    /// Show no progress, and no report when all is well
    #[arg(long)]
    pub quiet: bool,
}

/// What `check` takes.
#[derive(Debug, Args)]
pub struct CheckArgs {
    /// The piece files
    #[arg(value_name = "PIECE.toml", required = true)]
    pub pieces: Vec<PathBuf>,
    /// Your own times, prices and materials; without it, made-up examples are used
    #[arg(long, value_name = "STUDIO.toml")]
    pub studio: Option<PathBuf>,
    /// Print one JSON document
    #[arg(long)]
    pub json: bool,
}

/// What `schema` takes.
#[derive(Debug, Args)]
pub struct SchemaArgs {
    /// Which kind of file
    #[arg(value_enum, default_value_t = SchemaOf::Piece)]
    pub of: SchemaOf,
}

/// A kind of file that has a schema.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum SchemaOf {
    /// The piece file
    Piece,
    /// The studio file
    Studio,
    /// The hours file
    Hours,
    /// The order file
    Order,
    /// The stock file
    Stock,
    /// The sellers file
    Sellers,
}

/// What `completions` takes.
#[derive(Debug, Args)]
pub struct CompletionsArgs {
    /// The shell
    #[arg(value_enum)]
    pub shell: clap_complete::Shell,
}

/// What `demo` takes.
#[derive(Debug, Args)]
pub struct DemoArgs {
    /// The folder to write into; files that are there already are left as they are
    #[arg(value_name = "DIR", default_value = "cupwright-demo")]
    pub folder: PathBuf,
}
