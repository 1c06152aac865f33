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
mod instead;
mod lack;
mod level;
mod order;
mod price;
mod purchase;
mod rules;
mod selling;
mod shelf;
mod stock;
mod terms;

pub use after::{About, After, AfterLine, after};
pub use batch::Saving;
pub use bill::{Bill, BillLine, Goods, plan_bill};
pub use instead::{Instead, instead};
pub use lack::{Asked, Lack, Lacks, Needed, Shortfall, lacks};
pub use level::Level;
pub use price::{Price, Sale, plan_price, plan_price_on};
pub use purchase::{Bought, BuyTerms, Left, Parcel, Purchase, Unbuyable, purchase};
pub use rules::{Rule, RuleKind};
pub use selling::{Selling, TaxRate};
pub use shelf::{Taken, Unused};
pub use terms::Terms;
