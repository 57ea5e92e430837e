//! The library of crops and containers that comes with the program, and the form it is written in; a season
//! file has forms of its own, each version its. Lengths, volumes and
//! temperatures stand as text with their unit and are read through the checked types, so what is
//! wrong is refused with its line and column, and what was typed comes back as it was typed.
//!
//! Says nothing about whether a figure is right: it carries its source and its trust along.

mod container;
mod crop;
mod emergence;
mod forms;
#[cfg(test)]
mod tests;

use std::collections::BTreeMap;
use std::fmt;
use std::sync::Arc;

use serde::Deserialize;
use serde::de::DeserializeOwned;

use crate::season::{Container, ContainerKey, Crop, CropKey, Library};

pub use container::ContainerFile;
pub use crop::CropFile;
pub(in crate::store) use forms::temperature_text;

const CROPS: &str = "assets/crops.ron";
const CONTAINERS: &str = "assets/containers.ron";
const EMERGENCE: &str = "assets/emergence.ron";

/// The crops and containers that come with the program.
pub fn shipped() -> Result<Library, LibraryError> {
    Ok(Library {
        crops: crops(CROPS, include_str!("../../../assets/crops.ron"))?,
        containers: containers(CONTAINERS, include_str!("../../../assets/containers.ron"))?,
        emergence: emergence::rows(EMERGENCE, include_str!("../../../assets/emergence.ron"))?,
    })
}

/// A place in a text, counted from 1; columns in characters.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LineCol {
    pub line: usize,
    pub col: usize,
}

/// Why a file of the library was refused: `assets/crops.ron:12:8: found "wide"; write …`.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub struct LibraryError {
    pub file: &'static str,
    /// `None` for a reference to something that is nowhere.
    pub at: Option<LineCol>,
    pub message: String,
}

impl fmt::Display for LibraryError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.at {
            Some(LineCol { line, col }) => write!(f, "{}:{line}:{col}: {}", self.file, self.message),
            None => write!(f, "{}: {}", self.file, self.message),
        }
    }
}

/// A figure names a source that the table of sources does not hold.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{of} names the source {see:?}, which is not in the table of sources")]
pub struct NoSuchSource {
    /// The crop or container: `crop "tomato"`.
    pub of: String,
    pub see: String,
}

/// Texts of sources by the name under which figures cite them.
#[derive(Clone, Debug, Default, PartialEq, Eq, Deserialize)]
#[serde(from = "BTreeMap<String, String>")]
pub struct Sources(BTreeMap<String, Arc<str>>);

impl From<BTreeMap<String, String>> for Sources {
    fn from(texts: BTreeMap<String, String>) -> Self {
        Self(texts.into_iter().map(|(key, text)| (key, text.into())).collect())
    }
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

fn crops(file: &'static str, text: &str) -> Result<BTreeMap<CropKey, Crop>, LibraryError> {
    let CropsFile { sources, crops } = read(file, text)?;
    let crops = crops.into_iter().map(|crop| {
        let crop = crop.read(&sources)?;
        Ok((crop.key.clone(), crop))
    });
    by_key(file, crops)
}

fn containers(file: &'static str, text: &str) -> Result<BTreeMap<ContainerKey, Container>, LibraryError> {
    let ContainersFile { sources, containers } = read(file, text)?;
    let containers = containers.into_iter().map(|container| {
        let container = container.read(&sources)?;
        Ok((container.key.clone(), container))
    });
    by_key(file, containers)
}

fn read<T: DeserializeOwned>(file: &'static str, text: &str) -> Result<T, LibraryError> {
    ron::from_str(text).map_err(|why| LibraryError {
        file,
        at: Some(LineCol { line: why.span.start.line, col: why.span.start.col }),
        message: why.code.to_string(),
    })
}

fn by_key<K: Ord + fmt::Display, V>(
    file: &'static str,
    items: impl Iterator<Item = Result<(K, V), NoSuchSource>>,
) -> Result<BTreeMap<K, V>, LibraryError> {
    let mut all = BTreeMap::new();
    for item in items {
        let (key, value) = item.map_err(|why| LibraryError { file, at: None, message: why.to_string() })?;
        if all.contains_key(&key) {
            return Err(LibraryError { file, at: None, message: format!("two entries have the key \"{key}\"") });
        }
        all.insert(key, value);
    }
    Ok(all)
}
