//! Pictures of pixels as drawings: the line where their tone passes a threshold.

use crate::art::{Drawing, Filled};
use crate::simpler::simpler;
use contour::ContourBuilder;
use glam::DVec2;
use kurbo::BezPath;
use piece::read::Pixels;
use piece::{Diagnostic, FieldPath, Tracing};

/// Share of red, green and blue in the tone, in tenths of a thousandth (luma of Recommendation ITU-R
/// BT.709, section 3).
const LUMA: [u32; 3] = [2126, 7152, 722];

/// Tone of white.
const WHITE: u32 = 255 * 10_000;

/// Most places where the tone passes the threshold from one pixel to the next; more is grain.
const MOST_STEPS: usize = 1_000_000;

/// How far a line may be moved to have fewer corners, pixels.
const SMOOTH_PIXELS: f64 = 0.1;

/// The dark or the light parts of a picture, in pixels.
///
/// # Errors
/// All of it lies on one side of the threshold, or it is too grainy. `at` is the path of the art.
pub(crate) fn drawing(tracing: &Tracing, at: &FieldPath) -> Result<Drawing, Diagnostic> {
    let (across, down) = tracing.pixels.size;
    let tones: Vec<u32> = tracing.pixels.srgb.iter().map(tone).collect();
    // Halfway between two tones, so that no pixel lies on the border itself.
    let border = (tracing.threshold * f64::from(WHITE)).floor() + 0.5;
    let dark = |tone: &u32| f64::from(*tone) < border;
    let inside = tones.iter().filter(|tone| dark(tone) == tracing.darker).count();
    if inside == 0 || inside == tones.len() {
        return Err(one_tone(tracing, &tones, inside == 0, at));
    }
    let steps = (0..down)
        .flat_map(|y| tones[y * across..(y + 1) * across].windows(2))
        .filter(|pair| dark(&pair[0]) != dark(&pair[1]))
        .count();
    if steps > MOST_STEPS {
        let message = format!(
            "the tone of `{}` passes the threshold {steps} times from one pixel to the next, at most {MOST_STEPS} can be traced",
            tracing.file
        );
        return Err(Diagnostic::error(at.key("file"), message)
            .hint("It is grainy or a photograph; blur it or make it smaller first."));
    }
    let lines = lines(&tracing.pixels, &tones, border, tracing.darker);
    let mut path = BezPath::new();
    for line in lines {
        let mut points = simpler(&line, SMOOTH_PIXELS).into_iter();
        if let Some(first) = points.next() {
            path.move_to((first.x, first.y));
            points.for_each(|point| path.line_to((point.x, point.y)));
            path.close_path();
        }
    }
    let filled = vec![Filled { even_odd: true, ..Filled::plain(path) }];
    Ok(Drawing { filled, ..Drawing::default() })
}

fn tone(srgb: &[u8; 3]) -> u32 {
    srgb.iter().zip(LUMA).map(|(channel, share)| u32::from(*channel) * share).sum()
}

fn one_tone(tracing: &Tracing, tones: &[u32], nothing: bool, at: &FieldPath) -> Diagnostic {
    let percent = |tone: u32| f64::from(tone) / f64::from(WHITE) * 100.0;
    let (least, most) =
        tones.iter().fold((WHITE, 0), |(least, most), tone| (least.min(*tone), most.max(*tone)));
    let side = if tracing.darker { "darker" } else { "lighter" };
    let how_much = if nothing { "nothing" } else { "all" };
    let message = format!(
        "{how_much} of `{}` is {side} than {:.0} %: its tones run from {:.1} % to {:.1} %",
        tracing.file,
        tracing.threshold * 100.0,
        percent(least),
        percent(most)
    );
    let hint = if most - least < WHITE / 100 {
        "It is all one tone; choose another picture."
    } else {
        "Choose a threshold between those."
    };
    Diagnostic::error(at.key("threshold"), message).hint(hint)
}

/// Closed lines about what is inside, in pixels from the upper left corner of the picture. The ground
/// goes on about the picture by one pixel, so that what reaches its edge ends there.
fn lines(pixels: &Pixels, tones: &[u32], border: f64, darker: bool) -> Vec<Vec<DVec2>> {
    let (across, down) = pixels.size;
    let (wide, high) = (across + 2, down + 2);
    let sign = if darker { -1.0 } else { 1.0 };
    // As far outside as the farthest pixel inside is inside: the line then runs along the edge.
    let reach = |tone: &u32| sign * (f64::from(*tone) - border);
    let mut values = vec![f64::NEG_INFINITY; wide * high];
    for y in 0..down {
        for x in 0..across {
            values[(y + 1) * wide + x + 1] = reach(&tones[y * across + x]);
        }
    }
    for y in 0..high {
        for x in 0..wide {
            if values[y * wide + x] == f64::NEG_INFINITY {
                let (nx, ny) = (x.clamp(1, across), y.clamp(1, down));
                values[y * wide + x] = -values[ny * wide + nx].abs();
            }
        }
    }
    let builder = ContourBuilder::new(wide, high, true).x_origin(-1.0).y_origin(-1.0);
    let traced = builder.lines(&values, &[0.0]).unwrap_or_default();
    let lines = traced.iter().flat_map(|one| one.geometry().0.iter());
    lines.map(|line| line.0.iter().map(|at| DVec2::new(at.x, at.y)).collect()).collect()
}
