//! Seasons as a grower writes them, with the library's figures: what is to be said of each, and what not.
//!
//! Invented rooms; dates and counts are worked by hand. The ten courses themselves, date by date beside published
//! ones, are `tests/handbook/forecasts.rs`. Where each season is found:
//!
//! | season | test |
//! |---|---|
//! | tomato, pepper, lettuce in blocks, onion in an open flat, basil, petunia, celery, cabbage, cucumber, pansy for autumn, from an empty room | `tests/handbook/forecasts.rs`, by name; what is to be said of them: `asked_of_a_room.rs`, by name |
//! | sweet corn | `asked_of_a_room::sweet_corn_…` |
//! | nights of 6 °C | `a_cool_house_…` |
//! | a room and a tunnel | `two_houses_…` |
//! | a chamber of 28 °C, a frame of −6 °C | `a_warm_chamber_…` |
//! | no frame | `without_a_frame_…`; the shipped one `the_shipped_roomy_season_…` |
//! | not ready | `tomatoes_of_two_weeks_…` |
//! | a stack in the dark for nine days | `petunias_in_a_stack_…` |
//! | tomatoes in loose pots | `loose_pots_on_fully_lit_shelves_…`; in gallons `gallons_on_low_shelves_…` |
//! | rated shelves: open flats, other plants, 4 in pots | `four_open_flats_…`, `other_plants_…`, `four_inch_pots_…` |
//! | how many flats a shelf holds, 44 × 22 in and 22 × 22 in | `tests/command/holds.rs`, `a_flat_is_one_flat_…` |

use std::path::Path;

use flatwright::fit::{Cancel, Memory, Progress};
use flatwright::forecast::{Forecast, Phase, What, forecast};
use flatwright::outlook::{Effort, Keep, Outlook, Verdict, layout_problems, look_ahead, problems, spot_of};
use flatwright::season::{Op, Season, ShelfId, SowingId};
use flatwright::store;
use flatwright::units::LengthUnit;
use flatwright::words::Words;

use crate::support::GROWING;

/// Four shelves in place 1, all under lamps.
const LIT: &str = r#"
    (id: 20, rack: 11, size: "48 x 24 in", zones: [(kind: Lamp, size: "48 x 24 in")]),
    (id: 21, rack: 11, tier: 2, size: "48 x 24 in", zones: [(kind: Lamp, size: "48 x 24 in")]),
    (id: 22, rack: 11, tier: 3, size: "48 x 24 in", zones: [(kind: Lamp, size: "48 x 24 in")]),
    (id: 23, rack: 11, tier: 4, size: "48 x 24 in", zones: [(kind: Lamp, size: "48 x 24 in")]),"#;
/// In place 2.
const GROUND: &str = r#"(id: 30, rack: 12, size: "96 x 48 in", reach: BothSides),"#;
const ROOM: &str = r#"(id: 1, name: "Room", role: Growing, temperatures: (day: "21 °C", night: "17 °C")),"#;
const FRAME: &str = r#"(id: 2, name: "Frame", role: Hardening),"#;

/// A season, what is foreseen of it, and whether it fits.
pub(crate) struct Whole {
    pub(crate) season: Season,
    pub(crate) forecast: Forecast,
    pub(crate) outlook: Outlook,
}

impl Whole {
    /// Places 1 and 2 with a rack each (11, 12), shelves, and what grows; the last frost is even on 2 May.
    #[track_caller]
    fn of(places: &[&str], shelves: &[&str], sowings: &str) -> Self {
        Self::read(&format!(
            r#"(format: "flatwright season", version: 2, name: "a grower's season",
            settings: (frost: (date: "2026-05-02", later_in_ten: 5, temperature: "0 °C")),
            places: [{}], racks: [(id: 11, place: 1, name: "Rack"), (id: 12, place: 2, name: "Beds")],
            shelves: [{}], sowings: [{sowings}])"#,
            places.concat(),
            shelves.concat()
        ))
    }

    #[track_caller]
    pub(crate) fn read(text: &str) -> Self {
        match store::parse(text, Path::new("season.ron")) {
            Ok(season) => Self::look(season),
            Err(why) => panic!("{why}"),
        }
    }

    pub(crate) fn look(mut season: Season) -> Self {
        let forecast = forecast(&season, store::library());
        let work = (&mut Memory::default(), &Progress::default(), &Cancel::default());
        let looked = look_ahead(&season, &forecast, Keep::Pinned, Effort::default(), work.0, work.1, work.2);
        let outlook = looked.unwrap_or_else(|_| panic!("nobody cancelled it"));
        season.apply(&Op::SetLayout(outlook.layout.clone()).into()).expect("a layout");
        assert_eq!(layout_problems(&season, &forecast), [], "it stands as it may");
        Self { season, forecast, outlook }
    }

    fn words(&self) -> Words<'_> {
        let Self { season, forecast, .. } = self;
        Words { season, library: store::library(), forecast, unit: LengthUnit::Millimetre }
    }

    /// Everything worth a look, and why days are too full, but for leaves that meet.
    pub(crate) fn says(&self) -> Vec<String> {
        let words = self.words();
        let all = problems(&self.season, &self.forecast, Some(&self.outlook));
        let found = all.iter().map(|problem| words.problem(problem)).filter(|said| !said.contains("leaves meet"));
        found.chain(self.outlook.crunches.iter().map(|crunch| words.reason(crunch))).collect()
    }

    #[track_caller]
    pub(crate) fn fits(self) -> Self {
        assert_eq!(self.outlook.verdict, Verdict::Fits, "{:?}", self.says());
        self
    }

    /// What is foreseen of a sowing, line by line.
    pub(crate) fn course(&self, sowing: u32) -> Vec<String> {
        let words = self.words();
        let courses = self.forecast.courses_of(SowingId(sowing));
        courses.flat_map(|course| &course.events).map(|event| words.event(event)).collect()
    }

    /// The shelves on which plants that are up stand, each once.
    pub(crate) fn grow_on(&self, sowing: u32) -> Vec<u32> {
        let up = |phase| matches!(phase, Phase::Plugs | Phase::Pots);
        let own = self.forecast.stays.iter().filter(|stay| stay.sowing == Some(SowingId(sowing)) && up(stay.phase));
        let on = own.filter_map(|stay| spot_of(&self.season, stay, stay.span.from())).map(|spot| spot.shelf.0);
        let mut all: Vec<u32> = on.collect();
        all.sort_unstable();
        all.dedup();
        all
    }
}

#[track_caller]
fn sown(id: u32, crop: &str, (plants, out): (u32, &str), steps: &[&str], more: &str) -> String {
    let steps: Vec<String> = steps.iter().zip(id + 2..).map(|(step, id)| format!("(id: {id}, {step}), ")).collect();
    let steps = steps.concat();
    format!(
        r#"(id: {id}, crop: "{crop}", wanted: [(date: "{out}", plants: {plants})], steps: [{steps}],
        lots: [(id: {})], {more}),"#,
        id + 1
    )
}

const IN_72: &str = r#"container: "plug_72""#;
const IN_3_IN: &str = r#"container: "sq_3", carried_in: "flat_1020""#;
const IN_4_IN: &str = r#"container: "sq_4_18ct", carried_in: "flat_1020""#;

#[track_caller]
fn has(whole: &Whole, said: &str) {
    let all = whole.says();
    assert!(all.iter().any(|one| one == said), "{said}\nis not among {all:#?}");
}

/// (16 × 18 + 8 × 6) ∕ 24 = 14 °C in the mix. Pepper comes in below 10 °C, basil below 12 °C, celery below 4 °C.
#[test]
fn a_cool_house_with_nights_of_6_degrees_is_none_for_peppers_and_basil() {
    let house =
        r#"(id: 1, name: "Cool house", role: Growing, light: Daylight, temperatures: (day: "18 °C", night: "6 °C")),"#;
    let sowings = [
        sown(40, "pepper", (54, "2026-05-23"), &[IN_72, IN_4_IN], ""),
        sown(50, "basil", (36, "2026-05-23"), &[IN_72, IN_3_IN], ""),
        sown(60, "celery", (50, "2026-05-16"), &[IN_72], ""),
    ];
    let cool = Whole::of(&[house, FRAME], &[LIT, GROUND], &sowings.concat());
    assert_eq!(cool.outlook.verdict, Verdict::Crunch);
    let says = cool.says();
    let about = |name: &str| says.iter().filter(|said| said.contains(name)).collect::<Vec<_>>();
    for (crop, at) in [("Pepper (sweet or hot)", "10 °C"), ("Basil", "12 °C")] {
        has(&cool, &format!("{crop}: a mix of 14 °C is too cold for its seed, which wants 15.6 °C at least"));
        let harmed = format!(
            "; Cool house has 6 °C there, and it comes in below {at}: heat it, find a warmer place or start later"
        );
        assert!(about(crop).iter().any(|said| said.ends_with(&harmed)), "{crop}: {says:#?}");
    }
    // celery comes up and stands there
    assert!(about("Celery").iter().all(|said| said.contains("% come up in a mix of 14 °C")), "{says:#?}");
    assert_eq!(cool.forecast.courses_of(SowingId(60)).count(), 1);
    assert!(says.iter().any(|said| said.contains("have no place of the right warmth")), "{says:#?}");
}

#[test]
fn two_houses_and_the_peppers_stand_in_the_one_that_is_warm() {
    let tunnel =
        r#"(id: 2, name: "Tunnel", role: Growing, light: Daylight, temperatures: (day: "18 °C", night: "1 °C")),"#;
    let peppers = sown(40, "pepper", (54, "2026-05-23"), &[IN_72, IN_4_IN], "");
    // the tunnel comes first, and would hold them all
    let houses = Whole::of(&[tunnel, ROOM], &[GROUND, LIT], &peppers).fits();
    assert!(houses.grow_on(40).iter().all(|shelf| *shelf != 30), "{:?}", houses.grow_on(40));
    assert_eq!(
        houses.says(),
        [
            "No place to harden off in: Pepper (sweet or hot) wants it, from 16 May; add a table outdoors, a frame or a porch"
        ]
    );
}

/// Lettuce seed bears 26.7 °C at most, pansies' 24 °C.
#[test]
fn a_warm_chamber_is_none_for_lettuce_and_pansies_nor_a_freezing_frame_for_their_nights() {
    let frame = r#"(id: 2, name: "Frame", role: Hardening, temperatures: (day: "10 °C", night: "-6 °C")),"#;
    let chamber = r#"(id: 3, name: "Chamber", role: Germinating, temperatures: (day: "28 °C", night: "28 °C")),"#;
    let sowings = [
        sown(40, "lettuce", (72, "2026-04-18"), &[IN_72], ""),
        sown(50, "pansy", (72, "2026-04-18"), &[r#"container: "plug_50""#], ""),
    ]
    .concat();
    let with = |places: &[&str]| {
        let text = format!(
            r#"(format: "flatwright season", version: 2, name: "chamber", places: [{}],
            racks: [(id: 10, place: 3, name: "Chamber"), (id: 11, place: 1, name: "Rack"), (id: 12, place: 2, name: "Beds")],
            shelves: [(id: 19, rack: 10, size: "48 x 24 in"), {LIT} {GROUND}], sowings: [{sowings}])"#,
            places.concat()
        );
        Whole::read(&text)
    };
    let cool = with(&[chamber, ROOM, frame]).fits();
    let seed = cool.forecast.stays.iter().filter(|stay| stay.phase == Phase::Germinating);
    for stay in seed {
        let on = spot_of(&cool.season, stay, stay.span.from()).expect("it stands somewhere").shelf;
        assert_ne!(on, ShelfId(19), "{:?} lies in the chamber", stay.trays);
    }
    let by_day = |crop: &str| {
        format!(
            "{crop}: Frame has -6 °C at night, and it comes in below -2 °C: it hardens off there by day alone and keeps \
             its spot indoors for the nights, from 13 Apr until it goes out"
        )
    };
    assert_eq!(cool.says(), [by_day("Lettuce"), by_day("Pansy")]);
    // where there is nothing but such warmth, they do not come up
    let room = ROOM.replace("21 °C", "28 °C").replace("17 °C", "28 °C");
    let warm = with(&[chamber, &room, frame]);
    has(&warm, "Lettuce: a mix of 28 °C is too hot for its seed, which bears 26.7 °C at most");
    has(&warm, "Pansy: a mix of 28 °C is too hot for its seed, which bears 24 °C at most");
}

/// Cabbage hardens off for 7 days before 18 April, tomatoes for 10 before 16 May.
#[test]
fn without_a_frame_the_season_says_that_there_is_nowhere_to_harden_off() {
    let sowings = [
        sown(40, "tomato", (36, "2026-05-16"), &[IN_72, IN_4_IN], ""),
        sown(50, "cabbage", (54, "2026-04-18"), &[IN_72], ""),
    ];
    let more = r#"(id: 2, name: "Spare room", role: Growing),"#;
    let none = Whole::of(&[ROOM, more], &[LIT], &sowings.concat()).fits();
    let told = "No place to harden off in: 2 sowings want it, Cabbage first, from 11 Apr; add a table outdoors, a frame or a porch";
    assert_eq!(none.says(), [told]);
    assert_eq!(Whole::of(&[ROOM, FRAME], &[LIT, GROUND], &sowings.concat()).fits().says(), Vec::<String>::new());
}

#[test]
fn the_shipped_roomy_season_says_so_too() {
    let roomy = Whole::read(include_str!("../../examples/roomy.ron")).fits();
    let told = "No place to harden off in: 8 sowings want it, Lettuce ‘Butterhead’ first, from 29 Mar; add a table outdoors, a frame or a porch";
    has(&roomy, told);
}

#[test]
fn tomatoes_of_two_weeks_and_celery_of_three_are_said_to_be_too_young() {
    let sowings = [
        sown(40, "tomato", (72, "2026-05-16"), &[r#"container: "plug_72", start: On("2026-05-02")"#], ""),
        sown(50, "celery", (50, "2026-05-16"), &[r#"container: "plug_72", start: On("2026-04-25")"#], ""),
    ];
    let young = Whole::of(&[ROOM, FRAME], &[LIT, GROUND], &sowings.concat()).fits();
    assert_eq!(
        young.says(),
        [
            "Tomato: 14 days old when it goes out on 16 May, and wants 35 at least; sow 21 days earlier or plant out on \
             6 Jun or later",
            "Celery: 21 days old when it goes out on 16 May, and wants 70 at least; sow 49 days earlier or plant out on \
             4 Jul or later",
        ]
    );
}

/// 288 want 347 cells nine times in ten: two trays.
#[test]
fn petunias_in_a_stack_stand_apart_in_the_light_from_the_first_day() {
    let stack = "stack: (days: 9, high: 6)";
    let petunias = sown(40, "petunia", (288, "2026-05-16"), &[r#"container: "plug_288""#, IN_3_IN], stack);
    let apart = Whole::of(&[ROOM, FRAME], &[LIT, GROUND], &petunias).fits();
    has(
        &apart,
        "Petunia: its seed wants light to sprout, so its trays stand side by side in the light from the first day, not \
         9 days in a stack",
    );
    let seed: Vec<_> = apart.forecast.stays.iter().filter(|stay| stay.phase == Phase::Germinating).collect();
    assert!(seed.iter().all(|stay| stay.trays.len() == 1 && stay.needs.light), "{seed:?}");
    assert_eq!(apart.forecast.courses[0].date(What::Unstacked), None);
}

/// 14 × 7 of 3.27 in are 98 to a shelf: 300 stand on four, all of them lit.
#[test]
fn loose_pots_on_fully_lit_shelves_are_beyond_no_lamp() {
    let tomatoes = sown(40, "tomato", (300, "2026-05-16"), &[IN_72, r#"container: "sq_4_18ct""#], "");
    let loose = Whole::of(&[ROOM, FRAME], &[LIT, GROUND], &tomatoes).fits();
    let fullest = loose.outlook.weeks_of(GROWING).map(|week| week.needed).max();
    let beyond: u32 = loose.outlook.weeks_of(GROWING).map(|week| week.over_lit).sum();
    assert_eq!((fullest, beyond), (Some(300), 0));
    assert_eq!(loose.says(), Vec::<String>::new());
}

/// On 26 April, 29 days old, they are 10 cm tall; pot and 5 cm to the lamp leave less than that of 12 in.
#[test]
fn gallons_on_low_shelves_are_said_to_have_none_that_holds_one() {
    let low = LIT.replace("zones:", r#"clear_height: "12 in", zones:"#);
    let tomatoes = sown(40, "tomato", (40, "2026-05-16"), &[IN_72, r#"container: "trade_1""#], "");
    let gallons = Whole::of(&[ROOM, FRAME], &[&low, GROUND], &tomatoes);
    assert_eq!(gallons.outlook.verdict, Verdict::Crunch);
    let says = gallons.says();
    assert!(says.iter().any(|said| said.ends_with("want a spot on 26 Apr; no shelf holds one of them")), "{says:#?}");
    assert!(says.iter().any(|said| said.contains("outgrows every shelf on 26 Apr")), "{says:#?}");
    assert!(says.iter().all(|said| !said.contains("no shelf hold ") && !said.contains("0 at most")), "{says:#?}");
}

/// 900 onions want some 1,080 seeds, 300 to a flat of 545 × 278 mm: four flats.
#[test]
fn four_open_flats_do_not_stand_on_a_shelf_rated_for_two_and_a_half_kilograms() {
    let rated = |grams: u32| {
        let shelf = format!(
            r#"(id: 20, rack: 11, size: "48 x 24 in", load_grams: {grams}, zones: [(kind: Lamp, size: "48 x 24 in")]),"#
        );
        let onions = sown(40, "onion", (900, "2026-04-11"), &[r#"container: "flat_1020""#], "");
        Whole::of(&[ROOM, FRAME], &[&shelf, GROUND], &onions)
    };
    let weak = rated(2_500);
    assert_eq!(weak.outlook.verdict, Verdict::Crunch);
    let each = weak.forecast.stays[0].grams;
    assert!((5_000..9_000).contains(&each), "{each} g");
    let trays = weak.forecast.courses[0].trays[0].1;
    assert_eq!(trays, 4);
    has(&weak, "4 trays want a spot on 31 Jan; Rack may not bear the weight of one");
    let says = weak.says();
    assert!(says.iter().any(|said| said.ends_with("more than any shelf it may stand on is rated for: 2.5 kg at most")));
    rated(4 * each).fits();
    assert_eq!(rated(4 * each - 1).outlook.verdict, Verdict::Crunch);
}

/// As a flat of pots each, 8 kg on 545 × 280 mm.
#[test]
fn other_plants_weigh_on_their_shelf_by_their_size() {
    let guests = r#"guests: [(id: 70, name: "Geraniums", size: "21.44 x 10.94 in", number: 4,
        span: (from: "2026-03-01", until: "2026-05-01"), role: Growing)]"#;
    let rated = |grams: u32| {
        Whole::read(&format!(
            r#"(format: "flatwright season", version: 2, name: "guests", places: [{ROOM}],
            racks: [(id: 11, place: 1, name: "Rack")],
            shelves: [(id: 20, rack: 11, size: "48 x 24 in", load_grams: {grams})], {guests})"#
        ))
    };
    let weak = rated(20_000);
    assert_eq!(weak.forecast.stays.iter().map(|stay| stay.grams / 100).collect::<Vec<_>>(), [79; 4]);
    has(&weak, "4 trays want a spot on 1 Mar; Rack may bear the weight of 2 at most");
    rated(32_000).fits();
}

/// 18 pots of 473 ml and a flat: three of them to a shelf of 25 kg, where there is room for four.
#[test]
fn four_inch_pots_stand_as_many_as_the_shelves_bear() {
    let rated = LIT.replace("zones:", "load_grams: 25000, zones:");
    let peppers =
        |plants: u32| sown(40, "pepper", (plants, "2026-05-23"), &[IN_72, IN_4_IN], "germination_percent: 100");
    let whole = |plants: u32| Whole::of(&[ROOM, FRAME], &[&rated, GROUND], &peppers(plants));
    let fits = whole(12 * 18).fits();
    let grams = fits.forecast.stays.iter().filter(|stay| stay.phase == Phase::Pots).map(|stay| stay.grams).max();
    assert!(grams.is_some_and(|grams| (25_000 / 4 + 1..=25_000 / 3).contains(&grams)), "{grams:?}");
    let growing = fits.outlook.weeks_of(GROWING);
    let fullest = growing.max_by_key(|week| week.needed).expect("a week");
    assert_eq!((fullest.needed, fullest.held), (12, 12));
    let full = whole(13 * 18);
    assert_eq!(full.outlook.verdict, Verdict::Crunch);
    assert_eq!(
        full.says(),
        ["13 trays want a spot on 29 Apr; the 4 shelves that can take them may bear the weight of 12 at most"]
    );
}
