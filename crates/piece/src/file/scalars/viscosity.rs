//! Viscosities as typed.

use super::{Form, Scalar};
use crate::units::{Complaint, VISCOSITY};
use serde::Deserialize;

quantity!(
    Viscosity,
    VISCOSITY,
    "viscosity",
    "a viscosity with its unit",
    "A viscosity: a number and `cP`, `mPa s` or `Pa s`."
);
