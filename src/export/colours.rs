//! Colours on paper: the light ones of the window.

/// Red, green, blue.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Colour(pub u8, pub u8, pub u8);

pub(super) const PAPER: Colour = Colour(0xFF, 0xFF, 0xFF);
pub(super) const SHELF: Colour = Colour(0xFF, 0xFD, 0xF6);
pub(super) const GAP: Colour = Colour(0xEF, 0xEB, 0xDF);
pub(super) const INK: Colour = Colour(0x2A, 0x2D, 0x2E);
pub(super) const SOFT_INK: Colour = Colour(0x62, 0x61, 0x5B);
pub(super) const TROUBLE: Colour = Colour(0xB6, 0x39, 0x1F);
pub(super) const LAMP: Colour = Colour(0x94, 0x74, 0x0E);
pub(super) const MAT: Colour = Colour(0xB0, 0x67, 0x22);

/// The crops that share a fill; the mark on the tray tells them apart where the fill does not.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Family(usize);

/// Name, fill, and ink for lines and the mark on that fill.
const FAMILIES: [(&str, Colour, Colour); 10] = [
    ("solanaceae", Colour(0xE6, 0xB8, 0xA6), Colour(0x78, 0x2F, 0x1C)),
    ("brassica", Colour(0xAF, 0xCD, 0xBE), Colour(0x23, 0x52, 0x40)),
    ("leaf", Colour(0xCF, 0xD9, 0x98), Colour(0x47, 0x54, 0x14)),
    ("allium", Colour(0xC6, 0xBB, 0xDD), Colour(0x43, 0x34, 0x75)),
    ("flower", Colour(0xE4, 0xB9, 0xCE), Colour(0x78, 0x26, 0x53)),
    ("herb", Colour(0xB3, 0xCF, 0xE4), Colour(0x22, 0x4B, 0x6D)),
    ("cucurbit", Colour(0xE9, 0xCF, 0x91), Colour(0x68, 0x4A, 0x0A)),
    ("legume", Colour(0xC9, 0xDD, 0xB7), Colour(0x33, 0x55, 0x23)),
    ("root", Colour(0xE3, 0xC3, 0xA0), Colour(0x67, 0x3F, 0x15)),
    ("other", Colour(0xD3, 0xCF, 0xC2), Colour(0x47, 0x45, 0x39)),
];

impl Family {
    /// Guests, trays that several crops share, and families of the grower's own.
    pub const OTHER: Self = Self(FAMILIES.len() - 1);

    pub fn named(name: &str) -> Self {
        FAMILIES.iter().position(|(known, ..)| *known == name).map_or(Self::OTHER, Self)
    }

    pub fn name(self) -> &'static str {
        self.entry().0
    }

    pub fn fill(self) -> Colour {
        self.entry().1
    }

    pub fn ink(self) -> Colour {
        self.entry().2
    }

    fn entry(self) -> (&'static str, Colour, Colour) {
        FAMILIES.get(self.0).copied().unwrap_or(("other", GAP, INK))
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
        for (_, fill, ink) in FAMILIES {
            assert!(contrast(ink, fill) >= 4.5, "{ink:?} on {fill:?}: {}", contrast(ink, fill));
        }
        for line in [LAMP, MAT] {
            assert!(contrast(line, SHELF) >= 3.0, "{line:?}: {}", contrast(line, SHELF));
        }
    }
}
