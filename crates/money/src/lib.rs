//! Money: the bill of materials and the price.
//!
//! Takes everything the road has worked out and gives a [`Bill`] and a [`Price`]; from the bills of
//! several pieces, what is on hand and who sells what, a [`Purchase`].
//! Amounts are whole minor units of the studio's currency; sums are exact.
//! Read first: `bill.rs`, then `price.rs`; `selling.rs` has fees and tax, `level.rs` what a price leaves,
//! `rules.rs` what rules of thumb would ask, `batch.rs` what pieces made together save,
//! `after.rs` what a piece took in the end; for buying `lack.rs`, then `purchase.rs`.

mod after;
mod batch;
mod bill;
mod goods;
mod level;
mod instead;
mod lack;
mod order;
mod price;
mod rules;
mod selling;
mod purchase;
mod shelf;
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
pub use instead::{Instead, instead};
pub use lack::{Asked, Lack, Lacks, Needed, Shortfall, lacks};
pub use purchase::{Bought, Left, Parcel, BuyTerms, Purchase, Unbuyable, purchase};
pub use shelf::{Taken, Unused};
