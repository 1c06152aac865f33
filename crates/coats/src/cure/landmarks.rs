//! What a course passes on its way: gel, recoat window, hard, full.

use super::choices::{FULL_K, GEL, HARD_K, WINDOW, ZERO_C_K};
use super::{Course, Sheet};

/// Times of one course, min after the pour; `None` if it does not come to that within the course.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Marks {
    /// It gels and no longer sticks, by the model.
    pub gel_min: Option<f64>,
    /// A next coat no longer bonds by itself, by the model.
    pub window_closes_min: Option<f64>,
    /// Its glass transition passes the room: from here on cure slows.
    pub vitrifies_min: Option<f64>,
    /// It can be sanded, by the model.
    pub sandable_min: Option<f64>,
    /// It is as hard as it gets in this room, by the model.
    pub full_min: Option<f64>,
    /// The sheet's own times, as many times longer or shorter as the room makes the reaction.
    pub scaled: Scaled,
}

/// Times of the sheet, scaled to a room by reduced time, min after the pour.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scaled {
    /// No longer sticks.
    pub tack_free_min: Option<f64>,
    /// The next coat bonds from.
    pub recoat_from_min: Option<f64>,
    /// The next coat bonds to.
    pub recoat_to_min: Option<f64>,
    /// Keep turning for.
    pub turning_min: Option<f64>,
}

/// What a course passes, in a room whose temperature, °C, is told for each min after the pour.
pub fn marks(course: &Course, sheet: &Sheet, room_c: &dyn Fn(f64) -> f64) -> Marks {
    let glass = &course.model.glass;
    let above = |by_k: f64| {
        let gap =
            |t_s: f64, y: &[f64; 3]| glass.tg_k(y[0]) - (room_c(t_s / 60.0) + ZERO_C_K) - by_k;
        course.track.first(gap).map(|s| s / 60.0)
    };
    let end = course.track.last().y[0];
    let full = glass.conversion(glass.tg_k(end) - FULL_K);
    let scaled = |s: f64| course.scaled_min(s / 60.0);
    Marks {
        gel_min: course.conversion_min(GEL),
        window_closes_min: course.conversion_min(WINDOW),
        vitrifies_min: above(0.0),
        sandable_min: above(HARD_K),
        full_min: if end > GEL { course.conversion_min(full.max(GEL)) } else { None },
        scaled: Scaled {
            tack_free_min: scaled(sheet.tack_free_s),
            recoat_from_min: scaled(sheet.recoat_s.0),
            recoat_to_min: scaled(sheet.recoat_s.1),
            turning_min: scaled(sheet.turning_s),
        },
    }
}
