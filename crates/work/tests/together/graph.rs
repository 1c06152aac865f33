//! The tasks and gaps of each example, kept as they should be. After a change that is meant:
//! `REFRESH=1 cargo test --release --workspace --test together graph`, and read the difference.

use crate::support::{EXAMPLES, book, hours};
use schedule::Slot;
use std::fmt::Write;
use std::path::Path;
use work::together::{SLOT_MIN, Together};
use work::words::span;

fn time(slots: Slot) -> String {
    span(f64::from(slots) * SLOT_MIN as f64)
}

/// Every task with what it takes, then every gap.
fn told(together: &Together) -> String {
    let book = &together.book;
    let mut text = String::new();
    for (index, task) in book.tasks.iter().enumerate() {
        let optional = if task.optional { " (if called for)" } else { "" };
        writeln!(text, "{index} {}{optional}: {}", task.name, time(task.work)).expect("text grows");
        if let Some(sittings) = task.sittings {
            let (least, longest) = (time(sittings.least), time(sittings.longest));
            let (set_up, rest) = (time(sittings.set_up), time(sittings.rest));
            writeln!(
                text,
                "    in sittings of {least} to {longest}, {set_up} to set up, {rest} of rest"
            )
            .expect("text grows");
        }
        for used in &task.uses {
            writeln!(
                text,
                "    {} of {} from {} on for {}",
                used.amount,
                book.machines[used.machine].name,
                time(used.from),
                time(used.length)
            )
            .expect("text grows");
        }
        if let Some(mix) = task.mix {
            writeln!(
                text,
                "    {} of {} tenths of a ml, stirred in {}, watched for {}, standing for {}",
                mix.amount,
                mix.most,
                time(mix.stir),
                time(mix.watch),
                time(mix.stands)
            )
            .expect("text grows");
        }
    }
    text.push('\n');
    for link in &book.links {
        let most = link.most.map_or(String::new(), |most| format!(" to {}", time(most)));
        let relief = link.relief.map_or(String::new(), |relief| {
            format!(", else {} after {}", relief.task, time(relief.before))
        });
        writeln!(text, "{} to {}: {}{most}{relief}", link.from, link.to, time(link.least))
            .expect("text grows");
    }
    text
}

#[test]
fn the_graph_of_each_example_is_as_it_was() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/together/golden");
    let refresh = std::env::var_os("REFRESH").is_some();
    let mut changed = Vec::new();
    for example in EXAMPLES.iter() {
        let (together, _) = book(example.name, &hours("spindles = 2\nracks = 8"));
        let (path, found) = (folder.join(format!("{}.txt", example.name)), told(&together));
        if refresh {
            std::fs::create_dir_all(&folder).expect("a folder");
            std::fs::write(&path, &found).expect("a folder to write to");
            continue;
        }
        let kept = std::fs::read_to_string(&path).unwrap_or_default().replace("\r\n", "\n");
        if kept != found {
            let differing = kept.lines().zip(found.lines()).find(|(kept, found)| kept != found);
            changed.push(format!("{}: {differing:#?}", example.name));
        }
    }
    assert!(
        changed.is_empty(),
        "{}\nIf that is meant: REFRESH=1 cargo test --release --workspace --test together graph",
        changed.join("\n")
    );
}
