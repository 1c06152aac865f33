//! Money: the bill of materials and the price.
//!
//! Takes everything the road has worked out and gives a [`Bill`] and a [`Price`]; from the bills of
//! several pieces, what is on hand and who sells what, a [`Purchase`].
//! Amounts are whole minor units of the studio's currency; sums are exact.
//! Read first: `bill.rs`, then `price.rs`; for buying `lack.rs`, then `purchase.rs`.

mod bill;
mod goods;
mod instead;
mod lack;
mod order;
mod price;
mod purchase;
mod shelf;
mod stock;

pub use bill::{Bill, BillLine, Goods, plan_bill};
pub use instead::{Instead, instead};
pub use lack::{Asked, Lack, Lacks, Needed, Shortfall, lacks};
pub use price::{Price, plan_price};
pub use purchase::{Bought, Left, Parcel, Purchase, Terms, Unbuyable, purchase};
pub use shelf::{Taken, Unused};
