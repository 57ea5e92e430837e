//! Every colour, light and dark: paper has the light ones, a window both.

/// Red, green, blue.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Colour(pub u8, pub u8, pub u8);

/// The colours of one of the two looks.
#[derive(Clone, Copy, Debug)]
pub struct Palette {
    /// The board that racks are drawn on.
    pub paper: Colour,
    pub panel: Colour,
    pub shelf: Colour,
    pub ink: Colour,
    pub soft_ink: Colour,
    /// Between panels; never the only sign of anything.
    pub line: Colour,
    /// Around what can be clicked or written in.
    pub frame: Colour,
    pub trouble: Colour,
    pub good: Colour,
    pub selected: Colour,
    pub on_selected: Colour,
    pub plugs: Colour,
    pub pots: Colour,
    pub lamp: Colour,
    pub mat: Colour,
    families: [Fill; 10],
}

/// How the trays of a family are drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Fill {
    pub fill: Colour,
    /// Cells, pots, outline and letters.
    pub ink: Colour,
}

/// The crops that share a fill; the mark on the tray tells them apart where the fill does not.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Family(usize);

/// As crops name them.
const FAMILIES: [&str; 10] =
    ["solanaceae", "brassica", "leaf", "allium", "flower", "herb", "cucurbit", "legume", "root", "other"];

/// What is printed on.
pub(super) const SHEET: Colour = rgb(0xFF_FFFF);

pub const LIGHT: Palette = Palette {
    paper: rgb(0xF6_F3EA),
    panel: rgb(0xEF_EBDF),
    shelf: rgb(0xFF_FDF6),
    ink: rgb(0x2A_2D2E),
    soft_ink: rgb(0x62_615B),
    line: rgb(0xC9_C2B0),
    frame: rgb(0x93_8D7C),
    trouble: rgb(0xB6_391F),
    good: rgb(0x35_7041),
    selected: rgb(0x1F_5FA8),
    on_selected: rgb(0xFF_FFFF),
    plugs: rgb(0x94_A97E),
    pots: rgb(0x5F_7F50),
    lamp: rgb(0x94_740E),
    mat: rgb(0xB0_6722),
    families: [
        fill(0xE6_B8A6, 0x78_2F1C),
        fill(0xAF_CDBE, 0x23_5240),
        fill(0xCF_D998, 0x47_5414),
        fill(0xC6_BBDD, 0x43_3475),
        fill(0xE4_B9CE, 0x78_2653),
        fill(0xB3_CFE4, 0x22_4B6D),
        fill(0xE9_CF91, 0x68_4A0A),
        fill(0xC9_DDB7, 0x33_5523),
        fill(0xE3_C3A0, 0x67_3F15),
        fill(0xD3_CFC2, 0x47_4539),
    ],
};

pub const DARK: Palette = Palette {
    paper: rgb(0x1C_2023),
    panel: rgb(0x23_282C),
    shelf: rgb(0x27_2D31),
    ink: rgb(0xE6_E3DA),
    soft_ink: rgb(0xA6_ACAF),
    line: rgb(0x3C_444A),
    frame: rgb(0x68_727A),
    trouble: rgb(0xF0_785A),
    good: rgb(0x86_C795),
    selected: rgb(0x7F_B2F0),
    on_selected: rgb(0x10_1C2B),
    plugs: rgb(0x67_7F58),
    pots: rgb(0x90_B37D),
    lamp: rgb(0xD8_B84A),
    mat: rgb(0xE0_A066),
    families: [
        fill(0x70_3A30, 0xF3_C9BB),
        fill(0x2D_584A, 0xBC_E0CF),
        fill(0x4E_5A1E, 0xDE_E8A4),
        fill(0x4A_4279, 0xD6_CCF2),
        fill(0x6D_3555, 0xF4_C9DF),
        fill(0x30_506B, 0xC2_DDF2),
        fill(0x66_4B14, 0xF0_D892),
        fill(0x3D_5A2C, 0xCF_E8BB),
        fill(0x62_4323, 0xEF_D0AC),
        fill(0x4A_4C4B, 0xDD_DAD0),
    ],
};

const fn rgb(hex: u32) -> Colour {
    Colour((hex >> 16) as u8, (hex >> 8) as u8, hex as u8)
}

const fn fill(fill: u32, ink: u32) -> Fill {
    Fill { fill: rgb(fill), ink: rgb(ink) }
}

impl Palette {
    pub fn family(&self, family: Family) -> Fill {
        self.families.get(family.0).copied().unwrap_or(Fill { fill: self.panel, ink: self.ink })
    }
}

impl Family {
    /// Guests, trays that several crops share, and families of the grower's own.
    pub const OTHER: Self = Self(FAMILIES.len() - 1);

    pub fn named(name: &str) -> Self {
        FAMILIES.iter().position(|known| *known == name).map_or(Self::OTHER, Self)
    }

    pub fn name(self) -> &'static str {
        FAMILIES.get(self.0).copied().unwrap_or("other")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// WCAG 2.2, relative luminance and contrast ratio.
    fn contrast(one: Colour, other: Colour) -> f64 {
        let channel = |c: u8| {
            let c = f64::from(c) / 255.0;
            if c <= 0.040_45 { c / 12.92 } else { ((c + 0.055) / 1.055).powf(2.4) }
        };
        let light = |c: Colour| 0.2126 * channel(c.0) + 0.7152 * channel(c.1) + 0.0722 * channel(c.2);
        let (a, b) = (light(one), light(other));
        (a.max(b) + 0.05) / (a.min(b) + 0.05)
    }

    #[track_caller]
    fn check(what: &str, least: f64, one: Colour, other: Colour) {
        let found = contrast(one, other);
        assert!(found >= least, "{what}: {found:.2} : 1, wanted {least} : 1 ({one:?} on {other:?})");
    }

    #[test]
    fn text_and_lines_stand_out_from_their_ground() {
        assert!((contrast(rgb(0), SHEET) - 21.0).abs() < 1e-9);
        for (name, palette) in [("light", LIGHT), ("dark", DARK)] {
            let sheet = (name == "light").then_some(SHEET);
            for ground in [palette.paper, palette.panel, palette.shelf].into_iter().chain(sheet) {
                check(&format!("{name} ink"), 4.5, palette.ink, ground);
                check(&format!("{name} soft ink"), 4.5, palette.soft_ink, ground);
                check(&format!("{name} trouble"), 4.5, palette.trouble, ground);
                check(&format!("{name} selected"), 4.5, palette.selected, ground);
                check(&format!("{name} lamp"), 3.0, palette.lamp, ground);
                check(&format!("{name} mat"), 3.0, palette.mat, ground);
                check(&format!("{name} pots"), 3.0, palette.pots, ground);
            }
            check(&format!("{name} on selected"), 4.5, palette.on_selected, palette.selected);
            for (fill, known) in palette.families.iter().zip(FAMILIES) {
                check(&format!("{name} {known}"), 4.5, fill.ink, fill.fill);
                check(&format!("{name} {known} outline"), 3.0, fill.ink, palette.shelf);
            }
        }
    }

    #[test]
    fn a_family_unknown_to_us_has_a_fill_too() {
        assert_eq!(LIGHT.family(Family::named("moss")), LIGHT.family(Family::named("other")));
    }
}
