//! One piece of adhesive film.

use glam::DVec2;

/// An outer outline and its holes, mm.
pub type Outlines = Vec<Vec<[f64; 2]>>;

/// One piece of film, cut, weeded and laid by itself. Places are in mm from the upper left corner of
/// its rectangle, y downwards; film that is cut from its back is mirrored here already.
#[derive(Debug, Clone, PartialEq)]
pub struct FilmPiece {
    /// Width and height of the rectangle round it, its margin included, mm.
    pub size_mm: (f64, f64),
    /// What is cut and stays.
    pub shapes: Vec<Outlines>,
    /// Closed lines that are cut round it to weed inside; none where the studio wants none.
    pub frame: Outlines,
    /// What nothing else on the sheet may reach into, even-odd: the frame and half the spacing.
    pub body: Outlines,
    /// Middles of two crosses on the level line through its middle.
    pub level: Vec<[f64; 2]>,
    /// Middles of the crosses that lie in the same places beside each layer of one art.
    pub registration: Vec<[f64; 2]>,
    /// It is a strip of something too large for one sheet.
    pub strip: bool,
}

impl FilmPiece {
    /// A bare rectangle.
    pub fn rectangle(width_mm: f64, height_mm: f64) -> Self {
        let corners = rectangle(DVec2::ZERO, DVec2::new(width_mm, height_mm));
        Self {
            size_mm: (width_mm, height_mm),
            shapes: Vec::new(),
            frame: Vec::new(),
            body: vec![corners],
            level: Vec::new(),
            registration: Vec::new(),
            strip: false,
        }
    }

    /// Film that its body takes up, mm².
    pub fn body_mm2(&self) -> f64 {
        covered_mm2(&self.body)
    }

    /// Film that stays, mm².
    pub fn shapes_mm2(&self) -> f64 {
        self.shapes.iter().map(covered_mm2).sum()
    }
}

/// What outlines cover, holes turning the other way, mm².
fn covered_mm2(outlines: &Outlines) -> f64 {
    let twice: f64 = outlines
        .iter()
        .flat_map(|one| one.iter().zip(one.iter().cycle().skip(1)))
        .map(|(a, b)| a[0] * b[1] - b[0] * a[1])
        .sum();
    0.5 * twice.abs()
}

/// Turns a piece over.
pub(crate) fn mirror(piece: &mut FilmPiece) {
    let width = piece.size_mm.0;
    let outlines = piece.shapes.iter_mut().flatten().chain(&mut piece.frame).chain(&mut piece.body);
    for one in outlines {
        for point in one.iter_mut() {
            point[0] = width - point[0];
        }
        // So that outer outlines turn the same way as before.
        one.reverse();
    }
    for point in piece.level.iter_mut().chain(&mut piece.registration) {
        point[0] = width - point[0];
    }
}

pub(crate) fn rectangle(low: DVec2, high: DVec2) -> Vec<[f64; 2]> {
    vec![[low.x, low.y], [high.x, low.y], [high.x, high.y], [low.x, high.y]]
}

/// Least and largest corner of points.
pub(crate) fn extent<'a>(points: impl Iterator<Item = &'a [f64; 2]>) -> (DVec2, DVec2) {
    points.fold((DVec2::INFINITY, DVec2::NEG_INFINITY), |(low, high), &point| {
        (low.min(DVec2::from(point)), high.max(DVec2::from(point)))
    })
}
