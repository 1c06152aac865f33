//! Where each task could begin if it were alone, and whether the gaps leave any of it.
//!
//! Places are sets of slots as intervals. Each gap takes from either task what has no partner on the
//! other side, until nothing changes: arc consistency (Mackworth, "Consistency in networks of
//! relations", Artificial Intelligence 8, 1977, from memory).

use super::conflict::{Conflict, Reason};
use super::lags::raise;
use super::needs;
use super::plain::Arc;
use super::room::Room;
use crate::book::{Book, Slot, Task};
use crate::plan::Stretch;

/// First and last slots in which a task may begin, in order and apart, both included.
type Places = Vec<(Slot, Slot)>;

/// Rounds after which places are left as they are, though a gap might take more from them.
const ROUNDS: usize = 10_000;

/// A gap between the begins of two tasks, in the freest reading.
#[derive(Debug, Clone, Copy)]
struct Span {
    link: usize,
    from: usize,
    to: usize,
    least: Slot,
    most: Option<Slot>,
}

/// Shortest and longest time from a task's begin to its end; nothing if there is no longest.
fn lengths(task: &Task) -> (Slot, Option<Slot>) {
    match (&task.fixed, task.sittings, task.mix) {
        (Some(placed), ..) => {
            let length = placed.ends() - placed.begins();
            (length, Some(length))
        }
        // With sittings a task may stretch over any time.
        (None, Some(_), _) => (task.work, None),
        // Of a shared mix only the first task stirs.
        (None, None, Some(mix)) => ((task.work - mix.stir).max(0), Some(task.work)),
        (None, None, None) => (task.work, Some(task.work)),
    }
}

fn spans(book: &Book) -> Vec<Span> {
    let mut spans = Vec::new();
    for (link, gap) in book.links.iter().enumerate() {
        let (from, to) = (&book.tasks[gap.from], &book.tasks[gap.to]);
        let stands = from.fixed.is_some() && to.fixed.is_some();
        if from.optional || to.optional || stands {
            continue;
        }
        let (shortest, longest) = lengths(from);
        let most = gap.most.filter(|_| gap.relief.is_none());
        spans.push(Span {
            link,
            from: gap.from,
            to: gap.to,
            least: shortest.saturating_add(gap.least),
            most: most.zip(longest).map(|(most, longest)| longest.saturating_add(most)),
        });
    }
    spans
}

/// Where a task could begin if there were no other, and the longest stretch that it could use.
fn alone(book: &Book, task: &Task) -> (Places, Slot) {
    if let Some(placed) = &task.fixed {
        return (vec![(placed.begins(), placed.begins())], placed.ends() - placed.begins());
    }
    let from = task.not_before.max(0);
    let everyone = vec![(Slot::MIN, Slot::MAX)];
    let split = task.sittings.is_some();
    let (shortest, _) = lengths(task);
    // One slot of work is enough to begin a task that may be split.
    let asked = if split { shortest.min(1) } else { shortest };
    let whole: Vec<Stretch> = if task.hands.is_empty() || asked == 0 {
        everyone
    } else {
        let hands = task.hands.iter().map(|&hand| book.people[hand].open.stretches());
        hands.flatten().copied().collect()
    };
    let mut longest = 0;
    let mut places = Places::new();
    for (opens, closes) in whole {
        let (opens, closes) = (opens.max(from), closes.min(book.horizon));
        longest = longest.max(closes.saturating_sub(opens));
        let last = closes.saturating_sub(asked).min(book.horizon.saturating_sub(shortest));
        places.push((opens, last));
    }
    places = tidy(places);
    if !split && task.mix.is_none() {
        for need in needs::of_machines(task) {
            let machine = &book.machines[need.room];
            let mut room = Room::always(i32::from(machine.capacity));
            for outage in &machine.outages {
                room.take((outage.from, outage.to), i32::from(outage.amount));
            }
            for ((shuts, opens), _) in room.short_of(need.amount) {
                let last = shuts.saturating_sub(need.from).saturating_sub(need.length);
                places = without(&places, last, opens.saturating_sub(need.from));
            }
        }
    }
    (places, longest)
}

/// In order, without empty ones, and united where they touch.
fn tidy(mut places: Places) -> Places {
    places.retain(|(first, last)| first <= last);
    places.sort_unstable();
    let mut united = Places::new();
    for (first, last) in places {
        match united.last_mut() {
            Some(before) if first <= before.1.saturating_add(1) => before.1 = before.1.max(last),
            _ => united.push((first, last)),
        }
    }
    united
}

/// Without the slots between two, these not included.
fn without(places: &Places, after: Slot, before: Slot) -> Places {
    let cut = places
        .iter()
        .flat_map(|&(first, last)| [(first, last.min(after)), (first.max(before), last)]);
    tidy(cut.collect())
}

/// What lies in both, if the second is moved and widened.
fn meet(places: &Places, other: &Places, least: Slot, most: Option<Slot>) -> Places {
    let moved = other.iter().map(|&(first, last)| {
        (first.saturating_add(least), most.map_or(Slot::MAX, |most| last.saturating_add(most)))
    });
    let moved = tidy(moved.collect());
    let mut both = Places::new();
    let mut at = 0;
    for &(first, last) in places {
        while at < moved.len() && moved[at].1 < first {
            at += 1;
        }
        for &(from, to) in moved[at..].iter().take_while(|(from, _)| *from <= last) {
            both.push((first.max(from), last.min(to)));
        }
    }
    both
}

/// The task that is left without a place, if there is one.
fn starved(spans: &[Span], alone: &[Places]) -> Option<usize> {
    let mut places = alone.to_vec();
    for _ in 0..ROUNDS {
        let mut changed = false;
        for span in spans {
            let to = meet(&places[span.to], &places[span.from], span.least, span.most);
            let back = |most: Slot| most.saturating_neg();
            let least = span.most.map_or(Slot::MIN, back);
            let from = meet(&places[span.from], &to, least, Some(back(span.least)));
            for (task, left) in [(span.to, to), (span.from, from)] {
                if left.is_empty() {
                    return Some(task);
                }
                changed |= left != places[task];
                places[task] = left;
            }
        }
        if !changed {
            break;
        }
    }
    None
}

/// Contradictions among gaps, hours and the horizon.
pub(super) fn conflicts(book: &Book) -> Vec<Conflict> {
    let spans = spans(book);
    let arcs: Vec<Arc> = (spans.iter())
        .flat_map(|span| {
            let forward = Arc { from: span.from, to: span.to, lag: span.least, link: span.link };
            let back =
                |most: Slot| Arc { from: span.to, to: span.from, lag: -most, link: span.link };
            [Some(forward), span.most.map(back)]
        })
        .flatten()
        .collect();
    if let Err(cycle) = raise(&arcs, &mut vec![0; book.tasks.len()]) {
        return vec![Conflict::of_cycle(book, &arcs, &cycle)];
    }
    let (places, longest): (Vec<_>, Vec<_>) =
        book.tasks.iter().map(|task| alone(book, task)).unzip();
    let mut found = Vec::new();
    for (task, _) in book.tasks.iter().enumerate().filter(|(_, task)| !task.optional) {
        if places[task].is_empty() {
            found.push(Conflict::new(book, Reason::Alone { task, longest: longest[task] }));
        }
    }
    if !found.is_empty() {
        return found;
    }
    for spans in apart(book.tasks.len(), spans) {
        if starved(&spans, &places).is_some() {
            found.push(explained(book, spans, &places));
        }
    }
    found
}

/// The gaps of tasks that hang together, apart from the others.
fn apart(tasks: usize, spans: Vec<Span>) -> Vec<Vec<Span>> {
    let mut group: Vec<usize> = (0..tasks).collect();
    fn root(group: &mut [usize], mut task: usize) -> usize {
        while group[task] != task {
            group[task] = group[group[task]];
            task = group[task];
        }
        task
    }
    for span in &spans {
        let (from, to) = (root(&mut group, span.from), root(&mut group, span.to));
        group[from.max(to)] = from.min(to);
    }
    let mut parts = vec![Vec::new(); tasks];
    for span in spans {
        parts[root(&mut group, span.from)].push(span);
    }
    parts.retain(|part| !part.is_empty());
    parts
}

/// The fewest gaps that still leave a task no place: each that is not needed for that is dropped.
fn explained(book: &Book, spans: Vec<Span>, places: &[Places]) -> Conflict {
    let without_most: Vec<Span> = spans.iter().map(|span| Span { most: None, ..*span }).collect();
    let only_least = starved(&without_most, places).is_some();
    let mut needed = if only_least { without_most } else { spans };
    let mut at = 0;
    while at < needed.len() {
        let dropped = needed.remove(at);
        if starved(&needed, places).is_none() {
            needed.insert(at, dropped);
            at += 1;
        }
    }
    let links = needed.iter().map(|span| span.link).collect();
    let last =
        needed.iter().map(|span| span.to).find(|&task| needed.iter().all(|span| span.from != task));
    match last.filter(|_| only_least) {
        Some(task) => Conflict::new(book, Reason::Horizon { links, task }),
        None => Conflict::new(book, Reason::Hours { links }),
    }
}
