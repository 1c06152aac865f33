//! Which zones are filled as one: neighbours of the same stones whose border a stone may straddle.

use crate::asked::Asked;
use crate::going::Going;
use crate::setting::runs::runs_of;
use piece::{Diagnostic, FieldPath, Finish, Piece, StoneFinish, StoneLayer};
use shape::{Area, Shape, Surface, ZoneShape};

/// A border shorter than this, mm, is a point where two zones meet.
const LEAST_BORDER_MM: f64 = 0.5;

/// Stacks that differ by more than this, mm, make a step at the border: a flat back that is glued to both
/// would tilt by about 4° over 3 mm (common practice, no source).
const STEP_MM: f64 = 0.2;

/// Places along the wall at which two surfaces are compared.
const COMPARED: u32 = 64;

/// A parallel with a smaller radius is the axis itself, mm.
const AT_AXIS_MM: f64 = 1e-3;

/// What a curved wall adds to the way that two stones come nearer on another surface, mm.
const CURVED_MM: f64 = 1e-4;

/// A zone of stones.
#[derive(Debug, Clone, Copy)]
pub struct Zoned<'a> {
    /// Index of the zone.
    pub zone: usize,
    /// How stones cover it.
    pub finish: &'a StoneFinish,
    /// Its place in space.
    pub shape: &'a ZoneShape,
}

impl<'a> Zoned<'a> {
    /// One of its layers.
    pub fn asked(&self, layer: usize) -> Asked<'a> {
        Asked { finish: self.finish, layer: &self.finish.layers[layer] }
    }
}

/// The zones of stones of one part, those that are filled as one together.
#[derive(Debug)]
pub struct Joins<'a> {
    /// In order of work, by the first of each group.
    pub groups: Vec<Vec<Zoned<'a>>>,
    /// Borders that are to be straddled and are not, with the zone that they are told of.
    pub notes: Vec<(usize, Diagnostic)>,
}

impl<'a> Joins<'a> {
    /// Joins the zones of one part; not all of them when no longer `going`.
    pub fn new(piece: &Piece, shape: &Shape, zones: &[Zoned<'a>], going: Going<'_>) -> Self {
        // To each zone the first of its group.
        let mut first: Vec<usize> = (0..zones.len()).collect();
        let mut notes = Vec::new();
        let straddles = |index: usize| zones[index].finish.rules.straddle;
        let borders = |a: usize, b: usize| {
            let (a, b) = (zones[a].shape, zones[b].shape);
            let bare = &shape.parts[a.part].surface;
            near(a, b) && going.on() && a.area.border_mm(&b.area, bare) > LEAST_BORDER_MM
        };
        let mut met = vec![false; zones.len()];
        for b in (0..zones.len()).filter(|b| straddles(*b)) {
            for a in (0..b).filter(|a| straddles(*a)) {
                if !borders(a, b) {
                    continue;
                }
                (met[a], met[b]) = (true, true);
                if let Some(differs) = difference(piece, &zones[a], &zones[b]) {
                    notes.push((zones[b].zone, apart(piece, &zones[a], &zones[b], &differs)));
                    continue;
                }
                let (one, other) = (first[a].min(first[b]), first[a].max(first[b]));
                first.iter_mut().filter(|first| **first == other).for_each(|first| *first = one);
            }
        }
        for index in (0..zones.len()).filter(|index| straddles(*index) && !met[*index]) {
            let beside = (0..zones.len()).find(|other| *other != index && borders(index, *other));
            let beside = beside.map(|other| piece.zones[zones[other].zone].name.as_str());
            notes.push((zones[index].zone, alone(piece, &zones[index], beside)));
        }
        let group = |index: usize| {
            let of = (index..zones.len()).filter(|zone| first[*zone] == index);
            of.map(|zone| zones[zone]).collect::<Vec<_>>()
        };
        let groups = (0..zones.len()).map(group).filter(|group| !group.is_empty()).collect();
        Self { groups, notes }
    }
}

/// Whether two areas may touch, by their places along the wall.
fn near(a: &ZoneShape, b: &ZoneShape) -> bool {
    match (a.area.along_range_mm(), b.area.along_range_mm()) {
        (Some(a), Some(b)) => a.0 < b.1 + 1.0 && b.0 < a.1 + 1.0,
        _ => false,
    }
}

/// What keeps two neighbours from being filled as one, in words; `None` if nothing does.
fn difference(piece: &Piece, a: &Zoned<'_>, b: &Zoned<'_>) -> Option<String> {
    let (one, other) = (a.finish, b.finish);
    let both = |what: &str, one: String, other: String| Some(format!("{what} ({one} and {other})"));
    if one.material != other.material {
        return both("material", one.material.name().into(), other.material.name().into());
    }
    if one.layers.len() != other.layers.len() {
        let count = |finish: &StoneFinish| finish.layers.len().to_string();
        return both("number of layouts", count(one), count(other));
    }
    for (number, layers) in one.layers.iter().zip(&other.layers).enumerate() {
        if let Some(differs) = layers_differ((one, layers.0), (other, layers.1)) {
            let of = if one.layers.len() == 1 {
                String::new()
            } else {
                format!(" of layout {}", number + 1)
            };
            return Some(format!("{differs}{of}"));
        }
    }
    let (rules, others) = (&one.rules, &other.rules);
    for (key, differs) in [
        ("wear", rules.wear != others.wear),
        ("bond_line", rules.bond_line_mm != others.bond_line_mm),
        ("from_drawer", rules.from_drawer != others.from_drawer),
    ] {
        if differs {
            return Some(format!("rule \"{key}\""));
        }
    }
    let runs = runs_of(piece, a.shape.part);
    if !runs.iter().any(|run| run.contains(&a.zone) && run.contains(&b.zone)) {
        let between = piece.zones[a.zone..b.zone]
            .iter()
            .find(|zone| zone.part == a.shape.part && !matches!(zone.finish, Finish::Stones(_)))?;
        return Some(format!(
            "place in the order of work (zone \"{}\" comes between)",
            between.name
        ));
    }
    let (below, other_mm) = (a.shape.below_mm, b.shape.below_mm);
    if (below - other_mm).abs() > STEP_MM {
        let mm = |mm: f64| format!("{mm:.2} mm");
        return both("thickness of what lies beneath", mm(below), mm(other_mm));
    }
    None
}

/// What two layers ask differently, colours aside.
fn layers_differ(
    (finish, layer): (&StoneFinish, &StoneLayer),
    (other_finish, other): (&StoneFinish, &StoneLayer),
) -> Option<String> {
    if layer.layout != other.layout {
        let (one, two) = (layer.layout.word(), other.layout.word());
        return Some(if one == two {
            format!("kind of {one}")
        } else {
            format!("layout ({one} and {two})")
        });
    }
    let sizes = |finish: &StoneFinish, layer: &StoneLayer| -> Vec<(f64, f64)> {
        let size = |(size, share): &(usize, f64)| (finish.sizes[*size].diameter_mm, *share);
        layer.sizes.iter().map(size).collect()
    };
    let names = |finish: &StoneFinish, layer: &StoneLayer| {
        let name = |(size, _): &(usize, f64)| finish.sizes[*size].name.clone();
        layer.sizes.iter().map(name).collect::<Vec<_>>().join(", ")
    };
    let (ours, theirs) = (sizes(finish, layer), sizes(other_finish, other));
    let same = |which: fn(&(f64, f64)) -> f64| {
        ours.len() == theirs.len()
            && ours.iter().zip(&theirs).all(|(a, b)| (which(a) - which(b)).abs() < 1e-9)
    };
    if !same(|size| size.0) {
        return Some(format!(
            "sizes ({} and {})",
            names(finish, layer),
            names(other_finish, other)
        ));
    }
    if !same(|size| size.1) || layer.blend != other.blend {
        return Some("shares of the sizes".to_owned());
    }
    if layer.gap_mm != other.gap_mm {
        return Some(format!("gap ({} mm and {} mm)", layer.gap_mm, other.gap_mm));
    }
    (layer.grade != other.grade).then(|| "grade of the sizes".to_owned())
}

/// How much nearer two stones so far apart may come, at most, when they are moved from the surface
/// on which joined zones are filled, all their `area`, to those of the zones, mm. Nothing on cups and cones;
/// on a hollow wall a thicker stack is shorter. Never more than both stones move.
pub fn nearer_mm(zones: &[Zoned<'_>], area: &Area, filled: &Surface, apart_mm: f64) -> f64 {
    // A parallel at the axis has no length on either surface, and nothing to compare.
    let times = |own_mm: f64, filled_mm: f64| {
        if filled_mm > AT_AXIS_MM { own_mm / filled_mm } else { 1.0 }
    };
    let mut least: f64 = 1.0;
    let mut moved_mm: f64 = 0.0;
    for own in zones.iter().map(|zoned| &zoned.shape.surface) {
        moved_mm = moved_mm.max((own.thickness_mm() - filled.thickness_mm()).abs());
        let (start, end) = area.along_range_mm().unwrap_or_default();
        for step in 0..=COMPARED {
            let along_mm = start + (end - start) * f64::from(step) / f64::from(COMPARED);
            let down = times(own.along_scale(along_mm), filled.along_scale(along_mm));
            let round = times(own.around_scale_mm(along_mm), filled.around_scale_mm(along_mm));
            least = least.min(down).min(round);
        }
    }
    if least > 1.0 - 1e-9 {
        return 0.0;
    }
    (apart_mm * (1.0 / least.max(0.5) - 1.0) + CURVED_MM).min(2.0 * moved_mm)
}

fn path(zone: usize) -> FieldPath {
    FieldPath::root().key("zone").index(zone).key("stone_rules").key("straddle")
}

/// Two neighbours that let a stone straddle their border, but ask for other stones.
fn apart(piece: &Piece, a: &Zoned<'_>, b: &Zoned<'_>, differs: &str) -> Diagnostic {
    let [one, other] = [a, b].map(|zoned| piece.zones[zoned.zone].name.as_str());
    let text = format!(
        "no stone can straddle the border between zones \"{one}\" and \"{other}\": they differ in \
         their {differs}"
    );
    Diagnostic::warning(path(b.zone), text).hint(
        "Give both zones the same stones but for the colours; as they are, each keeps its stones to itself.",
    )
}

/// A zone that borders no other that lets a stone straddle their border.
fn alone(piece: &Piece, zoned: &Zoned<'_>, beside: Option<&str>) -> Diagnostic {
    let name = &piece.zones[zoned.zone].name;
    let text = format!(
        "zone \"{name}\" has straddle = true, but borders no other zone of stones that has it"
    );
    let hint = match beside {
        Some(beside) => {
            format!("Give zone \"{beside}\", which it borders, straddle = true as well.")
        }
        None => "Take it away, or draw a zone of stones up to its edge.".to_owned(),
    };
    Diagnostic::warning(path(zoned.zone), text).hint(hint)
}
