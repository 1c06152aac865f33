//! Terms of sale, checked.

use crate::FieldPath;
use crate::file::settings::QuoteFile;
use crate::resolve::bounds::Desk;
use crate::settings::QuoteTerms;

/// Days for which a quote is valid, and in which an invoice is to be paid, if nothing is said: common
/// practice, no source.
const DAYS: u32 = 14;

pub(super) fn quote(file: &QuoteFile, path: &FieldPath, on: &mut Desk<'_, '_>) -> QuoteTerms {
    let deposit = file.deposit.map_or(0.0, |share| on.share(&path.key("deposit"), share, 1.0));
    QuoteTerms {
        deposit,
        valid_days: file.valid_days.unwrap_or(DAYS),
        pay_days: file.pay_days.unwrap_or(DAYS),
        address: file.address.clone(),
        terms: file.terms.clone(),
        payment: file.payment.clone(),
        tax: file.tax.clone(),
    }
}
