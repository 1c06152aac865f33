//! Stones in a line: what they need to follow, and what they cannot stand beside.

use crate::FieldPath;
use crate::file::stones::{LayoutFile, StonesFile};
use crate::file::zone::ZoneFile;
use crate::resolve::Bench;

/// Complains where a zone lays stones in a line and has no strokes, or asks for more than a line. `path`
/// is that of the zone.
pub(in crate::resolve) fn followed(
    file: &ZoneFile,
    stones: &StonesFile,
    path: &FieldPath,
    bench: &mut Bench<'_>,
) {
    let layers = stones.layers();
    let Some(index) = layers.iter().position(|layer| layer.layout == LayoutFile::Line) else {
        return;
    };
    let stones_at = path.key("stones");
    let at = if matches!(stones, StonesFile::One(_)) { stones_at } else { stones_at.index(index) };
    if file.lettering.is_none() && file.art.is_none() {
        bench.error_hint(
            &at.key("layout"),
            "a line of single stones follows strokes, and this zone has none",
            "give the zone `lettering` or `art`; along its edges stones lie with layout = \"outline\"",
        );
    }
    if layers.len() > 1 {
        bench.error_hint(
            &at.key("layout"),
            "a line of single stones leaves no room for another layout in its zone",
            "make a zone of its own for the line, and leave it out of the other",
        );
    }
    let outlines = [
        ("lettering", file.lettering.as_ref().is_some_and(|words| words.outline.is_some())),
        ("art", file.art.as_ref().is_some_and(|art| art.outline.is_some())),
    ];
    for (key, _) in outlines.into_iter().filter(|(_, given)| *given) {
        bench.error_hint(
            &path.key(key).key("outline"),
            "a line of single stones runs along the middle of the strokes, which a border does not change",
            "leave `outline` out, or make a second zone for the border",
        );
    }
}
