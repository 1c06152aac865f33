//! What to say when stones find too little room.

use crate::asked::Asked;
use crate::fill::Ground;
use piece::{Diagnostic, FieldPath, Follow, Layout};
use shape::SurfacePoint;

/// Share of a zone that no stone can cover before it is worth a word.
const NARROW: f64 = 0.10;
/// Distance of two rows of a honeycomb over the pitch, and area of a stone's cell over its square: √3/2.
pub const HONEYCOMB: f64 = 0.866_025_403_784_438_6;
/// A zone without any area.
pub fn empty(path: &FieldPath, zone: &str) -> Diagnostic {
    Diagnostic::error(
        path.clone(),
        format!("there is nothing left of zone \"{zone}\" to set stones on"),
    )
    .hint("Make its band wider, or leave out less.")
}

/// A zone in which a layout laid no stone, be it the first in its zone or a `later` one.
pub fn none(
    ground: &Ground<'_>,
    asked: &Asked<'_>,
    path: &FieldPath,
    zone: &str,
    later: bool,
) -> Diagnostic {
    let sizes = asked.sizes();
    let (key, smallest) = match asked.layer.layout {
        Layout::Rows { .. } | Layout::Outline { .. } | Layout::Rings | Layout::Line => {
            ("size", sizes.first())
        }
        _ => ("sizes", sizes.last()),
    };
    let widest_mm = widest_mm(ground);
    let (stone, diameter_mm) =
        smallest.map_or((String::new(), 0.0), |(size, _)| (size.in_words(), size.diameter_mm));
    let path = path.key(key);
    if widest_mm < diameter_mm {
        Diagnostic::error(
            path,
            format!(
                "a stone of {stone} is larger than zone \"{zone}\" can hold: \
                 its widest place takes {widest_mm:.1} mm"
            ),
        )
        .hint("Choose a smaller size, or make the zone wider.")
    } else if ground.obstacles.is_empty() {
        let way = match asked.layer.layout {
            Layout::Rows { follow: Follow::Spiral, .. } => "as a spiral ",
            Layout::Rows { .. } => "in rows ",
            Layout::Outline { .. } => "along the edges ",
            Layout::Rings => "in rings ",
            Layout::Line => "along the strokes ",
            _ => "",
        };
        Diagnostic::error(
            path,
            format!(
                "no whole stone of {stone} fits {way}in zone \"{zone}\": \
                 its widest place takes {widest_mm:.1} mm"
            ),
        )
        .hint("Choose a smaller size, or make the zone wider.")
    } else if later {
        Diagnostic::error(
            path,
            format!(
                "no stone of {stone} fits between those that the layouts before this one lay in zone \
                 \"{zone}\""
            ),
        )
        .hint(
            "Leave it out, choose a smaller size, or list it before layouts that cover the whole zone.",
        )
    } else {
        Diagnostic::error(
            path,
            format!(
                "zone \"{zone}\" has no room: stones of other zones lie where its own would go"
            ),
        )
        .hint("Move the zones apart, or leave one out of the other.")
    }
}

/// A zone that is joined with others, none of whose stones has its middle in it.
pub fn none_of_own(path: &FieldPath, zone: &str) -> Diagnostic {
    Diagnostic::error(
        path.clone(),
        format!(
            "zone \"{zone}\" gets no stone: none that straddles its border has its middle in it"
        ),
    )
    .hint("Make the zone wider, choose a smaller size, or leave straddle out of its rules.")
}

/// Diameter of the largest stone that the zone holds, mm, to a hundredth.
pub fn widest_mm(ground: &Ground<'_>) -> f64 {
    let best = samples(ground).into_iter().fold(None, |best: Option<(SurfacePoint, f64)>, here| {
        if best.is_some_and(|best| best.1 >= here.1) { best } else { Some(here) }
    });
    let Some((mut at, mut most)) = best else { return 0.0 };
    // Uphill in ever smaller steps from the best sample.
    let mut step_mm = 2.0;
    while step_mm > 0.001 {
        let frame = ground.frame(at);
        let steps = [(step_mm, 0.0), (-step_mm, 0.0), (0.0, step_mm), (0.0, -step_mm)];
        let tried = steps.map(|(right, down)| ground.moved(&frame, right, down));
        match tried.into_iter().find(|to| ground.field.clearance_mm(*to) > most) {
            Some(to) => (at, most) = (to, ground.field.clearance_mm(to)),
            None => step_mm /= 2.0,
        }
    }
    2.0 * most.max(0.0)
}

/// A warning if the gap is larger than the zone, or if a stone of the smallest size cannot reach much of it.
pub fn narrow(
    ground: &Ground<'_>,
    asked: &Asked<'_>,
    path: &FieldPath,
    zone: &str,
) -> Option<Diagnostic> {
    // A line of single stones is as wide as they are.
    if asked.layer.layout == Layout::Line {
        return None;
    }
    let widest_mm = widest_mm(ground);
    let gap_mm = asked.layer.gap_mm;
    if gap_mm > widest_mm {
        let text = format!(
            "the gap of {gap_mm} mm is larger than zone \"{zone}\", which is {widest_mm:.1} mm wide at \
             its widest place: its stones lie far apart"
        );
        return Some(Diagnostic::warning(path.key("gap"), text).hint("Make the gap smaller."));
    }
    let (size, _) = asked.sizes().pop()?;
    let radius_mm = size.diameter_mm / 2.0;
    let inside: Vec<(SurfacePoint, f64)> =
        samples(ground).into_iter().filter(|(_, clearance)| *clearance > 0.0).collect();
    if inside.is_empty() {
        return None;
    }
    let reached = |at: SurfacePoint, clearance: f64| {
        // Uphill to where the clearance is greatest within a radius.
        let mut best = clearance;
        let frame = ground.frame(at);
        for direction in 0..8 {
            let angle = f64::from(direction) * std::f64::consts::FRAC_PI_4;
            let to =
                ground.moved(&frame, radius_mm * libm::cos(angle), radius_mm * libm::sin(angle));
            best = best.max(ground.field.clearance_mm(to));
        }
        // Eight directions miss the best one by up to a twelfth of the radius.
        best >= 0.9 * radius_mm
    };
    let missed = inside.iter().filter(|(at, clearance)| !reached(*at, *clearance)).count();
    let share = missed as f64 / inside.len() as f64;
    (share > NARROW).then(|| {
        Diagnostic::warning(
            path.clone(),
            format!(
                "zone \"{zone}\" is too narrow for {} in places: about {:.0} % of it stays without stones",
                size.name,
                share * 100.0
            ),
        )
        .hint("Use a smaller size there, or give the zone fewer thin ends.")
    })
}

/// Places spread over the zone's extent with their clearance.
pub fn samples(ground: &Ground<'_>) -> Vec<(SurfacePoint, f64)> {
    const SIDE: u32 = 56;
    let at = |range: (f64, f64), k: u32| {
        range.0 + (range.1 - range.0) * (f64::from(k) + 0.5) / f64::from(SIDE)
    };
    let mut out = Vec::with_capacity((SIDE * SIDE) as usize);
    for row in 0..SIDE {
        for column in 0..SIDE {
            let point = SurfacePoint {
                around: ground.wrapped(at(ground.around, column)),
                along_mm: at(ground.along_mm, row),
            };
            out.push((point, ground.field.clearance_mm(point)));
        }
    }
    out
}
