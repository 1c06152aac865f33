//! The examples as orders, and hours to make them in.

use coats::Coats;
use piece::hours::When;
use piece::read::{Art, Pixels, Unread};
use piece::{Diagnostic, FieldPath, Hours, Piece, Settings, Source, read_hours, read_piece};
use std::path::{Path, PathBuf};
use std::sync::{Arc, LazyLock};
use stones::Stones;
use work::together::{Group, Ordered, Together, group_sizes, plan_book};

/// An example whose stones lie.
pub struct Example {
    pub name: &'static str,
    pub piece: Piece,
    pub coats: Coats,
    pub stones: Stones,
}

const NAMES: [&str; 7] = [
    "heron-low-tide",
    "regatta-pair",
    "rain-regatta",
    "samphire-bottle",
    "frost-lid",
    "moon-tide",
    "tern-topper",
];

/// All examples, worked out once.
pub static EXAMPLES: LazyLock<Vec<Example>> = LazyLock::new(|| NAMES.map(example).into());

pub static STUDIO: LazyLock<Settings> = LazyLock::new(Settings::demo);

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples")
}

/// The files beside the examples.
struct Beside;

impl Art for Beside {
    fn svg(&self, file: &str) -> Result<Arc<str>, Unread> {
        let text = std::fs::read_to_string(folder().join(file));
        text.map(Arc::from).map_err(|error| Unread::not_there(error.to_string()))
    }

    fn font(&self, file: &str) -> Result<Arc<[u8]>, Unread> {
        let bytes = std::fs::read(folder().join(file));
        bytes.map(Arc::from).map_err(|error| Unread::not_there(error.to_string()))
    }

    fn pixels(&self, _: &str) -> Result<Pixels, Unread> {
        Err(Unread::not_there("the examples have no pictures of pixels"))
    }
}

fn example(name: &'static str) -> Example {
    let text = std::fs::read_to_string(folder().join(format!("{name}.toml"))).expect("an example");
    let reading = read_piece(&Source::new("piece.toml", text), &Beside);
    let piece = reading.value.unwrap_or_else(|| panic!("{:?}", reading.diagnostics));
    let piece = piece::lip::below_lip(piece, &STUDIO).expect("its lip stays bare");
    let shape = shape::shape(&piece, &STUDIO).expect("a shape");
    let stones = stones::lay_stones(&piece, &shape, &STUDIO, &mut |_| true).expect("stones");
    let coats = coats::plan_coats(&piece, &shape, &STUDIO).expect("its resin can be poured");
    Example { name, piece, coats, stones }
}

pub fn named(name: &str) -> &'static Example {
    EXAMPLES.iter().find(|one| one.name == name).expect("an example of this name")
}

/// Hours of which only what is told differs from a studio in London that works on weekdays by day.
pub fn hours(more: &str) -> Hours {
    hours_with(more, WEEK)
}

pub const WEEK: &str = "[[maker]]\nname = \"Sedge\"\n[maker.hours]\n\
    monday = [\"09:00-17:00\"]\ntuesday = [\"09:00-17:00\"]\nwednesday = [\"09:00-17:00\"]\n\
    thursday = [\"09:00-17:00\"]\nfriday = [\"09:00-17:00\"]\n";

/// Hours with these makers; `more` stands before them, and what follows a blank line in it after them.
pub fn hours_with(more: &str, makers: &str) -> Hours {
    let (top, tables) = more.split_once("\n\n").unwrap_or((more, ""));
    let zone = if top.contains("time_zone") { "" } else { "time_zone = \"Europe/London\"\n" };
    let begin = if top.contains("begin") { "" } else { "begin = 2027-03-15\n" };
    let spindles = if top.contains("spindles") { "" } else { "spindles = 2\n" };
    let text = format!("cupwright_hours = 1\n{zone}{begin}{spindles}{top}\n{tables}\n{makers}");
    let reading = read_hours(&Source::new("hours.toml", text.clone()));
    reading.value.unwrap_or_else(|| panic!("{:?}\n{text}", reading.diagnostics))
}

/// So many of an example, made in the groups that these hours allow.
pub fn ordered(example: &Example, quantity: u32, hours: &Hours) -> Result<Ordered, Diagnostic> {
    let piece = Piece { quantity, ..example.piece.clone() };
    let group = |pieces: u32| {
        let piece = Piece { quantity: pieces, ..piece.clone() };
        Group::of(&piece, &STUDIO, &example.coats, &example.stones)
    };
    let path = FieldPath::root().key("order").index(0);
    let sizes =
        group_sizes(hours, &STUDIO, &piece, &group(quantity).steps, None, &path.key("file"))?;
    Ok(Ordered {
        name: example.name.to_owned(),
        path,
        due: piece.due,
        piece: piece.clone(),
        coats: example.coats.clone(),
        weight: 1,
        begin: None,
        hand_over: false,
        groups: sizes.into_iter().map(group).collect(),
    })
}

/// The book of one example, as many as its file says.
pub fn book(name: &str, hours: &Hours) -> (Together, Vec<Ordered>) {
    let example = named(name);
    let order = ordered(example, example.piece.quantity, hours).expect("groups");
    let orders = vec![order];
    let together = plan_book(hours, &STUDIO, &orders, None).expect("a book");
    (together, orders)
}

/// What is wrong with a book of some of an example.
pub fn refused(name: &str, quantity: u32, hours: &Hours, begin: Option<When>) -> Vec<Diagnostic> {
    match ordered(named(name), quantity, hours) {
        Err(error) => vec![error],
        Ok(order) => plan_book(hours, &STUDIO, &[order], begin).expect_err("it is refused"),
    }
}
