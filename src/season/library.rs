use std::collections::BTreeMap;

use super::{Container, ContainerKey, Crop, CropKey};

/// The crops and containers that come with the program. A season's own ones override and add.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Library {
    pub crops: BTreeMap<CropKey, Crop>,
    pub containers: BTreeMap<ContainerKey, Container>,
}
