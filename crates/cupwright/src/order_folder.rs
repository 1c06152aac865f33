//! The folder of an order: what was agreed, with the piece and the studio file as they were then.

use crate::findings::Findings;
use crate::open::{open_piece, open_studio, open_text};
use crate::progress::Progress;
use crate::quote_folder::{self, AS_QUOTED, STUDIO};
use crate::road::{Halt, Travel, walk};
use crate::stop::Stop;
use crate::trouble::{Trouble, shown};
use jiff::civil::Date;
use piece::fnv::{EMPTY, fnv1a_64};
use piece::order::Agreed;
use piece::settings::Currency;
use piece::{Diagnostic, FieldPath, Money, Source, read_order};
use serde_json::Value;
use sheets::{Plan, stones_csv};
use std::path::Path;

/// What was agreed.
pub const ORDER: &str = "order.toml";
/// The piece as it was agreed.
pub const PIECE: &str = "piece.toml";

/// An order with its piece as it was agreed, planned anew.
pub struct Kept {
    pub order: Agreed,
    pub plan: Plan,
}

/// What an accepted option becomes.
pub struct Accepted {
    pub order: Agreed,
    /// Files beside `order.toml`, by name.
    pub files: Vec<(String, Vec<u8>)>,
}

/// Makes an order of an option of a quote.
///
/// # Errors
/// There is no such option, its files were changed since, or the day is before that of the quote.
pub fn accept(
    folder: &Path,
    option: &str,
    number: Option<&str>,
    accepted: Date,
) -> Result<Accepted, Trouble> {
    let record = quote_folder::read(folder)?;
    let damaged = |what: &str| quote_folder::damaged(folder, format!("it lacks `{what}`"));
    let text =
        |of: &Value, key: &str| of[key].as_str().map(str::to_owned).ok_or_else(|| damaged(key));
    let day = |of: &Value, key: &str| {
        of[key].as_str().and_then(|day| day.parse::<Date>().ok()).ok_or_else(|| damaged(key))
    };
    let sum_of = |of: &Value, key: &str| {
        of[key]
            .as_str()
            .and_then(|sum| u64::from_str_radix(sum, 16).ok())
            .ok_or_else(|| damaged(key))
    };
    let options = record["options"].as_array().ok_or_else(|| damaged("options"))?;
    let is_it = |one: &&Value| {
        let is =
            |key: &str| one[key].as_str().is_some_and(|is| is.eq_ignore_ascii_case(option.trim()));
        is("letter") || is("name")
    };
    let chosen = options.iter().find(is_it).ok_or_else(|| unknown(option, options))?;
    let quoted = day(&record, "date")?;
    if accepted < quoted {
        return Err(Trouble::usage(format!(
            "the quote is of {quoted}; it cannot have been accepted on {accepted}"
        )));
    }
    let unchanged = |name: &str, sum: u64| -> Result<Vec<u8>, Trouble> {
        let bytes = quote_folder::file(folder, name)?;
        if fnv1a_64(EMPTY, &bytes) == sum {
            return Ok(bytes);
        }
        let path = shown(&folder.join(name));
        Err(Trouble::files(format!("{path} was changed since the quote was written"))
            .hint("Write a new quote of the changed piece, so that it can be agreed to."))
    };
    let (piece_sum, studio_sum) = (sum_of(chosen, "sum")?, sum_of(&record, "studio_sum")?);
    let mut files = vec![
        (PIECE.to_owned(), unchanged(&text(chosen, "file")?, piece_sum)?),
        (STUDIO.to_owned(), unchanged(STUDIO, studio_sum)?),
        (AS_QUOTED.to_owned(), quote_folder::file(folder, AS_QUOTED)?),
    ];
    for name in record["art"].as_array().ok_or_else(|| damaged("art"))? {
        let name = name
            .as_str()
            .filter(|name| !name.contains(['/', '\\']))
            .ok_or_else(|| damaged("art"))?;
        files.push((name.to_owned(), quote_folder::file(folder, name)?));
    }
    let currency = currency(&record["currency"]).ok_or_else(|| damaged("currency"))?;
    let amount = |key: &str| {
        let digits = chosen[key].as_str().map(|text| text.replace('.', ""));
        digits.and_then(|digits| digits.parse().ok()).map(Money).ok_or_else(|| damaged(key))
    };
    // What is accepted after the work should have begun is promised for as much later.
    let late = (accepted - day(&record, "begins")?).get_days().max(0);
    let promised = chosen["promised"].as_str().and_then(|day| day.parse::<Date>().ok());
    let promised = promised.and_then(|day| day.checked_add(jiff::Span::new().days(late)).ok());
    let quote = text(&record, "number")?;
    let letter = text(chosen, "letter")?;
    let address = record["address"].as_array().into_iter().flatten();
    let order = Agreed {
        number: number.map_or_else(|| format!("{quote}-{}", letter.to_lowercase()), str::to_owned),
        quote,
        option: text(chosen, "name")?,
        customer: text(&record, "customer")?,
        address: address.filter_map(|line| Some(line.as_str()?.to_owned())).collect(),
        accepted,
        promised,
        quantity: record["quantity"]
            .as_u64()
            .and_then(|quantity| u32::try_from(quantity).ok())
            .ok_or_else(|| damaged("quantity"))?,
        currency,
        price_each: amount("price_each")?,
        deposit: amount("deposit")?,
        stones: chosen["stones"].as_u64().ok_or_else(|| damaged("stones"))?,
        stones_sum: sum_of(chosen, "stones_sum")?,
        piece_sum,
        studio_sum,
        paid: Vec::new(),
    };
    files.push((ORDER.to_owned(), order.text().into_bytes()));
    Ok(Accepted { order, files })
}

fn unknown(option: &str, options: &[Value]) -> Trouble {
    let known: Vec<String> = options
        .iter()
        .map(|one| {
            let word = |key: &str| one[key].as_str().unwrap_or_default();
            format!("{} ({})", word("letter"), word("name"))
        })
        .collect();
    Trouble::usage(format!("the quote has no option `{}`", option.escape_debug()))
        .hint(format!("It offers {}.", known.join(", ")))
}

fn currency(of: &Value) -> Option<Currency> {
    Some(Currency {
        code: of["code"].as_str()?.to_owned(),
        sign: of["sign"].as_str()?.to_owned(),
        minor_digits: u32::try_from(of["minor_digits"].as_u64()?)
            .ok()
            .filter(|digits| *digits < 5)?,
    })
}

/// Reads an order and plans its piece anew; `None` if it is not as it was agreed, and how is then among
/// the findings.
///
/// # Errors
/// Its files cannot be read, or someone asked to stop.
pub fn open(
    folder: &Path,
    stop: &Stop,
    progress: &Progress,
    findings: &mut Findings,
) -> Result<Option<Kept>, Trouble> {
    if !folder.join(ORDER).exists() {
        return Err(Trouble::files(format!("there is no order in {}", shown(folder)))
            .hint("`cupwright order QUOTE --option LETTER --out DIR` makes one of a quote."));
    }
    let Some(source) = open_text(&folder.join(ORDER), findings)? else { return Ok(None) };
    let reading = read_order(&source);
    findings.add(&source, reading.diagnostics);
    let Some(order) = reading.value else { return Ok(None) };
    let mut as_agreed = true;
    for (name, sum) in [(PIECE, order.piece_sum), (STUDIO, order.studio_sum)] {
        let bytes = quote_folder::file(folder, name)?;
        if fnv1a_64(EMPTY, &bytes) != sum {
            as_agreed = false;
            let error = Diagnostic::error(
                FieldPath::root(),
                "this is not the file that was agreed",
            )
            .hint(format!(
                "its checksum is {}, and that of the order {sum:016x}",
                quote_folder::sum(&bytes)
            ))
            .hint("take it back from the folder of the quote, or make a new quote and a new order");
            findings.add(&Source::new(shown(&folder.join(name)), ""), vec![error]);
        }
    }
    let studio = open_studio(Some(&folder.join(STUDIO)), findings)?;
    let piece = open_piece(&folder.join(PIECE), stop, findings)?;
    let (Some(studio), Some(opened), true) = (studio, piece, as_agreed) else { return Ok(None) };
    let travel = Travel {
        notes: opened.notes.clone(),
        settings: studio.settings.clone(),
        begin: Some(order.accepted),
        stop,
        long_work: &|_| true,
        progress: &|share, doing| progress.show(0.9 * share, doing),
    };
    let plan = match walk(opened.piece.clone(), travel) {
        Ok(plan) => plan,
        Err(Halt::Stopped) => return Err(Trouble::stopped()),
        Err(Halt::Mend(errors)) => {
            opened.found(errors, &studio, findings);
            return Ok(None);
        }
    };
    if fnv1a_64(EMPTY, &stones_csv(&plan)) != order.stones_sum {
        let message = format!(
            "its stones do not lie as agreed: this version of Cupwright lays {}, and {} were agreed",
            plan.stones.stones.len(),
            order.stones
        );
        let error = Diagnostic::error(FieldPath::root(), message)
            .hint("plan it with the version of Cupwright that wrote the quote");
        findings.add(&Source::new(shown(&folder.join(PIECE)), ""), vec![error]);
        return Ok(None);
    }
    Ok(Some(Kept { order, plan }))
}
