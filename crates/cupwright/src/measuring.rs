//! The interview that measures a cup: what to measure, how to hold the tape, and whether it can be.

mod ask;
mod checks;
mod text;

pub use ask::{Asker, NoAnswer, Typed};

use crate::measured_words;
use piece::settings::LengthUnit;
use piece::units::{Complaint, VOLUME};
use piece::{Piece, Settings};
use std::io::{BufRead, Write};

/// Places on one wall; a file takes up to 200.
const MOST_PLACES: usize = 100;
/// Coarsest reading of a tape that is of use, mm.
const COARSEST_MM: f64 = 5.0;

/// Everything that was answered.
#[derive(Debug, Clone)]
pub struct Answers {
    title: String,
    capacity: Option<Typed>,
    read_to: Typed,
    readings: Vec<Answer>,
    handle: Option<HandleAnswer>,
}

/// One place on the wall.
#[derive(Debug, Clone)]
struct Answer {
    along: Typed,
    girth: Typed,
    smooth: bool,
}

#[derive(Debug, Clone)]
struct HandleAnswer {
    from: Typed,
    to: Typed,
    width: Typed,
}

/// Asks for everything and gives the text of a piece file; `None` if it is not wanted after all.
///
/// # Errors
/// The answers ended, or could not be read.
pub fn interview<R: BufRead, W: Write>(
    asker: &mut Asker<R, W>,
    settings: &Settings,
) -> Result<Option<String>, NoAnswer> {
    asker.tell("Measuring a cup. A blank line takes what stands in brackets; Ctrl-C stops, and nothing is written.");
    asker.tell("You need a soft tape. Measure the bare cup: coats are added for you.\n");
    let title = title(asker)?;
    let unit = asker.choice("Do you measure in mm or in inches (in)?", &["mm", "in"])?;
    asker.unit = if unit == "in" { "in" } else { "mm" };
    let lengths = if unit == "in" { LengthUnit::Inches } else { LengthUnit::Millimetres };
    let usual = if unit == "in" { "1/16 in" } else { "1 mm" };
    let read_to = asker.until(
        "How fine are the marks that you read the tape to?",
        usual,
        |answer, unit| {
            let step = ask::length(answer, unit)?;
            if step.value > COARSEST_MM || step.value == 0.0 {
                let message = format!("it must be more than 0 and at most {COARSEST_MM} mm");
                return Err(Complaint::new(message));
            }
            Ok(step)
        },
    )?;
    loop {
        let capacity = capacity(asker)?;
        let readings = readings(asker, capacity.as_ref())?;
        let end_mm = readings.last().map_or(0.0, |last| last.along.value);
        let handle = handle(asker, end_mm)?;
        let answers =
            Answers { title: title.clone(), capacity, read_to: read_to.clone(), readings, handle };
        match shaped(&answers, settings, lengths) {
            Ok((about, doubts)) => {
                asker.tell(&format!("\n{about}"));
                for doubt in &doubts {
                    asker.tell(&format!("  Doubtful: {doubt}."));
                }
                let question = "Write the piece file, measure the wall again, or stop?";
                match asker.choice(question, &["write", "again", "stop"])? {
                    "write" => return Ok(Some(text::piece_file(&answers, &about))),
                    "stop" => return Ok(None),
                    _ => {}
                }
            }
            Err(wrong) => {
                asker.tell("\nNo cup can have these measurements:");
                for fault in &wrong {
                    asker.tell(&format!("  {fault}."));
                }
                if asker.choice("Measure the wall again, or stop?", &["again", "stop"])? == "stop" {
                    return Ok(None);
                }
            }
        }
    }
}

fn title<R: BufRead, W: Write>(asker: &mut Asker<R, W>) -> Result<String, NoAnswer> {
    asker.until("What shall the piece be called?", "A new cup", |answer, _| {
        let count = answer.chars().count();
        if count > 120 {
            return Err(Complaint::new(format!("it has {count} letters; at most 120 are read")));
        }
        Ok(answer.to_owned())
    })
}

fn capacity<R: BufRead, W: Write>(asker: &mut Asker<R, W>) -> Result<Option<Typed>, NoAnswer> {
    asker.tell("\nWhat it is said to hold stands on its label or under its foot; it is only used to see whether the measurements can be right.");
    asker.until(
        "How much is it said to hold, such as 20 fl oz or 590 ml?",
        "not known",
        |answer, _| {
            if answer == "not known" {
                return Ok(None);
            }
            let value = VOLUME.parse(answer)?;
            if !(30.0..=5_000.0).contains(&value) {
                return Err(Complaint::new(format!(
                    "{answer} is {value:.0} ml, and cups hold 30 to 5000 ml"
                )));
            }
            Ok(Some(Typed { text: answer.to_owned(), value }))
        },
    )
}

fn readings<R: BufRead, W: Write>(
    asker: &mut Asker<R, W>,
    capacity: Option<&Typed>,
) -> Result<Vec<Answer>, NoAnswer> {
    asker.tell("\nThe mouth: lay the tape round the wall just below the rolled rim, level, without pulling it tight. Distances along the wall are counted from here.");
    let mut doubted: Option<f64> = None;
    let mouth = asker.until("How far round is the mouth?", "", |answer, unit| {
        let girth = ask::length(answer, unit)?;
        checks::girth(&girth)?;
        let doubt = capacity.and_then(|capacity| checks::mouth(&girth, capacity.value));
        match doubt {
            // Said twice, it is taken.
            Some(doubt) if doubted != Some(girth.value) => {
                doubted = Some(girth.value);
                Err(Complaint::new(doubt).hint("measure again; to keep it, type it once more"))
            }
            _ => Ok(girth),
        }
    })?;
    let zero = Typed { text: format!("0 {}", asker.unit), value: 0.0 };
    let mut readings = vec![Answer { along: zero, girth: mouth, smooth: false }];
    asker.tell("\nGo down the wall: measure wherever it changes its way (shoulder, step, foot), and on a curve every 10 mm or so. Lay the tape on the wall itself, not straight down beside it. The last place is just above the curve of the foot.");
    while readings.len() < MOST_PLACES {
        let before = readings[readings.len() - 1].clone();
        let enough = readings.len() > 1;
        let question = if enough {
            "How far from the mouth, along the wall, is the next place?"
        } else {
            "How far from the mouth, along the wall, is the first place below it?"
        };
        let along =
            asker.until(question, if enough { "no more" } else { "" }, |answer, unit| {
                if enough && answer == "no more" {
                    return Ok(None);
                }
                let along = ask::length(answer, unit)?;
                checks::along(&along, before.along.value)?;
                Ok(Some(along))
            })?;
        let Some(along) = along else { break };
        let wall_mm = along.value - before.along.value;
        let girth = asker.until("How far round is it there?", "", |answer, unit| {
            let girth = ask::length(answer, unit)?;
            checks::step(&girth, &before.girth, wall_mm)?;
            Ok(girth)
        })?;
        let question =
            "Does the wall come there straight, or in a curve? Hold a straight edge to it:";
        let smooth = asker.choice(question, &["straight", "curve"])? == "curve";
        readings.push(Answer { along, girth, smooth });
    }
    Ok(readings)
}

fn handle<R: BufRead, W: Write>(
    asker: &mut Asker<R, W>,
    end_mm: f64,
) -> Result<Option<HandleAnswer>, NoAnswer> {
    if asker.choice("\nHas it a handle?", &["no", "yes"])? == "no" {
        return Ok(None);
    }
    asker.tell("Its place on the wall stays bare. Measure with room for a fingertip all round.");
    let from = asker.until(
        "How far from the mouth, along the wall, does it begin?",
        "",
        |answer, unit| {
            let from = ask::length(answer, unit)?;
            if from.value >= end_mm {
                let message = format!("{} is beyond the last place, at {end_mm:.1} mm", from.text);
                return Err(Complaint::new(message));
            }
            Ok(from)
        },
    )?;
    let to = asker.until("How far from the mouth does it end?", "", |answer, unit| {
        let to = ask::length(answer, unit)?;
        checks::along(&to, from.value)?;
        if to.value > end_mm {
            let message = format!("{} is beyond the last place, at {end_mm:.1} mm", to.text);
            return Err(Complaint::new(message).hint("the end of the wall is far enough"));
        }
        Ok(to)
    })?;
    let width = asker.until("How wide is its place, round the wall?", "", |answer, unit| {
        let width = ask::length(answer, unit)?;
        if !(1.0..=100.0).contains(&width.value) {
            let message = format!(
                "{} is {:.1} mm, and handles are 1 to 100 mm wide",
                width.text, width.value
            );
            return Err(Complaint::new(message));
        }
        Ok(width)
    })?;
    Ok(Some(HandleAnswer { from, to, width }))
}

/// What the answers make, in words, and what there is to doubt of it; or why they make nothing.
fn shaped(
    answers: &Answers,
    settings: &Settings,
    unit: LengthUnit,
) -> Result<(String, Vec<String>), Vec<String>> {
    let told = |found: Vec<piece::Diagnostic>| {
        found.into_iter().map(|one| one.message).collect::<Vec<String>>()
    };
    let piece: Piece = text::piece_file(answers, "").parse().map_err(told)?;
    let shape = shape::shape(&piece, settings).map_err(told)?;
    let parts = piece.parts.iter().zip(&shape.parts);
    let about = parts.map(|(part, shape)| measured_words::text(part, shape, unit)).collect();
    Ok((about, told(shape.notes)))
}
