//! A few four-rayed stars where stones flash hardest.

use glam::{Vec2, Vec3};

/// A flash on a stone, in pixels of the finished picture.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Flash {
    /// Where, from the top left.
    pub(crate) x: f32,
    pub(crate) y: f32,
    /// How much light comes from it in all.
    pub(crate) strength: f32,
}

impl Flash {
    fn at(&self) -> Vec2 {
        Vec2::new(self.x, self.y)
    }
}

/// The strongest flashes that keep apart, one for about every two hundred stones.
pub(crate) fn choose(mut flashes: Vec<Flash>, stones: usize, width: usize) -> Vec<Flash> {
    flashes.sort_by(|a, b| {
        b.strength.total_cmp(&a.strength).then(a.y.total_cmp(&b.y)).then(a.x.total_cmp(&b.x))
    });
    let wanted = if stones == 0 { 0 } else { (stones / 220).clamp(2, 16) };
    let apart = width as f32 * 0.055;
    let mut chosen: Vec<Flash> = Vec::new();
    for flash in flashes {
        if chosen.len() == wanted {
            break;
        }
        let near = |c: &Flash| c.at().distance(flash.at()) < apart;
        if !chosen.iter().any(near) {
            chosen.push(flash);
        }
    }
    // Loudest first, falling off: a few stars, then small ones.
    let count = chosen.len().max(1) as f32;
    for (i, flash) in chosen.iter_mut().enumerate() {
        flash.strength = 1.0 - 0.68 * i as f32 / count;
    }
    chosen
}

/// Adds the stars' light to one row of finished light.
pub(crate) fn add(stars: &[Flash], row: usize, pixels: &mut [Vec3]) {
    let width = pixels.len() as f32;
    for star in stars {
        let scale = width / 900.0 * (0.62 + 1.0 * star.strength);
        let reach = 26.0 * scale;
        let dy = (row as f32 + 0.5 - star.y).abs();
        if dy > reach {
            continue;
        }
        let first = (star.x - reach).max(0.0) as usize;
        let last = ((star.x + reach).max(0.0) as usize).min(pixels.len() - 1);
        for (column, pixel) in pixels.iter_mut().enumerate().take(last + 1).skip(first) {
            let dx = (column as f32 + 0.5 - star.x).abs();
            let (x, y) = (dx / scale, dy / scale);
            let core = libm::expf(-(x * x + y * y) / 7.0);
            let ray = |across: f32, along: f32| libm::expf(-across * 1.15 - along * 0.17);
            let halo = libm::expf(-(x * x + y * y) / 90.0) * 0.10;
            let end = 1.0 - (x.max(y) * scale / reach).min(1.0);
            let light = (core + 0.7 * (ray(x, y) + ray(y, x)) + halo) * end * star.strength;
            *pixel += Vec3::new(1.0, 0.985, 0.955) * light;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn stars_keep_apart_and_the_strongest_win() {
        let flashes = (0..400)
            .map(|i| Flash {
                x: (i % 20) as f32 * 45.0,
                y: (i / 20) as f32 * 55.0,
                strength: i as f32,
            })
            .collect();
        let chosen = choose(flashes, 4000, 900);
        assert_eq!(chosen.len(), 16);
        assert_eq!((chosen[0].x, chosen[0].y), (19.0 * 45.0, 19.0 * 55.0));
        for (i, a) in chosen.iter().enumerate() {
            for b in &chosen[..i] {
                assert!(a.at().distance(b.at()) >= 49.5);
            }
        }
        assert!(choose(vec![], 0, 900).is_empty());
    }
}
