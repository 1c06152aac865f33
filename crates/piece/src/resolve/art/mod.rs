//! Art and lettering: where they stand, and the files beside the piece file that they come from.

mod lying;
mod source;

use crate::file::art::{ArtFile, ArtLie, LetteringFile};
use crate::file::places::{Place, Reach};
use crate::file::scalars::{FileName, Length, Share};
use crate::file::zone::AroundFile;
use crate::read::Unread;
use crate::resolve::places::{Heights, Wall, along_mm};
use crate::resolve::zones::{LARGEST_MM, angle};
use crate::resolve::{Bench, mm};
use crate::units::shorten;
use crate::{Art, ArtSize, FieldPath, Font, Lie, PlacedArt};
use lying::{lettering_lie, outline, rows};
use std::sync::Arc;

/// What art stands on.
#[derive(Debug, Clone, Copy)]
pub(in crate::resolve) struct Ground {
    /// The wall of its part.
    pub wall: Wall,
    /// What its heights may be shares of.
    pub heights: Heights,
}

pub(in crate::resolve) fn lettered(
    file: &LetteringFile,
    ground: Ground,
    path: &FieldPath,
    bench: &mut Bench<'_>,
) -> PlacedArt {
    let flat = ground.wall.is_flat();
    if file.text.trim().is_empty() {
        bench.error(&path.key("text"), "there are no words to set");
    } else if file.text.chars().any(char::is_control) {
        bench.error_hint(
            &path.key("text"),
            "the words hold a line break or another character that cannot be set",
            "make one zone for each line",
        );
    }
    let font = font(file.font.as_deref(), &path.key("font"), bench);
    PlacedArt {
        art: Art::Lettering { text: file.text.clone(), font },
        along_mm: along(file.along, ground.wall, path, bench),
        around: around(file.around.as_ref(), flat, &path.key("around"), bench),
        size: match (file.height, file.round) {
            (Some(height), _) => ArtSize::HeightMm(height_mm(height, ground, path, bench)),
            (None, share) => round_share(share, flat, path, "write its `height` instead", bench),
        },
        turn_rad: file.turn.map_or(0.0, |turn| angle(turn, &path.key("turn"), bench)),
        mirror: false,
        repeat: repeat(file.repeat, flat, path, bench),
        rows: rows(file.rows.as_ref(), ground, path, bench),
        lie: lettering_lie(file, flat, path, bench),
        outline: outline(file.outline, file.only, path, bench),
    }
}

pub(in crate::resolve) fn drawn(
    file: &ArtFile,
    ground: Ground,
    path: &FieldPath,
    bench: &mut Bench<'_>,
) -> PlacedArt {
    let flat = ground.wall.is_flat();
    let art = source::drawing(file, path, bench);
    let size = drawn_size(file, ground, path, bench);
    PlacedArt {
        art,
        along_mm: along(file.along, ground.wall, path, bench),
        around: around(file.around.as_ref(), flat, &path.key("around"), bench),
        size,
        turn_rad: file.turn.map_or(0.0, |turn| angle(turn, &path.key("turn"), bench)),
        mirror: file.mirror,
        repeat: repeat(file.repeat, flat, path, bench),
        rows: rows(file.rows.as_ref(), ground, path, bench),
        lie: match file.lie {
            ArtLie::Level => Lie::Level,
            ArtLie::Straight => Lie::Straight,
        },
        outline: outline(file.outline, file.only, path, bench),
    }
}

fn drawn_size(file: &ArtFile, ground: Ground, path: &FieldPath, bench: &mut Bench<'_>) -> ArtSize {
    if let Some(Length(width_mm)) = file.width {
        let width_mm = bench.size_mm(&path.key("width"), "the width", width_mm, LARGEST_MM);
        return ArtSize::WidthMm(width_mm);
    }
    match file.height {
        Some(height) => ArtSize::HeightMm(height_mm(height, ground, path, bench)),
        None => {
            let hint = "write its `width` instead";
            round_share(file.round, ground.wall.is_flat(), path, hint, bench)
        }
    }
}

fn height_mm(typed: Reach, ground: Ground, path: &FieldPath, bench: &mut Bench<'_>) -> f64 {
    let path = path.key("height");
    let height_mm = ground.heights.mm(typed, &path, bench);
    bench.size_mm(&path, "the height", height_mm, LARGEST_MM)
}

fn round_share(
    typed: Option<Share>,
    flat: bool,
    path: &FieldPath,
    hint: &str,
    bench: &mut Bench<'_>,
) -> ArtSize {
    let share = typed.map_or(0.0, |round| round.0);
    ArtSize::RoundShare(round(share, flat, &path.key("round"), hint, bench))
}

/// A share of the way round, complained about unless the part goes round and it is above 0 and at most
/// all of it; `hint` is what to write on a flat part.
pub(in crate::resolve) fn round(
    share: f64,
    flat: bool,
    path: &FieldPath,
    hint: &str,
    bench: &mut Bench<'_>,
) -> f64 {
    if flat {
        bench.error_hint(
            path,
            "a share of the way round needs a part that is round, and this part is flat",
            hint,
        );
    } else if !(share > 0.0 && share <= 1.0) {
        let percent = (share * 1e6).round() / 1e4;
        bench.error(
            path,
            format!("{percent} % of the way round is not possible; it can be above 0 % to 100 %"),
        );
    }
    share
}

/// A typeface by its name or file; if none is named, the one for that.
pub(in crate::resolve) fn font(
    typed: Option<&str>,
    path: &FieldPath,
    bench: &mut Bench<'_>,
) -> Font {
    let typed = typed.unwrap_or(Font::DEFAULT);
    let name = typed.to_lowercase();
    if !name.ends_with(".ttf") && !name.ends_with(".otf") {
        return Font::Shipped(typed.to_owned());
    }
    let bytes = match FileName::try_from(typed.to_owned()) {
        Ok(file) => beside(&file.0, path, bench, |bench| bench.art.font(&file.0)),
        Err(complaint) => {
            bench.error(path, complaint);
            None
        }
    };
    Font::Own { file: typed.to_owned(), bytes: bytes.unwrap_or_else(|| Arc::from([])) }
}

pub(in crate::resolve) fn around(
    file: Option<&AroundFile>,
    flat: bool,
    path: &FieldPath,
    bench: &mut Bench<'_>,
) -> f64 {
    match (file, flat) {
        (None, _) => 0.0,
        (Some(AroundFile::Angle(typed)), false) => angle(*typed, path, bench),
        (Some(AroundFile::Length(typed)), true) => {
            bench.reach_mm(path, "the distance from the centre", typed.0, LARGEST_MM)
        }
        (Some(AroundFile::Angle(typed)), true) => {
            let message = format!("`{} deg` is an angle, but the part is flat", typed.0);
            bench.error_hint(
                path,
                message,
                "write how far right of the centre it lies, such as \"5 mm\"",
            );
            0.0
        }
        (Some(AroundFile::Length(typed)), false) => {
            let message =
                format!("`{}` is a length, but round the part places are angles", mm(typed.0));
            bench.error_hint(
                path,
                message,
                "write the angle from the front, such as \"90 deg\"; positive is to the right",
            );
            0.0
        }
    }
}

pub(in crate::resolve) fn along(
    file: Option<Place>,
    wall: Wall,
    path: &FieldPath,
    bench: &mut Bench<'_>,
) -> f64 {
    match file {
        Some(place) => along_mm(place, wall, &path.key("along"), bench),
        None if wall.is_flat() => 0.0,
        None => {
            bench.error_hint(
                path,
                format!("`along` is missing in `{path}`"),
                "add how far below the rim its middle lies, such as along = \"80 mm\"",
            );
            0.0
        }
    }
}

fn repeat(count: u32, flat: bool, path: &FieldPath, bench: &mut Bench<'_>) -> u32 {
    if flat && count > 1 {
        bench.error_hint(
            &path.key("repeat"),
            "copies are spread round a part, and this part is flat",
            "make one zone for each copy",
        );
    }
    count
}

/// A file beside the piece file, or a complaint why it cannot be had.
pub(in crate::resolve) fn beside<T>(
    name: &str,
    path: &FieldPath,
    bench: &mut Bench<'_>,
    fetch: impl Fn(&Bench<'_>) -> Result<T, Unread>,
) -> Option<T> {
    match fetch(bench) {
        Ok(content) => Some(content),
        Err(Unread { why, hint }) => {
            let message = format!("the file `{}` cannot be read: {why}", shorten(name));
            bench.error_hint(path, message, hint);
            None
        }
    }
}
