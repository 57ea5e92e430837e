//! A drawing as SVG: one unit is 1 mm of the real thing, and every coordinate is absolute.
//!
//! Each shelf and each tray is one `rect` of class `shelf` or `tray`, so that anyone can measure it.

use std::fmt::Write as _;

use crate::season::RimShape;
use crate::units::Length;

use super::colours::{LIGHT, SHEET};
use super::{Anchor, Class, Colour, Drawing, Family, Fill, Shape, TextClass};

type Point = (Length, Length);

/// Writes the drawing; its printed size follows from its scale.
pub fn svg(drawing: &Drawing) -> String {
    let n = i64::from(drawing.scale.0);
    let mut out = String::new();
    let (width, height) = (mm(drawing.width), mm(drawing.height));
    push(
        &mut out,
        format_args!(
            "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n\
             <svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{}mm\" height=\"{}mm\" \
             viewBox=\"0 0 {width} {height}\" font-family=\"sans-serif\" role=\"img\">\n",
            mm(drawing.width / n),
            mm(drawing.height / n),
        ),
    );
    push(&mut out, format_args!("<title>{}</title>\n", escaped(&drawing.title)));
    style(&mut out, drawing);
    push(&mut out, format_args!("<rect class=\"page\" x=\"0\" y=\"0\" width=\"{width}\" height=\"{height}\"/>\n"));
    for shape in &drawing.shapes {
        write_shape(&mut out, shape);
    }
    out.push_str("</svg>\n");
    out
}

fn style(out: &mut String, drawing: &Drawing) {
    let thin = mm(drawing.scale.printed(Length::from_units(1_200)));
    let fine = mm(drawing.scale.printed(Length::from_units(600)));
    let dash = mm(drawing.scale.printed(Length::from_mm(1)));
    let dot = mm(drawing.scale.printed(Length::from_units(4_000)));
    let (paper, shelf, gap, ink) = (hex(SHEET), hex(LIGHT.shelf), hex(LIGHT.panel), hex(LIGHT.ink));
    let (soft, lamp, mat, trouble) = (hex(LIGHT.soft_ink), hex(LIGHT.lamp), hex(LIGHT.mat), hex(LIGHT.trouble));
    push(
        out,
        format_args!(
            "<style>\n\
             .page{{fill:{paper}}}\n\
             .shelf{{fill:{shelf};stroke:{ink};stroke-width:{thin}}}\n\
             .overhang{{fill:none;stroke:{soft};stroke-width:{fine};stroke-dasharray:{dash}}}\n\
             .lamp{{fill:none;stroke:{lamp};stroke-width:{thin};stroke-dasharray:{dot}}}\n\
             .mat{{fill:none;stroke:{mat};stroke-width:{fine}}}\n\
             .hatch{{fill:none;stroke:{mat};stroke-width:{fine}}}\n\
             .gap{{fill:{gap}}}\n\
             .tray{{stroke-width:{thin}}}\n\
             .cells,.pot{{fill:none;stroke-width:{fine}}}\n\
             .ruler{{fill:none;stroke:{ink};stroke-width:{fine}}}\n\
             .swatch{{stroke-width:{fine}}}\n\
             .title{{fill:{ink};font-weight:600}}\n\
             .plain{{fill:{ink}}}\n\
             .soft{{fill:{soft}}}\n\
             .trouble{{fill:{trouble};font-weight:600}}\n\
             .mark{{font-weight:600;paint-order:stroke}}\n\
             </style>\n",
        ),
    );
}

fn write_shape(out: &mut String, shape: &Shape) {
    match shape {
        Shape::Rect { class, family, id, title, x, y, width, height } => {
            out.push_str("<rect");
            if !id.is_empty() {
                push(out, format_args!(" id=\"{}\"", escaped(id)));
            }
            rect(out, *class, *family, (*x, *y), (*width, *height));
            if title.is_empty() {
                out.push_str("/>\n");
            } else {
                push(out, format_args!("><title>{}</title></rect>\n", escaped(title)));
            }
        }
        Shape::Grid { class, family, x, y, width, height, columns, rows } => {
            path(out, *class, Some(*family), &between((*x, *y), (*width, *height), (*columns, *rows)));
        }
        Shape::Pots { class, family, rim, across, middles, .. } => {
            for middle in middles {
                pot(out, (*class, *family), *rim, *middle, *across);
            }
        }
        Shape::Lines { class, lines } => path(out, *class, None, lines),
        Shape::Text { class, anchor, x, y, size, text } => write_text(out, *class, *anchor, (*x, *y), *size, text),
    }
}

/// What follows the name and the id of a `rect`.
fn rect(out: &mut String, class: Class, family: Option<Family>, at: Point, (width, height): Point) {
    push(
        out,
        format_args!(
            " class=\"{}\" x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"{}",
            name(class),
            mm(at.0),
            mm(at.1),
            mm(width),
            mm(height),
            colours(class, family)
        ),
    );
}

fn pot(out: &mut String, (class, family): (Class, Family), rim: RimShape, (x, y): Point, across: Length) {
    match rim {
        RimShape::Round => push(
            out,
            format_args!(
                "<circle class=\"{}\" cx=\"{}\" cy=\"{}\" r=\"{}\"{}/>\n",
                name(class),
                mm(x),
                mm(y),
                mm(across / 2),
                colours(class, Some(family))
            ),
        ),
        RimShape::Square => {
            out.push_str("<rect");
            rect(out, class, Some(family), (x - across / 2, y - across / 2), (across, across));
            out.push_str("/>\n");
        }
    }
}

fn path(out: &mut String, class: Class, family: Option<Family>, lines: &[(Point, Point)]) {
    push(out, format_args!("<path class=\"{}\"{} d=\"", name(class), colours(class, family)));
    for ((x1, y1), (x2, y2)) in lines {
        push(out, format_args!("M{} {}L{} {}", mm(*x1), mm(*y1), mm(*x2), mm(*y2)));
    }
    out.push_str("\"/>\n");
}

/// Lines between the cells, and around them within the rim.
fn between((x, y): Point, (width, height): Point, (columns, rows): (u16, u16)) -> Vec<(Point, Point)> {
    let rim = width.min(height) / 40;
    let (left, top, right, bottom) = (x + rim, y + rim, x + width - rim, y + height - rim);
    let along = (0..=i64::from(columns)).map(|n| {
        let x = left + (right - left) * n / i64::from(columns).max(1);
        ((x, top), (x, bottom))
    });
    let across = (0..=i64::from(rows)).map(|n| {
        let y = top + (bottom - top) * n / i64::from(rows).max(1);
        ((left, y), (right, y))
    });
    along.chain(across).collect()
}

fn write_text(out: &mut String, class: TextClass, anchor: Anchor, (x, y): Point, size: Length, text: &str) {
    let anchor = match anchor {
        Anchor::Start => "start",
        Anchor::Middle => "middle",
        Anchor::End => "end",
    };
    push(
        out,
        format_args!(
            "<text class=\"{}\" x=\"{}\" y=\"{}\" font-size=\"{}\" text-anchor=\"{anchor}\"{}>{}</text>\n",
            text_name(class),
            mm(x),
            mm(y),
            mm(size),
            halo(class, size),
            escaped(text)
        ),
    );
}

const fn name(class: Class) -> &'static str {
    match class {
        Class::Shelf => "shelf",
        Class::Overhang => "overhang",
        Class::Lamp => "lamp",
        Class::Mat => "mat",
        Class::MatHatch => "hatch",
        Class::Gap => "gap",
        Class::Tray | Class::Block => "tray",
        Class::Cells => "cells",
        Class::Pot | Class::LoosePot => "pot",
        Class::Ruler => "ruler",
        Class::Swatch => "swatch",
    }
}

const fn text_name(class: TextClass) -> &'static str {
    match class {
        TextClass::Title => "title",
        TextClass::Plain => "plain",
        TextClass::Soft => "soft",
        TextClass::Trouble => "trouble",
        TextClass::Mark(_) => "mark",
    }
}

fn colours(class: Class, family: Option<Family>) -> String {
    let Some(family) = family else { return String::new() };
    let (fill, ink) = hexes(family);
    match class {
        Class::Tray | Class::Block | Class::Swatch => format!(" fill=\"{fill}\" stroke=\"{ink}\""),
        _ => format!(" stroke=\"{ink}\""),
    }
}

/// A mark keeps clear of the cells it is written over.
fn halo(class: TextClass, size: Length) -> String {
    let TextClass::Mark(family) = class else { return String::new() };
    let (fill, ink) = hexes(family);
    format!(" fill=\"{ink}\" stroke=\"{fill}\" stroke-width=\"{}\" stroke-linejoin=\"round\"", mm(size / 3))
}

fn push(out: &mut String, text: std::fmt::Arguments<'_>) {
    // A String takes everything.
    out.write_fmt(text).ok();
}

/// Millimetres, exact: 1/8000 mm has six decimals.
fn mm(length: Length) -> String {
    let millionths = i128::from(length.units()) * 125;
    let (whole, rest) = (millionths.abs() / 1_000_000, millionths.abs() % 1_000_000);
    let sign = if millionths < 0 { "-" } else { "" };
    if rest == 0 {
        return format!("{sign}{whole}");
    }
    let decimals = format!("{rest:06}");
    format!("{sign}{whole}.{}", decimals.trim_end_matches('0'))
}

fn hex(colour: Colour) -> String {
    format!("#{:02X}{:02X}{:02X}", colour.0, colour.1, colour.2)
}

/// Fill and ink.
fn hexes(family: Family) -> (String, String) {
    let Fill { fill, ink } = LIGHT.family(family);
    (hex(fill), hex(ink))
}

fn escaped(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => safe.push_str("&amp;"),
            '<' => safe.push_str("&lt;"),
            '>' => safe.push_str("&gt;"),
            '"' => safe.push_str("&quot;"),
            // XML 1.0 has no place for these, escaped or not.
            c if c.is_control() || matches!(c, '\u{FFFE}' | '\u{FFFF}') => safe.push(' '),
            c => safe.push(c),
        }
    }
    safe
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_are_written_exactly() {
        assert_eq!(mm(Length::from_units(48 * 203_200)), "1219.2");
        assert_eq!(mm(Length::from_units(1)), "0.000125");
        assert_eq!(mm(Length::from_units(-4_000)), "-0.5");
        assert_eq!(mm(Length::from_mm(70)), "70");
        assert_eq!(mm(Length::ZERO), "0");
    }

    #[test]
    fn no_text_breaks_the_file() {
        assert_eq!(escaped("<a & \"b\">\u{0}\u{1b}"), "&lt;a &amp; &quot;b&quot;&gt;  ");
    }
}
