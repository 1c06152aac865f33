//! The one plan of film pieces on sheets: what is bought, told at the bench and cut.
//!
//! Pieces stand on shelves, the tallest first, each on the first shelf with room; shelves lie on
//! sheets, each on the first with room. The sheets are known to be at most 2.125 times the fewest
//! possible, asymptotically (hybrid first fit; Chung, Garey and Johnson 1982, from memory).
//! Equal pieces are laid in runs and the first with room is found in a tree, so that the time grows
//! hardly faster than the count.

use crate::Film;
use piece::settings::VinylProduct;

/// Where pieces lie on sheets of film.
#[derive(Debug, Clone, PartialEq)]
pub struct CutPlan {
    /// Sheets in the order of cutting; those that follow each other and are alike stand here once.
    pub sheets: Vec<CutSheet>,
}

/// One layout of a sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct CutSheet {
    /// How many sheets are cut like this.
    pub times: u32,
    /// What lies on it.
    pub pieces: Vec<Laid>,
}

/// A piece on a sheet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Laid {
    /// Index into the films.
    pub film: usize,
    /// Index into [`Film::pieces`].
    pub piece: usize,
    /// Upper left corner of its rectangle from that of the sheet, mm.
    pub at_mm: (f64, f64),
    /// Turned by a quarter, clockwise.
    pub turned: bool,
}

impl CutPlan {
    /// Sheets that are cut from.
    pub fn count(&self) -> u32 {
        self.sheets.iter().map(|sheet| sheet.times).fold(0, u32::saturating_add)
    }
}

/// Lays the pieces of all films of a colour, or of every colour (as transfer tape is), for so many
/// cups, on sheets. Pieces stand upright or lie on their long side, whichever takes fewer sheets.
pub fn plan_cutting(
    films: &[Film],
    colour: Option<usize>,
    quantity: u32,
    vinyl: &VinylProduct,
) -> CutPlan {
    let kinds = |lying: bool| -> Vec<Kind> {
        let of = films.iter().enumerate();
        let of = of.filter(|(_, film)| colour.is_none_or(|colour| film.colour == colour));
        let all = of.flat_map(|(film, told)| {
            told.pieces.iter().enumerate().map(move |(piece, told)| (film, piece, told.size_mm))
        });
        all.map(|(film, piece, size_mm)| Kind::new(film, piece, size_mm, lying, vinyl)).collect()
    };
    let sheet = (vinyl.sheet_width_mm, vinyl.sheet_height_mm);
    let upright = packed(kinds(false), quantity, sheet);
    let lying = packed(kinds(true), quantity, sheet);
    if lying.count() < upright.count() { lying } else { upright }
}

/// A piece as it will lie.
#[derive(Clone, Copy)]
struct Kind {
    film: usize,
    piece: usize,
    turned: bool,
    width: f64,
    height: f64,
}

impl Kind {
    fn new(
        film: usize,
        piece: usize,
        (width, height): (f64, f64),
        lying: bool,
        vinyl: &VinylProduct,
    ) -> Self {
        let on = |across: f64, down: f64| {
            across <= vinyl.sheet_width_mm + HAIR && down <= vinyl.sheet_height_mm + HAIR
        };
        let better = lying && height > width && on(height, width);
        let turned = better || !on(width, height);
        let (width, height) = if turned { (height, width) } else { (width, height) };
        Self { film, piece, turned, width, height }
    }
}

const HAIR: f64 = 1e-9;

/// A shelf: runs of a kind, and how many of each.
struct Shelf {
    height: f64,
    runs: Vec<(usize, u32)>,
}

fn packed(mut kinds: Vec<Kind>, quantity: u32, sheet: (f64, f64)) -> CutPlan {
    kinds.sort_by(|a, b| b.height.total_cmp(&a.height).then(b.width.total_cmp(&a.width)));
    let mut shelves: Vec<Shelf> = Vec::new();
    let mut room = Rooms::default();
    for (index, kind) in kinds.iter().enumerate() {
        let mut left = quantity;
        while left > 0 {
            let at = room.first_with(kind.width - HAIR).unwrap_or_else(|| {
                shelves.push(Shelf { height: kind.height, runs: Vec::new() });
                room.push(sheet.0)
            });
            let most = ((room.at(at) + HAIR) / kind.width.max(HAIR)) as u32;
            let laid = left.min(most.max(1));
            shelves[at].runs.push((index, laid));
            room.set(at, room.at(at) - f64::from(laid) * kind.width);
            left -= laid;
        }
    }
    let mut sheets: Vec<Vec<usize>> = Vec::new();
    let mut room = Rooms::default();
    for (index, shelf) in shelves.iter().enumerate() {
        let at = room.first_with(shelf.height - HAIR).unwrap_or_else(|| {
            sheets.push(Vec::new());
            room.push(sheet.1)
        });
        sheets[at].push(index);
        room.set(at, room.at(at) - shelf.height);
    }
    let alike = |one: &[usize], other: &[usize]| {
        one.len() == other.len()
            && one.iter().zip(other).all(|(&a, &b)| shelves[a].runs == shelves[b].runs)
    };
    let of_alike = sheets.chunk_by(|one, other| alike(one, other));
    let sheets = of_alike.map(|run| CutSheet {
        times: u32::try_from(run.len()).unwrap_or(u32::MAX),
        pieces: laid_out(&kinds, &shelves, &run[0]),
    });
    CutPlan { sheets: sheets.collect() }
}

fn laid_out(kinds: &[Kind], shelves: &[Shelf], on_sheet: &[usize]) -> Vec<Laid> {
    let mut pieces = Vec::new();
    let mut y = 0.0;
    for shelf in on_sheet.iter().map(|&shelf| &shelves[shelf]) {
        let mut x = 0.0;
        for &(kind, count) in &shelf.runs {
            let Kind { film, piece, turned, width, .. } = kinds[kind];
            for _ in 0..count {
                pieces.push(Laid { film, piece, at_mm: (x, y), turned });
                x += width;
            }
        }
        y += shelf.height;
    }
    pieces
}

/// Room left in each of a row of places, in a binary tree of the largest room below each node.
#[derive(Default)]
struct Rooms {
    /// Node 1 is the top, node `n` has `2 n` and `2 n + 1` below it; the places are the last `leaves`.
    tree: Vec<f64>,
    leaves: usize,
    len: usize,
}

impl Rooms {
    fn push(&mut self, room: f64) -> usize {
        if self.len == self.leaves {
            let places: Vec<f64> = (0..self.len).map(|place| self.at(place)).collect();
            self.leaves = (self.leaves * 2).max(16);
            self.tree = vec![f64::NEG_INFINITY; 2 * self.leaves];
            self.tree[self.leaves..self.leaves + places.len()].copy_from_slice(&places);
            for node in (1..self.leaves).rev() {
                self.tree[node] = self.tree[2 * node].max(self.tree[2 * node + 1]);
            }
        }
        self.len += 1;
        self.set(self.len - 1, room);
        self.len - 1
    }

    fn at(&self, place: usize) -> f64 {
        self.tree[self.leaves + place]
    }

    fn set(&mut self, place: usize, room: f64) {
        let mut node = self.leaves + place;
        self.tree[node] = room;
        while node > 1 {
            node /= 2;
            self.tree[node] = self.tree[2 * node].max(self.tree[2 * node + 1]);
        }
    }

    /// The first place with at least so much room.
    fn first_with(&self, least: f64) -> Option<usize> {
        if self.tree.get(1).is_none_or(|most| *most < least) {
            return None;
        }
        let mut node = 1;
        while node < self.leaves {
            node *= 2;
            if self.tree[node] < least {
                node += 1;
            }
        }
        Some(node - self.leaves)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::FilmPiece;
    use piece::Settings;

    fn film(sizes_mm: &[(f64, f64)]) -> Film {
        let piece = |&size_mm: &(f64, f64)| FilmPiece { size_mm, shapes: Vec::new(), strip: false };
        Film {
            zone: 0,
            part: 0,
            colour: 0,
            area_mm2: 1.0,
            pieces: sizes_mm.iter().map(piece).collect(),
            shapes: 1,
        }
    }

    fn vinyl(width: f64, height: f64) -> VinylProduct {
        let mut vinyl = Settings::demo().vinyl;
        (vinyl.sheet_width_mm, vinyl.sheet_height_mm) = (width, height);
        vinyl
    }

    fn count(sizes_mm: &[(f64, f64)], quantity: u32) -> u32 {
        plan_cutting(&[film(sizes_mm)], Some(0), quantity, &vinyl(305.0, 305.0)).count()
    }

    #[test]
    fn four_quarters_fill_one_sheet_and_a_fifth_opens_another() {
        assert_eq!(count(&[(152.5, 152.5)], 4), 1);
        assert_eq!(count(&[(152.5, 152.5)], 5), 2);
    }

    #[test]
    fn a_tall_rectangle_is_turned_to_share_a_sheet() {
        assert_eq!(count(&[(100.0, 300.0)], 3), 1);
        assert_eq!(count(&[(100.0, 300.0), (100.0, 300.0), (300.0, 100.0)], 1), 1);
    }

    #[test]
    fn sheets_that_are_alike_are_told_once() {
        let plan = plan_cutting(&[film(&[(152.5, 152.5)])], Some(0), 42, &vinyl(305.0, 305.0));
        let times: Vec<u32> = plan.sheets.iter().map(|sheet| sheet.times).collect();
        assert_eq!((times, plan.count()), (vec![10, 1], 11));
    }

    /// Rectangles of all sheets, checked one against the other.
    fn nothing_overlaps(films: &[Film], plan: &CutPlan, sheet: (f64, f64)) {
        for on in &plan.sheets {
            let mut boxes: Vec<[f64; 4]> = Vec::new();
            for laid in &on.pieces {
                let (w, h) = films[laid.film].pieces[laid.piece].size_mm;
                let (w, h) = if laid.turned { (h, w) } else { (w, h) };
                let (x, y) = laid.at_mm;
                assert!(x + w <= sheet.0 + 1e-6 && y + h <= sheet.1 + 1e-6, "{laid:?}");
                let apart = |b: &[f64; 4]| {
                    b[2] <= x + 1e-6
                        || x + w <= b[0] + 1e-6
                        || b[3] <= y + 1e-6
                        || y + h <= b[1] + 1e-6
                };
                assert!(boxes.iter().all(apart), "{laid:?} overlaps");
                boxes.push([x, y, x + w, y + h]);
            }
        }
    }

    proptest::proptest! {
        #[test]
        fn every_piece_lies_on_a_sheet_and_on_no_other(
            sizes in proptest::collection::vec((17.0..300.0_f64, 17.0..200.0_f64), 1..30),
            quantity in 1..9_u32,
        ) {
            let films = [film(&sizes)];
            let plan = plan_cutting(&films, Some(0), quantity, &vinyl(305.0, 205.0));
            nothing_overlaps(&films, &plan, (305.0, 205.0));
            let laid: u32 = plan.sheets.iter().map(|sheet| sheet.times * sheet.pieces.len() as u32).sum();
            proptest::prop_assert_eq!(laid, quantity * sizes.len() as u32);
            // No fewer sheets than the area asks for.
            let area: f64 = sizes.iter().map(|(w, h)| w * h).sum::<f64>() * f64::from(quantity);
            proptest::prop_assert!(f64::from(plan.count()) * 305.0 * 205.0 >= area - 1e-6);
        }
    }

    #[test]
    fn twenty_thousand_small_pieces_are_packed_at_once() {
        // All of different sizes, so that no run of equal ones helps.
        let sizes: Vec<(f64, f64)> = (0..20_000)
            .map(|n| (17.0 + f64::from(n % 141) * 0.1, 17.0 + f64::from(n) * 0.001))
            .collect();
        let begun = std::time::Instant::now();
        let films = [film(&sizes)];
        let plan = plan_cutting(&films, Some(0), 1, &vinyl(305.0, 305.0));
        // Some 10 ms here; squared growth would take seconds.
        assert!(begun.elapsed() < std::time::Duration::from_secs(2), "{:?}", begun.elapsed());
        assert_eq!(plan.sheets.iter().map(|sheet| sheet.pieces.len()).sum::<usize>(), 20_000);
        let area: f64 = sizes.iter().map(|(w, h)| w * h).sum();
        assert!(f64::from(plan.count()) * 305.0 * 305.0 < 1.4 * area);
    }
}
