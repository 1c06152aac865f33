//! The piece in three dimensions: glTF 2.0 in one binary file (Khronos, glTF 2.0 specification).
//!
//! Units are metres, y is up, the front looks along +z. Stones carry no normals, so that viewers
//! shade their facets flat.

use glam::Vec3;
use gltf_json::accessor::{ComponentType, GenericComponentType, Type};
use gltf_json::buffer::{Stride, Target, View};
use gltf_json::material::{AlphaMode, PbrBaseColorFactor, StrengthFactor};
use gltf_json::mesh::{Mode, Primitive, Semantic};
use gltf_json::validation::Checked::Valid;
use gltf_json::validation::USize64;
use gltf_json::{Accessor, Asset, Buffer, Index, Root};
use picture::tone::linear_colour;
use picture::{Material, Mesh, Scene};
use serde_json::{Value, json};
use std::collections::BTreeMap;

/// The extension for a clear coat over a material (Khronos, ratified).
const CLEAR_COAT: &str = "KHR_materials_clearcoat";

/// The scene as the bytes of a `.glb` file.
pub fn glb(scene: &Scene, title: &str) -> Vec<u8> {
    let mut writer = Writer::default();
    for mesh in scene.meshes.iter().filter(|mesh| !mesh.triangles.is_empty()) {
        writer.add(mesh);
    }
    writer.finish(title)
}

#[derive(Default)]
struct Writer {
    root: Root,
    /// Materials already written, in order.
    materials: Vec<Material>,
    /// Positions and normals, then indices, little-endian.
    vertices: Vec<u8>,
    indices: Vec<u8>,
}

/// The view of the buffer that holds positions and normals, and the one that holds indices.
const VERTICES: u32 = 0;
const INDICES: u32 = 1;

impl Writer {
    fn add(&mut self, mesh: &Mesh) {
        let positions: Vec<[f32; 3]> = mesh.positions.iter().map(|p| metres(*p)).collect();
        let fold = |start: f32, pick: fn(f32, f32) -> f32| {
            positions.iter().fold([start; 3], |best, p| [0, 1, 2].map(|k| pick(best[k], p[k])))
        };
        let bounds = (fold(f32::INFINITY, f32::min), fold(f32::NEG_INFINITY, f32::max));
        let mut attributes = BTreeMap::new();
        attributes.insert(Valid(Semantic::Positions), self.vectors(&positions, Some(bounds)));
        if !mesh.normals.is_empty() {
            let normals: Vec<[f32; 3]> = mesh.normals.iter().map(|n| turned(*n)).collect();
            attributes.insert(Valid(Semantic::Normals), self.vectors(&normals, None));
        }
        let offset = self.indices.len();
        for index in mesh.triangles.iter().flatten() {
            self.indices.extend(index.to_le_bytes());
        }
        let count = mesh.triangles.len() * 3;
        let indices = self.accessor(INDICES, offset, count, ComponentType::U32, Type::Scalar, None);
        let material = self.material(mesh.material);
        let primitive = Primitive {
            attributes,
            extensions: None,
            extras: Default::default(),
            indices: Some(indices),
            material: Some(material),
            mode: Valid(Mode::Triangles),
            targets: None,
        };
        let mesh_index = self.root.push(gltf_json::Mesh {
            extensions: None,
            extras: Default::default(),
            name: Some(mesh.name.clone()),
            primitives: vec![primitive],
            weights: None,
        });
        self.root.push(gltf_json::Node {
            mesh: Some(mesh_index),
            name: Some(mesh.name.clone()),
            ..Default::default()
        });
    }

    fn vectors(
        &mut self,
        vectors: &[[f32; 3]],
        bounds: Option<([f32; 3], [f32; 3])>,
    ) -> Index<Accessor> {
        let offset = self.vertices.len();
        for number in vectors.iter().flatten() {
            self.vertices.extend(number.to_le_bytes());
        }
        self.accessor(VERTICES, offset, vectors.len(), ComponentType::F32, Type::Vec3, bounds)
    }

    fn accessor(
        &mut self,
        view: u32,
        offset: usize,
        count: usize,
        component: ComponentType,
        type_: Type,
        bounds: Option<([f32; 3], [f32; 3])>,
    ) -> Index<Accessor> {
        self.root.push(Accessor {
            buffer_view: Some(Index::new(view)),
            byte_offset: Some(USize64::from(offset)),
            component_type: Valid(GenericComponentType(component)),
            count: USize64::from(count),
            extensions: None,
            extras: Default::default(),
            max: bounds.map(|(_, max)| json!(max)),
            min: bounds.map(|(min, _)| json!(min)),
            name: None,
            normalized: false,
            sparse: None,
            type_: Valid(type_),
        })
    }

    fn material(&mut self, material: Material) -> Index<gltf_json::Material> {
        if let Some(known) = self.materials.iter().position(|known| *known == material) {
            return Index::new(known as u32);
        }
        self.materials.push(material);
        let look = Look::of(material);
        let [r, g, b] = look.colour.to_array();
        let mut written = gltf_json::Material { name: Some(look.name), ..Default::default() };
        let pbr = &mut written.pbr_metallic_roughness;
        pbr.base_color_factor = PbrBaseColorFactor([r, g, b, look.alpha]);
        pbr.metallic_factor = StrengthFactor(look.metallic);
        pbr.roughness_factor = StrengthFactor(look.roughness);
        if look.alpha < 1.0 {
            written.alpha_mode = Valid(AlphaMode::Blend);
            written.double_sided = true;
        }
        self.root.push(written)
    }

    fn finish(mut self, title: &str) -> Vec<u8> {
        let root = &mut self.root;
        root.asset = Asset { generator: Some("Cupwright".to_owned()), ..Default::default() };
        let children: Vec<Index<gltf_json::Node>> =
            (0..root.nodes.len() as u32).map(Index::new).collect();
        let nodes = if children.is_empty() {
            Vec::new()
        } else {
            vec![root.push(gltf_json::Node {
                children: Some(children),
                name: Some(title.to_owned()),
                ..Default::default()
            })]
        };
        let main = root.push(gltf_json::Scene {
            extensions: None,
            extras: Default::default(),
            name: Some(title.to_owned()),
            nodes,
        });
        root.scene = Some(main);
        let vertices = self.vertices.len();
        let mut bytes = self.vertices;
        bytes.extend(self.indices);
        if !bytes.is_empty() {
            let buffer = root.push(Buffer {
                byte_length: USize64::from(bytes.len()),
                extensions: None,
                extras: Default::default(),
                name: None,
                uri: None,
            });
            let mut view =
                |offset: usize, length: usize, stride: Option<Stride>, target: Target| {
                    root.push(View {
                        buffer,
                        byte_length: USize64::from(length),
                        byte_offset: Some(USize64::from(offset)),
                        byte_stride: stride,
                        extensions: None,
                        extras: Default::default(),
                        name: None,
                        target: Some(Valid(target)),
                    });
                };
            view(0, vertices, Some(Stride(12)), Target::ArrayBuffer);
            view(vertices, bytes.len() - vertices, None, Target::ElementArrayBuffer);
        }
        let mut json = json!(self.root);
        add_clear_coats(&mut json, &self.materials);
        container(json.to_string().into_bytes(), bytes)
    }
}

/// Adds the extension that the types do not know to materials under clear resin.
fn add_clear_coats(json: &mut Value, materials: &[Material]) {
    let mut used = false;
    for (i, material) in materials.iter().enumerate() {
        if Look::of(*material).coated {
            json["materials"][i]["extensions"][CLEAR_COAT] =
                json!({ "clearcoatFactor": 1.0, "clearcoatRoughnessFactor": 0.03 });
            used = true;
        }
    }
    if used {
        json["extensionsUsed"] = json!([CLEAR_COAT]);
    }
}

/// How a material is written.
struct Look {
    name: String,
    colour: Vec3,
    alpha: f32,
    metallic: f32,
    roughness: f32,
    coated: bool,
}

impl Look {
    fn of(material: Material) -> Self {
        let of = |what: &str, srgb: [u8; 3], metallic: f32, roughness: f32, coated: bool| {
            let [r, g, b] = srgb;
            let coat = if coated { " under resin" } else { "" };
            Self {
                name: format!("{what} #{r:02x}{g:02x}{b:02x}{coat}"),
                colour: linear_colour(srgb),
                alpha: 1.0,
                metallic,
                roughness,
                coated,
            }
        };
        match material {
            Material::Steel => of("steel", [224, 223, 219], 1.0, 0.32, false),
            Material::CoatedSteel => of("steel", [224, 223, 219], 1.0, 0.32, true),
            Material::Paint { srgb, gloss } => of("paint", srgb, 0.0, 0.5, gloss),
            Material::Glitter { srgb, gloss, .. } => of("glitter", srgb, 0.8, 0.42, gloss),
            Material::Vinyl { srgb, gloss } => of("film", srgb, 0.0, 0.4, gloss),
            Material::Stone { srgb } => of("stone", srgb, 0.5, 0.08, false),
            Material::ClearPlastic => {
                Self { alpha: 0.3, ..of("clear plastic", [238, 242, 243], 0.0, 0.08, false) }
            }
        }
    }
}

/// Piece frame to glTF's: z up becomes y up, the front at +x becomes +z.
fn turned(v: Vec3) -> [f32; 3] {
    [v.y, v.z, v.x]
}

/// Millimetres in the piece frame to metres in glTF's.
fn metres(p: Vec3) -> [f32; 3] {
    turned(p).map(|v| (f64::from(v) / 1000.0) as f32)
}

/// The binary container: header, JSON chunk, binary chunk.
fn container(mut json: Vec<u8>, bytes: Vec<u8>) -> Vec<u8> {
    json.resize(json.len().next_multiple_of(4), b' ');
    let binary = if bytes.is_empty() { 0 } else { 8 + bytes.len() };
    let length = 12 + 8 + json.len() + binary;
    let mut file = Vec::with_capacity(length);
    let word = |file: &mut Vec<u8>, n: usize| file.extend((n as u32).to_le_bytes());
    file.extend(b"glTF");
    word(&mut file, 2);
    word(&mut file, length);
    word(&mut file, json.len());
    file.extend(b"JSON");
    file.extend(json);
    if !bytes.is_empty() {
        word(&mut file, bytes.len());
        file.extend(b"BIN\0");
        file.extend(bytes);
    }
    file
}

#[cfg(test)]
mod tests;
