//! The catalogue: every reason, problem, label and step name that a person reads, in one place.
//!
//! Sentence case; one sentence has no full stop. The same thing has one name in the window, the
//! file, the command line and the docs.

pub mod already_here;
mod chance;
pub mod containers;
pub mod crops;
pub mod days_away;
mod difference;
pub mod fields;
pub mod frost;
pub mod guests;
mod held;
mod next;
pub mod next_year;
mod out_rule;
pub mod places;
mod problems;
pub mod records;
mod refusal;
mod sources;
pub mod sowing;
pub mod sowing_table;
pub mod sowings;
mod spots;
pub mod start;
pub mod worth_a_look;

use chrono::{Datelike as _, NaiveDate};

use crate::forecast::{Event, Forecast, Inside, Phase, Shape, Stay, What, Why};
use crate::outlook::{Crunch, Obstacle, Outlook, Pool, PoolKind, Reason, Verdict, WeekLabel, week_label};
use crate::season::{
    ContainerKey, EditLabel, Library, OutRule, PartOfDay, RimShape, Role, Season, Shelf, ShelfId, SowingId, Stage,
    StepId, TrayKey, ZoneKind,
};
use crate::units::{DateSpan, Length, LengthUnit};

pub use chance::{springs, wanted_in_most};
pub use difference::differences;
pub use frost::{
    FROST_CAUTIONS, both_scales, from_frost, frost_basis, frost_method, frost_risk, frost_with_basis, last_frost,
    later_frost, out_by_frost, refused_spring,
};
pub use held::{held, kind_held, number_held};
pub use next::{change_kind, grown_name, no_next_year, weeks};
pub use out_rule::{month_name, out_rule, weekday_name};
pub use problems::{problem_about, problem_kind};
pub use records::{days_apart, number_apart};
pub use refusal::{field, refusal};
pub use sources::source;
pub use sowings::{found, quick_line_error};
pub use spots::NO_SPOT_YET;

/// What stands where one could not be read.
pub const NO_SEASON: &str = "No season";

/// What the names of things are looked up in, and the unit lengths are shown in.
#[derive(Clone, Copy, Debug)]
pub struct Words<'a> {
    pub season: &'a Season,
    pub library: &'a Library,
    pub forecast: &'a Forecast,
    pub unit: LengthUnit,
}

impl Words<'_> {
    /// `move of To 7`: what undo would take back.
    pub fn edit(&self, label: &EditLabel) -> String {
        let tray = |tray: &TrayKey| self.tray(*tray);
        match label {
            EditLabel::Rename => "new name".to_owned(),
            EditLabel::TakeIn(number) => {
                format!("taking in of {number} {}", plural(*number as u64, "sowing", "sowings"))
            }
            EditLabel::ChangeNote => "change of the note".to_owned(),
            EditLabel::ChangeSettings => "change of settings".to_owned(),
            EditLabel::ChangePlace(name) | EditLabel::ChangeRack(name) => format!("change of {name}"),
            EditLabel::RemovePlace(_) => "removal of a place".to_owned(),
            EditLabel::RemoveRack(_) => "removal of a rack".to_owned(),
            EditLabel::ChangeShelf => "change of a shelf".to_owned(),
            EditLabel::RemoveShelf => "removal of a shelf".to_owned(),
            EditLabel::ChangeCrop(name) | EditLabel::ChangeContainer(name) | EditLabel::ChangeGuest(name) => {
                format!("change of {name}")
            }
            EditLabel::RemoveCrop(key) | EditLabel::RemoveContainer(key) => format!("removal of {key}"),
            EditLabel::ChangeSowing(crop) => format!("change of the {crop} sowing"),
            EditLabel::RemoveSowing(_) => "removal of a sowing".to_owned(),
            EditLabel::RemoveGuest => "removal of a guest".to_owned(),
            EditLabel::ChangeTrayNote(key) => format!("note on {}", tray(key)),
            EditLabel::PlaceTray(key) => format!("placing of {}", tray(key)),
            EditLabel::MoveTray(key) => format!("move of {}", tray(key)),
            EditLabel::TurnTray(key) => format!("turn of {}", tray(key)),
            EditLabel::LiftTray(key) => format!("lifting of {}", tray(key)),
            EditLabel::PinTray(key) => format!("pin on {}", tray(key)),
            EditLabel::UnpinTray(key) => format!("unpinning of {}", tray(key)),
            EditLabel::FindSpots => "finding spots".to_owned(),
            EditLabel::AddRack(name)
            | EditLabel::AddSowing(name)
            | EditLabel::AddGuest(name)
            | EditLabel::AddContainer(name)
            | EditLabel::AddCrop(name) => format!("adding of {name}"),
            EditLabel::AddShelf => "adding of a shelf".to_owned(),
            EditLabel::MoveTrays(number) => format!("move of {number} trays"),
            EditLabel::TurnTrays(number) => format!("turn of {number} trays"),
            EditLabel::PlaceTrays(number) => format!("placing of {number} trays"),
            EditLabel::LiftTrays(number) => format!("lifting of {number} trays"),
            EditLabel::PinTrays(number) => format!("pins on {number} trays"),
            EditLabel::UnpinTrays(number) => format!("unpinning of {number} trays"),
            EditLabel::AddRecord(what) => format!("record “{what}”"),
            EditLabel::ChangeRecord(what) => format!("change of the record “{what}”"),
            EditLabel::RemoveRecord(what) => format!("removal of the record “{what}”"),
            EditLabel::ChangeDay(what) => format!("new day for “{what}”"),
            EditLabel::SwapTrays(one, other) => format!("swap of {} and {}", tray(one), tray(other)),
        }
    }

    /// One sentence: when, where, how many are wanted, held and short.
    pub fn crunch(&self, crunch: &Crunch) -> String {
        format!(
            "{}, {}: {} wanted, {} held, {}",
            span(crunch.span),
            self.pool(&crunch.pool),
            crunch.needed,
            crunch.held,
            short(crunch)
        )
    }

    /// One or two sentences that prove it in numbers.
    pub fn reason(&self, crunch: &Crunch) -> String {
        let on = day(crunch.worst_day);
        let (needed, held) = (crunch.needed, crunch.held);
        let things = self.things(crunch);
        match &crunch.reason {
            Reason::Count { width, depth, shelves } => format!(
                "{needed} {things} want a spot on {on}, each at least {} × {}{}; {} {} {held} of them at most, however they are turned{}",
                self.length(*width),
                self.length(*depth),
                self.gap(),
                self.shelves(shelves),
                plural(shelves.len() as u64, "holds", "hold"),
                self.allowance(shelves),
            ),
            Reason::Pots { across, apart, shelves } => format!(
                "{needed} loose pots, {} across{}, want a spot on {on}; {} {} {held} at most{}",
                self.length(*across),
                if apart > across {
                    format!(" and {} from middle to middle", self.length(*apart))
                } else {
                    String::new()
                },
                self.shelves(shelves),
                plural(shelves.len() as u64, "holds", "hold"),
                self.allowance(shelves),
            ),
            Reason::Ground { shelves } => format!(
                "{needed} {things} want a spot on {on}; together they cover more than {}, which have ground for {held} at most",
                self.shelves(shelves)
            ),
            Reason::Together { shelves } => format!(
                "{needed} {things} want a spot on {on}; whichever of them share a shelf, {} {} {held} of them at most, however they are turned{}",
                self.shelves(shelves),
                plural(shelves.len() as u64, "holds", "hold"),
                self.allowance(shelves),
            ),
            Reason::Weight { shelves } => format!(
                "{needed} {things} want a spot on {on}; {} may bear the weight of {held} at most",
                self.shelves(shelves)
            ),
            Reason::Allowance { shelves } => format!(
                "{needed} {things} want a spot on {on}; with the packing allowance kept, {} {} {held} at most",
                self.shelves(shelves),
                plural(shelves.len() as u64, "holds", "hold"),
            ),
            Reason::Height { missing } => format!(
                "{needed} {things} on {on} {} taller than every shelf that suits {}: {} missing",
                plural(u64::from(needed), "is", "are"),
                plural(u64::from(needed), "it", "them"),
                self.length(*missing)
            ),
            Reason::NoShelf => format!(
                "{needed} {things} on {on} {} no shelf that suits {}: none is large enough, or none such is open",
                plural(u64::from(needed), "has", "have"),
                plural(u64::from(needed), "it", "them"),
            ),
            Reason::Pins => format!(
                "Pinned on {on}: {needed} {things}, in each other's way or where nothing may stand then; {held} can stay"
            ),
        }
    }

    fn things(&self, crunch: &Crunch) -> &'static str {
        let shapes = crunch.proof.iter().filter_map(|tray| {
            self.forecast.stays_of(*tray).find(|stay| stay.span.contains(crunch.worst_day)).map(|stay| &stay.shape)
        });
        let (mut trays, mut pots) = (false, false);
        for shape in shapes {
            match shape {
                Shape::Tray { .. } => trays = true,
                Shape::Pots { .. } => pots = true,
            }
        }
        match (trays, pots) {
            (_, false) => plural(u64::from(crunch.needed), "tray", "trays"),
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

    /// `second true leaves 8 – 17 Apr, likely 12`.
    pub fn event(&self, event: &Event) -> String {
        let date = day(event.date);
        let what = match event.what {
            What::Sown => format!("sown {date}"),
            What::Begun => format!("here already {date}"),
            What::Unstacked => format!("taken out of the stack {date}, urgent: they need light"),
            What::Up => ranged("up", event),
            What::Due => match event.why {
                Why::Leaves(leaves) | Why::LeavesByWarmth { leaves, .. } => {
                    ranged(&format!("{} due", leaf_count(leaves)), event)
                }
                _ => ranged("large enough to move on", event),
            },
            What::MovedOn(step) => format!("moved on {date} into {}", self.step_anywhere(step)),
            What::Latest(step) => format!("may stay in {} until {date}", self.step_anywhere(step)),
            What::Spaced => format!("spaced out {date}"),
            What::GappedUp => format!("plugs moved together {date}"),
            What::Hardening => format!("hardening off from {date}"),
            What::FirstNightOut => format!("first night out {date}"),
            What::Out { plants } => format!("{plants} planted out or sold {date}"),
        };
        let frost = self.season.settings().frost.as_ref();
        let why = match (event.why, frost) {
            (Why::Out(OutRule::Frost { .. }), Some(frost)) => Some(out_by_frost(event.date, frost)),
            _ => why(event.why),
        };
        match why {
            Some(why) => format!("{what} ({why}{})", aged(event)),
            None => what,
        }
    }

    /// `5 Apr (week 31)`, by the season's own count of weeks.
    fn day_and_week(&self, date: NaiveDate) -> String {
        let week = match week_label(self.season, date) {
            WeekLabel::Iso { week, .. } => i64::from(week),
            WeekLabel::Own(week) => week,
        };
        format!("{} (week {week})", day(date))
    }

    /// `To 1, To 2 and 12 more`.
    fn marks(&self, trays: &[TrayKey]) -> String {
        const SHOWN: usize = 8;
        let shown: Vec<String> = trays.iter().take(SHOWN).map(|tray| self.tray(*tray)).collect();
        match trays.len().saturating_sub(SHOWN) {
            0 => shown.join(", "),
            more => format!("{} and {more} more", shown.join(", ")),
        }
    }

    /// `growing shelves`, `bottom heat`.
    pub fn pool(&self, pool: &Pool) -> String {
        let kind = match pool.kind {
            PoolKind::BottomHeat => "bottom heat",
            PoolKind::Of(Role::Germinating) => "germinating shelves",
            PoolKind::Of(Role::Growing) => "growing shelves",
            PoolKind::Of(Role::Hardening) => "hardening off",
        };
        let names: Vec<&str> =
            pool.places.iter().filter_map(|id| self.season.place(*id)).map(|place| place.name.as_str()).collect();
        let names = names.join(", ");
        if names.is_empty() || names.to_lowercase() == kind { kind.to_owned() } else { format!("{kind} ({names})") }
    }

    /// `To 7`.
    pub fn tray(&self, tray: TrayKey) -> String {
        self.forecast.mark(tray).to_owned()
    }

    /// `from To 1 and To 2`; nothing for a tray that was sown.
    pub fn origin(&self, tray: TrayKey) -> Option<String> {
        let parents = self.forecast.origins.get(&tray)?;
        let marks: Vec<String> = parents.iter().map(|parent| self.tray(*parent)).collect();
        let (last, before) = marks.split_last()?;
        Some(if before.is_empty() { format!("from {last}") } else { format!("from {} and {last}", before.join(", ")) })
    }

    /// `To 7 (tomato)`.
    fn tray_of(&self, tray: TrayKey) -> String {
        let sowing = self.forecast.stays_of(tray).find_map(|stay| stay.sowing);
        match sowing {
            Some(sowing) => format!("{} ({})", self.tray(tray), self.sowing(sowing)),
            None => self.tray(tray),
        }
    }

    /// `Tomato ‘Early Red’`.
    pub fn sowing(&self, id: SowingId) -> String {
        let Some(sowing) = self.season.sowing(id) else { return format!("sowing {id}") };
        let crop = self
            .season
            .crop(self.library, &sowing.crop)
            .map_or_else(|| sowing.crop.to_string(), |crop| crop.name.clone());
        with_variety(&crop, &sowing.variety)
    }

    /// A container by its name.
    pub fn container(&self, key: &ContainerKey) -> String {
        self.season.container(self.library, key).map_or_else(|| key.to_string(), |container| container.name.clone())
    }

    fn step(&self, sowing: SowingId, step: StepId) -> String {
        let found = self.season.sowing(sowing).and_then(|sowing| sowing.steps.iter().find(|found| found.id == step));
        found.map_or_else(|| "that container".to_owned(), |step| self.container(&step.container))
    }

    fn step_anywhere(&self, step: StepId) -> String {
        let found = self.season.sowings().find(|sowing| sowing.steps.iter().any(|found| found.id == step));
        found.map_or_else(|| "the next container".to_owned(), |sowing| self.step(sowing.id, step))
    }

    /// `Window rack, shelf 2`.
    pub fn shelf(&self, id: ShelfId) -> String {
        let Some(shelf) = self.season.shelf(id) else { return format!("shelf {id}") };
        let Some(rack) = self.season.rack(shelf.rack) else { return format!("shelf {id}") };
        if self.season.shelves_of(rack.id).len() == 1 {
            rack.name.clone()
        } else {
            format!("{}, shelf {}", rack.name, shelf.tier)
        }
    }

    /// What it is: `18 pots, 83 mm square, in a flat`.
    pub fn what(&self, stay: &Stay) -> String {
        let number = stay.trays.len();
        match &stay.shape {
            Shape::Pots { rim, across, centres, .. } => {
                format!("{} loose pots, {}", centres.len(), self.rim(*rim, *across))
            }
            Shape::Tray { inside: Inside::Pots { number, rim, across, .. }, .. } => {
                let pots = u32::from(*number).min(stay.plants.max(1));
                format!("{pots} {}, {}, in a flat", plural(u64::from(pots), "pot", "pots"), self.rim(*rim, *across))
            }
            Shape::Tray { inside: Inside::Cells { columns, rows }, .. } => {
                let cells = u32::from(*columns) * u32::from(*rows);
                if number > 1 {
                    format!("{number} trays of {cells} cells in a stack")
                } else {
                    format!("{} of {cells} cells filled", stay.plants.min(cells))
                }
            }
            Shape::Tray { width, depth, inside: Inside::Open } => {
                let size = format!("{} × {}", self.length(*width), self.length(*depth));
                if stay.phase == Phase::Guest { size } else { format!("{} plants, {size}", stay.plants) }
            }
        }
    }

    /// The same without measures: `18 pots in a flat`.
    pub fn what_briefly(&self, stay: &Stay) -> String {
        match &stay.shape {
            Shape::Tray { inside: Inside::Pots { number, .. }, .. } => {
                let pots = u32::from(*number).min(stay.plants.max(1));
                format!("{pots} {} in a flat", plural(u64::from(pots), "pot", "pots"))
            }
            Shape::Pots { centres, .. } => format!("{} loose pots", centres.len()),
            Shape::Tray { .. } if stay.trays.len() > 1 => format!("{} trays in a stack", stay.trays.len()),
            Shape::Tray { .. } => self.what(stay),
        }
    }

    fn rim(&self, rim: RimShape, across: Length) -> String {
        match rim {
            RimShape::Square => format!("{} square", self.length(across)),
            RimShape::Round => format!("{} round", self.length(across)),
        }
    }

    /// What it needs, a line each: `a spot under lights, 12 Apr – 16 May`.
    pub fn needs(&self, stay: &Stay) -> Vec<String> {
        let spot = match (stay.needs.role, stay.needs.heat, stay.needs.light) {
            (_, true, _) => "a spot with bottom heat",
            (Role::Hardening, ..) => "a spot to harden off",
            (_, _, true) => "a spot under lights",
            (..) => "a spot, dark or lit",
        };
        let part = match stay.part {
            PartOfDay::Whole => "",
            PartOfDay::Days => ", by day",
            PartOfDay::Nights => ", by night",
        };
        let mut needs = vec![format!("{spot}{part}, {}", span(stay.span))];
        if stay.height > Length::ZERO {
            needs.push(format!("{} of clear height", self.length(stay.height)));
        }
        if stay.grams > 0 {
            needs.push(format!("about {} when watered", kilograms(u64::from(stay.grams))));
        }
        needs
    }

    /// Why not there.
    pub fn obstacle(&self, obstacle: &Obstacle) -> String {
        match obstacle {
            Obstacle::Tray(tray) => format!("{} is in the way", self.tray(*tray)),
            Obstacle::Edge { by } => format!("over the edge by {}", self.length(*by)),
            Obstacle::TooTall { missing } => format!("too tall here, {} missing", self.length(*missing)),
            Obstacle::NotForIt => "closed then, or not for this stage".to_owned(),
            Obstacle::NoHeat => "no heat mat here".to_owned(),
            Obstacle::Unlit => "no lamp here".to_owned(),
        }
    }

    pub fn length(&self, length: Length) -> String {
        length.in_words(self.unit)
    }
}

/// `tomato ‘Early Red’`.
pub fn with_variety(crop: &str, variety: &str) -> String {
    if variety.is_empty() { crop.to_owned() } else { format!("{crop} ‘{variety}’") }
}

/// `6 short`, or the range while it is not settled.
pub fn short(crunch: &Crunch) -> String {
    if crunch.short == crunch.short_at_most {
        format!("{} short", crunch.short)
    } else {
        format!("{} to {} short", crunch.short, crunch.short_at_most)
    }
}

/// The season in one sentence.
pub fn verdict_of(outlook: &Outlook) -> String {
    match outlook.verdict {
        Verdict::Fits if outlook.moves == 0 => "Everything fits, and no tray has to move twice".to_owned(),
        Verdict::Fits => format!(
            "Everything fits, with {} {} along the way",
            outlook.moves,
            plural(outlook.moves as u64, "extra move", "extra moves")
        ),
        Verdict::Crunch => match outlook.crunches.len() {
            1 => "The shelves run out of room once".to_owned(),
            n => format!("The shelves run out of room {n} times"),
        },
        Verdict::Unsettled => "Not settled: neither a layout nor a proof was found for some days".to_owned(),
    }
}

fn ranged(what: &str, event: &Event) -> String {
    match event.range {
        Some((early, late)) if early < late => {
            let from = if early.month() == late.month() { early.day().to_string() } else { day(early) };
            format!("{what} {from} – {}, likely {}", day(late), day(event.date))
        }
        _ => format!("{what} {}", day(event.date)),
    }
}

/// What a sowing out of its day means for the plants.
fn aged(event: &Event) -> String {
    let Event { what: What::Sown, why: Why::Bent { days }, .. } = event else { return String::new() };
    let (by, age) = (u64::from(days.unsigned_abs()), if *days > 0 { "younger" } else { "older" });
    format!(", so {by} {} {age} when planted out", plural(by, "day", "days"))
}

fn leaf_count(leaves: u8) -> String {
    match leaves {
        1 => "first true leaf".to_owned(),
        2 => "first pair of true leaves".to_owned(),
        4 => "second pair of true leaves".to_owned(),
        n => format!("{n} true leaves"),
    }
}

/// `4 true leaves`.
pub fn stage_name(stage: Stage) -> String {
    match stage {
        Stage::Sown => "just sown".to_owned(),
        Stage::Up => "just up".to_owned(),
        Stage::TrueLeaves(leaves) => format!("{leaves} true {}", plural(u64::from(leaves), "leaf", "leaves")),
    }
}

fn why(why: Why) -> Option<String> {
    Some(match why {
        Why::Seen => "seen".to_owned(),
        Why::Set => "the date given".to_owned(),
        Why::DaysAfterSowing(days) => format!("{days} {} after sowing", plural(u64::from(days), "day", "days")),
        Why::DaysBeforeOut(days) => format!("{days} {} before planting out", plural(u64::from(days), "day", "days")),
        Why::WeeksBeforeOut(weeks) => {
            format!("{weeks} {} before planting out", plural(u64::from(weeks), "week", "weeks"))
        }
        Why::LatestWeeks(weeks) => format!("{weeks} {} from sowing", plural(u64::from(weeks), "week", "weeks")),
        Why::LaterLot(days) => format!("a later lot, by {days} {}", plural(u64::from(days), "day", "days")),
        Why::PlaceOpens => "the place opens then".to_owned(),
        Why::Stage { days: 0, stage } => stage_name(stage),
        Why::Stage { days, stage } => format!(
            "about {days} {} old: {}, by the crop's days",
            plural(u64::from(days), "day", "days"),
            stage_name(stage)
        ),
        Why::DueAlready => "due already".to_owned(),
        Why::StackDays(days) => format!("{days} dark {}", plural(u64::from(days), "day", "days")),
        Why::Warmth { at, base } => format!("by its warmth, a mix of {at} above {base}"),
        Why::ByTemperature { at } => format!("by the table, in a mix of {at}"),
        Why::LeavesByWarmth { at, .. } => format!("by their warmth, {at} on average"),
        Why::Bent { days } => format!(
            "nobody there on its day: {} {} {}",
            days.unsigned_abs(),
            plural(u64::from(days.unsigned_abs()), "day", "days"),
            if days < 0 { "early" } else { "late" }
        ),
        Why::Out(rule) => out_rule(rule),
        Why::CropDays | Why::Leaves(_) | Why::Age => return None,
    })
}

fn role_of(role: Role) -> &'static str {
    match role {
        Role::Germinating => "germinating",
        Role::Growing => "growing",
        Role::Hardening => "hardening off",
    }
}

/// The right form of a word for a number.
pub fn plural(number: u64, one: &'static str, many: &'static str) -> &'static str {
    if number == 1 { one } else { many }
}

fn kilograms(grams: u64) -> String {
    format!("{:.1} kg", grams as f64 / 1000.0)
}

/// `14 Apr`.
pub fn day(date: NaiveDate) -> String {
    date.format("%-d %b").to_string()
}

/// `14 Apr 2027 at 09:05`.
pub fn moment(at: chrono::NaiveDateTime) -> String {
    at.format("%-d %b %Y at %H:%M").to_string()
}

/// `Wed 14 Apr 2027`.
pub fn full_day(date: NaiveDate) -> String {
    date.format("%a %-d %b %Y").to_string()
}

/// `12 Apr – 16 May`, the last day included.
pub fn span(span: DateSpan) -> String {
    if span.days() == 1 { day(span.from()) } else { format!("{} – {}", day(span.from()), day(span.last())) }
}

/// `fits`, `unsettled`, `crunch`.
pub fn verdict(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Fits => "fits",
        Verdict::Unsettled => "unsettled",
        Verdict::Crunch => "crunch",
    }
}

/// `2027-W15`, or `week 12` of the grower's own count.
pub fn week(label: WeekLabel) -> String {
    match label {
        WeekLabel::Iso { year, week } => format!("{year}-W{week:02}"),
        WeekLabel::Own(week) => format!("week {week}"),
    }
}

/// `Mon 22 Feb 2010: week 25, ISO 2010-W08`; nothing where ISO weeks are the season's own.
pub fn every_label(season: &Season, date: NaiveDate) -> Option<String> {
    match week_label(season, date) {
        WeekLabel::Iso { .. } => None,
        own @ WeekLabel::Own(_) => {
            let iso = date.iso_week();
            let iso = week(WeekLabel::Iso { year: iso.year(), week: iso.week() });
            Some(format!("{}: {}, ISO {iso}", full_day(date), week(own)))
        }
    }
}

/// The week with the least room among those with anything in them; `None` if none is.
pub fn fullest(outlook: &Outlook) -> Option<&crate::outlook::Week> {
    outlook.weeks.iter().filter(|week| week.needed > 0).min_by_key(|week| week.spare)
}
