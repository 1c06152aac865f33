//! Stones of a zone: its layouts in order, what they are made of, and its rules.

mod colours;
mod followed;
mod layout;
mod line;
mod rules;
mod sizes;
mod way;

pub(super) use followed::followed;
pub(super) use layout::cut_spirals;
pub(super) use rules::rules;

use super::Bench;
use super::colours::Palette;
use crate::file::stones::{LayerFile, MaterialFile, StonesFile};
use crate::{FieldPath, Form, Part, StoneFinish, StoneLayer, StoneMaterial, StoneRules, StoneSize};

/// Clear distance between two stones unless said otherwise, mm: a hand gap (common practice, no source).
const HAND_GAP_MM: f64 = 0.1;

pub(super) fn stones(
    file: &StonesFile,
    part: Option<&Part>,
    path: &FieldPath,
    palette: &mut Palette,
    bench: &mut Bench<'_>,
) -> StoneFinish {
    let layers: Vec<(&LayerFile, FieldPath)> = match file {
        StonesFile::One(layer) => vec![(layer.as_ref(), path.clone())],
        StonesFile::Layers(layers) => {
            layers.iter().enumerate().map(|(index, layer)| (layer, path.index(index))).collect()
        }
    };
    let material = common_material(&layers, bench);
    let form = part.map(|part| &part.form);
    let read: Vec<(StoneLayer, Vec<StoneSize>)> = layers
        .iter()
        .enumerate()
        .map(|(index, (file, path))| layer(file, index == 0, form, path, palette, bench))
        .collect();
    // One list of sizes for the whole zone, largest first.
    let mut sizes: Vec<StoneSize> = read.iter().flat_map(|(_, sizes)| sizes.clone()).collect();
    sizes.sort_by(|a, b| b.diameter_mm.total_cmp(&a.diameter_mm));
    sizes.dedup_by(|a, b| a.diameter_mm == b.diameter_mm);
    let place = |size: &StoneSize| {
        sizes.iter().position(|one| one.diameter_mm == size.diameter_mm).unwrap_or(0)
    };
    let layers = read
        .into_iter()
        .map(|(mut layer, own)| {
            layer.sizes.iter_mut().for_each(|(index, _)| *index = place(&own[*index]));
            layer
        })
        .collect();
    StoneFinish { layers, sizes, material, rules: StoneRules::default() }
}

/// One layer, with its own list of sizes that its indices mean for now.
fn layer(
    file: &LayerFile,
    first: bool,
    form: Option<&Form>,
    path: &FieldPath,
    palette: &mut Palette,
    bench: &mut Bench<'_>,
) -> (StoneLayer, Vec<StoneSize>) {
    let layout = layout::layout(file, first, form, path, bench);
    let sized = sizes::sizes(file, form, path, bench);
    let (colours, colouring) = colours::colours(file, form, path, palette, bench);
    let gap_mm = file.gap.map_or(HAND_GAP_MM, |gap| gap.0);
    bench.margin_mm(&path.key("gap"), "the gap", gap_mm, 50.0);
    let layer = StoneLayer {
        layout,
        sizes: sized.shares.into_iter().enumerate().collect(),
        blend: sized.blend,
        grade: sized.grade,
        colours,
        colouring,
        gap_mm,
    };
    (layer, sized.sizes)
}

/// What all layers are made of: what the first that says so says.
fn common_material(layers: &[(&LayerFile, FieldPath)], bench: &mut Bench<'_>) -> StoneMaterial {
    let said = layers.iter().filter_map(|(layer, path)| Some((material(layer.material?), path)));
    let mut common: Option<StoneMaterial> = None;
    for (of_layer, path) in said {
        match common {
            Some(common) if common != of_layer => bench.error_hint(
                &path.key("material"),
                format!(
                    "stones of one zone are of one material; found {} after {}",
                    of_layer.name(),
                    common.name()
                ),
                "make a second zone for the other material",
            ),
            _ => common = Some(of_layer),
        }
    }
    common.unwrap_or(StoneMaterial::Glass)
}

pub(super) fn material(file: MaterialFile) -> StoneMaterial {
    match file {
        MaterialFile::Glass => StoneMaterial::Glass,
        MaterialFile::LeadCrystal => StoneMaterial::LeadCrystal,
        MaterialFile::Resin => StoneMaterial::Resin,
    }
}

/// A key that is given although nothing would come of it.
fn idle(given: bool, key: &str, why: &str, hint: &str, path: &FieldPath, bench: &mut Bench<'_>) {
    if given {
        bench.error_hint(&path.key(key), why, hint);
    }
}
