//! Stones as they are typed: one layout or several, and rules for their sizes.

use super::scalars::{Density, Length, Share, Size};
use super::way::{PictureFile, WayFile};
use schemars::JsonSchema;
use serde::Deserialize;

/// Flat-back stones: one layout, or a list of them of which each fills what those before leave free.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(untagged)]
pub enum StonesFile {
    /// One layout.
    One(Box<LayerFile>),
    /// Several, in the order of work.
    Layers(#[schemars(length(min = 1, max = 12))] Vec<LayerFile>),
}

impl StonesFile {
    /// The layouts in the order of work.
    pub fn layers(&self) -> &[LayerFile] {
        match self {
            Self::One(layer) => std::slice::from_ref(layer.as_ref()),
            Self::Layers(layers) => layers,
        }
    }
}

/// One layout of stones.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(extend("allOf" = [
    {"oneOf": [{"required": ["size"]}, {"required": ["sizes"]}]},
    {"oneOf": [{"required": ["colour"]}, {"required": ["colours"]}]}
]))]
pub struct LayerFile {
    /// How they are laid.
    pub layout: LayoutFile,
    /// Which line rows run along; left out, level. Only with `layout = "rows"`.
    pub follow: Option<FollowFile>,
    /// How a row lies against the one before; left out, offset. Only with `layout = "rows"`.
    pub stagger: Option<StaggerFile>,
    /// What rows do where the part narrows; left out, spread. Only with `layout = "rows"`.
    pub taper: Option<TaperFile>,
    /// Rows of equal count in a group; left out, as many as fill best. Only with `taper = "groups"`.
    #[schemars(range(min = 1, max = 200))]
    pub group_rows: Option<u32>,
    /// How many rows; left out, one. Only with `layout = "outline"`.
    #[schemars(range(min = 1, max = 40))]
    pub rows: Option<u32>,
    /// How many times its stones are pressed closer; left out, 6 to 20 by how many there are. Only with `layout = "scatter"`.
    #[schemars(range(max = 1000))]
    pub rounds: Option<u32>,
    /// Least distance between two centres. Only with `layout = "sparse"`, which needs it.
    pub apart: Option<Length>,
    /// How many there are for an area; left out, as many as the distance allows. Only with `layout = "sparse"`.
    pub density: Option<Density>,
    /// Their one size.
    pub size: Option<Size>,
    /// Several sizes with their share; the shares sum to 100 %, or are left out for equal ones.
    #[schemars(length(min = 1, max = 12))]
    pub sizes: Option<Vec<SizeShare>>,
    /// What the shares of the sizes mean; left out, shares of the count (of pockets: weights).
    pub blend: Option<BlendFile>,
    /// Sizes change from the first listed to the last along this way, instead of being mixed.
    pub grade: Option<WayFile>,
    /// Name of their one colour.
    pub colour: Option<String>,
    /// Several colours: names, or tables with a share by count or a place on the gradient.
    #[schemars(length(min = 1, max = 40))]
    pub colours: Option<Vec<ColourEntry>>,
    /// Colours change from one to the next along this way, instead of being mingled.
    pub gradient: Option<WayFile>,
    /// Colours as in a picture, out of those listed.
    pub picture: Option<PictureFile>,
    /// Least clear distance between two stones, in space; left out, 0.1 mm.
    pub gap: Option<Length>,
    /// What they are made of; left out, glass, or what the other layouts of the zone say.
    pub material: Option<MaterialFile>,
}

/// How stones fill a zone.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum LayoutFile {
    /// Rows of one size.
    Rows,
    /// Mixed sizes packed with no order.
    Scatter,
    /// Rows of one size along every edge of the zone.
    Outline,
    /// Rows of one size that follow the zone's edge inward, ring by ring.
    Rings,
    /// One row of one size along the middle of every stroke of lettering or of a drawing.
    Line,
    /// Single stones far apart.
    Sparse,
    /// Small stones in the pockets that the layouts before leave.
    Pockets,
}

/// Which line rows run along.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum FollowFile {
    /// Level rings.
    Level,
    /// The zone's edge nearer the rim, then inward.
    Edge,
    /// One row that rises round the part like a thread.
    Spiral,
}

/// How a row lies against the one before.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum StaggerFile {
    /// Shifted by half a stone (a honeycomb).
    Offset,
    /// Stone under stone.
    Aligned,
}

/// What rows do where the part narrows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum TaperFile {
    /// Every row has as many stones as it takes.
    Spread,
    /// Rows keep their columns but for a narrow wedge at the back.
    Wedge,
    /// Groups of rows of equal count.
    Groups,
}

/// What shares of sizes mean.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum BlendFile {
    /// Shares of the number of stones.
    Count,
    /// Shares of the area that stones cover.
    Area,
    /// Weights: whatever covers most, a size of more weight being liked better.
    Free,
}

/// What stones are made of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum MaterialFile {
    /// Glass; whether it is free of lead only a test of the lot can tell.
    #[default]
    Glass,
    /// Leaded crystal.
    LeadCrystal,
    /// Moulded resin.
    Resin,
}

/// A size and its share.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SizeShare {
    /// The size.
    pub size: Size,
    /// Its share; left out for all, they are equal.
    pub share: Option<Share>,
}

/// A colour of several.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(untagged)]
pub enum ColourEntry {
    /// Its name alone.
    Name(String),
    /// With its share or place.
    Table(ColourShare),
}

/// A colour with its share or its place on a gradient.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ColourShare {
    /// Name of the colour.
    pub colour: String,
    /// Its share by count; left out for all, they are equal. Not with a gradient or a picture.
    pub share: Option<Share>,
    /// Where on the gradient it is pure; left out, evenly between its neighbours. Only with `gradient`.
    pub at: Option<Share>,
}

impl ColourEntry {
    /// Name of the colour.
    pub fn name(&self) -> &str {
        match self {
            Self::Name(name) => name,
            Self::Table(table) => &table.colour,
        }
    }

    /// The share, if given.
    pub fn share(&self) -> Option<Share> {
        match self {
            Self::Name(_) => None,
            Self::Table(table) => table.share,
        }
    }

    /// The place on the gradient, if given.
    pub fn at(&self) -> Option<Share> {
        match self {
            Self::Name(_) => None,
            Self::Table(table) => table.at,
        }
    }
}

/// Which sizes of stones may lie where.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct StoneRulesFile {
    /// Near the ends of the part, where fingers and lids wear stones off, only large ones.
    pub wear: Option<WearFile>,
    /// Thickest bond line that the glue fills, which bounds the size of a flat stone on a curved wall.
    pub bond_line: Option<Length>,
    /// Plan no more of a size and colour than the drawer of the studio file has.
    #[serde(default)]
    pub from_drawer: bool,
    /// Stones may reach over the border to a neighbouring zone of the same stones that lets them, too:
    /// such zones are filled as one, and each stone has the colours of the zone under its middle.
    #[serde(default)]
    pub straddle: bool,
}

/// The least size near the ends of the part.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct WearFile {
    /// How near.
    pub within: Length,
    /// The least size there.
    pub least: Size,
}
