//! How fast the picture of a hand-made cup is: `cargo run --release -p picture --example bench [PNG]`.

#[path = "../tests/hand_made/mod.rs"]
mod hand_made;

use std::time::Instant;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let scene = hand_made::cup(2.8);
    let stones: usize = scene.meshes.iter().map(|mesh| mesh.stones.len()).sum();
    let triangles: usize = scene.meshes.iter().map(|mesh| mesh.triangles.len()).sum();
    let (width, height) = (900, 1100);
    let mut best_ms = f64::INFINITY;
    let mut first_ms = None;
    for _ in 0..5 {
        let start = Instant::now();
        std::hint::black_box(picture::render(&scene, width, height));
        let ms = start.elapsed().as_secs_f64() * 1e3;
        first_ms.get_or_insert(ms);
        best_ms = best_ms.min(ms);
    }
    println!("{stones} stones, {triangles} triangles, {width} x {height} pixels");
    println!("first {:.0} ms, best {best_ms:.0} ms", first_ms.unwrap_or(best_ms));
    println!("{:.2} Mpixel/s", (width * height) as f64 / best_ms / 1e3);
    if let Some(path) = std::env::args().nth(1) {
        let image = picture::render(&scene, width, height);
        let file = std::io::BufWriter::new(std::fs::File::create(path)?);
        let mut encoder = png::Encoder::new(file, width as u32, height as u32);
        encoder.set_color(png::ColorType::Rgb);
        encoder.write_header()?.write_image_data(&image.rgb)?;
    }
    Ok(())
}
