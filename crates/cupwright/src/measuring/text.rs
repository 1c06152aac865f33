//! The piece file that the answers make.

use super::Answers;
use std::fmt::Write;

/// The file, with `about` as a comment on the shape.
pub fn piece_file(answers: &Answers, about: &str) -> String {
    let mut text = String::new();
    // Writing to a string does not fail.
    let _ = writeln!(text, "# Measured with a soft tape, read to {}.", answers.read_to.text);
    for line in about.lines() {
        let _ = writeln!(text, "# {}", line.trim_end());
    }
    let _ = write!(text, "\ncupwright = 1\ntitle = {}\n", quoted(&answers.title));
    text.push_str("\n[[part]]\nname = \"body\"\n");
    if let Some(capacity) = &answers.capacity {
        let _ = writeln!(text, "capacity = {}", quoted(&capacity.text));
    }
    let _ = writeln!(
        text,
        "read_to = {} # how finely the tape was read: a smooth wall passes within half of it",
        quoted(&answers.read_to.text)
    );
    text.push_str(
        "revolved = [ # from the mouth down: how far along the wall, and round it there\n",
    );
    for reading in &answers.readings {
        let run = if reading.smooth { ", run = \"smooth\"" } else { "" };
        let _ = writeln!(
            text,
            "  {{ along = {}, circumference = {}{run} }},",
            quoted(&reading.along.text),
            quoted(&reading.girth.text)
        );
    }
    text.push_str("]\n");
    if let Some(handle) = &answers.handle {
        text.push_str("# Zones keep out of the handle's place; name in `beneath` those that run on under it.\n");
        let _ = writeln!(
            text,
            "handle = {{ from = {}, to = {}, around = \"90 deg\", width = {} }}",
            quoted(&handle.from.text),
            quoted(&handle.to.text),
            quoted(&handle.width.text)
        );
    }
    text.push_str(
        "\n# Next come [colours] and the zones, in order of work; `cupwright demo` writes pieces to look at.\n",
    );
    text
}

/// A TOML basic string. What JSON escapes, TOML escapes alike; other control characters are left out.
fn quoted(text: &str) -> String {
    let plain: String = text.chars().filter(|letter| !letter.is_control()).collect();
    serde_json::Value::String(plain).to_string()
}
