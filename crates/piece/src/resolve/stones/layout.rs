//! The layout of a layer, and the keys that make no sense with it.

use super::idle;
use crate::file::stones::{FollowFile, LayerFile, LayoutFile, StaggerFile, StonesFile, TaperFile};
use crate::file::zone::{BandFile, EdgeFile, ZoneFile};
use crate::resolve::{Bench, mm};
use crate::{Diagnostic, FieldPath, Follow, Form, Layout, Stagger, Taper};

/// Most stones for each mm² that a density may ask for: more than the smallest stones side by side.
const MOST_PER_MM2: f64 = 1.5;
/// Greatest distance between accents, mm.
const FARTHEST_MM: f64 = 500.0;

pub(super) fn layout(
    file: &LayerFile,
    first: bool,
    form: Option<&Form>,
    path: &FieldPath,
    bench: &mut Bench<'_>,
) -> Layout {
    strangers(file, path, bench);
    match file.layout {
        LayoutFile::Rows => rows(file, form, path, bench),
        LayoutFile::Scatter => Layout::Scatter { rounds: file.rounds },
        LayoutFile::Outline => Layout::Outline { rows: file.rows.unwrap_or(1) },
        LayoutFile::Rings => Layout::Rings,
        LayoutFile::Line => Layout::Line,
        LayoutFile::Sparse => sparse(file, path, bench),
        LayoutFile::Pockets => {
            if first {
                bench.error_hint(
                    &path.key("layout"),
                    "nothing lies here yet that could leave pockets",
                    "put the layout whose pockets they fill before it, as a [[zone.stones]] of its own",
                );
            }
            Layout::Pockets
        }
    }
}

/// Complaints about keys of other layouts.
fn strangers(file: &LayerFile, path: &FieldPath, bench: &mut Bench<'_>) {
    let (noun, word) = match file.layout {
        LayoutFile::Rows => ("a layout in rows", "rows"),
        LayoutFile::Scatter => ("a scatter", "scatter"),
        LayoutFile::Outline => ("an outline", "outline"),
        LayoutFile::Rings => ("a layout in rings", "rings"),
        LayoutFile::Line => ("a line of single stones", "line"),
        LayoutFile::Sparse => ("a sparse layout", "sparse"),
        LayoutFile::Pockets => ("a fill of pockets", "pockets"),
    };
    let keys = [
        ("follow", "rows", file.follow.is_some(), "has no rows that could follow a line"),
        ("stagger", "rows", file.stagger.is_some(), "has no rows that could be staggered"),
        ("taper", "rows", file.taper.is_some(), "has no rows that could drop stones"),
        ("group_rows", "rows", file.group_rows.is_some(), "has no groups of rows"),
        ("rows", "outline", file.rows.is_some(), "has as many rows as the zone takes"),
        ("rounds", "scatter", file.rounds.is_some(), "is not pressed closer"),
        ("apart", "sparse", file.apart.is_some(), "lays its stones side by side"),
        ("density", "sparse", file.density.is_some(), "has as many stones as the zone takes"),
    ];
    for (key, of, given, why) in keys {
        let why = format!("{noun} {why}");
        let hint = format!("leave `{key}` out, or set layout = \"{of}\"");
        idle(given && word != of, key, &why, &hint, path, bench);
    }
}

fn rows(file: &LayerFile, form: Option<&Form>, path: &FieldPath, bench: &mut Bench<'_>) -> Layout {
    let follow = match file.follow {
        Some(FollowFile::Edge) => Follow::Edge,
        Some(FollowFile::Spiral) => Follow::Spiral,
        Some(FollowFile::Level) | None => Follow::Level,
    };
    let taper = match file.taper {
        Some(TaperFile::Wedge) => Taper::Wedge,
        Some(TaperFile::Groups) => Taper::Groups { rows: file.group_rows },
        Some(TaperFile::Spread) | None => Taper::Spread,
    };
    idle(
        file.group_rows.is_some() && !matches!(taper, Taper::Groups { .. }),
        "group_rows",
        "the rows are not in groups",
        "set taper = \"groups\", or leave `group_rows` out",
        path,
        bench,
    );
    idle(
        taper != Taper::Spread && follow != Follow::Level,
        "taper",
        "only level rows can keep their columns or run in groups",
        "leave `taper` out, or set follow = \"level\"",
        path,
        bench,
    );
    let flat = matches!(form, Some(Form::Flat(_)));
    idle(
        flat && follow == Follow::Spiral,
        "follow",
        "a spiral goes round a part, and this one is flat",
        "set follow = \"edge\", or layout = \"rings\"",
        path,
        bench,
    );
    idle(
        flat && matches!(taper, Taper::Wedge | Taper::Groups { .. }),
        "taper",
        "a flat part does not narrow, so no row has to drop a stone",
        "leave `taper` out",
        path,
        bench,
    );
    let stagger = match file.stagger {
        Some(StaggerFile::Aligned) => Stagger::Aligned,
        Some(StaggerFile::Offset) | None => Stagger::Offset,
    };
    Layout::Rows { follow, stagger, taper }
}

/// A warning where a spiral does not go all round its zone, or its edges are not level.
pub(in crate::resolve) fn cut_spirals(
    file: &ZoneFile,
    stones: &StonesFile,
    path: &FieldPath,
    bench: &mut Bench<'_>,
) {
    let layers = stones.layers();
    let waves = |band: &BandFile| {
        band.from.iter().chain([&band.to]).any(|edge| matches!(edge, EdgeFile::Wave(_)))
    };
    let why = if file.window.is_some() {
        "a window"
    } else if file.art.is_some() || file.lettering.is_some() || file.motif.is_some() {
        "a shape"
    } else if file.band.as_ref().is_some_and(waves) {
        "an edge that is not level"
    } else {
        return;
    };
    for (index, layer) in layers.iter().enumerate() {
        if layer.follow == Some(FollowFile::Spiral) && layer.layout == LayoutFile::Rows {
            let path = if layers.len() == 1 { path.clone() } else { path.index(index) };
            bench.diagnostics.push(
                Diagnostic::warning(
                    path.key("follow"),
                    format!("the zone has {why}, which cuts the spiral off on its way round"),
                )
                .hint("It is laid as if the zone went all round, and only stones inside are kept; set follow = \"level\" for rows that end even."),
            );
        }
    }
}

fn sparse(file: &LayerFile, path: &FieldPath, bench: &mut Bench<'_>) -> Layout {
    let apart_mm = match file.apart {
        Some(apart) => bench.size_mm(
            &path.key("apart"),
            "the distance between two centres",
            apart.0,
            FARTHEST_MM,
        ),
        None => {
            bench.error_hint(
                path,
                format!("`apart` is missing in `{path}`"),
                "add how far the centres of two stones are from each other at least, such as apart = \"6 mm\"",
            );
            // Nothing more is said of a distance that is not known.
            0.0
        }
    };
    let per_mm2 = file.density.map(|density| density.0);
    if let Some(per_mm2) = per_mm2 {
        let path = path.key("density");
        if per_mm2 <= 0.0 {
            bench.error_hint(
                &path,
                "the density is 0; it must be more",
                "remove this layout instead",
            );
        } else if per_mm2 > MOST_PER_MM2 {
            let per_cm2 = (per_mm2 * 1e4).round() / 1e2;
            bench.error(
                &path,
                format!(
                    "the density is {per_cm2} per cm2; more than {} is not expected",
                    MOST_PER_MM2 * 100.0
                ),
            );
        // Centres a distance apart are at most 2 / (sqrt 3 · d²) for each area (Thue).
        } else if apart_mm > 0.0 && per_mm2 > 2.0 / (3_f64.sqrt() * apart_mm * apart_mm) {
            let most = 200.0 / (3_f64.sqrt() * apart_mm * apart_mm);
            bench.error_hint(
                &path,
                format!(
                    "stones {} apart can be at most {} per cm2",
                    mm(apart_mm),
                    (most * 1e3).floor() / 1e3
                ),
                "ask for fewer, or let them lie nearer to each other",
            );
        }
    }
    Layout::Sparse { apart_mm, per_mm2 }
}
