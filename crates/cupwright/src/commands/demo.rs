//! `cupwright demo [DIR]`.

use crate::args::DemoArgs;
use crate::exit::Exit;
use crate::output::{say, say_trouble};
use crate::trouble::{Trouble, reason, shown};
use std::fs::{self, File};
use std::io::{self, ErrorKind, Write};
use std::path::Path;

/// The example files, the one to begin with first.
const EXAMPLES: [(&str, &str); 14] = [
    ("heron-low-tide.toml", include_str!("../../../../examples/heron-low-tide.toml")),
    ("regatta-pair.toml", include_str!("../../../../examples/regatta-pair.toml")),
    ("rain-regatta.toml", include_str!("../../../../examples/rain-regatta.toml")),
    ("samphire-bottle.toml", include_str!("../../../../examples/samphire-bottle.toml")),
    ("samphire.svg", include_str!("../../../../examples/samphire.svg")),
    ("frost-lid.toml", include_str!("../../../../examples/frost-lid.toml")),
    ("moon-tide.toml", include_str!("../../../../examples/moon-tide.toml")),
    ("tern-topper.toml", include_str!("../../../../examples/tern-topper.toml")),
    ("tern.svg", include_str!("../../../../examples/tern.svg")),
    ("hours.toml", include_str!("../../../../examples/hours.toml")),
    ("records.csv", include_str!("../../../../examples/records.csv")),
    ("stock.toml", include_str!("../../../../examples/stock.toml")),
    ("sellers.toml", include_str!("../../../../examples/sellers.toml")),
    ("studio.toml", include_str!("../../../../examples/studio.toml")),
];

/// Writes the example files that are not there yet.
pub fn run(args: &DemoArgs) -> Exit {
    match write_examples(&args.folder) {
        Ok(n_kept) => {
            let folder = shown(&args.folder);
            say(&format!("{} example files are in {folder}.", EXAMPLES.len()));
            if n_kept > 0 {
                say(&format!("Already there and left as they are: {n_kept}."));
            }
            let first = shown(&args.folder.join(EXAMPLES[0].0));
            let out = shown(&args.folder.join("heron"));
            say(&format!("Next: cupwright plan {first} --out {out}"));
            Exit::Fine
        }
        Err(trouble) => {
            say_trouble(&trouble);
            trouble.exit
        }
    }
}

/// Returns how many were there already.
fn write_examples(folder: &Path) -> Result<usize, Trouble> {
    let cannot = |path: &Path, error: &io::Error| {
        Trouble::files(format!("could not write {}: {}", shown(path), reason(error)))
            .hint("Name another folder: `cupwright demo DIR`.")
    };
    fs::create_dir_all(folder).map_err(|error| cannot(folder, &error))?;
    let mut n_kept = 0;
    for (name, text) in EXAMPLES {
        let path = folder.join(name);
        match write_new(&path, text) {
            Ok(()) => {}
            Err(error) if error.kind() == ErrorKind::AlreadyExists => n_kept += 1,
            Err(error) => return Err(cannot(&path, &error)),
        }
    }
    Ok(n_kept)
}

/// Writes a file that must not be there; one that could not be finished is taken away again.
fn write_new(path: &Path, text: &str) -> io::Result<()> {
    let mut file = File::create_new(path)?;
    file.write_all(text.as_bytes()).and_then(|()| file.sync_all()).inspect_err(|_| {
        let _ = fs::remove_file(path);
    })
}
