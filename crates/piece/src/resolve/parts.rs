//! Parts: readings, outlines and generic blanks turned into forms, seats followed.

use super::colours::Palette;
use super::handles::{handle, of_blank};
use super::readings::revolved;
use super::{Bench, mm};
use crate::blanks::{self, BLANKS, Blank};
use crate::file::part::{FlatFile, PartFile, RoleFile, WallsFile};
use crate::file::scalars::Length;
use crate::nearest::nearest;
use crate::units::{or_list, shorten};
use crate::{Diagnostic, FieldPath, Fit, Form, Outline, Part, PartRole, Seat, Walls};

/// Longest wall, largest plate, mm: beyond any cup, so a slip of the unit.
pub(super) const LARGEST_MM: f64 = 2000.0;
/// Most room that a handle or a lid leaves beside it, mm.
pub(super) const MOST_CLEARANCE_MM: f64 = 50.0;
/// A tape is read more finely than this, mm.
const COARSEST_MM: f64 = 10.0;
/// Largest capacity, ml.
const LARGEST_CAPACITY_ML: f64 = 20_000.0;

pub(super) fn parts(
    file: &[PartFile],
    zones: &[&str],
    palette: &mut Palette,
    bench: &mut Bench<'_>,
) -> Vec<Part> {
    let names: Vec<&str> = file.iter().map(|part| part.name.0.as_str()).collect();
    bench.unique("part", "part", &names);
    let root = FieldPath::root().key("part");
    let parts: Vec<Part> = file
        .iter()
        .enumerate()
        .map(|(index, part)| one(part, (&names, zones), &root.index(index), palette, bench))
        .collect();
    let below: Vec<Vec<usize>> =
        parts.iter().map(|part| part.seat.iter().map(|seat| seat.on_part).collect()).collect();
    bench.no_rings(
        &below,
        |index| root.index(index).key("sits_on").key("part"),
        |ring| {
            let ring: Vec<_> = ring
                .iter()
                .chain(ring.first())
                .map(|index| format!("`{}`", names[*index]))
                .collect();
            format!("parts sit on each other in a ring: {}", ring.join(" sits on "))
        },
        "let one of them stand on the table: leave out its `sits_on`",
    );
    parts
}

fn one(
    file: &PartFile,
    (names, zones): (&[&str], &[&str]),
    path: &FieldPath,
    palette: &mut Palette,
    bench: &mut Bench<'_>,
) -> Part {
    let blank = file.blank.as_ref().and_then(|name| generic(name, &path.key("blank"), bench));
    let typed_ml = file.capacity.map(|capacity| capacity.0);
    let capacity_ml = typed_ml.or(blank.map(Blank::capacity_ml));
    if let Some(ml) = capacity_ml
        && !(ml > 0.0 && ml <= LARGEST_CAPACITY_ML)
    {
        bench.error(
            &path.key("capacity"),
            format!("the capacity is {ml:.0} ml; expected more than 0 and at most 20 l"),
        );
    }
    let role = role(file, path, bench);
    let body = role == PartRole::Body;
    let form = match (&file.revolved, &file.flat) {
        (Some(measures), _) => {
            let step_mm = step_mm(file, &path.key("read_to"), bench);
            Form::Revolved(revolved(measures, body, step_mm, &path.key("revolved"), bench))
        }
        (None, Some(flat)) => Form::Flat(outline(flat, &path.key("flat"), bench)),
        // Without a blank of that name there is a complaint already.
        (None, None) => Form::Revolved(blank.map(Blank::measures).unwrap_or_default()),
    };
    let flat = matches!(form, Form::Flat(_));
    let seat = file.sits_on.as_ref().and_then(|seat| {
        let path = path.key("sits_on");
        if seat.upright && !flat {
            bench.error_hint(
                &path.key("upright"),
                "only a flat part can stand upright",
                "leave `upright` out",
            );
        }
        let sink_mm = seat.sink.map_or(0.0, |sink| sink.0);
        bench.reach_mm(&path.key("sink"), "the sink", sink_mm, LARGEST_MM);
        let clearance_mm = seat.clearance.as_ref().map(|clearance| clearance.0);
        let clearance_mm = clearance_mm.map(|mm| {
            bench.margin_mm(&path.key("clearance"), "the clearance", mm, MOST_CLEARANCE_MM)
        });
        let on_part = bench.find(&path.key("part"), "part", &seat.part, names)?;
        Some(Seat { on_part, sink_mm, clearance_mm, upright: seat.upright })
    });
    let wall = match &form {
        Form::Revolved(measures) => Some(measures.as_slice()),
        Form::Flat(_) => None,
    };
    let typed = file.handle.as_ref();
    let typed = typed.and_then(|one| handle(one, wall, zones, &path.key("handle"), bench));
    let handle = typed.or_else(|| blank.and_then(|blank| blank.handle.as_ref()).map(of_blank));
    let walls = file.wall.map(|wall| match wall {
        WallsFile::Single => Walls::Single,
        WallsFile::Double => Walls::Double,
    });
    Part {
        name: file.name.0.clone(),
        role,
        capacity_ml,
        walls: walls.or(blank.map(|blank| blank.walls)),
        form,
        blank_colour: file
            .colour
            .as_ref()
            .map(|name| palette.find(&path.key("colour"), name, bench)),
        seat,
        handle,
        fit: fit(file, path, bench),
    }
}

/// What the part must still fit, as far as it is known.
fn fit(file: &PartFile, path: &FieldPath, bench: &mut Bench<'_>) -> Fit {
    let mut of = |key: &str, what: &str, typed: Option<Length>, most_mm: f64| {
        typed.map(|typed| bench.size_mm(&path.key(key), what, typed.0, most_mm))
    };
    Fit {
        foot_mm: of("foot", "the height of the foot", file.foot, MOST_CLEARANCE_MM),
        straw_mm: of("straw", "the straw's diameter", file.straw, MOST_CLEARANCE_MM),
        holder_mm: of("holder", "the cup holder's diameter", file.holder, LARGEST_MM),
    }
}

/// The generic blank of this name, with a word that it is a guess.
fn generic(name: &str, path: &FieldPath, bench: &mut Bench<'_>) -> Option<&'static Blank> {
    let found = blanks::find(name);
    if found.is_some() {
        let message =
            "the sizes of a generic blank are a guess: cups of one capacity differ by several mm";
        bench.diagnostics.push(Diagnostic::warning(path.clone(), message).hint(
            "Measure yours before you cut or set anything: `cupwright measure` asks for what is needed.",
        ));
    } else {
        let known: Vec<&str> = BLANKS.iter().map(|blank| blank.name).collect();
        let message = format!("there is no blank called `{}`", shorten(name));
        let hint = match nearest(name, &known) {
            Some(meant) => format!("did you mean \"{meant}\"?"),
            None => format!("the generic blanks are {}", or_list(&known).replace(" or ", " and ")),
        };
        bench.error_hint(path, message, hint);
    }
    found
}

/// How finely the readings were taken, mm; 0 if they are exact.
fn step_mm(file: &PartFile, path: &FieldPath, bench: &mut Bench<'_>) -> f64 {
    file.read_to
        .map_or(0.0, |step| bench.margin_mm(path, "the step of the readings", step.0, COARSEST_MM))
}

fn role(file: &PartFile, path: &FieldPath, bench: &mut Bench<'_>) -> PartRole {
    match (file.role, file.name.0.as_str()) {
        (Some(RoleFile::Body), _) | (None, "body") => PartRole::Body,
        (Some(RoleFile::Lid), _) | (None, "lid") => PartRole::Lid,
        (Some(RoleFile::Topper), _) | (None, "topper") => PartRole::Topper,
        (None, name) => {
            bench.error_hint(
                path,
                format!("the part `{name}` has no `role`, and its name does not say it"),
                "add role = \"body\", \"lid\" or \"topper\"",
            );
            PartRole::Body
        }
    }
}

fn outline(file: &FlatFile, path: &FieldPath, bench: &mut Bench<'_>) -> Outline {
    match file {
        FlatFile::Circle(circle) => Outline::Circle {
            diameter_mm: bench.size_mm(
                &path.key("circle"),
                "the diameter",
                circle.circle.0,
                LARGEST_MM,
            ),
        },
        FlatFile::Rectangle(rectangle) => {
            let width_mm =
                bench.size_mm(&path.key("width"), "the width", rectangle.width.0, LARGEST_MM);
            let height_mm =
                bench.size_mm(&path.key("height"), "the height", rectangle.height.0, LARGEST_MM);
            let corner_mm = rectangle.corner.map_or(0.0, |corner| corner.0);
            let most_mm = width_mm.min(height_mm) / 2.0;
            if most_mm > 0.0 && !(0.0..=most_mm).contains(&corner_mm) {
                bench.error(
                    &path.key("corner"),
                    format!(
                        "the corner's radius is {}; it can be from 0 mm to half the shorter side, {}",
                        mm(corner_mm),
                        mm(most_mm)
                    ),
                );
            }
            Outline::Rectangle { width_mm, height_mm, corner_mm }
        }
        FlatFile::Path(outline) => Outline::Path {
            data: outline.path.clone(),
            width_mm: bench.size_mm(&path.key("width"), "the width", outline.width.0, LARGEST_MM),
        },
    }
}
