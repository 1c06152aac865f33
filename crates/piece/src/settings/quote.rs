//! What stands on quotes, invoices and slips besides figures: the maker's own terms and words.

/// Terms of sale, in the maker's own words.
#[derive(Debug, Clone, PartialEq)]
pub struct QuoteTerms {
    /// Share of the price that is paid before work begins, from 0 to 1.
    pub deposit: f64,
    /// Days for which a quote is valid, its own day not counted.
    pub valid_days: u32,
    /// Days in which an invoice is to be paid, its own day not counted.
    pub pay_days: u32,
    /// Lines under the name of the studio: where it is, how to reach it.
    pub address: Vec<String>,
    /// The terms, a paragraph each.
    pub terms: Vec<String>,
    /// How to pay, on quotes and invoices.
    pub payment: String,
    /// What the law asks to be said of tax, on quotes and invoices.
    pub tax: String,
}
