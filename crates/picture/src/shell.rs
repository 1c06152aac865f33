//! The bare part itself: wall, rolled rim, inner wall, foot; a plate's edge and back.
//!
//! Only the outer wall is measured; rim, inside and thickness are drawn as such cups usually are.

use crate::cut::circle;
use crate::region::{ROUND, Region, cuts};
use crate::strips::strips;
use crate::{Material, Mesh};
use glam::{DAffine3, DVec2, DVec3, Vec3};
use piece::PartRole;
use shape::{Flat, Surface, SurfacePoint};

/// Thickness of a cup at its lip, of a lid, and of a plate, mm.
const LIP_MM: f64 = 2.2;
const LID_MM: f64 = 1.8;
const PLATE_MM: f64 = 3.0;
/// The inner floor lies this far above the foot, mm.
const FLOOR_MM: f64 = 6.0;

/// The whole bare face of a part as loops.
pub(crate) fn whole_face(surface: &Surface) -> Vec<Vec<SurfacePoint>> {
    match surface {
        Surface::Flat(flat) => flat
            .outline()
            .iter()
            .map(|points| {
                points.iter().map(|p| SurfacePoint { around: p.x, along_mm: -p.y }).collect()
            })
            .collect(),
        Surface::Revolved(_) => {
            let (first, last) = surface.along_range_mm();
            let pi = std::f64::consts::PI;
            let corner = |around, along_mm| SurfacePoint { around, along_mm };
            vec![vec![corner(-pi, first), corner(pi, first), corner(pi, last), corner(-pi, last)]]
        }
    }
}

/// Meshes of a bare part; `blank` is what its outside is made of.
pub(crate) fn shell(
    name: &str,
    role: PartRole,
    blank: Material,
    surface: &Surface,
    piece_from_part: DAffine3,
) -> Vec<Mesh> {
    let mut outside = Region::new(format!("{name}/blank"), blank, surface, piece_from_part);
    let face = whole_face(surface);
    for strip in strips(&face, &[], &cuts(surface)) {
        outside.add(&strip);
    }
    let mut meshes: Vec<Mesh> = outside.finish().into_iter().collect();
    match surface {
        Surface::Flat(flat) => {
            meshes.extend(plate_edge(name, blank, flat, &meshes, piece_from_part))
        }
        Surface::Revolved(_) => {
            let clear = blank == Material::ClearPlastic;
            let (inner, thickness_mm) = match role {
                PartRole::Body => (Some(Material::Steel), LIP_MM),
                PartRole::Lid if !clear => (Some(blank), LID_MM),
                PartRole::Lid | PartRole::Topper => (None, 0.0),
            };
            let points = meridian(surface);
            if let Some(material) = inner {
                let lining = lining(&points, thickness_mm, role == PartRole::Body);
                meshes.push(turned(format!("{name}/inside"), material, &lining, piece_from_part));
            }
            let (start, out) = points[0];
            if role == PartRole::Lid && clear && start.x > 0.0 {
                // The wall of the hole shows how thick the plastic is.
                let mut hole = flat_run([start, start - out * LID_MM]);
                hole.iter_mut().for_each(|ring| ring.normal = DVec2::NEG_X);
                meshes.push(turned(format!("{name}/hole"), blank, &hole, piece_from_part));
            }
            let (end, out) = points[points.len() - 1];
            if role == PartRole::Lid && clear && end.x > LID_MM {
                // So does the lower edge of the skirt.
                let edge = flat_run([end, end - out * LID_MM]);
                let edge = edge.into_iter().map(|ring| Ring { normal: DVec2::NEG_Y, ..ring });
                let edge: Vec<Ring> = edge.collect();
                meshes.push(turned(format!("{name}/edge"), blank, &edge, piece_from_part));
            }
            if role != PartRole::Lid && end.x > 0.0 {
                let foot = [[end, DVec2::new(0.0, end.y)]].map(flat_run).concat();
                let material = if role == PartRole::Body { Material::Steel } else { blank };
                meshes.push(turned(format!("{name}/foot"), material, &foot, piece_from_part));
            }
        }
    }
    meshes
}

/// Points of the outer meridian with their outward normals, (radius, height), from the start down.
fn meridian(surface: &Surface) -> Vec<(DVec2, DVec2)> {
    let stops = surface.along_stops_mm(4.0);
    let flat = |v: DVec3| DVec2::new(v.x, v.z);
    let mut points = Vec::new();
    for pair in stops.windows(2) {
        let band = surface.band_at(0.5 * (pair[0] + pair[1]));
        for along_mm in pair {
            let at = SurfacePoint { around: 0.0, along_mm: *along_mm };
            let (place, normal) = surface.place_in_band(band, at);
            points.push((flat(place), flat(normal)));
        }
    }
    points
}

/// One ring of a turned surface.
#[derive(Debug, Clone, Copy)]
struct Ring {
    at: DVec2,
    normal: DVec2,
    open: f32,
}

/// A straight run with a normal to the left of its way as (radius, height) is usually drawn.
fn flat_run([a, b]: [DVec2; 2]) -> Vec<Ring> {
    let way = (b - a).normalize_or(DVec2::X);
    let normal = DVec2::new(-way.y, way.x);
    [a, b].map(|at| Ring { at, normal, open: 1.0 }).to_vec()
}

/// Over the rim and down the inside; with a floor in a cup, back to the skirt's end in a lid.
fn lining(outer: &[(DVec2, DVec2)], thickness_mm: f64, cup: bool) -> Vec<Ring> {
    let (start, out) = outer[0];
    let mut rings = Vec::new();
    let mouth_mm = start.x;
    if mouth_mm > thickness_mm {
        // Half a turn round the middle of the wall's thickness.
        let half = thickness_mm / 2.0;
        let up = DVec2::new(-out.y, out.x);
        for i in 0..=10 {
            let (c, s) = circle(i as f32 / 20.0);
            let normal = out * f64::from(c) + up * f64::from(s);
            rings.push(Ring { at: start - out * half + normal * half, normal, open: 1.0 });
        }
    }
    let lowest = outer.iter().map(|p| p.0.y).fold(f64::INFINITY, f64::min);
    let mouth_mm = mouth_mm.max(1.0);
    for (at, normal) in outer {
        let inner = *at - *normal * thickness_mm;
        if inner.x < 0.0 || (cup && inner.y < lowest + FLOOR_MM) {
            continue;
        }
        let open = if cup { openness(start.y - inner.y, mouth_mm) } else { 0.35 };
        rings.push(Ring { at: inner, normal: -*normal, open });
    }
    if let (true, Some(last)) = (cup, rings.last().copied()) {
        let depth_mm = start.y - last.at.y;
        let seen = mouth_mm * mouth_mm / (mouth_mm * mouth_mm + depth_mm * depth_mm);
        let open = 0.07 + 0.7 * seen as f32;
        let floor = [last.at, DVec2::new(0.0, last.at.y)];
        rings.extend(floor.map(|at| Ring { at, normal: DVec2::Y, open }));
    }
    if let (false, Some(last)) = (cup, rings.last().copied()) {
        let (end, _) = outer[outer.len() - 1];
        let mut edge = flat_run([last.at, end]);
        edge.iter_mut().for_each(|ring| ring.normal = DVec2::NEG_Y);
        rings.extend(edge);
    }
    rings
}

/// Light on the inner wall of a cup at a depth below a mouth: what it sees of the mouth (half at the
/// top; view factor of an element in a tube to its end) and some more by way of the walls.
fn openness(depth_mm: f64, mouth_mm: f64) -> f32 {
    let depth_mm = depth_mm.max(0.0);
    let seen = 0.5 * (1.0 - depth_mm / (depth_mm * depth_mm + 4.0 * mouth_mm * mouth_mm).sqrt());
    0.08 + 1.0 * seen as f32
}

/// Rings turned round the axis; consecutive rings are joined unless they coincide.
fn turned(name: String, material: Material, rings: &[Ring], piece_from_part: DAffine3) -> Mesh {
    let mut mesh = Mesh::new(name, material, vec![], vec![], vec![]);
    for ring in rings {
        for i in 0..ROUND {
            let (c, s) = circle(i as f32 / ROUND as f32);
            let turn = |v: DVec2| DVec3::new(v.x * f64::from(c), v.x * f64::from(s), v.y);
            let normal = piece_from_part.transform_vector3(turn(ring.normal)).normalize();
            mesh.positions.push(piece_from_part.transform_point3(turn(ring.at)).as_vec3());
            mesh.normals.push(normal.as_vec3());
            mesh.open.push(ring.open);
        }
    }
    for (k, pair) in rings.windows(2).enumerate() {
        if pair[0].at.distance(pair[1].at) < 1e-9 {
            continue;
        }
        // Which way round is outside follows from the normals.
        let way = pair[1].at - pair[0].at;
        let outside = DVec2::new(-way.y, way.x).dot(pair[0].normal + pair[1].normal) > 0.0;
        let (upper, lower) = (k as u32 * ROUND, (k as u32 + 1) * ROUND);
        for i in 0..ROUND {
            let j = (i + 1) % ROUND;
            let mut push = |[a, b, c]: [u32; 3]| {
                mesh.triangles.push(if outside { [a, b, c] } else { [a, c, b] });
            };
            if pair[0].at.x > 1e-9 {
                push([upper + i, lower + i, upper + j]);
            }
            if pair[1].at.x > 1e-9 {
                push([upper + j, lower + i, lower + j]);
            }
        }
    }
    mesh
}

/// Edge and back of a plate whose face is already a mesh.
fn plate_edge(
    name: &str,
    blank: Material,
    flat: &Flat,
    face: &[Mesh],
    piece_from_part: DAffine3,
) -> Option<Mesh> {
    let face = face.first()?;
    let back = piece_from_part.transform_vector3(DVec3::NEG_Z).as_vec3();
    let mut mesh = Mesh::new(format!("{name}/plate"), blank, vec![], vec![], vec![]);
    mesh.positions.extend(face.positions.iter().map(|p| p + back * PLATE_MM as f32));
    mesh.normals.resize(mesh.positions.len(), back);
    mesh.triangles.extend(face.triangles.iter().map(|[a, b, c]| [*a, *c, *b]));
    for points in flat.outline() {
        let first = mesh.positions.len() as u32;
        let count = points.len() as u32;
        for (i, p) in points.iter().enumerate() {
            let before = points[(i + points.len() - 1) % points.len()];
            let after = points[(i + 1) % points.len()];
            // Corners sharper than 30 degrees keep two normals: each side brings its own points.
            for side in [*p - before, after - *p] {
                let smooth =
                    (after - *p).normalize_or(DVec2::X) + (*p - before).normalize_or(DVec2::X);
                let along = if smooth.length() > 1.93 { smooth } else { side };
                let normal = DVec3::new(along.y, -along.x, 0.0).normalize_or(DVec3::X);
                let normal = piece_from_part.transform_vector3(normal).as_vec3();
                for z in [0.0, -PLATE_MM] {
                    let at = piece_from_part.transform_point3(DVec3::new(p.x, p.y, z));
                    mesh.positions.push(at.as_vec3());
                    mesh.normals.push(normal);
                }
            }
        }
        for i in 0..count {
            let (a, b) = (first + 4 * i + 2, first + 4 * ((i + 1) % count));
            mesh.triangles.extend([[a, a + 1, b], [b, a + 1, b + 1]]);
        }
    }
    Some(mesh)
}

/// Lifts a whole scene so that it stands on z = 0.
pub(crate) fn stand(meshes: &mut [Mesh]) {
    let lowest =
        meshes.iter().flat_map(|m| &m.positions).map(|p| p.z).fold(f32::INFINITY, f32::min);
    if lowest.is_finite() && lowest < 0.0 {
        let lift = Vec3::new(0.0, 0.0, -lowest);
        for mesh in meshes {
            mesh.positions.iter_mut().for_each(|p| *p += lift);
            mesh.stones.iter_mut().for_each(|stone| stone.centre_mm += lift);
        }
    }
}
