//! From the real thing to paper.

use std::fmt;

use crate::units::Length;

/// 1 : n.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Scale(pub(super) u16);

impl Scale {
    /// # Errors
    /// Says what a scale looks like.
    pub fn parse(text: &str) -> Result<Self, String> {
        let number = text.trim().strip_prefix("1:").and_then(|n| n.trim().parse().ok());
        number.filter(|n| (1..=1000).contains(n)).map(Self).ok_or_else(|| crate::words::map::A_SCALE.to_owned())
    }

    /// The real length that is `on_paper` long when printed.
    pub fn printed(self, on_paper: Length) -> Length {
        on_paper * i64::from(self.0)
    }
}

impl fmt::Display for Scale {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "1:{}", self.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_a_scale_is_read_as_one() {
        assert_eq!(Scale::parse("1:10"), Ok(Scale(10)));
        assert_eq!(Scale::parse(" 1: 25 "), Ok(Scale(25)));
        for text in ["", "10", "1:0", "1:-5", "2:1", "1:1001", "1:x", "1:10.5", "1:99999999999"] {
            assert!(Scale::parse(text).is_err(), "{text:?}");
        }
    }
}
