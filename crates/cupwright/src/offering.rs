//! The options of a quote: the texts of the same design, each laid and planned by itself.

use crate::args::OptionsWord;
use crate::beside::{Beside, Taken};
use crate::findings::Findings;
use crate::hours_file::HoursFile;
use crate::open::{Opened, read_text};
use crate::ordering;
use crate::planning::Search;
use crate::progress::Progress;
use crate::promising::{self, ROUNDS};
use crate::road::{Halt, Laid, Travel, walk};
use crate::stop::Stop;
use crate::studio::Studio;
use crate::trouble::{Trouble, shown};
use jiff::ToSpan;
use jiff::civil::Date;
use money::Terms;
use piece::lip::below_lip;
use piece::options::Keep;
use piece::{Diagnostic, Settings, Source};
use sheets::{Offer, Plan, offer_picture};
use std::panic::resume_unwind;
use std::path::Path;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;
use stones::strengths;

/// Shares of the area of stones that the strengths below the whole have, weakest first: an accent about a
/// fifth (our choice).
const STRENGTHS: [(&str, f64); 2] = [("accent", 0.2), ("half", 0.5)];
/// What the whole design is called beside weaker ones.
const FULL: &str = "full";
/// What it is called beside other sizes, and alone.
const AS_DRAWN: &str = "as drawn";

/// What options are worked out with.
pub struct Desk<'a> {
    pub opened: &'a Opened,
    pub studio: &'a Studio,
    /// Where the piece file lies.
    pub from: &'a Path,
    /// The folder that is to hold its options.
    pub into: &'a Path,
    /// Day from which days are counted.
    pub begins: Date,
    /// The orders in hand, if days are promised beside them.
    pub hours: Option<&'a HoursFile>,
    pub stop: &'a Stop,
    pub progress: &'a Progress,
}

/// What becomes of zones of stones, by index.
type Kept = Vec<(usize, Keep)>;

/// An option before it is laid.
struct Wanted {
    name: String,
    text: String,
    /// Made by the rule: if it cannot be laid, the others are offered without it.
    by_rule: bool,
}

impl Wanted {
    /// One that someone asked for.
    fn said(name: &str, text: String) -> Self {
        Self { name: name.to_owned(), text, by_rule: false }
    }
}

/// The options, laid and planned.
pub struct Options {
    /// Options with the texts of their pieces.
    pub offers: Vec<(Offer, String)>,
    /// Those of the rule that cannot be made, with the reason.
    pub left_out: Vec<(String, String)>,
    /// Art and typefaces that they need beside them.
    pub art: Taken,
}

impl Desk<'_> {
    /// Lays and plans every option; `None` if something needs mending first, and what is then among the
    /// findings.
    ///
    /// # Errors
    /// Stopped; sizes asked of a piece that has no stones of one size.
    pub fn options(
        &self,
        asked: &OptionsWord,
        findings: &mut Findings,
    ) -> Result<Option<Options>, Trouble> {
        let wanted = match self.wanted(asked)? {
            Ok(wanted) => wanted,
            Err(errors) => {
                self.opened.found(errors, self.studio, findings);
                return Ok(None);
            }
        };
        let (mut art, mut left_out) = (Taken::default(), Vec::new());
        let mut ready: Vec<(Wanted, Opened)> = Vec::with_capacity(wanted.len());
        for one in wanted {
            let source =
                Source::new(format!("{} ({})", shown(self.from), one.name), one.text.as_str());
            let beside = Beside::moved(&self.into.join("piece.toml"), self.from);
            let (opened, errors) = read_text(source.clone(), &beside, self.stop);
            art.files.extend(beside.taken().files);
            let Some(opened) = opened else {
                if one.by_rule {
                    let why = errors.first().map(|error| error.message.clone());
                    left_out.push((one.name, why.unwrap_or_default()));
                    continue;
                }
                findings.add(&source, errors);
                return Ok(None);
            };
            ready.push((one, opened));
        }
        let offered = self.walked(&ready);
        if self.stop.asked() {
            return Err(Trouble::stopped());
        }
        let mut offers = Vec::with_capacity(ready.len());
        let mut sound = true;
        for ((wanted, opened), offer) in ready.into_iter().zip(offered) {
            match offer {
                Ok(offer) => offers.push((offer, opened, wanted.text)),
                Err(Failed::Mend(errors)) if wanted.by_rule => {
                    let why = errors.first().map(|error| error.message.clone());
                    left_out.push((wanted.name, why.unwrap_or_default()));
                }
                Err(Failed::Mend(errors)) => {
                    opened.found(errors, self.studio, findings);
                    sound = false;
                }
                Err(Failed::Trouble(trouble)) => return Err(trouble),
            }
        }
        if !sound || !self.promise(&mut offers, findings)? {
            return Ok(None);
        }
        let offers = offers.into_iter().map(|(offer, _, text)| (offer, text)).collect();
        Ok(Some(Options { offers, left_out, art }))
    }

    /// Promises days beside the orders in hand, if there is an hours file; false if something needs
    /// mending first.
    fn promise(
        &self,
        offers: &mut [(Offer, Opened, String)],
        findings: &mut Findings,
    ) -> Result<bool, Trouble> {
        let (Some(hours), Self { studio, stop, progress, .. }) = (self.hours, self) else {
            return Ok(true);
        };
        let telling = |share: f64, doing: &str| progress.show(0.4 * share, doing);
        let desk = ordering::Desk { studio, hours, begin: None, stop, progress: &telling };
        let search = Search { rounds: ROUNDS, seconds: None, stop, progress };
        let wanted = offers.iter().map(|(offer, opened, _)| promising::Wanted {
            name: &offer.name,
            opened,
            laid: Laid {
                piece: offer.plan.piece.clone(),
                shape: offer.plan.shape.clone(),
                stones: offer.plan.stones.clone(),
            },
        });
        let days = promising::days(wanted.collect(), self.begins, &desk, &search, findings)?;
        let Some(days) = days else { return Ok(false) };
        for ((offer, ..), day) in offers.iter_mut().zip(days) {
            offer.promised = day;
        }
        Ok(true)
    }

    /// Every option laid and planned, side by side. On threads of their own: those that share out the
    /// work of one option must not wait for what another is making ready.
    fn walked(&self, ready: &[(Wanted, Opened)]) -> Vec<Result<Offer, Failed>> {
        let done = AtomicUsize::new(0);
        let one = |(wanted, opened): &(Wanted, Opened)| {
            let share = done.load(Ordering::Relaxed) as f64 / ready.len() as f64;
            self.progress.show(share, &format!("laying out {}", wanted.name));
            let offer = self.offer(&wanted.name, opened);
            done.fetch_add(1, Ordering::Relaxed);
            offer
        };
        thread::scope(|scope| {
            let threads: Vec<_> = ready.iter().map(|option| scope.spawn(|| one(option))).collect();
            let joined = threads.into_iter().map(|thread| thread.join());
            joined.map(|offer| offer.unwrap_or_else(|panic| resume_unwind(panic))).collect()
        })
    }

    fn offer(&self, name: &str, opened: &Opened) -> Result<Offer, Failed> {
        let settings = &self.studio.settings;
        let travel = Travel {
            notes: opened.notes.clone(),
            settings: settings.clone(),
            begin: Some(self.begins),
            stop: self.stop,
            long_work: &|_| true,
            progress: &|_, _| {},
        };
        let plan = match walk(opened.piece.clone(), travel) {
            Ok(plan) => plan,
            Err(Halt::Mend(errors)) => return Err(Failed::Mend(errors)),
            Err(Halt::Stopped) => return Err(Failed::Trouble(Trouble::stopped())),
        };
        let picture =
            offer_picture(&plan).map_err(|error| Failed::Trouble(Trouble::from(error)))?;
        let terms = Terms::of(plan.price.asked, plan.price.pieces, settings.quote.deposit);
        let promised = promised(&plan, settings);
        Ok(Offer { name: name.to_owned(), plan, terms, promised, picture })
    }

    /// The texts of what is asked for, none twice.
    fn wanted(&self, asked: &OptionsWord) -> Result<Result<Vec<Wanted>, Vec<Diagnostic>>, Trouble> {
        let text = self.opened.text();
        let edited = |made: Result<String, String>| {
            made.map_err(|why| Trouble::fault(format!("an option could not be written: {why}")))
        };
        let whole = edited(piece::options::with_kept(text, &[]))?;
        let mut wanted: Vec<Wanted> = Vec::new();
        match asked {
            OptionsWord::One => wanted.push(Wanted::said(AS_DRAWN, whole)),
            OptionsWord::Sizes(sizes) => {
                wanted.push(Wanted::said(AS_DRAWN, whole));
                for size in sizes {
                    let made = piece::options::with_size(text, size);
                    let made = made.map_err(|why| {
                        Trouble::fault(format!("an option could not be written: {why}"))
                    })?;
                    let Some(text) = made else {
                        return Err(Trouble::usage(
                            "no layout of this piece has stones of one size",
                        )
                        .hint("Offer it with `--options strengths` or `--options one`."));
                    };
                    wanted.push(Wanted::said(&size.name, text));
                }
            }
            OptionsWord::Strengths => {
                let kept = match self.strengths() {
                    Ok(kept) => kept,
                    Err(errors) => return Ok(Err(errors)),
                };
                let by_rule = self.opened.piece.strengths.is_empty();
                for (name, kept) in kept {
                    let text = edited(piece::options::with_kept(text, &kept))?;
                    wanted.push(Wanted { name, text, by_rule });
                }
                wanted.push(Wanted::said(FULL, whole));
            }
        }
        let mut first: Vec<Wanted> = Vec::new();
        // The whole design stands for those that are the same; of others the first.
        for one in wanted.into_iter().rev() {
            if !first.iter().any(|known| known.text == one.text) {
                first.push(one);
            }
        }
        first.reverse();
        if let [only] = first.as_mut_slice() {
            AS_DRAWN.clone_into(&mut only.name);
        }
        Ok(Ok(first))
    }

    /// The strengths below the whole: the maker's own, or those of the rule.
    fn strengths(&self) -> Result<Vec<(String, Kept)>, Vec<Diagnostic>> {
        let settings = &self.studio.settings;
        let piece = below_lip(self.opened.piece.clone(), settings)?;
        if !piece.strengths.is_empty() {
            let own = piece.strengths.iter().enumerate();
            return own
                .map(|(index, strength)| {
                    let kept = strengths::of_maker(&piece, index, strength)?;
                    Ok((strength.name.clone(), kept))
                })
                .collect();
        }
        let shape = shape::shape_while(&piece, settings, &mut |_| !self.stop.asked())?;
        let one =
            |(name, share): (&str, f64)| (name.to_owned(), strengths::about(&piece, &shape, share));
        Ok(STRENGTHS.into_iter().map(one).collect())
    }
}

/// Why an option could not be laid and planned.
enum Failed {
    /// It needs mending.
    Mend(Vec<Diagnostic>),
    /// Something else went wrong, or someone asked to stop.
    Trouble(Trouble),
}

/// The day by which it is with the customer: ready, and the days in the post.
fn promised(plan: &Plan, settings: &Settings) -> Option<Date> {
    let ready = plan.timetable.as_ref()?.ready.date();
    ready.checked_add(i64::from(settings.times.post_days).days()).ok()
}
