//! What comes with the program.

use std::collections::BTreeMap;
use std::fmt;

use serde::Deserialize;

use crate::season::{Container, ContainerKey, Crop, CropKey, Library};

use super::container::ContainerFile;
use super::crop::CropFile;
use super::emergence::{self, Rows};
use super::read::{LibraryError, LibraryFault, read};
use super::sources::{NoSuchSource, Sources};

const CROPS: &str = "assets/crops.ron";
const CONTAINERS: &str = "assets/containers.ron";
const EMERGENCE: &str = "assets/emergence.ron";

/// The crops and containers that come with the program.
pub fn shipped() -> Result<Library, LibraryError> {
    let Rows { emergence, germination } = emergence::rows(EMERGENCE, include_str!("../../../assets/emergence.ron"))?;
    Ok(Library {
        crops: crops(CROPS, include_str!("../../../assets/crops.ron"))?,
        containers: containers(CONTAINERS, include_str!("../../../assets/containers.ron"))?,
        emergence,
        germination,
    })
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename = "Crops")]
struct CropsFile {
    #[serde(default)]
    sources: Sources,
    crops: Vec<CropFile>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename = "Containers")]
struct ContainersFile {
    #[serde(default)]
    sources: Sources,
    containers: Vec<ContainerFile>,
}

pub(super) fn crops(file: &'static str, text: &str) -> Result<BTreeMap<CropKey, Crop>, LibraryError> {
    let CropsFile { sources, crops } = read(file, text)?;
    let crops = crops.into_iter().map(|crop| {
        let crop = crop.read(&sources)?;
        Ok((crop.key.clone(), crop))
    });
    by_key(file, crops)
}

pub(super) fn containers(file: &'static str, text: &str) -> Result<BTreeMap<ContainerKey, Container>, LibraryError> {
    let ContainersFile { sources, containers } = read(file, text)?;
    let containers = containers.into_iter().map(|container| {
        let container = container.read(&sources)?;
        Ok((container.key.clone(), container))
    });
    by_key(file, containers)
}

fn by_key<K: Ord + fmt::Display, V>(
    file: &'static str,
    items: impl Iterator<Item = Result<(K, V), NoSuchSource>>,
) -> Result<BTreeMap<K, V>, LibraryError> {
    let mut all = BTreeMap::new();
    for item in items {
        let (key, value) = item.map_err(|why| LibraryError { file, at: None, why: LibraryFault::NoSuchSource(why) })?;
        if all.contains_key(&key) {
            return Err(LibraryError { file, at: None, why: LibraryFault::Twice(key.to_string()) });
        }
        all.insert(key, value);
    }
    Ok(all)
}
