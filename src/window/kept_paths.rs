//! Paths as the window keeps them between starts: also those whose names are no text.

use std::path::{Path, PathBuf};

use serde::{Deserialize, Deserializer, Serialize, Serializer};

#[derive(Serialize, Deserialize)]
#[serde(untagged)]
enum Kept {
    Text(String),
    /// As the system has it.
    Bytes(Vec<u8>),
}

impl Kept {
    /// Nothing where the system has neither text nor bytes for it.
    fn of(path: &Path) -> Option<Self> {
        match path.to_str() {
            Some(text) => Some(Self::Text(text.to_owned())),
            None => bytes(path).map(Self::Bytes),
        }
    }

    fn path(self) -> Option<PathBuf> {
        match self {
            Self::Text(text) => Some(text.into()),
            Self::Bytes(bytes) => from_bytes(bytes),
        }
    }
}

#[cfg(unix)]
#[expect(clippy::unnecessary_wraps, reason = "not every system has bytes for it")]
fn bytes(path: &Path) -> Option<Vec<u8>> {
    use std::os::unix::ffi::OsStrExt as _;
    Some(path.as_os_str().as_bytes().to_vec())
}

#[cfg(unix)]
#[expect(clippy::unnecessary_wraps, reason = "not every system has bytes for it")]
fn from_bytes(bytes: Vec<u8>) -> Option<PathBuf> {
    use std::os::unix::ffi::OsStringExt as _;
    Some(std::ffi::OsString::from_vec(bytes).into())
}

#[cfg(not(unix))]
fn bytes(_: &Path) -> Option<Vec<u8>> {
    None
}

#[cfg(not(unix))]
fn from_bytes(_: Vec<u8>) -> Option<PathBuf> {
    None
}

pub(super) fn serialize<'a, S: Serializer>(
    paths: impl IntoIterator<Item = &'a PathBuf>,
    serializer: S,
) -> Result<S::Ok, S::Error> {
    serializer.collect_seq(paths.into_iter().filter_map(|path| Kept::of(path)))
}

pub(super) fn deserialize<'d, D: Deserializer<'d>, C: FromIterator<PathBuf>>(deserializer: D) -> Result<C, D::Error> {
    Ok(Vec::<Kept>::deserialize(deserializer)?.into_iter().filter_map(Kept::path).collect())
}

/// The same for one that may be missing.
pub(super) mod one {
    use super::{Deserialize as _, Deserializer, Kept, PathBuf, Serialize as _, Serializer};

    #[expect(clippy::ref_option, reason = "serde calls it so")]
    pub(in crate::window) fn serialize<S: Serializer>(
        path: &Option<PathBuf>,
        serializer: S,
    ) -> Result<S::Ok, S::Error> {
        path.as_deref().and_then(Kept::of).serialize(serializer)
    }

    pub(in crate::window) fn deserialize<'d, D: Deserializer<'d>>(
        deserializer: D,
    ) -> Result<Option<PathBuf>, D::Error> {
        Ok(Option::<Kept>::deserialize(deserializer)?.and_then(Kept::path))
    }
}
