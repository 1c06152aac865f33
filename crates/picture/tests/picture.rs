//! Pictures and scenes as a whole.

#[path = "hand_made/mod.rs"]
mod hand_made;

use glam::Vec3;
use picture::{Camera, Material, Mesh, Scene, build_scene, render, render_view};

fn tide_cup() -> (piece::Piece, shape::Shape, stones::Stones) {
    planned(include_str!("pieces/tide-cup.toml"))
}

fn planned(text: &str) -> (piece::Piece, shape::Shape, stones::Stones) {
    let piece: piece::Piece = text.parse().unwrap_or_else(|faults| panic!("{faults:?}"));
    let settings = piece::Settings::demo();
    let shape = shape::shape(&piece, &settings).unwrap();
    let stones = stones::lay_stones(&piece, &shape, &settings, &mut |_| true).unwrap();
    (piece, shape, stones)
}

fn with_threads<T: Send>(threads: usize, job: impl FnOnce() -> T + Send) -> T {
    rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap().install(job)
}

#[test]
fn one_thread_and_three_draw_the_same_bytes() {
    let scene = hand_made::cup(3.9);
    let alone = with_threads(1, || render(&scene, 240, 300));
    assert_eq!(alone, with_threads(3, || render(&scene, 240, 300)));
    assert_eq!(alone.rgb.len(), 240 * 300 * 3);
}

#[test]
fn scenes_of_pieces_are_whole_and_face_outward() {
    let (piece, shape, stones) = tide_cup();
    let scene = build_scene(&piece, &shape, &stones);
    check_scene(&scene, stones.stones.len());
    // Stones stand out from the lid that they are set on.
    let points = scene.meshes.iter().flat_map(|mesh| &mesh.positions);
    let height_mm = points.map(|p| p.z).fold(0.0, f32::max);
    let seat = &shape.parts[1].piece_from_part.translation;
    assert!(f64::from(height_mm) > seat.z + shape.parts[1].height_mm + 0.5);

    let (piece, shape, stones) = planned(include_str!("pieces/plate-on-bottle.toml"));
    check_scene(&build_scene(&piece, &shape, &stones), stones.stones.len());
}

fn check_scene(scene: &Scene, stones: usize) {
    let mut count = 0;
    for mesh in &scene.meshes {
        let vertices = mesh.positions.len();
        assert!(mesh.positions.iter().all(|p| p.is_finite() && p.z >= -1e-3), "{}", mesh.name);
        assert!(mesh.normals.iter().all(|n| (n.length() - 1.0).abs() < 1e-4), "{}", mesh.name);
        assert!(mesh.normals.is_empty() || mesh.normals.len() == vertices);
        assert!(mesh.triangles.iter().flatten().all(|i| (*i as usize) < vertices));
        for t in mesh.triangles.iter().filter(|_| !mesh.normals.is_empty()) {
            let [a, b, c] = t.map(|i| mesh.positions[i as usize]);
            let rounding = 1e-5 * (b - a).length().max((c - a).length());
            let facing = (b - a).cross(c - a).dot(mesh.normals[t[0] as usize]);
            assert!(facing >= -rounding, "{} faces inward at {a}", mesh.name);
        }
        assert_eq!(mesh.normals.is_empty(), matches!(mesh.material, Material::Stone { .. }));
        count += mesh.stones.len();
    }
    assert_eq!(count, stones);
}

#[test]
fn what_lies_on_top_lies_outside() {
    let (piece, shape, stones) = tide_cup();
    let scene = build_scene(&piece, &shape, &stones);
    // Along a line of sight through the axis the later zone must be the farther out.
    let radius_at = |name: &str, z: f32| {
        let near = |p: &&Vec3| (p.z - z).abs() < 6.0;
        let mesh: Vec<&Mesh> = scene.meshes.iter().filter(|m| m.name.starts_with(name)).collect();
        let slope = (276.0 - 212.0) / std::f32::consts::TAU / 167.0;
        let radii = mesh.iter().flat_map(|m| &m.positions).filter(near);
        radii.map(|p| p.x.hypot(p.y) - slope * (p.z - z)).fold(0.0, f32::max)
    };
    let z = 110.0;
    let (steel, sky, film) =
        (radius_at("body/blank", 0.0), radius_at("body/sky", z), radius_at("body/bird", z));
    assert!(steel > 0.0 && film > sky + 0.02, "{sky} {film}");
}

#[test]
fn a_picture_shows_the_piece_on_its_backdrop() {
    let scene = hand_made::cup(3.9);
    let image = render(&scene, 180, 220);
    let pixel = |x: usize, y: usize| &image.rgb[(y * 180 + x) * 3..][..3];
    // Warm and bright in the corners; teal stones, more blue than red, low on the cup.
    for corner in [(2, 2), (177, 2), (2, 217)] {
        let [r, _, b] = pixel(corner.0, corner.1) else { panic!() };
        assert!(r >= b && *b > 130, "{corner:?}");
    }
    let middle = (155..170).flat_map(|y| (75..105).map(move |x| (x, y)));
    let (red, blue) = middle.fold((0, 0), |(r, b), (x, y)| {
        let p = pixel(x, y);
        (r + u32::from(p[0]), b + u32::from(p[2]))
    });
    assert!(blue > red + red / 4, "{red} {blue}");
}

#[test]
fn odd_scenes_are_drawn_without_trouble() {
    let nothing = Scene { meshes: vec![] };
    assert_eq!(render(&nothing, 33, 47).rgb.len(), 33 * 47 * 3);
    assert!(render(&nothing, 0, 47).rgb.is_empty());
    let corners = vec![Vec3::ZERO, Vec3::ZERO, Vec3::new(f32::NAN, 0.0, 1.0), Vec3::splat(1e30)];
    let broken = Mesh::new("broken", Material::Steel, corners, vec![], vec![[0, 1, 2], [0, 1, 3]]);
    assert_eq!(render(&Scene { meshes: vec![broken] }, 20, 20).rgb.len(), 1200);
    let cup = hand_made::cup(3.9);
    let inside = Camera {
        eye_mm: glam::DVec3::new(1.0, 0.0, 90.0),
        ..Camera::framing(&cup, 0.3, 0.2, 40, 40)
    };
    assert_eq!(render_view(&cup, &inside, 40, 40).rgb.len(), 4800);
}
