//! What is said of zones that cannot be joined.

use crate::support::{band, body, rows, try_lay};
use crate::{CUP, STRAIGHT, blend, straddling, windowed};
use piece::Severity;

fn warned(text: &str) -> Vec<String> {
    let laid = try_lay(text).unwrap_or_else(|faults| panic!("{faults:?}\n{text}"));
    let notes = laid.stones.notes.iter().filter(|note| note.path.0.ends_with("straddle"));
    notes
        .map(|note| {
            assert_eq!(note.severity, Severity::Warning);
            note.message.clone()
        })
        .collect()
}

#[test]
fn what_keeps_neighbours_apart_is_told() {
    let first = blend("upper", &windowed(32.0, 42.0, -50.0, 50.0));
    let second = blend("lower", &windowed(42.0, 52.0, -50.0, 50.0));
    let with = |zones: String| warned(&body(&CUP, &straddling(&zones)));
    for (change, differs) in [
        (second.replace("0.1 mm", "0.25 mm"), "gap (0.1 mm and 0.25 mm)"),
        (second.replace("SS8", "SS5"), "sizes (SS10, SS8, SS6 and SS10, SS6, SS5)"),
        (
            second
                .replace("\"SS10\", share = \"40 %\"", "\"SS10\", share = \"30 %\"")
                .replace("\"SS8\", share = \"30 %\"", "\"SS8\", share = \"40 %\""),
            "shares of the sizes",
        ),
        (
            rows("lower", &windowed(42.0, 52.0, -50.0, 50.0), "level", "SS10", 0.1),
            "layout (scatter and rows)",
        ),
        (second.replace("gap =", "material = \"resin\", gap ="), "material (glass and resin)"),
    ] {
        let expected = format!(
            "no stone can straddle the border between zones \"upper\" and \"lower\": they differ in \
             their {differs}"
        );
        assert_eq!(with(first.clone() + &change), [expected]);
    }
    let rule = straddling(&(first.clone() + &second)).replacen(
        "straddle = true",
        "straddle = true, bond_line = \"0.4 mm\"",
        1,
    );
    assert!(warned(&body(&CUP, &rule))[0].ends_with("their rule \"bond_line\""));
    // Resin beneath one of them only, and film that comes between them.
    let resin = "[[zone]]\nname = \"under\"\npart = \"body\"\n\
                 band = { from = \"42 mm\", to = \"75 mm\" }\nresin = { coats = 2, film = \"0.25 mm\" }\n";
    let told = with(resin.to_owned() + &first + &second);
    assert!(told[0].ends_with("thickness of what lies beneath (0.00 mm and 0.50 mm)"), "{told:?}");
    let film = "[[zone]]\nname = \"name\"\npart = \"body\"\n\
                band = { from = \"80 mm\", to = \"85 mm\" }\nvinyl = { colour = \"ebb\" }\n";
    let told = with(first.clone() + film + &second);
    assert!(told[0].ends_with("order of work (zone \"name\" comes between)"), "{told:?}");
    // None beside it, or one that does not.
    let told = with(first.clone() + &blend("lower", &windowed(43.0, 52.0, -50.0, 50.0)));
    let alone = |zone: &str| {
        format!(
            "zone \"{zone}\" has straddle = true, but borders no other zone of stones that has it"
        )
    };
    assert_eq!(told, [alone("upper"), alone("lower")]);
    let told = warned(&body(&CUP, &(straddling(&first) + &second)));
    assert_eq!(told, [alone("upper")]);
}

#[test]
fn a_joined_zone_too_thin_for_a_stone_is_refused() {
    let zones = rows("upper", &band(15.0, 42.0), "level", "SS16", 0.1)
        + &rows("line", &band(42.0, 42.2), "level", "SS16", 0.1)
        + &rows("lower", &band(42.2, 75.0), "level", "SS16", 0.1);
    let faults = try_lay(&body(&STRAIGHT, &straddling(&zones))).err().expect("no row is in it");
    assert_eq!(faults[0].path.0, "zone[1].stones");
    assert!(faults[0].message.starts_with("zone \"line\" gets no stone"), "{}", faults[0].message);
}
