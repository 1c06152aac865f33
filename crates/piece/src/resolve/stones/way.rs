//! Ways across a zone, and pictures laid on it.

use super::line;
use crate::file::way::{PictureFile, WayFile};
use crate::read::Pixels;
use crate::resolve::places::{Wall, along_mm};
use crate::resolve::{Bench, art, mm};
use crate::{FieldPath, Form, StonePicture, Way};

pub(super) fn way(
    file: &WayFile,
    form: Option<&Form>,
    path: &FieldPath,
    bench: &mut Bench<'_>,
) -> Way {
    let wall = Wall::of(form);
    let flat = wall.is_flat();
    match file {
        WayFile::Wall(typed) => {
            let path = path.key("wall");
            let [from, to] =
                [0, 1].map(|end| along_mm(typed.wall[end], wall, &path.index(end), bench));
            if from == to && wall != Wall::Unknown {
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
    let wall = Wall::of(form);
    let name = &file.file.0;
    let pixels = art::beside(name, &path.key("file"), bench, |bench| bench.art.pixels(name));
    let pixels = pixels.unwrap_or_else(|| Pixels { size: (1, 1), srgb: vec![[0; 3]] });
    let along_mm = art::along(file.along, wall, path, bench);
    StonePicture {
        size: pixels.size,
        srgb: pixels.srgb,
        width_mm: line::width_mm(file.width, file.round, (form, along_mm), path, bench)
            .unwrap_or(1.0),
        along_mm,
        around: art::around(file.around.as_ref(), wall.is_flat(), &path.key("around"), bench),
    }
}
