//! Terms of sale as they are typed.

use crate::file::scalars::Share;
use schemars::JsonSchema;
use serde::Deserialize;

/// What stands on quotes, invoices and slips.
#[derive(Debug, Clone, PartialEq, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct QuoteFile {
    /// Share of the price that is paid before work begins; left out, nothing.
    pub deposit: Option<Share>,
    /// Days for which a quote is valid; left out, 14.
    #[schemars(range(min = 1, max = 366))]
    pub valid_days: Option<u32>,
    /// Days in which an invoice is to be paid; left out, 14.
    #[schemars(range(min = 0, max = 366))]
    pub pay_days: Option<u32>,
    /// Lines under the name of the studio.
    #[serde(default)]
    #[schemars(length(max = 8))]
    pub address: Vec<String>,
    /// Your terms, a paragraph each.
    #[serde(default)]
    #[schemars(length(max = 20))]
    pub terms: Vec<String>,
    /// How to pay.
    #[serde(default)]
    #[schemars(length(max = 400))]
    pub payment: String,
    /// What is to be said of tax.
    #[serde(default)]
    #[schemars(length(max = 400))]
    pub tax: String,
}
