//! Ways out of being short of room: what to do, what it costs, what comes of it.

use chrono::NaiveDate;

use crate::outlook::Verdict;
use crate::outlook::ways_out::{Change, Combined, Effect, Price, ShortOf, WayOut};
use crate::season::{
    ContainerKey, ContainerKind, Matter, Matters, PlaceChange, PlaceId, Pot, RimShape, ShelfId, SowingChange, SowingId,
    StepId, Unwanted,
};
use crate::units::{DateSpan, Measure, Size};

use super::amounts::{capital, measure};
use super::frost::frost_after;
use super::{Words, counted, day, listed, plural};

pub const PAGE: &str = "Make room";
pub const OPEN: &str = "Make room…";
pub const WHAT_IT_DOES: &str = "What can be changed so that everything fits, and what each change costs";
pub const NOT_YET: &str = "As soon as it is known what the shelves hold";
pub const NOTHING_TO_DO: &str = "Nothing has to be changed";
pub const STOPPED: &str = "Stopped before all was tried";
pub const LOOK_AGAIN: &str = "Look for ways out";
pub const SHOW_FIRST: &str = "Show it first";
pub const DO_IT: &str = "Do it";
pub const BACK: &str = "Back";
pub const NOT_WANTED: &str = "Not this";
pub const NOT_OFFERED: &str = "Not offered any more";
pub const OFFER_AGAIN: &str = "Offer it again";
pub const ALL_OF_IT: &str = "all of it";
pub const ONLY_SHOWN: &str = "This is only shown: do it, or go back, before anything else is changed";
pub const WHAT_MATTERS: &str = "What matters to you…";
pub const WHAT_MATTERS_DOES: &str = "What matters more is changed less; the ways are looked for again";
pub const HELD: &str = "Plants wait in their cells";
pub const SOWN: &str = "Sown on another day";
pub const OUT: &str = "Out on another day";
pub const SMALLER: &str = "Smaller or closer pots";
pub const OUTSIDE: &str = "Outside sooner";
pub const FEWER: &str = "Fewer plants";
pub const DARK: &str = "Plants beyond the lamps";
pub const BUYING: &str = "Shelves and lamps to buy";
/// More changes of a way out are not listed where there is little room, but counted by kind.
pub const MOST_LISTED: usize = 3;
pub const MATTERS: [(Matter, &str); 3] =
    [(Matter::Little, "matters little"), (Matter::Fairly, "matters"), (Matter::Much, "matters a lot")];

/// `Trying ways out 40 %`.
pub fn looking(part: f32) -> String {
    format!("Trying ways out {:.0} %", part * 100.0)
}

pub fn as_item(change: &str) -> String {
    format!("• {change}")
}

/// `way 2 of 1`: which of them a button is for.
pub fn way_of(crunch: usize, number: usize) -> String {
    format!("way {number} out of {crunch}")
}

pub fn named(button: &str, way: &str) -> String {
    format!("{button}: {way}")
}

pub fn more_ways(number: usize) -> String {
    format!("{number} more {}", if number == 1 { "way" } else { "ways" })
}

/// What each thing counts by what matters to the grower, in one sentence: what is cheaper comes first.
pub fn counted_in(matters: &Matters) -> String {
    let none = Price::default();
    let parts = [
        ("one plant that waits one day in its cells", Price { held: 1, ..none }),
        ("is sown one day off", Price { sown: 1, ..none }),
        ("goes out one day off", Price { out: 1, ..none }),
        ("hardens off one day longer", Price { outside: 1, ..none }),
        ("stands one day beyond the lamps", Price { dark: 1, ..none }),
        ("a smaller pot", Price { smaller: 1, ..none }),
        ("one that is soon too small", Price { smaller: 1, soon: 1, ..none }),
        ("a plant whose leaves meet", Price { touching: 1, ..none }),
        ("a plant fewer", Price { fewer: 1, ..none }),
        ("a lamp", Price { lamps: 1, ..none }),
        ("a shelf", Price { shelves: 1, ..none }),
        ("a shelf with trays over its edge", Price { edges: 1, ..none }),
        ("a sowing that shares or moves its trays", Price { moved_together: 1, ..none }),
        ("a place open one day more", Price { open_days: 1, ..none }),
    ];
    let each = parts.map(|(what, price)| format!("{what} {}", price.points(matters)));
    format!("In points, the fewest first: {}", listed(&each))
}

/// What is said where none was found.
pub const NONE_FOUND: &str = "Nothing that was tried makes room";

/// Of what has been said already nothing is left to say.
pub const NO_OTHERS: &str = "No others than those above";

impl Words<'_> {
    /// `Pot the basil on 6 days later, on 24 Apr (2 May at the latest)`.
    pub fn to_change(&self, change: &Change) -> String {
        match change {
            Change::Held { sowing, step, from, to, latest } => {
                let ((verb, on), name) = (self.potted(*step), self.of_one(*sowing));
                let latest = latest.map_or_else(String::new, |latest| format!(" ({} at the latest)", day(latest)));
                format!("{verb} {name} {on} {} later, on {}{latest}", days(*from, *to), day(*to))
            }
            Change::Sown { sowing, from, to } if to < from => {
                format!("Sow {} {} earlier, on {}", self.of_one(*sowing), days(*to, *from), day(*to))
            }
            Change::Sown { sowing, from, to } => {
                format!("Sow {} {} later, on {}", self.of_one(*sowing), days(*from, *to), day(*to))
            }
            Change::Out { sowing, from, to } => {
                let (by, way) = if to < from { (days(*to, *from), "earlier") } else { (days(*from, *to), "later") };
                format!("{} {} {by} {way}, on {}", self.let_out(*sowing), self.of_one(*sowing), day(*to))
            }
            Change::Into { sowing, step, from, to, carried_in, soon } => {
                self.into(*sowing, *step, (from, to), carried_in.as_ref(), *soon)
            }
            Change::SomeInto { sowing, step, from, to, plants, of, soon, .. } => {
                let (name, (verb, on)) = (self.of_one(*sowing), self.potted(*step));
                let [from, to] = [from, to].map(|key| self.container(key));
                let soon = if *soon { ", from which they move again soon" } else { "" };
                format!(
                    "{verb} {plants} of {name} {on} into {to}{soon}, as a sowing of their own; the other {} into {from}",
                    of.saturating_sub(*plants)
                )
            }
            Change::Tight { sowing, .. } => format!("Leave {} pot to pot, and don't space them", self.of_one(*sowing)),
            Change::Fewer { sowing, from, to } => {
                format!("Grow {to} of {} instead of {from}", self.of_one(*sowing))
            }
            Change::Shelves { place, size, number, lit, mat } => self.more_shelves(*place, size, *number, (*lit, *mat)),
            Change::Lamp { shelf, .. } => format!("Hang a lamp over {}", self.shelf(*shelf)),
            Change::StickOut { shelves, by, .. } => self.stick_out(shelves, by),
            Change::Open { place, was, then } => self.open(*place, *was, *then),
            Change::Hardened { sowing, from, to, nights } => self.hardened(*sowing, *from, *to, *nights),
            Change::Shared { sowing } => format!("Let {} share trays with others", self.of_one(*sowing)),
            Change::GappedUp { sowing, on, from, to } => format!(
                "Move the plugs of {} together on {}: {to} {} instead of {from}",
                self.of_one(*sowing),
                day(*on),
                plural(*to, "tray", "trays")
            ),
            Change::HeldHalf { .. } | Change::SownHalf { .. } | Change::OutInLots { .. } => self.in_lots(change),
        }
    }

    /// Part of it on the day that was planned, the rest later; nothing of other changes.
    fn in_lots(&self, change: &Change) -> String {
        match change {
            Change::HeldHalf { sowing, step, from, to } => {
                let ((verb, on), name) = (self.potted(*step), self.of_one(*sowing));
                format!(
                    "{verb} half of {name} {on} as planned ({}), the other half {} later ({})",
                    day(*from),
                    days(*from, *to),
                    day(*to)
                )
            }
            Change::SownHalf { sowing, from, to } => format!(
                "Sow half of {} on {}, the other half {} later, on {}",
                self.of_one(*sowing),
                day(*from),
                days(*from, *to),
                day(*to)
            ),
            Change::OutInLots { sowing, from, lots, apart } => format!(
                "{} {} in {lots} lots {} apart, the first on {}",
                self.let_out(*sowing),
                self.of_one(*sowing),
                counted(*apart, "day", "days"),
                day(*from)
            ),
            _ => String::new(),
        }
    }

    fn more_shelves(&self, place: PlaceId, size: &Size, number: u32, (lit, mat): (bool, bool)) -> String {
        let name = self.season.place(place).map_or("", |place| place.name.as_str());
        let with = match (lit, mat, number) {
            (false, false, _) => "",
            (true, false, 1) => ", with a lamp",
            (true, false, _) => ", with lamps",
            (true, true, _) => ", with a lamp and a heat mat",
            (false, true, _) => ", with a heat mat",
        };
        let more = if number == 1 { "another shelf".to_owned() } else { format!("{number} more shelves") };
        format!("Put up {more} in {name}, {}{with}", self.size(size))
    }

    /// All of it in one sentence.
    pub fn changes_of(&self, way: &WayOut) -> String {
        way.changes.iter().map(|change| self.to_change(change)).collect::<Vec<_>>().join("; ")
    }

    /// `Lettuce: …: all fits, with room for 4 more on 20 Apr; costs 12 plants fewer`.
    pub fn way(&self, way: &WayOut) -> String {
        format!("{}: {}; {}", self.changes_of(way), self.effect(&way.effect), self.price(&way.price))
    }

    /// `Fits; costs 12 plants fewer`, as a sentence of its own.
    pub fn comes_of(&self, way: &WayOut) -> String {
        capital(&format!("{}; {}", self.effect(&way.effect), self.price(&way.price)))
    }

    /// The same with the one figure by which ways are in order.
    pub fn comes_of_in_points(&self, way: &WayOut) -> String {
        let points = way.price.points(&self.season.settings().matters);
        format!("{} ({})", self.comes_of(way), counted(points, "point", "points"))
    }

    /// Each of a few, of many how many there are of each kind.
    pub fn changes_in_short(&self, way: &WayOut) -> String {
        if way.changes.len() > MOST_LISTED { self.kinds_of_changes(way) } else { self.changes_of(way) }
    }

    /// Of many changes how many there are of each kind: `10 changes: 6 × waiting in the cells and 4 × outside sooner`.
    pub fn kinds_of_changes(&self, way: &WayOut) -> String {
        let mut kinds: Vec<(&str, usize)> = Vec::new();
        for what in way.changes.iter().map(|change| what_is_done(change.refused())) {
            match kinds.iter_mut().find(|(kind, _)| *kind == what) {
                Some((_, number)) => *number += 1,
                None => kinds.push((what, 1)),
            }
        }
        let each: Vec<String> = kinds.iter().map(|(what, number)| format!("{number} × {what}")).collect();
        format!("{}: {}", counted(way.changes.len(), "change", "changes"), listed(&each))
    }

    /// While it is shown before it is made.
    pub fn shown_first(&self, way: &WayOut) -> String {
        format!("As it would be: {}", self.changes_in_short(way))
    }

    /// What opens the list of changes that are made together.
    pub fn combined(&self, found: &Combined) -> String {
        let fits = found.way.as_ref().is_some_and(|way| way.effect.verdict == Verdict::Fits);
        match (&found.way, fits) {
            (Some(_), true) if found.cheapest => {
                "Everything fits with these changes, the cheapest of all that were looked at:".to_owned()
            }
            (Some(_), true) => "Everything fits with these changes, the cheapest that were found:".to_owned(),
            (Some(_), false) if found.none_fits => {
                "No choice of these changes makes everything fit; the closest:".to_owned()
            }
            (Some(_), false) => "Nothing was found that makes everything fit; the closest:".to_owned(),
            (None, _) => NONE_FOUND.to_owned(),
        }
    }

    /// `all fits, with room for 4 more`, `3 short on 2 days are left of 6`.
    pub fn effect(&self, effect: &Effect) -> String {
        let Effect { verdict, of_crunch, crunch_before, after, spare, .. } = effect;
        let beyond = beyond_lamps(effect);
        let fits = match (verdict, spare) {
            (Verdict::Fits, Some((date, 0))) => format!("all fits, with nothing spare on {}", day(*date)),
            (Verdict::Fits, Some((date, more))) => format!("all fits, with room for {more} more on {}", day(*date)),
            (Verdict::Fits, None) => "all fits".to_owned(),
            _ if effect.removes() => format!("these days fit; {}", left(*after)),
            _ => format!("{} are left of {}", short_days(*of_crunch), short_days(*crunch_before)),
        };
        fits + &beyond
    }

    /// What it costs, in what a grower counts: `12 plants fewer and 24 pots that are soon too small`.
    pub fn price(&self, price: &Price) -> String {
        let waits =
            |plant_days: u64, what: &str| (plant_days > 0).then(|| format!("{} of {what}", plant_weeks(plant_days)));
        let some = |number: u32, one, many| (number > 0).then(|| counted(number, one, many));
        let smaller = price.smaller.saturating_sub(price.soon);
        let parts: Vec<String> = [
            waits(price.held, "waiting in the cells"),
            waits(price.sown, "sowing off its day"),
            waits(price.out, "going out off its day"),
            waits(price.outside, "hardening off for longer"),
            waits(price.dark, "poor light beyond the lamps"),
            some(smaller, "smaller pot", "smaller pots"),
            some(price.larger, "larger pot", "larger pots"),
            some(price.other, "other pot", "other pots"),
            some(price.soon, "pot that is soon too small", "pots that are soon too small"),
            some(price.touching, "plant whose leaves meet", "plants whose leaves meet"),
            some(price.fewer, "plant fewer", "plants fewer"),
            some(price.shelves, "shelf", "shelves"),
            some(price.lamps, "lamp", "lamps"),
            some(
                price.moved_together,
                "sowing whose trays are shared or moved together",
                "sowings whose trays are shared or moved together",
            ),
            some(price.open_days, "more day that a place is open", "more days that a place is open"),
            some(price.edges, "shelf with trays over its edge", "shelves with trays over their edges"),
        ]
        .into_iter()
        .flatten()
        .collect();
        if parts.is_empty() { "costs nothing".to_owned() } else { format!("costs {}", listed(&parts)) }
    }

    /// `the basil`, with its day where there are several.
    fn of_one(&self, sowing: SowingId) -> String {
        let name = self.which(sowing);
        let mut letters = name.chars();
        let first = letters.next().map(|first| first.to_lowercase().to_string()).unwrap_or_default();
        format!("the {first}{}", letters.as_str())
    }

    /// `Pot … on`, `Pot … up`, `Move … on`, by the season's word.
    fn potted(&self, step: StepId) -> (&'static str, &'static str) {
        match self.verb_into(step).to_do.split_once(' ') {
            Some(("pot", up_or_on)) => ("Pot", up_or_on),
            _ => ("Move", "on"),
        }
    }

    fn let_out(&self, sowing: SowingId) -> &'static str {
        if self.season.sowing(sowing).is_some_and(crate::season::Sowing::is_to_sell) { "Sell" } else { "Plant out" }
    }

    fn pot(&self, key: &ContainerKey) -> Option<&Pot> {
        match &self.season.container(self.library, key)?.kind {
            ContainerKind::Pot(pot) => Some(pot),
            _ => None,
        }
    }

    fn into(
        &self,
        sowing: SowingId,
        step: StepId,
        (from, to): (&ContainerKey, &ContainerKey),
        carried_in: Option<&ContainerKey>,
        soon: bool,
    ) -> String {
        let (name, (verb, on)) = (self.of_one(sowing), self.potted(step));
        if from == to {
            let tray = carried_in.map_or_else(|| "a tray".to_owned(), |tray| self.container(tray));
            return format!("Stand the pots of {name} in {tray}");
        }
        let is_round = |key| self.pot(key).is_some_and(|pot| pot.rim == RimShape::Round);
        let why = match (is_round(from), is_round(to)) {
            (true, false) => ": square ones leave no gaps",
            _ => "",
        };
        let soon = if soon { ", from which they move again soon" } else { "" };
        format!("{verb} {name} {on} into {} instead of {}{why}{soon}", self.container(to), self.container(from))
    }

    /// `Stand the kale outside 9 days sooner, from 20 Mar, at night from 23 Mar, when 5 years in 10 have a later frost`.
    fn hardened(&self, sowing: SowingId, from: NaiveDate, to: NaiveDate, nights: NaiveDate) -> String {
        let frost = self.season.settings().frost.as_ref().and_then(|frost| frost_after(frost, nights));
        let frost = frost.map_or_else(String::new, |frost| format!(": {frost}"));
        format!(
            "Stand {} outside {} sooner, by day from {}, at night from {}{frost}",
            self.of_one(sowing),
            days(to, from),
            day(to),
            day(nights)
        )
    }

    /// `Open the cold frame 8 days sooner, on 2 Apr`.
    fn open(&self, place: PlaceId, was: DateSpan, then: DateSpan) -> String {
        let name = self.season.place(place).map_or("", |place| place.name.as_str());
        let sooner = (then.from() < was.from())
            .then(|| format!("{} sooner, from {}", days(then.from(), was.from()), day(then.from())));
        let longer = (then.until() > was.until())
            .then(|| format!("{} longer, to {}", days(was.until(), then.until()), day(then.last())));
        let all: Vec<String> = sooner.into_iter().chain(longer).collect();
        format!("Have {name} open {}", listed(&all))
    }

    /// What is not offered any more: `The basil: potted on later`.
    pub fn unwanted(&self, unwanted: Unwanted) -> Option<String> {
        let name = match unwanted {
            Unwanted::OfSowing(sowing, _) => {
                self.season.sowing(sowing)?;
                self.which(sowing)
            }
            Unwanted::OfPlace(place, _) => self.season.place(place)?.name.clone(),
        };
        Some(format!("{name}: {}", what_is_done(unwanted)))
    }

    fn size(&self, size: &Size) -> String {
        format!("{} × {}", measure(&size.width, self.unit), measure(&size.depth, self.unit))
    }

    fn stick_out(&self, shelves: &[ShelfId], by: &Measure) -> String {
        let which: Vec<String> = shelves.iter().map(|shelf| self.shelf(*shelf)).collect();
        let which = match which.as_slice() {
            few @ ([] | [_] | [_, _] | [_, _, _]) => listed(few),
            many => counted(many.len(), "shelf", "shelves"),
        };
        format!("Let trays stick out by {} over the front of {which}", measure(by, self.unit))
    }
}

const fn what_is_done(change: Unwanted) -> &'static str {
    match change {
        Unwanted::OfSowing(_, of) => match of {
            SowingChange::Held => "waiting in its cells",
            SowingChange::Sown => "sown on another day",
            SowingChange::Out => "out on another day",
            SowingChange::Hardened => "outside sooner",
            SowingChange::Container => "other pots or cells",
            SowingChange::Tight => "not spaced out",
            SowingChange::Fewer => "fewer plants",
            SowingChange::Shared => "shared trays",
            SowingChange::GappedUp => "plugs moved together",
        },
        Unwanted::OfPlace(_, of) => match of {
            PlaceChange::Shelves => "more shelves",
            PlaceChange::Lamps => "more lamps",
            PlaceChange::Edges => "trays over the edge",
            PlaceChange::Open => "open on more days",
        },
    }
}

/// Where more stand in poor light than did.
fn beyond_lamps(effect: &Effect) -> String {
    let (now, before) = (effect.beyond_lamps, effect.beyond_before);
    if now.days <= before.days && now.most <= before.most {
        return String::new();
    }
    let was = if before.days == 0 {
        String::new()
    } else {
        format!(" (as planned {} on {})", before.most, counted(before.days, "day", "days"))
    };
    format!(
        "; up to {} beyond the lamps on {}{was}",
        counted(now.most, "stands", "stand"),
        counted(now.days, "day", "days")
    )
}

fn days(from: NaiveDate, to: NaiveDate) -> String {
    counted((to - from).num_days(), "day", "days")
}

/// `72 plant-weeks`; days where they are few.
fn plant_weeks(plant_days: u64) -> String {
    if plant_days < 70 {
        counted(plant_days, "plant-day", "plant-days")
    } else {
        counted(plant_days.div_ceil(7), "plant-week", "plant-weeks")
    }
}

/// `up to 6 short, 40 tray-days`.
fn short_days(of: ShortOf) -> String {
    if of.tray_days == 0 && of.open_days > 0 {
        return "days that are not proven".to_owned();
    }
    format!("up to {} short ({})", of.trays, counted(of.tray_days, "tray-day", "tray-days"))
}

fn left(after: ShortOf) -> String {
    if after.crunches == 0 {
        return "some days are not proven yet".to_owned();
    }
    format!("{} more {} still short", after.crunches, plural(after.crunches, "run of days is", "runs of days are"))
}
