//! A folder in the making, and how it takes its place.

use super::flush::flush_names;
use super::manifest::{Foreign, MANIFEST, MANIFEST_BEGUN, Manifest, removable};
use super::remove::{clear_left_over, remove_old};
use super::swap::swap;
use crate::trouble::{Trouble, reason, shown};
use std::fs::{self, File};
use std::io;
use std::path::{Path, PathBuf};
use tempfile::TempDir;

/// What the name of every draft folder begins with.
pub const PREFIX: &str = ".cupwright-";

/// A folder in the making beside its target; dropped, it leaves nothing behind.
#[derive(Debug)]
pub struct Draft {
    target: PathBuf,
    parent: PathBuf,
    folder: TempDir,
    /// Locked as long as this draft lives, so that no other run takes it for left over.
    manifest: File,
    made_parents: MadeParents,
}

/// A plan that is in place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Placed {
    /// Whether it replaced an older plan.
    pub replaced: bool,
    /// The older plan, if something in it turned out not to be ours after all and it was kept.
    pub kept_old: Option<PathBuf>,
}

impl Draft {
    /// Begins a draft for this target, having made sure that nothing of anyone else's lies there.
    ///
    /// # Errors
    /// The target is no folder of ours, or nothing can be written beside it.
    pub fn begin(target: &Path) -> Result<Self, Trouble> {
        if target.file_name().is_none() {
            return Err(Trouble::files(format!("cannot write to {}", shown(target))).hint(
                "Name the folder itself, such as `--out out/heron`; it is made if it is not there.",
            ));
        }
        inspect(target)?;
        let parent = match target.parent() {
            Some(parent) if !parent.as_os_str().is_empty() => parent.to_owned(),
            _ => PathBuf::from("."),
        };
        let cannot = |error: io::Error| {
            Trouble::files(format!("cannot write into {}: {}", shown(&parent), reason(&error)))
                .hint("Choose another place with `--out`.")
        };
        let made_parents = MadeParents::make(&parent).map_err(cannot)?;
        let folder = temp_folder(&parent).map_err(cannot)?;
        let manifest = locked_list(folder.path()).map_err(cannot)?;
        Ok(Self { target: target.to_owned(), parent, folder, manifest, made_parents })
    }

    /// The same for a folder that is new, empty, or holds an older one of its kind, which is known by the
    /// file `own`: nothing else of ours is written over. `found` says what else there is, `what` what is
    /// to be written.
    ///
    /// # Errors
    /// As [`Draft::begin`], or something else of ours lies there.
    pub fn begin_anew(target: &Path, own: &str, found: &str, what: &str) -> Result<Self, Trouble> {
        let draft = Self::begin(target)?;
        if target.join(MANIFEST).exists() && !target.join(own).exists() {
            return Err(Trouble::files(format!("there is {found} in {}", shown(target)))
                .hint(format!("Name another folder for the {what} with `--out`.")));
        }
        Ok(draft)
    }

    /// Where to write.
    pub fn path(&self) -> &Path {
        self.folder.path()
    }

    /// Puts the draft in the target's place, with these files in it.
    ///
    /// # Errors
    /// Something else came to lie there meanwhile, or the system refuses; the target is then as it
    /// was and the draft is gone.
    pub fn put_in_place(mut self, names: &[String]) -> Result<Placed, Trouble> {
        let cannot = |error: io::Error| {
            let words = format!(
                "cannot put the finished folder at {}: {}",
                shown(&self.target),
                reason(&error)
            );
            Trouble::files(words)
                .hint("What was there before is unchanged; choose another place with `--out`.")
        };
        let manifest = Manifest::of(self.folder.path(), names).map_err(cannot)?;
        manifest.write(&mut self.manifest).map_err(cannot)?;
        flush_names(self.folder.path()).map_err(cannot)?;
        let replaced = inspect(&self.target)?;
        self.made_parents.keep();
        let placed = if replaced {
            let old = swap(self.folder.path(), &self.target).map_err(cannot)?;
            // From here on the draft's path holds the old folder, which must not be dropped whole.
            let _ = self.folder.keep();
            // The old folder stays until it is sure that the new one is found in its place; a disk
            // that cannot tell must not keep both.
            let _ = flush_names(&self.parent);
            Placed { replaced: true, kept_old: remove_old(&old, &self.target) }
        } else {
            fs::rename(self.folder.path(), &self.target).map_err(cannot)?;
            let _ = self.folder.keep();
            let _ = flush_names(&self.parent);
            Placed { replaced: false, kept_old: None }
        };
        clear_left_over(&self.parent);
        Ok(placed)
    }
}

/// Whether there is a folder at the target, which is then empty or ours.
fn inspect(target: &Path) -> Result<bool, Trouble> {
    let name = shown(target);
    let meta = match fs::symlink_metadata(target) {
        Ok(meta) => meta,
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(false),
        Err(error) => {
            return Err(Trouble::files(format!("cannot look at {name}: {}", reason(&error))));
        }
    };
    if meta.is_symlink() {
        return Err(Trouble::files(format!(
            "{name} is a link, and replacing it would leave what it leads to"
        ))
        .hint("Give the folder that it leads to, or another one, with `--out`."));
    }
    if !meta.is_dir() {
        return Err(Trouble::files(format!("{name} is a file, not a folder"))
            .hint("Choose another place with `--out`; the file is left alone."));
    }
    let look = removable(target);
    match look.map_err(|error| Trouble::files(format!("cannot look into {name}: {}", reason(&error))))? {
        Ok(_) => Ok(true),
        Err(Foreign::Unknown(file)) => {
            Err(Trouble::files(format!("{name} holds {file}, which Cupwright did not write"))
                .hint("Nothing was changed; move it elsewhere or choose another folder with `--out`."))
        }
        Err(Foreign::Changed(file)) => {
            Err(Trouble::files(format!("{name} holds {file}, which was changed since Cupwright wrote it"))
                .hint("Nothing was changed; move it elsewhere, or delete it to have it written again, or choose another folder with `--out`."))
        }
    }
}

/// The list of a new draft, empty and locked. It is locked before it has its name, so that no other
/// run ever sees it unlocked. A disk that knows no locks only loses the clearing away of drafts left
/// over.
fn locked_list(folder: &Path) -> io::Result<File> {
    let begun = folder.join(MANIFEST_BEGUN);
    let list = File::create_new(&begun)?;
    let _ = list.try_lock();
    fs::rename(&begun, folder.join(MANIFEST))?;
    Ok(list)
}

fn temp_folder(parent: &Path) -> io::Result<TempDir> {
    let mut builder = tempfile::Builder::new();
    builder.prefix(PREFIX);
    #[cfg(unix)]
    {
        // As for any new folder: everything that the person's mask allows.
        use std::os::unix::fs::PermissionsExt;
        builder.permissions(fs::Permissions::from_mode(0o777));
    }
    builder.tempdir_in(parent)
}

/// Folders above the target that had to be made; dropped, they go again.
#[derive(Debug)]
struct MadeParents(Vec<PathBuf>);

impl MadeParents {
    fn make(parent: &Path) -> io::Result<Self> {
        let missing = parent
            .ancestors()
            .take_while(|folder| !folder.as_os_str().is_empty() && !folder.exists());
        let made = Self(missing.map(Path::to_owned).collect());
        fs::create_dir_all(parent)?;
        Ok(made)
    }

    fn keep(&mut self) {
        for folder in self.0.drain(..) {
            let _ = folder.parent().map(flush_names);
        }
    }
}

impl Drop for MadeParents {
    fn drop(&mut self) {
        for folder in &self.0 {
            let _ = fs::remove_dir(folder);
        }
    }
}
