//! What is said of a season's problems.

use chrono::Datelike as _;

use crate::forecast::{About, Problem, What};

use super::{Words, day, frost_with_basis, full_day, kilograms, later_frost, plural, role_of, span};

impl Words<'_> {
    #[expect(clippy::too_many_lines, reason = "one short arm a problem")]
    pub fn problem(&self, problem: &Problem) -> String {
        match problem {
            Problem::NothingSown => "Nothing is sown in this season yet".to_owned(),
            Problem::NoShelves => "There is no shelf in this season yet".to_owned(),
            Problem::UnknownCrop { sowing, crop } => {
                format!("Sowing {sowing}: no crop {:?} in the season or the library", crop.to_string())
            }
            Problem::UnknownContainer { sowing, container } => format!(
                "{}: no container {:?} in the season or the library",
                self.sowing(*sowing),
                container.to_string()
            ),
            Problem::NoRoomInside { sowing, container } => format!(
                "{}: {} has no size to grow in, or not one pot stands in its flat",
                self.sowing(*sowing),
                self.container(container)
            ),
            Problem::OutOfOrder { sowing, date, not_before, .. } => format!(
                "{}: {} is not after {}, when the step before it starts; it is taken as the day after",
                self.sowing(*sowing),
                full_day(*date),
                full_day(*not_before)
            ),
            Problem::SmallStep { sowing, step, from, to } => format!(
                "{}: {} holds {to}, less than 3 × the {from} before it{}",
                self.sowing(*sowing),
                self.step(*sowing, *step),
                if to > from { "; moves again soon" } else { "" }
            ),
            Problem::HeldTooLong { sowing, step, latest, until } => format!(
                "{}: stays in {} until {}, past {}, after which that size holds it back",
                self.sowing(*sowing),
                self.step(*sowing, *step),
                day(*until),
                day(*latest)
            ),
            Problem::MovedEarly { sowing, due, date, .. } => format!(
                "{}: moved on {}, before its leaves are likely to be there (about {})",
                self.sowing(*sowing),
                day(*date),
                day(*due)
            ),
            Problem::NoPlaceFor { role, span: when } => {
                format!("No place for {} is open {}", role_of(*role), span(*when))
            }
            Problem::TooTall { tray, day: from, needs, tallest } => format!(
                "{} outgrows every shelf on {}: it needs {} of clear height, the tallest has {}, {} missing",
                self.tray_of(*tray),
                day(*from),
                self.length(*needs),
                self.length(*tallest),
                self.length(*needs - *tallest)
            ),
            Problem::TooTallThere { tray, shelf, day: from, missing } => format!(
                "{} is too tall for {} from {} (week {}): {} missing",
                self.tray_of(*tray),
                self.shelf(*shelf),
                day(*from),
                from.iso_week().week(),
                self.length(*missing)
            ),
            Problem::TooLarge { tray, width, depth } => format!(
                "{}, {} × {}, is larger than every shelf it may stand on",
                self.tray_of(*tray),
                self.length(*width),
                self.length(*depth)
            ),
            Problem::BeyondLamps { span: when, most, days } => format!(
                "Up to {most} {} the lamps' good reach, on {days} {} between {}",
                if *most == 1 { "tray beyond" } else { "trays beyond" },
                plural(u64::from(*days), "day", "days"),
                span(*when)
            ),
            Problem::Clash { one, other, shelf, day: from, pinned } => format!(
                "{} and {} {} in the same place on {} from {}",
                self.tray(*one),
                self.tray(*other),
                if *pinned { "are pinned" } else { "stand" },
                self.shelf(*shelf),
                day(*from)
            ),
            Problem::OffShelf { tray, shelf, day: from } => format!(
                "{} stands outside the ground that suits it on {} from {}",
                self.tray_of(*tray),
                self.shelf(*shelf),
                day(*from)
            ),
            Problem::Overloaded { shelf, day: from, grams, rated } => format!(
                "{} bears {} on {}, more than the {} it is rated for",
                self.shelf(*shelf),
                kilograms(*grams),
                day(*from),
                kilograms(*rated)
            ),
            Problem::ZoneSticksOut { shelf, by } => {
                format!("A lamp or mat is {} longer than {}", self.length(*by), self.shelf(*shelf))
            }
            Problem::OutOfReach { shelf, reach } => match self.season.shelf(*shelf) {
                Some(found) if found.depth.value() == *reach => {
                    format!(
                        "{} is as deep as arms reach ({}): just acceptable",
                        self.shelf(*shelf),
                        self.length(*reach)
                    )
                }
                _ => format!("{} is deeper than arms reach ({})", self.shelf(*shelf), self.length(*reach)),
            },
            Problem::OutBeforeFrost { sowing, out, frost, later_in_ten } => format!(
                "{}: tender, and out {}, before the last frost of {}: {}",
                self.sowing(*sowing),
                day(*out),
                day(*frost),
                self.season.settings().frost.as_ref().map_or_else(|| later_frost(*later_in_ten), frost_with_basis)
            ),
            Problem::WontComeUp { sowing, at, limit } => match limit {
                Some(limit) if at < limit => format!(
                    "{}: a mix of {at} is too cold for its seed, which wants {limit} at least",
                    self.sowing(*sowing)
                ),
                Some(limit) => format!(
                    "{}: a mix of {at} is too hot for its seed, which bears {limit} at most",
                    self.sowing(*sowing)
                ),
                None => format!("{}: nothing came up where it was tried at {at}", self.sowing(*sowing)),
            },
            Problem::ReadyEarly { sowing, ready, out } => format!(
                "{}: ready by {}, {} days before it goes out on {}: it wants its room until then, or a larger pot",
                self.sowing(*sowing),
                day(*ready),
                (*out - *ready).num_days(),
                day(*out)
            ),
            Problem::NobodyThere { sowing, work, date, before, after } => format!(
                "{}: {} on {}, when nobody is there; the last day before is {}, the first after it {}",
                self.sowing(*sowing),
                match work {
                    What::MovedOn(step) => format!("moves on into {}", self.step_anywhere(*step)),
                    What::Out { .. } => "goes out".to_owned(),
                    _ => "is sown".to_owned(),
                },
                self.day_and_week(*date),
                self.day_and_week(*before),
                self.day_and_week(*after)
            ),
            Problem::NobodyWaters { span: when, trays, .. } => format!(
                "Nobody waters {}: {} {}, watered every {}; {}",
                span(*when),
                when.days(),
                plural(when.days().unsigned_abs(), "day", "days"),
                match self.season.settings().water_every {
                    1 => "day".to_owned(),
                    days => format!("{days} days"),
                },
                self.marks(trays)
            ),
            Problem::TooFew { sowing, alive, wanted, sow_again_until } => format!(
                "{}: {alive} alive of {wanted} wanted; sow again by {} for the other {}",
                self.sowing(*sowing),
                day(*sow_again_until),
                wanted - alive
            ),
            Problem::BelowLegalGermination { sowing, percent, legal } => format!(
                "{}: {percent} % germination is below the legal minimum of a packet, {legal} % (US 7 CFR 201.31)",
                self.sowing(*sowing)
            ),
        }
    }
}

/// A word for the kind of problem, the same in `--json` for good: `too_tall`.
pub fn problem_kind(problem: &Problem) -> &'static str {
    match problem {
        Problem::NothingSown => "nothing_sown",
        Problem::NoShelves => "no_shelves",
        Problem::UnknownCrop { .. } => "unknown_crop",
        Problem::UnknownContainer { .. } => "unknown_container",
        Problem::NoRoomInside { .. } => "no_room_inside",
        Problem::OutOfOrder { .. } => "out_of_order",
        Problem::SmallStep { .. } => "small_step",
        Problem::HeldTooLong { .. } => "held_too_long",
        Problem::MovedEarly { .. } => "moved_early",
        Problem::NoPlaceFor { .. } => "no_place",
        Problem::TooTall { .. } => "too_tall",
        Problem::TooTallThere { .. } => "too_tall_there",
        Problem::TooLarge { .. } => "too_large",
        Problem::BeyondLamps { .. } => "beyond_lamps",
        Problem::Clash { pinned: true, .. } => "pins_clash",
        Problem::Clash { .. } => "clash",
        Problem::OffShelf { .. } => "off_shelf",
        Problem::Overloaded { .. } => "overloaded",
        Problem::ZoneSticksOut { .. } => "zone_sticks_out",
        Problem::OutOfReach { .. } => "out_of_reach",
        Problem::OutBeforeFrost { .. } => "out_before_frost",
        Problem::WontComeUp { .. } => "wont_come_up",
        Problem::ReadyEarly { .. } => "ready_early",
        Problem::NobodyThere { .. } => "nobody_there",
        Problem::NobodyWaters { .. } => "nobody_waters",
        Problem::TooFew { .. } => "too_few",
        Problem::BelowLegalGermination { .. } => "below_legal_germination",
    }
}

/// What the problem is about: a sowing, a tray's mark, a shelf.
pub fn problem_about(words: &Words<'_>, problem: &Problem) -> String {
    match problem.about() {
        About::Season | About::Away(..) => words.season.name().to_owned(),
        About::Sowing(sowing) => words.sowing(sowing),
        About::Tray(tray, _) => match problem {
            Problem::Clash { other, .. } => format!("{}, {}", words.tray(tray), words.tray(*other)),
            _ => words.tray(tray),
        },
        About::Shelf(shelf, _) => words.shelf(shelf),
        About::Place(role, _) => role_of(role).to_owned(),
        About::Lamps(_) => "lamps".to_owned(),
    }
}
