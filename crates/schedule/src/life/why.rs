//! Why a task does not begin earlier.

use super::blockers::{Reason, blockers};
use super::reckon;
use crate::book::{Book, Slot};
use crate::plan::{Cost, Placed, Plan, Stretch};
use std::fmt;

/// Why a task does not begin one slot earlier than it does.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Why {
    /// Index of the task.
    pub task: usize,
    /// When it begins.
    pub begins: Slot,
    /// What holds whoever does it.
    pub reasons: Vec<Reason>,
    /// What holds each of those who may do it: its person first; empty if nobody is needed.
    pub people: Vec<(usize, Vec<Reason>)>,
    /// It could begin earlier, with all others where they are.
    pub could: Option<Could>,
    /// It is fixed where it stands.
    pub fixed: bool,
}

/// A task could begin one slot earlier.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Could {
    /// Where it would stand.
    pub placed: Placed,
    /// Optional tasks that would be spared.
    pub spared: Vec<usize>,
    /// What the plan would cost, its moved tasks counted as before.
    pub cost: Cost,
    /// Whether that is less.
    pub gains: bool,
}

/// Why a task of a plan does not begin one slot earlier, all others standing where they stand; `None`
/// if it is not in the plan. A task in several sittings would begin its first sitting earlier; by
/// someone else it would have to end no later than it does.
pub fn why(book: &Book, plan: &Plan, task: usize) -> Option<Why> {
    let stands = plan.tasks.get(task)?.as_ref()?;
    let begins = stands.begins();
    let mut why =
        Why { task, begins, reasons: Vec::new(), people: Vec::new(), could: None, fixed: false };
    if book.tasks[task].fixed.is_some() {
        why.fixed = true;
        return Some(why);
    }
    let mut earlier = stands.clone();
    if let Some(first) = earlier.stretches.first_mut() {
        *first = (first.0 - 1, first.1 - 1);
    }
    let mut hands: Vec<Option<usize>> = vec![stands.person];
    let others = book.tasks[task].hands.iter().map(|&person| Some(person));
    hands.extend(others.filter(|person| *person != stands.person));
    for person in hands {
        let by = Placed { person, ..earlier.clone() };
        let anew = (person != stands.person).then(|| laid_out(book, plan, task, &by)).flatten();
        // What cannot be laid out in time is told as one sitting that runs on.
        let in_time = person == stands.person || anew.is_some();
        let by = if in_time { anew.unwrap_or(by) } else { run_on(book, task, by) };
        let (own, whoever): (Vec<_>, Vec<_>) = blockers(book, &plan.tasks, task, &by)
            .into_iter()
            .partition(|it| it.person().is_some());
        if in_time && own.is_empty() && whoever.is_empty() && why.could.is_none() {
            why.could = Some(could(book, plan, task, by));
        }
        if person == stands.person {
            why.reasons = whoever;
        } else {
            // What one layout of sittings runs into need not hold for the others.
            let new = whoever.into_iter().filter(|it| matches!(it, Reason::Mix { .. }));
            let new: Vec<_> = new.filter(|it| !why.reasons.contains(it)).collect();
            if let Some(person) = person {
                why.people.push((person, own.into_iter().chain(new).collect()));
            }
            continue;
        }
        if let Some(person) = person {
            why.people.push((person, own));
        }
    }
    Some(why)
}

/// The place of a task that someone else would do, its sittings one after the other as her hours allow;
/// `None` if that ends later than it does.
fn laid_out(book: &Book, plan: &Plan, task: usize, placed: &Placed) -> Option<Placed> {
    let (Some(rules), Some(person)) = (book.tasks[task].sittings, placed.person) else {
        return Some(placed.clone());
    };
    let ends = plan.tasks[task].as_ref().map_or(0, Placed::ends);
    let begins = placed.begins();
    let fits = |stretch: Stretch| {
        let alone = Placed { person: Some(person), stretches: vec![stretch], mix: None };
        let found = blockers(book, &plan.tasks, task, &alone);
        !found.iter().any(|it| it.person().is_some())
    };
    let mut left = book.tasks[task].work;
    let (mut at, mut stretches) = (begins, Vec::new());
    while left > 0 {
        let least = rules.set_up + rules.least.min(left).max(1);
        let most = rules.longest.max(least).min(rules.set_up + left);
        let begin = if stretches.is_empty() {
            Some(begins)
        } else {
            (at..ends).find(|&at| fits((at, at + least)))
        };
        let begin = begin.filter(|&begin| begin + least <= ends)?;
        let whole = (least..=most).rev().find(|&length| fits((begin, begin + length)));
        let length = whole.unwrap_or(least);
        stretches.push((begin, begin + length));
        left -= length - rules.set_up;
        at = begin + length + rules.rest;
    }
    Some(Placed { stretches, ..placed.clone() })
}

/// The place of a task in sittings, told as one; a task in one go stays as it is.
fn run_on(book: &Book, task: usize, placed: Placed) -> Placed {
    let Some(rules) = book.tasks[task].sittings else { return placed };
    let begins = placed.begins();
    Placed { stretches: vec![(begins, begins + rules.set_up + book.tasks[task].work)], ..placed }
}

fn could(book: &Book, plan: &Plan, task: usize, placed: Placed) -> Could {
    let mut tasks = plan.tasks.clone();
    tasks[task] = Some(placed.clone());
    let spared = uncalled(book, &tasks);
    for &relief in &spared {
        tasks[relief] = None;
    }
    let cost = Cost { moved: plan.cost.moved, ..reckon::cost(book, &tasks, &[]) };
    Could { placed, spared, gains: cost < plan.cost, cost }
}

/// Optional tasks that are done though no gap calls for them.
fn uncalled(book: &Book, tasks: &[Option<Placed>]) -> Vec<usize> {
    let calls = |task: usize| {
        book.links.iter().any(|link| {
            let both = tasks[link.from].as_ref().zip(tasks[link.to].as_ref());
            link.relief.is_some_and(|relief| relief.task == task)
                && both
                    .zip(link.most)
                    .is_some_and(|((from, to), most)| to.begins() - from.ends() > most)
        })
    };
    let done = (0..tasks.len()).filter(|&task| {
        book.tasks[task].optional && book.tasks[task].fixed.is_none() && tasks[task].is_some()
    });
    done.filter(|&task| !calls(task)).collect()
}

impl Why {
    /// In plain words, without times: whoever knows how long a slot is can tell them from the fields.
    pub fn in_words<'a>(&'a self, book: &'a Book) -> impl fmt::Display + 'a {
        Words { why: self, book }
    }
}

struct Words<'a> {
    why: &'a Why,
    book: &'a Book,
}

impl fmt::Display for Words<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { why, book } = *self;
        let name = |task: usize| format!("“{}”", book.tasks[task].name);
        write!(f, "{} ", name(why.task))?;
        if why.fixed {
            return f.write_str("is fixed where it stands");
        }
        if let Some(could) = &why.could {
            f.write_str("could begin earlier")?;
            if could.placed.person != why.people.first().map(|it| it.0)
                && let Some(person) = could.placed.person
            {
                write!(f, " if {} did it", book.people[person].name)?;
            }
            let gains = if could.gains {
                ", and the plan would gain"
            } else {
                ", but the plan would gain nothing"
            };
            return f.write_str(gains);
        }
        f.write_str("does not begin earlier: ")?;
        let all = why.reasons.iter().chain(why.people.iter().flat_map(|(_, own)| own));
        let mut told: Vec<String> = Vec::new();
        for reason in all {
            let words = in_words(book, reason);
            if !told.contains(&words) {
                told.push(words);
            }
        }
        f.write_str(&told.join("; "))
    }
}

/// One reason in words.
fn in_words(book: &Book, reason: &Reason) -> String {
    let name = |task: usize| format!("“{}”", book.tasks[task].name);
    let person = |person: usize| &book.people[person].name;
    let spared = |relief: &Option<usize>| {
        relief.map_or(String::new(), |it| format!(", without {}", name(it)))
    };
    match reason {
        Reason::NotBefore(_) => "it may not begin before then".into(),
        Reason::Horizon(_) => "it would end after all that is planned".into(),
        Reason::Gap { after, least, .. } if *least > 0 => {
            format!("it has to wait after {}", name(*after))
        }
        Reason::Gap { after, .. } => format!("{} has to be done first", name(*after)),
        Reason::Ahead { then, .. } => format!("{} would come too soon after it", name(*then)),
        Reason::TooLate { after, relief, .. } => {
            format!("it would come too late after {}{}", name(*after), spared(relief))
        }
        Reason::Window { then, relief, .. } => {
            format!("it waits so that {} can follow in time{}", name(*then), spared(relief))
        }
        Reason::MayNot { person: who } => format!("{} does not do it", person(*who)),
        Reason::Closed { person: who, .. } => format!("{} is not there", person(*who)),
        Reason::Busy { person: who, with, .. } => {
            format!("{} is busy with {}", person(*who), name(*with))
        }
        Reason::Rest { person: who, with, .. } => {
            format!("{} rests between it and {}", person(*who), name(*with))
        }
        Reason::Full { machine, with, .. } => {
            let others: Vec<String> = with.iter().map(|&task| name(task)).collect();
            let beside = if others.is_empty() {
                "is out".into()
            } else {
                format!("is full with {}", others.join(", "))
            };
            format!("{} {beside}", book.machines[*machine].name)
        }
        Reason::Mix { with } => format!("it shares a mix with {}", name(*with)),
    }
}
