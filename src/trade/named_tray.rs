//! Which tray or pot is meant by a word or a size.

use crate::season::{Container, ContainerKey, ContainerKind, RimShape};
use crate::units::{Length, LengthUnit, Measure, ParseError, Size, size_text};

use super::{WetWeight, grams_by_size};

/// The outer size that the trade gives for the common flat.
const FLAT: &str = "10.94 x 21.44 in";

/// The library's common flat.
const FLAT_1020: &str = "flat_1020";

/// One tray or pot as it stands on a shelf.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NamedTray {
    /// In the library; `flat` has a name of its own, a bare size has none.
    pub name: Option<String>,
    pub outline: Outline,
    /// As typed: `10.94 × 21.44 in`, `7 cm`.
    pub size: String,
    /// Full, when watered.
    pub grams: u32,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Outline {
    Rectangle { width: Length, depth: Length },
    Round { across: Length },
}

impl Outline {
    /// Of a container on a shelf; `None` for a class known by its volume alone.
    pub fn of(container: &Container) -> Option<Self> {
        match &container.kind {
            ContainerKind::Pot(pot) => Some(Self::of_rim(pot.top.value.value(), pot.rim)),
            _ => container
                .tray_outer()
                .map(|size| Self::Rectangle { width: size.width.value(), depth: size.depth.value() }),
        }
    }

    pub const fn of_rim(across: Length, rim: RimShape) -> Self {
        match rim {
            RimShape::Square => Self::Rectangle { width: across, depth: across },
            RimShape::Round => Self::Round { across },
        }
    }

    pub fn short_side(self) -> Length {
        match self {
            Self::Rectangle { width, depth } => width.min(depth),
            Self::Round { across } => across,
        }
    }
}

/// Why a word or a size means no tray and no pot.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum NoSuchTray {
    #[error(transparent)]
    Size(#[from] ParseError),
    #[error("a tray or pot must be from {least} to {most}, found {found}")]
    OutOfRange { least: Length, most: String, found: String },
    #[error("{word:?} may be {these}; write one of them")]
    Several { word: String, these: String },
    #[error("there is no tray or pot {0:?}; \"flat\", \"72\", a size such as 7 cm or 11 x 21 in will do")]
    Unknown(String),
    #[error(
        "there is no tray or pot {word:?}; close to it: {these}; \"flat\", \"72\", a size such as 7 cm or 11 x 21 in \
         will do"
    )]
    Misspelt { word: String, these: String },
    #[error("{0:?} is a class of pots known by volume alone; write a size, such as 7 cm")]
    Class(String),
}

/// A size without a unit is taken in `bare`, or refused where that is `None`.
///
/// # Errors
/// Lists what is close, or says what is wrong with a size.
pub fn resolve<'a>(
    containers: impl IntoIterator<Item = &'a Container>,
    text: &str,
    bare: Option<LengthUnit>,
) -> Result<NamedTray, NoSuchTray> {
    let all: &[&Container] = &containers.into_iter().collect::<Vec<_>>();
    let word = text.trim();
    if word.eq_ignore_ascii_case("flat") {
        return Ok(NamedTray { name: Some("flat".to_owned()), ..size(FLAT, None)? });
    }
    if let Some(container) = exactly(all, word) {
        return of_library(container);
    }
    let why = match size(word, bare) {
        Ok(meant) => return within_range(meant),
        Err(why) => why,
    };
    match containing(all, word).as_slice() {
        [one] => of_library(one),
        [] if is_a_measure(word) => Err(why.into()),
        [] => Err(unknown(all, word)),
        several => Err(NoSuchTray::Several { word: word.to_owned(), these: list(several) }),
    }
}

/// The container that a word means where plants are to grow: `flat`, `72`, `50 cells`, a name or part of one.
///
/// # Errors
/// Where no container is meant, or more than one: the names of those that it may be.
pub fn named_container<'a>(
    containers: impl IntoIterator<Item = &'a Container>,
    text: &str,
) -> Result<&'a Container, Vec<String>> {
    let can_be_grown_in = |one: &&Container| !matches!(one.kind, ContainerKind::Class { .. });
    let all: &[&Container] = &containers.into_iter().filter(can_be_grown_in).collect::<Vec<_>>();
    let lower = text.trim().to_lowercase();
    let word = [" cells", "-cell", " cell"].iter().find_map(|end| lower.strip_suffix(end)).unwrap_or(&lower);
    let word = if matches!(word, "flat" | "flats" | "open flat" | "open flats") { FLAT_1020 } else { word };
    if let Some(container) = exactly(all, word) {
        return Ok(container);
    }
    match containing(all, word).as_slice() {
        [one] => Ok(one),
        several => Err(several.iter().take(8).map(|one| one.name.clone()).collect()),
    }
}

/// Also with a sign before it that no length has.
fn is_a_measure(word: &str) -> bool {
    word.trim_start_matches(['-', '−', '+']).starts_with(|c: char| c.is_ascii_digit() || ".,½¼¾".contains(c))
}

fn exactly<'a>(all: &[&'a Container], word: &str) -> Option<&'a Container> {
    let plug = word.parse::<u16>().ok().map(|cells| ContainerKey::new(&format!("plug_{cells}")));
    let same = |text: &str| text.to_lowercase() == word.to_lowercase();
    all.iter()
        .copied()
        .find(|container| same(&container.key.0) || same(&container.name))
        .or_else(|| all.iter().copied().find(|one| Some(&one.key) == plug.as_ref()))
}

fn containing<'a>(all: &[&'a Container], word: &str) -> Vec<&'a Container> {
    let (word, key) = (word.to_lowercase(), word.to_lowercase().replace([' ', '-'], "_"));
    let has = |container: &Container| {
        container.name.to_lowercase().contains(&word) || container.key.0.to_lowercase().contains(&key)
    };
    all.iter().copied().filter(|container| !word.is_empty() && has(container)).collect()
}

fn of_library(container: &Container) -> Result<NamedTray, NoSuchTray> {
    let meant = match &container.kind {
        ContainerKind::Flat(flat) => of_size(&flat.outer.value),
        ContainerKind::Plug(plug) => of_size(&plug.outer.value),
        ContainerKind::Pot(pot) => of_rim(&pot.top.value, pot.rim),
        ContainerKind::Class { .. } => return Err(NoSuchTray::Class(container.name.clone())),
    };
    let grams = WetWeight::full(container).unwrap_or(meant.grams);
    Ok(NamedTray { name: Some(container.name.clone()), grams, ..meant })
}

fn of_size(size: &Size) -> NamedTray {
    let (width, depth) = (size.width.value(), size.depth.value());
    let outline = Outline::Rectangle { width, depth };
    NamedTray { name: None, outline, size: size_text(size), grams: grams_by_size(size) }
}

fn of_rim(across: &Measure, rim: RimShape) -> NamedTray {
    let grams = grams_by_size(&Size { width: across.clone(), depth: across.clone() });
    NamedTray { name: None, outline: Outline::of_rim(across.value(), rim), size: across.typed().to_owned(), grams }
}

/// `7 cm`, `7 cm round`, `round 7 cm`, `11 x 21 in`.
fn size(text: &str, bare: Option<LengthUnit>) -> Result<NamedTray, ParseError> {
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
        return Size::parse(&text, bare).map(|size| of_size(&size));
    }
    Measure::parse_length(&text, bare).map(|across| of_rim(&across, rim))
}

fn within_range(meant: NamedTray) -> Result<NamedTray, NoSuchTray> {
    let (least, most) = (Length::from_mm(5), Length::from_mm(5_000));
    let fine = |length| (least..=most).contains(&length);
    let good = match meant.outline {
        Outline::Rectangle { width, depth } => fine(width) && fine(depth),
        Outline::Round { across } => fine(across),
    };
    if good {
        Ok(meant)
    } else {
        Err(NoSuchTray::OutOfRange { least, most: most.in_words(LengthUnit::Metre), found: meant.size })
    }
}

fn unknown(all: &[&Container], word: &str) -> NoSuchTray {
    let mut close: Vec<(usize, &Container)> = all
        .iter()
        .map(|&container| (likeness(word, &container.key.0).max(likeness(word, &container.name)), container))
        .filter(|(likeness, _)| *likeness >= 30)
        .collect();
    close.sort_by_key(|(likeness, container)| (std::cmp::Reverse(*likeness), &container.key));
    close.truncate(5);
    let close: Vec<&Container> = close.into_iter().map(|(_, container)| container).collect();
    let word = word.to_owned();
    if close.is_empty() { NoSuchTray::Unknown(word) } else { NoSuchTray::Misspelt { word, these: list(&close) } }
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
