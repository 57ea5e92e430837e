//! Crops: what is known of each, and where from.

use crate::season::{FieldId, Potting, SeedLight, SettingDepth};

use super::refusal::field;

pub const PAGE: &str = "Crops";
pub const FIND: &str = "Find a crop";
pub const NONE_OF_THAT_NAME: &str = "No crop of that name";
pub const START_FROM: &str = super::fields::START_FROM;
pub const BACK: &str = "Back to the library's figures";
pub const REMOVE: &str = "Remove crop";
pub const CHANGED: &str = "changed by you";
pub const OWN: &str = "your own";
pub const OF_THE_LIBRARY: &str = "From the library; a figure that you change counts in this season";
pub const YOUR_OWN: &str = super::fields::YOUR_OWN;
pub const CHANGED_HERE: &str = "Changed by you, for this season";

pub const NAME: &str = field(FieldId::CropName);
pub const GERMINATION: &str = field(FieldId::CropGermination);
pub const UP_DAYS: &str = field(FieldId::CropEmergence);
pub const UP: [&str; 3] = ["Days to emerge, early", "Days to emerge, likely", "Days to emerge, late"];
pub const LEAVES: &str = "True leaves needed";
pub const LEAVES_HINT: &str = "by age";
pub const LEAVES_ASIDE: &str = "before its next container; empty: by age";
pub const DUE_DAYS: &str = field(FieldId::CropMovingOn);
pub const DUE: [&str; 3] = ["Next container, early", "Next container, likely", "Next container, late"];
pub const EARLY_LIKELY_LATE: [&str; 3] = ["early", "likely", "late"];
pub const AT_MOST_IN: &str = "Hold no longer than";
pub const LATEST: [&str; 6] = [
    "Weeks in small cells",
    "Weeks in medium cells",
    "Weeks in large cells",
    "Weeks in pots",
    "Weeks in litre pots",
    "Weeks in gallon pots",
];
pub const SIZES: [&str; 6] = ["weeks: small", "medium", "large cells", "pots", "of a litre", "of a gallon"];
pub const TOO_LONG_IN_DAYS: &str = "that is too long to be counted in days beside the others";
pub const WEEKS_OUT: &str = field(FieldId::CropWeeksOut);
pub const WEEKS: [&str; 2] = ["Weeks to planting out, least", "Weeks to planting out, most"];
pub const WEEKS_TO_SALE: &str = field(FieldId::CropWeeksToSale);
pub const SALE: [&str; 2] = ["Weeks to sale, least", "Weeks to sale, most"];
pub const SALE_ASIDE: &str = "in flower; empty where it is sold green or not at all";
pub const GERMINATES_AT: &str = "Germinates at";
pub const GERMINATES: [&str; 4] =
    ["Germinates, least", "Germinates best, from", "Germinates best, to", "Germinates, greatest"];
pub const GERMINATES_LABELS: [&str; 4] = ["least", "best", TO, "greatest"];
pub const SPROUTS: &str = "To sprout, seed wants";
pub const SPROUTING: [(SeedLight, &str); 3] = [
    (SeedLight::Light, "light: leave it uncovered"),
    (SeedLight::Dark, "dark: cover it"),
    (SeedLight::Either, "either"),
];
pub const SEEDS: &str = field(FieldId::CropSeedsPerGram);
pub const BEFORE: &str = "Before sowing";
pub const NOTHING: &str = "nothing";
pub const LIGHT: &str = field(FieldId::CropLight);
pub const FROM_FROST: &str = field(FieldId::CropWeeksFromFrost);
pub const FROST: [&str; 2] = ["Weeks from the frost, earliest", "Weeks from the frost, latest"];
pub const FROST_ASIDE: &str = "negative is before it";
pub const TO: &str = "to";
pub const HARDENING_OFF: &str = "Hardening off";
pub const HARDENING: &str = "Days of hardening off";
pub const DAYS: &str = "days";
pub const FIRST_NIGHT: &str = "First night out after days";
pub const FIRST_NIGHT_LABEL: &str = "first night out after";
pub const ROOTING: &str = "Days to root through";
pub const COME_IN: &str = "Comes in below";
pub const MOVES_ASIDE: &str = "between sowing and planting out";
pub const IN_OPEN_FLAT: &str = field(FieldId::CropInOpenFlat);
pub const IN_OPEN_FLAT_HINT: &str = "by size";
pub const IN_OPEN_FLAT_ASIDE: &str = "sown thick to the end; empty: pricked out, each on ground of its own";
pub const SET: &str = "Set";
pub const DEPTHS: [(SettingDepth, &str); 3] = [
    (SettingDepth::Deep, "deep, to the seed leaves"),
    (SettingDepth::Collar, "at the root collar"),
    (SettingDepth::Either, "either"),
];

pub const CURVES: &str = "Height and spread, week by week from sowing";
pub const WEEK: &str = field(FieldId::HeightWeek(0));
pub const HEIGHT: &str = field(FieldId::HeightSize(0));
pub const SPREAD: &str = field(FieldId::SpreadSize(0));

pub const SPACED: &str = "Space its pots out when leaves meet";

pub const BOTH_OR_NEITHER: &str = "write both, or leave both empty";

/// `6`, or `16 d` where days are counted.
pub fn held(held: u8, in_days: bool) -> String {
    if in_days { format!("{held} d") } else { held.to_string() }
}

/// `13 mol a day, poor below 8`.
pub fn light((poor, aimed_at): (f64, f64)) -> String {
    format!("{aimed_at} mol/m² a day, poor below {poor}")
}

/// The field for the week of a height or spread, counted from 0.
pub fn week_of(what: &str, at: usize) -> String {
    format!("Week of {what} {}", at + 1)
}

/// The field for that height or spread.
pub fn size_of(what: &str, at: usize) -> String {
    let first = what.chars().next().map_or_else(String::new, |first| first.to_uppercase().to_string());
    format!("{first}{} {}", what.get(1..).unwrap_or_default(), at + 1)
}

pub fn add(what: &str) -> String {
    format!("Add a {what}")
}

pub fn remove(what: &str, at: usize) -> String {
    format!("Remove {what} {}", at + 1)
}

pub fn no_weeks(text: &str) -> String {
    format!("found {text:?}; write a number of weeks such as 2.5")
}

/// Of a copy for the grower to change.
pub fn own_name(name: &str) -> String {
    format!("{}, own", name.trim_end_matches(", own")).chars().take(200).collect()
}

/// The end of each curve: a length, and in which week.
pub fn drawing(height: (&str, f64), spread: (&str, f64)) -> String {
    format!("Drawing: height {} in week {}, spread {} in week {}", height.0, height.1, spread.0, spread.1)
}

/// How often it is usually potted on.
pub const fn moves(word: Potting) -> &'static str {
    match word {
        Potting::PotOn => "Times potted on",
        Potting::PotUp => "Times potted up",
        Potting::MoveOn => "Times moved on",
    }
}
