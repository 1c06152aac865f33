//! What tells one kind of goods from another: what a bill asks for, a seller offers and a shelf holds.

use crate::{StoneMaterial, StoneSize};

/// One kind of goods.
#[derive(Debug, Clone, PartialEq)]
pub enum Ware {
    /// Flat-back stones.
    Stones {
        /// What they are of.
        material: StoneMaterial,
        /// Their size.
        size: StoneSize,
        /// Their colour.
        shade: Shade,
    },
    /// Glue for stones.
    Glue,
    /// Resin, both parts together.
    Resin,
    /// Paint.
    Paint {
        /// Its colour.
        shade: Shade,
    },
    /// Glitter.
    Glitter {
        /// Width of a flake, µm.
        flake_um: u64,
        /// Its colour.
        shade: Shade,
    },
    /// Adhesive film, in the studio's sheets.
    Film {
        /// Its colour.
        shade: Shade,
    },
    /// Transfer tape, in the same sheets.
    TransferTape,
    /// A supply of the studio file.
    Supply {
        /// Its name there.
        name: String,
    },
}

/// A colour as a bill, a seller or a label tells it: by name, by sRGB, or both; at least one of them.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Shade {
    /// Its name.
    pub name: Option<String>,
    /// sRGB components, 0 to 255.
    pub srgb: Option<[u8; 3]>,
}

impl Shade {
    /// Whether both are the same colour: by sRGB where both tell it, else by name.
    pub fn is(&self, other: &Self) -> bool {
        match (self.srgb, other.srgb) {
            (Some(one), Some(another)) => one == another,
            _ => self.name.is_some() && self.name == other.name,
        }
    }

    /// Its name, or its sRGB as `#12343b`.
    pub fn words(&self) -> String {
        match (&self.name, self.srgb) {
            (Some(name), _) => name.clone(),
            (None, Some([red, green, blue])) => format!("#{red:02x}{green:02x}{blue:02x}"),
            (None, None) => String::new(),
        }
    }
}

impl Ware {
    /// Whether both are the same goods.
    pub fn is(&self, other: &Self) -> bool {
        self.is_but_for_colour(other)
            && match (self.shade(), other.shade()) {
                (Some(one), Some(another)) => one.is(another),
                _ => true,
            }
    }

    /// The same, whatever their colours.
    pub fn is_but_for_colour(&self, other: &Self) -> bool {
        match (self, other) {
            (
                Self::Stones { material, size, .. },
                Self::Stones { material: material_b, size: size_b, .. },
            ) => material == material_b && size.name == size_b.name,
            (Self::Glitter { flake_um, .. }, Self::Glitter { flake_um: other, .. }) => {
                flake_um == other
            }
            (Self::Supply { name }, Self::Supply { name: other }) => name == other,
            _ => std::mem::discriminant(self) == std::mem::discriminant(other),
        }
    }

    /// Its colour, if it has one.
    pub fn shade(&self) -> Option<&Shade> {
        match self {
            Self::Stones { shade, .. }
            | Self::Paint { shade }
            | Self::Glitter { shade, .. }
            | Self::Film { shade } => Some(shade),
            Self::Glue | Self::Resin | Self::TransferTape | Self::Supply { .. } => None,
        }
    }

    /// For people: `SS10 glass, deep tide`.
    pub fn words(&self) -> String {
        match self {
            Self::Stones { material, size, shade } => {
                format!("{} {}, {}", size.name, material.name(), shade.words())
            }
            Self::Glue => "clear glue for stones".to_owned(),
            Self::Resin => "resin".to_owned(),
            Self::Paint { shade } => format!("paint, {}", shade.words()),
            Self::Glitter { flake_um, shade } => {
                format!("glitter {} mm, {}", *flake_um as f64 / 1000.0, shade.words())
            }
            Self::Film { shade } => format!("film, {}", shade.words()),
            Self::TransferTape => "transfer tape".to_owned(),
            Self::Supply { name } => name.clone(),
        }
    }

    /// The unit that it is counted in; `None` for a supply, whose unit the studio file tells.
    pub fn unit(&self) -> Option<&'static str> {
        Some(match self {
            Self::Stones { .. } => "stones",
            Self::Glue | Self::Resin | Self::Paint { .. } => "ml",
            Self::Glitter { .. } => "g",
            Self::Film { .. } | Self::TransferTape => "sheets",
            Self::Supply { .. } => return None,
        })
    }

    /// Whether only whole ones can be counted.
    pub fn in_whole_ones(&self) -> bool {
        matches!(self, Self::Stones { .. } | Self::Film { .. } | Self::TransferTape)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shade(name: Option<&str>, srgb: Option<[u8; 3]>) -> Shade {
        Shade { name: name.map(str::to_owned), srgb }
    }

    #[test]
    fn colours_are_told_apart_by_what_both_know() {
        let foam = shade(Some("foam"), Some([240, 240, 235]));
        assert!(foam.is(&shade(Some("sea foam"), Some([240, 240, 235]))));
        assert!(!foam.is(&shade(Some("foam"), Some([240, 240, 234]))));
        assert!(foam.is(&shade(Some("foam"), None)));
        assert!(!foam.is(&shade(Some("ebb"), None)));
        assert!(foam.is(&shade(None, Some([240, 240, 235]))));
        assert!(!shade(None, Some([1, 2, 3])).is(&shade(Some("foam"), None)));
    }

    #[test]
    fn goods_differ_by_kind_size_material_and_colour() {
        let stones = |size: &str, material| Ware::Stones {
            material,
            size: StoneSize::read(size).expect("a size"),
            shade: shade(Some("foam"), None),
        };
        let glass = stones("SS10", StoneMaterial::Glass);
        assert!(glass.is(&stones("SS10", StoneMaterial::Glass)));
        assert!(!glass.is(&stones("SS12", StoneMaterial::Glass)));
        assert!(!glass.is(&stones("SS10", StoneMaterial::Resin)));
        assert!(!Ware::Glue.is(&Ware::Resin));
        assert_eq!(glass.words(), "SS10 glass, foam");
    }
}
