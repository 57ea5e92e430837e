//! Every colour, stroke and letter of the window, light and dark.
//!
//! Drawn like a plan on a board: thin ink lines, muted fills, one accent for trouble. Colour is
//! never the only sign: families have their letters, limits their own dashes, trouble its hatching.

use std::sync::Arc;

use egui::{
    Color32, CornerRadius, FontData, FontDefinitions, FontFamily, FontId, Margin, Stroke, TextStyle, Visuals, vec2,
};

/// Targets are at least this large.
pub(super) const TARGET_PT: f32 = 24.0;

pub(super) const SMALL_PT: f32 = 11.5;
pub(super) const BODY_PT: f32 = 13.0;
pub(super) const TITLE_PT: f32 = 19.0;

const SEMIBOLD: &str = "semibold";

/// The colours of one of the two themes.
#[derive(Clone, Copy, Debug)]
pub(super) struct Palette {
    /// The board the racks are drawn on.
    pub(super) paper: Color32,
    pub(super) panel: Color32,
    pub(super) shelf: Color32,
    pub(super) ink: Color32,
    pub(super) soft_ink: Color32,
    /// Between panels; never the only sign of anything.
    pub(super) line: Color32,
    pub(super) trouble: Color32,
    pub(super) selected: Color32,
    pub(super) on_selected: Color32,
    pub(super) plugs: Color32,
    pub(super) pots: Color32,
    pub(super) lamp: Color32,
    pub(super) mat: Color32,
    families: [Family; 10],
}

/// How the trays of one crop family are drawn.
#[derive(Clone, Copy, Debug)]
pub(super) struct Family {
    pub(super) fill: Color32,
    /// Cells, pots, outline and letters.
    pub(super) ink: Color32,
}

const fn rgb(hex: u32) -> Color32 {
    Color32::from_rgb((hex >> 16) as u8, (hex >> 8) as u8, hex as u8)
}

const fn family(fill: u32, ink: u32) -> Family {
    Family { fill: rgb(fill), ink: rgb(ink) }
}

const FAMILIES: [&str; 10] =
    ["solanaceae", "brassica", "leaf", "allium", "flower", "herb", "cucurbit", "legume", "root", "other"];

pub(super) const LIGHT: Palette = Palette {
    paper: rgb(0x00F6_F3EA),
    panel: rgb(0x00EF_EBDF),
    shelf: rgb(0x00FF_FDF6),
    ink: rgb(0x002A_2D2E),
    soft_ink: rgb(0x0062_615B),
    line: rgb(0x00C9_C2B0),
    trouble: rgb(0x00B6_391F),
    selected: rgb(0x001F_5FA8),
    on_selected: rgb(0x00FF_FFFF),
    plugs: rgb(0x0094_A97E),
    pots: rgb(0x005F_7F50),
    lamp: rgb(0x0094_740E),
    mat: rgb(0x00B0_6722),
    families: [
        family(0x00E6_B8A6, 0x0078_2F1C),
        family(0x00AF_CDBE, 0x0023_5240),
        family(0x00CF_D998, 0x0047_5414),
        family(0x00C6_BBDD, 0x0043_3475),
        family(0x00E4_B9CE, 0x0078_2653),
        family(0x00B3_CFE4, 0x0022_4B6D),
        family(0x00E9_CF91, 0x0068_4A0A),
        family(0x00C9_DDB7, 0x0033_5523),
        family(0x00E3_C3A0, 0x0067_3F15),
        family(0x00D3_CFC2, 0x0047_4539),
    ],
};

pub(super) const DARK: Palette = Palette {
    paper: rgb(0x001C_2023),
    panel: rgb(0x0023_282C),
    shelf: rgb(0x0027_2D31),
    ink: rgb(0x00E6_E3DA),
    soft_ink: rgb(0x00A6_ACAF),
    line: rgb(0x003C_444A),
    trouble: rgb(0x00F0_785A),
    selected: rgb(0x007F_B2F0),
    on_selected: rgb(0x0010_1C2B),
    plugs: rgb(0x0067_7F58),
    pots: rgb(0x0090_B37D),
    lamp: rgb(0x00D8_B84A),
    mat: rgb(0x00E0_A066),
    families: [
        family(0x0070_3A30, 0x00F3_C9BB),
        family(0x002D_584A, 0x00BC_E0CF),
        family(0x004E_5A1E, 0x00DE_E8A4),
        family(0x004A_4279, 0x00D6_CCF2),
        family(0x006D_3555, 0x00F4_C9DF),
        family(0x0030_506B, 0x00C2_DDF2),
        family(0x0066_4B14, 0x00F0_D892),
        family(0x003D_5A2C, 0x00CF_E8BB),
        family(0x0062_4323, 0x00EF_D0AC),
        family(0x004A_4C4B, 0x00DD_DAD0),
    ],
};

impl Palette {
    pub(super) fn of(ui: &egui::Ui) -> &'static Self {
        if ui.visuals().dark_mode { &DARK } else { &LIGHT }
    }

    /// Crops of a family that we have no fill for are drawn like `other`.
    pub(super) fn family(&self, name: &str) -> Family {
        let at = FAMILIES.iter().position(|known| *known == name).unwrap_or(FAMILIES.len() - 1);
        self.families.get(at).copied().unwrap_or(Family { fill: self.shelf, ink: self.ink })
    }

    pub(super) fn line_stroke(&self) -> Stroke {
        Stroke::new(1.0, self.line)
    }

    pub(super) fn ink_stroke(&self) -> Stroke {
        Stroke::new(1.0, self.ink)
    }
}

pub(super) fn small() -> FontId {
    FontId::proportional(SMALL_PT)
}

pub(super) fn body() -> FontId {
    FontId::proportional(BODY_PT)
}

pub(super) fn strong(size_pt: f32) -> FontId {
    FontId::new(size_pt, FontFamily::Name(SEMIBOLD.into()))
}

/// Text in the heavier cut.
pub(super) fn bold(text: impl Into<String>) -> egui::RichText {
    egui::RichText::new(text).font(strong(BODY_PT))
}

/// Installs fonts and both styles; which one shows follows the theme chosen.
pub(super) fn install(ctx: &egui::Context) {
    let mut fonts = FontDefinitions::default();
    let fallback = fonts.families.get(&FontFamily::Proportional).cloned().unwrap_or_default();
    for (name, bytes) in [
        ("inter", include_bytes!("../../assets/fonts/Inter-Regular.otf").as_slice()),
        (SEMIBOLD, include_bytes!("../../assets/fonts/Inter-SemiBold.otf").as_slice()),
    ] {
        fonts.font_data.insert(name.to_owned(), Arc::new(FontData::from_static(bytes)));
        let family = if name == SEMIBOLD { FontFamily::Name(SEMIBOLD.into()) } else { FontFamily::Proportional };
        let order = std::iter::once(name.to_owned()).chain(fallback.iter().cloned()).collect();
        fonts.families.insert(family, order);
    }
    ctx.set_fonts(fonts);
    // Where the system doesn't say, the board is paper.
    ctx.options_mut(|options| options.fallback_theme = egui::Theme::Light);
    for (theme, palette) in [(egui::Theme::Light, &LIGHT), (egui::Theme::Dark, &DARK)] {
        ctx.style_mut_of(theme, |style| dress(style, palette));
    }
}

fn dress(style: &mut egui::Style, palette: &Palette) {
    style.visuals = visuals(palette, style.visuals.dark_mode);
    style.text_styles.insert(TextStyle::Body, body());
    style.text_styles.insert(TextStyle::Button, body());
    style.text_styles.insert(TextStyle::Small, small());
    style.text_styles.insert(TextStyle::Heading, strong(TITLE_PT));
    style.spacing.item_spacing = vec2(8.0, 6.0);
    style.spacing.button_padding = vec2(10.0, 4.0);
    style.spacing.interact_size = vec2(TARGET_PT * 1.5, 26.0);
    style.spacing.window_margin = Margin::same(16);
    style.spacing.menu_margin = Margin::same(6);
    style.interaction.selectable_labels = false;
    style.animation_time = 0.0;
}

fn visuals(palette: &Palette, dark: bool) -> Visuals {
    let mut visuals = if dark { Visuals::dark() } else { Visuals::light() };
    let corner = CornerRadius::same(3);
    let line = if dark { rgb(0x0068_727A) } else { rgb(0x0093_8D7C) };
    visuals.panel_fill = palette.panel;
    visuals.window_fill = palette.shelf;
    visuals.window_stroke = palette.line_stroke();
    visuals.extreme_bg_color = palette.shelf;
    visuals.faint_bg_color = palette.paper;
    visuals.weak_text_color = Some(palette.soft_ink);
    visuals.warn_fg_color = palette.trouble;
    visuals.error_fg_color = palette.trouble;
    // A cursor that blinks draws the whole window for ever.
    visuals.text_cursor.blink = false;
    visuals.hyperlink_color = palette.selected;
    visuals.selection.bg_fill = palette.selected.gamma_multiply(if dark { 0.35 } else { 0.22 });
    visuals.selection.stroke = Stroke::new(1.0, palette.ink);
    visuals.window_corner_radius = CornerRadius::same(4);
    visuals.menu_corner_radius = CornerRadius::same(3);
    let widgets = &mut visuals.widgets;
    for (widget, fill, stroke, ink) in [
        (&mut widgets.noninteractive, palette.panel, Stroke::new(1.0, palette.line), palette.ink),
        (&mut widgets.inactive, palette.paper, Stroke::new(1.0, line), palette.ink),
        (&mut widgets.hovered, palette.shelf, Stroke::new(1.0, palette.ink), palette.ink),
        (&mut widgets.active, palette.shelf, Stroke::new(2.0, palette.selected), palette.ink),
        (&mut widgets.open, palette.shelf, Stroke::new(1.0, palette.ink), palette.ink),
    ] {
        widget.bg_fill = fill;
        widget.weak_bg_fill = fill;
        widget.bg_stroke = stroke;
        widget.fg_stroke = Stroke::new(1.0, ink);
        widget.corner_radius = corner;
        widget.expansion = 0.0;
    }
    visuals
}

#[cfg(test)]
mod tests {
    use super::*;

    /// WCAG 2.2, relative luminance and contrast ratio.
    fn contrast(one: Color32, other: Color32) -> f64 {
        let luminance = |colour: Color32| {
            let part = |byte: u8| {
                let share = f64::from(byte) / 255.0;
                if share <= 0.04045 { share / 12.92 } else { ((share + 0.055) / 1.055).powf(2.4) }
            };
            0.2126 * part(colour.r()) + 0.7152 * part(colour.g()) + 0.0722 * part(colour.b())
        };
        let (one, other) = (luminance(one), luminance(other));
        (one.max(other) + 0.05) / (one.min(other) + 0.05)
    }

    #[track_caller]
    fn check(what: &str, least: f64, one: Color32, other: Color32) {
        let found = contrast(one, other);
        assert!(found >= least, "{what}: {found:.2} : 1, wanted {least} : 1 ({one:?} on {other:?})");
    }

    #[test]
    fn text_and_marks_can_be_told_from_their_ground() {
        for (name, palette) in [("light", LIGHT), ("dark", DARK)] {
            for ground in [palette.paper, palette.panel, palette.shelf] {
                check(&format!("{name} ink"), 4.5, palette.ink, ground);
                check(&format!("{name} soft ink"), 4.5, palette.soft_ink, ground);
                check(&format!("{name} trouble"), 4.5, palette.trouble, ground);
                check(&format!("{name} selected"), 4.5, palette.selected, ground);
                check(&format!("{name} lamp"), 3.0, palette.lamp, ground);
                check(&format!("{name} mat"), 3.0, palette.mat, ground);
                check(&format!("{name} pots"), 3.0, palette.pots, ground);
            }
            check(&format!("{name} on selected"), 4.5, palette.on_selected, palette.selected);
            for (family, known) in palette.families.iter().zip(FAMILIES) {
                check(&format!("{name} {known}"), 4.5, family.ink, family.fill);
                check(&format!("{name} {known} outline"), 3.0, family.ink, palette.shelf);
            }
        }
    }

    #[test]
    fn a_family_unknown_to_us_has_a_fill_too() {
        assert_eq!(LIGHT.family("moss").fill, LIGHT.family("other").fill);
    }
}
