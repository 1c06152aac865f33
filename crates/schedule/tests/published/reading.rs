//! Reads published instances into books, with the published optimum of each.

use schedule::{Book, Job, Link, Machine, Task, Use};

/// An instance and what is published about it.
pub struct Published {
    /// Its name.
    pub name: &'static str,
    /// It as a book, whose tasks are all of one job.
    pub book: Book,
    /// The least makespan; nothing if there is no plan.
    pub optimum: Option<u64>,
}

macro_rules! instances {
    ($read:ident, $folder:literal, $extension:literal: $($name:literal $optimum:expr),*) => {
        [$(Published {
            name: $name,
            book: $read(include_str!(concat!($folder, "/", $name, ".", $extension))),
            optimum: $optimum,
        }),*]
    };
}

/// All instances. Sources of instances and optima: README.md beside this file.
pub fn published() -> Vec<Published> {
    let mut all = Vec::new();
    all.extend(instances!(job_shop, "jobshop", "txt":
        "ft06" Some(55), "ft10" Some(930), "la01" Some(666), "la02" Some(655), "la03" Some(597),
        "la04" Some(590), "la05" Some(593), "la06" Some(926), "la11" Some(1222)));
    all.extend(instances!(project, "rcpsp", "sm":
        "j301_1" Some(43), "j305_1" Some(53), "j309_1" Some(83), "j3013_1" Some(58),
        "j3017_1" Some(64), "j3021_1" Some(84), "j3025_1" Some(93), "j3029_1" Some(85),
        "j3030_2" Some(68), "j3037_1" Some(79), "j3041_1" Some(86), "j3045_1" Some(82)));
    all.extend(instances!(project_with_lags, "rcpsp_max", "sch":
        "j10_psp1" Some(26), "j10_psp3" Some(36), "j10_psp4" Some(39), "j10_psp5" Some(32),
        "j10_psp10" Some(36), "j10_psp2" None, "j30_psp1" None, "UBO10_01" None,
        "j30_psp9" Some(117), "j30_psp11" Some(62), "j30_psp16" Some(49), "j30_psp74" Some(68),
        "j30_psp91" Some(100), "ubo20_psp1" Some(103), "ubo20_psp6" Some(108),
        "ubo20_psp8" Some(93), "ubo20_psp19" Some(60), "ubo20_psp31" Some(110),
        "ubo20_psp61" Some(111)));
    all
}

fn numbers(line: &str) -> Vec<i32> {
    let words = line.split_whitespace().map(|word| word.trim_matches(['[', ']']));
    words.map(|word| word.parse().unwrap_or_else(|_| panic!("no number: {line}"))).collect()
}

fn task(name: String, work: i32) -> Task {
    Task {
        name,
        job: 0,
        work,
        hands: Vec::new(),
        sittings: None,
        uses: Vec::new(),
        not_before: 0,
        optional: false,
        mix: None,
        fixed: None,
    }
}

fn machine(name: String, capacity: i32) -> Machine {
    Machine { name, capacity: capacity.try_into().expect("a capacity"), outages: Vec::new() }
}

fn uses(amounts: &[i32], length: i32) -> Vec<Use> {
    let wanted = amounts.iter().enumerate().filter(|(_, amount)| **amount > 0);
    wanted
        .map(|(machine, &amount)| Use {
            machine,
            amount: amount.try_into().expect("an amount"),
            from: 0,
            length,
        })
        .collect()
}

/// One job, and a horizon by which everything could be done one after the other.
fn book(machines: Vec<Machine>, tasks: Vec<Task>, links: Vec<Link>) -> Book {
    let gaps = links.iter().map(|link| link.least.max(0)).sum::<i32>();
    let horizon = tasks.iter().map(|task| task.work).sum::<i32>() + gaps;
    let job = Job { name: "all".into(), due: None, weight: 0, leaves: Vec::new() };
    Book { horizon, people: Vec::new(), machines, tasks, links, jobs: vec![job] }
}

fn link(from: usize, to: usize, least: i32, most: Option<i32>) -> Link {
    Link { from, to, least, most, relief: None }
}

fn job_shop(text: &str) -> Book {
    let mut lines = text.lines().filter(|line| !line.starts_with('#') && !line.trim().is_empty());
    let size = numbers(lines.next().expect("jobs and machines"));
    let machines = (0..size[1]).map(|at| machine(format!("machine {at}"), 1)).collect();
    let mut tasks = Vec::new();
    let mut links = Vec::new();
    for (job, line) in lines.enumerate() {
        for (step, pair) in numbers(line).chunks(2).enumerate() {
            let mut next = task(format!("job {job} step {step}"), pair[1]);
            let machine = pair[0].try_into().expect("a machine");
            next.uses = vec![Use { machine, amount: 1, from: 0, length: pair[1] }];
            if step > 0 {
                links.push(link(tasks.len() - 1, tasks.len(), 0, None));
            }
            tasks.push(next);
        }
    }
    book(machines, tasks, links)
}

/// The lines below one that begins so, up to the next line of stars.
fn below<'t>(text: &'t str, heading: &str, skipped: usize) -> impl Iterator<Item = &'t str> {
    let from = text.lines().skip_while(move |line| !line.starts_with(heading)).skip(1 + skipped);
    from.take_while(|line| !line.starts_with('*'))
}

fn project(text: &str) -> Book {
    let capacities = below(text, "RESOURCEAVAILABILITIES", 1).next().map(numbers);
    let named = |(at, &capacity): (usize, &i32)| machine(format!("resource {at}"), capacity);
    let machines = capacities.expect("capacities").iter().enumerate().map(named).collect();
    let of_task = |line: &str| {
        let figures = numbers(line);
        let mut task = task(format!("activity {}", figures[0]), figures[2]);
        task.uses = uses(&figures[3..], figures[2]);
        task
    };
    let tasks = below(text, "REQUESTS/DURATIONS", 2).map(of_task).collect();
    let mut links = Vec::new();
    for line in below(text, "PRECEDENCE RELATIONS", 1) {
        let figures = numbers(line);
        let (from, to) = (figures[0] as usize - 1, &figures[3..]);
        links.extend(to.iter().map(|&to| link(from, to as usize - 1, 0, None)));
    }
    book(machines, tasks, links)
}

fn project_with_lags(text: &str) -> Book {
    let lines: Vec<Vec<i32>> =
        text.lines().filter(|line| !line.trim().is_empty()).map(numbers).collect();
    let count = lines[0][0] as usize + 2;
    let (gaps, asked) = (&lines[1..=count], &lines[count + 1..=2 * count]);
    let of_task = |figures: &Vec<i32>| {
        let mut task = task(format!("activity {}", figures[0]), figures[2]);
        task.uses = uses(&figures[3..], figures[2]);
        task
    };
    let tasks: Vec<Task> = asked.iter().map(of_task).collect();
    let mut links = Vec::new();
    for figures in gaps {
        let (from, followers) = (figures[0] as usize, figures[2] as usize);
        for at in 0..followers {
            let (to, lag) = (figures[3 + at] as usize, figures[3 + followers + at]);
            // Lags count from begin to begin, gaps from end to begin.
            let gap = lag - tasks[from].work;
            links.push(if lag < 0 {
                // `from` begins at most so long after `to` begins.
                link(to, from, -FAR, Some(-lag - tasks[to].work))
            } else {
                link(from, to, gap, None)
            });
        }
    }
    let named = |(at, &capacity): (usize, &i32)| machine(format!("resource {at}"), capacity);
    let machines = lines[2 * count + 1].iter().enumerate().map(named).collect();
    book(machines, tasks, links)
}

/// No least gap at all.
const FAR: i32 = 100_000;
