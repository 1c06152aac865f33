//! Temperatures as typed.

use super::{Form, Scalar};
use crate::units::{Complaint, TEMPERATURE};
use serde::Deserialize;

quantity!(
    Temperature,
    TEMPERATURE,
    "temperature",
    "a temperature with its unit",
    "A temperature: a number and `C`, `°C`, `F` or `°F`."
);
