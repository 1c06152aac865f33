//! The four sides as a file for the customer and as a page of the workbook.

use crate::pdf::text;
use crate::road::{EXAMPLES, REED_FOLDER, read};

/// Layout of `views.png`, pixels, as in `views.rs`: white round the pictures, between them, above.
const MARGIN: usize = 36;
const GAP: usize = 14;

/// Rows of red, green and blue.
struct Picture {
    width: usize,
    height: usize,
    rgb: Vec<u8>,
}

impl Picture {
    fn read(bytes: &[u8]) -> Self {
        let image = image::load_from_memory(bytes).expect("a picture").into_rgb8();
        let (width, height) = (image.width() as usize, image.height() as usize);
        Self { width, height, rgb: image.into_raw() }
    }

    fn at(&self, x: usize, y: usize) -> [i32; 3] {
        let from = (y * self.width + x) * 3;
        [0, 1, 2].map(|k| i32::from(self.rgb[from + k]))
    }
}

#[test]
fn the_tile_on_the_back_is_seen_from_the_back_and_from_nowhere_else() {
    let views = Picture::read(&read(REED_FOLDER.path(), "views.png"));
    let wide = (views.width - 2 * MARGIN - 3 * GAP) / 4;
    let green = |column: usize| {
        let left = MARGIN + column * (wide + GAP);
        let mut found: Vec<usize> = Vec::new();
        // The tile is reed, and nothing beside it is; stones of that colour lie right below it.
        for y in 0..views.height * 59 / 100 {
            let near = (left + wide * 28 / 100..left + wide * 72 / 100).filter(|&x| {
                let [r, g, b] = views.at(x, y);
                g > r + 12 && g > b + 30
            });
            found.extend(near.map(|x| x - left));
        }
        found
    };
    // Front, right, back, left.
    let [front, right, back, left] = [0, 1, 2, 3].map(green);
    assert!(back.len() > 1000, "{}", back.len());
    for (name, side) in [("front", front), ("right", right), ("left", left)] {
        assert!(side.len() < back.len() / 20, "{name}: {} of {}", side.len(), back.len());
    }
    // 180 degrees is the middle of the back.
    let (low, high) = (back.iter().min().expect("some"), back.iter().max().expect("some"));
    let middle = (low + high) as f64 / 2.0;
    assert!((middle - wide as f64 / 2.0).abs() < 0.015 * wide as f64, "{middle} of {wide}");
}

#[test]
fn the_workbook_shows_the_sides_of_every_piece_that_has_any() {
    for (plan, folder) in EXAMPLES.iter() {
        let round = plan.shape.parts.iter().any(|part| part.surface.period().is_some());
        let pages = text(&folder.path().join("workbook.pdf"));
        let page = pages.iter().position(|page| page.contains("Four sides"));
        assert_eq!(page.is_some(), round, "{}", plan.piece.title);
        assert_eq!(folder.path().join("views.png").is_file(), round, "{}", plan.piece.title);
        let Some(page) = page.map(|page| &pages[page]) else { continue };
        for words in ["Front", "Right side", "Back", "Left side", "0°", "90°", "180°", "270°"] {
            assert!(page.contains(words), "{}: {words}: {page}", plan.piece.title);
        }
    }
}
