//! How many plants the room carries, what limits it, and what one more of something would add.

use crate::outlook::Crunch;
use crate::outlook::carries::{Carries, Fits, More, Most, NotAsked, Of, OneMore, TooMany};
use crate::season::{CropKey, Sowing};
use crate::trade::QuickLineError;

use super::{Words, counted, day, listed};

pub const PAGE: &str = "How much it carries";
pub const OPEN: &str = "How much it carries…";
pub const WHAT_IT_DOES: &str = "The most plants that every day can hold, and what one more shelf, lamp or week of hardening \
     adds";
pub const OF_WHAT: &str = "Of what";
pub const WHOLE_SEASON: &str = "The whole season";
pub const WHAT_ONE_MORE_BUYS: &str = "What one more would add";
pub const TAKE_IT: &str = "Plan as many as fit";
pub const STOPPED: &str = "Stopped before it was known";
pub const ASK: &str = "Find out";
pub const NOTHING_MORE: &str = "Nothing that was tried adds to it";

/// `Trying numbers 40 %`.
pub fn looking(part: f32) -> String {
    format!("Trying numbers {:.0} %", part * 100.0)
}

/// Why it can't be said; `crops` are those that the season grows.
pub fn not_asked(why: NotAsked, crops: &[String]) -> String {
    match why {
        NotAsked::UnknownCrop => format!("no such crop; {}", grown_here(crops)),
        NotAsked::NoDayOut => {
            "out when? Give the season its last frost, or write one sowing of it with its day".to_owned()
        }
        NotAsked::NothingToScale => "nothing in this season is still to be sown".to_owned(),
    }
}

/// Why no crop was found, and which there are where none is like it.
pub fn no_such_crop(why: &QuickLineError, crops: &[String]) -> String {
    match why {
        QuickLineError::Misspelt { .. } | QuickLineError::SeveralCrops { .. } => why.to_string(),
        why => format!("{why}; {}", grown_here(crops)),
    }
}

/// `this season grows Basil and Tomato`.
pub fn grown_here(crops: &[String]) -> String {
    if crops.is_empty() {
        "nothing is sown in this season".to_owned()
    } else {
        format!("this season grows {}", listed(crops))
    }
}

fn plants(number: u32) -> String {
    counted(number, "plant", "plants")
}

fn in_trays(fits: Fits) -> String {
    let trays = counted(fits.trays, "tray", "trays");
    if fits.trays == 0 { String::new() } else { format!(" in {trays}") }
}

impl Words<'_> {
    /// The answer, the most important sentence first. What one more would add is said by [`Words::one_more`].
    pub fn carries(&self, found: &Carries) -> Vec<String> {
        let mut all = vec![self.most(found)];
        all.extend(self.taken(found));
        all.extend(well_lit(found));
        all.extend(found.most.too_many.as_ref().map(|many| self.limit(found, many)));
        all
    }

    /// The proof of what limits it.
    pub fn why_no_more(&self, many: &TooMany) -> String {
        let words = Words { season: &many.season, forecast: &many.forecast, ..*self };
        words.reason(&many.crunch)
    }

    fn most(&self, found: &Carries) -> String {
        let Carries { most, planned, .. } = found;
        let name = match &found.of {
            Of::Crop(key) => self.crop_name(key),
            Of::Season => "All sowings".to_owned(),
        };
        let Some(fits) = most.fits.filter(|fits| fits.number > 0) else { return none(&name, most) };
        let at_least = if most.is_exact() { "" } else { "at least " };
        let how = match &found.of {
            Of::Crop(_) => in_trays(fits),
            Of::Season => format!(" ({} % of what is planned)", found.per_cent(fits.plants)),
        };
        let beside = match fits.plants.checked_sub(*planned) {
            _ if *planned == 0 => String::new(),
            Some(0) => ", as many as are planned".to_owned(),
            Some(more) => format!(", {more} more than are planned"),
            None => format!(", {} fewer than are planned", planned.saturating_sub(fits.plants)),
        };
        let most_that_may_be = if most.too_many.is_none() { ", as many as a season may have" } else { "" };
        format!("{name}: every day holds {at_least}{}{how}{beside}{most_that_may_be}", plants(fits.plants))
    }

    fn limit(&self, found: &Carries, many: &TooMany) -> String {
        let crunch = self.crunch(&many.crunch);
        let below = if found.most.is_exact() { "" } else { ", and what lies between is not proven either way" };
        match &found.of {
            _ if many.number == 0 => crunch,
            Of::Crop(_) => format!("{} are too many{below}: {crunch}", many.plants),
            Of::Season => {
                format!("{} ({} %) are too many{below}: {crunch}", plants(many.plants), found.per_cent(many.plants))
            }
        }
    }

    /// What was taken for granted.
    fn taken(&self, found: &Carries) -> Vec<String> {
        let standing = (found.standing > 0)
            .then(|| format!("{} of them are sown already: they are counted, and stay as they are", found.standing));
        standing.into_iter().chain(found.new.as_ref().map(|sowing| self.new_one(sowing))).collect()
    }

    /// `None is planned: taken as sown in 72-cell plug tray, then square pot, out 16 May`.
    fn new_one(&self, sowing: &Sowing) -> String {
        let chain: Vec<String> = sowing.steps.iter().map(|step| self.container(&step.container)).collect();
        let out = sowing.out().map_or_else(String::new, |out| format!(", out {}", day(out)));
        format!("Reckoned as one new sowing in {}{out}", chain.join(", then "))
    }

    /// `Put up another shelf …: 72 more (144 plants); the limit then is hardening off (Frame) on 2 May`.
    pub fn one_more(&self, found: &Carries, more: &More) -> String {
        let what = match &more.what {
            OneMore::Room(change) => self.to_change(change),
            OneMore::HardenedEarlier { days } => format!("Begin to harden off {days} days earlier"),
        };
        let gain = more.most.plants().saturating_sub(found.most.plants());
        let at_least = if more.most.is_exact() { "" } else { "at least " };
        let gained = match gain {
            0 => "none more".to_owned(),
            more_fit => format!("{at_least}{more_fit} more ({})", plants(more.most.plants())),
        };
        let lit = |most: &Most| most.well_lit.map_or(0, |lit| lit.plants);
        let lit_more = lit(&more.most).saturating_sub(lit(&found.most));
        let lit = match lit_more {
            0 => String::new(),
            _ => format!(", and the lamps serve {lit_more} more well"),
        };
        let then = more.most.too_many.as_ref().map_or_else(String::new, |many| {
            let before = found.most.too_many.as_ref().map(|many| &many.crunch);
            format!("; {}", self.limit_then(before, &many.crunch))
        });
        format!("{what}: {gained}{lit}{then}")
    }

    fn limit_then(&self, before: Option<&Crunch>, then: &Crunch) -> String {
        let place = format!("{} on {}", self.pools(&then.pools), day(then.worst_day));
        let same = before.is_some_and(|before| before.pools == then.pools);
        if same { format!("the limit is still {place}") } else { format!("the limit then is {place}") }
    }

    /// Crops that the season grows, by name.
    pub fn crops_grown(&self) -> Vec<String> {
        let mut keys: Vec<&CropKey> = self.season.sowings().map(|sowing| &sowing.crop).collect();
        keys.sort_unstable();
        keys.dedup();
        keys.into_iter().map(|key| self.crop_name(key)).collect()
    }
}

/// Beside what fits: how many of them stand well lit.
fn well_lit(found: &Carries) -> Option<String> {
    let (fits, lit) = (found.most.fits?, found.most.well_lit?);
    Some(match (lit.number, lit.number == fits.number) {
        (_, true) => "All of them stand well lit".to_owned(),
        (0, false) => "Some stand beyond the lamps, however few are grown".to_owned(),
        (_, false) => format!(
            "The lamps serve {} of them well{}; of more, some stand beyond their reach, which is a warning and no limit",
            lit.plants,
            in_trays(lit)
        ),
    })
}

fn none(name: &str, most: &Most) -> String {
    match (&most.fits, &most.too_many) {
        (_, Some(many)) if many.number == 0 => {
            format!("{name}: none, as the rest of the season is short of room without any")
        }
        (Some(_), Some(many)) if many.number == 1 => format!("{name}: none, as not one has room on all its days"),
        _ => format!("{name}: nothing is proven to fit"),
    }
}
