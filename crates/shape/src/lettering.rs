//! Words as outlines, and the typefaces that ship with the program.

use crate::art::{Drawing, Filled};
use crate::layers::Mark;
use crate::runs::runs;
use harfrust::{Direction, Feature, ShapeOptions, ShaperData, Tag, UnicodeBuffer};
use kurbo::{Affine, BezPath, Shape as _};
use piece::nearest::nearest;
use piece::{Diagnostic, FieldPath, Font};
use skrifa::instance::{LocationRef, Size};
use skrifa::outline::{DrawSettings, OutlinePen};
use skrifa::{FontRef, GlyphId, MetadataProvider as _};

/// A typeface that ships with the program, under the SIL Open Font License 1.1; its licence text lies
/// beside it in `fonts/`.
#[derive(Debug, Clone, Copy)]
pub struct ShippedFont {
    /// Name in piece files.
    pub name: &'static str,
    /// What it looks like, for choosing.
    pub looks: &'static str,
    /// The TrueType file.
    pub bytes: &'static [u8],
}

static SHIPPED: [ShippedFont; 4] = [
    ShippedFont {
        name: "rubik-bold",
        looks: "sturdy sans serif with soft corners; easy to weed",
        bytes: include_bytes!("../fonts/rubik-bold/rubik-bold.ttf"),
    },
    ShippedFont {
        name: "bitter-bold",
        looks: "slab serif",
        bytes: include_bytes!("../fonts/bitter-bold/bitter-bold.ttf"),
    },
    ShippedFont {
        name: "nunito-extrabold",
        looks: "heavy sans serif with round ends",
        bytes: include_bytes!("../fonts/nunito-extrabold/nunito-extrabold.ttf"),
    },
    ShippedFont {
        name: "pacifico",
        looks: "connected script; a word is one shape",
        bytes: include_bytes!("../fonts/pacifico/pacifico.ttf"),
    },
];

/// The typefaces that ship with the program.
pub fn shipped_fonts() -> &'static [ShippedFont] {
    &SHIPPED
}

/// Longest text that can be set, characters.
const LONGEST: usize = 400;

/// Words as a drawing in font units. `at` is the path of the lettering.
pub(crate) fn drawing(
    text: &str,
    font: &Font,
    stacked: bool,
    at: &FieldPath,
) -> Result<Drawing, Vec<Diagnostic>> {
    let mut wrong = Vec::new();
    if text.trim().is_empty() {
        wrong.push(
            Diagnostic::error(at.key("text"), "there are no letters in this text")
                .hint("Write the words to set."),
        );
    }
    if text.chars().count() > LONGEST {
        let message =
            format!("this text has {} characters, more than {LONGEST}", text.chars().count());
        wrong.push(Diagnostic::error(at.key("text"), message).hint("Set it as several zones."));
    }
    if text.trim().contains(breaks_line) {
        wrong.push(
            Diagnostic::error(
                at.key("text"),
                "lettering is one line, but this text has a line break or tab",
            )
            .hint("Write one zone for each line."),
        );
    }
    let bytes = bytes(font, &at.key("font")).map_err(|found| wrong.push(found)).ok();
    let (Some(bytes), true) = (bytes, wrong.is_empty()) else { return Err(wrong) };
    let unreadable = |message: &str| {
        vec![
            Diagnostic::error(at.key("font"), message)
                .hint("Use a TrueType or OpenType file (.ttf, .otf)."),
        ]
    };
    let font = FontRef::from_index(bytes, 0)
        .map_err(|_| unreadable("this is not a readable font file"))?;
    let glyphs = line(text.trim(), &font, stacked).map_err(|missing| {
        let list: Vec<String> =
            missing.iter().map(|c| format!("`{c}` (U+{:04X})", u32::from(*c))).collect();
        vec![
            Diagnostic::error(
                at.key("text"),
                format!("the typeface has no letter for {}", list.join(", ")),
            )
            .hint("Choose another typeface or other letters."),
        ]
    })?;
    if glyphs.letters.iter().all(|letter| letter.ink.is_empty()) {
        let message =
            "nothing of this text can be seen: it has only spaces and characters without width";
        return Err(vec![
            Diagnostic::error(at.key("text"), message).hint("Write the words to set."),
        ]);
    }
    let capital = font
        .charmap()
        .map('H')
        .and_then(|glyph| outline(&font, glyph))
        .map(|path| path.bounding_box())
        .filter(|bounds| bounds.height() > 0.0)
        .map(|bounds| -bounds.y0)
        .ok_or_else(|| {
            unreadable("this font has no capital H, by which the height of letters is measured")
        })?;
    if stacked {
        if glyphs.from_right {
            let message = "words of a script that runs from right to left cannot be stacked";
            return Err(vec![
                Diagnostic::error(at.key("lie"), message).hint("Set them level, or turn them."),
            ]);
        }
        return Ok(Drawing {
            filled: column(glyphs.letters, capital),
            capital: Some(capital),
            stacked: true,
        });
    }
    let filled = glyphs.letters.into_iter().flat_map(|letter| letter.ink).collect();
    Ok(Drawing { filled, capital: Some(capital), stacked: false })
}

/// Control characters, and the two separators that Unicode has for lines and paragraphs.
fn breaks_line(one: char) -> bool {
    one.is_control() || matches!(one, '\u{2028}' | '\u{2029}')
}

fn bytes<'a>(font: &'a Font, at: &FieldPath) -> Result<&'a [u8], Diagnostic> {
    match font {
        Font::Own { bytes, .. } => Ok(bytes),
        Font::Shipped(name) => {
            let known = SHIPPED.iter().find(|font| font.name == name.as_str());
            known.map(|font| font.bytes).ok_or_else(|| {
                let names: Vec<&str> = SHIPPED.iter().map(|font| font.name).collect();
                let wrong = Diagnostic::error(at.clone(), format!("there is no typeface `{name}`"));
                let wrong = match nearest(name, &names) {
                    Some(meant) => wrong.hint(format!("Did you mean `{meant}`?")),
                    None => wrong,
                };
                wrong.hint(format!(
                    "These ship with the program: {}; or name a font file (.ttf, .otf) beside the piece file.",
                    names.join(", ")
                ))
            })
        }
    }
}

/// What belongs to one or more characters that cannot be told apart: a letter with its accents, a
/// ligature, a space.
struct Letter {
    ink: Vec<Filled>,
    /// Byte of the text at which it begins.
    begins: usize,
}

/// A line as it is set.
struct Line {
    /// From left to right.
    letters: Vec<Letter>,
    /// Some of it runs from right to left.
    from_right: bool,
}

/// A line of letters, y downwards, baseline at 0: kerning, ligatures, accents; what runs from right to
/// left stands in its place among what does not. `apart` leaves out what joins letters.
///
/// # Errors
/// The characters that the font lacks.
fn line(text: &str, font: &FontRef, apart: bool) -> Result<Line, Vec<char>> {
    let joining: &[Feature] = &JOINING.map(|tag| Feature::new(Tag::new(tag), 0, ..));
    let features = if apart { joining } else { &[] };
    let data = ShaperData::new(font);
    let shaper = data.shaper(font).build();
    let mut missing: Vec<char> = Vec::new();
    let mut letters: Vec<Letter> = Vec::new();
    let mut pen = 0.0;
    let runs = runs(text);
    for run in &runs {
        let mut buffer = UnicodeBuffer::new();
        buffer.push_str(&text[run.bytes.clone()]);
        buffer.guess_segment_properties();
        // The shaper mirrors brackets itself where it sets from right to left.
        buffer.set_direction(if run.from_right {
            Direction::RightToLeft
        } else {
            Direction::LeftToRight
        });
        let shaped = shaper.shape(buffer, ShapeOptions::new().features(features));
        for (info, position) in shaped.glyph_infos().iter().zip(shaped.glyph_positions()) {
            let begins = run.bytes.start + info.cluster as usize;
            let first = text.get(begins..).and_then(|rest| rest.chars().next());
            if info.glyph_id == 0 {
                missing.extend(first);
            }
            if letters.last().is_none_or(|letter| letter.begins != begins) {
                letters.push(Letter { ink: Vec::new(), begins });
            }
            let at = (pen + f64::from(position.x_offset), -f64::from(position.y_offset));
            let outline =
                outline(font, GlyphId::new(info.glyph_id)).filter(|path| !path.is_empty());
            if let (Some(path), Some(letter)) = (outline, letters.last_mut()) {
                let path = Affine::translate(at) * path;
                let names = first.map(|c| c.to_string().into()).into_iter().collect();
                let mark = Mark { srgb: None, names };
                letter.ink.push(Filled { mark, ..Filled::plain(path) });
            }
            pen += f64::from(position.x_advance);
        }
    }
    missing.sort_unstable();
    missing.dedup();
    let from_right = runs.iter().any(|run| run.from_right);
    if missing.is_empty() { Ok(Line { letters, from_right }) } else { Err(missing) }
}

/// What makes one shape of several letters: ligatures, also those by the neighbours.
const JOINING: [&[u8; 4]; 4] = [b"liga", b"clig", b"calt", b"dlig"];

/// Room between the ink of letters below each other, and of a space, as a share of a capital's height
/// (common practice among sign writers, no source: a quarter to a third; half for a space).
const COLUMN_GAP: f64 = 0.3;
const COLUMN_SPACE: f64 = 0.5;

/// Letters below each other, each centred on x = 0.
fn column(letters: Vec<Letter>, capital: f64) -> Vec<Filled> {
    let mut filled = Vec::new();
    let mut top = 0.0;
    for letter in letters {
        let bounds = letter.ink.iter().map(|one| one.path.bounding_box());
        let Some(bounds) = bounds.reduce(|a, b| a.union(b)) else {
            top += COLUMN_SPACE * capital;
            continue;
        };
        let moved = Affine::translate((-bounds.center().x, top - bounds.y0));
        filled.extend(letter.ink.into_iter().map(|one| Filled { path: moved * one.path, ..one }));
        top += bounds.height() + COLUMN_GAP * capital;
    }
    filled
}

/// A glyph's outline in font units, y downwards.
fn outline(font: &FontRef, glyph: GlyphId) -> Option<BezPath> {
    let mut pen = Pen(BezPath::new());
    let settings = DrawSettings::unhinted(Size::unscaled(), LocationRef::default());
    font.outline_glyphs().get(glyph)?.draw(settings, &mut pen).ok()?;
    Some(pen.0)
}

struct Pen(BezPath);

fn flipped(x: f32, y: f32) -> (f64, f64) {
    (f64::from(x), -f64::from(y))
}

impl OutlinePen for Pen {
    fn move_to(&mut self, x: f32, y: f32) {
        self.0.move_to(flipped(x, y));
    }

    fn line_to(&mut self, x: f32, y: f32) {
        self.0.line_to(flipped(x, y));
    }

    fn quad_to(&mut self, cx: f32, cy: f32, x: f32, y: f32) {
        self.0.quad_to(flipped(cx, cy), flipped(x, y));
    }

    fn curve_to(&mut self, ax: f32, ay: f32, bx: f32, by: f32, x: f32, y: f32) {
        self.0.curve_to(flipped(ax, ay), flipped(bx, by), flipped(x, y));
    }

    fn close(&mut self) {
        self.0.close_path();
    }
}
