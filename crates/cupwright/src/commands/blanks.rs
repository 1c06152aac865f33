//! `cupwright blanks`: the generic blanks that a piece file can name.

use crate::args::BlanksArgs;
use crate::exit::Exit;
use crate::output::{print_data, print_json, say};
use piece::blanks::{BLANKS, Blank};
use piece::{Run, Walls};
use serde_json::{Value, json};

/// Lists the generic blanks.
pub fn run(args: &BlanksArgs) -> Exit {
    if args.json {
        return print_json(&json!({
            "cupwright": env!("CARGO_PKG_VERSION"),
            "command": "blanks",
            "exit_code": Exit::Fine.code(),
            "blanks": BLANKS.iter().map(data).collect::<Value>(),
        }));
    }
    let mut text = String::new();
    for blank in &BLANKS {
        let readings = blank.readings.iter().map(|reading| {
            let run = if reading.run == Run::Smooth { " (smooth)" } else { "" };
            format!("{} at {}{run}", reading.diameter_mm, reading.along_mm)
        });
        let readings: Vec<_> = readings.collect();
        text += &format!(
            "{:<24} {:>5.0} ml  {:<16} mm across at mm along the wall: {}\n",
            blank.name,
            blank.capacity_ml(),
            blank.family,
            readings.join(", ")
        );
        if let Some(handle) = &blank.handle {
            let (from_mm, to_mm) = handle.along_mm;
            text += &format!(
                "{:<48} {} wall; handle from {from_mm} to {to_mm} mm, {} mm wide\n",
                "",
                walls(blank),
                handle.width_mm
            );
        }
    }
    let printed = print_data(text.as_bytes());
    say(
        "Measure yours: makers differ by several mm. `cupwright measure OUT.toml` asks for what is needed.",
    );
    printed
}

/// How its wall is built, as a piece file says it.
fn walls(blank: &Blank) -> &'static str {
    match blank.walls {
        Walls::Single => "single",
        Walls::Double => "double",
    }
}

fn data(blank: &Blank) -> Value {
    let readings = blank.readings.iter().map(|reading| {
        json!({
            "along_mm": reading.along_mm,
            "diameter_mm": reading.diameter_mm,
            "smooth": reading.run == Run::Smooth,
        })
    });
    json!({
        "name": blank.name,
        "capacity_ml": blank.capacity_ml(),
        "family": blank.family,
        "wall": walls(blank),
        "readings": readings.collect::<Value>(),
        "handle": blank.handle.map(|handle| json!({
            "along_mm": [handle.along_mm.0, handle.along_mm.1],
            "width_mm": handle.width_mm,
        })),
        "guess": true,
    })
}
