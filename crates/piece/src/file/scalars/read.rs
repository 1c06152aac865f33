//! Single values read from what was typed, with a complaint and a way out where they are not as expected.

use super::Decimal;
use crate::units::{Complaint, LENGTH, shorten};

pub(super) fn read_name(text: &str) -> Result<String, Complaint> {
    let word = |part: &str| {
        !part.is_empty() && part.bytes().all(|b| b.is_ascii_lowercase() || b.is_ascii_digit())
    };
    let starts_well = text.starts_with(|c: char| c.is_ascii_lowercase());
    if text.len() <= 40 && starts_well && text.split('-').all(word) {
        return Ok(text.to_owned());
    }
    if text.is_empty() {
        return Err(Complaint::new("a name cannot be empty"));
    }
    let complaint = if text.chars().count() > 40 {
        Complaint::new(format!("the name `{}` is longer than 40 characters", shorten(text)))
    } else {
        Complaint::new(format!(
            "`{}` is not a name: names are lower-case letters, digits and hyphens, and start with a letter",
            shorten(text)
        ))
    };
    let parts: Vec<String> = text
        .to_lowercase()
        .split(|c: char| !c.is_ascii_lowercase() && !c.is_ascii_digit())
        .filter(|part| !part.is_empty())
        .map(str::to_owned)
        .collect();
    let better = parts.join("-");
    Err(if better.len() <= 40 && better.starts_with(|c: char| c.is_ascii_lowercase()) {
        complaint.hint(format!("write \"{better}\""))
    } else {
        complaint
    })
}

pub(crate) fn read_srgb(text: &str) -> Result<[u8; 3], Complaint> {
    let digits = text.strip_prefix('#').unwrap_or(text);
    let hexadecimal = digits.bytes().all(|byte| byte.is_ascii_hexdigit());
    let pair = |at: usize| digits.get(at..at + 2).and_then(|two| u8::from_str_radix(two, 16).ok());
    if hexadecimal
        && digits.len() == 6
        && text.starts_with('#')
        && let (Some(red), Some(green), Some(blue)) = (pair(0), pair(2), pair(4))
    {
        return Ok([red, green, blue]);
    }
    let complaint = Complaint::new(format!(
        "`{}` is not a colour: expected `#` and six hexadecimal digits (0-9, a-f)",
        shorten(text)
    ));
    Err(if hexadecimal && digits.len() == 6 {
        complaint.hint(format!("write \"#{digits}\""))
    } else if hexadecimal && digits.len() == 3 {
        let double: String = digits.chars().flat_map(|digit| [digit, digit]).collect();
        complaint.hint(format!("write each digit twice: \"#{double}\""))
    } else {
        complaint.hint("write red, green and blue as two digits each, such as \"#12343b\"")
    })
}

pub(super) fn read_letter(text: &str) -> Result<String, Complaint> {
    if (1..=2).contains(&text.len()) && text.bytes().all(|byte| byte.is_ascii_uppercase()) {
        return Ok(text.to_owned());
    }
    let complaint = Complaint::new(format!(
        "`{}` is not one or two capital letters from A to Z",
        shorten(text)
    ));
    let capital = text.to_ascii_uppercase();
    Err(if (1..=2).contains(&text.len()) && capital.bytes().all(|byte| byte.is_ascii_uppercase()) {
        complaint.hint(format!("write \"{capital}\""))
    } else {
        complaint
    })
}

pub(super) fn size_pattern() -> String {
    let numbers: Vec<_> = crate::stone_size::STONE_SIZES.iter().map(|(name, _)| *name).collect();
    format!("^({})$|{}", numbers.join("|"), LENGTH.pattern())
}

pub(super) fn read_day(text: &str) -> Result<jiff::civil::Date, Complaint> {
    let shape_holds = text.len() == 10
        && text.bytes().enumerate().all(|(at, byte)| match at {
            4 | 7 => byte == b'-',
            _ => byte.is_ascii_digit(),
        });
    match text.parse() {
        Ok(day) if shape_holds => Ok(day),
        _ if shape_holds => Err(Complaint::new(format!("`{text}` is no day of the calendar"))),
        _ => Err(Complaint::new(format!("`{}` is not a day", shorten(text)))
            .hint("write year, month and day, such as 2026-07-18")),
    }
}

pub(super) fn read_amount(text: &str) -> Result<Decimal, Complaint> {
    let wrong = |hint: &str| {
        Err(Complaint::new(format!("`{}` is not an amount of money", shorten(text))).hint(hint))
    };
    let (whole, part) = text.split_once('.').unwrap_or((text, ""));
    let digits_only = |s: &str| s.bytes().all(|byte| byte.is_ascii_digit());
    if text.contains(',') {
        return wrong("write it with a point and no commas, such as \"1250.00\"");
    }
    if whole.is_empty() || !digits_only(whole) || !digits_only(part) || text.ends_with('.') {
        return wrong(
            "write only the number, such as \"24.00\"; the currency is set once for the whole file",
        );
    }
    if whole.len() > 9 || part.len() > 4 {
        return wrong("amounts have at most nine digits before the point and four after it");
    }
    match format!("{whole}{part}").parse() {
        Ok(digits) => Ok(Decimal { digits, decimals: part.len() as u32 }),
        Err(_) => wrong("write only the number, such as \"24.00\""),
    }
}

pub(super) fn read_stretch(text: &str) -> Result<(u16, u16), Complaint> {
    let clock = |part: &str| -> Option<u16> {
        let (hour, minute) = part.split_once(':')?;
        let two = |s: &str| {
            (s.len() == 2 && s.bytes().all(|b| b.is_ascii_digit()))
                .then(|| s.parse::<u16>().ok())?
        };
        let (hour, minute) = (two(hour)?, two(minute)?);
        (minute < 60 && (hour < 24 || (hour == 24 && minute == 0))).then_some(hour * 60 + minute)
    };
    let Some((from, to)) =
        text.split_once('-').and_then(|(from, to)| Some((clock(from)?, clock(to)?)))
    else {
        return Err(Complaint::new(format!("`{}` is not a stretch of hours", shorten(text))).hint(
            "write two times of the 24-hour clock with a hyphen between, such as \"18:00-21:30\"",
        ));
    };
    if from >= to {
        return Err(Complaint::new(format!("`{text}` ends before it starts"))
            .hint("a stretch that runs past midnight is written as two: \"22:00-24:00\" and, on the next day, \"00:00-01:00\""));
    }
    Ok((from, to))
}

pub(super) fn read_file_name(text: &str) -> Result<String, Complaint> {
    let inside = |part: &str| !part.is_empty() && !part.starts_with('.');
    if text.contains(['\\', ':'])
        || !text.split('/').all(inside)
        || text.chars().any(char::is_control)
    {
        return Err(Complaint::new(format!("`{}` does not name a file beside this one", shorten(text)))
            .hint("put the file beside this one, or in a folder beside it, and write \"reeds.svg\" or \"art/reeds.svg\""));
    }
    Ok(text.to_owned())
}
