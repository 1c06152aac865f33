//! A folder of its own for each test, and the program run in it.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};
use tempfile::TempDir;

/// A piece that is planned in a moment: a flat topper with a few stones.
pub const SMALL: &str = r##"
cupwright = 1
title = "Shell"
[colours]
"foam" = "#e8eef0"
"ebb" = "#1f6f78"
[[part]]
name = "topper"
flat = { circle = "24 mm" }
[[zone]]
name = "field"
part = "topper"
inset = "1 mm"
[zone.stones]
layout = "rows"
size = "SS20"
colour = "foam"
"##;

/// A piece with a body, to put things on.
pub const CUP: &str = r##"
cupwright = 1
title = "Marsh cup"
[colours]
"foam" = "#e8eef0"
"ebb" = "#1f6f78"
[[part]]
name = "body"
revolved = [
  { along = "0 mm", diameter = "70 mm" },
  { along = "120 mm", diameter = "60 mm" },
]
[[zone]]
name = "band"
part = "body"
band = { from = "40 mm", to = "60 mm" }
[zone.stones]
layout = "rows"
size = "SS30"
colour = "foam"
"##;

/// A folder of its own.
pub struct Room(TempDir);

/// How a run ended.
#[derive(Debug)]
pub struct Ran {
    pub code: Option<i32>,
    pub stdout: String,
    pub stderr: String,
}

impl Room {
    pub fn new() -> Self {
        Self(tempfile::tempdir().expect("temp folder"))
    }

    pub fn path(&self, name: &str) -> PathBuf {
        self.0.path().join(name)
    }

    pub fn write(&self, name: &str, text: impl AsRef<[u8]>) -> PathBuf {
        let path = self.path(name);
        fs::create_dir_all(path.parent().expect("parent")).expect("folder");
        fs::write(&path, text).expect("file");
        path
    }

    /// The program, to be started in this folder.
    pub fn command(&self, args: &[&str]) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_cupwright"));
        // 1 July 2026, before any day in the examples.
        command.env("SOURCE_DATE_EPOCH", "1782864000");
        command.args(args).current_dir(self.0.path()).env_remove("NO_COLOR");
        command
    }

    /// Runs the program to its end; a panic never passes.
    pub fn run(&self, args: &[&str]) -> Ran {
        Ran::of(self.command(args).output().expect("the program starts"))
    }

    /// Runs a line of shell in which `$CUPWRIGHT` is the program.
    pub fn shell(&self, line: &str) -> Ran {
        let mut command = Command::new("bash");
        command.args(["-c", line]).current_dir(self.0.path());
        Ran::of(
            command
                .env("CUPWRIGHT", env!("CARGO_BIN_EXE_cupwright"))
                .output()
                .expect("bash starts"),
        )
    }

    /// Names of everything in the room.
    pub fn names(&self) -> Vec<String> {
        names(self.0.path())
    }
}

impl Ran {
    pub fn of(output: Output) -> Self {
        let text = |bytes: Vec<u8>| String::from_utf8(bytes).expect("output is UTF-8");
        let ran = Self {
            code: output.status.code(),
            stdout: text(output.stdout),
            stderr: text(output.stderr),
        };
        assert!(!ran.stderr.contains("panicked"), "{}", ran.stderr);
        ran
    }

    /// Makes sure that it ended with this code and said all of these words on the error stream.
    #[track_caller]
    pub fn ended(&self, code: i32, words: &[&str]) {
        assert_eq!(self.code, Some(code), "{}{}", self.stdout, self.stderr);
        for word in words {
            assert!(self.stderr.contains(word), "{word:?} is not in:\n{}", self.stderr);
        }
    }
}

/// Names of everything in a folder, sorted.
pub fn names(folder: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).expect("folder");
    let mut names: Vec<String> = entries
        .map(|entry| entry.expect("entry").file_name().to_string_lossy().into_owned())
        .collect();
    names.sort();
    names
}

/// Bytes of every file in a folder, by name.
pub fn contents(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    names(folder)
        .into_iter()
        .map(|name| (name.clone(), fs::read(folder.join(name)).expect("file")))
        .collect()
}

/// The folder of examples in the repository.
pub fn example(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples").join(name)
}

/// A path as an argument.
pub fn arg(path: &Path) -> &str {
    path.to_str().expect("UTF-8 path")
}
