//! The folder of a quote: what it records of each option, so that one can be made an order of later.

use crate::near::{Contents, read_up_to};
use crate::open::DEMO_STUDIO;
use crate::studio::Studio;
use crate::trouble::{Trouble, shown};
use piece::fnv::{EMPTY, fnv1a_64};
use serde_json::{Value, json};
use sheets::{Quote, letter, stones_csv};
use std::fs;
use std::path::Path;

/// The record of a quote.
pub const RECORD: &str = "quote.json";
/// The studio file as it was.
pub const STUDIO: &str = "studio.toml";
/// The maker's own piece file as it was.
pub const AS_QUOTED: &str = "as-quoted.toml";
/// The largest file that is copied from folder to folder, bytes: as the largest typeface.
const LARGEST: u64 = 40_000_000;

/// The checksum of a file, as it is written down.
pub fn sum(bytes: &[u8]) -> String {
    format!("{:016x}", fnv1a_64(EMPTY, bytes))
}

/// The piece file of the option at this place.
fn file_name(place: usize) -> String {
    format!("option-{}.toml", letter(place).to_ascii_lowercase())
}

/// Everything about a quote, for a script and for `cupwright order`.
pub fn record(quote: &Quote, texts: &[&str], studio: &Studio, art: &[&str], piece: &Path) -> Value {
    let settings = &studio.settings;
    let currency = &settings.currency;
    let amount = |amount| currency.number(amount);
    let options = quote.offers.iter().zip(texts).enumerate().map(|(place, (offer, text))| {
        json!({
            "letter": letter(place).to_string(),
            "name": offer.name,
            "file": file_name(place),
            "sum": sum(text.as_bytes()),
            "stones": offer.plan.stones.stones.len(),
            "stones_sum": sum(&stones_csv(&offer.plan)),
            "hours": (offer.plan.steps.hands_on_min() / 0.6).round() / 100.0,
            "promised": offer.promised.map(|day| day.to_string()),
            "price_each": amount(offer.terms.each),
            "price": amount(offer.terms.all),
            "deposit": amount(offer.terms.deposit),
            "rest": amount(offer.terms.rest),
        })
    });
    let first = quote.offers.first().map(|offer| &offer.plan.piece);
    json!({
        "cupwright_quote": 1,
        "number": quote.number,
        "date": quote.date.to_string(),
        "valid_until": quote.valid_until.to_string(),
        "begins": quote.begins.to_string(),
        "customer": quote.customer,
        "address": quote.address,
        "piece": shown(Path::new(piece.file_name().unwrap_or_default())),
        "title": first.map(|piece| piece.title.as_str()),
        "quantity": first.map(|piece| piece.quantity),
        "due": first.and_then(|piece| piece.due).map(|day| day.to_string()),
        "demo": settings.demo,
        "currency": {
            "code": currency.code, "sign": currency.sign, "minor_digits": currency.minor_digits,
        },
        "studio_sum": sum(studio_text(studio).as_bytes()),
        "art": art,
        "options": options.collect::<Value>(),
    })
}

fn studio_text(studio: &Studio) -> &str {
    studio.text().unwrap_or(DEMO_STUDIO)
}

/// Writes what an order is made from into the folder of a quote, and returns the names of the files.
///
/// # Errors
/// A file cannot be written, or art lies in a folder below that of the piece.
pub fn write(
    quote: &Quote,
    options: &[&str],
    art: &crate::beside::Taken,
    studio: &Studio,
    piece: (&Path, &str),
    folder: &Path,
) -> Result<(Vec<String>, Value), Trouble> {
    let (path, design) = piece;
    let names: Vec<&str> = art.files.keys().map(String::as_str).collect();
    if let Some(below) = names.iter().find(|name| name.contains('/')) {
        return Err(Trouble::files(format!("{below} lies in a folder below that of the piece"))
            .hint("A quote keeps all files of the piece side by side: move it beside the piece file, and name it so there."));
    }
    let record = record(quote, options, studio, &names, path);
    let mut files: Vec<(String, Vec<u8>)> = Vec::new();
    for (place, text) in options.iter().enumerate() {
        files.push((file_name(place), text.as_bytes().to_vec()));
    }
    files.push((STUDIO.to_owned(), studio_text(studio).as_bytes().to_vec()));
    files.push((AS_QUOTED.to_owned(), design.as_bytes().to_vec()));
    files.push((RECORD.to_owned(), format!("{record:#}\n").into_bytes()));
    let ours: Vec<String> = files.iter().map(|(name, _)| name.clone()).collect();
    for (name, bytes) in &art.files {
        if ours.contains(name) || folder.join(name).exists() {
            return Err(Trouble::files(format!("the piece names a file {name}, as a quote does"))
                .hint("Give it another name, in the piece file too."));
        }
        files.push((name.clone(), bytes.clone()));
    }
    put(&files, folder)?;
    Ok((files.into_iter().map(|(name, _)| name).collect(), record))
}

/// Writes files into a folder.
///
/// # Errors
/// The first that cannot be written.
pub fn put(files: &[(String, Vec<u8>)], folder: &Path) -> Result<(), Trouble> {
    for (name, bytes) in files {
        fs::write(folder.join(name), bytes)
            .map_err(|error| Trouble::could_not("write", name, &error))?;
    }
    Ok(())
}

/// Reads the record of a quote.
///
/// # Errors
/// There is none, or it is damaged.
pub fn read(folder: &Path) -> Result<Value, Trouble> {
    let bytes = file(folder, RECORD)?;
    let record: Value = serde_json::from_slice(&bytes).map_err(|error| damaged(folder, error))?;
    if record["cupwright_quote"] != 1 {
        return Err(damaged(folder, "it is of another version of this program"));
    }
    Ok(record)
}

/// What is said of a record that cannot be understood.
pub fn damaged(folder: &Path, why: impl std::fmt::Display) -> Trouble {
    Trouble::files(format!("{} is damaged: {why}", shown(&folder.join(RECORD))))
        .hint("Write the quote anew with `cupwright quote`.")
}

/// Reads a file of a folder.
///
/// # Errors
/// It is not there, cannot be read, or is longer than anything that belongs there.
pub fn file(folder: &Path, name: &str) -> Result<Vec<u8>, Trouble> {
    let path = folder.join(name);
    let could_not = |why: &str| Trouble::files(format!("could not read {}: {why}", shown(&path)));
    match read_up_to(&path, LARGEST) {
        Ok(Contents::Whole(bytes)) => Ok(bytes),
        Ok(Contents::TooLong(_)) => Err(could_not("it is too long")),
        Err(why) => Err(could_not(&why)),
    }
}
