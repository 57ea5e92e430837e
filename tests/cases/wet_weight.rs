//! What wet mix weighs against what a shelf is rated for. Invented figures, worked by hand.
//!
//! Mix at 0.85 g/ml, an open flat filled to 1 cm below its rim of 6 cm, 500 g beside the mix on 545 × 280 mm.

use flatwright::outlook::{OnDay, Overload, Reason, Standing, free_spot, landing, standing};
use flatwright::season::{ContainerKind, Op, Pot, RimShape, Season, Shelf, Sourced, Spot, SpotFrom, TrayKey};
use flatwright::store;
use flatwright::units::{Length, LengthUnit, Typed};
use flatwright::words::Words;

use crate::support::{GROWING, Grower, Looked, day, flat, length, pot, shelf, stage};

const OUTER: &str = "560 x 280 mm";
/// 560 × 280 mm, 5 cm deep: 7.84 l, 6664 g; and 500 × 156800 / 152600 = 513.8 g.
const FLAT_GRAMS: u32 = 7_178;

/// One shelf with room for four such flats.
#[track_caller]
fn on_a_shelf_rated(grams: u32) -> Grower {
    let mut grower = Grower::growing(1, &Shelf { load_grams: Some(grams), ..shelf("1120 x 560 mm") });
    grower.container("open flat", ContainerKind::Flat(flat(OUTER)));
    grower
}

#[track_caller]
fn flats(number: u32, rated: u32) -> Looked {
    let mut grower = on_a_shelf_rated(rated);
    grower.sow(number * 100, &[stage("open flat", "2025-03-03").holding(100)], "2025-04-14");
    grower.look()
}

#[track_caller]
fn says(looked: &Looked, problem: usize) -> String {
    let words = Words {
        season: &looked.season,
        library: store::library(),
        forecast: &looked.forecast,
        unit: LengthUnit::Millimetre,
    };
    words.problem(&looked.outlook.problems[problem])
}

#[test]
fn an_open_flat_weighs_what_the_mix_in_it_weighs() {
    let looked = flats(2, 50_000).fits();
    assert!(looked.forecast.stays.iter().all(|stay| stay.grams == FLAT_GRAMS), "{:?}", looked.forecast.stays);
}

/// Half a kilogram each, whatever their size, let four of them stand there.
#[test]
fn a_shelf_rated_for_two_and_a_half_kilograms_bears_no_open_flat() {
    let looked = flats(4, 2_500);
    let crunch = looked.crunch(4, 0, 4);
    assert!(matches!(crunch.reason, Reason::Weight { .. }), "{:?}", crunch.reason);
    assert_eq!(
        says(&looked, 0),
        "Se 1 (seedling) is about 7.2 kg when watered, more than any shelf it may stand on is rated for: 2.5 kg at most"
    );
}

#[test]
fn the_rating_counts_in_what_a_shelf_holds() {
    // three are 21,534 g
    let looked = flats(2, 21_534).fits();
    let week = looked.week("2025-03-19");
    assert_eq!((week.needed, week.held, week.spare), (2, 3, 1));
    flats(3, 21_534).fits();
    let crunch = flats(4, 21_534);
    let crunch = crunch.crunch(4, 3, 1);
    assert!(matches!(crunch.reason, Reason::Weight { .. }), "{:?}", crunch.reason);
    // one gram less, and it bears two
    assert!(matches!(flats(3, 21_533).crunch(3, 2, 1).reason, Reason::Weight { .. }));
    assert_eq!(flats(2, 21_533).fits().week("2025-03-19").held, 2);
}

#[test]
fn a_week_in_which_nothing_stands_holds_no_more_than_the_shelf_bears() {
    let mut grower = on_a_shelf_rated(21_534);
    for (from, until) in [("2025-03-03", "2025-03-10"), ("2025-03-24", "2025-04-14")] {
        grower.sow(100, &[stage("open flat", from).holding(100)], until);
    }
    let looked = grower.look().fits();
    assert_eq!((looked.week("2025-03-19").needed, looked.week("2025-03-19").held), (0, 3));
}

/// 16 of them have room in 4 rows of 4; each is 500 ml of mix, 425 g, and 500 × 10000 / 152600 = 32.8 g.
#[test]
fn loose_pots_are_counted_by_what_the_shelf_bears() {
    let pots = |rim, number, rated| {
        let mut grower = Grower::growing(1, &Shelf { load_grams: Some(rated), ..shelf("400 x 400 mm") });
        let volume = Some(Sourced::own(Typed::parse_volume("500 ml").unwrap()));
        grower.container("pot", ContainerKind::Pot(Pot { volume, ..pot(rim, "10 cm") }));
        grower.sow(number, &[stage("pot", "2025-03-03")], "2025-04-14");
        grower.look()
    };
    // 12 weigh 5493.2 g
    let twelve = pots(RimShape::Square, 12, 5_494).fits();
    assert_eq!(twelve.week("2025-03-19").held, 12);
    let crunch = pots(RimShape::Square, 16, 5_494);
    let crunch = crunch.crunch(16, 12, 4);
    assert!(matches!(crunch.reason, Reason::Weight { .. }), "{:?}", crunch.reason);
    pots(RimShape::Square, 16, 7_325).fits();
    // round ones: 25.7 g beside 425 g; 12 weigh 5408.9 g
    pots(RimShape::Round, 12, 5_409).fits();
    let crunch = pots(RimShape::Round, 16, 5_409);
    assert!(matches!(crunch.crunch(16, 12, 4).reason, Reason::Weight { .. }));
}

#[test]
fn other_plants_weigh_by_their_size_unless_they_were_weighed() {
    let guests = |grams| {
        let mut grower = on_a_shelf_rated(20_000);
        grower.guests(3, "545 x 280 mm", "2025-03-03", "2025-04-14");
        let mut guest = grower.season.guests().next().unwrap().clone();
        guest.grams = grams;
        grower.edit(&Op::PutGuest(guest).into());
        grower.look()
    };
    // as a flat of pots: 8 kg each
    let looked = guests(None);
    assert!(looked.forecast.stays.iter().all(|stay| stay.grams == 8_000));
    assert!(matches!(looked.crunch(3, 2, 1).reason, Reason::Weight { .. }));
    guests(Some(6_666)).fits();
    guests(Some(6_667)).crunch(3, 2, 1);
}

/// Two sowings of 100 in the rows of one flat: one flat of mix, not two.
#[test]
fn a_flat_that_is_shared_weighs_once() {
    let mut grower = on_a_shelf_rated(50_000);
    let sowings = [0, 1].map(|_| grower.sow(50, &[stage("open flat", "2025-03-03").holding(100)], "2025-04-14"));
    grower.share_a_tray(&sowings);
    let looked = grower.look().fits();
    let shared: Vec<_> = looked.forecast.on(day("2025-03-19")).map(|stay| (stay.tray(), stay.grams)).collect();
    assert!(matches!(shared.as_slice(), [(Some(TrayKey::Shared(_)), FLAT_GRAMS)]), "{shared:?}");
    assert_eq!(looked.outlook.weeks_of(GROWING).map(|week| week.needed).max(), Some(1));
}

/// Two of 7,178 g are 14,356 g from the second's first day on.
#[test]
fn a_tray_in_the_hand_is_said_to_be_too_much_for_the_shelf_before_it_is_put_there() {
    let mut grower = on_a_shelf_rated(10_000);
    let shelf = grower.season.shelves().next().unwrap().id;
    let tray = |grower: &mut Grower, sown: &str, x: &str| {
        let id = grower.sow(100, &[stage("open flat", sown).holding(100)], "2025-04-14");
        grower.change(id, |sowing| sowing.alone = true);
        let sowing = grower.season.sowing(id).unwrap();
        let tray = TrayKey::Own { lot: sowing.lots[0].id, step: sowing.steps[0].id, n: 1 };
        let (x, y, from) = (length(x), Length::ZERO, SpotFrom::Start);
        Spot { tray, from, until: None, shelf, x, y, quarter_turns: 0, pinned: false }
    };
    let first = tray(&mut grower, "2025-03-03", "0 mm");
    let second = tray(&mut grower, "2025-03-10", "560 mm");
    let (on, forecast) = (day("2025-03-19"), grower.forecast());
    let overload = |season: &Season, spot: &Spot| match standing(season, &forecast, spot, day("2025-03-10")) {
        Standing::Free { overload, .. } => overload,
        Standing::Refused(why) => panic!("{why:?}"),
    };
    assert_eq!(overload(&grower.season, &second), None, "alone");
    grower.edit(&Op::PutSpot(first).into());
    let season = &grower.season;
    let told = Overload { day: day("2025-03-10"), grams: u64::from(2 * FLAT_GRAMS), rated: 10_000 };
    assert_eq!(overload(season, &second), Some(told));
    let at = OnDay { season, forecast: &forecast, day: on, from_day: false };
    let stay = at.stay_of(second.tray).unwrap();
    let words = Words { season, library: store::library(), forecast: &forecast, unit: LengthUnit::Millimetre };
    let said = words.landing(&landing(&at, stay, second).unwrap());
    assert!(said.contains("14.4 kg on a shelf rated for 10 kg from 19 Mar"), "{said}");
    assert_eq!(free_spot(&at, stay, None), None, "nor is it put there by the program");
}
