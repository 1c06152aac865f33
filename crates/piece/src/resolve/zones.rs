//! Zones: regions and finishes.

use super::colours::Palette;
use super::places::{Heights, Wall, along_mm, moves};
use super::{Bench, art, film, mm, motif, stones};
use crate::file::part::PartFile;
use crate::file::places::{Place, Reach};
use crate::file::scalars::Angle;
use crate::file::zone::{BandFile, EdgeFile, WaveShape, WindowFile, ZoneFile};
use crate::{BandEdges, Edge, FieldPath, Finish, Part, Region, Wave, Zone};

/// Longest reach of anything drawn, mm.
pub(super) const LARGEST_MM: f64 = 2000.0;
/// Width of a flake unless said otherwise, mm: fine glitter, 1/64 inch (sellers' charts).
const FLAKE_MM: f64 = 0.4;
/// Thickness a coat of resin leaves unless said otherwise, mm (common practice: 0.15 to 0.2 mm).
const FILM_MM: f64 = 0.2;

pub(super) fn zones(
    file: &[ZoneFile],
    part_files: &[PartFile],
    parts: &[Part],
    palette: &mut Palette,
    bench: &mut Bench<'_>,
) -> Vec<Zone> {
    let names: Vec<&str> = file.iter().map(|zone| zone.name.0.as_str()).collect();
    let part_names: Vec<&str> = part_files.iter().map(|part| part.name.0.as_str()).collect();
    bench.unique("zone", "zone", &names);
    let root = FieldPath::root().key("zone");
    let on_parts: Vec<Option<usize>> = file
        .iter()
        .enumerate()
        .map(|(index, zone)| {
            bench.find(&root.index(index).key("part"), "part", &zone.part, &part_names)
        })
        .collect();
    let zones: Vec<Zone> = file
        .iter()
        .enumerate()
        .map(|(index, zone)| {
            let path = root.index(index);
            let part = on_parts[index];
            let wall = Wall::of(part.map(|part| &parts[part].form));
            let leave_out = leave_out(zone, index, &names, &on_parts, &path, bench);
            Zone {
                name: zone.name.0.clone(),
                part: part.unwrap_or(0),
                region: region(zone, wall, leave_out, &path, bench),
                finish: finish(zone, part.map(|part| &parts[part]), &path, palette, bench),
            }
        })
        .collect();
    film::one_side_for_each_colour(&zones, bench);
    let leaves: Vec<Vec<usize>> = zones
        .iter()
        .map(|zone| zone.region.leave_out.iter().map(|(other, _)| *other).collect())
        .collect();
    bench.no_rings(
        &leaves,
        |index| root.index(index).key("leave_out"),
        |ring| {
            let ring: Vec<_> = ring
                .iter()
                .chain(ring.first())
                .map(|index| format!("`{}`", names[*index]))
                .collect();
            format!("zones leave each other out in a ring: {}", ring.join(" leaves out "))
        },
        "of two zones that share a place, only one can leave out the other",
    );
    zones
}

fn leave_out(
    zone: &ZoneFile,
    index: usize,
    names: &[&str],
    on_parts: &[Option<usize>],
    path: &FieldPath,
    bench: &mut Bench<'_>,
) -> Vec<(usize, f64)> {
    let mut left = Vec::new();
    for (at, one) in zone.leave_out.iter().enumerate() {
        let path = path.key("leave_out").index(at);
        let margin_mm = one.margin.map_or(0.0, |margin| margin.0);
        bench.margin_mm(&path.key("margin"), "the margin", margin_mm, 500.0);
        let path = path.key("zone");
        match bench.find(&path, "zone", &one.zone, names) {
            Some(other) if other == index => {
                bench.error_hint(
                    &path,
                    format!("the zone `{}` leaves itself out", one.zone),
                    "remove this entry",
                );
            }
            Some(other)
                if on_parts[other] != on_parts[index]
                    && on_parts[other].is_some()
                    && on_parts[index].is_some() =>
            {
                let message = format!(
                    "the zone `{}` lies on another part, so there is nothing to leave out",
                    one.zone
                );
                bench.error_hint(&path, message, "remove this entry");
            }
            Some(other) => left.push((other, margin_mm)),
            None => {}
        }
    }
    left
}

fn region(
    file: &ZoneFile,
    wall: Wall,
    leave_out: Vec<(usize, f64)>,
    path: &FieldPath,
    bench: &mut Bench<'_>,
) -> Region {
    if wall.is_flat() {
        for (key, given) in [("band", file.band.is_some()), ("window", file.window.is_some())] {
            if given {
                let message = format!("`{}` is a flat part, which has no {key}", file.part);
                bench.error_hint(
                    &path.key(key),
                    message,
                    "use `inset` to keep away from its outline",
                );
            }
        }
    }
    let inset_mm = file.inset.map_or(0.0, |inset| inset.0);
    bench.margin_mm(&path.key("inset"), "the inset", inset_mm, 500.0);
    // A band on a flat part is complained about above.
    let band = file.band.as_ref().filter(|_| !wall.is_flat());
    let band = band.map(|file| band_edges(file, wall, &path.key("band"), bench));
    let heights =
        Heights::of_band(band.as_ref().map(|band| (band.from.along_mm, band.to.along_mm)), wall);
    let ground = art::Ground { wall, heights };
    let art = match (&file.lettering, &file.art) {
        (Some(lettering), _) => {
            Some(art::lettered(lettering, ground, &path.key("lettering"), bench))
        }
        (None, Some(art)) => Some(art::drawn(art, ground, &path.key("art"), bench)),
        (None, None) => None,
    };
    let motif =
        file.motif.as_ref().map(|file| motif::motif(file, ground, &path.key("motif"), bench));
    Region {
        band,
        from_left_out: file.band.as_ref().is_some_and(|file| file.from.is_none()),
        window_rad: file.window.as_ref().map(|file| window(file, &path.key("window"), bench)),
        inset_mm,
        art,
        motif,
        leave_out,
    }
}

fn band_edges(file: &BandFile, wall: Wall, path: &FieldPath, bench: &mut Bench<'_>) -> BandEdges {
    let told = bench.diagnostics.len();
    let start = EdgeFile::Level(Place { reach: Reach::Mm(0.0), from: None });
    let upper = file.from.as_ref().unwrap_or(&start);
    let from = edge(upper, wall, &path.key("from"), bench);
    let to = edge(&file.to, wall, &path.key("to"), bench);
    // Places that move with the wall are known only where the part is, and where nothing is wrong with them.
    let moving = moves(place(upper)) || moves(place(&file.to));
    let known = !moving || (wall != Wall::Unknown && bench.diagnostics.len() == told);
    if from.along_mm >= to.along_mm && known {
        let counted = match wall {
            Wall::Round { long_mm } if moving => {
                format!(" from the rim of a wall {} long", mm(long_mm))
            }
            _ => String::new(),
        };
        bench.error_hint(
            path,
            format!(
                "the band runs from {} to {}{counted}, so nothing lies in it",
                mm(from.along_mm),
                mm(to.along_mm)
            ),
            "`from` is the edge nearer to the rim and `to` the one farther down",
        );
    }
    BandEdges { from, to }
}

/// Where an edge lies as typed, or the middle of its waves.
fn place(file: &EdgeFile) -> Place {
    match file {
        EdgeFile::Level(along) => *along,
        EdgeFile::Wave(wave) => wave.along,
    }
}

fn edge(file: &EdgeFile, wall: Wall, path: &FieldPath, bench: &mut Bench<'_>) -> Edge {
    let along_path = match file {
        EdgeFile::Level(_) => path.clone(),
        EdgeFile::Wave(_) => path.key("along"),
    };
    let along_mm = along_mm(place(file), wall, &along_path, bench);
    match file {
        EdgeFile::Level(_) => {
            Edge { along_mm, wave: Wave::Level, amplitude_mm: 0.0, count: 0, crest_rad: 0.0 }
        }
        EdgeFile::Wave(typed) => {
            let path_of = |key: &str| path.key(key);
            let amplitude_mm =
                Heights::of_wall(wall).mm(typed.amplitude, &path_of("amplitude"), bench);
            Edge {
                along_mm,
                wave: match typed.wave {
                    WaveShape::Sine => Wave::Sine,
                    WaveShape::Zigzag => Wave::Zigzag,
                    WaveShape::Scallop => Wave::Scallop,
                },
                amplitude_mm: bench.size_mm(
                    &path_of("amplitude"),
                    "the amplitude",
                    amplitude_mm,
                    500.0,
                ),
                count: typed.count,
                crest_rad: typed.crest.map_or(0.0, |crest| angle(crest, &path_of("crest"), bench)),
            }
        }
    }
}

/// An angle in radians, at most one turn either way.
pub(super) fn angle(typed: Angle, path: &FieldPath, bench: &mut Bench<'_>) -> f64 {
    if typed.0.abs() > 360.0 {
        bench.error(path, format!("the angle is {} deg; expected -360 to 360 deg", typed.0));
    }
    typed.0.to_radians()
}

fn window(file: &WindowFile, path: &FieldPath, bench: &mut Bench<'_>) -> (f64, f64) {
    let (from, to) =
        (angle(file.from, &path.key("from"), bench), angle(file.to, &path.key("to"), bench));
    if file.from.0 >= file.to.0 {
        bench.error_hint(
            path,
            format!("the window runs from {} deg to {} deg, so nothing lies in it", file.from.0, file.to.0),
            "`from` is the left edge and `to` the right one; a window across the back runs past 180 deg, such as 150 deg to 210 deg",
        );
    } else if file.to.0 - file.from.0 > 360.0 {
        let message =
            format!("the window is {} deg wide; once round is 360 deg", file.to.0 - file.from.0);
        bench.error_hint(path, message, "leave `window` out for all round");
    }
    (from, to)
}

fn finish(
    file: &ZoneFile,
    part: Option<&Part>,
    path: &FieldPath,
    palette: &mut Palette,
    bench: &mut Bench<'_>,
) -> Finish {
    if file.stone_rules.is_some() && file.stones.is_none() {
        bench.error_hint(
            &path.key("stone_rules"),
            "the rules are for stones, and this zone has none",
            "leave `stone_rules` out, or move it to a zone with `stones`",
        );
    }
    if let Some(paint) = &file.paint {
        let colour = palette.find(&path.key("paint").key("colour"), &paint.colour, bench);
        Finish::Paint { colour, coats: paint.coats }
    } else if let Some(glitter) = &file.glitter {
        let path = path.key("glitter");
        let flake_mm = glitter.flake.map_or(FLAKE_MM, |flake| flake.0);
        Finish::Glitter {
            colour: palette.find(&path.key("colour"), &glitter.colour, bench),
            flake_mm: bench.size_mm(&path.key("flake"), "the width of a flake", flake_mm, 10.0),
            layers: glitter.layers,
            pressed: glitter.pressed.into(),
        }
    } else if let Some(vinyl) = &file.vinyl {
        film::vinyl(vinyl, &path.key("vinyl"), palette, bench)
    } else if let Some(layers) = &file.stones {
        let mut finish = stones::stones(layers, part, &path.key("stones"), palette, bench);
        stones::cut_spirals(file, layers, &path.key("stones"), bench);
        stones::followed(file, layers, path, bench);
        if let Some(rules) = &file.stone_rules {
            finish.rules = stones::rules(rules, &finish.sizes, &path.key("stone_rules"), bench);
        }
        Finish::Stones(finish)
    } else {
        let resin = file.resin.as_ref();
        let film_mm = resin.and_then(|resin| resin.film).map_or(FILM_MM, |film| film.0);
        Finish::Resin {
            coats: resin.map_or(1, |resin| resin.coats),
            film_mm: bench.coat_mm(&path.key("resin").key("film"), film_mm),
        }
    }
}
