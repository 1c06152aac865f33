//! Which part of a piece becomes which part of another.

use crate::nearest::nearest;
use crate::units::{Complaint, or_list, shorten};
use crate::{Form, Part, PartRole, Piece};

/// The parts of `piece` that have a counterpart in `other`, as pairs of their indices: of the same name,
/// or the only ones of their role. With `only`, that part alone.
///
/// # Errors
/// There is none, or it is flat where the other goes round.
pub fn pairs(
    piece: &Piece,
    other: &Piece,
    only: Option<&str>,
) -> Result<Vec<(usize, usize)>, Complaint> {
    let wanted = match only {
        Some(name) => vec![named(piece, name)?],
        None => (0..piece.parts.len()).collect(),
    };
    let found: Vec<(usize, usize)> = wanted
        .iter()
        .filter_map(|index| Some((*index, counterpart(piece, *index, other)?)))
        .collect();
    let (alike, unlike): (Vec<_>, Vec<_>) = found
        .into_iter()
        .partition(|(index, to)| flat(&piece.parts[*index]) == flat(&other.parts[*to]));
    if !alike.is_empty() {
        return Ok(alike);
    }
    if let Some((index, to)) = unlike.first() {
        let kind = |part: &Part| if flat(part) { "flat" } else { "round" };
        let (from, to) = (&piece.parts[*index], &other.parts[*to]);
        let message =
            format!("the part `{}` is {} and `{}` is {}", from.name, kind(from), to.name, kind(to));
        return Err(Complaint::new(message)
            .hint("A design is carried from round to round or from flat to flat; their places are counted in other ways."));
    }
    let names = |piece: &Piece| {
        let names: Vec<&str> = piece.parts.iter().map(|part| part.name.as_str()).collect();
        or_list(&names).replace(" or ", " and ")
    };
    let message = match only {
        Some(name) => format!(
            "the other file has no part that `{name}` could become; it has {}",
            names(other)
        ),
        None => {
            format!("no part of {} has a counterpart in {}", names(piece), names(other))
        }
    };
    Err(Complaint::new(message)
        .hint("Parts are paired by name, or by role where there is one of it: body, lid, topper."))
}

/// The part that a generic blank stands for: the one of this name, or the first body.
///
/// # Errors
/// There is none, or it is no round body.
pub fn body(piece: &Piece, only: Option<&str>) -> Result<usize, Complaint> {
    let index = match only {
        Some(name) => named(piece, name)?,
        None => {
            let first = piece.parts.iter().position(|part| part.role == PartRole::Body);
            first.ok_or_else(|| {
                Complaint::new("this piece has no body, and generic blanks are bodies")
                    .hint("Name a piece file with the new measurements instead.")
            })?
        }
    };
    let part = &piece.parts[index];
    if part.role != PartRole::Body || flat(part) {
        let message = format!("the part `{}` is no body, and generic blanks are bodies", part.name);
        return Err(Complaint::new(message)
            .hint("Name a piece file with the new measurements of it instead."));
    }
    Ok(index)
}

fn flat(part: &Part) -> bool {
    matches!(part.form, Form::Flat(_))
}

fn named(piece: &Piece, name: &str) -> Result<usize, Complaint> {
    let names: Vec<&str> = piece.parts.iter().map(|part| part.name.as_str()).collect();
    names.iter().position(|known| *known == name).ok_or_else(|| {
        let complaint = Complaint::new(format!(
            "there is no part called `{}`; this piece has {}",
            shorten(name),
            or_list(&names).replace(" or ", " and ")
        ));
        match nearest(name, &names) {
            Some(meant) => complaint.hint(format!("Did you mean `{meant}`?")),
            None => complaint,
        }
    })
}

fn counterpart(piece: &Piece, index: usize, other: &Piece) -> Option<usize> {
    let part = &piece.parts[index];
    if let Some(same) = other.parts.iter().position(|one| one.name == part.name) {
        return Some(same);
    }
    let of_role = |piece: &Piece| -> Vec<usize> {
        let alike = |index: &usize| piece.parts[*index].role == part.role;
        (0..piece.parts.len()).filter(alike).collect()
    };
    match (of_role(piece).as_slice(), of_role(other).as_slice()) {
        ([_], [only]) => Some(*only),
        _ => None,
    }
}
