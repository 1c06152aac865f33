//! One question at a time: asked, answered, checked, and asked again if the answer cannot be used.

use piece::units::{Complaint, LENGTH};
use std::io::{self, BufRead, Read as _, Write};

/// An answer as typed, with its value.
#[derive(Debug, Clone, PartialEq)]
pub struct Typed {
    /// With its unit, as it may stand in a piece file.
    pub text: String,
    /// In mm or ml.
    pub value: f64,
}

/// Longest line that is heard as one answer, bytes.
const LONGEST: u64 = 4_096;
/// So many answers to one question that cannot be used come from no person.
const MOST_TRIES: usize = 50;

/// Why there is no answer.
#[derive(Debug)]
pub enum NoAnswer {
    /// The answers ended before the questions did.
    Ended,
    /// None of many answers to one question could be used.
    Useless,
    /// They could not be read.
    Unreadable(io::Error),
}

/// Asks on one stream and hears on another.
pub struct Asker<R, W> {
    hear: R,
    tell: W,
    /// The unit of a number without one.
    pub unit: &'static str,
}

impl<R: BufRead, W: Write> Asker<R, W> {
    /// Numbers without a unit are in mm until said otherwise.
    pub fn new(hear: R, tell: W) -> Self {
        Self { hear, tell, unit: "mm" }
    }

    /// Tells something. If nobody sees it, the answers still count.
    pub fn tell(&mut self, words: &str) {
        let _ = writeln!(self.tell, "{words}");
    }

    /// One line of answer, without spaces around it. `usual` is what an empty line stands for.
    pub fn line(&mut self, question: &str, usual: &str) -> Result<String, NoAnswer> {
        let offer = if usual.is_empty() { String::new() } else { format!(" [{usual}]") };
        let _ = write!(self.tell, "{question}{offer} ");
        let _ = self.tell.flush();
        let mut bytes = Vec::new();
        let read = (&mut self.hear).take(LONGEST).read_until(b'\n', &mut bytes);
        let read = read.map_err(NoAnswer::Unreadable)?;
        if read == 0 {
            let _ = writeln!(self.tell);
            return Err(NoAnswer::Ended);
        }
        let answer = String::from_utf8_lossy(&bytes).trim().to_owned();
        Ok(if answer.is_empty() { usual.to_owned() } else { answer })
    }

    /// Asks until `read` can use the answer; what it complains of is told.
    pub fn until<T>(
        &mut self,
        question: &str,
        usual: &str,
        mut read: impl FnMut(&str, &'static str) -> Result<T, Complaint>,
    ) -> Result<T, NoAnswer> {
        for _ in 0..MOST_TRIES {
            let answer = self.line(question, usual)?;
            match read(&answer, self.unit) {
                Ok(value) => return Ok(value),
                Err(complaint) => {
                    let message = complaint.message;
                    self.tell(&format!("  That cannot be used: {message}."));
                    for hint in complaint.hints {
                        self.tell(&format!("  {}.", sentence(&hint)));
                    }
                }
            }
        }
        Err(NoAnswer::Useless)
    }

    /// One of a few words; the first is the usual one. A beginning of one is enough.
    pub fn choice<'a>(&mut self, question: &str, words: &[&'a str]) -> Result<&'a str, NoAnswer> {
        self.until(question, words[0], |answer, _| {
            let answer = answer.to_lowercase();
            let found = words.iter().find(|word| word.starts_with(answer.as_str()));
            found.copied().ok_or_else(|| {
                Complaint::new(format!(
                    "`{}` is none of {}",
                    piece::units::shorten(&answer),
                    piece::units::or_list(words)
                ))
            })
        })
    }
}

/// A length; a number alone is in `unit`.
pub fn length(answer: &str, unit: &str) -> Result<Typed, Complaint> {
    let bare = !answer.is_empty() && !answer.chars().any(char::is_alphabetic);
    let text = if bare { format!("{answer} {unit}") } else { answer.to_owned() };
    let value = LENGTH.parse(&text)?;
    if value < 0.0 {
        return Err(Complaint::new(format!("`{text}` is less than nothing")));
    }
    Ok(Typed { text, value })
}

/// With a capital, and without a full stop.
fn sentence(words: &str) -> String {
    let mut letters = words.trim_end_matches('.').chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}
