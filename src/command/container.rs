//! Which tray or pot is meant by a word or a size.

use crate::season::{Container, ContainerKey, ContainerKind, Library, RimShape};
use crate::units::{Length, LengthUnit, Measure, ParseError, Size};

use super::typed::unit_of;

/// The outer size that the trade gives for the common flat.
const FLAT: &str = "10.94 x 21.44 in";

/// One tray or pot as it stands on a shelf.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Meant {
    /// In the library; `flat` has a name of its own, a bare size has none.
    pub(super) name: Option<String>,
    pub(super) outline: Outline,
    /// As typed: `10.94 × 21.44 in`, `7 cm`.
    pub(super) size: String,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Outline {
    Rectangle { width: Length, depth: Length },
    Round { across: Length },
}

impl Outline {
    pub(super) fn short_side(self) -> Length {
        match self {
            Self::Rectangle { width, depth } => width.min(depth),
            Self::Round { across } => across,
        }
    }
}

/// # Errors
/// Lists what is close, or says what is wrong with a size.
pub(super) fn resolve(library: &Library, text: &str) -> Result<Meant, String> {
    let word = text.trim();
    if word.eq_ignore_ascii_case("flat") {
        return size(FLAT).map(|flat| Meant { name: Some("flat".to_owned()), ..flat }).map_err(|why| why.to_string());
    }
    if let Some(container) = exactly(library, word) {
        return of_library(container);
    }
    let as_size = size(word);
    if let Ok(meant) = as_size {
        return within_range(meant);
    }
    match containing(library, word).as_slice() {
        [one] => of_library(one),
        [] if word.starts_with(|c: char| c.is_ascii_digit() || ".,½¼¾".contains(c)) && as_size.is_err() => {
            Err(as_size.err().map_or_else(String::new, |why| why.to_string()))
        }
        [] => Err(unknown(library, word)),
        several => Err(format!("{word:?} may be {}; write one of them", list(several))),
    }
}

fn exactly<'a>(library: &'a Library, word: &str) -> Option<&'a Container> {
    let plug = word.parse::<u16>().ok().map(|cells| ContainerKey::new(&format!("plug_{cells}")));
    let same = |text: &str| text.to_lowercase() == word.to_lowercase();
    library
        .containers
        .values()
        .find(|container| same(&container.key.0) || same(&container.name))
        .or_else(|| library.containers.get(&plug?))
}

fn containing<'a>(library: &'a Library, word: &str) -> Vec<&'a Container> {
    let (word, key) = (word.to_lowercase(), word.to_lowercase().replace([' ', '-'], "_"));
    let has = |container: &Container| {
        container.name.to_lowercase().contains(&word) || container.key.0.to_lowercase().contains(&key)
    };
    library.containers.values().filter(|container| !word.is_empty() && has(container)).collect()
}

fn of_library(container: &Container) -> Result<Meant, String> {
    let name = Some(container.name.clone());
    match &container.kind {
        ContainerKind::Flat(flat) => Ok(Meant { name, ..of_size(&flat.outer.value) }),
        ContainerKind::Plug(plug) => Ok(Meant { name, ..of_size(&plug.outer.value) }),
        ContainerKind::Pot(pot) => Ok(Meant { name, ..of_rim(&pot.top.value, pot.rim) }),
        ContainerKind::Class { .. } => {
            Err(format!("{:?} is a class of pots known by volume alone; write a size, such as 7 cm", container.name))
        }
    }
}

fn of_size(size: &Size) -> Meant {
    let (width, depth) = (size.width.value(), size.depth.value());
    Meant { name: None, outline: Outline::Rectangle { width, depth }, size: size_text(size) }
}

fn of_rim(across: &Measure, rim: RimShape) -> Meant {
    let (side, typed) = (across.value(), across.typed().to_owned());
    let outline = match rim {
        RimShape::Square => Outline::Rectangle { width: side, depth: side },
        RimShape::Round => Outline::Round { across: side },
    };
    Meant { name: None, outline, size: typed }
}

/// `48 × 18 in`: one unit where both sides have the same.
pub(super) fn size_text(size: &Size) -> String {
    let (width, depth) = (size.width.typed(), size.depth.typed());
    let unit = unit_of(depth).sign();
    match (width.strip_suffix(unit), depth.ends_with(unit)) {
        (Some(number), true) => format!("{} × {depth}", number.trim_end()),
        _ => format!("{width} × {depth}"),
    }
}

/// `7 cm`, `7 cm round`, `round 7 cm`, `11 x 21 in`.
fn size(text: &str) -> Result<Meant, ParseError> {
    let lower = text.to_lowercase();
    let without = |word: &str| {
        let rest = lower.strip_suffix(word).or_else(|| lower.strip_prefix(word))?;
        Some(rest.trim().to_owned())
    };
    let (text, rim) = if let Some(rest) = without("round") {
        (rest, RimShape::Round)
    } else if let Some(rest) = without("square") {
        (rest, RimShape::Square)
    } else {
        (lower.clone(), RimShape::Square)
    };
    if text.contains(['x', '×', '*']) && rim == RimShape::Square {
        return Size::parse(&text, None).map(|size| of_size(&size));
    }
    Measure::parse_length(&text, None).map(|across| of_rim(&across, rim))
}

fn within_range(meant: Meant) -> Result<Meant, String> {
    let (least, most) = (Length::from_mm(5), Length::from_mm(5_000));
    let fine = |length| (least..=most).contains(&length);
    let good = match meant.outline {
        Outline::Rectangle { width, depth } => fine(width) && fine(depth),
        Outline::Round { across } => fine(across),
    };
    if good {
        Ok(meant)
    } else {
        let most = most.in_words(LengthUnit::Metre);
        Err(format!("a tray or pot must be from {least} to {most}, found {}", meant.size))
    }
}

fn unknown(library: &Library, word: &str) -> String {
    let mut close: Vec<(usize, &Container)> = library
        .containers
        .values()
        .map(|container| (likeness(word, &container.key.0).max(likeness(word, &container.name)), container))
        .filter(|(likeness, _)| *likeness >= 30)
        .collect();
    close.sort_by_key(|(likeness, container)| (std::cmp::Reverse(*likeness), &container.key));
    close.truncate(5);
    let close: Vec<&Container> = close.into_iter().map(|(_, container)| container).collect();
    let hint = if close.is_empty() { String::new() } else { format!("; close to it: {}", list(&close)) };
    format!("there is no tray or pot {word:?}{hint}; \"flat\", \"72\", a size such as 7 cm or 11 x 21 in will do")
}

fn list(containers: &[&Container]) -> String {
    let mut names: Vec<&str> = containers.iter().take(8).map(|container| &*container.key.0).collect();
    if containers.len() > names.len() {
        names.push("…");
    }
    names.join(", ")
}

/// Pairs of letters that both have, in per cent of all.
fn likeness(one: &str, other: &str) -> usize {
    let pairs = |text: &str| -> Vec<(char, char)> {
        let letters: Vec<char> = text.to_lowercase().chars().filter(|c| c.is_alphanumeric()).collect();
        letters.iter().copied().zip(letters.iter().copied().skip(1)).collect()
    };
    let (one, mut other) = (pairs(one), pairs(other));
    let all = one.len() + other.len();
    let mut both = 0_usize;
    for pair in one {
        if let Some(found) = other.iter().position(|p| *p == pair) {
            other.swap_remove(found);
            both += 2;
        }
    }
    (both * 100).checked_div(all).unwrap_or(0)
}
