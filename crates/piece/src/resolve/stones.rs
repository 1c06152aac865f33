//! Stones of a zone: sizes and colours with their shares.

use super::Bench;
use super::colours::Palette;
use crate::file::finish::{
    ColourShare, FollowFile, LayoutFile, MaterialFile, SizeShare, StonesFile,
};
use crate::{
    Blend, Colouring, FieldPath, Follow, Layout, Stagger, StoneFinish, StoneLayer, StoneMaterial,
    StoneRules, StoneSize, Taper,
};
use std::collections::BTreeSet;

/// Clear distance between two stones unless said otherwise, mm: a hand gap (common practice, no source).
const HAND_GAP_MM: f64 = 0.1;
/// Shares may miss 100 % by this much, so that thirds can be typed as 33.3 %.
const SHARE_SLACK: f64 = 0.0015;

pub(super) fn stones(
    file: &StonesFile,
    path: &FieldPath,
    palette: &mut Palette,
    bench: &mut Bench<'_>,
) -> StoneFinish {
    let layout = match file.layout {
        LayoutFile::Rows => Layout::Rows {
            follow: match file.follow {
                Some(FollowFile::Edge) => Follow::Edge,
                Some(FollowFile::Level) | None => Follow::Level,
            },
            stagger: Stagger::Offset,
            taper: Taper::Spread,
        },
        LayoutFile::Scatter => {
            if file.follow.is_some() {
                bench.error_hint(
                    &path.key("follow"),
                    "a scatter has no rows that could follow a line",
                    "leave `follow` out, or set layout = \"rows\"",
                );
            }
            Layout::Scatter
        }
    };
    let sizes = sizes(file, path, bench);
    if matches!(layout, Layout::Rows { .. }) && sizes.len() > 1 {
        bench.error_hint(
            &path.key("sizes"),
            format!("rows are of one size; found {}", sizes.len()),
            "keep one size, or set layout = \"scatter\"",
        );
    }
    let colours = match (&file.colour, &file.colours) {
        (Some(name), _) => vec![(palette.find(&path.key("colour"), name, bench), 1.0)],
        (None, Some(blend)) => blended(blend, &path.key("colours"), palette, bench),
        (None, None) => Vec::new(),
    };
    let gap_mm = file.gap.map_or(HAND_GAP_MM, |gap| gap.0);
    bench.margin_mm(&path.key("gap"), "the gap", gap_mm, 50.0);
    let (sizes, shares): (Vec<StoneSize>, Vec<f64>) = sizes.into_iter().unzip();
    let layer = StoneLayer {
        layout,
        sizes: shares.into_iter().enumerate().collect(),
        blend: Blend::Count,
        grade: None,
        colours,
        colouring: Colouring::Mingled,
        gap_mm,
    };
    StoneFinish {
        layers: vec![layer],
        sizes,
        material: material(file.material),
        rules: StoneRules::default(),
    }
}

pub(super) fn material(file: MaterialFile) -> StoneMaterial {
    match file {
        MaterialFile::Glass => StoneMaterial::Glass,
        MaterialFile::LeadCrystal => StoneMaterial::LeadCrystal,
        MaterialFile::Resin => StoneMaterial::Resin,
    }
}

fn sizes(file: &StonesFile, path: &FieldPath, bench: &mut Bench<'_>) -> Vec<(StoneSize, f64)> {
    let Some(blend) = &file.sizes else {
        return file.size.iter().map(|size| (size.0.clone(), 1.0)).collect();
    };
    let path = path.key("sizes");
    for (index, one) in blend.iter().enumerate() {
        let same = |other: &&SizeShare| other.size.0.diameter_mm == one.size.0.diameter_mm;
        if blend[..index].iter().any(|other| same(&other)) {
            bench.error(
                &path.index(index).key("size"),
                format!("the size {} is listed twice", one.size.0.name),
            );
        }
    }
    let shares: Vec<f64> = blend.iter().map(|one: &SizeShare| one.share.0).collect();
    let shares = summed(&shares, &path, bench);
    let mut sizes: Vec<_> = blend.iter().map(|one| one.size.0.clone()).zip(shares).collect();
    sizes.sort_by(|a, b| b.0.diameter_mm.total_cmp(&a.0.diameter_mm));
    sizes
}

fn blended(
    blend: &[ColourShare],
    path: &FieldPath,
    palette: &mut Palette,
    bench: &mut Bench<'_>,
) -> Vec<(usize, f64)> {
    let mut listed = BTreeSet::new();
    let mut colours = Vec::new();
    for (index, one) in blend.iter().enumerate() {
        let path = path.index(index).key("colour");
        colours.push(palette.find(&path, &one.colour, bench));
        if !listed.insert(one.colour.as_str()) {
            bench.error(&path, format!("the colour `{}` is listed twice", one.colour));
        }
    }
    let shares: Vec<f64> = blend.iter().map(|one| one.share.0).collect();
    colours.into_iter().zip(summed(&shares, path, bench)).collect()
}

/// Shares scaled to sum to 1 exactly, complained about where they do not nearly do so as typed.
fn summed(shares: &[f64], path: &FieldPath, bench: &mut Bench<'_>) -> Vec<f64> {
    for (index, _) in shares.iter().enumerate().filter(|(_, share)| **share <= 0.0) {
        bench.error_hint(
            &path.index(index).key("share"),
            "the share is 0 %; it must be more",
            "remove the entry instead",
        );
    }
    let sum: f64 = shares.iter().sum();
    if (sum - 1.0).abs() > SHARE_SLACK {
        let percent = (sum * 1e4).round() / 1e2;
        let way = if sum < 1.0 { "short of" } else { "over" };
        let off = ((sum - 1.0).abs() * 1e4).round() / 1e2;
        bench.error_hint(
            path,
            format!("the shares sum to {percent} %; expected 100 %"),
            format!("they are {off} % {way} 100 %"),
        );
    }
    shares.iter().map(|share| share / sum).collect()
}
