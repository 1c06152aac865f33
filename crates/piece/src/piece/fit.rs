//! What a part must still fit once it is coated.

/// As far as someone has measured it.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Fit {
    /// Height of the lower end of its wall above the table it stands on, mm.
    pub foot_mm: Option<f64>,
    /// Diameter of the straw that passes the hole of a lid, mm.
    pub straw_mm: Option<f64>,
    /// Inner diameter of the cup holder that its lower end goes into, mm.
    pub holder_mm: Option<f64>,
}
