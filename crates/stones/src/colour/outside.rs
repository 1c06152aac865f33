//! What to say of a way or a picture that lies, wholly or partly, where its zone has no stones.

use crate::Stone;
use crate::colour::way::Course;
use piece::{Colouring, Diagnostic, FieldPath, Finish, Form, Piece, StonePicture, Way};
use shape::{Extent, Field, Shape, SurfacePoint};
use std::f64::consts::PI;

/// Share of a way or a picture that may lie outside without a word (common practice, no source).
const OUTSIDE: f64 = 0.05;

/// Places across and down a picture at which it is looked whether the zone is there.
const LOOKS: u32 = 64;

/// A layer of a zone that follows a way or shows a picture.
#[derive(Clone, Copy)]
struct Shown<'a> {
    zone: usize,
    layer: usize,
    what: What<'a>,
}

#[derive(Clone, Copy, PartialEq)]
enum What<'a> {
    Gradient(&'a Way),
    Grade(&'a Way),
    Picture(&'a StonePicture),
}

/// Warnings of gradients, grades and pictures of which a part falls where no stones are. Zones of one part
/// that share one show it together.
pub fn outside(piece: &Piece, shape: &Shape, stones: &[Stone]) -> Vec<Diagnostic> {
    let mut groups: Vec<Vec<Shown<'_>>> = Vec::new();
    for shown in all_shown(piece) {
        let part = piece.zones[shown.zone].part;
        let same = |group: &&mut Vec<Shown<'_>>| {
            piece.zones[group[0].zone].part == part && group[0].what == shown.what
        };
        match groups.iter_mut().find(same) {
            Some(group) => group.push(shown),
            None => groups.push(vec![shown]),
        }
    }
    let told = groups.iter().filter_map(|group| match group[0].what {
        What::Gradient(way) => of_way(piece, shape, stones, group, way, "gradient"),
        What::Grade(way) => of_way(piece, shape, stones, group, way, "grade"),
        What::Picture(picture) => of_picture(piece, shape, group, picture),
    });
    told.collect()
}

fn all_shown(piece: &Piece) -> Vec<Shown<'_>> {
    let mut all = Vec::new();
    for (zone, described) in piece.zones.iter().enumerate() {
        let Finish::Stones(finish) = &described.finish else { continue };
        for (layer, asked) in finish.layers.iter().enumerate() {
            let colours = match &asked.colouring {
                Colouring::Mingled => None,
                Colouring::Gradient { way, .. } => Some(What::Gradient(way)),
                Colouring::Picture(picture) => Some(What::Picture(picture)),
            };
            let sizes = asked.grade.as_ref().map(What::Grade);
            all.extend(colours.into_iter().chain(sizes).map(|what| Shown { zone, layer, what }));
        }
    }
    all
}

fn of_way(
    piece: &Piece,
    shape: &Shape,
    stones: &[Stone],
    group: &[Shown<'_>],
    way: &Way,
    key: &str,
) -> Option<Diagnostic> {
    let mut reached = (f64::INFINITY, f64::NEG_INFINITY);
    for shown in group {
        let placed = &shape.zones[shown.zone];
        let course = Course::new(way, &placed.surface);
        // The zone's corners as well: a stone at the edge has its middle inside.
        let own =
            stones.iter().filter(|stone| (stone.zone, stone.layer) == (shown.zone, shown.layer));
        let places = placed.area.edges.iter().flatten().copied();
        for at in own.map(|stone| stone.at).chain(places) {
            let share = course.share(at);
            reached = (reached.0.min(share), reached.1.max(share));
        }
    }
    let (first, last) = (reached.0, 1.0 - reached.1);
    if !reached.0.is_finite() || first.max(last) <= OUTSIDE {
        return None;
    }
    let where_it_lies = if reached.1 < 1e-9 {
        "wholly outside it: every stone is as at its beginning".to_owned()
    } else if reached.0 > 1.0 - 1e-9 {
        "wholly outside it: every stone is as at its end".to_owned()
    } else {
        let lacks = [("first", first), ("last", last)].into_iter();
        let lacks: Vec<String> = lacks
            .filter(|(_, share)| *share > OUTSIDE)
            .map(|(which, share)| format!("its {which} {:.0} %", 100.0 * share))
            .collect();
        let fall = if lacks.len() == 1 { "falls" } else { "fall" };
        format!("partly outside it: {} {fall} where no stone lies", lacks.join(" and "))
    };
    let text = format!("the {key} of {} lies {where_it_lies}", names(piece, group));
    let hint = fitting(piece, shape, group, way).map_or_else(
        || "Move the line, or make it shorter, so that the zone lies along all of it".to_owned(),
        |fitting| format!("To show all of it in the zone, write {fitting}"),
    );
    Some(Diagnostic::warning(path_of(piece, &group[0]).key(key), text).hint(hint))
}

/// The way from end to end of the zones, as it stands in a piece file; of a line there is none.
fn fitting(piece: &Piece, shape: &Shape, group: &[Shown<'_>], way: &Way) -> Option<String> {
    let flat = matches!(piece.parts[piece.zones[group[0].zone].part].form, Form::Flat(_));
    let extents = group.iter().filter_map(|shown| {
        let placed = &shape.zones[shown.zone];
        let bare = &shape.parts[placed.part].surface;
        placed.area.extent(bare)
    });
    let ends = |pick: fn(&Extent) -> (f64, f64)| {
        extents.map(|one| pick(&one)).reduce(|a, b| (a.0.min(b.0), a.1.max(b.1)))
    };
    let in_order = |way: (f64, f64), (low, high): (f64, f64)| {
        if way.0 <= way.1 { (low, high) } else { (high, low) }
    };
    let mm = |mm: f64| format!("\"{} mm\"", tenths(mm));
    match way {
        Way::Wall { along_mm } => {
            let (from, to) = in_order(*along_mm, ends(|one| one.along_mm)?);
            Some(format!("wall = [{}, {}]", mm(from), mm(to)))
        }
        Way::Around { around } => {
            let (from, to) = in_order(*around, ends(|one| one.around)?);
            let place = |at: f64| {
                // Adding nothing makes of -0 a 0.
                if flat { mm(at) } else { format!("\"{} deg\"", at.to_degrees().round() + 0.0) }
            };
            Some(format!("around = [{}, {}]", place(from), place(to)))
        }
        Way::Line { .. } => None,
    }
}

fn of_picture(
    piece: &Piece,
    shape: &Shape,
    group: &[Shown<'_>],
    picture: &StonePicture,
) -> Option<Diagnostic> {
    let placed = |shown: &Shown<'_>| &shape.zones[shown.zone];
    let bare = &shape.parts[placed(&group[0]).part].surface;
    let fields: Vec<Field> =
        group.iter().map(|shown| Field::new(bare, &placed(shown).area)).collect();
    let high_mm = picture.width_mm * picture.size.1 as f64 / picture.size.0.max(1) as f64;
    let (start_mm, end_mm) = bare.along_range_mm();
    let place = |across: u32, down: u32| {
        let from_middle = |look: u32| (f64::from(look) + 0.5) / f64::from(LOOKS) - 0.5;
        let along_mm = picture.along_mm + from_middle(down) * high_mm;
        if !(start_mm..=end_mm).contains(&along_mm) {
            return None;
        }
        let off = from_middle(across) * picture.width_mm / bare.around_scale_mm(along_mm).max(1e-3);
        // What reaches round beyond the back meets itself there.
        let seen = bare.period().is_none() || off.abs() <= PI;
        seen.then_some(SurfacePoint { around: picture.around + off, along_mm })
    };
    let shown = (0..LOOKS)
        .flat_map(|down| (0..LOOKS).map(move |across| (across, down)))
        .filter_map(|(across, down)| place(across, down))
        .filter(|at| fields.iter().any(|field| field.contains(*at)))
        .count();
    let outside = 1.0 - shown as f64 / f64::from(LOOKS * LOOKS);
    if outside <= OUTSIDE {
        return None;
    }
    let names = names(piece, group);
    let text = if shown == 0 {
        format!(
            "the picture of {names} lies wholly outside it: every stone is as the picture's border \
             is on average"
        )
    } else {
        format!(
            "the picture of {names} lies partly outside it: {:.0} % of it falls where no stone lies",
            100.0 * outside
        )
    };
    let extent = placed(&group[0]).area.extent(bare)?;
    let hint = format!(
        "It is {} mm wide and {} mm high with its middle at {} mm along; the zone lies from {} mm to \
         {} mm. Move it with along and around, make it smaller, or leave it so if it is meant to be \
         cut off",
        tenths(picture.width_mm),
        tenths(high_mm),
        tenths(picture.along_mm),
        tenths(extent.along_mm.0),
        tenths(extent.along_mm.1)
    );
    Some(Diagnostic::warning(path_of(piece, &group[0]).key("picture"), text).hint(hint))
}

fn tenths(mm: f64) -> f64 {
    // Adding nothing makes of -0 a 0.
    (10.0 * mm).round() / 10.0 + 0.0
}

fn names(piece: &Piece, group: &[Shown<'_>]) -> String {
    let mut names: Vec<String> =
        group.iter().map(|shown| format!("\"{}\"", piece.zones[shown.zone].name)).collect();
    names.dedup();
    let zones = if names.len() == 1 { "zone" } else { "zones" };
    format!("{zones} {}", names.join(" and "))
}

fn path_of(piece: &Piece, shown: &Shown<'_>) -> FieldPath {
    let path = FieldPath::root().key("zone").index(shown.zone).key("stones");
    match &piece.zones[shown.zone].finish {
        Finish::Stones(finish) if finish.layers.len() > 1 => path.index(shown.layer),
        _ => path,
    }
}
