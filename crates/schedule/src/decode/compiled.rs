//! A book in the form that placing needs: everything by index, neighbours side by side in memory.

use crate::book::{Book, Mix, Sittings, Slot, Use};

/// No task.
pub(crate) const NONE: u32 = u32::MAX;
/// A gap may be as long as it likes.
pub(crate) const EVER: Slot = Slot::MAX / 4;

/// A gap before a task.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Before {
    /// The task before.
    pub task: u32,
    /// Index of the link.
    pub link: u32,
    /// Least and most gap.
    pub least: Slot,
    /// Most gap; [`EVER`] without one.
    pub most: Slot,
    /// The optional task that relieves it, or [`NONE`].
    pub relief: u32,
    /// Gaps before and after that task.
    pub around: (Slot, Slot),
}

/// What does not change from plan to plan.
#[derive(Debug, Clone)]
pub(crate) struct Compiled<'a> {
    /// The book itself.
    pub book: &'a Book,
    /// Work of each task.
    pub work: Vec<Slot>,
    /// Sittings of each task.
    pub sittings: Vec<Option<Sittings>>,
    /// Mix of each task.
    pub mixes: Vec<Option<Mix>>,
    /// Number of kinds of mixes.
    pub kinds: usize,
    hands: (Vec<u32>, Vec<u32>),
    uses: (Vec<u32>, Vec<Use>),
    before: (Vec<u32>, Vec<Before>),
    after: (Vec<u32>, Vec<(u32, u32)>),
}

/// Lists of lists, one after the other.
fn side_by_side<T: Clone>(lists: &[Vec<T>]) -> (Vec<u32>, Vec<T>) {
    let mut ends = Vec::with_capacity(lists.len() + 1);
    ends.push(0);
    let mut all = Vec::new();
    for list in lists {
        all.extend_from_slice(list);
        ends.push(all.len() as u32);
    }
    (ends, all)
}

fn of<T>(lists: &(Vec<u32>, Vec<T>), index: usize) -> &[T] {
    &lists.1[lists.0[index] as usize..lists.0[index + 1] as usize]
}

impl<'a> Compiled<'a> {
    /// Reads a book.
    pub fn new(book: &'a Book) -> Self {
        let n = book.tasks.len();
        let mut before: Vec<Vec<Before>> = vec![Vec::new(); n];
        let mut after: Vec<Vec<(u32, u32)>> = vec![Vec::new(); n];
        for (index, link) in book.links.iter().enumerate() {
            before[link.to].push(Before {
                task: link.from as u32,
                link: index as u32,
                least: link.least,
                most: link.most.unwrap_or(EVER),
                relief: link.relief.map_or(NONE, |relief| relief.task as u32),
                around: link.relief.map_or((0, 0), |relief| (relief.before, relief.after)),
            });
            after[link.from].push((link.to as u32, index as u32));
        }
        let hands: Vec<Vec<u32>> = book
            .tasks
            .iter()
            .map(|task| task.hands.iter().map(|&person| person as u32).collect())
            .collect();
        let uses: Vec<Vec<Use>> = book.tasks.iter().map(|task| task.uses.clone()).collect();
        let kinds = book.tasks.iter().filter_map(|task| task.mix).map(|mix| mix.kind as usize + 1);
        Self {
            book,
            work: book.tasks.iter().map(|task| task.work).collect(),
            sittings: book.tasks.iter().map(|task| task.sittings).collect(),
            mixes: book.tasks.iter().map(|task| task.mix).collect(),
            kinds: kinds.max().unwrap_or(0),
            hands: side_by_side(&hands),
            uses: side_by_side(&uses),
            before: side_by_side(&before),
            after: side_by_side(&after),
        }
    }

    /// Number of tasks.
    pub fn len(&self) -> usize {
        self.work.len()
    }

    /// Who may do a task.
    pub fn hands(&self, task: usize) -> &[u32] {
        of(&self.hands, task)
    }

    /// What a task occupies.
    pub fn uses(&self, task: usize) -> &[Use] {
        of(&self.uses, task)
    }

    /// The gaps before a task.
    pub fn before(&self, task: usize) -> &[Before] {
        of(&self.before, task)
    }

    /// The tasks after a task, each with its link.
    pub fn after(&self, task: usize) -> &[(u32, u32)] {
        of(&self.after, task)
    }
}
