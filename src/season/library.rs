use std::collections::BTreeMap;

use crate::units::Temperature;

use super::{Container, ContainerKey, Crop, CropKey, Sourced};

/// The crops and containers that come with the program. A season's own ones override and add.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Library {
    pub crops: BTreeMap<CropKey, Crop>,
    pub containers: BTreeMap<ContainerKey, Container>,
    /// Days from sowing to emergence by temperature, a row a crop.
    pub emergence: BTreeMap<String, Sourced<EmergenceRow>>,
    /// Per cent of seeds that gave normal seedlings by temperature, a row a crop.
    pub germination: BTreeMap<String, Sourced<GerminationRow>>,
}

/// Per cent of normal seedlings at each temperature that was tried, coldest first.
pub type GerminationRow = Vec<(Temperature, u8)>;

/// Days to emergence at each temperature of a table, coldest first.
pub type EmergenceRow = Vec<(Temperature, ComesUp)>;

/// What a table says about one temperature.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ComesUp {
    /// Days from sowing.
    After(f64),
    /// It was tried, and nothing came up.
    Never,
    NotTried,
}
