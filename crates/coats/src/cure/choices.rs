//! Figures of the cure model that no data sheet gives, each with where it comes from.

/// Zero of the Celsius scale, K (exact).
pub const ZERO_C_K: f64 = 273.15;
/// Gas constant, J/(mol K) (CODATA 2018, exact by the SI of 2019).
pub const GAS: f64 = 8.314_462_618;
/// Conversion at which a film gels and a glove no longer sticks: coatings of epoxy and amine need 0.60
/// or more (Bashir, Coatings 13, 592, 2023, abstract); the random network of four- and two-handed
/// monomers gels at 1/√3 = 0.577 (Flory 1953, from memory).
pub const GEL: f64 = 0.60;
/// Conversion up to which a next coat is reckoned to bond by itself (our choice).
pub const WINDOW: f64 = 0.80;
/// Sandable once the glass transition lies this far above the room, K (our choice: it makes the
/// usual sheet of 4 h to gel, 24 h to hard and 72 h to full agree with itself).
pub const HARD_K: f64 = 14.5;
/// Fully cured once the glass transition is this near to where it ends, K (our choice).
pub const FULL_K: f64 = 3.0;
/// How long the end is waited for, as a multiple of the sheet's full cure: a week for 72 h (our choice).
pub const END: f64 = 7.0 / 3.0;
/// Glass transition of the mix before it cures, K: -40 °C (from memory).
pub const TG_START_K: f64 = 233.15;
/// Cure stops by vitrification about this far above the cure temperature, K (our choice).
pub const STOP_K: f64 = 8.0;
/// and over about this width, K (our choice).
pub const STOP_WIDTH_K: f64 = 4.0;
/// Activation energy of the flow of uncured resin, J/mol (from memory: 50 to 60 kJ/mol).
pub const FLOW_J_PER_MOL: f64 = 55_000.0;
/// Exponents of the rise of viscosity towards gel (our choice within the form of Castro and Macosko,
/// AIChE J. 28, 250, 1982, from memory).
pub const THICKENING: (f64, f64) = (1.5, 1.0);
/// Heat capacity of resin, J/(kg K) (from memory).
pub const HEAT_CAPACITY: f64 = 1900.0;
/// Heat passed to the room by the mixing cup, W/(m² K) (our choice: still air and a plastic wall).
pub const COOLING: f64 = 9.0;
/// Width of the usual mixing cup, mm (common practice).
pub const CUP_MM: f64 = 70.0;
