//! Goods and amounts of stock and sellers files, checked.

use super::Bench;
use super::bounds::Desk;
use super::stones::material;
use crate::file::ware::{ContentFile, GoodsFile, WareFile};
use crate::units::shorten;
use crate::{FieldPath, Shade, StoneMaterial, StoneSize, Ware};

/// The goods; where something is missing, harmless ones.
pub(super) fn ware(file: &WareFile, path: &FieldPath, bench: &mut Bench<'_>) -> Ware {
    let kind = kind(file.goods);
    let fields = [
        ("material", file.material.is_some(), file.goods == GoodsFile::Stones, false),
        ("size", file.size.is_some(), file.goods == GoodsFile::Stones, true),
        ("colour", file.colour.is_some(), coloured(file.goods), true),
        ("flake", file.flake.is_some(), file.goods == GoodsFile::Glitter, true),
        ("name", file.name.is_some(), file.goods == GoodsFile::Supply, true),
    ];
    for (key, given, fits, needed) in fields {
        if given && !fits {
            bench.error_hint(
                &path.key(key),
                format!("`{key}` says nothing of goods = \"{kind}\""),
                "take it away",
            );
        } else if fits && needed && !given {
            bench.error_hint(path, format!("{kind} need `{key}`"), example(file.goods));
        }
    }
    let shade = || shade(file.colour.as_deref(), &path.key("colour"));
    match file.goods {
        GoodsFile::Stones => Ware::Stones {
            material: file.material.map_or(StoneMaterial::Glass, material),
            size: file.size.as_ref().map_or_else(
                || StoneSize { name: "SS10".to_owned(), diameter_mm: 2.8 },
                |size| size.0.clone(),
            ),
            shade: told(shade(), bench),
        },
        GoodsFile::Glue => Ware::Glue,
        GoodsFile::Resin => Ware::Resin,
        GoodsFile::Paint => Ware::Paint { shade: told(shade(), bench) },
        GoodsFile::Glitter => Ware::Glitter {
            flake_um: file.flake.map_or(0, |flake| (flake.0 * 1000.0).round().max(0.0) as u64),
            shade: told(shade(), bench),
        },
        GoodsFile::Film => Ware::Film { shade: told(shade(), bench) },
        GoodsFile::TransferTape => Ware::TransferTape,
        GoodsFile::Supply => Ware::Supply { name: file.name.clone().unwrap_or_default() },
    }
}

fn told(shade: Result<Shade, crate::Diagnostic>, bench: &mut Bench<'_>) -> Shade {
    shade.unwrap_or_else(|error| {
        bench.diagnostics.push(error);
        Shade { name: None, srgb: None }
    })
}

/// `#12343b` by its sRGB, anything else by its name.
fn shade(text: Option<&str>, path: &FieldPath) -> Result<Shade, crate::Diagnostic> {
    let Some(text) = text else { return Ok(Shade { name: None, srgb: None }) };
    if !text.starts_with('#') {
        return Ok(Shade { name: Some(text.to_owned()), srgb: None });
    }
    crate::file::scalars::srgb(text).map(|srgb| Shade { name: None, srgb: Some(srgb) }).map_err(
        |complaint| {
            let error = crate::Diagnostic::error(path.clone(), complaint.message);
            complaint.hints.into_iter().fold(error, crate::Diagnostic::hint)
        },
    )
}

fn coloured(goods: GoodsFile) -> bool {
    matches!(goods, GoodsFile::Stones | GoodsFile::Paint | GoodsFile::Glitter | GoodsFile::Film)
}

fn kind(goods: GoodsFile) -> &'static str {
    match goods {
        GoodsFile::Stones => "stones",
        GoodsFile::Glue => "glue",
        GoodsFile::Resin => "resin",
        GoodsFile::Paint => "paint",
        GoodsFile::Glitter => "glitter",
        GoodsFile::Film => "film",
        GoodsFile::TransferTape => "transfer-tape",
        GoodsFile::Supply => "supply",
    }
}

fn example(goods: GoodsFile) -> &'static str {
    match goods {
        GoodsFile::Stones => {
            "write for example { goods = \"stones\", size = \"SS10\", colour = \"#12343b\" }"
        }
        GoodsFile::Glitter => {
            "write for example { goods = \"glitter\", flake = \"0.4 mm\", colour = \"#d8c49a\" }"
        }
        GoodsFile::Supply => {
            "write its name as the studio file has it, such as { goods = \"supply\", name = \"box\" }"
        }
        _ => "write for example { goods = \"paint\", colour = \"#12343b\" }",
    }
}

/// How the goods are measured: the key, and a word for it.
fn measure(ware: &Ware) -> (&'static str, &'static str) {
    match ware {
        Ware::Glue | Ware::Resin | Ware::Paint { .. } => ("volume", "by volume"),
        Ware::Glitter { .. } => ("weight", "by weight"),
        Ware::Stones { .. } | Ware::Film { .. } | Ware::TransferTape | Ware::Supply { .. } => {
            ("count", "by number")
        }
    }
}

/// The amount in the unit of the goods; `None` if none is told, which is complained about unless it is
/// told otherwise. Amounts of 0 are complained about if `some` of it must be there.
pub(super) fn amount(
    content: ContentFile,
    ware: &Ware,
    (path, some): (&FieldPath, bool),
    on: &mut Desk<'_, '_>,
) -> Option<f64> {
    let (key, words) = measure(ware);
    let given = [
        ("count", content.count),
        ("volume", content.volume.map(|volume| volume.0)),
        ("weight", content.weight.map(|weight| weight.0)),
    ];
    for (other, value) in given {
        if value.is_some() && other != key {
            on.bench.error_hint(
                &path.key(other),
                format!("{} are measured {words}, not by `{other}`", shorten(&ware.words())),
                format!("write `{key}` instead"),
            );
            return Some(0.0);
        }
    }
    let value = given.into_iter().find(|(name, _)| *name == key).and_then(|(_, value)| value)?;
    let at = path.key(key);
    if ware.in_whole_ones() && value.fract() != 0.0 {
        on.bench
            .error(&at, format!("{value} is no whole number of {}", ware.unit().unwrap_or("them")));
    }
    // A count is bounded by the schema.
    if key != "count" && (value > 1e6 || (some && value <= 0.0)) {
        on.bench.error_hint(
            &at,
            format!("{value} {} are not expected here", ware.unit().unwrap_or_default()),
            if some { "write more than 0, up to 1,000,000" } else { "write 0 to 1,000,000" },
        );
    }
    Some(value)
}

/// The amount, complained about if none is told.
pub(super) fn needed_amount(
    content: ContentFile,
    ware: &Ware,
    (path, some): (&FieldPath, bool),
    on: &mut Desk<'_, '_>,
) -> f64 {
    let told = amount(content, ware, (path, some), on);
    told.unwrap_or_else(|| {
        let (key, words) = measure(ware);
        let example = match key {
            "volume" => "volume = \"500 ml\"",
            "weight" => "weight = \"56 g\"",
            _ => "count = 144",
        };
        on.bench.error_hint(
            path,
            format!("how much is it? {} is measured {words}", shorten(&ware.words())),
            format!("add it, such as {example}"),
        );
        0.0
    })
}
