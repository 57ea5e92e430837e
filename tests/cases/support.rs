//! Builds a season the way the program does, by edits, and holds its layout against plain sums.

use std::collections::{BTreeMap, BTreeSet};

use chrono::NaiveDate;
use flatwright::fit::{Cancel, Memory, Progress};
use flatwright::forecast::{Forecast, Shape, Stay, What, forecast};
use flatwright::outlook::{Crunch, Effort, Keep, Outlook, PoolKind, Verdict, Week, look_ahead, spot_of};
use flatwright::season::{
    Away, AwayId, Container, ContainerKey, ContainerKind, Crop, CropKey, DayRange, Edit, Flat, Guest, GuestId,
    Hardening, Hardiness, LatestWeeks, Library, Light, Lot, LotId, MovingOn, Observation, Observed, Op, OutRule,
    PartOfDay, Place, PlaceId, Plug, Pot, Rack, RackId, Reach, RecordId, RimShape, Role, Rule, Season, SeedLight,
    SettingDepth, Settings, Shelf, ShelfId, Sourced, Sowing, SowingId, SpotFrom, Stack, Step, StepId, Temperatures,
    Transplants, TrayId, TrayKey, TrayNote, TrayRows, Wanted, Zone, ZoneKind,
};
use flatwright::units::{DateSpan, Length, Measure, Size, Typed};

pub(crate) const FLAT: &str = "10.94 x 21.44 in";
pub(crate) const GROWING: PoolKind = PoolKind::Of(Role::Growing);

/// Goes out on that day, pinned.
#[track_caller]
pub(crate) fn out_on(date: &str) -> Wanted {
    Wanted { date: day(date), plants: 1, rule: OutRule::Day, to_sell: false }
}

/// Goes out by that rule; the day is a year for it to start from.
#[track_caller]
pub(crate) fn out_by(rule: OutRule, near: &str) -> Wanted {
    Wanted { date: day(near), plants: 1, rule, to_sell: false }
}

/// The day on which that happens to a sowing of one lot.
#[track_caller]
pub(crate) fn date_of(forecast: &Forecast, sowing: SowingId, what: What) -> NaiveDate {
    let date = forecast.courses_of(sowing).find_map(|course| course.date(what));
    date.unwrap_or_else(|| panic!("sowing {sowing}: {what:?} is not foreseen"))
}

/// `2025-03-24`.
#[track_caller]
pub(crate) fn day(text: &str) -> NaiveDate {
    text.parse().unwrap_or_else(|why| panic!("{text}: {why}"))
}

#[track_caller]
pub(crate) fn days_after(date: NaiveDate, days: u64) -> NaiveDate {
    date.checked_add_days(chrono::Days::new(days)).unwrap_or_else(|| panic!("{date} + {days} days"))
}

#[track_caller]
pub(crate) fn size(text: &str) -> Size {
    Size::parse(text, None).unwrap_or_else(|why| panic!("{text}: {why}"))
}

#[track_caller]
pub(crate) fn measure(text: &str) -> Measure {
    Measure::parse_length(text, None).unwrap_or_else(|why| panic!("{text}: {why}"))
}

#[track_caller]
pub(crate) fn length(text: &str) -> Length {
    measure(text).value()
}

/// How many of the second size stand on the first, turned either way.
#[track_caller]
pub(crate) fn count(on: &str, of: &str) -> i64 {
    let (on, of) = (size(on), size(of));
    let [w, d, a, b] = [on.width, on.depth, of.width, of.depth].map(|side| side.value().units());
    flatwright::fit::count(w, d, a, b).most
}

/// A shelf without lamp, mat, overhang or allowance.
#[track_caller]
pub(crate) fn shelf(text: &str) -> Shelf {
    let Size { width, depth } = size(text);
    Shelf {
        id: ShelfId(0),
        rack: RackId(0),
        tier: 0,
        width,
        depth,
        clear_height: None,
        reach: Reach::OneSide,
        closed: Vec::new(),
        zones: Vec::new(),
        overhang: measure("0 in"),
        allowance_percent: 0,
        load_grams: None,
        light: None,
    }
}

/// A zone of that size in the shelf's back left corner.
#[track_caller]
pub(crate) fn zone(kind: ZoneKind, text: &str) -> Zone {
    let Size { width, depth } = size(text);
    Zone { kind, x: measure("0 in"), y: measure("0 in"), width, depth }
}

#[track_caller]
pub(crate) fn pot(rim: RimShape, top: &str) -> Pot {
    Pot { rim, top: Sourced::own(measure(top)), bottom: None, volume: None, brim: None, per_flat: None }
}

#[track_caller]
pub(crate) fn flat(outer: &str) -> Flat {
    Flat { outer: Sourced::own(size(outer)), floor: None, pockets: None }
}

/// One container of a sowing, from a day on.
#[derive(Clone)]
pub(crate) struct Stage {
    container: &'static str,
    carried_in: Option<&'static str>,
    per_tray: Option<u32>,
    from: NaiveDate,
}

#[track_caller]
pub(crate) fn stage(container: &'static str, from: &str) -> Stage {
    Stage { container, carried_in: None, per_tray: None, from: day(from) }
}

impl Stage {
    pub(crate) const fn carried_in(self, flat: &'static str) -> Self {
        Self { carried_in: Some(flat), ..self }
    }

    pub(crate) const fn holding(self, per_tray: u32) -> Self {
        Self { per_tray: Some(per_tray), ..self }
    }
}

/// What is set otherwise than in the plain sowing: no stack, no bottom heat.
#[derive(Clone, Copy, Default)]
pub(crate) struct Manner {
    pub(crate) stack: Option<Stack>,
    pub(crate) bottom_heat: bool,
}

/// Up four days after sowing, all of it; nothing about it is tall, tender or late.
pub(crate) fn seedling() -> Crop {
    let days = |likely| DayRange { early: likely, likely, late: likely };
    Crop {
        key: CropKey::new("seedling"),
        name: "seedling".to_owned(),
        latin: String::new(),
        family: String::new(),
        mark: "Se".to_owned(),
        germination_percent: Sourced::own(100),
        germination_legal_percent: None,
        germination_temperatures: None,
        germination_row: None,
        light_to_germinate: SeedLight::Either,
        emergence: Sourced::own(days(4)),
        emergence_warmth: None,
        emergence_row: None,
        leaf_warmth: None,
        moving_on: Sourced::own(MovingOn { true_leaves: None, days: days(14) }),
        latest: Sourced::own(LatestWeeks::default()),
        weeks_to_planting_out: Sourced::own((6, 8)),
        weeks_to_sale: None,
        planting_out_after_frost: None,
        hardiness: Hardiness::Hardy,
        come_in: Sourced::own(Typed::freezing()),
        bolts: None,
        hardening: Sourced::own(Hardening { days: 7, first_night_after: 3 }),
        rooting_days: None,
        depth: Sourced::own(SettingDepth::Either),
        transplants: Transplants::Easily,
        usual_moves: 1,
        usual_cells: Vec::new(),
        in_open_flat: None,
        heights: Sourced::own(Vec::new()),
        spreads: Sourced::own(Vec::new()),
        spaced: false,
        light: None,
        seeds_per_gram: None,
        before_sowing: String::new(),
    }
}

/// A season under construction.
#[derive(Clone, Debug)]
pub(crate) struct Grower {
    pub(crate) season: Season,
}

impl Grower {
    /// No gap beside trays, and one growing place.
    #[track_caller]
    pub(crate) fn new() -> Self {
        let mut new = Self { season: Season::new("a grower's case") };
        new.edit(&Op::SetSettings(Settings { gap: measure("0 in"), ..Settings::default() }).into());
        new.edit(&Op::PutCrop(Box::new(seedling())).into());
        new.container("flat", ContainerKind::Flat(flat(FLAT)));
        for (key, cells) in [
            ("sheet of 38", 38),
            ("sheet of 50", 50),
            ("sheet of 72", 72),
            ("sheet of 128", 128),
            ("sheet of 200", 200),
        ] {
            new.sheet(key, FLAT, cells);
        }
        new
    }

    #[track_caller]
    pub(crate) fn edit(&mut self, edit: &Edit) {
        if let Err(why) = self.season.apply(edit) {
            panic!("{edit:?} was refused: {why:?}");
        }
    }

    #[track_caller]
    pub(crate) fn place(&mut self, role: Role) -> PlaceId {
        let id = PlaceId(self.season.next_id());
        let name = format!("{role:?}");
        let (open, temperatures) = (Vec::new(), Temperatures::default());
        let (part, light) = (PartOfDay::Whole, Light::default());
        self.edit(&Op::PutPlace(Place { id, name, role, open, part, temperatures, light, floor: None }).into());
        id
    }

    /// A rack whose shelves are all like that one.
    #[track_caller]
    pub(crate) fn rack(&mut self, place: PlaceId, number: u32, of: &Shelf) -> Vec<ShelfId> {
        let rack = RackId(self.season.next_id());
        self.edit(
            &Op::PutRack(Rack { id: rack, place, name: "rack".to_owned(), position: rack.0, stands: None }).into(),
        );
        (1..=number)
            .map(|tier| {
                let id = ShelfId(self.season.next_id());
                self.edit(&Op::PutShelf(Shelf { id, rack, tier, ..of.clone() }).into());
                id
            })
            .collect()
    }

    /// A growing place with so many shelves like that one.
    #[track_caller]
    pub(crate) fn growing(number: u32, of: &Shelf) -> Self {
        let mut new = Self::new();
        let place = new.place(Role::Growing);
        new.rack(place, number, of);
        new
    }

    #[track_caller]
    pub(crate) fn container(&mut self, key: &str, kind: ContainerKind) {
        let (key, name) = (ContainerKey::new(key), key.to_owned());
        self.edit(
            &Op::PutContainer(Container { key, name, kind, height: None, dome: None, note: String::new() }).into(),
        );
    }

    #[track_caller]
    pub(crate) fn sheet(&mut self, key: &str, outer: &str, cells: u16) {
        let outer = Sourced::own(size(outer));
        self.container(key, ContainerKind::Plug(Plug { outer, cells, grid: None, cell_top: None, cell_volume: None }));
    }

    /// A tray of so many rows with so many cells each.
    #[track_caller]
    pub(crate) fn rows(&mut self, key: &str, outer: &str, (rows, each): (u16, u16)) {
        let outer = Sourced::own(size(outer));
        let plug = Plug { outer, cells: rows * each, grid: Some((rows, each)), cell_top: None, cell_volume: None };
        self.container(key, ContainerKind::Plug(plug));
    }

    #[track_caller]
    pub(crate) fn sow(&mut self, plants: u32, stages: &[Stage], out: &str) -> SowingId {
        self.sow_so(plants, stages, out, Manner::default())
    }

    #[track_caller]
    pub(crate) fn sow_so(&mut self, plants: u32, stages: &[Stage], out: &str, manner: Manner) -> SowingId {
        let mut ids = self.season.next_id()..;
        let mut next = || ids.next().unwrap_or_else(|| panic!("out of numbers"));
        let (id, lot) = (SowingId(next()), LotId(next()));
        let step = |stage: &Stage, id| Step {
            id: StepId(id),
            container: ContainerKey::new(stage.container),
            carried_in: stage.carried_in.map(ContainerKey::new),
            per_tray: stage.per_tray,
            start: Rule::On(stage.from),
            slack: None,
            spaced: None,
        };
        let steps = stages.iter().map(|stage| step(stage, next())).collect();
        self.edit(
            &Op::PutSowing(Sowing {
                id,
                series: None,
                crop: CropKey::new("seedling"),
                variety: String::new(),
                wanted: vec![Wanted { date: day(out), plants, rule: OutRule::Day, to_sell: false }],
                steps,
                lots: vec![Lot::new(lot)],
                seen: Vec::new(),
                seeds_per_cell: 1,
                germination_percent: Some(100),
                germination_from: None,
                losses_percent: 0,
                stack: manner.stack,
                begun: None,
                bottom_heat: Some(manner.bottom_heat),
                harden_days: None,
                alone: false,
                again_of: None,
                verdicts: Vec::new(),
                note: String::new(),
            })
            .into(),
        );
        id
    }

    /// A sowing by rules, in those containers; nothing is lost.
    #[track_caller]
    pub(crate) fn sow_by(&mut self, plants: u32, steps: &[(&str, Rule)], out: Wanted) -> SowingId {
        let step =
            |(container, start): &(&str, Rule)| Step { start: *start, ..Step::new(ContainerKey::new(container), None) };
        let sowing = Sowing {
            germination_percent: Some(100),
            bottom_heat: Some(false),
            ..Sowing::new(CropKey::new("seedling"), Wanted { plants, ..out }, steps.iter().map(step).collect())
        };
        let sowing = sowing.renumbered(self.season.next_id());
        let id = sowing.id;
        self.edit(&Op::PutSowing(sowing).into());
        id
    }

    #[track_caller]
    pub(crate) fn change(&mut self, id: SowingId, change: impl FnOnce(&mut Sowing)) {
        let Some(mut sowing) = self.season.sowing(id).cloned() else { panic!("no sowing {id}") };
        change(&mut sowing);
        self.edit(&Op::PutSowing(sowing).into());
    }

    #[track_caller]
    pub(crate) fn see(&mut self, id: SowingId, date: &str, what: Observed) {
        let record = Observation { id: RecordId(self.season.next_id()), date: day(date), what, lot: None };
        self.edit(&Op::PutRecord(id, record).into());
    }

    /// Days on which nobody is there, until the day before the last.
    #[track_caller]
    pub(crate) fn away(&mut self, name: &str, span: DateSpan, every_year: bool) {
        let id = AwayId(self.season.next_id());
        let away = Away { id, name: name.to_owned(), span, waters: String::new(), every_year };
        self.edit(&Op::PutAway(away).into());
    }

    #[track_caller]
    pub(crate) fn settings(&mut self, change: impl FnOnce(&mut Settings)) {
        let mut settings = self.season.settings().clone();
        change(&mut settings);
        self.edit(&Op::SetSettings(settings).into());
    }

    pub(crate) fn forecast(&self) -> Forecast {
        forecast(&self.season, &Library::default())
    }

    /// Plants that were not sown this year, on the growing shelves.
    #[track_caller]
    pub(crate) fn guests(&mut self, number: u16, outer: &str, from: &str, until: &str) {
        self.edit(
            &Op::PutGuest(Guest {
                id: GuestId(self.season.next_id()),
                name: "overwintered".to_owned(),
                size: size(outer),
                height: None,
                number,
                span: DateSpan::new(day(from), day(until)).unwrap_or_else(|why| panic!("{why}")),
                role: Role::Growing,
                light: true,
                grams: None,
            })
            .into(),
        );
    }

    /// Puts the first step of those sowings into the rows of one tray.
    #[track_caller]
    pub(crate) fn share_a_tray(&mut self, sowings: &[SowingId]) {
        let rows = (0..).zip(sowings).filter_map(|(row, id)| {
            let sowing = self.season.sowing(*id)?;
            Some(TrayRows {
                rows: row..row + 1,
                cells: None,
                lot: sowing.lots.first()?.id,
                step: sowing.steps.first()?.id,
            })
        });
        let (rows, parents) = (rows.collect(), Vec::new());
        let key = TrayKey::Shared(TrayId(self.season.next_id()));
        self.edit(&Op::PutNote(TrayNote { key, mark: None, rows, parents }).into());
    }

    #[track_caller]
    pub(crate) fn look(&self) -> Looked {
        self.look_with(Effort::default())
    }

    #[track_caller]
    pub(crate) fn look_with(&self, effort: Effort) -> Looked {
        let forecast = forecast(&self.season, &Library::default());
        let outlook = look_ahead(
            &self.season,
            &forecast,
            Keep::Pinned,
            effort,
            &mut Memory::default(),
            &Progress::default(),
            &Cancel::default(),
        )
        .unwrap_or_else(|_| panic!("nobody cancelled it"));
        let mut season = self.season.clone();
        if let Err(why) = season.apply(&Op::SetLayout(outlook.layout.clone()).into()) {
            panic!("the layout was refused: {why:?}");
        }
        let looked = Looked { season, forecast, outlook };
        looked.stands_apart();
        looked
    }
}

/// A season with the layout that the program found for it, which no two trays share ground in.
pub(crate) struct Looked {
    pub(crate) season: Season,
    pub(crate) forecast: Forecast,
    pub(crate) outlook: Outlook,
}

/// Ground on a shelf, in 1/8000 mm.
#[derive(Clone, Copy, Debug)]
struct Ground {
    left: i64,
    right: i64,
    back: i64,
    front: i64,
}

impl Ground {
    const fn meets(self, other: Self) -> bool {
        self.left < other.right && other.left < self.right && self.back < other.front && other.back < self.front
    }

    fn area(self) -> i128 {
        i128::from(self.right - self.left) * i128::from(self.front - self.back)
    }
}

impl Looked {
    /// Every day on which something comes, goes or moves.
    fn days(&self) -> BTreeSet<NaiveDate> {
        let spans = self.forecast.stays.iter().flat_map(|stay| [stay.span.from(), stay.span.until()]);
        let moves = self.season.spots().filter_map(|spot| match spot.from {
            SpotFrom::Start => None,
            SpotFrom::On(date) => Some(date),
        });
        spans.chain(moves).collect()
    }

    /// The ground of every stay that has a spot, by shelf.
    fn standing(&self, date: NaiveDate) -> BTreeMap<ShelfId, Vec<(&Stay, Ground)>> {
        let mut standing: BTreeMap<ShelfId, Vec<(&Stay, Ground)>> = BTreeMap::new();
        let gap = self.season.settings().gap.value();
        for stay in self.forecast.on(date) {
            let Some(spot) = spot_of(&self.season, stay, date) else { continue };
            let beside = if matches!(stay.shape, Shape::Tray { .. }) { gap } else { Length::ZERO };
            let (along, across) = ((stay.shape.width() + beside).units(), (stay.shape.depth() + beside).units());
            let (w, d) = if spot.quarter_turns % 2 == 1 { (across, along) } else { (along, across) };
            let (left, back) = (spot.x.units(), spot.y.units());
            standing
                .entry(spot.shelf)
                .or_default()
                .push((stay, Ground { left, right: left + w, back, front: back + d }));
        }
        standing
    }

    /// No two on the same ground, all on their shelf, and the grower's allowance kept, on any day.
    #[track_caller]
    fn stands_apart(&self) {
        for date in self.days() {
            for (id, trays) in self.standing(date) {
                let Some(here) = self.season.shelf(id) else { panic!("no shelf {id}") };
                let (width, depth) = (here.width.value().units(), here.usable_depth().units());
                let gap = self.season.settings().gap.value().units();
                for (index, (stay, ground)) in trays.iter().enumerate() {
                    // what is kept free beside it may lie in the air past the edge; nothing else may
                    let free = match &stay.shape {
                        Shape::Tray { .. } => gap,
                        Shape::Pots { across, pitch, .. } => (*pitch - *across).units(),
                    };
                    let (right, front) = (ground.right - free, ground.front - free);
                    let inside = ground.left >= 0 && ground.back >= 0 && right <= width && front <= depth;
                    assert!(inside, "{date}: {:?} sticks out of shelf {id} at {ground:?}", stay.trays);
                    let met = trays.iter().skip(index + 1).find(|(_, other)| ground.meets(*other));
                    assert!(met.is_none(), "{date}, shelf {id}: {:?} and {met:?} overlap", stay.trays);
                }
                let covered: i128 = trays.iter().map(|(_, ground)| ground.area()).sum();
                let all = i128::from(width + gap) * i128::from(depth + gap);
                let may = all * i128::from(100 - here.allowance_percent) / 100;
                assert!(
                    here.allowance_percent == 0 || covered <= may,
                    "{date}, shelf {id}: the packing allowance is not kept"
                );
            }
        }
        self.forecast.stays.iter().for_each(pots_stand_apart);
    }

    /// Fits, and every stay has a spot on each of its days.
    #[track_caller]
    pub(crate) fn fits(self) -> Self {
        assert_eq!(self.outlook.verdict, Verdict::Fits, "{:?}", self.outlook.crunches);
        assert_eq!(self.outlook.no_spot, []);
        assert_eq!(self.outlook.crunches, []);
        for date in self.days() {
            let placed: usize = self.standing(date).values().map(Vec::len).sum();
            assert_eq!(placed, self.forecast.on(date).count(), "stays with a spot on {date}");
        }
        self
    }

    /// One proven crunch, exact: so many wanted, held and short.
    #[track_caller]
    pub(crate) fn crunch(&self, needed: u32, held: u32, short: u32) -> &Crunch {
        assert_eq!(self.outlook.verdict, Verdict::Crunch);
        let [crunch] = self.outlook.crunches.as_slice() else { panic!("one crunch: {:?}", self.outlook.crunches) };
        let found = (crunch.needed, crunch.held, crunch.short, crunch.short_at_most);
        assert_eq!(found, (needed, held, short, short), "needed, held, short, short at most: {crunch:?}");
        assert!(!self.outlook.no_spot.is_empty());
        crunch
    }

    /// The growing shelves' week with that day in it.
    #[track_caller]
    pub(crate) fn week(&self, date: &str) -> &Week {
        let date = day(date);
        let within = |week: &&Week| week.from <= date && date < days_after(week.from, 7);
        self.outlook.weeks_of(GROWING).find(within).unwrap_or_else(|| panic!("no week of {date}"))
    }

    /// Places taken on that day: trays, and stacks as one.
    #[track_caller]
    pub(crate) fn places_on(&self, date: &str) -> usize {
        self.forecast.on(day(date)).count()
    }

    pub(crate) fn event(&self, sowing: SowingId, what: What) -> Option<NaiveDate> {
        self.forecast.courses_of(sowing).find_map(|course| course.date(what))
    }
}

/// Loose pots within their block, none in another's way.
#[track_caller]
fn pots_stand_apart(stay: &Stay) {
    let Shape::Pots { width, depth, rim, across, pitch, centres } = &stay.shape else { return };
    let half = across.units() / 2;
    let middles: Vec<(i64, i64)> = centres.iter().map(|(x, y)| (x.units(), y.units())).collect();
    for (index, &(x, y)) in middles.iter().enumerate() {
        let inside = x >= half && y >= half && x + half <= width.units() && y + half <= depth.units();
        assert!(inside, "pot {index} of {:?} sticks out of its block", stay.trays);
        for &(other_x, other_y) in middles.iter().skip(index + 1) {
            let (dx, dy) = (i128::from((x - other_x).abs()), i128::from((y - other_y).abs()));
            let pitch = i128::from(pitch.units());
            let apart = match rim {
                RimShape::Square => dx.max(dy) >= pitch,
                // middles are rounded to 1/8000 mm
                RimShape::Round => dx * dx + dy * dy >= (pitch - 2) * (pitch - 2),
            };
            assert!(apart, "two pots of {:?} stand in each other", stay.trays);
        }
    }
}

/// The value of a typed length, kept with its text.
pub(crate) fn typed(measure: &Typed<Length>) -> (&str, i64) {
    (measure.typed(), measure.value().units())
}
