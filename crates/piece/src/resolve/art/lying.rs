//! How art lies, in how many rows, and the border about it.

use super::Ground;
use crate::file::art::{DropFile, LetteringFile, LetteringLie, OnlyFile, RowsFile};
use crate::file::places::Reach;
use crate::file::scalars::{Angle, Length};
use crate::resolve::Bench;
use crate::resolve::zones::LARGEST_MM;
use crate::{ArtOutline, ArtRows, FieldPath, Lie};

pub(super) fn rows(
    file: Option<&RowsFile>,
    ground: Ground,
    path: &FieldPath,
    bench: &mut Bench<'_>,
) -> ArtRows {
    let Some(file) = file else { return ArtRows::ONE };
    let path = path.key("rows");
    if ground.wall.is_flat() {
        bench.error_hint(
            &path,
            "rows of copies run round a part, and this part is flat",
            "make one zone for each copy",
        );
    }
    let at = path.key("apart");
    // On a flat part rows are complained about already.
    let apart_mm = match file.apart {
        Reach::Share(_) if ground.wall.is_flat() => 1.0,
        apart => ground.heights.mm(apart, &at, bench),
    };
    ArtRows {
        count: file.count,
        apart_mm: bench.size_mm(&at, "the distance from row to row", apart_mm, LARGEST_MM),
        half_drop: file.drop == DropFile::Half,
    }
}

pub(super) fn lettering_lie(
    file: &LetteringFile,
    flat: bool,
    path: &FieldPath,
    bench: &mut Bench<'_>,
) -> Lie {
    if file.rise.is_some() && file.lie != LetteringLie::Rising {
        bench.error_hint(
            &path.key("rise"),
            "`rise` is the angle of words that climb, and these do not",
            "add lie = \"rising\", or leave `rise` out",
        );
    }
    match file.lie {
        LetteringLie::Level => Lie::Level,
        LetteringLie::Straight => Lie::Straight,
        LetteringLie::Column => Lie::Column,
        LetteringLie::Rising => Lie::Rising { rise_rad: rise(file, flat, path, bench) },
    }
}

/// Steeper words would pass the rim or the foot before a letter is through.
const STEEPEST_DEG: f64 = 80.0;

fn rise(file: &LetteringFile, flat: bool, path: &FieldPath, bench: &mut Bench<'_>) -> f64 {
    if flat {
        bench.error_hint(
            &path.key("lie"),
            "words climb round a part, and this part is flat",
            "turn them with `turn`",
        );
    }
    if file.turn.is_some() {
        bench.error_hint(
            &path.key("turn"),
            "words that climb already have their angle",
            "leave `turn` out, and say with `rise` how steeply they climb",
        );
    }
    let Some(Angle(degrees)) = file.rise else {
        bench.error_hint(
            &path.key("lie"),
            "words that climb need the angle at which they do",
            "add it, such as rise = \"12 deg\"; a negative one falls to the right",
        );
        return 0.0;
    };
    if degrees.abs() > STEEPEST_DEG {
        let message =
            format!("the rise is {degrees} deg; expected -{STEEPEST_DEG} to {STEEPEST_DEG} deg");
        bench.error_hint(&path.key("rise"), message, "for upright words write lie = \"column\"");
    }
    degrees.to_radians()
}

/// Widest border that is no slip of the unit, mm.
const WIDEST_OUTLINE_MM: f64 = 50.0;

pub(super) fn outline(
    width: Option<Length>,
    only: Option<OnlyFile>,
    path: &FieldPath,
    bench: &mut Bench<'_>,
) -> Option<ArtOutline> {
    let Some(width) = width else {
        if only.is_some() {
            bench.error_hint(
                &path.key("only"),
                "there is no outline that could be left alone",
                "add its width, such as outline = \"1.2 mm\"",
            );
        }
        return None;
    };
    let width_mm = bench.size_mm(&path.key("outline"), "the outline", width.0, WIDEST_OUTLINE_MM);
    Some(ArtOutline { width_mm, only: only == Some(OnlyFile::Outline) })
}
