//! Film: how it is cut, and whether all of one colour agrees.

use super::Bench;
use super::colours::Palette;
use crate::file::finish::{JoinFile, TurnsFile, VinylFile};
use crate::{FieldPath, FilmCut, FilmJoin, FilmTurns, Finish, Zone};
use std::collections::BTreeMap;

/// A trap wider than this, mm, is a slip of the keyboard.
const MOST_TRAP_MM: f64 = 5.0;

pub(crate) fn vinyl(
    file: &VinylFile,
    path: &FieldPath,
    palette: &mut Palette,
    bench: &mut Bench<'_>,
) -> Finish {
    let join = match file.join {
        JoinFile::Whole => FilmJoin::Whole,
        JoinFile::Butt => FilmJoin::Butt,
        JoinFile::Overlap => FilmJoin::Overlap,
        JoinFile::Choke => FilmJoin::Choke,
    };
    let at = path.key("trap");
    let trap_mm = file.trap.map(|trap| bench.size_mm(&at, "the trap", trap.0, MOST_TRAP_MM));
    if trap_mm.is_some() && !matches!(join, FilmJoin::Overlap | FilmJoin::Choke) {
        bench.error_hint(
            &at,
            "a trap is the width of an overlap or of a choke, and this film has neither",
            "add `join = \"overlap\"` or `join = \"choke\"`, or leave `trap` out",
        );
    }
    let turns = match file.turns {
        TurnsFile::None => FilmTurns::None,
        TurnsFile::Half => FilmTurns::Half,
        TurnsFile::Quarter => FilmTurns::Quarter,
    };
    let cut = FilmCut {
        join,
        trap_mm,
        turns,
        mirrored: file.mirrored,
        relief: file.relief,
        registration: file.registration.unwrap_or(true),
    };
    Finish::Vinyl { colour: palette.find(&path.key("colour"), &file.colour, bench), cut }
}

/// Film of one colour is one film: it cannot be cut from its front here and from its back there.
pub(crate) fn one_side_for_each_colour(zones: &[Zone], bench: &mut Bench<'_>) {
    let mut first: BTreeMap<usize, (usize, bool)> = BTreeMap::new();
    for (index, zone) in zones.iter().enumerate() {
        let Finish::Vinyl { colour, cut } = &zone.finish else { continue };
        let (other, mirrored) = *first.entry(*colour).or_insert((index, cut.mirrored));
        if mirrored != cut.mirrored {
            let (one, two) = (&zones[other].name, &zone.name);
            bench.error_hint(
                &FieldPath::root().key("zone").index(index).key("vinyl"),
                format!("the film of `{one}` and that of `{two}` have one colour, but only one is mirrored"),
                "film that is cut from its back is another film: give it a colour of its own",
            );
        }
    }
}
