//! Files read back by the specification alone.

use super::*;
use picture::StoneFrame;

/// Counts triangles and measures the box of a file, by the specification alone.
fn read(file: &[u8]) -> (Value, usize, Vec3, Vec3) {
    let word = |at: usize| u32::from_le_bytes(file[at..at + 4].try_into().unwrap()) as usize;
    assert_eq!((&file[..4], word(4), word(8)), (&b"glTF"[..], 2, file.len()));
    let json_length = word(12);
    assert_eq!(&file[16..20], b"JSON");
    let json: Value = serde_json::from_slice(&file[20..20 + json_length]).unwrap();
    let binary = 20 + json_length + 8;
    assert_eq!(word(binary - 8), file.len() - binary);
    let number = |v: &Value| v.as_u64().unwrap() as usize;
    let start = |accessor: &Value| {
        let view = &json["bufferViews"][number(&accessor["bufferView"])];
        binary + number(&view["byteOffset"]) + number(&accessor["byteOffset"])
    };
    let (mut triangles, mut low, mut high) = (0, Vec3::INFINITY, Vec3::NEG_INFINITY);
    for mesh in json["meshes"].as_array().unwrap() {
        let primitive = &mesh["primitives"][0];
        let positions = &json["accessors"][number(&primitive["attributes"]["POSITION"])];
        let indices = &json["accessors"][number(&primitive["indices"])];
        triangles += number(&indices["count"]) / 3;
        for i in 0..number(&indices["count"]) {
            let index = word(start(indices) + 4 * i);
            assert!(index < number(&positions["count"]));
            let at = start(positions) + 12 * index;
            let p = [0, 4, 8].map(|k| f32::from_bits(word(at + k) as u32));
            for k in 0..3 {
                assert!(positions["min"][k].as_f64().unwrap() as f32 <= p[k]);
                assert!(positions["max"][k].as_f64().unwrap() as f32 >= p[k]);
            }
            (low, high) = (low.min(Vec3::from(p)), high.max(Vec3::from(p)));
        }
    }
    (json, triangles, low, high)
}

fn stones() -> Scene {
    let frames = (0..300).map(|i| {
        let angle = i as f32 * 0.19;
        let out = Vec3::new(angle.cos(), angle.sin(), 0.0);
        StoneFrame::set_by_hand(out * 40.0 + Vec3::Z * (i as f32 * 0.4), out, 2.8, i)
    });
    let stones = Mesh::of_stones("body/tide/marsh night", [18, 52, 59], frames.collect());
    let paint = Material::Paint { srgb: [200, 150, 90], gloss: true };
    let corners =
        vec![Vec3::new(45.0, -30.0, 0.0), Vec3::new(45.0, 30.0, 0.0), Vec3::new(45.0, 0.0, 170.0)];
    let plate = Mesh::new("body/ground", paint, corners, vec![Vec3::X; 3], vec![[0, 1, 2]]);
    Scene { meshes: vec![plate, stones] }
}

#[test]
fn the_file_holds_every_triangle_at_its_place_in_metres() {
    let scene = stones();
    let (json, triangles, low, high) = read(&glb(&scene, "Heron at low tide"));
    let expected: usize = scene.meshes.iter().map(|mesh| mesh.triangles.len()).sum();
    assert_eq!(triangles, expected);
    let points = || scene.meshes.iter().flat_map(|mesh| &mesh.positions);
    let turned = |p: Vec3| Vec3::new(p.y, p.z, p.x) / 1000.0;
    let min = turned(points().fold(Vec3::INFINITY, |a, p| a.min(*p)));
    let max = turned(points().fold(Vec3::NEG_INFINITY, |a, p| a.max(*p)));
    assert!(low.distance(min) < 1e-7 && high.distance(max) < 1e-7, "{low} {high}");
    assert_eq!(json["asset"]["generator"], "Cupwright");
    assert_eq!(json["asset"]["version"], "2.0");
    assert_eq!(json["scenes"][0]["name"], "Heron at low tide");
}

#[test]
fn resin_is_a_clear_coat_and_stones_have_no_normals() {
    let (json, ..) = read(&glb(&stones(), "t"));
    assert_eq!(json["extensionsUsed"], json!([CLEAR_COAT]));
    assert_eq!(json["materials"][0]["extensions"][CLEAR_COAT]["clearcoatFactor"], 1.0);
    assert!(json["materials"][1].get("extensions").is_none());
    assert!(json["meshes"][0]["primitives"][0]["attributes"].get("NORMAL").is_some());
    assert!(json["meshes"][1]["primitives"][0]["attributes"].get("NORMAL").is_none());
}

#[test]
fn four_thousand_stones_take_less_than_eight_megabytes() {
    let each = glb(&stones(), "t").len() as f64 / 300.0;
    assert!(each * 4000.0 < 8e6, "{each}");
}

#[test]
fn an_empty_scene_is_still_a_file() {
    let file = glb(&Scene { meshes: vec![] }, "nothing");
    let json: Value = serde_json::from_slice(&file[20..]).unwrap();
    assert!(json.get("buffers").is_none() && json.get("meshes").is_none());
}
