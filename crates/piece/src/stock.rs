//! What is on hand: the stock file with every amount in the unit of its goods.

use crate::Ware;
use jiff::civil::Date;

/// Everything that a stock file says.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Stock {
    /// What there is.
    pub lots: Vec<Lot>,
    /// What should always be there.
    pub least: Vec<Least>,
}

/// Goods that came together.
#[derive(Debug, Clone, PartialEq)]
pub struct Lot {
    /// What it is.
    pub ware: Ware,
    /// What is written on it.
    pub label: Option<String>,
    /// How much there is.
    pub amount: f64,
    /// By how much that may be wrong, at about 95 % confidence; 0 for what was counted.
    pub uncertainty: f64,
    /// Last day on which it may be used.
    pub expires: Option<Date>,
    /// How much is kept for which piece, named by its file without `.toml`; together no more than is
    /// relied on.
    pub reserved: Vec<(String, f64)>,
}

impl Lot {
    /// How much can be relied on: of stones that were weighed, whole ones less the uncertainty.
    pub fn relied_on(&self) -> f64 {
        if self.uncertainty > 0.0 {
            (self.amount - self.uncertainty).floor().max(0.0)
        } else {
            self.amount
        }
    }
}

/// A level below which stock should not fall.
#[derive(Debug, Clone, PartialEq)]
pub struct Least {
    /// What of.
    pub ware: Ware,
    /// How much should be there.
    pub amount: f64,
}

/// Stones counted by weight: how many there are, and by how much that may be wrong at about 95 %
/// confidence.
///
/// `hundred_g` is what a hundred of them weigh, `net_g` the bag less the empty bag, both readings of a
/// scale of this readability. Each reading is uncertain by 0.29 of the readability (JCGM 100:2008,
/// F.2.2.1), a bag less its empty bag by √2 times that; relative uncertainties of a quotient add by
/// their squares (5.1.6), and the coverage factor is 2 (6.2.3). That stones differ from each other is not
/// in it: of a hundred the mean is known to a tenth of what single ones differ by.
pub fn counted_by_weight(hundred_g: f64, net_g: f64, readability_g: f64) -> (f64, f64) {
    let count = 100.0 * net_g / hundred_g;
    let reading_g = readability_g / libm::sqrt(12.0);
    let of_net = libm::sqrt(2.0) * reading_g / net_g;
    let of_hundred = reading_g / hundred_g;
    let relative = libm::sqrt(of_net * of_net + of_hundred * of_hundred);
    (count, 2.0 * count * relative)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn stones_are_counted_by_weight_with_their_uncertainty() {
        // By hand: 41.9 g at 1.95 g a hundred are 2148.7; readings of 0.01 g are uncertain by 0.0029 g
        // (JCGM 100:2008, F.2.2.1), so 0.0041 / 41.9 and 0.0029 / 1.95 give 0.148 % and twice that 6.4.
        let (count, uncertainty) = counted_by_weight(1.95, 41.9, 0.01);
        assert!((count - 2148.7).abs() < 0.05, "{count}");
        assert!((uncertainty - 6.36).abs() < 0.05, "{uncertainty}");
        // A scale that shows 0.1 g knows a hundred small stones to 3 %.
        let (count, uncertainty) = counted_by_weight(1.9, 41.9, 0.1);
        assert!((uncertainty / count - 0.0304).abs() < 2e-4, "{uncertainty}");
    }
}
