//! Where a drawing comes from: path data, an SVG file, or a picture that is traced.

use super::beside;
use crate::file::art::ArtFile;
use crate::read::Pixels;
use crate::resolve::Bench;
use crate::resolve::zones::LARGEST_MM;
use crate::{Art, FieldPath, Tracing};
use std::sync::Arc;

/// Ends of the names of pictures of pixels.
const PICTURES: [&str; 3] = [".png", ".jpg", ".jpeg"];

pub(super) fn drawing(file: &ArtFile, path: &FieldPath, bench: &mut Bench<'_>) -> Art {
    let name = file.file.as_ref().map(|name| name.0.clone());
    let picture = name.as_ref().is_some_and(|name| {
        let name = name.to_lowercase();
        PICTURES.iter().any(|end| name.ends_with(end))
    });
    if !picture {
        refuse_picture_keys(file, path, bench);
    }
    match name {
        Some(name) if picture => Art::Traced(tracing(file, name, path, bench)),
        Some(name) => {
            let text = beside(&name, &path.key("file"), bench, |bench| bench.art.svg(&name));
            let text = text.unwrap_or_else(|| Arc::from(""));
            Art::Svg { file: name, text, layer: file.layer.clone() }
        }
        None => {
            refuse_layer(file, "a path has no layers", path, bench);
            Art::Path(file.path.clone().unwrap_or_default())
        }
    }
}

fn tracing(file: &ArtFile, name: String, path: &FieldPath, bench: &mut Bench<'_>) -> Tracing {
    refuse_layer(file, "a picture of pixels has no layers", path, bench);
    let pixels = beside(&name, &path.key("file"), bench, |bench| bench.art.pixels(&name));
    let threshold = file.threshold.map_or(Tracing::THRESHOLD, |share| share.0);
    if !(threshold > 0.0 && threshold < 1.0) {
        let percent = (threshold * 1e6).round() / 1e4;
        bench.error_hint(
            &path.key("threshold"),
            format!(
                "the tone of the border is {percent} %; expected more than 0 % and less than 100 %"
            ),
            "0 % is black and 100 % is white; begin with 50 %",
        );
    }
    let least_mm = file.least.map_or(Tracing::LEAST_MM, |least| least.0);
    Tracing {
        file: name,
        pixels: Arc::new(pixels.unwrap_or(Pixels { size: (1, 1), srgb: vec![[0; 3]] })),
        threshold,
        darker: file.darker.unwrap_or(true),
        least_mm: bench.margin_mm(&path.key("least"), "the least width", least_mm, LARGEST_MM),
    }
}

fn refuse_layer(file: &ArtFile, why: &str, path: &FieldPath, bench: &mut Bench<'_>) {
    if file.layer.is_some() {
        let hint = "leave `layer` out, or draw from an SVG file";
        bench.error_hint(&path.key("layer"), why, hint);
    }
}

fn refuse_picture_keys(file: &ArtFile, path: &FieldPath, bench: &mut Bench<'_>) {
    let keys = [
        ("threshold", file.threshold.is_some()),
        ("darker", file.darker.is_some()),
        ("least", file.least.is_some()),
    ];
    for (key, _) in keys.into_iter().filter(|(_, given)| *given) {
        bench.error_hint(
            &path.key(key),
            format!("`{key}` is for tracing a picture, and this is a drawing"),
            "leave it out, or name a PNG or JPEG file (.png, .jpg)",
        );
    }
}
