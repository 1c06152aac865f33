//! Removes folders of ours: one that was replaced, and what runs that were killed left behind.

use super::draft::PREFIX;
use super::manifest::{MANIFEST, MANIFEST_BEGUN, removable};
use super::swap::aside;
use std::fs::{self, File};
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};
use std::time::Duration;

/// A draft without a list is taken for one that was begun just now until it is so old.
const BEGINNING: Duration = Duration::from_secs(60);

/// Removes a folder that has been replaced; if it cannot be removed without losing what is not
/// ours, gives it a name that a person will see, and returns that.
pub fn remove_old(old: &Path, target: &Path) -> Option<PathBuf> {
    // Another run may be at it: it takes the folder for left over, or has only just made it. The
    // lock waits for that. A disk that knows no locks leaves nothing to wait for.
    let list = File::open(old.join(MANIFEST));
    let _locked = list.and_then(|list| list.lock().map(|()| list));
    match remove_ours(old) {
        Ok(()) => None,
        // The other run was faster.
        Err(error) if error.kind() == ErrorKind::NotFound => None,
        Err(_) => {
            let seen = aside(target);
            Some(if fs::rename(old, &seen).is_ok() { seen } else { old.to_owned() })
        }
    }
}

/// Removes a folder that holds only what Cupwright wrote, file by file; anything else stays. The
/// list goes last, so that a removal that was cut short can be taken up again.
fn remove_ours(folder: &Path) -> io::Result<()> {
    let names = removable(folder)?.map_err(|_| ErrorKind::DirectoryNotEmpty)?;
    for name in names {
        fs::remove_file(folder.join(name))?;
    }
    fs::remove_dir(folder)
}

/// Clears away what runs before this one left because they were killed: drafts without a list yet,
/// and old folders whose removal was cut short. What cannot be removed now is tried again next time.
pub fn clear_left_over(parent: &Path) {
    let Ok(entries) = fs::read_dir(parent) else { return };
    for entry in entries.flatten() {
        let is_draft = entry.file_name().to_str().is_some_and(|name| name.starts_with(PREFIX));
        if !is_draft || !entry.file_type().is_ok_and(|kind| kind.is_dir()) {
            continue;
        }
        let folder = entry.path();
        // What cannot be removed now is tried again by the next run.
        let _ = match File::open(folder.join(MANIFEST)) {
            Ok(list) => clear_unless_locked(&folder, &list),
            Err(error) if error.kind() == ErrorKind::NotFound => clear_bare(&folder),
            Err(error) => Err(error),
        };
    }
}

fn clear_unless_locked(folder: &Path, list: &File) -> io::Result<()> {
    list.try_lock()?;
    if list.metadata()?.len() == 0 { fs::remove_dir_all(folder) } else { remove_ours(folder) }
}

/// Clears away a draft that was killed before it had a list. It holds nothing of anyone's.
fn clear_bare(folder: &Path) -> io::Result<()> {
    let age = fs::metadata(folder)?.modified()?.elapsed();
    if age.is_ok_and(|age| age > BEGINNING) {
        // Mostly it had not begun one either.
        let _ = fs::remove_file(folder.join(MANIFEST_BEGUN));
        fs::remove_dir(folder)?;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::super::manifest::Manifest;
    use super::*;
    use std::thread;

    /// A folder as a finished plan leaves it, with one file.
    fn finished(folder: &Path) {
        fs::create_dir(folder).expect("folder");
        fs::write(folder.join("bill.csv"), "reeds").expect("file");
        let manifest = Manifest::of(folder, &["bill.csv".to_owned()]).expect("readable");
        let mut list = File::create_new(folder.join(MANIFEST)).expect("list");
        manifest.write(&mut list).expect("written");
    }

    fn names(folder: &Path) -> Vec<String> {
        let entries = fs::read_dir(folder).expect("folder");
        let name = |entry: fs::DirEntry| entry.file_name().to_string_lossy().into_owned();
        let mut names: Vec<String> = entries.map(|entry| name(entry.expect("entry"))).collect();
        names.sort();
        names
    }

    #[test]
    fn an_old_folder_that_another_run_removed_is_done_with() {
        let temp = tempfile::tempdir().expect("temp folder");
        let old = temp.path().join(".cupwright-old");
        assert_eq!(remove_old(&old, &temp.path().join("out")), None);
        finished(&old);
        fs::remove_file(old.join("bill.csv")).expect("removed");
        assert_eq!(remove_old(&old, &temp.path().join("out")), None);
        assert!(names(temp.path()).is_empty());
    }

    #[test]
    fn an_old_folder_that_another_run_is_removing_is_waited_for() {
        let temp = tempfile::tempdir().expect("temp folder");
        let (old, target) = (temp.path().join(".cupwright-old"), temp.path().join("out"));
        finished(&old);
        let list = File::open(old.join(MANIFEST)).expect("list");
        list.lock().expect("locked");
        thread::scope(|scope| {
            let ours = scope.spawn(|| remove_old(&old, &target));
            thread::sleep(Duration::from_millis(200));
            assert!(!ours.is_finished());
            assert_eq!(names(&old), [MANIFEST, "bill.csv"]);
            remove_ours(&old).expect("removed");
            drop(list);
            assert_eq!(ours.join().expect("no panic"), None);
        });
        assert!(names(temp.path()).is_empty());
    }

    #[test]
    fn an_old_folder_with_something_added_is_kept_where_it_is_seen() {
        let temp = tempfile::tempdir().expect("temp folder");
        let (old, target) = (temp.path().join(".cupwright-old"), temp.path().join("out"));
        finished(&old);
        fs::write(old.join("notes.txt"), "mine").expect("file");
        let kept = remove_old(&old, &target).expect("kept");
        assert_eq!(kept, aside(&target));
        assert_eq!(names(&kept), [MANIFEST, "bill.csv", "notes.txt"]);
    }

    #[test]
    fn clearing_leaves_drafts_that_are_at_work() {
        let temp = tempfile::tempdir().expect("temp folder");
        let draft = temp.path().join(".cupwright-draft");
        fs::create_dir(&draft).expect("folder");
        fs::write(draft.join("half"), "").expect("file");
        let list = File::create_new(draft.join(MANIFEST)).expect("list");
        list.lock().expect("locked");
        clear_left_over(temp.path());
        assert!(draft.join("half").exists());
        drop(list);
        clear_left_over(temp.path());
        assert!(!draft.exists());
    }

    #[cfg(unix)]
    #[test]
    fn a_draft_without_a_list_is_cleared_once_it_is_older_than_a_minute() {
        let temp = tempfile::tempdir().expect("temp folder");
        let draft = temp.path().join(".cupwright-draft");
        for begun in [false, true] {
            fs::create_dir(&draft).expect("folder");
            if begun {
                File::create_new(draft.join(MANIFEST_BEGUN)).expect("list");
            }
            clear_left_over(temp.path());
            assert!(draft.exists());
            let earlier = std::time::SystemTime::now() - BEGINNING * 2;
            File::open(&draft).and_then(|file| file.set_modified(earlier)).expect("set");
            clear_left_over(temp.path());
            assert!(!draft.exists());
        }
    }

    #[cfg(unix)]
    #[test]
    fn a_folder_of_someone_elses_with_such_a_name_is_left_alone() {
        let temp = tempfile::tempdir().expect("temp folder");
        let theirs = temp.path().join(".cupwright-photos");
        fs::create_dir(&theirs).expect("folder");
        fs::write(theirs.join("heron.jpg"), "a photo").expect("file");
        let earlier = std::time::SystemTime::now() - BEGINNING * 2;
        File::open(&theirs).and_then(|file| file.set_modified(earlier)).expect("set");
        clear_left_over(temp.path());
        assert_eq!(names(&theirs), ["heron.jpg"]);
    }
}
