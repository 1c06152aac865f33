//! Plans for the tests, made by the whole road, and their folders.

use piece::read::{Art, NoArt, Pixels, Unread};
use piece::{Piece, Settings, Source, read_piece, read_settings};
use sheets::{Plan, write_sheets};
use std::path::{Path, PathBuf};
use std::sync::{Arc, LazyLock};
use tempfile::TempDir;

/// The small cylinder with one of everything.
pub static REED_RING: LazyLock<Plan> =
    LazyLock::new(|| plan(include_str!("../pieces/reed-ring.toml"), Some("2027-03-01")));

/// The tapered cup.
pub static TAPER: LazyLock<Plan> =
    LazyLock::new(|| plan(include_str!("../pieces/taper.toml"), None));

/// The folder of [`REED_RING`], written once.
pub static REED_FOLDER: LazyLock<TempDir> = LazyLock::new(|| written(&REED_RING));

/// Every example, begun on a day, with the folder of its plan.
pub static EXAMPLES: LazyLock<Vec<(Plan, TempDir)>> = LazyLock::new(|| {
    let names = [
        "heron-low-tide",
        "regatta-pair",
        "rain-regatta",
        "samphire-bottle",
        "frost-lid",
        "moon-tide",
        "tern-topper",
    ];
    names
        .map(|name| {
            let text = std::fs::read_to_string(examples().join(format!("{name}.toml")));
            let piece = piece(&text.expect("an example"), &Examples);
            let plan = road(piece, studio(STUDIO), Some("2027-03-01"));
            let folder = written(&plan);
            (plan, folder)
        })
        .into()
});

const STUDIO: &str = include_str!("../../../../examples/studio.toml");

fn examples() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples")
}

/// The files beside the examples.
struct Examples;

impl Art for Examples {
    fn svg(&self, file: &str) -> Result<Arc<str>, Unread> {
        let text = std::fs::read_to_string(examples().join(file));
        text.map(Arc::from).map_err(|error| Unread::not_there(error.to_string()))
    }

    fn font(&self, file: &str) -> Result<Arc<[u8]>, Unread> {
        let bytes = std::fs::read(examples().join(file));
        bytes.map(Arc::from).map_err(|error| Unread::not_there(error.to_string()))
    }

    fn pixels(&self, _: &str) -> Result<Pixels, Unread> {
        Err(Unread::not_there("the examples have no pictures of pixels"))
    }
}

fn studio(text: &str) -> Settings {
    let reading = read_settings(&Source::new("studio.toml", text.to_owned()));
    reading.value.unwrap_or_else(|| panic!("{:?}", reading.diagnostics))
}

/// Studio settings with lengths in mm.
pub fn settings() -> Settings {
    studio(&STUDIO.replace("lengths = \"inches\"", "lengths = \"millimetres\""))
}

fn piece(text: &str, art: &dyn Art) -> Piece {
    let reading = read_piece(&Source::new("piece.toml", text), art);
    reading.value.unwrap_or_else(|| panic!("{:?}", reading.diagnostics))
}

/// Everything about a piece, begun on a day.
pub fn plan(text: &str, begin: Option<&str>) -> Plan {
    road(piece(text, &NoArt), settings(), begin)
}

/// Everything about a piece in a studio, without a day to begin.
pub fn plan_in(text: &str, settings: Settings) -> Plan {
    road(piece(text, &NoArt), settings, None)
}

fn road(piece: Piece, settings: Settings, begin: Option<&str>) -> Plan {
    let begin = begin.map(|day| day.parse().expect("a day"));
    let shape = shape::shape(&piece, &settings).expect("a shape");
    let stones = stones::lay_stones(&piece, &shape, &settings, &mut |_| true).expect("stones");
    let coats = coats::plan_coats(&piece, &shape, &settings).expect("its resin can be poured");
    let (steps, timetable) =
        work::plan_work(&piece, &settings, &coats, &stones, begin, &mut |_| true)
            .expect("nobody stops it");
    let bill = money::plan_bill(&piece, &settings, &coats, &stones, &steps).expect("a bill");
    let price = money::plan_price(&piece, &settings, &bill, &steps).expect("a price");
    let notes =
        [&shape.notes, &stones.notes, &coats.notes].into_iter().flatten().cloned().collect();
    Plan { piece, settings, shape, stones, coats, steps, timetable, bill, price, notes }
}

/// The folder of a plan.
pub fn written(plan: &Plan) -> TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    write_sheets(plan, folder.path(), &mut |_, _, _| true).expect("sheets");
    folder
}

/// A file of [`REED_FOLDER`].
pub fn bytes(name: &str) -> Vec<u8> {
    read(REED_FOLDER.path(), name)
}

/// A text file of [`REED_FOLDER`].
pub fn text(name: &str) -> String {
    String::from_utf8(bytes(name)).expect("UTF-8")
}

/// A file of a folder.
pub fn read(folder: &Path, name: &str) -> Vec<u8> {
    std::fs::read(folder.join(name)).unwrap_or_else(|error| panic!("{name}: {error}"))
}
