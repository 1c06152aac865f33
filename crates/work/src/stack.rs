//! Walks the stack of zones on one part: what goes on, how long what lies beneath must wait, and when
//! it must be sanded first.

use crate::steps::{ANSWER_MIN, Road};
use crate::{StepKind, glue};
use coats::Matter;
use piece::settings::STONES_PER_H;
use piece::{Finish, StoneFinish};

/// After the last pour before film is laid on it, min (makers: 12 h, or 6 h turning and 6 h still).
const BEFORE_FILM_MIN: f64 = 720.0;
/// Glitter in wet resin before the next coat, min (tried by a maker: at 2 h it slid, 6 h held).
pub(crate) const OVER_GLITTER_MIN: f64 = 360.0;
/// Brushed glue under glitter, before anything else, min (common practice: 30 to 60 min).
pub(crate) const GLITTER_GLUE_MIN: f64 = 60.0;

/// What lies on top of a part so far.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Top {
    Prepared,
    Paint,
    Resin,
    /// Wet if bedded in the pour just before it, dry if in brushed glue.
    Glitter {
        wet: bool,
    },
    Film,
    Stones,
    Sanded,
}

/// Where the work on one part stands.
pub(crate) struct PartRoad {
    pub part: usize,
    pub top: Top,
    pub last: usize,
    /// Last step that left wet resin.
    pub last_pour: Option<usize>,
    /// What must be answered before the next step on it.
    pub gate: Option<usize>,
    /// Whether the customer sees it in the photographs: it is painted, glittered or lettered.
    pub shown: bool,
    pub before_approval: Vec<usize>,
    pub after_approval: Vec<usize>,
}

impl Road<'_> {
    /// Adds a step that follows the last one on a part.
    pub(crate) fn add_on(
        &mut self,
        part: &mut PartRoad,
        kind: StepKind,
        name: &str,
        hands_on_min: f64,
        wait_min: f64,
    ) -> usize {
        let mut after = vec![(part.last, wait_min)];
        after.extend(part.gate.take().map(|gate| (gate, ANSWER_MIN)));
        let step = self.add(kind, name, hands_on_min, &after);
        self.steps[step].part = Some(part.part);
        part.last = step;
        step
    }

    /// Puts one zone on a part.
    pub fn zone(&mut self, part: &mut PartRoad, zone: usize) {
        match &self.how.piece.zones[zone].finish {
            Finish::Paint { .. } | Finish::Resin { .. } | Finish::Glitter { .. } => {
                let coats: Vec<usize> = (0..self.how.coats.coats.len())
                    .filter(|&coat| self.how.coats.coats[coat].zone == zone)
                    .collect();
                for coat in coats {
                    match self.how.coats.coats[coat].matter {
                        Matter::Paint { .. } => self.paint(part, coat),
                        Matter::Glitter { .. } => self.glitter(part, coat),
                        Matter::Resin(_) => self.pour(part, coat),
                    }
                }
            }
            Finish::Vinyl { .. } => self.film(part, zone),
            Finish::Stones(finish) => self.set(part, zone, finish),
        }
    }

    /// Waiting before dry work or paint goes on what lies on top, min; sands first where resin does.
    fn ready_for(&mut self, part: &mut PartRoad, next: StepKind) -> f64 {
        let settings = self.how.settings;
        let times = &settings.times;
        let hard_min = (self.how.coats.waits.sandable_min - times.watch_min).max(0.0);
        match part.top {
            Top::Prepared | Top::Sanded => 0.0,
            Top::Paint if next == StepKind::Paint => settings.paint.between_coats_min,
            Top::Paint => settings.paint.before_resin_min,
            Top::Resin => {
                let wait_min = if next == StepKind::Film {
                    hard_min.max(BEFORE_FILM_MIN - times.watch_min)
                } else {
                    hard_min
                };
                self.sand(part, next, wait_min);
                0.0
            }
            Top::Glitter { wet: true } => hard_min,
            Top::Glitter { wet: false } => GLITTER_GLUE_MIN,
            Top::Film if next == StepKind::Film => 0.0,
            Top::Film => times.vinyl_rest_min,
            Top::Stones if next == StepKind::Set => 0.0,
            Top::Stones => settings.glue.full_min,
        }
    }

    fn sand(&mut self, part: &mut PartRoad, next: StepKind, wait_min: f64) {
        let name = &self.how.piece.parts[part.part].name;
        let title = match next {
            StepKind::Film => format!("Sand {name} before film"),
            StepKind::Set => format!("Key {name} for stones"),
            StepKind::Pour => format!("Sand {name} for the next coat"),
            _ => format!("Sand {name}"),
        };
        let sand_min = self.how.settings.times.sand_min;
        let sand = self.add_on(part, StepKind::Sand, &title, sand_min, wait_min);
        self.steps[sand].how = self.how.sand(part.part, next);
        part.top = Top::Sanded;
    }

    fn coat_step(
        &mut self,
        part: &mut PartRoad,
        kind: StepKind,
        verb: &str,
        coat: usize,
        min: f64,
        wait_min: f64,
    ) -> usize {
        let told = &self.how.coats.coats[coat];
        let (part_name, zone_name) =
            (&self.how.piece.parts[part.part].name, &self.how.piece.zones[told.zone].name);
        let name =
            format!("{verb} coat {} of {} on {part_name} ({zone_name})", told.number, told.of);
        let zone = told.zone;
        let step = self.add_on(part, kind, &name, min, wait_min);
        self.steps[step].zone = Some(zone);
        self.steps[step].coat = Some(coat);
        step
    }

    fn paint(&mut self, part: &mut PartRoad, coat: usize) {
        let wait_min = self.ready_for(part, StepKind::Paint);
        let min = self.how.settings.times.paint_coat_min;
        let step = self.coat_step(part, StepKind::Paint, "Paint", coat, min, wait_min);
        self.steps[step].how = self.how.paint(coat);
        part.top = Top::Paint;
    }

    fn pour(&mut self, part: &mut PartRoad, coat: usize) {
        let (settings, waits) = (self.how.settings, self.how.coats.waits);
        let watch_min = settings.times.watch_min;
        if part.top == Top::Resin && self.sanded.contains(&coat) {
            let hard_min = (waits.sandable_min - watch_min).max(0.0);
            self.sand(part, StepKind::Pour, hard_min);
            self.steps[part.last].zone = Some(self.how.coats.coats[coat].zone);
        }
        let over = part.top;
        let wait_min = match over {
            Top::Resin => (waits.recoat_min.0 - watch_min).max(0.0),
            Top::Glitter { wet: true } => {
                (waits.recoat_min.0.max(OVER_GLITTER_MIN) - watch_min).max(0.0)
            }
            _ => self.ready_for(part, StepKind::Pour),
        };
        if over == Top::Resin {
            self.steps[part.last].sand_after_min =
                Some((waits.recoat_min.1 - watch_min).max(wait_min));
        }
        let min = settings.times.pour_min + watch_min;
        let step = self.coat_step(part, StepKind::Pour, "Pour", coat, min, wait_min);
        self.steps[step].set_up_min = watch_min;
        self.steps[step].turner_min = settings.times.pour_min + waits.turning_min;
        let over_glitter = matches!(over, Top::Glitter { .. });
        let last_on_part =
            !self.how.coats.coats[coat + 1..].iter().any(|later| later.part == part.part);
        self.steps[step].how = self.how.pour(coat, over_glitter, last_on_part);
        part.top = Top::Resin;
        part.last_pour = Some(step);
    }

    fn glitter(&mut self, part: &mut PartRoad, coat: usize) {
        let settings = self.how.settings;
        let glitter_min = settings.times.glitter_min;
        let bed_is_wet = matches!(part.top, Top::Resin | Top::Glitter { wet: true });
        let wait_min = if bed_is_wet { 0.0 } else { self.ready_for(part, StepKind::Glitter) };
        let bed = part.last;
        let step = self.coat_step(part, StepKind::Glitter, "Glitter", coat, glitter_min, wait_min);
        self.steps[step].how = self.how.glitter(coat, bed_is_wet);
        if bed_is_wet {
            // The watch belongs to the end of the wet work.
            let watch_min = self.steps[bed].set_up_min;
            self.steps[bed].hands_on_min -= watch_min;
            self.steps[bed].set_up_min = 0.0;
            self.steps[step].hands_on_min += watch_min;
            self.steps[step].set_up_min = watch_min;
            self.steps[step].turner_min = glitter_min + self.how.coats.waits.turning_min;
            self.steps[step].at_once = true;
            part.last_pour = Some(step);
        }
        part.top = Top::Glitter { wet: bed_is_wet };
    }

    fn film(&mut self, part: &mut PartRoad, zone: usize) {
        let wait_min = self.ready_for(part, StepKind::Film);
        let times = &self.how.settings.times;
        let film = self.how.coats.films.iter().find(|film| film.zone == zone);
        let shapes = film.map_or(1, |film| film.shapes);
        let min = times.vinyl_zone_min + times.vinyl_shape_min * shapes as f64;
        let piece = self.how.piece;
        let name =
            format!("Lay film on {} ({})", piece.parts[part.part].name, piece.zones[zone].name);
        let step = self.add_on(part, StepKind::Film, &name, min, wait_min);
        self.steps[step].zone = Some(zone);
        self.steps[step].how = film.map_or_else(Vec::new, |film| self.how.film(film));
        part.top = Top::Film;
    }

    fn set(&mut self, part: &mut PartRoad, zone: usize, finish: &StoneFinish) {
        let wait_min = self.ready_for(part, StepKind::Set);
        let (settings, piece) = (self.how.settings, self.how.piece);
        let mut work_min = 0.0;
        let mut glue_ml = 0.0;
        let mut number = 0_usize;
        for stone in self.how.stones.stones.iter().filter(|stone| stone.zone == zone) {
            let size = &finish.sizes[stone.size].name;
            let price = settings
                .stones
                .iter()
                .find(|price| price.material == finish.material && price.size == *size);
            let per_h = price.map_or(STONES_PER_H, |price| price.set_per_h);
            let pace = settings.times.pace_in(finish.layers[stone.layer].layout.word());
            work_min += pace * 60.0 / if per_h > 0.0 { per_h } else { STONES_PER_H };
            glue_ml += glue::per_stone_ml(stone.diameter_mm, &settings.glue);
            number += 1;
        }
        let set_up_min = settings.times.sitting_setup_min;
        let longest_min = settings.times.sitting_min.max(set_up_min + 10.0);
        let sittings = (work_min / (longest_min - set_up_min)).ceil().max(1.0);
        let name = format!(
            "Set {number} stones on {} ({})",
            piece.parts[part.part].name, piece.zones[zone].name
        );
        let step =
            self.add_on(part, StepKind::Set, &name, work_min + set_up_min * sittings, wait_min);
        self.steps[step].zone = Some(zone);
        self.steps[step].set_up_min = set_up_min;
        self.steps[step].sitting_min = Some(longest_min);
        // Each part waits by itself here: the order in which one pair of hands goes from part to part
        // holds only if the ground of both is ready and both are in hand in one sitting, which is settled
        // by the placing of the steps, after their lengths.
        self.steps[step].idle_min = self
            .how
            .setting
            .patches
            .iter()
            .filter(|patch| patch.zone == zone)
            .map(|patch| patch.wait_before_min)
            .sum();
        self.steps[step].how = self.how.set(zone, finish, glue_ml);
        part.top = Top::Stones;
    }
}
