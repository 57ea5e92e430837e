//! Which scale a page asks for.

use crate::units::Length;

use super::{Drawing, Scale};

const ROUND: [u16; 16] = [5, 10, 15, 20, 25, 30, 40, 50, 75, 100, 150, 200, 250, 500, 750, 1000];
/// A flat is 3 × 5 mm then.
const READABLE: Scale = Scale(100);
const ON_SEVERAL: Scale = Scale(50);
/// A4 lying, with 10 mm kept free for printers that don't reach the edge.
pub(super) const PAGE_WIDTH: Length = Length::from_mm(277);
const PAGE_HEIGHT: Length = Length::from_mm(190);

/// The largest round scale at which what `drawn` draws fits a page. Where the page would leave
/// nothing to read, it only has to be as wide as a page, and is printed on several.
pub fn largest_scale(drawn: impl Fn(Scale) -> Drawing) -> Scale {
    let mut as_wide = None;
    for scale in ROUND.map(Scale) {
        let drawing = drawn(scale);
        let fits = drawing.width <= scale.printed(PAGE_WIDTH);
        if fits && scale <= READABLE && drawing.height <= scale.printed(PAGE_HEIGHT) {
            return scale;
        }
        if fits && scale >= ON_SEVERAL {
            as_wide = as_wide.or(Some(scale));
        }
    }
    as_wide.unwrap_or(Scale(1000))
}
