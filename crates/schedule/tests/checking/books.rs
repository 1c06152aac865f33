//! Books of made-up studios.

use crate::studio_books::{Due, Kind, Makers, RACK, SPINDLES, random_studio};
use schedule::{Book, Slot};

const MAKERS: [Makers; 5] =
    [Makers::Evenings, Makers::WholeDays, Makers::Two, Makers::Three, Makers::Four];
const DUE: [Due; 3] = [Due::Tight, Due::Loose, Due::Overloaded];

fn kinds() -> impl Iterator<Item = Kind> {
    MAKERS.into_iter().flat_map(|makers| {
        DUE.into_iter().flat_map(move |due| [Kind::new(makers, due), Kind::short(makers, due)])
    })
}

#[test]
fn the_same_seed_gives_the_same_book_and_another_another() {
    for kind in kinds() {
        assert_eq!(random_studio(7, 4, kind), random_studio(7, 4, kind));
        assert_ne!(random_studio(7, 4, kind), random_studio(8, 4, kind));
    }
}

#[test]
fn books_come_back_from_json() {
    let book = random_studio(3, 10, Kind::new(Makers::Two, Due::Tight));
    let text = serde_json::to_string(&book).expect("a book can be written");
    assert_eq!(serde_json::from_str::<Book>(&text).expect("and read"), book);
}

#[test]
fn books_ask_for_everything_that_the_trade_does() {
    for kind in [Kind::new(Makers::Evenings, Due::Tight), Kind::new(Makers::Four, Due::Loose)] {
        let book = random_studio(1, 30, kind);
        let pours = book.tasks.iter().filter(|task| task.mix.is_some());
        for pour in pours {
            let mix = pour.mix.expect("a mix");
            assert!(pour.uses.iter().any(|used| used.machine == SPINDLES));
            assert!(pour.uses.iter().any(|used| used.machine == RACK));
            assert!(mix.amount <= mix.most && pour.work - mix.stir - mix.watch <= mix.stands);
        }
        let setting = book.tasks.iter().filter(|task| task.sittings.is_some()).count();
        assert!((20..=30).contains(&setting), "{setting} pieces of 30 with stones");
        assert!(book.links.iter().all(|link| link.from < link.to));
        let reliefs: Vec<_> = book.links.iter().filter_map(|link| link.relief).collect();
        assert!(
            reliefs.len() > 30 && reliefs.iter().all(|relief| book.tasks[relief.task].optional)
        );
        assert!(book.jobs.iter().all(|job| job.leaves.contains(&job.due.expect("a due day"))));
    }
}

/// Latest due slot.
fn last_due(book: &Book) -> Slot {
    book.jobs.iter().filter_map(|job| job.due).max().expect("a due day")
}

#[test]
fn due_days_are_nearer_the_more_there_is_to_do() {
    for makers in MAKERS {
        let [tight, loose, overloaded] =
            DUE.map(|due| last_due(&random_studio(5, 60, Kind::new(makers, due))));
        assert!(overloaded < tight && tight < loose, "{overloaded}, {tight}, {loose}");
    }
}
