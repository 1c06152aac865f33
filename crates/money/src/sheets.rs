//! How many sheets of film a set of rectangles is cut from.

/// Rectangles of a size, and how many of them.
type Blank = ((f64, f64), usize);

/// Sheets that hold all the rectangles, by shelves: the tallest first, each on the first shelf with
/// room, each shelf on the first sheet with room. A rectangle may be turned; one that is larger than
/// a sheet is cut in strips and takes whole sheets. Never less than the area asks for; the packing is
/// known to take at most 1.7 times the least possible, asymptotically, within one strip (Coffman,
/// Garey, Johnson and Tarjan 1980, from memory).
pub(crate) fn sheets_needed(blanks: &[Blank], sheet: (f64, f64)) -> u32 {
    let mut sheets: Vec<Sheet> = Vec::new();
    let mut whole = 0_u32;
    let mut pieces: Vec<(f64, f64)> = Vec::new();
    for &((width, height), count) in blanks {
        match laid_down((width, height), sheet) {
            Some(size) => pieces.extend(std::iter::repeat_n(size, count)),
            None => {
                let tiles = |w: f64, h: f64| (w / sheet.0).ceil() * (h / sheet.1).ceil();
                whole += tiles(width, height).min(tiles(height, width)) as u32 * count as u32;
            }
        }
    }
    pieces.sort_by(|a, b| b.1.total_cmp(&a.1).then(b.0.total_cmp(&a.0)));
    for (width, height) in pieces {
        if !sheets.iter_mut().any(|held| held.take(width, height, sheet)) {
            let mut fresh = Sheet { shelves: Vec::new() };
            fresh.take(width, height, sheet);
            sheets.push(fresh);
        }
    }
    whole + sheets.len() as u32
}

/// A rectangle turned so that it fits, lying down if it can; `None` if it does not fit at all.
fn laid_down((a, b): (f64, f64), sheet: (f64, f64)) -> Option<(f64, f64)> {
    let (long, short) = (a.max(b), a.min(b));
    if long <= sheet.0 && short <= sheet.1 {
        Some((long, short))
    } else if short <= sheet.0 && long <= sheet.1 {
        Some((short, long))
    } else {
        None
    }
}

/// A sheet with its shelves: height of each and the width taken on it.
struct Sheet {
    shelves: Vec<(f64, f64)>,
}

impl Sheet {
    fn take(&mut self, width: f64, height: f64, sheet: (f64, f64)) -> bool {
        const HAIR: f64 = 1e-9;
        for (shelf, taken) in &mut self.shelves {
            if height <= *shelf + HAIR && *taken + width <= sheet.0 + HAIR {
                *taken += width;
                return true;
            }
        }
        let stacked: f64 = self.shelves.iter().map(|(shelf, _)| shelf).sum();
        if stacked + height <= sheet.1 + HAIR {
            self.shelves.push((height, width));
            return true;
        }
        false
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const SHEET: (f64, f64) = (305.0, 305.0);

    #[test]
    fn four_quarters_fill_one_sheet_and_a_fifth_opens_another() {
        let quarter = (152.5, 152.5);
        assert_eq!(sheets_needed(&[(quarter, 4)], SHEET), 1);
        assert_eq!(sheets_needed(&[(quarter, 5)], SHEET), 2);
    }

    #[test]
    fn a_tall_rectangle_is_turned_to_share_a_sheet() {
        assert_eq!(sheets_needed(&[((100.0, 300.0), 3)], SHEET), 1);
        assert_eq!(sheets_needed(&[((100.0, 300.0), 2), ((300.0, 100.0), 1)], SHEET), 1);
    }

    #[test]
    fn a_rectangle_larger_than_a_sheet_takes_whole_sheets() {
        assert_eq!(sheets_needed(&[((400.0, 100.0), 1)], SHEET), 2);
        assert_eq!(sheets_needed(&[((700.0, 400.0), 1)], SHEET), 6);
    }
}
