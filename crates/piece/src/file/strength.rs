//! Strengths of a design as they are typed.

use super::named::Named;
use super::scalars::{Name, Share};
use schemars::JsonSchema;
use serde::Deserialize;

/// The design with fewer stones, to be offered beside the whole one.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct StrengthFile {
    /// What it is called in a quote.
    pub name: Name,
    /// How much of each zone keeps its stones, by the name of the zone; 0 % is bare, and zones left out
    /// are whole.
    #[schemars(extend("minProperties" = 1, "maxProperties" = 60))]
    pub stones: Named<Share>,
}
