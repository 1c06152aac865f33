//! What can be made and is still most often a slip: film hidden under stones, stones
//! far apart, a lid that belongs to another cup or sinks into it.

use crate::PartShape;
use crate::area::Area;
use crate::boolean::{Plane, Region};
use crate::watch::Watch;
use piece::{Diagnostic, FieldPath, Finish, Form, Part, PartRole, Piece, Zone};

/// Share of a zone under stones from which it counts as hidden.
const HIDDEN: f64 = 0.5;
/// How far a lid's greatest diameter may be from that of the rim it sits on, as a share (common
/// practice, no source: lids overlap by a few mm).
const LID_OFF: f64 = 0.2;
/// A gap this many times as wide as the widest stone of a zone is more likely a slip of the unit.
const WIDE_GAP: f64 = 3.0;

/// Warns of lettering, drawings and film that a later zone of stones hides.
pub(crate) fn hidden(
    piece: &Piece,
    parts: &[PartShape],
    planes: &[Plane],
    regions: &[Region],
    watch: &mut Watch<'_>,
) -> Vec<Diagnostic> {
    let mut notes = Vec::new();
    let of_stones = |zone: &Zone| matches!(zone.finish, Finish::Stones(_));
    for (index, over) in piece.zones.iter().enumerate().filter(|(_, zone)| of_stones(zone)) {
        let (plane, surface) = (&planes[over.part], &parts[over.part].surface);
        for (below, zone) in piece.zones[..index].iter().enumerate() {
            let drawn = zone.region.art.is_some() || zone.region.motif.is_some();
            let shows = drawn || matches!(zone.finish, Finish::Vinyl { .. });
            if zone.part != over.part || !shows || of_stones(zone) || !watch.going() {
                continue;
            }
            let area_mm2 = |region: &Region| Area::new(plane, region, surface).area_mm2(surface);
            let shared = regions[index].intersected(plane, &regions[below]);
            let share = area_mm2(&shared) / area_mm2(&regions[below]).max(f64::MIN_POSITIVE);
            if share > HIDDEN {
                let message = format!(
                    "the stones of zone `{}` hide {:.0} % of zone `{}`",
                    over.name,
                    (share * 100.0).min(100.0),
                    zone.name
                );
                let hint = format!(
                    "Add leave_out = [ {{ zone = \"{}\", margin = \"2 mm\" }} ] to `{}`, or move one of them.",
                    zone.name, over.name
                );
                let path = FieldPath::root().key("zone").index(index);
                notes.push(Diagnostic::warning(path, message).hint(hint));
            }
        }
    }
    notes
}

/// Warns of stones much farther apart than they are wide.
pub(crate) fn wide_gap(zone: &Zone, index: usize) -> Option<Diagnostic> {
    let Finish::Stones(stones) = &zone.finish else { return None };
    let widest_mm = stones.sizes.iter().map(|size| size.diameter_mm).fold(0.0, f64::max);
    (stones.least_gap_mm() > WIDE_GAP * widest_mm).then(|| {
        let message = format!(
            "the stones of zone `{}` are at most {widest_mm} mm wide and {} mm apart",
            zone.name,
            stones.least_gap_mm()
        );
        let path = FieldPath::root().key("zone").index(index).key("stones").key("gap");
        Diagnostic::warning(path, message).hint("A hand leaves about 0.1 mm; check the unit.")
    })
}

/// Warns of a lid that sinks into its body as deep as it is high.
pub(crate) fn sunk_lids(piece: &Piece, parts: &[PartShape]) -> Vec<Diagnostic> {
    let lids = piece.parts.iter().enumerate().filter(|(_, part)| part.role == PartRole::Lid);
    let warn = |(index, part): (usize, &Part)| {
        let seat = part.seat.as_ref()?;
        let (sink_mm, height_mm) = (seat.sink_mm, parts[index].height_mm);
        (height_mm > 0.0 && sink_mm >= height_mm).then(|| {
            let message = format!(
                "part `{}` is {height_mm:.1} mm high and sinks {sink_mm} mm, so nothing of it stands out of `{}`",
                part.name, piece.parts[seat.on_part].name
            );
            let path = FieldPath::root().key("part").index(index).key("sits_on").key("sink");
            Diagnostic::warning(path, message)
                .hint("`sink` is how far the lid comes down over the rim, or drops in below it.")
        })
    };
    lids.filter_map(warn).collect()
}

/// Warns of a lid that is far wider or narrower than the rim it sits on.
pub(crate) fn odd_lids(piece: &Piece, parts: &[PartShape]) -> Vec<Diagnostic> {
    let mut notes = Vec::new();
    for (index, part) in piece.parts.iter().enumerate() {
        let Some(seat) = part.seat.as_ref().filter(|_| part.role == PartRole::Lid) else {
            continue;
        };
        let beneath = &piece.parts[seat.on_part];
        let round = |form: &Form| matches!(form, Form::Revolved(_));
        if beneath.role != PartRole::Body || !round(&part.form) || !round(&beneath.form) {
            continue;
        }
        let rim_mm = 2.0 * parts[seat.on_part].surface.around_scale_mm(0.0);
        let lid_mm = 2.0 * parts[index].surface.widest_mm();
        if (lid_mm - rim_mm).abs() > LID_OFF * rim_mm {
            let message = format!(
                "part `{}` is {lid_mm:.1} mm across where it is widest, and the rim of `{}` is {rim_mm:.1} mm across",
                part.name, beneath.name
            );
            let path = FieldPath::root().key("part").index(index).key("sits_on");
            notes.push(
                Diagnostic::warning(path, message)
                    .hint("Check whether the lid belongs to this cup, and whether a girth or a radius was typed as a diameter."),
            );
        }
    }
    notes
}
