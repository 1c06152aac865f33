//! Money: the bill of materials and the price.
//!
//! Takes everything the road has worked out and gives a [`Bill`] and a [`Price`].
//! Amounts are whole minor units of the studio's currency; sums are exact.
//! Read first: `bill.rs`, then `price.rs`; `selling.rs` has fees and tax, `level.rs` what a price leaves,
//! `rules.rs` what rules of thumb would ask, `batch.rs` what pieces made together save,
//! `after.rs` what a piece took in the end.

mod after;
mod batch;
mod bill;
mod goods;
mod level;
mod price;
mod rules;
mod selling;
mod stock;
mod terms;

pub use after::{About, After, AfterLine, after};
pub use batch::Saving;
pub use bill::{Bill, BillLine, Goods, plan_bill};
pub use level::Level;
pub use price::{Price, Sale, plan_price, plan_price_on};
pub use rules::{Rule, RuleKind};
pub use selling::{Selling, TaxRate};
pub use terms::Terms;
