//! Sizes of a layer: their shares, what those mean, and a grade of sizes along a way.

use super::{idle, way};
use crate::file::stones::{BlendFile, LayerFile, LayoutFile, SizeShare, TaperFile};
use crate::resolve::Bench;
use crate::{Blend, FieldPath, Form, StoneSize, Way};

/// Shares may miss 100 % by this much, so that thirds can be typed as 33.3 %.
const SHARE_SLACK: f64 = 0.0015;

/// What a layer says of its sizes.
pub(super) struct Sized {
    /// Largest first.
    pub sizes: Vec<StoneSize>,
    /// One for each of them; they sum to 1.
    pub shares: Vec<f64>,
    pub blend: Blend,
    /// From the largest to the smallest.
    pub grade: Option<Way>,
}

pub(super) fn sizes(
    file: &LayerFile,
    form: Option<&Form>,
    path: &FieldPath,
    bench: &mut Bench<'_>,
) -> Sized {
    let wedge = file.layout == LayoutFile::Rows && file.taper == Some(TaperFile::Wedge);
    let blend = match file.blend {
        Some(BlendFile::Count) => Blend::Count,
        Some(BlendFile::Area) => Blend::Area,
        Some(BlendFile::Free) => Blend::Free,
        // A pocket takes what fits into it.
        None if file.layout == LayoutFile::Pockets || wedge => Blend::Free,
        None => Blend::Count,
    };
    let grade = file.grade.as_ref().map(|grade| way::way(grade, form, &path.key("grade"), bench));
    let Some(listed) = &file.sizes else {
        let several = "list several under `sizes`";
        let leave = |key: &str| format!("leave `{key}` out, or {several}");
        let one = "there is only one size";
        idle(file.blend.is_some(), "blend", one, &leave("blend"), path, bench);
        idle(grade.is_some(), "grade", one, &leave("grade"), path, bench);
        let sizes: Vec<StoneSize> = file.size.iter().map(|size| size.0.clone()).collect();
        return Sized { shares: vec![1.0; sizes.len()], sizes, blend, grade: None };
    };
    one_where_one_belongs(file, listed, path, bench);
    let leave = |key: &str| format!("leave `{key}` out, or list more sizes");
    let one = listed.len() < 2;
    idle(
        one && file.blend.is_some(),
        "blend",
        "there is only one size",
        &leave("blend"),
        path,
        bench,
    );
    idle(one && grade.is_some(), "grade", "there is only one size", &leave("grade"), path, bench);
    idle(
        !one && grade.is_some() && file.blend.is_some(),
        "blend",
        "sizes that change along a way have no blend",
        "keep one of `blend` and `grade`",
        path,
        bench,
    );
    for (key, given) in [("blend", file.blend.is_some()), ("grade", grade.is_some())] {
        idle(
            !one && wedge && given,
            key,
            "rows with a wedge are of the largest size, and the smaller ones go where they fit",
            &format!("leave `{key}` out, or `taper`"),
            path,
            bench,
        );
    }
    let path = path.key("sizes");
    let diameter_mm = |one: &SizeShare| one.size.0.diameter_mm;
    for (index, one) in listed.iter().enumerate() {
        if listed[..index].iter().any(|other| diameter_mm(other) == diameter_mm(one)) {
            bench.error(
                &path.index(index).key("size"),
                format!("the size {} is listed twice", one.size.0.name),
            );
        }
    }
    let typed: Vec<Option<f64>> = listed.iter().map(|one| one.share.map(|share| share.0)).collect();
    let shares = match (&grade, blend) {
        (None, _) if wedge => {
            let why = "the smaller sizes go into the wedge where they fit, in no set share";
            no_shares(&typed, why, "leave `share` out, or `taper`", &path, bench)
        }
        (Some(_), _) => {
            let why = "sizes that change along a way have no shares";
            no_shares(&typed, why, "leave `share` out, or `grade`", &path, bench)
        }
        (None, Blend::Free) => weights(&typed, &path, bench),
        (None, _) => shares(&typed, &path, bench),
    };
    let rising = listed.windows(2).all(|pair| diameter_mm(&pair[0]) <= diameter_mm(&pair[1]));
    let falling = listed.windows(2).all(|pair| diameter_mm(&pair[0]) >= diameter_mm(&pair[1]));
    if grade.is_some() && !rising && !falling {
        bench.error_hint(
            &path,
            "the sizes of a grade go up and down",
            "list them from the largest to the smallest, or the other way round",
        );
    }
    let mut both: Vec<_> = listed.iter().map(|one| one.size.0.clone()).zip(shares).collect();
    both.sort_by(|a, b| b.0.diameter_mm.total_cmp(&a.0.diameter_mm));
    let (sizes, shares) = both.into_iter().unzip();
    // The way leads from the first listed to the last; ours from the largest to the smallest.
    let grade = if falling { grade } else { grade.map(way::turned) };
    Sized { sizes, shares, blend, grade }
}

/// Rows, outlines, rings and lines are of one size, but for what fills the wedge of rows that have one.
fn one_where_one_belongs(
    file: &LayerFile,
    listed: &[SizeShare],
    path: &FieldPath,
    bench: &mut Bench<'_>,
) {
    let what = match file.layout {
        LayoutFile::Rows if file.taper == Some(TaperFile::Wedge) => return,
        LayoutFile::Rows => "rows are",
        LayoutFile::Outline => "an outline is",
        LayoutFile::Rings => "rings are",
        LayoutFile::Line => "a line of single stones is",
        LayoutFile::Scatter | LayoutFile::Sparse | LayoutFile::Pockets => return,
    };
    if listed.len() > 1 {
        bench.error_hint(
            &path.key("sizes"),
            format!("{what} of one size; found {}", listed.len()),
            "keep one size, or set layout = \"scatter\"",
        );
    }
}

/// Equal shares, complained about where some are typed all the same.
pub(super) fn no_shares(
    typed: &[Option<f64>],
    why: &str,
    hint: &str,
    path: &FieldPath,
    bench: &mut Bench<'_>,
) -> Vec<f64> {
    if let Some(first) = typed.iter().position(Option::is_some) {
        bench.error_hint(&path.index(first).key("share"), why, hint);
    }
    equal(typed.len())
}

fn equal(count: usize) -> Vec<f64> {
    vec![1.0 / count as f64; count]
}

/// The shares as typed, or equal ones where none is.
fn all_or_none(typed: &[Option<f64>], path: &FieldPath, bench: &mut Bench<'_>) -> Option<Vec<f64>> {
    let all: Option<Vec<f64>> = typed.iter().copied().collect();
    if all.is_none()
        && typed.iter().any(Option::is_some)
        && let Some(first) = typed.iter().position(Option::is_none)
    {
        let path = path.index(first);
        bench.error_hint(
            &path,
            format!("`share` is missing in `{path}`, and others have one"),
            "add it, or leave it out for all to have them equal",
        );
    }
    let all = all?;
    for (index, _) in all.iter().enumerate().filter(|(_, share)| **share <= 0.0) {
        bench.error_hint(
            &path.index(index).key("share"),
            "the share is 0 %; it must be more",
            "remove the entry instead",
        );
    }
    Some(all)
}

/// Weights scaled to sum to 1.
fn weights(typed: &[Option<f64>], path: &FieldPath, bench: &mut Bench<'_>) -> Vec<f64> {
    match all_or_none(typed, path, bench) {
        Some(all) => scaled(&all),
        None => equal(typed.len()),
    }
}

/// Shares scaled to sum to 1 exactly, complained about where they do not nearly do so as typed.
pub(super) fn shares(typed: &[Option<f64>], path: &FieldPath, bench: &mut Bench<'_>) -> Vec<f64> {
    let Some(all) = all_or_none(typed, path, bench) else { return equal(typed.len()) };
    let sum: f64 = all.iter().sum();
    if (sum - 1.0).abs() > SHARE_SLACK {
        let percent = (sum * 1e4).round() / 1e2;
        let way = if sum < 1.0 { "short of" } else { "over" };
        let off = ((sum - 1.0).abs() * 1e4).round() / 1e2;
        bench.error_hint(
            path,
            format!("the shares sum to {percent} %; expected 100 %"),
            format!("they are {off} % {way} 100 %"),
        );
    }
    scaled(&all)
}

fn scaled(shares: &[f64]) -> Vec<f64> {
    let sum: f64 = shares.iter().sum();
    shares.iter().map(|share| share / sum).collect()
}
