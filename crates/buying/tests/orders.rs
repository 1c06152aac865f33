//! Orders of small books: by hand, by trying everything, and what must always hold.

mod made_up;

use buying::{
    Book, Item, Offer, Postage, Refusal, Seller, Tier, Unmet, Want, Why, faults, reckon, solve,
};
use made_up::small;
use proptest::prelude::*;

fn seller(tiers: &[(i64, i64)]) -> Seller {
    let tiers = tiers.iter().map(|(from, postage)| Tier { from: *from, postage: *postage });
    Seller { postage: Postage::BySpend(tiers.collect()), least_order: 0, arrives: 3 }
}

fn offer(seller: usize, item: usize, amount: u64, price: i64) -> Offer {
    Offer { seller, holds: vec![(item, amount)], price, worth: 0, most: None, grams: 0 }
}

fn want(item: usize, amount: u64) -> Want {
    Want { item, amount, latest: None }
}

/// One item, 300 wanted: a gross at 2.20 or ten gross at 16.00.
fn stones() -> Book {
    Book {
        items: vec![Item { one_lot: true }],
        wants: vec![want(0, 300)],
        sellers: vec![seller(&[(0, 495), (3500, 0)])],
        offers: vec![offer(0, 0, 144, 220), offer(0, 0, 1440, 1600)],
    }
}

#[test]
fn three_gross_are_cheaper_than_ten_unless_leftovers_are_worth_something() {
    // By hand: 3 x 2.20 + 4.95 = 11.55; ten gross come to 16.00 + 4.95 = 20.95.
    let order = solve(&stones(), 10.0).expect("an order");
    assert_eq!(
        (order.packs.as_slice(), order.net(), order.left[0]),
        ([3, 0].as_slice(), 1155, 132)
    );
    assert!(order.proven);
    // Worth nine tenths of the cheapest unit price, 10.00 for a thousand: 1.44 a gross, 14.40 for ten.
    let mut book = stones();
    book.sellers[0] = seller(&[(0, 495)]);
    book.offers[0].worth = 144;
    book.offers[1].worth = 1440;
    let order = solve(&book, 10.0).expect("an order");
    // 3 gross: 11.55 - 4.32 = 7.23; ten: 20.95 - 14.40 = 6.55.
    assert_eq!((order.packs.as_slice(), order.net()), ([0, 1].as_slice(), 655));
    // With the threshold, 2 gross and 2 of ten: 36.40 - 31.68 = 4.72 without postage.
    book.sellers = stones().sellers;
    let order = solve(&book, 10.0).expect("an order");
    assert_eq!((order.packs.as_slice(), order.net()), ([2, 2].as_slice(), 472));
}

#[test]
fn more_is_bought_where_it_ends_the_postage() {
    // By hand: 34.00 of goods and 4.95; one more gross at 2.20 makes 36.20 without postage.
    let mut book = stones();
    book.items.push(Item::default());
    book.wants.push(want(1, 1));
    book.offers.push(offer(0, 1, 1, 2740));
    let order = solve(&book, 10.0).expect("an order");
    assert_eq!((order.goods, order.postage), (3620, 0));
    assert!(order.proven);
}

#[test]
fn of_orders_that_cost_the_same_the_one_with_fewest_parcels_is_taken_then_the_first_seller() {
    let free = || seller(&[(0, 0)]);
    let mut book = Book {
        items: vec![Item::default(), Item::default()],
        wants: vec![want(0, 1), want(1, 1)],
        sellers: vec![free(), free(), free()],
        offers: vec![
            offer(0, 0, 1, 100),
            offer(1, 1, 1, 100),
            offer(2, 0, 1, 100),
            offer(2, 1, 1, 100),
        ],
    };
    let order = solve(&book, 10.0).expect("an order");
    assert_eq!(order.parcels.iter().map(|parcel| parcel.seller).collect::<Vec<_>>(), [2]);
    book.offers.push(offer(1, 0, 1, 100));
    let order = solve(&book, 10.0).expect("an order");
    assert_eq!(order.parcels.iter().map(|parcel| parcel.seller).collect::<Vec<_>>(), [1]);
}

#[test]
fn a_colour_comes_from_one_seller_and_what_has_no_lots_from_several() {
    let mut book = stones();
    book.sellers.push(seller(&[(0, 0)]));
    book.sellers[0] = seller(&[(0, 0)]);
    book.offers = vec![
        Offer { most: Some(2), ..offer(0, 0, 100, 100) },
        Offer { most: Some(2), ..offer(1, 0, 100, 110) },
        offer(1, 0, 300, 900),
    ];
    let order = solve(&book, 10.0).expect("an order");
    assert_eq!((order.net(), order.from[0]), (900, Some(1)));
    book.items[0].one_lot = false;
    // Two of the cheap one and one of the other: 2 x 1.00 + 1.10.
    assert_eq!(solve(&book, 10.0).expect("an order").net(), 310);
}

#[test]
fn what_cannot_be_had_is_told_with_its_reason() {
    let why = |book: &Book| match solve(book, 10.0) {
        Err(Refusal::Unmet(unmet)) => unmet,
        other => panic!("{other:?}"),
    };
    let told = |why| vec![Unmet { want: 0, why }];
    let mut book = stones();
    book.offers.clear();
    assert_eq!(why(&book), told(Why::NobodySells));
    let mut book = stones();
    book.wants[0].latest = Some(2);
    assert_eq!(why(&book), told(Why::TooLate(3)));
    let mut book = stones();
    book.offers = vec![Offer { most: Some(2), ..offer(0, 0, 144, 220) }];
    assert_eq!(why(&book), told(Why::NoOneSeller(288)));
    book.items[0].one_lot = false;
    assert_eq!(why(&book), told(Why::TooFew(288)));
    book.offers[0].most = Some(3);
    book.sellers[0].least_order = 700;
    assert_eq!(why(&book), told(Why::LeastOrder(700)));
    book.sellers[0].least_order = 660;
    assert_eq!(solve(&book, 10.0).expect("an order").goods, 660);
}

#[test]
fn a_book_without_sense_is_refused() {
    let mut book = stones();
    book.offers[0].holds[0].1 = 0;
    assert!(matches!(solve(&book, 10.0), Err(Refusal::Broken(_))));
    let mut book = stones();
    book.offers[0].worth = 221;
    assert!(matches!(solve(&book, 10.0), Err(Refusal::Broken(_))));
}

/// The least net of all orders with up to `most` packs of each offer, where no item comes in lots.
fn by_trying(book: &Book, most: u64) -> Option<i64> {
    let n = book.offers.len() as u32;
    let all = (0..(most + 1).pow(n)).map(|mut number| {
        (0..n)
            .map(|_| {
                let packs = number % (most + 1);
                number /= most + 1;
                packs
            })
            .collect::<Vec<u64>>()
    });
    all.map(|packs| reckon(book, packs, vec![None; book.wants.len()]))
        .filter(|order| faults(book, order).is_empty())
        .map(|order| order.net())
        .min()
}

/// Up to three kinds of pack, of which no more than seven are ever needed.
fn tiny() -> impl Strategy<Value = Book> {
    let packs = proptest::collection::vec(
        (0..2_usize, 0..2_usize, 3..9_u64, 100..400_i64, 0..40_i64),
        3..=5,
    );
    let postage = (0..500_i64, 100..600_i64, 0..500_i64);
    (packs, postage, 1..12_u64, 0..12_u64, 0..300_i64).prop_map(
        |(packs, (first, from, then), one, two, least_order)| {
            let mut wants = vec![want(0, one)];
            wants.extend((two > 0).then(|| want(1, two)));
            let offers = packs.into_iter().map(|(seller, item, amount, price, worth)| Offer {
                worth,
                ..offer(seller, item, amount, price)
            });
            let second = Seller { least_order, ..seller(&[(0, first), (from, then)]) };
            Book {
                items: vec![Item::default(); 2],
                wants,
                sellers: vec![seller(&[(0, then), (from, 0)]), second],
                offers: offers.collect(),
            }
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    #[test]
    fn tiny_books_cost_the_least_of_all_orders(book in tiny()) {
        // Content nobody wants is not offered: trying it would allow fillers that are not for sale here.
        let wanted: Vec<usize> = book.wants.iter().map(|want| want.item).collect();
        let offers = book.offers.iter().filter(|offer| wanted.contains(&offer.holds[0].0));
        let book = Book { offers: offers.cloned().collect(), ..book.clone() };
        match solve(&book, 10.0) {
            Ok(order) => {
                prop_assert!(order.proven);
                prop_assert_eq!(Some(order.net()), by_trying(&book, 7));
            }
            Err(Refusal::Unmet(_)) => prop_assert_eq!(by_trying(&book, 7), None),
            Err(other) => prop_assert!(false, "{}", other),
        }
    }

    #[test]
    fn orders_cover_what_is_wanted_and_their_money_adds_up(seed in 0..100_000_u64) {
        let book = small(seed);
        if let Ok(order) = solve(&book, 10.0) {
            prop_assert_eq!(faults(&book, &order), Vec::<String>::new());
            let goods: i64 = book.offers.iter().zip(&order.packs).map(|(offer, n)| offer.price * *n as i64).sum();
            let postage: i64 = order.parcels.iter().map(|p| book.sellers[p.seller].postage(p.goods, p.grams)).sum();
            prop_assert_eq!((goods, postage), (order.goods, order.postage));
            prop_assert!(order.bound <= order.net());
            for (item, left) in order.left.iter().enumerate() {
                let had: u64 = book.offers.iter().zip(&order.packs)
                    .flat_map(|(offer, n)| offer.holds.iter().map(move |(held, amount)| (*held, amount * n)))
                    .filter(|(held, _)| *held == item).map(|(_, amount)| amount).sum();
                let wanted: u64 = book.wants.iter().filter(|want| want.item == item).map(|want| want.amount).sum();
                if wanted > 0 {
                    prop_assert_eq!(had, wanted + left);
                }
            }
        }
    }

    #[test]
    fn a_cheaper_offer_never_raises_the_cost(seed in 0..100_000_u64, which in 0..7_usize, share in 0..100_i64) {
        let mut book = small(seed);
        // Postage that rises with the goods, a least order and a threshold may each make a lower price dearer.
        for seller in &mut book.sellers {
            seller.least_order = 0;
            if let Postage::BySpend(tiers) = &mut seller.postage {
                tiers.truncate(1);
            }
        }
        let before = solve(&book, 10.0);
        let which = which % book.offers.len();
        let offer = &mut book.offers[which];
        offer.price -= (offer.price - offer.worth) * share / 100;
        if let (Ok(before), Ok(after)) = (before, solve(&book, 10.0)) {
            prop_assert!(after.net() <= before.net());
        }
    }
}
