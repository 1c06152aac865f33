//! Two folders change places.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

/// Puts `draft` where `target` is, and returns where the old target now lies. At every moment the
/// target is either the old folder or the new one, whole.
///
/// # Errors
/// As the system says; both folders are then where they were.
#[cfg(any(target_os = "linux", target_os = "android", target_vendor = "apple"))]
pub fn swap(draft: &Path, target: &Path) -> io::Result<PathBuf> {
    use rustix::fs::{CWD, RenameFlags, renameat_with};
    use rustix::io::Errno;
    match renameat_with(CWD, draft, CWD, target, RenameFlags::EXCHANGE) {
        Ok(()) => Ok(draft.to_owned()),
        // Some disks (network, FUSE) and old kernels cannot exchange.
        Err(Errno::INVAL | Errno::NOSYS | Errno::NOTSUP) => set_aside(draft, target),
        Err(errno) => Err(errno.into()),
    }
}

#[cfg(not(any(target_os = "linux", target_os = "android", target_vendor = "apple")))]
pub fn swap(draft: &Path, target: &Path) -> io::Result<PathBuf> {
    set_aside(draft, target)
}

/// The same in two steps. Between them the target is missing and the old folder lies beside it
/// under a name that tells; it is never cleared away by itself.
fn set_aside(draft: &Path, target: &Path) -> io::Result<PathBuf> {
    let old = aside(target);
    fs::rename(target, &old)?;
    if let Err(error) = fs::rename(draft, target) {
        fs::rename(&old, target)?;
        return Err(error);
    }
    Ok(old)
}

/// A name beside the target under which an old folder that is kept is easily found.
pub fn aside(target: &Path) -> PathBuf {
    let mut name = target.file_name().unwrap_or_default().to_owned();
    name.push(format!(".old-{}", std::process::id()));
    target.with_file_name(name)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn both_ways_put_the_new_folder_in_place_and_keep_the_old() {
        for way in [swap, set_aside] {
            let temp = tempfile::tempdir().expect("temp folder");
            let (draft, target) = (temp.path().join("draft"), temp.path().join("target"));
            for folder in [&draft, &target] {
                fs::create_dir(folder).expect("folder");
            }
            fs::write(draft.join("new"), "").expect("file");
            fs::write(target.join("old"), "").expect("file");
            let old = way(&draft, &target).expect("swapped");
            assert!(target.join("new").exists());
            assert!(old.join("old").exists());
        }
    }

    #[test]
    fn a_draft_that_is_gone_leaves_the_target_in_place() {
        for way in [swap, set_aside] {
            let temp = tempfile::tempdir().expect("temp folder");
            let target = temp.path().join("target");
            fs::create_dir(&target).expect("folder");
            fs::write(target.join("old"), "").expect("file");
            assert!(way(&temp.path().join("draft"), &target).is_err());
            assert!(target.join("old").exists());
        }
    }
}
