//! How the window looks: strokes, letters, and the colours of `export` as the screen takes them.
//!
//! Drawn like a plan on a board: thin ink lines, muted fills, one accent for trouble. Colour is
//! never the only sign: families have their letters, limits their own dashes, trouble its hatching.

use std::sync::Arc;

use egui::text::{LayoutJob, TextWrapping};
use egui::{
    Color32, CornerRadius, FontData, FontDefinitions, FontFamily, FontId, Galley, Margin, Painter, Stroke, TextStyle,
    Visuals, vec2,
};

use crate::export::{Colour, Fill, colours};

/// Targets are at least this large.
pub(super) const TARGET_PT: f32 = 24.0;

/// The scale of letters: what stands along drawings, what is read, and heads of three ranks.
pub(super) const SMALL_PT: f32 = 11.5;
pub(super) const BODY_PT: f32 = 13.0;
pub(super) const PART_PT: f32 = 14.0;
pub(super) const HEAD_PT: f32 = 16.0;
pub(super) const TITLE_PT: f32 = 19.0;

const SEMIBOLD: &str = "semibold";

/// The colours of one of the two themes, as the screen takes them.
#[derive(Clone, Copy, Debug)]
pub(super) struct Palette {
    colours: colours::Palette,
    /// The board the racks are drawn on.
    pub(super) paper: Color32,
    pub(super) panel: Color32,
    pub(super) shelf: Color32,
    pub(super) ink: Color32,
    pub(super) soft_ink: Color32,
    /// Between panels; never the only sign of anything.
    pub(super) line: Color32,
    frame: Color32,
    pub(super) trouble: Color32,
    pub(super) good: Color32,
    pub(super) selected: Color32,
    pub(super) on_selected: Color32,
    pub(super) plugs: Color32,
    pub(super) pots: Color32,
    pub(super) lamp: Color32,
    pub(super) mat: Color32,
}

/// How the trays of one crop family are drawn.
#[derive(Clone, Copy, Debug)]
pub(super) struct Family {
    pub(super) kind: colours::Family,
    pub(super) fill: Color32,
    /// Cells, pots, outline and letters.
    pub(super) ink: Color32,
}

pub(super) const LIGHT: Palette = Palette::new(&colours::LIGHT);
pub(super) const DARK: Palette = Palette::new(&colours::DARK);

const fn on_screen(colour: Colour) -> Color32 {
    Color32::from_rgb(colour.0, colour.1, colour.2)
}

impl Palette {
    const fn new(colours: &colours::Palette) -> Self {
        Self {
            colours: *colours,
            paper: on_screen(colours.paper),
            panel: on_screen(colours.panel),
            shelf: on_screen(colours.shelf),
            ink: on_screen(colours.ink),
            soft_ink: on_screen(colours.soft_ink),
            line: on_screen(colours.line),
            frame: on_screen(colours.frame),
            trouble: on_screen(colours.trouble),
            good: on_screen(colours.good),
            selected: on_screen(colours.selected),
            on_selected: on_screen(colours.on_selected),
            plugs: on_screen(colours.plugs),
            pots: on_screen(colours.pots),
            lamp: on_screen(colours.lamp),
            mat: on_screen(colours.mat),
        }
    }

    pub(super) fn of(ui: &egui::Ui) -> &'static Self {
        if ui.visuals().dark_mode { &DARK } else { &LIGHT }
    }

    /// Crops of a family that we have no fill for are drawn like `other`.
    pub(super) fn family(&self, name: &str) -> Family {
        self.of_family(colours::Family::named(name))
    }

    pub(super) fn of_family(&self, kind: colours::Family) -> Family {
        let Fill { fill, ink } = self.colours.family(kind);
        Family { kind, fill: on_screen(fill), ink: on_screen(ink) }
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

/// One line that ends between two words, with an ellipsis, where it would run over.
pub(super) fn cut_at_a_word(painter: &Painter, text: &str, font: FontId, ink: Color32, width: f32) -> Arc<Galley> {
    let whole = painter.layout_no_wrap(text.to_owned(), font.clone(), ink);
    if whole.size().x <= width {
        return whole;
    }
    let ends = text.char_indices().filter(|(_, c)| c.is_whitespace()).map(|(at, _)| at);
    let shorter =
        ends.filter_map(|at| text.get(..at)).map(|start| format!("{}…", start.trim_end_matches([',', ' ', '–', '·'])));
    let mut fitting = None;
    for one in shorter {
        let galley = painter.layout_no_wrap(one, font.clone(), ink);
        if galley.size().x > width {
            break;
        }
        fitting = Some(galley);
    }
    fitting.unwrap_or_else(|| {
        // a single word that is too long is cut where it must be
        let mut job = LayoutJob::simple_singleline(text.to_owned(), font, ink);
        job.wrap = TextWrapping::truncate_at_width(width.max(0.0));
        painter.layout_job(job)
    })
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
        (&mut widgets.inactive, palette.paper, Stroke::new(1.0, palette.frame), palette.ink),
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
