//! How adhesive film is cut: joins with film beneath, turns on the sheet, lines to weed inside.

/// How the film of a zone is cut.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FilmCut {
    /// How it meets film of earlier zones.
    pub join: FilmJoin,
    /// How far the film beneath runs on under its edge or keeps back from it, mm; `None` leaves it to
    /// the studio.
    pub trap_mm: Option<f64>,
    /// How its pieces may be turned on the sheet.
    pub turns: FilmTurns,
    /// Cut from its back, so that everything is mirrored.
    pub mirrored: bool,
    /// Split by relief cuts where it would stretch more than it bears.
    pub relief: bool,
    /// Crosses lie beside each layer of art that lies in several films.
    pub registration: bool,
}

impl FilmCut {
    /// Plain film that lies on whatever is beneath.
    pub const PLAIN: Self = Self {
        join: FilmJoin::Whole,
        trap_mm: None,
        turns: FilmTurns::Quarter,
        mirrored: false,
        relief: false,
        registration: true,
    };
}

/// How film meets film of earlier zones that it lies on or touches. Its own outline never changes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FilmJoin {
    /// What is beneath stays whole.
    Whole,
    /// Edge to edge.
    Butt,
    /// What is beneath runs on under its edge, and ends there.
    Overlap,
    /// What is beneath stays whole, but its own edges under this film keep back.
    Choke,
}

/// How pieces of film may be turned on the sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FilmTurns {
    /// Not at all.
    None,
    /// By half a turn.
    Half,
    /// By quarters.
    Quarter,
}

impl FilmTurns {
    /// The quarters, clockwise, by which a piece may be turned.
    pub fn quarters(self) -> &'static [u8] {
        match self {
            Self::None => &[0],
            Self::Half => &[0, 2],
            Self::Quarter => &[0, 1, 2, 3],
        }
    }
}

/// What is cut round a piece of film to weed inside.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Weeding {
    /// A line that follows the piece.
    Outline,
    /// A rectangle.
    Box,
    /// A rectangle, cut across wherever a level line passes between shapes.
    Strips,
    /// Nothing.
    None,
}
