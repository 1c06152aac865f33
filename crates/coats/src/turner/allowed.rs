//! The greatest thickness as time goes on, and what becomes of a planned coat.

use super::{Liquid, Turning, Viscosity};
use piece::{Diagnostic, FieldPath};

/// Stretches that the time shown is cut into.
const STRETCHES: u32 = 120;

/// Fastest that is still proposed, turns a minute: beyond it resin is a matter of other machines
/// (common practice: cups 2 to 10, no source).
const MOST_RPM: f64 = 24.0;

/// A coat that goes on a turning part.
#[derive(Clone, Copy)]
pub struct TurnedCoat<'a> {
    /// Turns a minute.
    pub rpm: f64,
    /// Share of the greatest thickness that counts as safe, more than 0.
    pub safe_share: f64,
    /// The resin.
    pub liquid: Liquid,
    /// Its viscosity as time goes on.
    pub viscosity: Viscosity<'a>,
    /// Least radius that the coat covers, mm: there least stays on.
    pub radius_mm: f64,
    /// Planned thickness, mm.
    pub film_mm: f64,
    /// Area covered, mm².
    pub area_mm2: f64,
}

/// A moment after the pour.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Moment {
    /// Time after the pour, min.
    pub min: f64,
    /// Greatest mean thickness that stays on then, mm.
    pub most_mm: f64,
}

/// What becomes of a coat.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fate {
    /// It uses no more than the safe share of what stays on.
    Safe,
    /// It uses more than that, and would still stay on if all else is as planned.
    Tight,
    /// It is thicker than what stays on: it sags, hangs on the rising side and drips.
    Sags,
}

impl Fate {
    /// What becomes of it, in one word.
    pub fn name(self) -> &'static str {
        match self {
            Self::Safe => "safe",
            Self::Tight => "tight",
            Self::Sags => "sags",
        }
    }
}

/// A planned coat against what stays on.
#[derive(Debug, Clone, PartialEq)]
pub struct Allowed {
    /// Turns a minute.
    pub rpm: f64,
    /// Planned thickness, mm.
    pub planned_mm: f64,
    /// Share that counts as safe.
    pub safe_share: f64,
    /// From the pour on, as long as the resin flows.
    pub course: Vec<Moment>,
    /// The moment at which least stays on: the pour, unless the resin gets thinner afterwards.
    pub tightest: Moment,
    /// Planned thickness over what stays on then.
    pub share: f64,
    /// What becomes of it.
    pub fate: Fate,
    /// Turns a minute at which it would be safe.
    pub safe_rpm: f64,
    /// Thickness that is safe at the planned speed, mm.
    pub safe_film_mm: f64,
    /// Resin on the part at that thickness, ml.
    pub safe_ml: f64,
}

/// What stays on from the pour until `until_min`, and what becomes of the coat. What stays on grows
/// with the root of the viscosity, so the thinnest resin decides, which is the warm one just poured.
pub fn allowed(coat: &TurnedCoat<'_>, until_min: f64) -> Allowed {
    let at = |min: f64| {
        let viscosity_pa_s = (coat.viscosity)(min);
        let turning = Turning { rpm: coat.rpm, liquid: coat.liquid, viscosity_pa_s };
        Moment { min, most_mm: turning.most_film_mm(coat.radius_mm) }
    };
    let pour = at(0.0);
    let later =
        (1..=STRETCHES).map(|index| at(until_min * f64::from(index) / f64::from(STRETCHES)));
    let mut course = vec![pour];
    course.extend(later.take_while(|moment| moment.most_mm.is_finite()));
    let tightest = course.iter().copied().fold(pour, |tightest, moment| {
        if moment.most_mm < tightest.most_mm { moment } else { tightest }
    });
    let share = coat.film_mm / tightest.most_mm;
    let faster = share / coat.safe_share;
    let safe_film_mm = coat.safe_share * tightest.most_mm;
    Allowed {
        rpm: coat.rpm,
        planned_mm: coat.film_mm,
        safe_share: coat.safe_share,
        course,
        tightest,
        share,
        fate: if share > 1.0 {
            Fate::Sags
        } else if share > coat.safe_share {
            Fate::Tight
        } else {
            Fate::Safe
        },
        safe_rpm: coat.rpm * faster * faster,
        safe_film_mm,
        safe_ml: safe_film_mm * coat.area_mm2 * 1e-3,
    }
}

impl Allowed {
    /// A warning unless the coat is safe; `name` is that of its zone, `path` where its thickness stands.
    pub fn note(&self, name: &str, path: &FieldPath) -> Option<Diagnostic> {
        let carried = format!(
            "the coat of `{name}` is planned {:.2} mm thick, and at {} turns a minute {:.2} mm stay on {}",
            self.planned_mm,
            self.rpm,
            self.tightest.most_mm,
            if self.tightest.min > 0.0 {
                format!("when the resin is thinnest, {:.0} min after the pour", self.tightest.min)
            } else {
                "as the resin is poured".to_owned()
            }
        );
        let message = match self.fate {
            Fate::Safe => return None,
            Fate::Tight => format!(
                "{carried}: that is {:.0} % of it, more than the {:.0} % that count as safe",
                100.0 * self.share,
                100.0 * self.safe_share
            ),
            Fate::Sags => format!("{carried}: it sags and drips"),
        };
        // Told a little less than reckoned, so that what is typed from it is safe.
        let film_mm = (self.safe_film_mm * 100.0).floor() / 100.0;
        let ml = (self.safe_ml * 2.0).floor() / 2.0;
        let note = Diagnostic::warning(path.clone(), message)
            .hint(format!("Plan thinner coats, and more of them: {film_mm:.2} mm, {ml} ml on the part, is safe"))
            .hint("Pour it cooler: warm resin is thinner and less of it stays on; long passes of heat do the same");
        let rpm = (self.safe_rpm * 2.0).ceil() / 2.0;
        Some(if rpm <= MOST_RPM {
            note.hint(format!("Or turn faster, if your turner can: {rpm} turns a minute are safe"))
        } else {
            note
        })
    }
}
