//! How many fit, in words.

use crate::trade::{Capacity, Held, Misses, NamedTray, Outline, Turned, borne};
use crate::units::{Length, Size, about, measured_up, rounded, size_text};

use super::places::HOW_MANY;
use super::{Words, listed};

const NONE: &str = "None: one is larger than the shelf, turned either way";

/// `2 flats; 4 if 3½ in may stick out`.
pub fn held(hold: &Capacity, meant: &NamedTray) -> String {
    let fits = hold.with(hold.allowed).fits;
    let more = hold.more().map(|needed| {
        // What is said must be true of the rounded figure too.
        let most = about(needed, hold.unit);
        format!("{} if {} may stick out", hold.with(most).fits, rounded(most, hold.unit))
    });
    match (fits, more) {
        (0, None) => NONE.to_owned(),
        (0, Some(more)) => format!("None; {more}"),
        (fits, None) => number_held(meant, fits),
        (fits, Some(more)) => format!("{}; {more}", number_held(meant, fits)),
    }
}

/// How many fit, lying which way, and what sticking out would change; then what was asked.
pub fn held_in_full(hold: &Capacity, meant: &NamedTray, shelf: &Size) -> String {
    let (plain, now, unit) = (hold.with(Length::ZERO), hold.with(hold.allowed), hold.unit);
    let mut lines =
        vec![if now.fits == 0 { NONE.to_owned() } else { format!("{}{}", number_held(meant, now.fits), how(&now)) }];
    let sticks_out = hold.sticks_out();
    if sticks_out > Length::ZERO {
        let far = rounded(about(sticks_out, unit).min(hold.allowed), unit);
        lines.push(format!("with {far} sticking out; {} if nothing may stick out", plain.fits));
    } else if hold.allowed > Length::ZERO {
        lines.push("no more than with nothing sticking out".to_owned());
    }
    if let Some(needed) = hold.more() {
        // What is said must be true of the rounded figure too.
        let most = about(needed, unit);
        let more = hold.with(most);
        lines.push(format!("and {} if {} may stick out{}", more.fits, rounded(most, unit), how(&more)));
    }
    lines.extend(one_more(hold));
    lines.push(format!("\nShelf {}, {} {}, no gaps between\n", size_text(shelf), kind_held(meant), meant.size));
    lines.join("\n")
}

/// `one more would need 1¼ in more width`.
pub fn one_more(hold: &Capacity) -> Option<String> {
    let Misses { width, depth } = hold.one_more()?;
    let one = if hold.with(hold.allowed).fits == 0 { "one" } else { "one more" };
    let missing: Vec<String> = [(width, "width"), (depth, "depth")]
        .into_iter()
        .filter(|(by, _)| *by > Length::ZERO)
        .map(|(by, side)| format!("{} more {side}", measured_up(by, hold.unit)))
        .collect();
    Some(format!("{one} would need {}", listed(&missing)))
}

impl Words<'_> {
    /// `its rating of 20 kg bears no more at about 6.4 kg each when watered`.
    pub fn no_more_borne(&self, rated: u32, each: u32) -> String {
        let [rated, each] = [rated, each].map(|grams| self.weight(u64::from(grams)));
        format!("its rating of {rated} bears no more at about {each} each when watered")
    }

    /// `3 × 72-cell plug tray by weight: …`; nothing where the rating bears all that have room.
    pub fn borne(&self, meant: &NamedTray, fits: i64, rated: Option<u32>) -> Option<String> {
        let borne = borne(rated, meant.grams).filter(|borne| *borne < fits)?;
        let number = if borne == 0 { "None".to_owned() } else { number_held(meant, borne) };
        Some(format!("{number} by weight: {}", self.no_more_borne(rated?, meant.grams)))
    }
}

/// What a rating bears, before all that there is room for.
pub fn by_weight_and_size(borne: &str, by_size: &str) -> String {
    format!("{borne}\nby size: {by_size}")
}

/// `, lengthwise`, `, 3 lengthwise and 2 crosswise`, `, staggered (112 in rows)`, `, out of line as “How many fit”
/// draws them (9 in rows, 13 staggered)`.
fn how(held: &Held) -> String {
    let mut how = match (held.in_rows, held.turned) {
        (Some(rows), _) if held.staggered.is_some_and(|staggered| staggered < held.fits) => {
            let staggered = held.staggered.filter(|staggered| *staggered > rows);
            let staggered = staggered.map(|staggered| format!(", {staggered} staggered")).unwrap_or_default();
            format!(", out of line as “{HOW_MANY}” draws them ({rows} in rows{staggered})")
        }
        (Some(rows), _) if rows < held.fits => format!(", staggered ({rows} in rows)"),
        (Some(_), _) if held.fits > 0 => ", in rows; staggered holds no more".to_owned(),
        (_, Turned::Each { crosswise: 0, .. }) => ", lengthwise".to_owned(),
        (_, Turned::Each { lengthwise: 0, .. }) => ", crosswise".to_owned(),
        (_, Turned::Each { lengthwise, crosswise }) => {
            format!(", {lengthwise} lengthwise and {crosswise} crosswise")
        }
        (_, Turned::Alike) => String::new(),
    };
    if let Some(at_most) = held.at_most.filter(|at_most| *at_most > held.fits) {
        let very_most = format!(", and {at_most} at the very most");
        how.push_str(&very_most);
    }
    how
}

/// `2 flats`, `3 × 72-cell plug tray`.
pub fn number_held(meant: &NamedTray, fits: i64) -> String {
    match meant.name.as_deref() {
        Some(name) if name != "flat" => format!("{fits} × {name}"),
        _ if fits == 1 => format!("1 {}", kind_held(meant)),
        _ => format!("{fits} {}s", kind_held(meant)),
    }
}

pub fn kind_held(meant: &NamedTray) -> &'static str {
    match (meant.name.as_deref(), meant.outline) {
        (Some("flat"), _) => "flat",
        (Some(_), _) => "outside",
        (None, Outline::Round { .. }) => "round pot",
        (None, Outline::Rectangle { width, depth }) if width == depth => "square pot",
        (None, Outline::Rectangle { .. }) => "tray",
    }
}
