//! Pictures of pixels: from the bytes of a PNG or JPEG file to colours.

use image::metadata::Orientation;
use image::{DynamicImage, ImageDecoder, ImageError, ImageFormat, ImageReader, Limits};
use piece::read::{Pixels, Unread};
use std::io::Cursor;

/// Most memory that decoding may take, bytes: the pixels of the largest picture in 16 bits a channel,
/// and as much again.
const MOST_BYTES: u64 = 2 * 8 * Pixels::MOST as u64 * Pixels::MOST as u64;

/// The pixels, upright as the camera noted, on white where the picture is transparent. Errors: why
/// there are none.
pub fn decode(bytes: &[u8]) -> Result<Pixels, Unread> {
    let format = match image::guess_format(bytes) {
        Ok(format @ (ImageFormat::Png | ImageFormat::Jpeg)) => format,
        _ => {
            let why = "it is neither a PNG nor a JPEG picture";
            return Err(Unread::new(why, "save it as one of them"));
        }
    };
    let mut reader = ImageReader::with_format(Cursor::new(bytes), format);
    let mut limits = Limits::default();
    limits.max_alloc = Some(MOST_BYTES);
    reader.limits(limits);
    let mut decoder = reader.into_decoder().map_err(|why| broken(&why))?;
    let (across, down) = decoder.dimensions();
    if across.max(down) > Pixels::MOST {
        let why = format!(
            "it has {across} × {down} pixels, at most {most} × {most} are read",
            most = Pixels::MOST
        );
        return Err(Unread::new(why, "make it smaller in a picture program"));
    }
    let orientation = decoder.orientation().unwrap_or(Orientation::NoTransforms);
    let mut picture = DynamicImage::from_decoder(decoder).map_err(|why| broken(&why))?;
    picture.apply_orientation(orientation);
    let picture = picture.into_rgba8();
    let size = (picture.width() as usize, picture.height() as usize);
    let srgb = picture.pixels().map(|pixel| on_white(pixel.0)).collect();
    Ok(Pixels { size, srgb })
}

fn broken(why: &ImageError) -> Unread {
    match why {
        ImageError::Limits(_) => {
            let why = "it takes too much memory to open";
            Unread::new(why, "save it again with 8 bits a channel, or smaller")
        }
        _ => Unread::new("it is damaged or not whole", "save or fetch it again"),
    }
}

/// A colour laid over white.
fn on_white([red, green, blue, opacity]: [u8; 4]) -> [u8; 3] {
    let over = |channel: u8| {
        let opacity = u32::from(opacity);
        // Rounded; at most 255 by its making.
        ((u32::from(channel) * opacity + 255 * (255 - opacity) + 127) / 255) as u8
    };
    [red, green, blue].map(over)
}

#[cfg(test)]
mod tests {
    use super::*;
    use image::RgbaImage;

    fn png(picture: RgbaImage) -> Vec<u8> {
        let mut bytes = Cursor::new(Vec::new());
        picture.write_to(&mut bytes, ImageFormat::Png).expect("memory takes it");
        bytes.into_inner()
    }

    #[test]
    fn pixels_come_row_by_row_and_transparent_ones_lie_on_white() {
        let mut picture = RgbaImage::new(2, 2);
        picture.put_pixel(0, 0, image::Rgba([10, 20, 30, 255]));
        picture.put_pixel(1, 0, image::Rgba([0, 0, 0, 0]));
        picture.put_pixel(0, 1, image::Rgba([0, 0, 0, 51]));
        picture.put_pixel(1, 1, image::Rgba([200, 100, 0, 255]));
        let pixels = decode(&png(picture)).expect("a sound picture");
        assert_eq!(pixels.size, (2, 2));
        // A fifth of black on white is 204 (source-over of W3C Compositing and Blending, level 1).
        let expected = [[10, 20, 30], [255, 255, 255], [204, 204, 204], [200, 100, 0]];
        assert_eq!(pixels.srgb, expected);
    }

    #[test]
    fn what_is_no_picture_or_too_large_is_refused_in_words() {
        assert_eq!(decode(b"GIF89a").unwrap_err().why, "it is neither a PNG nor a JPEG picture");
        assert_eq!(decode(b"").unwrap_err().why, "it is neither a PNG nor a JPEG picture");
        let whole = png(RgbaImage::new(4001, 1));
        let told = decode(&whole).unwrap_err();
        assert_eq!(told.why, "it has 4001 × 1 pixels, at most 4000 × 4000 are read");
        assert!(told.hint.contains("smaller"), "{}", told.hint);
        let mut rough = RgbaImage::new(64, 64);
        for (x, y, pixel) in rough.enumerate_pixels_mut() {
            pixel.0 = [(x * 37 + y * 91) as u8, (x * y) as u8, (x ^ y) as u8, 255];
        }
        let whole = png(rough);
        assert_eq!(
            decode(&whole[..whole.len() / 2]).unwrap_err().why,
            "it is damaged or not whole"
        );
    }
}
