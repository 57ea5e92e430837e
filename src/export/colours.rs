//! Colours on paper: the program's own, in their light shades.

/// Red, green, blue.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Colour(pub u8, pub u8, pub u8);

pub(super) const PAPER: Colour = Colour(0xFF, 0xFF, 0xFF);
pub(super) const SHELF: Colour = Colour(0xFF, 0xFD, 0xF6);
pub(super) const GAP: Colour = Colour(0xEF, 0xEB, 0xDF);
pub(super) const INK: Colour = Colour(0x2A, 0x2D, 0x2E);
pub(super) const SOFT_INK: Colour = Colour(0x6B, 0x6A, 0x63);
pub(super) const TROUBLE: Colour = Colour(0xB5, 0x3A, 0x24);
// Darker than on screen: a thin line on paper needs it.
pub(super) const LAMP: Colour = Colour(0x9A, 0x79, 0x10);
pub(super) const MAT: Colour = Colour(0xB0, 0x66, 0x22);

/// A number for a crop family, the same all season; beyond the eighth the fills come round again,
/// and the marks on the trays tell.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Family(pub usize);

const FAMILIES: [(Colour, Colour); 8] = [
    (Colour(0xE3, 0xB7, 0xA8), Colour(0x6F, 0x3B, 0x33)),
    (Colour(0xA9, 0xC6, 0xB8), Colour(0x2F, 0x57, 0x48)),
    (Colour(0xE8, 0xC9, 0x8F), Colour(0x6A, 0x4A, 0x16)),
    (Colour(0xC3, 0xBB, 0xD6), Colour(0x4C, 0x44, 0x70)),
    (Colour(0xC9, 0xD5, 0x9A), Colour(0x4D, 0x5A, 0x1F)),
    (Colour(0xB5, 0xCB, 0xDD), Colour(0x2F, 0x4F, 0x6B)),
    (Colour(0xE0, 0xB8, 0xCB), Colour(0x6E, 0x35, 0x50)),
    (Colour(0xD8, 0xCF, 0xBE), Colour(0x55, 0x4B, 0x3A)),
];

impl Family {
    /// Guests, and trays that several crops share.
    pub const OTHER: Self = Self(usize::MAX);

    pub fn fill(self) -> Colour {
        self.colours().0
    }

    /// For lines and the mark on that fill.
    pub fn ink(self) -> Colour {
        self.colours().1
    }

    fn colours(self) -> (Colour, Colour) {
        if self == Self::OTHER {
            return (GAP, INK);
        }
        FAMILIES.get(self.0 % FAMILIES.len()).copied().unwrap_or((GAP, INK))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Contrast of two colours by WCAG 2.2.
    fn contrast(one: Colour, other: Colour) -> f64 {
        let channel = |c: u8| {
            let c = f64::from(c) / 255.0;
            if c <= 0.040_45 { c / 12.92 } else { ((c + 0.055) / 1.055).powf(2.4) }
        };
        let light = |c: Colour| 0.2126 * channel(c.0) + 0.7152 * channel(c.1) + 0.0722 * channel(c.2);
        let (a, b) = (light(one), light(other));
        (a.max(b) + 0.05) / (a.min(b) + 0.05)
    }

    #[test]
    fn text_and_lines_stand_out_from_their_ground() {
        assert!((contrast(Colour(0, 0, 0), PAPER) - 21.0).abs() < 1e-9);
        for (ink, ground) in [(INK, PAPER), (INK, SHELF), (SOFT_INK, PAPER), (SOFT_INK, SHELF), (TROUBLE, PAPER)] {
            assert!(contrast(ink, ground) >= 4.5, "{ink:?} on {ground:?}: {}", contrast(ink, ground));
        }
        for (fill, ink) in FAMILIES {
            assert!(contrast(ink, fill) >= 4.5, "{ink:?} on {fill:?}: {}", contrast(ink, fill));
        }
        for line in [LAMP, MAT] {
            assert!(contrast(line, SHELF) >= 3.0, "{line:?}: {}", contrast(line, SHELF));
        }
    }
}
