//! Random edits of a small season, some of them ones that must be refused.

use std::fmt::Debug;
use std::path::Path;

use chrono::{Days, NaiveDate, Weekday};
use flatwright::season::{
    Away, AwayId, Begun, Container, ContainerKey, ContainerKind, Counted, Delays, Door, Edit, EditLabel, Flat, Floor,
    Frost, FrostChance, FrostMethod, Grown, Guest, GuestId, Light, Loss, Lot, LotId, Matter, Matters, Observation,
    Observed, Op, OutRule, PartOfDay, Place, PlaceChange, PlaceId, Potting, Rack, RackId, Reach, RecordId, Role, Rule,
    Season, Settings, Shelf, ShelfId, Shift, Shifting, Slack, Sourced, Sowing, SowingChange, SowingId, Spaced, Spacing,
    Spot, SpotFrom, Stack, Stage, Stands, Step, StepId, Temperatures, TrayId, TrayKey, TrayNote, TrayRows, Unwanted,
    Verdict, Wall, Wanted, WeekLabels, WhatIf, Zone, ZoneKind,
};
use flatwright::store::{library, parse};
use flatwright::units::{DateSpan, Length, LengthUnit, Measure, Size, Temperature, Typed};
use proptest::collection::vec;
use proptest::option;
use proptest::prelude::*;
use proptest::sample::select;

/// Few enough that edits meet each other's things.
fn id() -> impl Strategy<Value = u32> {
    1_u32..6
}

/// The numbers of lots and steps are drawn so that two sowings rarely claim the same.
fn sowing_numbers() -> impl Strategy<Value = (u32, u32, u32)> {
    (id(), 0_u32..40).prop_map(|(id, shift)| (id, 100 + id * 10, if shift == 0 { 100 } else { 500 + id * 10 }))
}

/// From 1, and now and then none.
fn few<T>(below: T) -> impl Strategy<Value = T>
where
    T: Copy + Debug + From<u8>,
    std::ops::Range<T>: Strategy<Value = T>,
{
    prop_oneof![20 => T::from(1)..below, 1 => Just(T::from(0))]
}

fn text() -> impl Strategy<Value = String> {
    prop_oneof![
        4 => "[A-Za-z0-9 äß'\"°\\\\(){}:,\\[\\]/#-]{0,12}",
        1 => any::<String>(),
        1 => Just("x".repeat(201)),
    ]
}

fn name() -> impl Strategy<Value = String> {
    prop_oneof![8 => text().prop_map(|text| format!("n{text}")), 1 => text()]
}

fn date() -> impl Strategy<Value = NaiveDate> {
    (0_u64..400).prop_map(|days| NaiveDate::from_ymd_opt(2026, 9, 1).unwrap() + Days::new(days))
}

fn span() -> impl Strategy<Value = DateSpan> {
    (date(), 1_u64..100).prop_map(|(from, days)| DateSpan::new(from, from + Days::new(days)).unwrap())
}

/// Mostly of a size that a shelf or a tray may have.
fn measure() -> impl Strategy<Value = Measure> {
    prop_oneof![
        8 => (50_i64..1_000).prop_map(Measure::mm),
        8 => (400_000_i64..8_000_000).prop_map(|units| Measure::of(Length::from_units(units), LengthUnit::Inch)),
        8 => select(vec!["48 in", "10 15/16\"", "4 ft 6 in", "7,5 cm", "2½ in", "3.2 in"]).prop_map(typed),
        1 => select(vec!["0 in", "1/64 in", "200 m"]).prop_map(typed),
    ]
}

fn small_measure() -> impl Strategy<Value = Measure> {
    prop_oneof![8 => (0_i64..200).prop_map(Measure::mm), 1 => measure()]
}

fn typed(text: &str) -> Measure {
    Measure::parse_length(text, None).unwrap()
}

fn temperature() -> impl Strategy<Value = Typed<Temperature>> {
    select(vec!["21 °C", "70 F", "-2,2 °C", "28 °F"]).prop_map(|text| Typed::parse_temperature(text).unwrap())
}

fn role() -> impl Strategy<Value = Role> {
    select(vec![Role::Germinating, Role::Growing, Role::Hardening])
}

fn matters() -> impl Strategy<Value = Matters> {
    let matter = || select(vec![Matter::Little, Matter::Fairly, Matter::Much]);
    let all = ((matter(), matter(), matter(), matter()), matter(), matter(), (matter(), matter()));
    all.prop_map(|((held, sown, out, outside), smaller, fewer, (buying, dark))| Matters {
        held,
        sown,
        out,
        outside,
        smaller,
        fewer,
        buying,
        dark,
    })
}

fn unwanted() -> impl Strategy<Value = Unwanted> {
    let of_sowing = select(vec![
        SowingChange::Held,
        SowingChange::Sown,
        SowingChange::Out,
        SowingChange::Hardened,
        SowingChange::Container,
        SowingChange::Tight,
        SowingChange::Fewer,
        SowingChange::Shared,
        SowingChange::GappedUp,
    ]);
    let of_place = select(vec![PlaceChange::Shelves, PlaceChange::Lamps, PlaceChange::Edges, PlaceChange::Open]);
    prop_oneof![
        (id(), of_sowing).prop_map(|(id, change)| Unwanted::OfSowing(SowingId(id), change)),
        (id(), of_place).prop_map(|(id, change)| Unwanted::OfPlace(PlaceId(id), change)),
    ]
}

fn what_if() -> impl Strategy<Value = WhatIf> {
    let family = || option::of(select(vec!["solanaceae", "herb"]).prop_map(str::to_owned));
    let what = prop_oneof![
        Just(Shifting::LastFrost),
        family().prop_map(Shifting::Out),
        family().prop_map(Shifting::Sowing),
        id().prop_map(|id| Shifting::Place(PlaceId(id))),
    ];
    let shift = (what, -70_i16..70).prop_map(|(what, days)| Shift { what, days });
    (name(), vec(shift, 0..3)).prop_map(|(name, shifts)| WhatIf { name, shifts })
}

fn settings() -> impl Strategy<Value = Settings> {
    let potting = select(vec![Potting::PotOn, Potting::PotUp, Potting::MoveOn]);
    let words = (potting, matters(), vec(unwanted(), 0..3), vec(what_if(), 0..3));
    let weeks = prop_oneof![Just(WeekLabels::Iso), date().prop_map(WeekLabels::From)];
    (small_measure(), small_measure(), 0_u8..101, weeks, option::of(frost()), 0_u8..70, words).prop_map(
        |(gap, lamp_gap, sure_percent, weeks, frost, water_every, (potting, matters, unwanted, what_ifs))| Settings {
            gap,
            lamp_gap,
            sure_percent,
            weeks,
            frost,
            water_every,
            potting,
            matters,
            unwanted,
            what_ifs,
        },
    )
}

fn away() -> impl Strategy<Value = Away> {
    (id(), name(), span(), text(), any::<bool>()).prop_map(|(id, name, span, waters, every_year)| Away {
        id: AwayId(id),
        name,
        span,
        waters,
        every_year,
    })
}

fn frost() -> impl Strategy<Value = Frost> {
    let chance = (temperature(), 0_u8..11, date()).prop_map(|(temperature, later_in_ten, date)| FrostChance {
        temperature,
        later_in_ten,
        date,
    });
    // often in order, now and then not
    let table = prop_oneof![
        4 => (temperature(), date()).prop_map(|(temperature, first)| {
            let of = |later_in_ten: u8| FrostChance {
                temperature: temperature.clone(),
                later_in_ten,
                date: first - chrono::Days::new(4 * u64::from(later_in_ten)),
            };
            (1..=9).map(of).collect()
        }),
        1 => vec(chance, 0..4),
    ];
    let method = select(vec![FrostMethod::Given, FrostMethod::Empirical, FrostMethod::NormalLaw]);
    let springs = option::of(0_u16..200);
    (date(), 0_u8..11, temperature(), text(), text(), springs, method, table).prop_map(
        |(date, later_in_ten, temperature, station, years, springs, method, table)| Frost {
            date,
            later_in_ten,
            temperature,
            station,
            years,
            springs,
            method,
            table,
        },
    )
}

fn light() -> impl Strategy<Value = Light> {
    select(vec![Light::Lamps, Light::Daylight, Light::Dark])
}

fn place() -> impl Strategy<Value = Place> {
    let part = select(vec![PartOfDay::Whole, PartOfDay::Days, PartOfDay::Nights]);
    let temperatures = (option::of(temperature()), option::of(temperature()), option::of(temperature()))
        .prop_map(|(day, night, mat)| Temperatures { day, night, mat });
    (id(), name(), role(), vec(span(), 0..3), part, temperatures, light(), option::of(floor())).prop_map(
        |(id, name, role, open, part, temperatures, light, floor)| Place {
            id: PlaceId(id),
            name,
            role,
            open,
            part,
            temperatures,
            light,
            floor,
        },
    )
}

fn rack() -> impl Strategy<Value = Rack> {
    let stands = (measure(), measure(), any::<u8>()).prop_map(|(x, y, quarter_turns)| Stands { x, y, quarter_turns });
    (id(), id(), name(), 0_u32..4, option::of(stands)).prop_map(|(id, place, name, position, stands)| Rack {
        id: RackId(id),
        place: PlaceId(place),
        name,
        position,
        stands,
    })
}

/// Often with doors that end within their walls, now and then not.
fn floor() -> impl Strategy<Value = Floor> {
    let wall = select(vec![Wall::Back, Wall::Right, Wall::Front, Wall::Left]);
    let door = (wall, small_measure(), small_measure()).prop_map(|(wall, along, width)| Door { wall, along, width });
    (measure(), measure(), vec(door, 0..3), option::of(measure())).prop_map(|(width, depth, doors, barrow)| Floor {
        width,
        depth,
        doors,
        barrow,
    })
}

fn zone() -> impl Strategy<Value = Zone> {
    let kind = select(vec![ZoneKind::Lamp, ZoneKind::Heat]);
    (kind, measure(), measure(), measure(), measure()).prop_map(|(kind, x, y, width, depth)| Zone {
        kind,
        x,
        y,
        width,
        depth,
    })
}

fn shelf() -> impl Strategy<Value = Shelf> {
    let where_ = (id(), id(), 0_u32..6);
    let size = (measure(), measure(), option::of(measure()), small_measure());
    let rest =
        (any::<bool>(), vec(span(), 0..2), vec(zone(), 0..3), 0_u8..100, option::of(any::<u32>()), option::of(light()));
    (where_, size, rest).prop_map(|((id, rack, tier), (width, depth, clear_height, overhang), rest)| {
        let (both_sides, closed, zones, allowance_percent, load_grams, light) = rest;
        let reach = if both_sides { Reach::BothSides } else { Reach::OneSide };
        let (id, rack) = (ShelfId(id), RackId(rack));
        Shelf {
            id,
            rack,
            tier,
            width,
            depth,
            clear_height,
            reach,
            closed,
            zones,
            overhang,
            allowance_percent,
            load_grams,
            light,
        }
    })
}

/// One of them takes the place of the library's.
fn own_container() -> impl Strategy<Value = &'static str> {
    select(vec!["own_a", "own_b", "plug_72"])
}

fn container() -> impl Strategy<Value = Container> {
    let height =
        measure().prop_filter("a file holds no container without height", |height| height.value() > Length::ZERO);
    let pockets = option::of(few(1_100));
    let heights = (option::of(height), option::of(measure()));
    (own_container(), name(), measure(), measure(), pockets, heights, text()).prop_map(
        |(key, name, width, depth, pockets, (height, dome), note)| Container {
            key: ContainerKey::new(key),
            name,
            kind: ContainerKind::Flat(Flat { outer: Sourced::own(Size { width, depth }), floor: None, pockets }),
            height,
            dome,
            note,
        },
    )
}

/// Of the library: a season whose containers are gone is a matter of its own.
fn known_container() -> impl Strategy<Value = ContainerKey> {
    select(library().containers.keys().cloned().collect::<Vec<_>>())
}

fn step(id: u32) -> impl Strategy<Value = Step> {
    let start = prop_oneof![
        Just(Rule::WhenDue),
        date().prop_map(Rule::On),
        any::<u16>().prop_map(Rule::DaysAfterSowing),
        any::<u16>().prop_map(Rule::DaysBeforeOut),
    ];
    let spaced = prop_oneof![
        Just(Spacing::Never),
        Just(Spacing::WhenLeavesMeet),
        (any::<u16>(), measure()).prop_map(|(after_days, pitch)| Spacing::At(Spaced { after_days, pitch })),
    ];
    let slack = option::of((0_u16..250, 0_u16..250).prop_map(|(early, late)| Slack { early, late }));
    (known_container(), option::of(known_container()), option::of(few(100)), start, slack, option::of(spaced)).prop_map(
        move |(container, carried_in, per_tray, start, slack, spaced)| Step {
            id: StepId(id),
            container,
            carried_in,
            per_tray,
            start,
            slack,
            spaced,
        },
    )
}

fn out_rule() -> impl Strategy<Value = OutRule> {
    let weekday = || select(vec![Weekday::Mon, Weekday::Wed, Weekday::Sun]);
    prop_oneof![
        3 => Just(OutRule::Day),
        1 => (-400_i16..400, any::<bool>()).prop_map(|(days, waits)| OutRule::Frost { days, waits }),
        1 => (-6_i8..7, weekday(), 0_u8..14).prop_map(|(nth, weekday, month)| OutRule::Nth { nth, weekday, month }),
        1 => (-70_i16..130, weekday()).prop_map(|(week, weekday)| OutRule::Week { week, weekday }),
    ]
}

fn seen() -> impl Strategy<Value = Observation> {
    let number = || 0_u32..1_001_000;
    let what = prop_oneof![
        option::of(number()).prop_map(|cells| Observed::Sown { cells }),
        option::of(number()).prop_map(|plants| Observed::Up { plants }),
        (0_u8..52).prop_map(Observed::TrueLeaves),
        id().prop_map(|id| Observed::MovedOn(StepId(id))),
        (number(), select(vec![Loss::NotKnown, Loss::DampingOff, Loss::TooDry, Loss::Surplus]))
            .prop_map(|(plants, why)| Observed::Lost { plants, why }),
        select(vec![
            Observed::GappedUp,
            Observed::Prepared,
            Observed::Unstacked,
            Observed::SpacedOut,
            Observed::HardeningBegun,
            Observed::NightOut,
        ]),
        select(vec![Grown::TooSmall, Grown::Right, Grown::TooBig]).prop_map(Observed::Grown),
        number().prop_map(Observed::PutOut),
        number().prop_map(Observed::Sold),
    ];
    (id(), date(), what, option::of(id())).prop_map(|(id, date, what, lot)| Observation {
        id: RecordId(id),
        date,
        what,
        lot: lot.map(LotId),
    })
}

fn sowing() -> impl Strategy<Value = Sowing> {
    let parts = sowing_numbers().prop_flat_map(|(id, first_step, first_lot)| {
        let delays = select(vec![Delays::Sowing, Delays::MovingOn, Delays::Out]);
        let lots = vec((few(4), any::<u16>(), delays), 0..5).prop_map(move |lots| {
            let numbers = (first_lot..).map(LotId);
            numbers.zip(lots).map(|(id, (share, later, delays))| Lot { id, share, later, delays }).collect::<Vec<_>>()
        });
        let steps = vec(any::<prop::sample::Index>(), 0..5)
            .prop_flat_map(move |n| (first_step..).take(n.len()).map(step).collect::<Vec<_>>());
        (Just(SowingId(id)), steps, lots)
    });
    let crop = select(library().crops.keys().cloned().collect::<Vec<_>>());
    let wanted = {
        let of = |(date, plants, rule, to_sell)| Wanted { date, plants, rule, to_sell };
        vec((date(), few(500), out_rule(), any::<bool>()).prop_map(of), 0..5)
    };
    let stage = prop_oneof![Just(Stage::Sown), Just(Stage::Up), (0_u8..60).prop_map(Stage::TrueLeaves)];
    let begun = option::of((date(), stage).prop_map(|(on, stage)| Begun { on, stage }));
    let counted =
        option::of((any::<u32>(), any::<u32>(), 1950..2150).prop_map(|(up, sown, year)| Counted { up, sown, year }));
    let grown = select(vec![Grown::TooSmall, Grown::Right, Grown::TooBig]);
    let verdict = (grown, any::<u16>(), 1950..2150).prop_map(|(grown, days, year)| Verdict { grown, days, year });
    let before = (option::of(id().prop_map(SowingId)), vec(verdict, 0..3), option::of(0_u16..100));
    let words = (option::of(text()), text(), text(), counted, begun, before);
    let stack = (few(10), few(10)).prop_map(|(days, high)| Stack { days, high });
    let figures = (few(5), option::of(few(101)), 0_u8..96, option::of(stack), option::of(any::<bool>()), any::<bool>());
    (parts, crop, wanted, vec(seen(), 0..3), words, figures).prop_map(|(parts, crop, wanted, seen, words, figures)| {
        let (id, steps, lots) = parts;
        let (series, variety, note, germination_from, begun, (again_of, verdicts, harden_days)) = words;
        let (seeds_per_cell, germination_percent, losses_percent, stack, bottom_heat, alone) = figures;
        Sowing {
            id,
            series,
            crop,
            variety,
            begun,
            wanted,
            steps,
            lots,
            seen,
            seeds_per_cell,
            germination_percent,
            germination_from,
            losses_percent,
            stack,
            bottom_heat,
            harden_days,
            alone,
            again_of,
            verdicts,
            note,
        }
    })
}

fn guest() -> impl Strategy<Value = Guest> {
    let more = (any::<bool>(), option::of(0_u32..50_000));
    (id(), name(), measure(), measure(), option::of(measure()), 0_u16..5, span(), role(), more).prop_map(
        |(id, name, width, depth, height, number, span, role, (light, grams))| Guest {
            id: GuestId(id),
            name,
            size: Size { width, depth },
            height,
            number,
            span,
            role,
            light,
            grams,
        },
    )
}

fn tray() -> impl Strategy<Value = TrayKey> {
    prop_oneof![
        4 => (6_u32..8, 0_u32..3).prop_map(|(step, n)| TrayKey::Own { lot: LotId(8), step: StepId(step), n }),
        2 => (sowing_numbers(), 0_u32..3)
            .prop_map(|((_, step, lot), n)| TrayKey::Own { lot: LotId(lot), step: StepId(step), n }),
        1 => id().prop_map(|id| TrayKey::Shared(TrayId(id))),
        2 => (id(), 0_u32..3).prop_map(|(guest, n)| TrayKey::Guest { guest: GuestId(guest), n }),
    ]
}

fn note() -> impl Strategy<Value = TrayNote> {
    let cells = option::of((0_u16..9, 0_u16..9).prop_map(|(first, end)| first..end));
    let rows = (0_u16..9, 0_u16..9, cells, sowing_numbers()).prop_map(|(from, until, cells, (_, step, lot))| {
        TrayRows { rows: from..until, cells, lot: LotId(lot), step: StepId(step) }
    });
    (tray(), option::of(text()), vec(rows, 0..3), vec(tray(), 0..3)).prop_map(|(key, mark, rows, parents)| TrayNote {
        key,
        mark,
        rows,
        parents,
    })
}

fn spot_from() -> impl Strategy<Value = SpotFrom> {
    prop_oneof![3 => Just(SpotFrom::Start), 1 => date().prop_map(SpotFrom::On)]
}

fn spot() -> impl Strategy<Value = Spot> {
    let place = prop_oneof![8 => -9_000_i64..9_000_000, 1 => any::<i32>().prop_map(i64::from)];
    (tray(), spot_from(), id(), place.clone(), place, any::<u8>(), any::<bool>()).prop_map(
        |(tray, from, shelf, x, y, quarter_turns, pinned)| Spot {
            tray,
            from,
            until: None,
            shelf: ShelfId(shelf),
            x: Length::from_units(x),
            y: Length::from_units(y),
            quarter_turns,
            pinned,
        },
    )
}

pub(crate) fn edit() -> impl Strategy<Value = Edit> {
    let one = prop_oneof![
        4 => name().prop_map(Op::Rename),
        4 => text().prop_map(Op::SetNote),
        4 => settings().prop_map(Op::SetSettings),
        1 => id().prop_map(Op::Reserve),
        8 => away().prop_map(Op::PutAway),
        4 => id().prop_map(|id| Op::RemoveAway(AwayId(id))),
        12 => place().prop_map(Op::PutPlace),
        1 => id().prop_map(|id| Op::RemovePlace(PlaceId(id))),
        12 => rack().prop_map(Op::PutRack),
        1 => id().prop_map(|id| Op::RemoveRack(RackId(id))),
        20 => shelf().prop_map(Op::PutShelf),
        1 => id().prop_map(|id| Op::RemoveShelf(ShelfId(id))),
        4 => select(library().crops.values().cloned().collect::<Vec<_>>()).prop_map(|crop| Op::PutCrop(Box::new(crop))),
        4 => select(library().crops.keys().cloned().collect::<Vec<_>>()).prop_map(Op::RemoveCrop),
        8 => container().prop_map(Op::PutContainer),
        4 => own_container().prop_map(|key| Op::RemoveContainer(ContainerKey::new(key))),
        20 => sowing().prop_map(Op::PutSowing),
        4 => id().prop_map(|id| Op::RemoveSowing(SowingId(id))),
        12 => (id(), seen()).prop_map(|(id, seen)| Op::PutRecord(SowingId(id), seen)),
        4 => (id(), id()).prop_map(|(id, seen)| Op::RemoveRecord(SowingId(id), RecordId(seen))),
        8 => guest().prop_map(Op::PutGuest),
        4 => id().prop_map(|id| Op::RemoveGuest(GuestId(id))),
        12 => note().prop_map(Op::PutNote),
        4 => tray().prop_map(Op::RemoveNote),
        32 => spot().prop_map(Op::PutSpot),
        12 => (tray(), spot_from()).prop_map(|(tray, from)| Op::LiftTray { tray, from }),
        12 => (tray(), spot_from(), any::<bool>()).prop_map(|(tray, from, pinned)| Op::Pin { tray, from, pinned }),
        4 => vec(spot(), 0..4).prop_map(Op::SetLayout),
    ];
    let one = one.boxed();
    prop_oneof![
        12 => one.clone().prop_map(Edit::from),
        1 => vec(one, 0..4).prop_map(|ops| Edit::new(EditLabel::FindSpots, ops)),
    ]
}

pub(crate) fn start() -> Season {
    parse(include_str!("spring.ron"), Path::new("spring.ron")).unwrap()
}

/// The season that all start from after some edits; those that were refused are left out.
pub(crate) fn season() -> impl Strategy<Value = Season> {
    vec(edit(), 0..60).prop_map(|edits| {
        let mut season = start();
        for edit in &edits {
            let mut next = season.clone();
            if next.apply(edit).is_ok() {
                season = next;
            }
        }
        season
    })
}
