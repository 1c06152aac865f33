//! Ways across a zone, and pictures laid on it.

use super::line;
use crate::file::way::{PictureFile, WayFile};
use crate::read::Pixels;
use crate::resolve::zones::LARGEST_MM;
use crate::resolve::{Bench, art, mm};
use crate::{FieldPath, Form, StonePicture, Way};

pub(super) fn way(
    file: &WayFile,
    form: Option<&Form>,
    path: &FieldPath,
    bench: &mut Bench<'_>,
) -> Way {
    let flat = matches!(form, Some(Form::Flat(_)));
    match file {
        WayFile::Wall(typed) => {
            let path = path.key("wall");
            let [from, to] = [0, 1].map(|end| {
                let (path, typed_mm) = (path.index(end), typed.wall[end].0);
                if flat {
                    bench.reach_mm(&path, "the distance from the centre", typed_mm, LARGEST_MM)
                } else {
                    bench.margin_mm(&path, "the distance from the rim", typed_mm, LARGEST_MM)
                }
            });
            if from == to {
                let message = format!("the way begins and ends at {}", mm(from));
                bench.error_hint(&path, message, "write two different distances");
            }
            Way::Wall { along_mm: (from, to) }
        }
        WayFile::Around(typed) => {
            let path = path.key("around");
            let [from, to] = [0, 1]
                .map(|end| art::around(Some(&typed.around[end]), flat, &path.index(end), bench));
            if from == to {
                bench.error_hint(
                    &path,
                    "the way begins and ends at the same place",
                    "write two different places; once round is \"-180 deg\" to \"180 deg\"",
                );
            } else if !flat && (to - from).abs() > std::f64::consts::TAU + 1e-9 {
                bench.error_hint(
                    &path,
                    "the way goes more than once round",
                    "once round is \"-180 deg\" to \"180 deg\"",
                );
            }
            Way::Around { around: (from, to) }
        }
        WayFile::Line(typed) => line::line(typed, form, path, bench),
    }
}

/// The same way from its end to its beginning.
pub(super) fn turned(way: Way) -> Way {
    match way {
        Way::Wall { along_mm: (from, to) } => Way::Wall { along_mm: (to, from) },
        Way::Around { around: (from, to) } => Way::Around { around: (to, from) },
        Way::Line { mut corners } => {
            corners.reverse();
            Way::Line { corners }
        }
    }
}

pub(super) fn picture(
    file: &PictureFile,
    form: Option<&Form>,
    path: &FieldPath,
    bench: &mut Bench<'_>,
) -> StonePicture {
    let flat = matches!(form, Some(Form::Flat(_)));
    let name = &file.file.0;
    let pixels = art::beside(name, &path.key("file"), bench, |bench| bench.art.pixels(name));
    let pixels = pixels.unwrap_or_else(|| Pixels { size: (1, 1), srgb: vec![[0; 3]] });
    StonePicture {
        size: pixels.size,
        srgb: pixels.srgb,
        width_mm: bench.size_mm(&path.key("width"), "the width", file.width.0, LARGEST_MM),
        along_mm: art::along(file.along, flat, path, bench),
        around: art::around(file.around.as_ref(), flat, &path.key("around"), bench),
    }
}
