//! Puts what was learned into settings.

use crate::Learned;
use crate::figure::{Figure, Subject};
use piece::Settings;
use piece::records::Material;
use piece::settings::Times;

impl Learned {
    /// Those that were learned.
    pub fn found(&self) -> impl Iterator<Item = &Figure> {
        self.figures.iter().filter(|figure| figure.found.is_some())
    }

    /// The settings with what was learned in place of their standards.
    #[must_use]
    pub fn settings(&self, settings: &Settings) -> Settings {
        let mut settings = settings.clone();
        // Each stone first takes the pace of all; sizes with lines enough then get their own.
        let any = self.found().find(|figure| figure.subject == Subject::AnyStone);
        if let Some(any) = any {
            settings.stones.iter_mut().for_each(|price| price.set_per_h /= any.value());
        }
        for figure in self.found() {
            let value = figure.value();
            match &figure.subject {
                Subject::Time(key) => {
                    if let Some(min) = time(&mut settings.times, key) {
                        *min = value;
                    }
                }
                Subject::StonesPerHour(size) => {
                    // A size may have another pace in another material: what was learned is a multiple.
                    let all = any.map_or(1.0, Figure::value);
                    let own = value / figure.standard * all;
                    let of_it = settings.stones.iter_mut().filter(|price| price.size == *size);
                    of_it.for_each(|price| price.set_per_h *= own);
                }
                Subject::AnyStone => {}
                Subject::Layout(word) => settings.times.layout_pace.push((word, value)),
                Subject::Spare(Material::Stones) => settings.spare_stones = value,
                Subject::Spare(_) => settings.glitter.spare = value,
                Subject::Loss(Material::Resin) => settings.resin.loss = value,
                Subject::Loss(_) => settings.glue.loss = value,
                Subject::Failure => settings.pricing.failure = value,
            }
        }
        // A sitting keeps room for setting, whatever its set-up takes.
        let least = settings.times.sitting_setup_min + 10.0;
        settings.times.sitting_min = settings.times.sitting_min.max(least);
        settings
    }
}

/// A time by its key.
fn time<'a>(times: &'a mut Times, key: &str) -> Option<&'a mut f64> {
    Some(match key {
        "order" => &mut times.order_min,
        "prepare" => &mut times.prepare_min,
        "mask" => &mut times.mask_min,
        "paint_coat" => &mut times.paint_coat_min,
        "glitter" => &mut times.glitter_min,
        "pour" => &mut times.pour_min,
        "watch" => &mut times.watch_min,
        "sand" => &mut times.sand_min,
        "vinyl_zone" => &mut times.vinyl_zone_min,
        "vinyl_shape" => &mut times.vinyl_shape_min,
        "sitting_setup" => &mut times.sitting_setup_min,
        "finish" => &mut times.finish_min,
        "pack" => &mut times.pack_min,
        _ => return None,
    })
}
