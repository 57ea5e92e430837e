//! Where trays may stand, what is in their way, and what comes of moving them.

use chrono::NaiveDate;

use crate::forecast::Stay;
use crate::outlook::{Becomes, Counts, Landing, NotArranged, Overload, Placed, WhyNone};
use crate::season::{SowingId, TrayKey};
use crate::units::Length;

use super::cells::text_cell;
use super::refusal::refusal;
use super::{Words, day, full_day, plural};

/// What stands on a shelf with no other figure.
pub const NO_SPOT_YET: &str = "no spot yet";

impl Words<'_> {
    /// `To 7`; a stack says how many.
    pub fn mark(&self, stay: &Stay) -> String {
        let mark = stay.tray().map_or_else(String::new, |tray| self.tray(tray));
        if stay.trays.len() > 1 { format!("{mark} × {}", stay.trays.len()) } else { mark }
    }

    /// `tomato ‘Early Red’`, `tomato, 12 sowings`, or what a guest is called.
    pub fn crop_of(&self, stay: &Stay) -> String {
        self.crop_of_these(stay, &self.forecast.sowings_in(stay))
    }

    /// The same of what stands in it on that day.
    pub fn crop_on(&self, stay: &Stay, day: NaiveDate) -> String {
        self.crop_of_these(stay, &self.forecast.sowings_on(stay, day))
    }

    fn crop_of_these(&self, stay: &Stay, sowings: &[SowingId]) -> String {
        match (sowings, stay.tray()) {
            ([], Some(TrayKey::Guest { guest, .. })) => {
                self.season.guest(guest).map_or_else(String::new, |one| one.name.clone())
            }
            ([], _) => "shared tray".to_owned(),
            (all, _) => self.together(all),
        }
    }

    /// `free until Fri 12 Mar, sticks out by ½ in, a move on 1 Mar`.
    pub fn landing(&self, landing: &Landing) -> String {
        let free = match landing.until {
            None => "free for its whole stay".to_owned(),
            Some(until) => format!("free until {}", day(until)),
        };
        let mut said = vec![free];
        if landing.not_before {
            said.push("not before".to_owned());
        }
        if landing.sticks_out > Length::ZERO {
            said.push(format!("sticks out by {}", self.length(landing.sticks_out)));
        }
        if landing.beyond_lamp {
            said.push("beyond the lamp".to_owned());
        }
        if let Some(Overload { day: from, grams, rated }) = landing.overload {
            let [grams, rated] = [grams, rated].map(|grams| self.weight(grams));
            said.push(format!("{grams} on a shelf rated for {rated} from {}", day(from)));
        }
        match landing.counts {
            Counts::AllAlong => {}
            Counts::MovesOn(from) => said.push(format!("a move on {}", day(from))),
            Counts::Since(from) => said.push(format!("counts from {}", day(from))),
        }
        said.join(", ")
    }

    /// Why none of several trays was moved.
    pub fn why_none(&self, why: &WhyNone<'_>) -> String {
        match why {
            WhyNone::NoSpotYet(stay) => format!("{} has {NO_SPOT_YET}", self.mark(stay)),
            WhyNone::InTheWay { stay, of } => format!("{}: {}", self.mark(stay), self.obstacle(of)),
            WhyNone::NotTwo => "two trays must be chosen to swap them".to_owned(),
            WhyNone::NotSwapped(why) => format!("They don't fit in each other's spot: {}", self.why_none(why)),
            WhyNone::OffShelves => "one of them would be on no shelf".to_owned(),
            WhyNone::Refused(why) => refusal(why),
        }
    }

    /// Why a copied arrangement was not made again.
    pub fn not_arranged(&self, why: &NotArranged<'_>) -> String {
        match why {
            NotArranged::NothingCopied => {
                "No arrangement was copied: choose trays that stand on a shelf first".to_owned()
            }
            NotArranged::WhichShelf => {
                "Point at the shelf that is to get the arrangement, or step to it with Tab".to_owned()
            }
            NotArranged::NoneLeft => "No tray of these sizes is without a spot on this day".to_owned(),
            NotArranged::NoRoom { shelf, why } => {
                format!("The arrangement has no room on {}: {}", self.shelf(*shelf), self.why_none(why))
            }
        }
    }

    /// `To 7 becomes 4 trays on Fri 12 Mar: 3 have room, 1 without`.
    pub fn becomes(&self, becomes: &Becomes) -> String {
        let (number, looked_for) = (becomes.number, becomes.later.len());
        let said = format!(
            "{} becomes {number} {} on {}",
            self.tray(becomes.tray),
            plural(number, "tray", "trays"),
            day(becomes.day)
        );
        match becomes.without().count() {
            0 if number == 1 => format!("{said}: it has room"),
            0 if number == looked_for => format!("{said}: all have room"),
            0 => format!("{said}: the first {looked_for} have room"),
            without => {
                let with = looked_for - without;
                format!("{said}: {with} {} room, {without} without", plural(with, "has", "have"))
            }
        }
    }

    /// Trays as lines of columns set apart by tabs, for other programs; names are never formulas there.
    pub fn as_table(&self, trays: &[Placed<'_>]) -> String {
        let mut lines = vec!["tray\tcrop\tcontainer\tshelf\tfrom the left\tfrom the back\tuntil".to_owned()];
        lines.extend(trays.iter().map(|Placed { stay, spot, .. }| {
            let place = spot.map_or_else(
                || format!("{NO_SPOT_YET}\t\t"),
                |spot| {
                    format!("{}\t{}\t{}", text_cell(&self.shelf(spot.shelf)), self.length(spot.x), self.length(spot.y))
                },
            );
            let [mark, crop, container] =
                [self.mark(stay), self.crop_of(stay), self.what_briefly(stay)].map(|text| text_cell(&text));
            format!("{mark}\t{crop}\t{container}\t{place}\t{}", full_day(stay.span.last()))
        }));
        lines.join("\n")
    }
}
