//! Random small books: the best plan, and that there is none, against trying everything.

use proptest::prelude::*;
use schedule::exact::Reason;
use schedule::{
    Book, Job, Link, Machine, Open, Outage, Person, Placed, Slot, Task, Use, conflicts, exact,
};

const HORIZON: Slot = 11;

/// Lateness, then the sum of the ends of jobs.
type Worth = (u64, u64);

/// Tries every begin of every task; gaps and rooms are looked at slot by slot.
struct Trial<'b> {
    book: &'b Book,
    begins: Vec<Slot>,
    best: Option<Worth>,
}

impl Trial<'_> {
    fn length(&self, task: usize) -> Slot {
        let task = &self.book.tasks[task];
        task.fixed.as_ref().map_or(task.work, |placed| placed.ends() - placed.begins())
    }

    fn gaps_hold(&self) -> bool {
        let placed = self.begins.len();
        let links = self.book.links.iter().filter(|link| link.from < placed && link.to < placed);
        links.into_iter().all(|link| {
            let fixed = |task: usize| self.book.tasks[task].fixed.is_some();
            let gap = self.begins[link.to] - self.begins[link.from] - self.length(link.from);
            let fits = gap >= link.least && link.most.is_none_or(|most| gap <= most);
            fits || (fixed(link.from) && fixed(link.to))
        })
    }

    /// What movable tasks share is there for all. What is fixed is not asked.
    fn room_in(&self, slot: Slot) -> bool {
        let tasks = || self.book.tasks.iter().zip(&self.begins);
        let at_work = |person: usize| {
            let by_hand = tasks().filter(move |(task, begins)| {
                let free = task.fixed.is_none() && task.hands.contains(&person);
                free && (**begins..**begins + task.work).contains(&slot)
            });
            let stands = tasks().filter(move |(task, _)| {
                let placed = task.fixed.as_ref().filter(|placed| placed.person == Some(person));
                placed.is_some_and(|placed| (placed.begins()..placed.ends()).contains(&slot))
            });
            (by_hand.count(), stands.count())
        };
        let people = self.book.people.iter().enumerate().all(|(person, who)| {
            let open = who.open.stretches().iter().any(|open| (open.0..open.1).contains(&slot));
            let (free, stands) = at_work(person);
            free == 0 || (open && free + stands == 1)
        });
        people && (0..self.book.machines.len()).all(|machine| self.machine_in(machine, slot))
    }

    fn machine_in(&self, machine: usize, slot: Slot) -> bool {
        let (mut free, mut all) = (0, 0);
        for (task, begins) in self.book.tasks.iter().zip(&self.begins) {
            for used in task.uses.iter().filter(|used| used.machine == machine) {
                let from = begins + used.from;
                if (from..from + used.length).contains(&slot) {
                    all += i32::from(used.amount);
                    free += if task.fixed.is_none() { i32::from(used.amount) } else { 0 };
                }
            }
        }
        let machine = &self.book.machines[machine];
        let out = machine.outages.iter().filter(|out| (out.from..out.to).contains(&slot));
        let out: i32 = out.map(|out| i32::from(out.amount)).sum();
        free == 0 || all + out <= i32::from(machine.capacity)
    }

    fn worth(&self) -> Worth {
        let (mut late, mut finishes) = (0, 0);
        for (at, job) in self.book.jobs.iter().enumerate() {
            let of_job = (0..self.begins.len()).filter(|&task| self.book.tasks[task].job == at);
            let ends = of_job.map(|task| self.begins[task] + self.length(task)).max().unwrap_or(0);
            let leaves = job.leaves.iter().copied().find(|&leave| leave >= ends).unwrap_or(ends);
            let over = job.due.map_or(0, |due| (leaves - due).max(0));
            late += u64::from(job.weight) * u64::from(over.unsigned_abs());
            finishes += u64::from(ends.unsigned_abs());
        }
        (late, finishes)
    }

    fn go(&mut self) {
        let next = self.begins.len();
        if !self.gaps_hold() || !(-2..HORIZON + 9).all(|slot| self.room_in(slot)) {
            return;
        }
        let Some(task) = self.book.tasks.get(next) else {
            let worth = self.worth();
            self.best = Some(self.best.map_or(worth, |best| best.min(worth)));
            return;
        };
        let places = match &task.fixed {
            Some(placed) => placed.begins()..placed.begins() + 1,
            None => task.not_before..self.book.horizon - task.work + 1,
        };
        for begins in places {
            self.begins.push(begins);
            self.go();
            self.begins.pop();
        }
    }
}

fn tried(book: &Book) -> Option<Worth> {
    let mut trial = Trial { book, begins: Vec::new(), best: None };
    trial.go();
    trial.best
}

prop_compose! {
    fn some_task(people: usize, machines: usize, jobs: usize)(
        work in 0..4i32, job in 0..jobs, hand in proptest::option::of(0..people),
        uses in proptest::collection::vec((0..machines, 1..3u16, -1..2i32, 0..5i32), 0..3),
        not_before in prop_oneof![3 => Just(0), 1 => 0..5i32],
        fixed in prop_oneof![9 => Just(None), 1 => (0..8i32).prop_map(Some)],
    ) -> Task {
        let fixed = fixed.map(|begins| Placed {
            person: hand,
            stretches: vec![(begins, begins + work)],
            mix: None,
        });
        let uses = uses.into_iter()
            .map(|(machine, amount, from, length)| Use { machine, amount, from, length })
            .collect();
        let hands = hand.into_iter().collect();
        Task {
            name: "task".into(), job, work, hands, sittings: None, uses, not_before,
            optional: false, mix: None, fixed,
        }
    }
}

prop_compose! {
    fn some_link(tasks: usize)(
        from in 0..tasks, other in 1..tasks, least in -3..4i32,
        most in proptest::option::of(-1..6i32),
    ) -> Link {
        Link { from, to: (from + other) % tasks, least, most, relief: None }
    }
}

fn some_job() -> impl Strategy<Value = Job> {
    let leaves = proptest::collection::btree_set(0..HORIZON, 0..4);
    (proptest::option::of(0..9i32), 0..4u32, leaves).prop_map(|(due, weight, leaves)| Job {
        name: "job".into(),
        due,
        weight,
        leaves: leaves.into_iter().collect(),
    })
}

fn some_person() -> impl Strategy<Value = Person> {
    proptest::collection::vec((0..HORIZON, 1..9i32), 1..3).prop_map(|stretches| Person {
        name: "someone".into(),
        open: Open::from_stretches(stretches.iter().map(|&(at, long)| (at, at + long)).collect()),
    })
}

fn some_machine() -> impl Strategy<Value = Machine> {
    let outage = (0..HORIZON, 1..4i32, 1..3u16);
    (1..4u16, proptest::collection::vec(outage, 0..2)).prop_map(|(capacity, outages)| Machine {
        name: "machine".into(),
        capacity,
        outages: (outages.into_iter())
            .map(|(from, long, amount)| Outage { from, to: from + long, amount })
            .collect(),
    })
}

prop_compose! {
    fn some_book()(count in 2..7usize, jobs in 1..4usize)(
        people in proptest::collection::vec(some_person(), 2),
        machines in proptest::collection::vec(some_machine(), 2),
        tasks in proptest::collection::vec(some_task(2, 2, jobs), count),
        links in proptest::collection::vec(some_link(count), 0..count),
        jobs in proptest::collection::vec(some_job(), jobs),
    ) -> Book {
        Book { horizon: HORIZON, people, machines, tasks, links, jobs }
    }
}

prop_compose! {
    fn only_gaps()(count in 2..5usize)(
        works in proptest::collection::vec(0..3i32, count),
        links in proptest::collection::vec(some_link(count), 1..2 * count),
    ) -> Book {
        let job = Job { name: "job".into(), due: None, weight: 0, leaves: Vec::new() };
        let tasks = works.iter().map(|&work| Task {
            name: "task".into(), job: 0, work, hands: Vec::new(), sittings: None,
            uses: Vec::new(), not_before: 0, optional: false, mix: None, fixed: None,
        });
        // Room for the longest chain of gaps and tasks.
        let horizon = 5 * works.len() as Slot;
        let tasks = tasks.collect();
        Book { horizon, people: Vec::new(), machines: Vec::new(), tasks, links, jobs: vec![job] }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..Default::default() })]

    #[test]
    fn the_best_plan_is_found_and_proved(book in some_book()) {
        let best = tried(&book);
        match exact(&book, None, &mut |_| true) {
            Ok(found) => {
                prop_assert!(found.proven);
                let plan = found.plan.expect("a proof comes with a plan");
                prop_assert_eq!(Some((plan.cost.late, plan.cost.finishes)), best);
                prop_assert_eq!(plan.cost, found.bound);
                // The plan is one of those that were tried, at its cost.
                let begins = plan.tasks.iter().map(|placed| placed.as_ref().unwrap().begins());
                let again = Trial { book: &book, begins: begins.collect(), best: None };
                prop_assert!(again.gaps_hold() && (-2..HORIZON + 9).all(|slot| again.room_in(slot)));
                prop_assert_eq!(Some(again.worth()), best);
            }
            Err(conflict) => prop_assert_eq!(None, best, "{}", conflict),
        }
    }

    #[test]
    fn what_is_told_before_any_search_is_true(book in some_book()) {
        let told = conflicts(&book);
        if let Some(conflict) = told.first() {
            prop_assert_eq!(None, tried(&book), "{}", conflict);
        }
    }

    #[test]
    fn gaps_that_contradict_each_other_are_told_and_no_others(book in only_gaps()) {
        let told = conflicts(&book);
        prop_assert_eq!(told.is_empty(), tried(&book).is_some(), "{:?}", told);
        for conflict in told {
            if let Reason::Cycle { steps, sum } = &conflict.reason {
                prop_assert!(*sum > 0);
                prop_assert_eq!(steps.iter().map(|step| i64::from(step.lag)).sum::<i64>(), *sum);
            }
        }
    }

    #[test]
    fn links_to_blame_are_enough_and_none_too_many(book in some_book()) {
        let Err(conflict) = exact(&book, None, &mut |_| true) else { return Ok(()) };
        let Reason::Links { together, loosen } = conflict.reason else { return Ok(()) };
        let with = |links: &dyn Fn(usize) -> bool| {
            let kept = book.links.iter().enumerate().filter(|(at, _)| links(*at));
            let links = kept.map(|(_, link)| link.clone()).collect();
            tried(&Book { links, ..book.clone() })
        };
        prop_assert_eq!(with(&|link| together.contains(&link)), None);
        for &left in &together {
            prop_assert!(with(&|link| link != left && together.contains(&link)).is_some());
        }
        prop_assert!(with(&|link| !loosen.contains(&link)).is_some());
        for &kept in &loosen {
            prop_assert_eq!(with(&|link| link == kept || !loosen.contains(&link)), None);
        }
    }
}
