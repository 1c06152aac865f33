//! How paint, glitter and resin go on.

use super::How;
use super::spot::origin;
use crate::words::{area, film, fine, length, span, tenths};
use coats::{Matter, Mix, resin};

impl How<'_> {
    /// One coat of paint.
    pub fn paint(&self, coat: usize) -> Vec<String> {
        let told = &self.coats.coats[coat];
        let Matter::Paint { colour, wet_ml } = told.matter else { return Vec::new() };
        let paint = &self.settings.paint;
        let region = self.region(&self.piece.zones[told.zone]);
        let dry = if told.number < told.of {
            format!("Let it dry {} before the next coat.", span(paint.between_coats_min))
        } else {
            format!(
                "Let this last coat dry {} before resin, film or stones go on it.",
                span(paint.before_resin_min)
            )
        };
        let mut how = vec![format!(
            "Paint {} thin and even {region}: about {} ml on {}{}.",
            self.colour(colour),
            tenths(wet_ml),
            area(self.settings, told.area_mm2),
            self.each()
        )];
        how.extend(self.template(&self.piece.zones[told.zone]));
        how.push(if self.is_flat(told.part) {
            "Lay the plate level and stop before the paint gathers along the edge.".to_owned()
        } else {
            format!(
                "Turn {}, not the can or brush, and stop before it runs.",
                self.thing(told.part)
            )
        });
        how.push(dry);
        how
    }

    /// Glitter on one zone.
    pub fn glitter(&self, coat: usize, bed_is_wet: bool) -> Vec<String> {
        let told = &self.coats.coats[coat];
        let Matter::Glitter { colour, flake_mm, on_cup_g, in_shaker_g, .. } = told.matter else {
            return Vec::new();
        };
        let region = self.region(&self.piece.zones[told.zone]);
        let mut how = vec![format!(
            "Have {} g of {} glitter, flakes {} wide, in the shaker over clean paper; about {} g stays on {}{}.",
            tenths(in_shaker_g),
            self.colour(colour),
            fine(self.settings, flake_mm),
            tenths(on_cup_g),
            area(self.settings, told.area_mm2),
            self.each()
        )];
        how.extend(self.template(&self.piece.zones[told.zone]));
        if bed_is_wet {
            let (held, keep) = if self.is_flat(told.part) {
                ("the plate lying level", "lying level")
            } else {
                ("it turning", "turning")
            };
            how.push(format!(
                "Straight after the pour, with {held}, shake the glitter on the wet resin {region}, until no wet shine is left."
            ));
            how.push(format!(
                "Keep it {keep} for {}; a coat poured over it too soon makes it slide, so leave it at least 6 h.",
                span(self.coats.waits.turning_min)
            ));
        } else {
            how.push(format!("Brush a thin even bed of clear glue {region}, and shake the glitter on while it is wet."));
            how.push("Let the glue dry 30 to 60 min.".to_owned());
        }
        how.push("Pat the flakes flat, tap and brush off what is loose, and pour the catch back: one paper for each colour, for a stray speck cannot be taken out.".to_owned());
        how
    }

    /// One pour of resin.
    pub fn pour(&self, coat: usize, over_glitter: bool, last_on_part: bool) -> Vec<String> {
        let told = &self.coats.coats[coat];
        let Matter::Resin(mix) = told.matter else { return Vec::new() };
        let (settings, waits) = (self.settings, self.coats.waits);
        let zone = &self.piece.zones[told.zone];
        let mut how = vec![
            "Check the room: 21 to 27 °C and steady, humidity about 50 % and never over 70 %, no dust in the air.".to_owned(),
            self.weigh(&mix),
            "Stir slowly for 3 min, scraping sides and bottom, pour into a clean mixing cup and stir 3 min more.".to_owned(),
            self.working(coat),
            format!(
                "Spread it {} {}: {} ml on {} leaves a film of {}.",
                if self.is_flat(told.part) {
                    "on the plate, propped up level on its back,".to_owned()
                } else {
                    format!("on {} as it turns,", self.thing(told.part))
                },
                self.region(zone),
                tenths(mix.on_cup_ml),
                area(settings, told.area_mm2),
                film(told.film_mm)
            ),
        ];
        how.extend(self.template(zone));
        if over_glitter {
            how.push(format!(
                "Bare glitter drinks resin: about {} ml of this coat go between its flakes, so keep A and B at hand for a second mix of up to {} ml (common practice: the first coat over glitter takes 20 to 50 % more).",
                tenths(self.drunk_ml(coat)),
                tenths(mix.on_cup_ml * 0.5)
            ));
        }
        let heat_min = self.coats.pour(coat).map_or(10.0, |pour| pour.heat.until_min());
        how.push(format!(
            "Pop bubbles in the first {} with two or three short passes of torch or heat gun, a hand's breadth off and always moving.",
            span(heat_min.floor())
        ));
        how.push(format!(
            "Stay with it for {}: lift drips {} with a gloved finger.",
            span(settings.times.watch_min),
            self.ends(told.part)
        ));
        how.push(format!(
            "Keep it {} for {}; the next coat bonds without sanding from {} to {} after this pour.",
            if self.is_flat(told.part) { "lying level and covered from dust" } else { "turning" },
            span(waits.turning_min),
            span(waits.recoat_min.0),
            span(waits.recoat_min.1)
        ));
        if told.girth_added_mm > 0.0 {
            how.push(format!(
                "When it is hard, a tape laid round {} from {} should read about {} more than on the bare {}.",
                length(settings, told.girth_at_mm),
                origin(&self.piece.parts[told.part]),
                length(settings, told.girth_added_mm),
                self.thing(told.part).trim_start_matches("the ")
            ));
        }
        if last_on_part {
            let (from_min, to_min) = self.pull_tape_min();
            how.push(format!(
                "After this last coat pull the masking tape {} to {} after the pour, while the resin is soft.",
                span(from_min),
                span(to_min)
            ));
        }
        how
    }

    /// Resin that the glitter right beneath a pour drinks, ml.
    fn drunk_ml(&self, coat: usize) -> f64 {
        let part = self.coats.coats[coat].part;
        let beneath = self.coats.coats[..coat].iter().rev().filter(|below| below.part == part);
        let drinks = beneath.map_while(|below| match below.matter {
            Matter::Glitter { drinks_ml, .. } => Some(drinks_ml),
            _ => None,
        });
        drinks.sum()
    }

    /// When to pull the tape after a pour, min, to the next five.
    fn pull_tape_min(&self) -> (f64, f64) {
        let gel_min = self.coats.pours.as_ref().and_then(|all| all.pours.first());
        let (from, to) = coats::pull_tape_min(gel_min.map(|pour| pour.plan.tack_free.min));
        let fives = |min: f64| (min / 5.0).round() * 5.0;
        (fives(from), fives(to))
    }

    /// How long the mix can be worked.
    fn working(&self, coat: usize) -> String {
        let scrape = "do not scrape the mixing cup out, unmixed resin clings to its side.";
        match self.coats.pour(coat) {
            Some(pour) => format!(
                "Have it on the piece within {} of mixing, while it is thin; left in its cup it sets after about {}; {scrape}",
                span(pour.plan.working.least_min.floor()),
                span(pour.plan.pot_life.least_min.floor()),
            ),
            None => format!(
                "Use it within its pot life, {} for {:.0} g; {scrape}",
                span(self.settings.resin.pot_life_min),
                self.settings.resin.pot_life_mass_g
            ),
        }
    }

    fn weigh(&self, mix: &Mix) -> String {
        let b_g = resin::b_to_100_a_by_weight(&self.settings.resin);
        format!(
            "Weigh {:.1} g of A and {:.1} g of B{} (by volume {:.1} ml and {:.1} ml; by weight 100 of A take {:.1} of B): {:.1} ml in all, {:.1} ml for the piece and {:.1} ml left in mixing cup and glove.",
            mix.a_g,
            mix.b_g,
            if self.piece.quantity > 1 { ", a fresh mix for each piece" } else { "" },
            mix.a_ml,
            mix.b_ml,
            b_g,
            mix.mixed_ml(),
            mix.on_cup_ml,
            mix.loss_ml
        )
    }
}
