//! Drawings and typefaces beside the piece file, harmless and not.

use crate::room::{CUP, Ran, Room};
use std::fs;

/// The cup with a drawing of this name on it.
fn cup_with_art(file: &str) -> String {
    let zone = format!(
        "\n[[zone]]\nname = \"art\"\npart = \"body\"\nvinyl = {{ colour = \"ebb\" }}\n\
         art = {{ file = '{file}', width = \"20 mm\", along = \"80 mm\", around = \"0 deg\" }}\n"
    );
    format!("{CUP}{zone}")
}

/// Checks a cup with this drawing beside it.
fn check(svg: impl AsRef<[u8]>) -> Ran {
    let room = Room::new();
    room.write("orders/piece.toml", cup_with_art("art.svg"));
    room.write("orders/art.svg", svg);
    room.run(&["check", "orders/piece.toml"])
}

fn svg(inside: &str) -> String {
    format!("<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 10 10\">{inside}</svg>")
}

const SQUARE: &str = "<path d=\"M1 1H9V9H1Z\"/>";

#[test]
fn a_drawing_beside_the_piece_is_laid_on_it() {
    let ran = check(svg(SQUARE));
    ran.ended(0, &[]);
    // A square of 20 mm, 400 mm² or 0.62 square inches, up to the curve of the wall.
    let line = ran
        .stdout
        .lines()
        .find(|line| line.trim_start().starts_with("art "))
        .expect("a line for the zone");
    assert!(line.contains("0.6 in²"), "{line}");
}

#[test]
fn drawings_that_reach_out_or_blow_up_are_refused_or_do_nothing() {
    let room = Room::new();
    let secret = room.write("secret.svg", svg(SQUARE));
    let secret = secret.to_str().expect("UTF-8 path");
    let entities: String = (1..10)
        .map(|n| format!("<!ENTITY e{n} \"{}\">", format!("&e{};", n - 1).repeat(10)))
        .collect();
    let laughs =
        format!("<!DOCTYPE svg [<!ENTITY e0 \"ha\">{entities}]>{}", svg("<text>&e9;</text>"));
    let file_entity =
        format!("<!DOCTYPE svg [<!ENTITY x SYSTEM \"file://{secret}\">]>{}", svg("&x;"));
    for bad in [
        svg("<image href=\"http://127.0.0.1:9/x.png\" width=\"5\" height=\"5\"/>"),
        svg(&format!("<image href=\"{secret}\" width=\"5\" height=\"5\"/>")),
        svg(&format!("<use href=\"{secret}#a\"/>")),
        svg("<script>alert(1)</script>"),
        laughs,
        file_entity,
        svg(""),
        svg(&"<g>".repeat(100_000)),
        svg(&format!("{}{SQUARE}{}", "<g>".repeat(20_000), "</g>".repeat(20_000))),
        svg("<path d=\"M0 0 L1e308 1e308 L-1e308 1e308 Z\"/>"),
        svg("<path d=\"M0 0 L0 0 Z\"/>"),
        svg("<g id=\"a\"><use href=\"#a\"/></g>"),
        "not a drawing".to_owned(),
        String::new(),
    ] {
        let started = std::time::Instant::now();
        let ran = check(&bad);
        ran.ended(1, &["piece.toml:26", "art.svg"]);
        assert!(started.elapsed().as_secs() < 10, "{}", &bad[..bad.len().min(100)]);
    }
    check(vec![0xff; 100]).ended(1, &["piece.toml:26", "UTF-8"]);
    check(" ".repeat(5_000_000)).ended(1, &["piece.toml:26", "MB"]);
}

#[test]
fn a_script_in_a_drawing_with_something_to_see_is_refused_or_left_out() {
    let with_script = svg(&format!("{SQUARE}<script>alert(1)</script>"));
    let ran = check(with_script);
    assert!(ran.code == Some(1) || ran.code == Some(0), "{}", ran.stderr);
}

#[test]
fn art_is_taken_only_from_the_folder_of_the_piece() {
    let room = Room::new();
    let outside = room.write("outside.svg", svg(SQUARE));
    room.write("orders/art.svg", svg(SQUARE));
    #[cfg(unix)]
    std::os::unix::fs::symlink("../outside.svg", room.path("orders/link.svg")).expect("link");
    #[cfg(unix)]
    std::os::unix::fs::symlink("..", room.path("orders/up")).expect("link");
    let absolute = outside.to_str().expect("UTF-8 path");
    for name in ["../outside.svg", "x/../../outside.svg", "link.svg", "up/outside.svg", absolute] {
        room.write("orders/piece.toml", cup_with_art(name));
        room.run(&["check", "orders/piece.toml"]).ended(1, &["piece.toml:26"]);
    }
    room.write("orders/piece.toml", cup_with_art("missing.svg"));
    room.run(&["check", "orders/piece.toml"]).ended(1, &["piece.toml:26", "no such file"]);
    room.write("orders/piece.toml", cup_with_art("art.svg"));
    room.run(&["check", "orders/piece.toml"]).ended(0, &[]);
    // Also when the piece is named from inside its own folder.
    let mut inside = room.command(&["check", "piece.toml"]);
    Ran::of(inside.current_dir(room.path("orders")).output().expect("the program starts"))
        .ended(0, &[]);
}

#[cfg(unix)]
#[test]
fn a_pipe_that_nobody_writes_to_is_no_art() {
    let room = Room::new();
    fs::create_dir(room.path("orders")).expect("folder");
    let made = std::process::Command::new("mkfifo")
        .arg(room.path("orders/art.svg"))
        .status()
        .expect("mkfifo");
    assert!(made.success());
    room.write("orders/piece.toml", cup_with_art("art.svg"));
    room.run(&["check", "orders/piece.toml"]).ended(1, &["piece.toml:26", "ordinary file"]);
}

#[test]
fn a_typeface_that_is_none_is_refused() {
    let room = Room::new();
    let zone = "\n[[zone]]\nname = \"words\"\npart = \"body\"\nvinyl = { colour = \"ebb\" }\n\
        lettering = { text = \"Reed\", font = \"own.ttf\", height = \"8 mm\", along = \"80 mm\", around = \"0 deg\" }\n";
    room.write("piece.toml", format!("{CUP}{zone}"));
    for bytes in [Vec::new(), vec![0; 4096], b"\0\x01\0\0\0\xff\0\0".repeat(500)] {
        room.write("own.ttf", bytes);
        room.run(&["check", "piece.toml"]).ended(1, &["piece.toml:26", "own.ttf"]);
    }
}
