//! Buying: which packs to order from whom, so that nothing else costs less.
//!
//! Takes a [`Book`]: what is wanted, who sells it in which packs, what postage they ask and when their
//! goods arrive. Gives an [`Order`] with a bound that no other order can beat, or says what cannot be
//! had and why.
//! It knows nothing of cups: amounts are whole numbers of whatever unit the caller counts in, money is
//! whole minor units, days are numbers. The integer program is solved by HiGHS in floating point; costs
//! and cover are reckoned again in whole numbers, and a fault found there is told, never handed out.
//! Read first: `book.rs`, then `model.rs`.

mod book;
mod choice;
mod cover;
mod model;
mod order;
mod prune;
mod solve;
mod start;
mod unmet;

pub use book::{Book, Item, Offer, Postage, Seller, Tier, Want};
pub use order::{Order, Parcel, faults, reckon};
pub use solve::{Refusal, solve};
pub use unmet::{Unmet, Why, unmet};
