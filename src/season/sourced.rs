use std::sync::Arc;

/// How far a figure can be trusted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Trust {
    /// Read in a publication that the source names.
    Published,
    /// Computed from published figures, as the source says.
    Derived,
    /// Common practice, no source.
    CommonPractice,
    /// Recalled, not read anywhere: an editable guess.
    FromMemory,
    /// Typed by the grower.
    Own,
}

/// A figure beside where it comes from.
#[derive(Clone, Debug, PartialEq)]
pub struct Sourced<T> {
    pub value: T,
    pub trust: Trust,
    pub source: Arc<str>,
}

impl<T> Sourced<T> {
    pub fn new(value: T, trust: Trust, source: &str) -> Self {
        Self { value, trust, source: source.into() }
    }

    /// The grower's own figure.
    pub fn own(value: T) -> Self {
        Self::new(value, Trust::Own, "")
    }
}
