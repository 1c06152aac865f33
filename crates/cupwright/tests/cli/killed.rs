//! Stopped by the person, and killed without warning.

use crate::room::{Ran, Room, contents, example};
use std::fs;
use std::process::{Child, Stdio};
use std::thread::sleep;
use std::time::{Duration, Instant};

/// Names of drafts in the room, at work or left behind.
#[cfg(unix)]
fn drafts(room: &Room) -> Vec<String> {
    room.names().into_iter().filter(|name| name.starts_with(".cupwright-")).collect()
}

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

/// Starts the second plan and sends it a signal as soon as its draft is there.
#[cfg(unix)]
fn signalled_at_work(room: &Room, signal: &str) -> Ran {
    let mut child = start_second(room);
    let give_up = Instant::now() + Duration::from_secs(120);
    while child.try_wait().expect("looked at").is_none() {
        assert!(Instant::now() < give_up, "no draft after two minutes");
        if !drafts(room).is_empty() {
            // The shell's own `kill`; a small system has no program of that name.
            room.shell(&format!("kill -{signal} {}", child.id())).ended(0, &[]);
            break;
        }
        sleep(Duration::from_millis(1));
    }
    Ran::of(child.wait_with_output().expect("ended"))
}

#[cfg(unix)]
#[test]
fn stopped_with_ctrl_c_it_leaves_the_old_folder_and_nothing_else() {
    let (room, _) = planned();
    for signal in ["INT", "TERM"] {
        // A busy machine may let a run end before the signal comes; then it is tried again.
        let stopped = (0..10).any(|_| {
            let before = contents(&room.path("out"));
            let ran = signalled_at_work(&room, signal);
            assert_eq!(room.names(), ["first.toml", "out", "second.toml"]);
            if ran.code == Some(0) {
                return false;
            }
            ran.ended(130, &["stopped; nothing was written"]);
            assert!(contents(&room.path("out")) == before);
            true
        });
        assert!(stopped, "no signal came in time");
    }
}

/// Starts the program and interrupts it after a while. `None` if it did not listen yet: then the
/// system ends it.
#[cfg(unix)]
fn interrupted(room: &Room, args: &[&str], after: Duration) -> Option<Ran> {
    let mut command = room.command(args);
    let child = command.stderr(Stdio::piped()).stdout(Stdio::piped()).spawn().expect("it starts");
    sleep(after);
    room.shell(&format!("kill -INT {}", child.id())).ended(0, &[]);
    Some(Ran::of(child.wait_with_output().expect("ended"))).filter(|ran| ran.code.is_some())
}

#[cfg(unix)]
#[test]
fn a_check_stopped_with_ctrl_c_says_so_and_how_far_it_came() {
    let room = Room::new();
    room.write("piece.toml", crate::room::SMALL);
    // Long enough that no machine is through with them before the signal comes.
    let heron = example("heron-low-tide.toml").to_string_lossy().into_owned();
    let mut args = vec!["check", "piece.toml"];
    args.extend([heron.as_str(); 200]);
    let waits = || (1..=20).map(|tenths| Duration::from_millis(200 * tenths));
    let found = waits().find_map(|after| interrupted(&room, &args, after)).expect("it listens");
    found.ended(130, &["error: stopped; ", " of 201 files looked at"]);
    args.push("--json");
    let found = waits().find_map(|after| interrupted(&room, &args, after)).expect("it listens");
    found.ended(130, &[]);
    let told: serde_json::Value = serde_json::from_str(&found.stdout).expect("JSON");
    assert_eq!(told["exit_code"], 130);
    let pieces = told["pieces"].as_array().expect("those looked at");
    assert!(pieces.len() < 201 && pieces.iter().all(|piece| piece["exit_code"] == 0));
    let message = format!("stopped; {} of 201 files looked at", pieces.len());
    assert_eq!(told["trouble"]["message"], message);
}

#[cfg(unix)]
#[test]
fn a_comparison_stopped_with_ctrl_c_writes_nothing() {
    let room = Room::new();
    let heron = example("heron-low-tide.toml").to_string_lossy().into_owned();
    let args = ["compare", heron.as_str(), "--out", "out"];
    let waits = (1..=20).map(|tenths| Duration::from_millis(100 * tenths));
    let ran =
        waits.into_iter().find_map(|after| interrupted(&room, &args, after)).expect("it listens");
    ran.ended(130, &["stopped; nothing was written"]);
    assert_eq!(ran.stdout, "");
    assert_eq!(room.names(), [] as [&str; 0]);
}

/// Many pieces to be timed, so that stopping falls into any room of the road.
#[cfg(unix)]
#[test]
fn a_plan_of_a_thousand_pieces_stops_soon() {
    let room = Room::new();
    let text = fs::read_to_string(example("heron-low-tide.toml")).expect("example");
    room.write("many.toml", text.replacen("title =", "quantity = 1000\ntitle =", 1));
    let args = ["plan", "many.toml", "--out", "out"];
    let (ran, took) = [200, 400, 800, 1600]
        .into_iter()
        .find_map(|after_ms| {
            let started = Instant::now();
            let ran = interrupted(&room, &args, Duration::from_millis(after_ms))?;
            Some((ran, started.elapsed() - Duration::from_millis(after_ms)))
        })
        .expect("it listens");
    ran.ended(130, &["stopped; nothing was written"]);
    // A busy machine is given ten times as long as it takes.
    assert!(took < Duration::from_secs(10), "{took:?}");
    assert_eq!(room.names(), ["many.toml"]);
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
    // The next run clears away what those left behind. A draft killed before it has its list is
    // taken for one just begun until it is a minute old, so they are made older.
    #[cfg(unix)]
    for draft in drafts(&room) {
        let earlier = std::time::SystemTime::now() - Duration::from_secs(3600);
        fs::File::open(room.path(&draft)).and_then(|it| it.set_modified(earlier)).expect("set");
    }
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
    let outputs = children.map(|child| Ran::of(child.wait_with_output().expect("ended")));
    for ran in &outputs {
        // One that finds another's folder half removed may refuse; it never breaks anything.
        assert!(matches!(ran.code, Some(0 | 3)), "{ran:?}");
    }
    assert!(outputs.iter().any(|ran| ran.code == Some(0)));
    assert!(contents(&room.path("out")) == second);
    assert_eq!(room.names(), ["first.toml", "new", "out", "second.toml"]);
}
