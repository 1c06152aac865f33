//! Colours by the name the maker gives them.

/// A named colour of a piece. The letter tells near colours apart on paper without relying on hue.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Colour {
    /// Name as typed in the piece file, unique within a piece.
    pub name: String,
    /// sRGB components (IEC 61966-2-1), 0 to 255.
    pub srgb: [u8; 3],
    /// One or two letters, unique within a piece, printed beside or inside stones of this colour.
    pub letter: String,
}
