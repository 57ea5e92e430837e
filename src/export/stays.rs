//! One tray, stack or block of pots on the sheet: where it stands, its name, what is kept free beside it.

use crate::forecast::{Shape as Outline, Stay};
use crate::season::{Spot, TrayKey};
use crate::units::{DateSpan, Length};
use crate::words::{self, Words};

use super::drawing::{bold_width, cut};
use super::{Anchor, Class, Family, Scale, Shape, TextClass, tray};

/// Where a stay is drawn: its corner on the sheet, and how it is turned.
#[derive(Clone, Copy)]
pub(super) struct DrawnStay {
    x: Length,
    y: Length,
    width: Length,
    depth: Length,
    quarter_turns: u8,
}

impl DrawnStay {
    /// `corner` is the shelf's back left corner on the sheet.
    pub(super) fn new(stay: &Stay, spot: &Spot, corner: (Length, Length)) -> Self {
        Self {
            x: corner.0 + spot.x,
            y: corner.1 + spot.y,
            width: stay.shape.width(),
            depth: stay.shape.depth(),
            quarter_turns: spot.quarter_turns % 4,
        }
    }

    /// Width and depth as it stands.
    pub(super) const fn outer(&self) -> (Length, Length) {
        if self.quarter_turns % 2 == 1 { (self.depth, self.width) } else { (self.width, self.depth) }
    }

    /// Its front edge on the sheet.
    pub(super) fn front(&self) -> Length {
        self.y + self.outer().1
    }
}

/// What is kept free beside it, as far as its shelf goes: `room` is the corner away from the
/// origin. Loose pots touch.
pub(super) fn gap(stay: &Stay, standing: &DrawnStay, gap: Length, room: (Length, Length)) -> Option<Shape> {
    let (width, height) = standing.outer();
    let width = (width + gap).min(room.0 - standing.x);
    let height = (height + gap).min(room.1 - standing.y);
    let wanted = matches!(stay.shape, Outline::Tray { .. }) && gap > Length::ZERO;
    (wanted && width > Length::ZERO && height > Length::ZERO)
        .then(|| Shape::rect(Class::Gap, standing.x, standing.y, width, height))
}

/// How a tray is named on the sheet.
pub(super) struct Label<'a> {
    pub(super) words: &'a Words<'a>,
    pub(super) scale: Scale,
    /// Where it is for a part of the day, if it is carried out and in.
    pub(super) away: Option<&'static str>,
}

/// Outline, what is inside, and its name.
pub(super) fn shapes(stay: &Stay, standing: &DrawnStay, family: Family, id: String, label: &Label<'_>) -> Vec<Shape> {
    let drawn = tray(&stay.shape, family, standing.quarter_turns);
    let mut shapes: Vec<Shape> = drawn.into_iter().map(|shape| shape.moved((standing.x, standing.y))).collect();
    if let Some(Shape::Rect { id: own, title: said, .. }) = shapes.first_mut() {
        (*own, *said) = (id, title(stay, label.words));
    }
    shapes.extend(label.lines(stay, standing, family));
    shapes
}

/// The crop family that gives a tray its fill; empty for guests, and where several stand in it.
pub fn family_of<'a>(words: &Words<'a>, stay: &Stay) -> &'a str {
    let crop_of = |id| words.season.crop(words.library, &words.season.sowing(id)?.crop);
    let all = words.forecast.sowings_in(stay);
    let mut families = all.into_iter().map(|id| crop_of(id).map_or("", |crop| crop.family.as_str()));
    let first = families.next().unwrap_or("");
    if families.all(|other| other == first) { first } else { "" }
}

/// Printed height of the mark's letters, in tenths of a millimetre, and the least that is read.
const MARK: [i64; 2] = [30, 8];
/// The same for what stands below it.
const BELOW: [i64; 2] = [22, 15];

impl Label<'_> {
    fn printed(&self, tenths: i64) -> Length {
        self.scale.printed(Length::from_units(tenths * 800))
    }

    /// The mark, crop and variety, how many, and whether it is out by day: as much of it as the tray has room for, in
    /// that order, left out where nobody could read it.
    fn lines(&self, stay: &Stay, standing: &DrawnStay, family: Family) -> Vec<Shape> {
        let (width, height) = standing.outer();
        let room = width * 9 / 10;
        let size = |text: &str, [whole, least]: [i64; 2]| {
            let whole = self.printed(whole);
            let of_width = Length::from_units(room.units() * whole.units() / bold_width(text, whole).units().max(1));
            Some(whole.min(of_width)).filter(|size| *size >= self.printed(least))
        };
        let mark = short_mark(stay, self.words);
        let Some(large) =
            size(&mark, MARK).map(|size| size.min(height * 7 / 10)).filter(|s| *s >= self.printed(MARK[1]))
        else {
            return Vec::new();
        };
        let mut lines = vec![(mark, large)];
        let mut tall = large;
        let away = self.away.map(str::to_owned);
        for text in [self.words.crop_of(stay), self.words.what_briefly(stay)].into_iter().chain(away) {
            let text = cut(&text, self.printed(BELOW[1]) * 120 / 100, room);
            let Some(size) = size(&text, BELOW) else { continue };
            if tall + size * 13 / 10 <= height * 9 / 10 {
                tall += size * 13 / 10;
                lines.push((text, size));
            }
        }
        // Capitals are about seven tenths of a letter's size high.
        let mut y = standing.y + (height - tall) / 2 + large * 85 / 100;
        let mut shapes = Vec::new();
        for (at, (text, size)) in lines.into_iter().enumerate() {
            if at > 0 {
                y += size * 13 / 10;
            }
            let (class, anchor, x) = (TextClass::Mark(family), Anchor::Middle, standing.x + width / 2);
            shapes.push(Shape::Text { class, anchor, x, y, size, text });
        }
        shapes
    }
}

/// `To 7`, and for a stack how many more are under it: `To 7 +3`.
pub(super) fn short_mark(stay: &Stay, words: &Words<'_>) -> String {
    let mark = stay.tray().map_or_else(String::new, |tray| words.tray(tray));
    match stay.trays.len() {
        0 | 1 => mark,
        number => format!("{mark} +{}", number - 1),
    }
}

/// `To 7: tomato ‘Early Red’; 18 pots, 83 mm square, in a flat; 12 Apr – 16 May`.
fn title(stay: &Stay, words: &Words<'_>) -> String {
    let marks: Vec<String> = stay.trays.iter().map(|tray| words.tray(*tray)).collect();
    let is_sown = !words.forecast.sowings_in(stay).is_empty();
    let sowing = if is_sown { format!(" {};", words.crop_of(stay)) } else { String::new() };
    let span: DateSpan = stay.span;
    format!("{}:{sowing} {}; {}", marks.join(", "), words.what(stay), words::span(span))
}

/// The same for a tray in every drawing.
pub(super) fn id(tray: TrayKey) -> String {
    match tray {
        TrayKey::Own { lot, step, n } => format!("tray-{lot}-{step}-{n}"),
        TrayKey::Shared(tray) => format!("tray-shared-{tray}"),
        TrayKey::Guest { guest, n } => format!("tray-guest-{guest}-{n}"),
    }
}
