//! What is said of a season's problems.

use chrono::{Datelike as _, NaiveDate};

use crate::forecast::{About, Alike, Cramped, NotReady, Problem, What};
use crate::season::{ContainerKey, ShelfId, Sowing, SowingId, StepId, TrayKey};
use crate::units::{DateSpan, Length, Temperature, Volume, exact_up};

use super::names::role_of;
use super::ready::{earlier, let_go, nowhere_to_harden};
use super::standing::beyond_lamps;
use super::{Words, counted, day, frost_with_basis, full_day, later_frost, one_of, plural, span};

impl Words<'_> {
    #[expect(clippy::too_many_lines, reason = "a table, one arm a kind")]
    pub fn problem(&self, problem: &Problem) -> String {
        match problem {
            Problem::NothingSown => "Nothing is sown in this season yet".to_owned(),
            Problem::NoShelves => "There is no shelf in this season yet".to_owned(),
            Problem::UnknownCrop { sowing, crop } => {
                format!("Sowing {sowing}: no crop {:?} in the season or the library", crop.to_string())
            }
            Problem::UnknownContainer { sowing, container } => self.unknown_container(*sowing, container),
            Problem::NoRoomInside { sowing, container } => self.no_room_inside(*sowing, container),
            Problem::OutOfOrder { sowing, date, not_before, .. } => self.out_of_order(*sowing, *date, *not_before),
            Problem::SmallStep { sowing, step, from, to } => self.small_step(*sowing, *step, *from, *to),
            Problem::HeldTooLong { sowing, .. } => self.of_a_sowing(*sowing, problem),
            Problem::MovedEarly { sowing, step, due, date, sow_earlier } => {
                self.moved_early(*sowing, *step, (*due, *date), *sow_earlier)
            }
            Problem::NoPlaceFor { role, span: when } => {
                format!("No place for {} is open {}", role_of(*role), span(*when))
            }
            Problem::TooTall { tray, day: from, needs, tallest } => self.too_tall(*tray, *from, *needs, *tallest),
            Problem::TooTallThere { tray, shelf, day: from, missing } => {
                self.too_tall_there(*tray, *shelf, *from, *missing)
            }
            Problem::TooLarge { tray, width, depth } => self.too_large(*tray, *width, *depth),
            Problem::TooHeavy { tray, grams, rated } => self.too_heavy(*tray, *grams, *rated),
            Problem::BeyondLamps { span: when, most, pots, days, .. } => beyond_lamps(*when, *most, *pots, *days),
            Problem::TooColdToHarden { sowing, place, from, nights_alone } => {
                self.too_cold_to_harden(*sowing, *place, *from, *nights_alone)
            }
            Problem::Bolts { sowing, place, from, days, reached } => {
                self.bolts(*sowing, *place, *from, *days, *reached)
            }
            Problem::TooWarm { sowing, place, from, days } => self.too_warm(*sowing, *place, *from, *days),
            Problem::NoPlaceBears { tray, trays, span: when, place, bears } => {
                self.no_place_bears(*tray, *trays, *when, *place, *bears)
            }
            Problem::HarmedThere { tray, shelf, day: from, harm } => self.harmed_there(*tray, *shelf, *from, *harm),
            Problem::NoLight { tray, trays, span: when } => self.no_light(*tray, *trays, *when),
            Problem::InTheDark { tray, shelf, day: from } => self.in_the_dark(*tray, *shelf, *from),
            Problem::StackInTheDark { sowing, days } => self.stack_in_the_dark(*sowing, *days),
            Problem::CoverSeed { sowing, until } => self.cover_seed(*sowing, *until),
            Problem::Clash { one, other, shelf, day: from, pinned } => self.clash(*one, *other, *shelf, *from, *pinned),
            Problem::OffShelf { tray, shelf, day: from } => self.off_shelf(*tray, *shelf, *from),
            Problem::Overloaded { shelf, day: from, grams, rated } => self.overloaded(*shelf, *from, *grams, *rated),
            Problem::ZoneSticksOut { shelf, by } => {
                format!("A lamp or mat is {} longer than {}", self.length(*by), self.shelf(*shelf))
            }
            Problem::OutOfReach { shelf, reach } => self.out_of_reach(*shelf, *reach),
            Problem::OutBeforeFrost { sowing, out, frost, later_in_ten } => {
                self.out_before_frost(*sowing, *out, *frost, *later_in_ten)
            }
            Problem::WontComeUp { sowing, at, limit } => self.wont_come_up(*sowing, *at, *limit),
            Problem::FewComeUp { sowing, percent, at, best, best_at } => {
                self.few_come_up(*sowing, (*percent, *at), (*best, *best_at))
            }
            Problem::OutBeforeWindow { sowing, out, from, weeks } => {
                self.out_before_window(*sowing, *out, *from, *weeks)
            }
            Problem::ReadyEarly { sowing, ready, out } => self.ready_early(*sowing, *ready, *out),
            Problem::NobodyThere { sowing, work, date, before, after } => {
                self.nobody_there(*sowing, *work, *date, *before, *after)
            }
            Problem::NobodyWaters { span: when, trays, .. } => self.nobody_waters(*when, trays),
            Problem::NobodyCarries { span: when, trays, .. } => self.nobody_carries(*when, trays),
            Problem::TooFew { .. } | Problem::SownTooFew { .. } => self.missing(problem, false),
            Problem::InsertTooLarge { sowing, insert, tray, by } => self.insert_too_large(*sowing, insert, tray, *by),
            Problem::BlockTooLarge { sowing, step, per_tray } => self.block_too_large(*sowing, *step, *per_tray),
            Problem::TrayForAHandful { .. } => self.tray_for_a_handful(problem),
            Problem::NoSuchRows { sowing, tray, rows, cells } => self.no_such_rows(*sowing, *tray, *rows, *cells),
            Problem::SharesUnlike { sowing, tray, how } => self.shares_unlike(*sowing, *tray, *how),
            Problem::LeavesMeet { sowing, others, step, from, until, spaced, at, wide, room } => {
                self.leaves_meet((*sowing, others), *step, (*from, *until, *spaced), (*at, *wide), *room)
            }
            Problem::BelowLegalGermination { sowing, percent, legal } => {
                self.below_legal_germination(*sowing, *percent, *legal)
            }
            Problem::NotReady { sowing, why } => self.not_ready(*sowing, *why),
            Problem::OnFloor { place, what } => self.cramped(*place, *what),
            Problem::NowhereToHarden { sowings, sowing, first } => {
                nowhere_to_harden(*sowings, &self.which(*sowing), *first)
            }
            Problem::NotSo { sowing, on, what, why } => self.not_so(*sowing, (*what, *on), *why),
            Problem::OfNoBatch { sowing, on, what, is_there } => self.of_no_batch(*sowing, *on, *what, *is_there),
        }
    }

    fn no_such_rows(&self, sowing: SowingId, tray: TrayKey, rows: u16, cells: u16) -> String {
        format!(
            "{}: it is given rows or cells of {} that are not there; the tray has {rows} rows of {cells} cells",
            self.which(sowing),
            self.tray(tray)
        )
    }

    fn unknown_container(&self, sowing: SowingId, container: &ContainerKey) -> String {
        format!("{}: no container {:?} in the season or the library", self.which(sowing), container.to_string())
    }

    fn no_room_inside(&self, sowing: SowingId, container: &ContainerKey) -> String {
        format!(
            "{}: {} has no size to grow in, or not one pot stands in its flat",
            self.which(sowing),
            self.container(container)
        )
    }

    fn out_of_order(&self, sowing: SowingId, date: NaiveDate, not_before: NaiveDate) -> String {
        format!(
            "{}: {} is not after {}, when the step before it starts; it is taken as the day after",
            self.which(sowing),
            full_day(date),
            full_day(not_before)
        )
    }

    fn small_step(&self, sowing: SowingId, step: StepId, from: Volume, to: Volume) -> String {
        format!(
            "{}: {} holds {}, less than 3 × the {} before it{}",
            self.which(sowing),
            self.step(sowing, step),
            to.in_words(self.unit),
            from.in_words(self.unit),
            if to > from { "; moves again soon" } else { "" }
        )
    }

    fn moved_early(
        &self,
        sowing: SowingId,
        step: StepId,
        (due, date): (NaiveDate, NaiveDate),
        sow_earlier: bool,
    ) -> String {
        let missing = u16::try_from((due - date).num_days()).unwrap_or(0);
        let ways: Vec<String> =
            [Some(format!("wait until about {}", day(due))), sow_earlier.then(|| earlier("sow", missing))]
                .into_iter()
                .flatten()
                .collect();
        format!(
            "{}: {} {}, before its leaves are likely to be there; {}",
            self.which(sowing),
            self.verb_into(step).done,
            day(date),
            one_of(&ways)
        )
    }

    fn too_tall(&self, tray: TrayKey, from: NaiveDate, needs: Length, tallest: Length) -> String {
        format!(
            "{} outgrows every shelf on {}: it needs {} of clear height, the tallest has {}, {} missing",
            self.tray_of(tray),
            day(from),
            self.length(needs),
            self.length(tallest),
            self.length(needs - tallest)
        )
    }

    fn too_tall_there(&self, tray: TrayKey, shelf: ShelfId, from: NaiveDate, missing: Length) -> String {
        format!(
            "{} is too tall for {} from {} (week {}): {} missing",
            self.tray_of(tray),
            self.shelf(shelf),
            day(from),
            from.iso_week().week(),
            self.length(missing)
        )
    }

    fn too_large(&self, tray: TrayKey, width: Length, depth: Length) -> String {
        format!(
            "{}, {} × {}, is larger than every shelf it may stand on",
            self.tray_of(tray),
            self.length(width),
            self.length(depth)
        )
    }

    fn clash(&self, one: TrayKey, other: TrayKey, shelf: ShelfId, from: NaiveDate, pinned: bool) -> String {
        format!(
            "{} and {} {} in the same place on {} from {}",
            self.tray(one),
            self.tray(other),
            if pinned { "are pinned" } else { "stand" },
            self.shelf(shelf),
            day(from)
        )
    }

    fn off_shelf(&self, tray: TrayKey, shelf: ShelfId, from: NaiveDate) -> String {
        format!(
            "{} stands outside the ground that suits it on {} from {}",
            self.tray_of(tray),
            self.shelf(shelf),
            day(from)
        )
    }

    fn overloaded(&self, shelf: ShelfId, from: NaiveDate, grams: u64, rated: u64) -> String {
        format!(
            "{} bears {} on {}, more than the {} it is rated for",
            self.shelf(shelf),
            self.weight(grams),
            day(from),
            self.weight(rated)
        )
    }

    fn out_of_reach(&self, shelf: ShelfId, reach: Length) -> String {
        match self.season.shelf(shelf) {
            Some(found) if found.depth.value() == reach => {
                format!("{} is as deep as arms reach ({}): just acceptable", self.shelf(shelf), self.length(reach))
            }
            _ => format!("{} is deeper than arms reach ({})", self.shelf(shelf), self.length(reach)),
        }
    }

    fn out_before_frost(&self, sowing: SowingId, out: NaiveDate, frost: NaiveDate, later_in_ten: u8) -> String {
        let known = self.season.settings().frost.as_ref();
        let is_sold = self.season.sowing(sowing).is_some_and(Sowing::is_to_sell);
        format!(
            "{}: tender, and out {}, before the last frost of {} ({}); {}, or keep it from the frost until then",
            self.which(sowing),
            day(out),
            day(frost),
            known.map_or_else(|| later_frost(later_in_ten), |frost| frost_with_basis(frost, self.unit)),
            let_go(frost, is_sold)
        )
    }

    fn wont_come_up(&self, sowing: SowingId, at: Temperature, limit: Option<Temperature>) -> String {
        let (cold, at) = (limit.is_some_and(|limit| at < limit), at.in_words(self.unit));
        let limit = limit.map(|limit| limit.in_words(self.unit));
        match limit {
            Some(limit) if cold => {
                format!("{}: a mix of {at} is too cold for its seed, which wants {limit} at least", self.which(sowing))
            }
            Some(limit) => {
                format!("{}: a mix of {at} is too hot for its seed, which bears {limit} at most", self.which(sowing))
            }
            None => format!("{}: nothing came up where it was tried at {at}", self.which(sowing)),
        }
    }

    fn ready_early(&self, sowing: SowingId, ready: NaiveDate, out: NaiveDate) -> String {
        format!(
            "{}: ready by {}, {} days before it goes out on {}: it wants its room until then, or a larger pot",
            self.which(sowing),
            day(ready),
            (out - ready).num_days(),
            day(out)
        )
    }

    fn nobody_there(
        &self,
        sowing: SowingId,
        work: What,
        date: NaiveDate,
        before: Option<NaiveDate>,
        after: NaiveDate,
    ) -> String {
        let after = self.day_and_week(after);
        format!(
            "{}: {} on {}, when nobody is there; {}",
            self.which(sowing),
            match work {
                What::MovedOn(step) => format!("{} into {}", self.verb_into(step).does, self.step_anywhere(step)),
                What::Out { .. } => "goes out".to_owned(),
                What::Hardening => "begins to harden off".to_owned(),
                What::FirstNightOut => "stays outside for its first night".to_owned(),
                _ => "is sown".to_owned(),
            },
            self.day_and_week(date),
            match before {
                Some(before) => {
                    format!("the last day before is {}, the first after it {after}", self.day_and_week(before))
                }
                None => format!("the first day after it is {after}"),
            }
        )
    }

    fn nobody_waters(&self, when: DateSpan, trays: &[TrayKey]) -> String {
        format!(
            "Nobody waters {}: {} {}, watered every {}; {}",
            span(when),
            when.days(),
            plural(when.days().unsigned_abs(), "day", "days"),
            match self.season.settings().water_every {
                1 => "day".to_owned(),
                days => format!("{days} days"),
            },
            self.marks(trays)
        )
    }

    fn nobody_carries(&self, when: DateSpan, trays: &[TrayKey]) -> String {
        format!(
            "Somebody has to carry {} out and in, {}, while nobody is there: {}",
            counted(trays.len(), "tray", "trays"),
            span(when),
            self.marks(trays)
        )
    }

    /// How many are missing, and the last day for more: one sentence, whether that is to come or past, or can't be met
    /// any more.
    pub fn missing(&self, problem: &Problem, is_missed: bool) -> String {
        let last = |until, missing, too_late: &bool| {
            let is = if *too_late || is_missed { "was" } else { "is" };
            format!("{} {is} the last day to sow more for the other {missing}", day(until))
        };
        match problem {
            Problem::TooFew { sowing, alive, wanted, missing, sow_again_until, too_late } => {
                let again = wanted.saturating_sub(*alive).saturating_sub(*missing);
                let sown = if again > 0 { format!("; {again} are sown again") } else { String::new() };
                let last = last(*sow_again_until, missing, too_late);
                format!("{}: {alive} alive of {wanted} wanted{sown}; {last}", self.which(*sowing))
            }
            Problem::SownTooFew { sowing, cells, likely, wanted, missing, sow_again_until, too_late } => {
                let sown = counted(*cells, "cell is", "cells are");
                let last = last(*sow_again_until, missing, too_late);
                format!("{}: {sown} sown, which give about {likely} of {wanted} wanted; {last}", self.which(*sowing))
            }
            other => self.problem(other),
        }
    }

    fn block_too_large(&self, sowing: SowingId, step: StepId, per_tray: u32) -> String {
        format!(
            "{}: no shelf holds {per_tray} of {} together; they stand in blocks as the shelf holds them",
            self.which(sowing),
            self.step(sowing, step)
        )
    }

    fn insert_too_large(&self, sowing: SowingId, insert: &ContainerKey, tray: &ContainerKey, by: Length) -> String {
        format!(
            "{}: {} is {} larger than the floor of {}; it won't lie flat in it",
            self.which(sowing),
            self.container(insert),
            exact_up(by, self.unit),
            self.container(tray)
        )
    }

    fn tray_for_a_handful(&self, problem: &Problem) -> String {
        let Problem::TrayForAHandful { sowing, step, full, sown, per_tray, wanted, percent, .. } = *problem else {
            return String::new();
        };
        let trays = if full == 1 { "one full tray".to_owned() } else { format!("{full} full trays") };
        format!(
            "{}: the last {} is for {sown} of {per_tray}; {trays}: {percent} % sure of {}{}",
            self.which(sowing),
            self.step(sowing, step),
            counted(wanted, "plant", "plants"),
            without_the_last_tray(problem)
        )
    }

    fn out_before_window(&self, sowing: SowingId, out: NaiveDate, from: NaiveDate, weeks: i8) -> String {
        let when = match weeks {
            0 => "the average last frost".to_owned(),
            weeks => format!(
                "{} {} the average last frost",
                counted(weeks.unsigned_abs(), "week", "weeks"),
                if weeks < 0 { "before" } else { "after" }
            ),
        };
        format!(
            "{}: goes out {}, too early: half-hardy, it stands the frosts from {} on, {when}",
            self.which(sowing),
            day(out),
            day(from)
        )
    }

    fn few_come_up(&self, sowing: SowingId, here: (u8, Temperature), best: (u8, Temperature)) -> String {
        format!(
            "{}: about {} % come up in a mix of {}; at {} {} % do",
            self.which(sowing),
            here.0,
            here.1.in_words(self.unit),
            best.1.in_words(self.unit),
            best.0
        )
    }

    /// The sowing's name; with the day it is sown where others have the same name.
    pub fn which(&self, id: SowingId) -> String {
        let name = self.sowing(id);
        match self.forecast.alike.get(&id) {
            None => name,
            Some(Alike { sown: Some(date), .. }) => format!("{name}, sown {}", day(*date)),
            Some(Alike { at, of, .. }) => format!("{name}, number {at} of {of}"),
        }
    }

    fn below_legal_germination(&self, sowing: SowingId, percent: u8, legal: u8) -> String {
        format!(
            "{}: {percent} % germination is below the legal minimum of a packet, {legal} % (US 7 CFR 201.31)",
            self.which(sowing)
        )
    }
}

/// How to do without it, as sure as the season asks.
fn without_the_last_tray(problem: &Problem) -> String {
    let Problem::TrayForAHandful { would_do, seeds, sure_percent, .. } = *problem else { return String::new() };
    let fewer = (would_do > 0).then(|| format!("ask for {would_do}"));
    let more = seeds.map(|seeds| format!("sow {seeds} seeds to a cell"));
    let ways: Vec<String> = fewer.into_iter().chain(more).collect();
    if ways.is_empty() { String::new() } else { format!("; {}, and it is {sure_percent} %", ways.join(" or ")) }
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
        Problem::TooHeavy { .. } => "too_heavy",
        Problem::BeyondLamps { .. } => "beyond_lamps",
        Problem::TooColdToHarden { .. } => "too_cold_to_harden",
        Problem::Bolts { .. } => "bolts",
        Problem::TooWarm { .. } => "too_warm",
        Problem::NoPlaceBears { .. } => "no_place_bears",
        Problem::HarmedThere { .. } => "harmed_there",
        Problem::NoLight { .. } => "no_light",
        Problem::InTheDark { .. } => "in_the_dark",
        Problem::StackInTheDark { .. } => "stack_in_the_dark",
        Problem::CoverSeed { .. } => "cover_seed",
        Problem::Clash { pinned: true, .. } => "pins_clash",
        Problem::Clash { .. } => "clash",
        Problem::OffShelf { .. } => "off_shelf",
        Problem::Overloaded { .. } => "overloaded",
        Problem::ZoneSticksOut { .. } => "zone_sticks_out",
        Problem::OutOfReach { .. } => "out_of_reach",
        Problem::OutBeforeFrost { .. } => "out_before_frost",
        Problem::WontComeUp { .. } => "wont_come_up",
        Problem::FewComeUp { .. } => "few_come_up",
        Problem::OutBeforeWindow { .. } => "out_before_window",
        Problem::ReadyEarly { .. } => "ready_early",
        Problem::NobodyThere { .. } => "nobody_there",
        Problem::NobodyWaters { .. } => "nobody_waters",
        Problem::NobodyCarries { .. } => "nobody_carries",
        Problem::TooFew { .. } => "too_few",
        Problem::SownTooFew { .. } => "sown_too_few",
        Problem::InsertTooLarge { .. } => "insert_too_large",
        Problem::BlockTooLarge { .. } => "block_too_large",
        Problem::TrayForAHandful { .. } => "tray_for_a_handful",
        Problem::NoSuchRows { .. } => "no_such_rows",
        Problem::SharesUnlike { .. } => "shares_unlike",
        Problem::LeavesMeet { .. } => "leaves_meet",
        Problem::BelowLegalGermination { .. } => "below_legal_germination",
        Problem::NotReady { why: NotReady::TooYoung { .. }, .. } => "too_young",
        Problem::NotReady { why: NotReady::NotRooted { .. }, .. } => "not_rooted",
        Problem::NotReady { why: NotReady::HardenedShort { .. }, .. } => "hardened_short",
        Problem::OnFloor { what: Cramped::Overlap { .. }, .. } => "racks_overlap",
        Problem::OnFloor { what: Cramped::Outside { .. }, .. } => "rack_outside",
        Problem::OnFloor { what: Cramped::NoDoor { .. }, .. } => "no_door_for_barrow",
        Problem::OnFloor { what: Cramped::Barred { .. } | Cramped::ManyBarred { .. }, .. } => "no_way_for_barrow",
        Problem::NowhereToHarden { .. } => "nowhere_to_harden",
        Problem::NotSo { .. } => "not_so",
        Problem::OfNoBatch { .. } => "of_no_batch",
    }
}

/// What the problem is about: a sowing, a tray's mark, a shelf.
pub fn problem_about(words: &Words<'_>, problem: &Problem) -> String {
    match problem.about() {
        About::Season | About::Away(..) => words.season.name().to_owned(),
        About::Sowing(sowing) => words.which(sowing),
        About::Tray(tray, _) => match problem {
            Problem::Clash { other, .. } => format!("{}, {}", words.tray(tray), words.tray(*other)),
            _ => words.tray(tray),
        },
        About::Shelf(shelf, _) => words.shelf(shelf),
        About::Floor(place, rack) => rack.map_or_else(|| words.place(place), |rack| words.rack(rack)),
        About::Place(role, _) => role_of(role).to_owned(),
        About::Lamps(_) => "lamps".to_owned(),
    }
}
