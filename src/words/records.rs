//! What the grower wrote down, and how far it is from what was planned.

use crate::season::{Loss, Observed};

use super::{Words, counted, grown_name, plural};

impl Words<'_> {
    /// `up, 60 of them`, `lost 4: damping off`.
    pub fn record(&self, what: Observed) -> String {
        match what {
            Observed::Sown { cells: None } => "sown".to_owned(),
            Observed::Sown { cells: Some(cells) } => {
                format!("sown, {}", counted(cells, "cell", "cells"))
            }
            Observed::Up { plants: None } => "up".to_owned(),
            Observed::Up { plants: Some(plants) } => format!("up, {plants} of them"),
            Observed::TrueLeaves(leaves) => {
                format!("{leaves} true {}", plural(leaves, "leaf", "leaves"))
            }
            Observed::MovedOn(step) => format!("moved on into {}", self.step_anywhere(step)),
            Observed::Lost { plants, why } => format!("lost {plants}: {}", loss_name(why)),
            Observed::PutOut(plants) => format!("{plants} put out"),
            Observed::Sold(plants) => format!("{plants} sold"),
            Observed::GappedUp => "plugs moved together".to_owned(),
            Observed::Grown(grown) => format!("{} for their age", grown_name(grown)),
        }
    }
}

/// `damping off`.
pub const fn loss_name(why: Loss) -> &'static str {
    match why {
        Loss::NotKnown => "not known why",
        Loss::DampingOff => "damping off",
        Loss::TooDry => "too dry",
        Loss::TooWet => "too wet",
        Loss::Cold => "cold",
        Loss::Heat => "heat",
        Loss::Pests => "pests",
        Loss::Handling => "broken in handling",
        Loss::Surplus => "thinned or given away",
    }
}

/// `3 days later`, `as planned`.
pub fn days_apart(days: i64) -> String {
    let far = days.unsigned_abs();
    match days {
        0 => "as planned".to_owned(),
        1.. => format!("{} later", counted(far, "day", "days")),
        _ => format!("{} earlier", counted(far, "day", "days")),
    }
}

/// `12 fewer`, `as planned`.
pub fn number_apart(planned: u32, actual: u32) -> String {
    match actual.cmp(&planned) {
        std::cmp::Ordering::Less => format!("{} fewer", planned - actual),
        std::cmp::Ordering::Equal => "as planned".to_owned(),
        std::cmp::Ordering::Greater => format!("{} more", actual - planned),
    }
}
