//! The reader against files: `pieces/*.toml`, each with what it is told about itself at its end.
//!
//! `good-` files are read, perhaps with a warning; `text-` files are no TOML; `form-` files do not fit
//! the JSON Schema; `sense-` files fit it and still describe nothing that could be made.
//! To write the expected texts anew after a change, and then review them with `git diff`:
//! `REFRESH=1 cargo test --release -p piece --test pieces`.

use ::piece::read::{Art, Pixels, Unread};
use ::piece::{
    Art as Drawn, Blend, Colouring, Diagnostic, FieldPath, Finish, Font, Form, Layout, NoArt,
    Reading, Severity, Source, StoneMaterial, Way, read_piece, show, show_json,
};
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// The line that parts a file from what it is told.
const MARK: &str = "# ---- what the reader says ----\n";

fn samples() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/pieces");
    let mut files: Vec<PathBuf> =
        std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    files.sort();
    files
}

fn name_of(file: &Path) -> String {
    file.file_name().unwrap().to_string_lossy().into_owned()
}

/// The piece as typed, and what the file expects to be told.
fn split(text: &str) -> (&str, &str) {
    text.split_once(MARK).unwrap_or((text, ""))
}

fn as_comments(text: &str) -> String {
    text.trim_end().lines().map(|line| format!("# {line}").trim_end().to_owned() + "\n").collect()
}

fn has_errors<T>(reading: &Reading<T>) -> bool {
    reading.diagnostics.iter().any(|diagnostic| diagnostic.severity == Severity::Error)
}

#[test]
fn every_sample_is_told_what_it_expects() {
    let refresh = std::env::var_os("REFRESH").is_some();
    let mut wrong = Vec::new();
    for file in samples() {
        let text = std::fs::read_to_string(&file).unwrap();
        let (typed, expected) = split(&text);
        let source = Source::new(name_of(&file), typed);
        let reading = read_piece(&source, &NoArt);
        assert_eq!(reading.value.is_none(), has_errors(&reading), "{}", source.name);
        let told = as_comments(&show(&reading.diagnostics, &source, false));
        if refresh {
            let mark = if told.is_empty() { "" } else { MARK };
            std::fs::write(&file, format!("{typed}{mark}{told}")).unwrap();
        } else if told != expected {
            wrong.push(format!("{}\n--- expected\n{expected}--- told\n{told}", source.name));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn good_samples_are_read_and_the_others_are_refused() {
    for file in samples() {
        let text = std::fs::read_to_string(&file).unwrap();
        let reading = read_piece(&Source::new(name_of(&file), split(&text).0), &NoArt);
        let good = name_of(&file).starts_with("good-");
        assert_eq!(reading.value.is_some(), good, "{}", name_of(&file));
    }
}

#[test]
fn places_point_diagnostics_of_other_rooms_into_the_file() {
    let file = samples().into_iter().find(|file| name_of(file) == "good-heron.toml").unwrap();
    let source = Source::new("heron.toml", std::fs::read_to_string(file).unwrap());
    let reading = read_piece(&source, &NoArt);
    let told = |path: &str| {
        let mut diagnostic = Diagnostic::error(FieldPath(path.to_owned()), "here");
        reading.places.locate(&mut diagnostic);
        diagnostic.span.map(|span| source.text[span].to_owned())
    };
    assert_eq!(told("zone[1].stones.gap").as_deref(), Some("\"0.1 mm\""));
    assert_eq!(told("zone[1].stones.colours[1].share").as_deref(), Some("\"40 %\""));
    // What the file leaves out is shown at the nearest thing that holds it.
    assert_eq!(told("zone[5].stones.gap").as_deref(), Some("stones"));
    assert_eq!(told("zone[5].leave_out[3]").as_deref(), Some("[[zone]]"));
    assert_eq!(told("colours.wet sand.letter").as_deref(), Some("\"S\""));
    assert_eq!(told(""), None);
}

#[test]
fn diagnostics_are_shown_with_line_column_and_caret_and_without_a_place() {
    let source = Source::new("cup.toml", "title = \"Ébb\"\r\ngap = \"é\" # x\r\n");
    let at = source.text.find("\"é\"").unwrap();
    let placed = Diagnostic::warning(FieldPath::root().key("gap"), "too é")
        .at(at..at + 4)
        .hint("write less");
    let text = show(std::slice::from_ref(&placed), &source, false);
    let expected = "\
warning: too é
 --> cup.toml:2:7
  |
2 | gap = \"é\" # x
  |       ^^^
  |
  = help: Write less.

";
    assert_eq!(text, expected);
    assert_eq!(source.line_and_column(at), (2, 7));
    let nowhere = Diagnostic::caution(FieldPath::root().key("zone").index(2), "the rim is near");
    let text = show(std::slice::from_ref(&nowhere), &source, false);
    assert_eq!(text, "caution: the rim is near\n--> cup.toml: zone[2]\n\n");
    assert!(show(std::slice::from_ref(&placed), &source, true).contains('\u{1b}'));

    let json = show_json(&[placed, nowhere], &source);
    assert_eq!(json[0]["line"], 2);
    assert_eq!(json[0]["column"], 7);
    assert_eq!(json[0]["start"], at);
    assert_eq!(json[0]["severity"], "warning");
    assert_eq!(json[1]["path"], "zone[2]");
    assert!(json[1].get("line").is_none());
    // A place beyond the end of the text is shown at its end.
    let beyond = Diagnostic::error(FieldPath::root(), "gone").at(9_000..9_001);
    assert!(show(&[beyond], &source, false).contains("cup.toml:3:1"));
}

#[test]
fn letters_are_given_out_around_the_makers_own() {
    let mut text = "cupwright = 1\ntitle = \"many\"\n[colours]\nown = { srgb = \"#010203\", letter = \"B\" }\n".to_owned();
    for index in 0..29 {
        text += &format!("c{index} = \"#0000{index:02x}\"\n");
    }
    text += "[[part]]\nname = \"lid\"\nflat = { circle = \"50 mm\" }\n";
    for colour in std::iter::once("own".to_owned()).chain((0..29).map(|index| format!("c{index}")))
    {
        text += &format!(
            "[[zone]]\nname = \"z-{colour}\"\npart = \"lid\"\nvinyl = {{ colour = \"{colour}\" }}\n"
        );
    }
    let piece = read_piece(&Source::new("many.toml", text), &NoArt).value.unwrap();
    let letters: Vec<&str> = piece.colours.iter().map(|colour| colour.letter.as_str()).collect();
    assert_eq!(&letters[..4], ["B", "A", "C", "D"]);
    assert_eq!(&letters[25..], ["Z", "AA", "AB", "AC", "AD"]);
}

#[test]
fn typed_values_arrive_in_our_units() {
    let file = samples().into_iter().find(|file| name_of(file) == "good-defaults.toml").unwrap();
    let text = std::fs::read_to_string(file).unwrap();
    let piece = read_piece(&Source::new("defaults.toml", text), &NoArt).value.unwrap();
    let Form::Revolved(wall) = &piece.parts[0].form else { panic!("the mug is revolved") };
    // 1 in = 25.4 mm exactly (NIST SP 811); circumference = 2 pi r.
    assert!((wall[0].radius_mm - 10.875 * 25.4 / std::f64::consts::TAU).abs() < 1e-12);
    assert!((wall[1].along_mm - 171.45).abs() < 1e-12);
    assert_eq!(
        piece.zones[4].region.window_rad,
        Some((150_f64.to_radians(), 210_f64.to_radians()))
    );
    let Finish::Stones(stones) = &piece.zones[4].finish else { panic!("the back has stones") };
    let names: Vec<&str> = stones.sizes.iter().map(|size| size.name.as_str()).collect();
    assert_eq!(names, ["SS10", "2.2 mm", "SS6"]);
    assert_eq!(stones.layers[0].sizes.iter().map(|(_, share)| share).sum::<f64>(), 1.0);
    assert_eq!(stones.layers[0].gap_mm, 0.1);
}

#[test]
fn straight_runs_that_meet_at_more_than_five_degrees_make_a_crease() {
    // The middle point 100 mm down a straight wall; below, the radius shrinks by 100 sin(a).
    let creased = |degrees: f64| {
        let radius = 40.0 - 100.0 * libm::sin(degrees.to_radians());
        let text = format!(
            "cupwright = 1\ntitle = \"t\"\n[[part]]\nname = \"body\"\nrevolved = [ \
             {{ along = \"0 mm\", radius = \"40 mm\" }}, {{ along = \"100 mm\", radius = \"40 mm\" }}, \
             {{ along = \"200 mm\", radius = \"{radius:.9} mm\" }} ]\n"
        );
        let piece = read_piece(&Source::new("t.toml", text), &NoArt).value.unwrap();
        let Form::Revolved(wall) = &piece.parts[0].form else { panic!("the body is revolved") };
        wall[1].crease
    };
    assert!(!creased(4.99));
    assert!(creased(5.01));
}

/// Files beside the piece: one drawing and one font, as bytes of no meaning here.
struct Beside;

impl Art for Beside {
    fn svg(&self, file: &str) -> Result<Arc<str>, Unread> {
        if file == "art/reeds.svg" {
            Ok("<svg/>".into())
        } else {
            Err(Unread::not_there("there is no such file"))
        }
    }

    fn font(&self, file: &str) -> Result<Arc<[u8]>, Unread> {
        if file == "Marsh.TTF" {
            Ok(vec![0, 1].into())
        } else {
            Err(Unread::not_there("there is no such file"))
        }
    }

    fn pixels(&self, file: &str) -> Result<Pixels, Unread> {
        if file == "heron.png" {
            Ok(Pixels { size: (2, 1), srgb: vec![[0, 0, 0], [255, 255, 255]] })
        } else {
            Err(Unread::not_there("there is no such file"))
        }
    }
}

#[test]
fn drawings_and_fonts_come_in_from_beside_the_file() {
    let text = "cupwright = 1\ntitle = \"t\"\n[colours]\nreed = \"#6b8e23\"\n[[part]]\nname = \"topper\"\n\
                flat = { circle = \"50 mm\" }\n[[zone]]\nname = \"a\"\npart = \"topper\"\n\
                art = { file = \"art/reeds.svg\", layer = \"#12343b\", width = \"9 mm\" }\nvinyl = { colour = \"reed\" }\n\
                [[zone]]\nname = \"b\"\npart = \"topper\"\n\
                lettering = { text = \"ebb\", font = \"Marsh.TTF\", height = \"9 mm\" }\nvinyl = { colour = \"reed\" }\n";
    let piece = read_piece(&Source::new("t.toml", text), &Beside).value.unwrap();
    let art = |index: usize| piece.zones[index].region.art.clone().unwrap().art;
    let drawing = Drawn::Svg {
        file: "art/reeds.svg".to_owned(),
        text: "<svg/>".into(),
        layer: Some("#12343b".to_owned()),
    };
    assert_eq!(art(0), drawing);
    let Drawn::Lettering { font, .. } = art(1) else { panic!("words") };
    assert_eq!(font, Font::Own { file: "Marsh.TTF".to_owned(), bytes: vec![0, 1].into() });
    let other =
        read_piece(&Source::new("t.toml", text.replace("reeds.svg", "rushes.svg")), &Beside);
    assert_eq!(other.diagnostics.len(), 1);
    assert!(other.diagnostics[0].message.contains("there is no such file"));
}

#[test]
fn a_picture_is_told_from_a_drawing_by_the_end_of_its_name() {
    let text = "cupwright = 1\ntitle = \"t\"\n[colours]\nreed = \"#6b8e23\"\n[[part]]\nname = \"topper\"\n\
                flat = { circle = \"50 mm\" }\n[[zone]]\nname = \"a\"\npart = \"topper\"\n\
                art = { file = \"heron.png\", threshold = \"40 %\", width = \"9 mm\" }\nvinyl = { colour = \"reed\" }\n";
    let piece = read_piece(&Source::new("t.toml", text), &Beside).value.unwrap();
    let Drawn::Traced(found) = piece.zones[0].region.art.clone().unwrap().art else {
        panic!("a picture")
    };
    assert_eq!((found.threshold, found.darker, found.least_mm), (0.4, true, 0.5));
    assert_eq!(found.pixels.size, (2, 1));
}

#[test]
fn layers_share_one_list_of_sizes_and_each_keeps_its_own_shares() {
    let file = samples().into_iter().find(|file| name_of(file) == "good-layers.toml").unwrap();
    let text = std::fs::read_to_string(file).unwrap();
    let piece = read_piece(&Source::new("layers.toml", text), &NoArt).value.unwrap();
    let stones = |zone: usize| match &piece.zones[zone].finish {
        Finish::Stones(stones) => stones,
        other => panic!("zone {zone} has {other:?}"),
    };
    let moon = stones(0);
    let names: Vec<&str> = moon.sizes.iter().map(|size| size.name.as_str()).collect();
    assert_eq!(names, ["SS12", "SS8", "SS6", "SS5"]);
    let of = |layer: usize| moon.layers[layer].sizes.clone();
    assert_eq!(of(0), [(2, 1.0)]);
    assert_eq!(of(1), [(0, 0.8), (2, 0.2)]);
    assert_eq!(of(2), [(1, 0.5), (3, 0.5)]);
    assert_eq!(moon.material, StoneMaterial::LeadCrystal);
    assert_eq!(moon.layers[0].layout, Layout::Outline { rows: 2 });
    assert_eq!((moon.layers[1].blend, moon.layers[2].blend), (Blend::Area, Blend::Free));
    // SS8 is 2.4 mm in the table of sizes.
    assert_eq!(moon.rules.wear, Some((6.0, 2.4)));
    assert_eq!(moon.rules.bond_line_mm, Some(0.2));
    assert!(moon.rules.from_drawer && moon.rules.straddle);
    assert!(!stones(1).rules.straddle);
    // Places that are left out lie evenly between 10 % and 100 %; foam comes again at the end.
    let Colouring::Gradient { way, stops } = &moon.layers[1].colouring else { panic!("gradient") };
    assert_eq!(*way, Way::Wall { along_mm: (20.0, 120.0) });
    let colour = |name: &str| piece.colours.iter().position(|one| one.name == name).unwrap();
    let expected = [(0.1, "foam"), (0.4, "sand"), (0.7, "reed"), (1.0, "foam")];
    for ((at, index), (expected_at, name)) in stops.iter().zip(expected) {
        assert!((at - expected_at).abs() < 1e-12 && *index == colour(name), "{stops:?}");
    }
    assert_eq!(moon.layers[1].colours.len(), 3);
    // 0.8 for each 100 mm².
    assert_eq!(stones(4).layers[0].layout, Layout::Sparse { apart_mm: 6.0, per_mm2: Some(0.008) });
}

#[test]
fn a_grade_that_is_listed_from_the_smallest_runs_the_other_way() {
    let file = samples().into_iter().find(|file| name_of(file) == "good-layers.toml").unwrap();
    let text = std::fs::read_to_string(file).unwrap();
    let piece = read_piece(&Source::new("layers.toml", text), &NoArt).value.unwrap();
    let Finish::Stones(stars) = &piece.zones[4].finish else { panic!("the stars are stones") };
    // SS6 at -90 deg and SS20 at 90 deg: the largest first is SS20, from 90 deg to -90 deg.
    let quarter = std::f64::consts::FRAC_PI_2;
    assert_eq!(stars.sizes[0].name, "SS20");
    assert_eq!(stars.layers[0].grade, Some(Way::Around { around: (quarter, -quarter) }));
}

#[test]
fn a_line_is_laid_at_its_size_about_its_middle() {
    let file = samples().into_iter().find(|file| name_of(file) == "good-layers.toml").unwrap();
    let text = std::fs::read_to_string(file).unwrap();
    let corners = |text: &str, zone: usize| {
        let piece = read_piece(&Source::new("layers.toml", text), &NoArt).value.unwrap();
        let Finish::Stones(stones) = &piece.zones[zone].finish else { panic!("stones") };
        match &stones.layers[0].colouring {
            Colouring::Gradient { way: Way::Line { corners }, .. } => corners.clone(),
            other => panic!("{other:?}"),
        }
    };
    // 60 mm wide, so twice its drawn size; its middle 100 mm down at 90 deg, where the wall, which
    // narrows from 40 mm to 30 mm over 200 mm, has a radius of 35 mm. Arc = angle · radius.
    let quarter = std::f64::consts::FRAC_PI_2;
    let off = 30.0 / 35.0;
    let expected = [(quarter - off, 85.0), (quarter + off, 85.0), (quarter + off, 115.0)];
    for (found, expected) in corners(&text, 1).iter().zip(expected) {
        let near = |a: f64, b: f64| (a - b).abs() < 1e-9;
        assert!(near(found.0, expected.0) && near(found.1, expected.1), "{found:?}");
    }
    // A half circle of 30 mm radius: every corner lies on it, and no chord leaves it by more than
    // 0.05 mm (sagitta of a chord c of a circle: r - sqrt(r² - c²/4)).
    let arc = text.replace("M0 0 L30 0 L30 15", "M0 0 A 15 15 0 0 1 30 0");
    let corners: Vec<(f64, f64)> =
        corners(&arc, 1).iter().map(|at| ((at.0 - quarter) * 35.0, at.1 - 115.0)).collect();
    assert!(corners.len() > 10);
    for at in &corners {
        let radius_mm = libm::hypot(at.0, at.1);
        assert!((radius_mm - 30.0).abs() < 0.01, "{at:?} lies {radius_mm} mm from the centre");
    }
    for pair in corners.windows(2) {
        let chord = libm::hypot(pair[1].0 - pair[0].0, pair[1].1 - pair[0].1);
        assert!(30.0 - (900.0 - chord * chord / 4.0).sqrt() < 0.05, "a chord of {chord} mm");
    }
}

#[test]
fn pictures_come_in_from_beside_the_file() {
    let text = "cupwright = 1\ntitle = \"t\"\n[colours]\nreed = \"#6b8e23\"\nfoam = \"#e8eef0\"\n\
                [[part]]\nname = \"topper\"\nflat = { circle = \"50 mm\" }\n[[zone]]\nname = \"a\"\n\
                part = \"topper\"\n[zone.stones]\nlayout = \"scatter\"\nsize = \"SS6\"\n\
                colours = [\"foam\", \"reed\"]\n\
                picture = { file = \"heron.png\", width = \"40 mm\", around = \"5 mm\" }\n";
    let piece = read_piece(&Source::new("t.toml", text), &Beside).value.unwrap();
    let Finish::Stones(stones) = &piece.zones[0].finish else { panic!("stones") };
    let Colouring::Picture(picture) = &stones.layers[0].colouring else { panic!("picture") };
    assert_eq!((picture.size, picture.srgb.len()), ((2, 1), 2));
    assert_eq!((picture.width_mm, picture.along_mm, picture.around), (40.0, 0.0, 5.0));
    assert_eq!(stones.layers[0].colours, [(1, 0.5), (0, 0.5)]);
}

#[test]
fn large_and_unreadable_files_are_refused_at_once() {
    let start = std::time::Instant::now();
    let large = "# tide\n".repeat(50_000_000 / 7);
    let refused = Source::from_bytes("big.toml", large.clone().into_bytes()).unwrap_err();
    assert_eq!(refused.message, "the file has 50.0 MB; a file of more than 4 MB is not read");
    let reading = read_piece(&Source::new("big.toml", large), &NoArt);
    assert_eq!(reading.diagnostics[0].message, refused.message);
    assert!(start.elapsed().as_secs_f64() < 1.0, "{:?}", start.elapsed());
    let refused =
        Source::from_bytes("latin1.toml", b"title = \"x\"\nnotes = \"caf\xe9\"\n".to_vec())
            .unwrap_err();
    assert_eq!(
        refused.message,
        "the file is not UTF-8 text: line 2 holds bytes that are no character"
    );
}
