//! An order file as it is written and read: what was agreed with a customer. The doc comments here are the
//! descriptions in the JSON Schema.

use super::scalars::{Amount, Day};
use super::settings::CurrencyFile;
use schemars::JsonSchema;
use serde::Deserialize;

/// What was agreed, and what was paid.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "Cupwright order file, format 1")]
pub struct AgreedFile {
    /// Version of this file format: 1.
    #[schemars(extend("const" = 1))]
    pub cupwright_order: u32,
    /// Number of the order.
    #[schemars(length(min = 1, max = 80))]
    pub number: String,
    /// Number of the quote that was accepted.
    #[schemars(length(min = 1, max = 80))]
    pub quote: String,
    /// Name of the option that was accepted.
    #[schemars(length(min = 1, max = 80))]
    pub option: String,
    /// Who ordered it; left out, nobody is named.
    #[serde(default)]
    #[schemars(length(max = 120))]
    pub customer: String,
    /// Lines of the customer's address.
    #[serde(default)]
    #[schemars(length(max = 8))]
    pub address: Vec<String>,
    /// Day on which it was accepted.
    pub accepted: Day,
    /// Day on which it is promised to be with the customer; left out, none was promised.
    pub promised: Option<Day>,
    /// How many are made.
    #[schemars(range(min = 1, max = 1000))]
    pub quantity: u32,
    /// Currency that all amounts are in.
    pub currency: CurrencyFile,
    /// Agreed price of one.
    pub price_each: Amount,
    /// Agreed deposit for all of them.
    pub deposit: Amount,
    /// Stones on one piece, as agreed.
    #[schemars(range(min = 0, max = 10_000_000))]
    pub stones: u64,
    /// Checksum (FNV-1a, 64 bits) of the table of its stones.
    #[schemars(length(min = 16, max = 16))]
    pub stones_sum: String,
    /// Checksum of piece.toml.
    #[schemars(length(min = 16, max = 16))]
    pub piece_sum: String,
    /// Checksum of studio.toml.
    #[schemars(length(min = 16, max = 16))]
    pub studio_sum: String,
    /// What was paid, to be added as it comes in.
    #[serde(default)]
    #[schemars(length(max = 100))]
    pub paid: Vec<PaidFile>,
}

/// One payment.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PaidFile {
    /// Day on which it came in.
    pub day: Day,
    /// How much.
    pub amount: Amount,
}
