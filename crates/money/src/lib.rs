//! Money: the bill of materials and the price.
//!
//! Takes everything the road has worked out and gives a [`Bill`] and a [`Price`].
//! Amounts are whole minor units of the studio's currency; sums are exact.
//! Read first: `bill.rs`, then `price.rs`.

mod bill;
mod goods;
mod price;
mod stock;
mod terms;

pub use bill::{Bill, BillLine, Goods, plan_bill};
pub use price::{Price, plan_price};
pub use terms::Terms;
