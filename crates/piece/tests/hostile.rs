//! Whatever bytes come in, the reader answers, quickly and without a panic.

use ::piece::{
    NoArt, Settings, Severity, Source, piece_schema, read_piece, read_settings, show, show_json,
};
use proptest::prelude::*;
use std::time::{Duration, Instant};

const GOOD: &str = include_str!("pieces/good-heron.toml");

/// Reads the bytes as a piece and as settings, and shows what is told; checks what must always hold.
fn read_all(bytes: &[u8]) {
    let source = match Source::from_bytes("any.toml", bytes.to_vec()) {
        Ok(source) => source,
        Err(refused) => {
            assert!(!show(&[refused], &Source::new("any.toml", ""), false).is_empty());
            return;
        }
    };
    let piece = read_piece(&source, &NoArt);
    let settings = read_settings(&source);
    for (missing, diagnostics) in [
        (piece.value.is_none(), &piece.diagnostics),
        (settings.value.is_none(), &settings.diagnostics),
    ] {
        let wrong = diagnostics.iter().any(|one| one.severity == Severity::Error);
        assert_eq!(missing, wrong);
        for span in diagnostics.iter().filter_map(|one| one.span.clone()) {
            assert!(source.text.get(span.clone()).is_some(), "{span:?} cuts a character");
        }
        assert_eq!(show(diagnostics, &source, false).is_empty(), diagnostics.is_empty());
        assert_eq!(show_json(diagnostics, &source).as_array().unwrap().len(), diagnostics.len());
    }
}

/// Words that lie near the format, so that random files get past the first line.
fn word() -> impl Strategy<Value = String> {
    let mut words: Vec<String> = [
        "\n",
        "\n[[part]]\n",
        "\n[[zone]]\n",
        "[colours]\n",
        "cupwright = 1\n",
        "title = \"t\"\n",
        " = ",
        "{ ",
        " }",
        "[ ",
        " ]",
        ", ",
        "\"",
        "'''",
        "\"\"\"",
        "#",
        "=",
        "nan",
        "-inf",
        "0x7f",
        "1e999",
        "\"7 mm\"",
        "\"40 %\"",
        "\"90 deg\"",
        "2026-07-18",
        "true",
        "\u{feff}",
        "\r\n",
        "\\u0000",
        "é",
        "\u{1F980}",
        "\u{0}",
        ".",
        "[",
        "]]",
    ]
    .map(str::to_owned)
    .to_vec();
    let schema = piece_schema();
    for table in std::iter::once(&schema).chain(schema["$defs"].as_object().unwrap().values()) {
        words.extend(
            table["properties"].as_object().into_iter().flat_map(|keys| keys.keys().cloned()),
        );
    }
    proptest::sample::select(words)
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_bytes_give_an_answer(bytes in proptest::collection::vec(any::<u8>(), 0..400)) {
        read_all(&bytes);
    }

    #[test]
    fn any_words_of_the_format_give_an_answer(words in proptest::collection::vec(word(), 0..80)) {
        read_all(words.concat().as_bytes());
    }

    #[test]
    fn a_good_file_with_bytes_changed_gives_an_answer(
        cuts in proptest::collection::vec((any::<proptest::sample::Index>(), 0_usize..30, word()), 1..5)
    ) {
        let mut bytes = GOOD.as_bytes().to_vec();
        for (at, length, word) in cuts {
            let at = at.index(bytes.len() + 1);
            let end = (at + length).min(bytes.len());
            bytes.splice(at..end, word.bytes());
        }
        read_all(&bytes);
    }

    #[test]
    fn settings_with_bytes_changed_give_an_answer(
        at in any::<proptest::sample::Index>(), length in 0_usize..20, word in word()
    ) {
        let mut bytes = Settings::DEMO_TEXT.as_bytes().to_vec();
        let at = at.index(bytes.len() + 1);
        let end = (at + length).min(bytes.len());
        bytes.splice(at..end, word.bytes());
        read_all(&bytes);
    }

    /// What reads well reads the same from any line ending, and twice.
    #[test]
    fn line_endings_make_no_difference(seed in 0_u64..1_000_000) {
        let unix = GOOD.replace("seed = 7", &format!("seed = {seed}"));
        let windows = unix.replace('\n', "\r\n");
        let read = |text: String| read_piece(&Source::new("t.toml", text), &NoArt).value;
        prop_assert!(read(unix.clone()).is_some());
        prop_assert_eq!(read(unix), read(windows));
    }
}

#[test]
fn files_built_to_be_slow_or_deep_are_answered_within_seconds() {
    let good_end = "\n[[part]]\nname = \"lid\"\nflat = { circle = \"9 mm\" }\n";
    let long = 1_000_000;
    let files = [
        ("brackets", format!("title = {}", "[".repeat(long))),
        ("tables", format!("title = {}", "{a=".repeat(long))),
        ("dots", format!("{}x = 1", "a.".repeat(long))),
        ("heading", format!("[{}x]", "a.".repeat(long))),
        ("key", format!("{} = 1", "k".repeat(long))),
        ("keys", (0..100_000).map(|key| format!("k{key} = 1\n")).collect()),
        ("same", "title = 1\n".repeat(100_000)),
        ("zones", "[[zone]]\n".repeat(100_000)),
        ("text", format!("title = \"{}\"", "x".repeat(long))),
        ("number", format!("seed = {}", "9".repeat(long))),
        ("length", format!("cupwright = 1\n[[part]]\ncapacity = \"{} ml\"", "9".repeat(long))),
        (
            "path",
            format!(
                "cupwright = 1\ntitle = \"t\"\n[[part]]\nname = \"lid\"\nflat = {{ path = \"{}\", width = \"9 mm\" }}",
                "M0 0".repeat(long / 5)
            ),
        ),
        ("comment", format!("{}{good_end}", "#".repeat(long))),
        (
            "colours",
            format!(
                "[colours]\n{}",
                (0..50_000).map(|key| format!("k{key} = \"#000000\"\n")).collect::<String>()
            ),
        ),
    ];
    for (name, text) in files {
        let start = Instant::now();
        read_all(text.as_bytes());
        // Measured at most 0.7 s each on a busy machine; the limit is there to catch squared growth.
        assert!(start.elapsed() < Duration::from_secs(20), "{name}: {:?}", start.elapsed());
        println!("{name}: {:?}", start.elapsed());
    }
}

#[test]
fn a_file_with_a_million_errors_is_told_the_first_hundred() {
    let text: String = (0..100_000).map(|key| format!("k{key} = 1\n")).collect();
    let reading = read_piece(&Source::new("t.toml", text), &NoArt);
    assert_eq!(reading.diagnostics.len(), 101);
    assert_eq!(reading.diagnostics[100].message, "there are 99903 more complaints");
}

#[test]
fn deep_files_do_not_need_a_large_stack() {
    let small = std::thread::Builder::new().stack_size(512 * 1024);
    let read = || {
        for opener in ["[", "{a=", "[{a=["] {
            read_all(format!("title = {}", opener.repeat(10_000)).as_bytes());
            read_all(
                format!("[[part]]\nrevolved = {}", opener.repeat(70 / opener.len())).as_bytes(),
            );
        }
    };
    small.spawn(read).unwrap().join().unwrap();
}
