//! What is told of a step.

/// What kind of thing is done.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum StepKind {
    /// Messages, artwork, buying.
    Order,
    /// Wash, scuff, wipe.
    Prepare,
    /// Tape rim, foot and everything that stays bare.
    Mask,
    /// One coat of paint.
    Paint,
    /// Glitter.
    Glitter,
    /// One pour of resin.
    Pour,
    /// Sand and wipe.
    Sand,
    /// Cut, weed, place film.
    Film,
    /// Customer looks before the sealing coat or the stones.
    Approve,
    /// Set stones.
    Set,
    /// Check, photograph, clean.
    Finish,
    /// Pack.
    Pack,
}

impl StepKind {
    /// May be laid aside and taken up again at any moment: nothing is wet and nothing sets.
    pub fn may_pause(self) -> bool {
        !matches!(self, Self::Paint | Self::Glitter | Self::Pour)
    }
}

/// One thing to do.
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    /// What kind.
    pub kind: StepKind,
    /// Short name, such as `Pour coat 2 of 3 on body`.
    pub name: String,
    /// Index of the part, where it is about one.
    pub part: Option<usize>,
    /// Index of the zone, where it is about one; of a sanding, the zone of resin whose recoat window
    /// it makes up for.
    pub zone: Option<usize>,
    /// Index into [`coats::Coats::coats`], for paint, glitter and pours.
    pub coat: Option<usize>,
    /// Hands-on, min, for one piece; watching the turner after a pour included.
    pub hands_on_min: f64,
    /// Of these, what is spent once in each sitting however many pieces it serves: laying out tools,
    /// watching the turner, min.
    pub set_up_min: f64,
    /// May be split into sittings of at most this long, min.
    pub sitting_min: Option<f64>,
    /// Idle within it for one piece, min: for glue to hold before the piece may be turned. It takes
    /// time in the maker's hours but is no work.
    pub idle_min: f64,
    /// Least waiting after it before a step that needs it, min.
    pub wait_min: f64,
    /// If the next step on it begins later than this after it ends, it must be sanded first, min.
    pub sand_after_min: Option<f64>,
    /// On the turner, min after it begins.
    pub turner_min: f64,
    /// Begins the moment the step before it ends: what lies beneath is still wet.
    pub at_once: bool,
    /// Steps (by index, all smaller) that must be done and waited for.
    pub after: Vec<usize>,
    /// Those of [`Step::after`] whose wait before this step is not their own `wait_min` but this, min:
    /// full cure before packing, for one.
    pub other_waits: Vec<(usize, f64)>,
    /// How to do it, one sentence each, with the figures in.
    pub how: Vec<String>,
    /// Cautions for this step, one sentence each.
    pub cautions: Vec<String>,
}

impl Step {
    /// Sittings one piece takes.
    pub fn sittings(&self) -> u32 {
        match self.sitting_min {
            Some(longest) if longest > 0.0 => (self.hands_on_min / longest).ceil().max(1.0) as u32,
            _ => 1,
        }
    }

    /// Hands-on without set-up, min, for one piece.
    pub fn work_min(&self) -> f64 {
        (self.hands_on_min - self.set_up_min * f64::from(self.sittings())).max(0.0)
    }

    /// Idle within it for so many pieces made together, min: while one piece waits, the others are
    /// worked on.
    pub fn idle_for_min(&self, pieces: u32) -> f64 {
        let others = f64::from(pieces.max(1) - 1);
        (self.idle_min - self.work_min() * others).max(0.0)
    }

    /// Hands-on for so many pieces made together, min: work for each, set-up once a sitting.
    pub fn hands_on_for_min(&self, pieces: u32) -> f64 {
        let work = self.work_min() * f64::from(pieces);
        let sittings = match self.sitting_min {
            Some(longest) if longest > self.set_up_min => {
                (work / (longest - self.set_up_min)).ceil().max(1.0)
            }
            _ => 1.0,
        };
        work + self.set_up_min * sittings
    }
}

/// The steps of a piece in order.
#[derive(Debug, Clone, PartialEq)]
pub struct Steps {
    /// In an order that respects [`Step::after`].
    pub steps: Vec<Step>,
    /// How long resin must be left, which the waits among them follow.
    pub waits: coats::Waits,
}

impl Steps {
    /// Hands-on time for one piece, min.
    pub fn hands_on_min(&self) -> f64 {
        self.steps.iter().map(|step| step.hands_on_min).sum()
    }

    /// Hands-on time for so many pieces made together, min.
    pub fn hands_on_for_min(&self, pieces: u32) -> f64 {
        self.steps.iter().map(|step| step.hands_on_for_min(pieces)).sum()
    }

    /// Least waiting between the end of step `before` and the beginning of step `step`, min.
    pub fn wait_between_min(&self, before: usize, step: usize) -> f64 {
        let own = self.steps[step].other_waits.iter().find(|(index, _)| *index == before);
        own.map_or(self.steps[before].wait_min, |(_, wait_min)| *wait_min)
    }
}
