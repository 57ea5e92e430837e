use std::collections::BTreeMap;
use std::sync::Arc;

use serde::Deserialize;

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
pub struct Sources(pub(super) BTreeMap<String, Arc<str>>);

impl From<BTreeMap<String, String>> for Sources {
    fn from(texts: BTreeMap<String, String>) -> Self {
        Self(texts.into_iter().map(|(key, text)| (key, text.into())).collect())
    }
}
