//! How glitter is put on.

/// How flakes of glitter are laid down.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Pressed {
    /// Patted down with a gloved hand.
    Patted,
    /// Left as they fell.
    Loose,
    /// Rolled flat.
    Rolled,
}
