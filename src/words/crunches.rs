//! Where the shelves run out, and why.

use std::collections::BTreeSet;

use crate::forecast::{Shape, Stay};
use crate::outlook::{Crunch, Outlook, Pool, Reason, Verdict};
use crate::season::{PlaceId, Shelf, ShelfId, ZoneKind};
use crate::units::{DateSpan, Length};

use super::names::pool_kind;
use super::{Words, day, plural, span};

impl Words<'_> {
    /// One sentence: when, where, how many are wanted, how many have room, how many are short.
    pub fn crunch(&self, crunch: &Crunch) -> String {
        format!(
            "{}, {}: {} wanted, room for {}, {}",
            span(crunch.span),
            self.pools(&crunch.pools),
            crunch.needed,
            held_of(crunch.needed, crunch.held, crunch.short, crunch.short_at_most),
            short(crunch)
        )
    }

    /// One or two sentences that prove it in numbers.
    pub fn reason(&self, crunch: &Crunch) -> String {
        format!("{}{}", self.why(crunch), own_days(crunch))
    }

    fn why(&self, crunch: &Crunch) -> String {
        match &crunch.reason {
            Reason::Count { width, depth, shelves } => self.by_count(crunch, (*width, *depth), shelves),
            Reason::Pots { across, apart, shelves } => self.by_pots(crunch, *across, *apart, shelves),
            Reason::Ground { shelves } => format!(
                "{}; together they cover more than {}, which have ground for {} at most",
                self.want_a_spot(crunch),
                self.shelves(shelves),
                crunch.proven.held
            ),
            Reason::Together { shelves } => format!(
                "{}; whichever of them share a shelf, {}, however they are turned{}",
                self.want_a_spot(crunch),
                self.hold(shelves, crunch),
                self.allowance(shelves),
            ),
            Reason::Weight { shelves } => {
                let (which, held) = (self.shelves(shelves), crunch.proven.held);
                let bears = match held {
                    0 => "may not bear the weight of one".to_owned(),
                    held => format!("may bear the weight of {held} at most"),
                };
                format!("{}; {which} {bears}", self.want_a_spot(crunch))
            }
            Reason::Allowance { shelves } => {
                format!("{}; with the packing allowance kept, {}", self.want_a_spot(crunch), self.hold(shelves, crunch))
            }
            Reason::Height { missing } => self.by_height(crunch, *missing),
            Reason::NoShelf => self.by_no_shelf(crunch),
            Reason::Warmth { place } => self.by_warmth(crunch, *place),
            Reason::Dark => self.by_dark(crunch),
            Reason::Pins => format!(
                "Pinned on {}: {} {}, in each other's way or where nothing may stand then; {} can stay",
                day(crunch.worst_day),
                crunch.proven.needed,
                self.things(crunch),
                crunch.proven.held
            ),
        }
    }

    fn by_count(&self, crunch: &Crunch, (width, depth): (Length, Length), shelves: &[ShelfId]) -> String {
        format!(
            "{}, each at least {} × {}{}; {}, however they are turned{}",
            self.want_a_spot(crunch),
            self.length(width),
            self.length(depth),
            self.gap(),
            self.hold(shelves, crunch),
            self.allowance(shelves),
        )
    }

    fn by_pots(&self, crunch: &Crunch, across: Length, apart: Length, shelves: &[ShelfId]) -> String {
        let from_middle = format!(" and {} from middle to middle", self.length(apart));
        let gap = if apart > across { from_middle.as_str() } else { "" };
        format!(
            "{} loose pots, {} across{gap}, want a spot on {}; {}{}",
            of_all(crunch),
            self.length(across),
            day(crunch.worst_day),
            self.hold(shelves, crunch),
            self.allowance(shelves),
        )
    }

    fn by_height(&self, crunch: &Crunch, missing: Length) -> String {
        format!(
            "{} {} on {} {} taller than every shelf that suits {}: {} missing",
            crunch.proven.needed,
            self.things(crunch),
            day(crunch.worst_day),
            plural(crunch.proven.needed, "is", "are"),
            plural(crunch.proven.needed, "it", "them"),
            self.length(missing)
        )
    }

    fn by_no_shelf(&self, crunch: &Crunch) -> String {
        format!(
            "{} {} on {} {} no shelf that suits {}: none is large enough, or none such is open",
            crunch.proven.needed,
            self.things(crunch),
            day(crunch.worst_day),
            plural(crunch.proven.needed, "has", "have"),
            plural(crunch.proven.needed, "it", "them"),
        )
    }

    fn by_warmth(&self, crunch: &Crunch, place: PlaceId) -> String {
        let name = self.season.place(place).map_or("", |place| place.name.as_str());
        format!(
            "{} {} on {} {} no place of the right warmth: {name} comes nearest to what {}, and harms {}",
            crunch.proven.needed,
            self.things(crunch),
            day(crunch.worst_day),
            plural(crunch.proven.needed, "has", "have"),
            plural(crunch.proven.needed, "it bears", "they bear"),
            plural(crunch.proven.needed, "it", "them"),
        )
    }

    fn by_dark(&self, crunch: &Crunch) -> String {
        format!(
            "{} {} on {} {} no place with light",
            crunch.proven.needed,
            self.things(crunch),
            day(crunch.worst_day),
            plural(crunch.proven.needed, "has", "have"),
        )
    }

    /// `14 trays want a spot on 19 Apr`, `31 of 32 trays want …` where the others prove nothing.
    fn want_a_spot(&self, crunch: &Crunch) -> String {
        format!("{} {} want a spot on {}", of_all(crunch), self.things(crunch), day(crunch.worst_day))
    }

    /// `all 6 shelves hold 12 of them at most`, `no shelf holds one of them`.
    fn hold(&self, shelves: &[ShelfId], crunch: &Crunch) -> String {
        let which = self.shelves(shelves);
        match (shelves.len(), crunch.proven.held) {
            (0, _) => format!("{which} holds one of them"),
            (1, 0) => format!("{which} holds none of them"),
            (_, 0) => format!("{which} hold none of them"),
            (1, held) => format!("{which} holds {held} of them at most"),
            (_, held) => format!("{which} hold {held} of them at most"),
        }
    }

    fn things(&self, crunch: &Crunch) -> &'static str {
        let proof: BTreeSet<_> = crunch.proof.iter().collect();
        let proves = |stay: &&Stay| stay.trays.iter().any(|tray| proof.contains(tray));
        let shapes = self.forecast.on(crunch.worst_day).filter(proves).map(|stay| &stay.shape);
        let (mut trays, mut pots) = (false, false);
        for shape in shapes {
            match shape {
                Shape::Tray { .. } => trays = true,
                Shape::Pots { .. } => pots = true,
            }
        }
        match (trays, pots) {
            (_, false) => plural(crunch.proven.needed, "tray", "trays"),
            (false, true) => "loose pots",
            (true, true) => "trays and loose pots",
        }
    }

    fn shelves(&self, shelves: &[ShelfId]) -> String {
        match shelves {
            [] => "no shelf".to_owned(),
            [one] => self.shelf(*one),
            many if many.len() == self.season.shelves().count() => format!("all {} shelves", many.len()),
            many if self.leaves_out_unlit(many) => format!("the {} shelves with a lamp", many.len()),
            many => format!("the {} shelves that can take them", many.len()),
        }
    }

    /// All of them are lit, and some of the same places are not.
    fn leaves_out_unlit(&self, shelves: &[ShelfId]) -> bool {
        let found: Vec<&Shelf> = shelves.iter().filter_map(|id| self.season.shelf(*id)).collect();
        let place = |shelf: &Shelf| self.season.place_of(shelf).map(|place| place.id);
        let places: Vec<_> = found.iter().map(|shelf| place(shelf)).collect();
        let unlit = |shelf: &Shelf| !shelf.has(ZoneKind::Lamp) && places.contains(&place(shelf));
        found.iter().all(|shelf| shelf.has(ZoneKind::Lamp)) && self.season.shelves().any(unlit)
    }

    fn gap(&self) -> String {
        let gap = self.season.settings().gap.value();
        if gap > Length::ZERO { format!(", {} apart", self.length(gap)) } else { String::new() }
    }

    fn allowance(&self, shelves: &[ShelfId]) -> &'static str {
        let kept = shelves.iter().filter_map(|id| self.season.shelf(*id)).any(|shelf| shelf.allowance_percent > 0);
        if kept { ", with the packing allowance kept" } else { "" }
    }
}

/// `; short of bottom heat 26 Apr – 2 May` where a place isn't so on all the crunch's days.
fn own_days(crunch: &Crunch) -> String {
    let of_pool = |pool: &Pool| {
        let own = crunch.days.iter().filter(|days| days.pool == *pool).map(|days| days.span);
        let own: Vec<DateSpan> = own.collect();
        if own == [crunch.span] {
            return None;
        }
        let own = own.into_iter().map(span).collect::<Vec<_>>();
        Some(format!("; short of {} {}", pool_kind(pool.kind), own.join(", ")))
    };
    crunch.concerned().into_iter().filter_map(of_pool).collect()
}

/// `14`, `31 of 32`.
fn of_all(crunch: &Crunch) -> String {
    if crunch.proven.needed == crunch.needed {
        crunch.needed.to_string()
    } else {
        format!("{} of {}", crunch.proven.needed, crunch.needed)
    }
}

/// `6 short`, or the range while it is not settled.
pub fn short(crunch: &Crunch) -> String {
    short_of(crunch.short, crunch.short_at_most)
}

/// `6 short`, `1 to 3 short`.
pub fn short_of(short: u32, at_most: u32) -> String {
    format!("{} short", short_range(short, at_most))
}

/// `6`, `1 to 3`.
pub fn short_range(short: u32, at_most: u32) -> String {
    if short == at_most { short.to_string() } else { format!("{short} to {at_most}") }
}

/// `28`, or `25 to 28` where it isn't settled by how many it falls short.
pub fn held_of(needed: u32, held: u32, short: u32, at_most: u32) -> String {
    if short == at_most { held.to_string() } else { format!("{} to {held}", needed.saturating_sub(at_most)) }
}

/// The season in one sentence.
pub fn verdict_of(outlook: &Outlook) -> String {
    match outlook.verdict {
        Verdict::Fits if outlook.moves == 0 => "Everything fits, and no tray has to move twice".to_owned(),
        Verdict::Fits => format!(
            "Everything fits, with {} {} along the way",
            outlook.moves,
            plural(outlook.moves, "extra move", "extra moves")
        ),
        Verdict::Crunch => match outlook.crunches.len() {
            1 => "The shelves run out of room once".to_owned(),
            n => format!("The shelves run out of room {n} times"),
        },
        Verdict::Unsettled => "Not proven yet: neither a layout nor a proof was found for some days".to_owned(),
    }
}

/// `fits`, `unsettled`, `crunch`.
pub fn verdict(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Fits => "fits",
        Verdict::Unsettled => "unsettled",
        Verdict::Crunch => "crunch",
    }
}

/// The week with the least room among those with anything in them; `None` if none is.
pub fn fullest(outlook: &Outlook) -> Option<&crate::outlook::Week> {
    outlook.weeks.iter().filter(|week| week.needed > 0).min_by_key(|week| week.spare)
}
