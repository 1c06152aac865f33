//! What the bench is asked to do.

use crate::studio_books::{Due, Kind, Makers};

const PARTS: [&str; 4] = ["best", "proved", "gain", "memory"];
const DUE: [(&str, Due); 3] =
    [("tight", Due::Tight), ("loose", Due::Loose), ("overloaded", Due::Overloaded)];

/// What the bench is asked to do.
pub struct Asked {
    parts: Vec<String>,
    /// Books of each kind.
    pub seeds: u64,
    /// How many pieces.
    pub pieces: Vec<usize>,
    /// How near the due days are.
    pub due: Vec<(&'static str, Due)>,
    /// How long a plan is looked for, s.
    pub seconds: f64,
    /// The same for the plan that counts as best, s.
    pub long: f64,
    /// The same for the general solver, s, by the clock.
    pub general: f64,
    /// Whether the time of our search is that of the processor, not the clock.
    pub processor: bool,
}

impl Asked {
    /// Reads arguments; says what is wrong with them.
    pub fn read(arguments: impl Iterator<Item = String>) -> Result<Self, String> {
        let mut asked = Self {
            parts: Vec::new(),
            seeds: 20,
            pieces: vec![10, 30, 100, 300],
            due: DUE.to_vec(),
            seconds: 2.0,
            long: 30.0,
            general: 60.0,
            processor: false,
        };
        // Cargo adds `--bench` of its own.
        for argument in arguments.filter(|argument| argument != "--bench") {
            let wrong = || format!("{argument} is not understood: see the head of the bench");
            let seconds = |text: &str| text.parse::<f64>().map_err(|_| wrong());
            match argument.split_once('=') {
                None if argument == "processor" => asked.processor = true,
                None if PARTS.contains(&argument.as_str()) => asked.parts.push(argument),
                Some(("seeds", text)) => asked.seeds = text.parse().map_err(|_| wrong())?,
                Some(("seconds", text)) => asked.seconds = seconds(text)?,
                Some(("long", text)) => asked.long = seconds(text)?,
                Some(("general", text)) => asked.general = seconds(text)?,
                Some(("pieces", text)) => {
                    let counts = text.split(',').map(str::parse).collect::<Result<_, _>>();
                    asked.pieces = counts.map_err(|_| wrong())?;
                }
                Some(("due", text)) => {
                    let named = |name| DUE.into_iter().find(|due| due.0 == name);
                    let all = text.split(',').map(named).collect::<Option<_>>();
                    asked.due = all.ok_or_else(wrong)?;
                }
                _ => return Err(wrong()),
            }
        }
        Ok(asked)
    }

    /// Whether a part is asked for.
    pub fn part(&self, name: &str) -> bool {
        self.parts.is_empty() || self.parts.iter().any(|part| part == name)
    }

    /// Every number of pieces with every nearness of due days, and the studio that suits the two.
    pub fn studios(&self) -> impl Iterator<Item = (usize, &'static str, Kind)> {
        self.pieces.iter().flat_map(|&pieces| {
            self.due.iter().map(move |&(name, due)| (pieces, name, Kind::new(makers(pieces), due)))
        })
    }
}

/// Who makes so many pieces.
fn makers(pieces: usize) -> Makers {
    match pieces {
        0..=19 => Makers::Evenings,
        20..=59 => Makers::Two,
        60..=199 => Makers::Three,
        _ => Makers::Four,
    }
}
