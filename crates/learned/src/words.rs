//! Figures in words.

use crate::figure::{Figure, Subject};
use piece::records::Material;

impl Subject {
    /// What it is, for people.
    pub fn name(&self) -> String {
        match self {
            Self::Time(key) => match *key {
                "order" => "settling an order",
                "prepare" => "preparing a part",
                "mask" => "masking a part",
                "paint_coat" => "a coat of paint",
                "glitter" => "glittering a zone",
                "pour" => "pouring a coat",
                "watch" => "watching the turner",
                "sand" => "sanding a part",
                "vinyl_zone" => "laying a zone of film",
                "vinyl_shape" => "each shape of film",
                "sitting_setup" => "laying out for a sitting",
                "finish" => "finishing a piece",
                "pack" => "packing a piece",
                other => other,
            }
            .to_owned(),
            Self::StonesPerHour(size) => format!("setting {size}"),
            Self::AnyStone => "setting any stone, against the standard".to_owned(),
            Self::Layout(word) => format!("setting in {word}, against all layouts"),
            Self::Spare(material) => format!("spare {}", material.word()),
            Self::Loss(material) => format!("{} lost", material.word()),
            Self::Failure => "pieces that fail".to_owned(),
        }
    }

    /// The unit of its value as a number.
    pub fn unit(&self) -> &'static str {
        match self {
            Self::Time(_) => "min",
            Self::StonesPerHour(_) => "stones/h",
            Self::AnyStone | Self::Layout(_) => "times",
            Self::Spare(_) | Self::Loss(_) | Self::Failure => "share",
        }
    }

    /// A value with its unit: `26 min`, `345 an hour`, `18 %`.
    pub fn show(&self, value: f64) -> String {
        let tenths = |value: f64| {
            let value = (value * 10.0).round() / 10.0;
            // No minus before nothing.
            if value == 0.0 { 0.0 } else { value }
        };
        match self {
            Self::Time(_) => format!("{}\u{a0}min", tenths(value)),
            Self::StonesPerHour(_) => format!("{} an hour", value.round()),
            Self::AnyStone | Self::Layout(_) => {
                let more = (100.0 * (value - 1.0)).round();
                match more {
                    more if more > 0.0 => format!("{more}\u{a0}% longer"),
                    more if more < 0.0 => format!("{}\u{a0}% shorter", -more),
                    _ => "as long".to_owned(),
                }
            }
            Self::Spare(_) | Self::Loss(_) | Self::Failure => {
                format!("{}\u{a0}%", tenths(100.0 * value))
            }
        }
    }

    /// What its lines are.
    fn lines(&self, count: usize) -> String {
        let word = match self {
            Self::Failure => "piece",
            _ => "record",
        };
        format!("{count} {word}{}", if count == 1 { "" } else { "s" })
    }
}

impl Figure {
    /// One line: `pouring a coat: 26 min (24 min to 28 min, from 8 records; the standard is 20 min)`.
    pub fn sentence(&self) -> String {
        let subject = &self.subject;
        let (name, standard) = (subject.name(), subject.show(self.standard));
        match self.found {
            Some(found) => {
                let [value, low, high] =
                    [found.value, found.within.0, found.within.1].map(|value| subject.show(value));
                let lines = subject.lines(self.records);
                match subject {
                    // Told against the standard already.
                    Subject::AnyStone | Subject::Layout(_) => {
                        format!("{name}: {value} ({low} to {high}, from {lines})")
                    }
                    _ => format!(
                        "{name}: {value} ({low} to {high}, from {lines}; the standard is {standard})"
                    ),
                }
            }
            None => format!(
                "{name}: {standard}, the standard ({} so far, {} missing)",
                subject.lines(self.records),
                self.missing
            ),
        }
    }

    /// What to set its standard to, if the records disagree with it and the settings hold it.
    pub fn advice(&self) -> Option<String> {
        let (found, key) = (self.found?, self.subject.key()?);
        if !self.standard_is_off() {
            return None;
        }
        let subject = &self.subject;
        let per_cent = |share: f64| format!("\"{} %\"", (share * 1000.0).round() / 10.0);
        let value = match subject {
            Subject::Time(_) => format!("\"{} min\"", (found.value * 10.0).round() / 10.0),
            Subject::StonesPerHour(_) => format!("{}", found.value.round()),
            _ => per_cent(found.value),
        };
        let why = match subject {
            Subject::Spare(Material::Stones | Material::Glitter) => {
                " so that nine pieces in ten have enough"
            }
            _ => "",
        };
        Some(format!(
            "set `{key}` to {value}{why}: {} say {} to {}, the standard is {}",
            subject.lines(self.records),
            subject.show(found.within.0),
            subject.show(found.within.1),
            subject.show(self.standard)
        ))
    }
}
