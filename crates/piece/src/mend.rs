//! A file with some values that do not fit, mended far enough that the rest can be looked at.

use crate::walk::Misfit;
use crate::{Diagnostic, FieldPath, Severity};
use serde_json::Value;

/// Puts a harmless value where each misfit stands, and gives their paths; `None` if one of them
/// leaves nothing sensible to go on with.
pub(crate) fn mend(tree: &mut Value, misfits: &[Misfit]) -> Option<Vec<FieldPath>> {
    let mut mended = Vec::new();
    for misfit in misfits {
        let path = &misfit.diagnostic.path;
        // Other places may call a thing by the name that does not fit.
        if path.0.ends_with(".name") {
            return None;
        }
        put(tree, path, misfit.stand_in.as_ref()?)?;
        mended.push(path.clone());
    }
    Some(mended)
}

fn put(tree: &mut Value, path: &FieldPath, stand_in: &Value) -> Option<()> {
    let pointer = format!("/{}", path.0.replace(']', "").replace(['.', '['], "/"));
    if stand_in.is_null() {
        let (table, key) = pointer.rsplit_once('/')?;
        tree.pointer_mut(table)?.as_object_mut()?.remove(key)?;
    } else {
        *tree.pointer_mut(&pointer)? = stand_in.clone();
    }
    Some(())
}

/// Whether a complaint is about nothing but what the maker typed: an error away from every stand-in.
pub(crate) fn stands(diagnostic: &Diagnostic, mended: &[FieldPath]) -> bool {
    let about = &diagnostic.path.0;
    diagnostic.severity == Severity::Error
        && mended.iter().map(whole).all(|at| !about.starts_with(at) && !at.starts_with(about))
}

/// The list that a value is judged with, such as all shares of a blend: up to the last index but for
/// that of the part or zone.
fn whole(path: &FieldPath) -> &str {
    match path.0.rfind('[') {
        Some(cut) if path.0[..cut].contains('[') => &path.0[..cut],
        _ => &path.0,
    }
}
