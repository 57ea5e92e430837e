//! From the real thing to paper.

use std::fmt;

use crate::units::Length;

use super::Drawing;

/// 1 : n.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Scale(u16);

const ROUND: [u16; 16] = [5, 10, 15, 20, 25, 30, 40, 50, 75, 100, 150, 200, 250, 500, 750, 1000];
/// A flat is 3 × 5 mm then.
const READABLE: Scale = Scale(100);
const ON_SEVERAL: Scale = Scale(50);
/// A4 lying, with 10 mm kept free for printers that don't reach the edge.
pub(super) const PAGE_WIDTH: Length = Length::from_mm(277);
const PAGE_HEIGHT: Length = Length::from_mm(190);

impl Scale {
    /// # Errors
    /// Says what a scale looks like.
    pub fn parse(text: &str) -> Result<Self, String> {
        let number = text.trim().strip_prefix("1:").and_then(|n| n.trim().parse().ok());
        number.filter(|n| (1..=1000).contains(n)).map(Self).ok_or_else(|| crate::words::map::A_SCALE.to_owned())
    }

    /// The largest round scale at which what `drawn` draws fits a page. Where the page would leave
    /// nothing to read, it only has to be as wide as a page, and is printed on several.
    pub fn fitting(drawn: impl Fn(Self) -> Drawing) -> Self {
        let mut as_wide = None;
        for scale in ROUND.map(Self) {
            let drawing = drawn(scale);
            let fits = drawing.width <= scale.printed(PAGE_WIDTH);
            if fits && scale <= READABLE && drawing.height <= scale.printed(PAGE_HEIGHT) {
                return scale;
            }
            if fits && scale >= ON_SEVERAL {
                as_wide = as_wide.or(Some(scale));
            }
        }
        as_wide.unwrap_or(Self(1000))
    }

    /// The real length that is `on_paper` long when printed.
    pub fn printed(self, on_paper: Length) -> Length {
        on_paper * i64::from(self.0)
    }

    pub(super) const fn divisor(self) -> u16 {
        self.0
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
