//! Whether lid, handle, foot, straw and cup holder still fit once everything is coated.

use crate::girth;
use crate::masks::{Mask, masks};
use piece::lengths::fine;
use piece::{Diagnostic, FieldPath, PartRole, Piece, Settings};
use shape::{Shape, Surface};

/// Heights are looked at so far apart, mm.
const LOOK_MM: f64 = 1.0;
/// As near to the end of a wall as a layer is looked at, mm: at the very end none has a width.
const INSIDE_MM: f64 = 0.02;
/// How deep a cup goes into a holder, mm (from memory: 60 to 80).
const HOLDER_DEEP_MM: f64 = 70.0;
/// A coat that ends nearer to the foot than this makes the cup rock, mm (common practice: 5 to 10 bare).
const FOOT_BARE_MM: f64 = 5.0;

/// What is to fit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum FitKind {
    /// A lid on its body: the skirt in or over the rim.
    Lid,
    /// A handle over what runs on beneath it.
    Handle,
    /// A body on the table.
    Foot,
    /// A straw through the hole of a lid.
    Straw,
    /// A body in a cup holder.
    Holder,
}

impl FitKind {
    /// What is to fit, in one word.
    pub fn name(self) -> &'static str {
        match self {
            Self::Lid => "lid",
            Self::Handle => "handle",
            Self::Foot => "foot",
            Self::Straw => "straw",
            Self::Holder => "holder",
        }
    }
}

/// Whether one thing still fits.
#[derive(Debug, Clone, PartialEq)]
pub struct FitCheck {
    /// Index of the part.
    pub part: usize,
    /// What is to fit.
    pub kind: FitKind,
    /// Thickness of everything in the way, mm.
    pub coated_mm: f64,
    /// Thickness that there is room for, mm, below 0 where it does not even fit bare; `None` if nobody
    /// has measured it.
    pub room_mm: Option<f64>,
}

impl FitCheck {
    /// Whether it fits; `None` if that cannot be known. What nobody has measured still fits where no
    /// coat lies in the way.
    pub fn fits(&self) -> Option<bool> {
        match self.room_mm {
            Some(room_mm) => Some(self.coated_mm <= room_mm + 1e-9),
            None => (self.coated_mm <= 1e-9).then_some(true),
        }
    }

    /// The same in a few words.
    pub fn verdict(&self) -> &'static str {
        match self.fits() {
            Some(true) => "fits",
            Some(false) => "does not fit",
            None => "measure it",
        }
    }
}

/// What still fits, and where to mask.
#[derive(Debug, Clone, PartialEq)]
pub struct Fits {
    /// Everything that was looked at, part by part.
    pub checks: Vec<FitCheck>,
    /// Edges of resin to mask.
    pub masks: Vec<Mask>,
    /// Warnings about what does not fit or is not known.
    pub notes: Vec<Diagnostic>,
}

/// Looks at all parts. `gel_min` is when the resin gels after the pour, if known.
pub fn plan_fits(piece: &Piece, shape: &Shape, settings: &Settings, gel_min: Option<f64>) -> Fits {
    let on = On { piece, shape, settings };
    let mut checks = Vec::new();
    for part in 0..piece.parts.len() {
        if shape.parts[part].surface.period().is_some() {
            checks.extend(on.lid(part));
            checks.extend(on.handle(part));
            checks.extend(on.foot(part));
            checks.extend(on.straw(part));
            checks.extend(on.holder(part));
        }
    }
    let notes = checks.iter().filter_map(|check| on.note(check)).collect();
    Fits { checks, masks: masks(piece, shape, gel_min), notes }
}

/// What all checks look at.
struct On<'a> {
    piece: &'a Piece,
    shape: &'a Shape,
    settings: &'a Settings,
}

impl On<'_> {
    fn bare(&self, part: usize) -> &Surface {
        &self.shape.parts[part].surface
    }

    fn coated_mm(&self, part: usize, along_mm: f64) -> f64 {
        girth::thickest_mm(self.piece, self.shape, self.settings, part, along_mm)
    }

    /// Heights from one to another, near ends included.
    fn heights(&self, part: usize, from_mm: f64, to_mm: f64) -> Vec<f64> {
        let (start_mm, end_mm) = self.bare(part).along_range_mm();
        let (from_mm, to_mm) = (from_mm.max(start_mm + INSIDE_MM), to_mm.min(end_mm - INSIDE_MM));
        let steps = ((to_mm - from_mm) / LOOK_MM).ceil().max(1.0);
        (0..=steps as u32)
            .map(|step| from_mm + (to_mm - from_mm) * f64::from(step) / steps)
            .collect()
    }

    fn thickest_mm(&self, part: usize, from_mm: f64, to_mm: f64) -> f64 {
        let heights = self.heights(part, from_mm, to_mm);
        heights.into_iter().map(|along_mm| self.coated_mm(part, along_mm)).fold(0.0, f64::max)
    }

    fn lid(&self, part: usize) -> Option<FitCheck> {
        let lid = &self.piece.parts[part];
        let seat = lid.seat.as_ref().filter(|seat| seat.sink_mm > 0.0)?;
        let below = self.bare(seat.on_part);
        below.period()?;
        let (_, end_mm) = self.bare(part).along_range_mm();
        let mut coated_mm = self.thickest_mm(part, end_mm - seat.sink_mm, end_mm);
        let hangs_over = self.bare(part).around_scale_mm(end_mm) > below.around_scale_mm(0.0);
        if hangs_over {
            // What a skirt hangs over is coated too; the inside of the skirt is not.
            coated_mm = self.thickest_mm(seat.on_part, 0.0, seat.sink_mm);
        }
        (lid.role == PartRole::Lid).then_some(FitCheck {
            part,
            kind: FitKind::Lid,
            coated_mm,
            room_mm: seat.clearance_mm,
        })
    }

    fn handle(&self, part: usize) -> Option<FitCheck> {
        let handle = self.piece.parts[part].handle.as_ref()?;
        let beneath = handle.beneath.iter().filter(|zone| self.piece.zones[**zone].part == part);
        let thickness = |zone: &usize| {
            shape::zones::thickness_mm(&self.piece.zones[*zone].finish, self.settings)
        };
        Some(FitCheck {
            part,
            kind: FitKind::Handle,
            // The sum of nothing is -0 for floating point.
            coated_mm: beneath.map(thickness).fold(0.0, |sum, mm| sum + mm),
            room_mm: Some(handle.clearance_mm),
        })
    }

    fn foot(&self, part: usize) -> Option<FitCheck> {
        let body = &self.piece.parts[part];
        let (_, end_mm) = self.bare(part).along_range_mm();
        (body.role == PartRole::Body).then(|| FitCheck {
            part,
            kind: FitKind::Foot,
            coated_mm: self.thickest_mm(part, end_mm - FOOT_BARE_MM, end_mm),
            room_mm: body.fit.foot_mm,
        })
    }

    fn straw(&self, part: usize) -> Option<FitCheck> {
        let straw_mm = self.piece.parts[part].fit.straw_mm?;
        let hole_mm = 2.0 * self.bare(part).around_scale_mm(0.0);
        Some(FitCheck {
            part,
            kind: FitKind::Straw,
            coated_mm: self.coated_mm(part, INSIDE_MM),
            room_mm: Some(0.5 * (hole_mm - straw_mm)),
        })
    }

    fn holder(&self, part: usize) -> Option<FitCheck> {
        let holder_mm = self.piece.parts[part].fit.holder_mm?;
        let (_, end_mm) = self.bare(part).along_range_mm();
        let at = |along_mm: f64| {
            let room_mm = 0.5 * holder_mm - self.bare(part).around_scale_mm(along_mm);
            (self.coated_mm(part, along_mm), room_mm)
        };
        let tightest = self
            .heights(part, end_mm - HOLDER_DEEP_MM, end_mm)
            .into_iter()
            .map(at)
            .min_by(|a, b| (a.1 - a.0).total_cmp(&(b.1 - b.0)))?;
        Some(FitCheck {
            part,
            kind: FitKind::Holder,
            coated_mm: tightest.0,
            room_mm: Some(tightest.1),
        })
    }

    fn note(&self, check: &FitCheck) -> Option<Diagnostic> {
        let path = FieldPath::root().key("part").index(check.part);
        let name = &self.piece.parts[check.part].name;
        let coated = fine(check.coated_mm, self.settings.lengths);
        let room = fine(check.room_mm.unwrap_or(0.0).max(0.0), self.settings.lengths);
        let bare = check.room_mm.is_some_and(|room_mm| room_mm < 0.0);
        let (key, message, hint) = match (check.kind, check.fits()) {
            (_, Some(true)) => return None,
            (FitKind::Straw, _) if bare => (
                "straw",
                format!("the straw is wider than the hole of `{name}` even without coats"),
                "Measure both again: the hole is as wide as the first diameter of its part",
            ),
            (FitKind::Holder, _) if bare => (
                "holder",
                format!("`{name}` is wider than its cup holder even without coats"),
                "Measure both again, or tell the customer",
            ),
            (FitKind::Lid, Some(false)) => (
                "sits_on",
                format!(
                    "the lid `{name}` no longer seats: {coated} of coats where there is room for {room}"
                ),
                "Keep its skirt, or the rim that it hangs over, bare: end the zones above it and mask there",
            ),
            (FitKind::Lid, None) => (
                "sits_on",
                format!(
                    "`{name}` gets {coated} of coats where it sits, and nobody has measured what there is room for"
                ),
                "Slip strips of paper of known thickness beside it until it no longer seats, and write that as `clearance`; more than 1 mm often stops a lid (common practice)",
            ),
            (FitKind::Handle, _) => (
                "handle",
                format!(
                    "the handle of `{name}` no longer closes over {coated} of coats: there is room for {room}"
                ),
                "Take the zones out of `beneath`, or measure the strap's play and write it as `clearance`",
            ),
            (FitKind::Foot, Some(false)) => (
                "foot",
                format!(
                    "`{name}` rocks: {coated} of coats reach its lower end, which stands {room} above the table"
                ),
                "End the coats 5 to 10 mm above the foot, or feather them out; a drip there is thicker still",
            ),
            (FitKind::Foot, None) => (
                "foot",
                format!("{coated} of coats reach the lower end of `{name}`"),
                "End them 5 to 10 mm above it, or measure how high the end of the wall stands above the table and write that as `foot`",
            ),
            (FitKind::Straw, _) => (
                "straw",
                format!(
                    "the straw no longer passes the hole of `{name}`: its edge grows by {coated}, and there is room for {room}"
                ),
                "Keep the edge of the hole bare, and mask it",
            ),
            (FitKind::Holder, _) => (
                "holder",
                format!(
                    "`{name}` no longer goes into its cup holder: {coated} of coats, and room for {room}"
                ),
                "Plan fewer or thinner coats near the foot, or tell the customer",
            ),
        };
        Some(Diagnostic::warning(path.key(key), message).hint(hint))
    }
}
