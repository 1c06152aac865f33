//! Places that cannot be written to, and odd names.

use crate::room::{Room, SMALL, names};
use std::fs;

fn room() -> Room {
    let room = Room::new();
    room.write("piece.toml", SMALL);
    room
}

#[test]
fn a_file_in_place_of_the_folder_is_left_alone() {
    let room = room();
    room.write("out", "not a folder");
    room.run(&["plan", "piece.toml", "--out", "out"]).ended(3, &["out is a file, not a folder"]);
    room.run(&["plan", "piece.toml", "--out", "out/inner"])
        .ended(3, &["out/inner", "a file, not a folder"]);
    assert_eq!(fs::read_to_string(room.path("out")).expect("kept"), "not a folder");
}

#[test]
fn a_path_without_a_name_is_refused() {
    let room = room();
    fs::create_dir(room.path("inner")).expect("folder");
    for out in ["..", ".", "/", "inner/.."] {
        room.run(&["plan", "piece.toml", "--out", out])
            .ended(3, &["cannot write to", "Name the folder itself"]);
    }
    assert_eq!(room.names(), ["inner", "piece.toml"]);
    room.run(&["plan", "piece.toml", "--out", "inner/../out/"]).ended(0, &[]);
    assert!(room.path("out/workbook.pdf").exists());
}

#[cfg(unix)]
#[test]
fn a_link_is_not_replaced() {
    let room = room();
    room.write("elsewhere/keep.txt", "keep");
    for (to, name) in [("elsewhere", "link"), ("nowhere", "broken")] {
        std::os::unix::fs::symlink(to, room.path(name)).expect("link");
        room.run(&["plan", "piece.toml", "--out", name]).ended(3, &["is a link"]);
        assert!(fs::symlink_metadata(room.path(name)).expect("kept").is_symlink());
    }
    assert_eq!(names(&room.path("elsewhere")), ["keep.txt"]);
}

#[cfg(target_os = "linux")]
#[test]
fn names_that_are_no_unicode_work() {
    use std::ffi::OsStr;
    use std::os::unix::ffi::OsStrExt;
    let room = room();
    let odd = OsStr::from_bytes(b"h\xe9ron");
    for _ in 0..2 {
        let mut command = room.command(&["plan", "piece.toml", "--out"]);
        let output = command.arg(odd).output().expect("the program starts");
        crate::room::Ran::of(output).ended(0, &["h\u{fffd}ron"]);
    }
    assert!(room.path("").join(odd).join("workbook.pdf").exists());
    let mut command = room.command(&["plan"]);
    let output = command.arg(odd).args(["--out", "out"]).output().expect("the program starts");
    crate::room::Ran::of(output).ended(3, &["could not read h\u{fffd}ron"]);
}

#[test]
fn a_piece_that_is_not_there_or_no_file_is_said_so() {
    let room = room();
    room.run(&["plan", "none.toml", "--out", "out"])
        .ended(3, &["could not read none.toml: there is no such file"]);
    room.run(&["plan", ".", "--out", "out"]).ended(3, &["it is a folder"]);
    room.run(&["check", "piece.toml", "none.toml"]).ended(3, &["none.toml"]);
    room.run(&["plan", "piece.toml", "--out", "out", "--studio", "none.toml"])
        .ended(3, &["none.toml"]);
    assert_eq!(room.names(), ["piece.toml"]);
}

#[cfg(unix)]
#[test]
fn a_piece_from_a_pipe_is_read() {
    let room = room();
    room.shell("$CUPWRIGHT check <(cat piece.toml)").ended(0, &[]);
}

/// A write that fails in the middle: files may not grow past 20 blocks of 1,024 bytes here.
#[cfg(target_os = "linux")]
#[test]
fn a_write_that_fails_in_the_middle_leaves_nothing() {
    let room = room();
    let ran = room.shell("trap '' XFSZ; ulimit -f 20; exec $CUPWRIGHT plan piece.toml --out a/out");
    ran.ended(3, &["could not write"]);
    assert_eq!(room.names(), ["piece.toml"]);
}

/// Whether this machine lets anyone mount a small disk in a name space of their own.
#[cfg(target_os = "linux")]
fn can_mount(room: &Room) -> bool {
    room.shell("unshare -rm mount -t tmpfs -o size=64k tmpfs /mnt").code == Some(0)
}

#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_leaves_the_old_folder() {
    let room = room();
    if !can_mount(&room) {
        return;
    }
    fs::create_dir(room.path("disk")).expect("folder");
    let ran = room.shell(
        "unshare -rm bash -c 'mount -t tmpfs -o size=8m tmpfs disk && \
         $CUPWRIGHT plan piece.toml --out disk/out && \
         sed -i s/Shell/Other/ piece.toml && cp -r disk/out before && \
         fallocate -l $(($(stat -f -c %a*%S disk) - 100000)) disk/fill && \
         ($CUPWRIGHT plan piece.toml --out disk/out; echo code $?) && \
         diff -r before disk/out && ls -A disk'",
    );
    ran.ended(0, &["the disk is full"]);
    assert_eq!(ran.stdout, "code 3\nfill\nout\n");
}

#[cfg(target_os = "linux")]
#[test]
fn a_read_only_disk_is_said_so() {
    let room = room();
    if !can_mount(&room) {
        return;
    }
    fs::create_dir(room.path("disk")).expect("folder");
    room.shell("unshare -rm bash -c 'mount -t tmpfs -o ro tmpfs disk && $CUPWRIGHT plan piece.toml --out disk/out'")
        .ended(3, &["cannot write into disk: the disk is read-only", "--out"]);
}

#[cfg(target_os = "linux")]
#[test]
fn a_disk_mounted_at_the_folder_itself_is_left_alone() {
    let room = room();
    if !can_mount(&room) {
        return;
    }
    fs::create_dir(room.path("disk")).expect("folder");
    let ran = room.shell(
        "unshare -rm bash -c 'mount -t tmpfs tmpfs disk && $CUPWRIGHT plan piece.toml --out disk'",
    );
    ran.ended(3, &["disk", "--out"]);
    assert_eq!(room.names(), ["disk", "piece.toml"]);
}
