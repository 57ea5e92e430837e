//! A drawing in real lengths, whatever it is written as.

use crate::season::RimShape;
use crate::units::Length;

use super::{Family, Scale};

/// Shapes on a sheet; `x` runs to the right, `y` down.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawing {
    pub title: String,
    pub width: Length,
    pub height: Length,
    pub scale: Scale,
    /// Later ones lie over earlier ones.
    pub shapes: Vec<Shape>,
}

/// What a shape shows; formats give it its look.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Class {
    Shelf,
    /// Over the front edge, where trays may stick out.
    Overhang,
    /// What a lamp serves well.
    Lamp,
    /// A heat mat, and the lines it is hatched with.
    Mat,
    MatHatch,
    /// Kept free beside a tray.
    Gap,
    Tray,
    /// The ground of pots that stand in no tray.
    Block,
    /// The cells of a tray.
    Cells,
    /// In a tray.
    Pot,
    LoosePot,
    Ruler,
    Swatch,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TextClass {
    Title,
    Plain,
    Soft,
    Trouble,
    /// On a tray, in its family's ink.
    Mark(Family),
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Anchor {
    Start,
    Middle,
    End,
}

#[derive(Clone, Debug, PartialEq)]
pub enum Shape {
    Rect {
        class: Class,
        family: Option<Family>,
        /// The same for the same thing in every drawing; empty for most.
        id: String,
        /// What a reader is told who points at it or cannot see it; empty for none.
        title: String,
        x: Length,
        y: Length,
        width: Length,
        height: Length,
    },
    /// Equal cells that fill a rectangle.
    Grid { class: Class, family: Family, x: Length, y: Length, width: Length, height: Length, columns: u16, rows: u16 },
    /// Equal pots from above.
    Pots {
        class: Class,
        family: Family,
        rim: RimShape,
        across: Length,
        /// The least that any two middles are apart along one axis.
        pitch: Length,
        middles: Vec<(Length, Length)>,
    },
    Lines {
        class: Class,
        /// From, to.
        lines: Vec<((Length, Length), (Length, Length))>,
    },
    Text {
        class: TextClass,
        anchor: Anchor,
        /// Of the base line.
        x: Length,
        y: Length,
        size: Length,
        text: String,
    },
}

impl Shape {
    pub(super) const fn rect(class: Class, x: Length, y: Length, width: Length, height: Length) -> Self {
        Self::Rect { class, family: None, id: String::new(), title: String::new(), x, y, width, height }
    }

    pub(super) fn lines(class: Class, lines: Vec<((Length, Length), (Length, Length))>) -> Self {
        Self::Lines { class, lines }
    }

    /// A rectangle in the colours of a family.
    #[must_use]
    pub(super) fn of(mut self, kind: Family) -> Self {
        if let Self::Rect { family, .. } = &mut self {
            *family = Some(kind);
        }
        self
    }

    /// The same elsewhere on the sheet.
    #[must_use]
    pub(super) fn moved(mut self, by: (Length, Length)) -> Self {
        let shift = |x: &mut Length, y: &mut Length| (*x, *y) = (*x + by.0, *y + by.1);
        match &mut self {
            Self::Rect { x, y, .. } | Self::Grid { x, y, .. } | Self::Text { x, y, .. } => shift(x, y),
            Self::Pots { middles, .. } => middles.iter_mut().for_each(|(x, y)| shift(x, y)),
            Self::Lines { lines, .. } => {
                for ((x1, y1), (x2, y2)) in lines {
                    shift(x1, y1);
                    shift(x2, y2);
                }
            }
        }
        self
    }
}

/// About how wide a text is in a common sans-serif face: a little more than most.
pub(super) fn text_width(text: &str, size: Length) -> Length {
    let letters = i64::try_from(text.chars().count()).unwrap_or(i64::MAX / 1_000_000_000);
    size * letters * 56 / 100
}

pub(super) fn bold_width(text: &str, size: Length) -> Length {
    text_width(text, size) * 120 / 100
}

/// The text, cut with `…` where it is wider than there is room.
pub(super) fn cut(text: &str, size: Length, room: Length) -> String {
    if text_width(text, size) <= room {
        return text.to_owned();
    }
    let letter = text_width("m", size).units().max(1);
    let letters = usize::try_from(room.units() / letter).unwrap_or(0).saturating_sub(1);
    let mut short: String = text.chars().take(letters).collect();
    short.truncate(short.trim_end().len());
    short.push('…');
    short
}

/// Lines of whole words, each within the room where its words are.
pub(super) fn wrap(text: &str, size: Length, room: Length) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        let fits = |line: &String| text_width(line, size) + text_width(word, size) + text_width(" ", size) <= room;
        match lines.last_mut().filter(|line| fits(line)) {
            Some(line) => {
                line.push(' ');
                line.push_str(word);
            }
            None => lines.push(cut(word, size, room)),
        }
    }
    lines
}
