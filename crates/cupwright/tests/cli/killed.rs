//! Stopped by the person, and killed without warning.

use crate::room::{Room, contents, example};
use std::fs;
use std::process::{Child, Command, Stdio};
use std::thread::sleep;
use std::time::{Duration, Instant};

/// A room with an example under two titles, and a plan of the first in `out`.
fn planned() -> (Room, Duration) {
    let room = Room::new();
    let text = fs::read_to_string(example("frost-lid.toml")).expect("example");
    room.write("first.toml", &text);
    room.write("second.toml", text.replacen("Frost on the saltings", "Frost on the mudflats", 1));
    let started = Instant::now();
    room.run(&["plan", "first.toml", "--out", "out"]).ended(0, &[]);
    (room, started.elapsed())
}

fn start_second(room: &Room) -> Child {
    let mut command = room.command(&["plan", "second.toml", "--out", "out"]);
    command.stderr(Stdio::piped()).stdout(Stdio::null()).spawn().expect("the program starts")
}

#[cfg(unix)]
#[test]
fn stopped_with_ctrl_c_it_leaves_the_old_folder_and_nothing_else() {
    let (room, whole) = planned();
    let before = contents(&room.path("out"));
    for signal in ["-INT", "-TERM"] {
        let child = start_second(&room);
        sleep(whole / 5);
        let sent =
            Command::new("kill").args([signal, &child.id().to_string()]).status().expect("kill");
        assert!(sent.success());
        let ran = crate::room::Ran::of(child.wait_with_output().expect("ended"));
        ran.ended(130, &["stopped; nothing was written"]);
        assert!(contents(&room.path("out")) == before);
        assert_eq!(room.names(), ["first.toml", "out", "second.toml"]);
    }
}

#[test]
fn killed_at_any_moment_it_leaves_the_old_folder_or_the_new_one_whole() {
    let (room, whole) = planned();
    let first = contents(&room.path("out"));
    room.run(&["plan", "second.toml", "--out", "new"]).ended(0, &[]);
    let second = contents(&room.path("new"));
    let n_kills = 12;
    for kill in 0..n_kills {
        let mut child = start_second(&room);
        // Closer together towards the end, where the folders change places.
        let left = f64::from(n_kills - kill) / f64::from(n_kills);
        let share = 1.0 - left * left;
        sleep(whole.mul_f64(share * 1.05));
        // It may have ended already.
        let _ = child.kill();
        child.wait().expect("ended");
        let found = contents(&room.path("out"));
        assert!(found == first || found == second, "after {share} of the time: {:?}", found.keys());
    }
    // The next run clears away what those left behind.
    room.run(&["plan", "second.toml", "--out", "out"]).ended(0, &[]);
    assert_eq!(room.names(), ["first.toml", "new", "out", "second.toml"]);
    assert!(contents(&room.path("out")) == second);
}

#[test]
fn two_at_once_leave_one_whole_folder() {
    let (room, _) = planned();
    room.run(&["plan", "second.toml", "--out", "new"]).ended(0, &[]);
    let second = contents(&room.path("new"));
    let children = [start_second(&room), start_second(&room), start_second(&room)];
    let outputs =
        children.map(|child| crate::room::Ran::of(child.wait_with_output().expect("ended")));
    for ran in &outputs {
        // One that finds another's folder half removed may refuse; it never breaks anything.
        assert!(matches!(ran.code, Some(0 | 3)), "{ran:?}");
    }
    assert!(outputs.iter().any(|ran| ran.code == Some(0)));
    assert!(contents(&room.path("out")) == second);
    assert_eq!(room.names(), ["first.toml", "new", "out", "second.toml"]);
}
