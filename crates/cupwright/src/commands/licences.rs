//! `cupwright licences`: the terms of the program and of the typefaces inside it.

use crate::exit::Exit;
use crate::output::print_data;

/// What is under which terms, and their text as it was published.
const PARTS: [(&str, &str); 8] = [
    (
        "Cupwright, under this licence or the next, at your choice",
        include_str!("../../../../LICENSE-MIT"),
    ),
    ("Cupwright, the other choice", include_str!("../../../../LICENSE-APACHE")),
    (
        "The typeface rubik-bold, for lettering",
        include_str!("../../../shape/fonts/rubik-bold/OFL.txt"),
    ),
    (
        "The typeface bitter-bold, for lettering",
        include_str!("../../../shape/fonts/bitter-bold/OFL.txt"),
    ),
    (
        "The typeface nunito-extrabold, for lettering",
        include_str!("../../../shape/fonts/nunito-extrabold/OFL.txt"),
    ),
    ("The typeface pacifico, for lettering", include_str!("../../../shape/fonts/pacifico/OFL.txt")),
    (
        "The typeface Alegreya, on the sheets",
        include_str!("../../../sheets/fonts/Alegreya-OFL.txt"),
    ),
    (
        "The typeface Alegreya Sans, on the sheets",
        include_str!("../../../sheets/fonts/AlegreyaSans-OFL.txt"),
    ),
];

/// Prints all of them.
pub fn run() -> Exit {
    let texts = PARTS.map(|(what, terms)| {
        let rule = "=".repeat(what.chars().count());
        format!("{what}\n{rule}\n\n{}\n", terms.trim_end())
    });
    print_data(texts.join("\n").as_bytes())
}
