//! Pixels packed as PNG, in sRGB with eight bits to a colour.

use resvg::tiny_skia::Pixmap;

/// Packs rows of red, green and blue, how hard by `level` of 9, or as the library would.
///
/// # Errors
/// There are not so many pixels, or none.
pub fn packed(
    rgb: &[u8],
    (width, height): (u32, u32),
    level: Option<u8>,
) -> Result<Vec<u8>, png::EncodingError> {
    let mut bytes = Vec::new();
    let mut encoder = png::Encoder::new(&mut bytes, width, height);
    encoder.set_color(png::ColorType::Rgb);
    encoder.set_depth(png::BitDepth::Eight);
    if let Some(level) = level {
        encoder.set_deflate_compression(png::DeflateCompression::Level(level));
    }
    encoder.set_source_srgb(png::SrgbRenderingIntent::Perceptual);
    let mut writer = encoder.write_header()?;
    writer.write_image_data(rgb)?;
    writer.finish()?;
    Ok(bytes)
}

/// Packs a drawing whose every pixel is opaque.
///
/// # Errors
/// As [`packed`].
pub fn drawn(canvas: &Pixmap) -> Result<Vec<u8>, png::EncodingError> {
    let rgb: Vec<u8> =
        canvas.pixels().iter().flat_map(|at| [at.red(), at.green(), at.blue()]).collect();
    packed(&rgb, (canvas.width(), canvas.height()), None)
}
