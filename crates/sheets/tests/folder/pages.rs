//! The workbook's pages as a whole, for every example: none nearly empty, and no caution apart from
//! its step.

use crate::pdf::{greymaps, text};
use crate::road::EXAMPLES;
use work::StepKind;

/// Dots per inch at which pages are looked at: a dot is about a millimetre.
const DPI: f64 = 25.4;

/// What the head and the foot of a page take, mm.
const HEAD_MM: usize = 22;
const FOOT_MM: usize = 20;

#[test]
fn every_page_but_the_care_card_is_filled_to_a_sixth_at_least() {
    for (plan, folder) in EXAMPLES.iter() {
        let workbook = folder.path().join("workbook.pdf");
        let pages = greymaps(&workbook, DPI, None);
        let words = text(&workbook);
        assert_eq!(pages.len(), words.len());
        for (number, (page, words)) in pages.iter().zip(&words).enumerate() {
            // A row counts if it, or one within 2 mm of it, holds ink: so do the gaps between lines.
            let rows = HEAD_MM..page.height - FOOT_MM;
            let inked: Vec<bool> =
                (0..page.height).map(|y| (0..page.width).any(|x| page.ink(x, y) > 0.15)).collect();
            let filled = rows.clone().filter(|&y| inked[y - 2..=y + 2].contains(&true)).count();
            let share = filled as f64 / rows.len() as f64;
            let (title, number) = (&plan.piece.title, number + 1);
            // 15 %: our own limit.
            assert!(
                share > 0.15 || words.contains("cut out, put it in the box"),
                "{title}, page {number} is filled to {share:.2}: {words}"
            );
        }
    }
}

#[test]
fn every_page_bears_its_own_number() {
    // Pages that never settle bear the numbers and heads of others.
    for (plan, folder) in EXAMPLES.iter() {
        let words = text(&folder.path().join("workbook.pdf"));
        for (index, page) in words.iter().enumerate() {
            let number = format!("{} of {}", index + 1, words.len());
            assert!(in_one_line(page).contains(&number), "{}, {number}: {page}", plan.piece.title);
        }
    }
}

#[test]
fn the_cautions_of_every_step_stand_below_its_name_on_the_same_page() {
    for (plan, folder) in EXAMPLES.iter() {
        let words = text(&folder.path().join("workbook.pdf"));
        let pages: Vec<String> = words.iter().map(|page| in_one_line(page)).collect();
        let steps = &plan.steps.steps;
        let mut told = 0;
        for (index, step) in steps.iter().enumerate() {
            let name = format!(" {} ", step.name);
            // A page ends a step too.
            let until = steps.get(index + 1).map(|next| format!(" {} ", next.name));
            let on = |page: &String| {
                let start = page.find(&name)? + name.len();
                let rest = &page[start..];
                let end = until.as_ref().and_then(|next| rest.find(next));
                Some(rest[..end.unwrap_or(rest.len())].to_owned())
            };
            let texts: Vec<String> = pages.iter().filter_map(on).collect();
            let mut missing: Vec<Vec<&str>> = Vec::new();
            let cautions = step.cautions.iter().map(String::as_str);
            let own: Vec<&str> = cautions.filter(|line| !line.contains("data sheet")).collect();
            for text in &texts {
                let absent = |line: &&&str| !text.contains(&in_one_line(&line[1..]));
                // What an earlier step says in full is said in short, and points there.
                let short = text.contains("The rest as at step");
                let wanted = if short { &own[..1] } else { &own[..] };
                missing.push(wanted.iter().filter(absent).copied().collect());
            }
            let found = missing.iter().any(Vec::is_empty);
            assert!(found, "{}: step {} {name}: {missing:?}", plan.piece.title, index + 1);
            told += own.len();
            let dangerous = matches!(
                step.kind,
                StepKind::Pour | StepKind::Sand | StepKind::Paint | StepKind::Set
            );
            assert!(!dangerous || !own.is_empty(), "{name} has no caution");
        }
        assert!(told > 0);
    }
}

/// Text with single spaces and plain apostrophes, as a typesetter breaks lines and turns quotes.
fn in_one_line(text: &str) -> String {
    let text = text.replace(['\u{2019}', '\u{2018}'], "'");
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}
