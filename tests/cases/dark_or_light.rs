//! Lamp-lit, daylit or dark: what stands well lit, what stands beyond the lamps, and what may not stand at all.
//!
//! Sown on Monday 3 March 2025, up on the 7th, out on 21 April, which is 45 days. A shelf of 48 × 24 in holds four
//! sheets.

use flatwright::forecast::{Phase, Problem, What, Why};
use flatwright::outlook::{Outlook, Reason, layout_problems, problems};
use flatwright::season::{
    ContainerKind, Crop, DayRange, Library, Light, Op, Place, PlaceId, RimShape, Role, SeedLight, Shelf, ShelfId,
    Sourced, SowingId, Spot, SpotFrom, Stack, TrayKey, Zone, ZoneKind,
};
use flatwright::units::{Length, LengthUnit};
use flatwright::words::{Words, problem_kind};

use crate::support::{Grower, Manner, day, length, pot, seedling, shelf, stage, zone};

const SOWN: &str = "2025-03-03";
const UP: &str = "2025-03-07";
const OUT: &str = "2025-04-21";

fn lamp_lit(lamp: &str) -> Shelf {
    Shelf { zones: vec![zone(ZoneKind::Lamp, lamp)], ..shelf("48 x 24 in") }
}

#[track_caller]
fn lit_by(grower: &mut Grower, id: PlaceId, light: Light) {
    let place = grower.season.place(id).cloned().expect("it was made");
    grower.edit(&Op::PutPlace(Place { light, ..place }).into());
}

#[track_caller]
fn sheets(grower: &mut Grower, number: u32) -> SowingId {
    grower.sow(72 * number, &[stage("sheet of 72", SOWN)], OUT)
}

#[track_caller]
fn sheet(grower: &Grower, sowing: SowingId, n: u32) -> TrayKey {
    let sowing = grower.season.sowing(sowing).expect("it was sown");
    TrayKey::Own { lot: sowing.lots[0].id, step: sowing.steps[0].id, n }
}

#[track_caller]
fn put(grower: &mut Grower, tray: TrayKey, shelf: ShelfId, x: &str) {
    let (x, y) = (length(x), Length::ZERO);
    let spot = Spot { tray, from: SpotFrom::Start, until: None, shelf, x, y, quarter_turns: 0, pinned: false };
    grower.edit(&Op::PutSpot(spot).into());
}

const OF_LIGHT: [&str; 5] = ["beyond_lamps", "no_light", "in_the_dark", "stack_in_the_dark", "cover_seed"];

/// What is said of its light.
#[track_caller]
fn said(grower: &Grower, outlook: &Outlook) -> Vec<String> {
    let (forecast, library) = (grower.forecast(), Library::default());
    let words = Words { season: &grower.season, library: &library, forecast: &forecast, unit: LengthUnit::Inch };
    let all = problems(&grower.season, &forecast, Some(outlook));
    let of_light = all.iter().filter(|problem| OF_LIGHT.contains(&problem_kind(problem)));
    of_light.map(|problem| words.problem(problem)).collect()
}

/// Two under the lamp of 24 × 24 in, four in the greenhouse; the lamp hangs in a room of its own.
#[track_caller]
fn lamp_and_greenhouse(light: Light) -> Grower {
    let mut grower = Grower::growing(1, &lamp_lit("24 x 24 in"));
    let greenhouse = grower.place(Role::Growing);
    grower.rack(greenhouse, 1, &shelf("48 x 24 in"));
    lit_by(&mut grower, greenhouse, light);
    grower
}

#[test]
fn a_greenhouse_without_lamps_is_not_beyond_them() {
    // one that says nothing has lamps that nobody drew
    for light in [Light::Daylight, Light::Lamps] {
        let mut grower = lamp_and_greenhouse(light);
        sheets(&mut grower, 6);
        let looked = grower.look().fits();
        let week = looked.week("2025-03-19");
        assert_eq!((week.lit, week.over_lit), (Some(6), 0), "{light:?}");
        assert_eq!(looked.outlook.problems, []);
    }
}

#[test]
fn two_more_than_lamp_and_greenhouse_serve_are_beyond_the_lamp() {
    let mut grower = lamp_and_greenhouse(Light::Daylight);
    sheets(&mut grower, 8);
    let looked = grower.look().fits();
    let week = looked.week("2025-03-19");
    assert_eq!((week.needed, week.lit, week.over_lit), (8, Some(6), 2));
}

/// A room with a lamp over all of one shelf, and a shelf without.
#[track_caller]
fn room_with_floor() -> (Grower, ShelfId) {
    let mut grower = Grower::growing(1, &lamp_lit("48 x 24 in"));
    let place = grower.season.places().next().expect("one").id;
    let floor = grower.rack(place, 1, &shelf("48 x 24 in"))[0];
    (grower, floor)
}

#[test]
fn a_floor_without_lamp_in_a_lit_room_takes_the_fifth_beyond_the_lamps_for_45_days() {
    let (mut grower, _) = room_with_floor();
    sheets(&mut grower, 5);
    let looked = grower.look().fits();
    let week = looked.week("2025-03-19");
    assert_eq!((week.needed, week.lit, week.over_lit), (5, Some(4), 1));
    assert_eq!(
        said(&grower, &looked.outlook),
        ["Up to 1 tray beyond the lamps' good reach, on 45 days between 7 Mar – 20 Apr: hang more light, or let them \
          take turns under the lamps"]
    );
}

#[test]
fn a_floor_that_is_said_to_be_dark_takes_none() {
    let (mut grower, floor) = room_with_floor();
    let found = grower.season.shelf(floor).cloned().expect("it was made");
    grower.edit(&Op::PutShelf(Shelf { light: Some(Light::Dark), ..found }).into());
    let sowing = sheets(&mut grower, 5);
    let looked = grower.look();
    let crunch = looked.crunch(5, 4, 1);
    assert_eq!((crunch.span.from(), crunch.span.until()), (day(UP), day(OUT)), "until they are up it will do");
    let tray = sheet(&grower, sowing, 1);
    put(&mut grower, tray, floor, "0 in");
    let found = layout_problems(&grower.season, &grower.forecast());
    assert_eq!(found, [Problem::InTheDark { tray, shelf: floor, day: day(UP) }]);
    let sentence =
        "Se 1 (seedling) stands in the dark on rack from 7 Mar: move it under a lamp or into daylight that day";
    assert!(said(&grower, &looked.outlook).contains(&sentence.to_owned()), "{:?}", said(&grower, &looked.outlook));
}

#[test]
fn plants_that_have_nothing_but_a_dark_cellar_are_said_from_the_day_they_are_up() {
    let mut grower = Grower::growing(1, &shelf("48 x 24 in"));
    let cellar = grower.season.places().next().expect("one").id;
    lit_by(&mut grower, cellar, Light::Dark);
    sheets(&mut grower, 2);
    let looked = grower.look();
    let crunch = looked.crunch(2, 0, 2);
    assert_eq!((&crunch.reason, crunch.span.from()), (&Reason::Dark, day(UP)));
    assert_eq!(
        said(&grower, &looked.outlook),
        ["Se 1 (seedling) and 1 other have no place with light 7 Mar – 20 Apr: hang a lamp, or give them daylight"]
    );
}

/// 21.44 in of each tray lie crosswise under 12 in of lamp: not one stands well lit. Lengthwise two would.
#[test]
fn trays_that_stand_crosswise_under_a_narrow_lamp_are_all_beyond_it() {
    let mut grower = Grower::growing(1, &lamp_lit("48 x 12 in"));
    let shelf = grower.season.shelves().next().expect("one").id;
    let sowing = sheets(&mut grower, 4);
    let outlook = grower.look().fits().outlook;
    let beyond = |grower: &Grower| {
        problems(&grower.season, &grower.forecast(), Some(&outlook)).into_iter().find_map(|problem| match problem {
            Problem::BeyondLamps { most, pots, days, .. } => Some((most, pots, days)),
            _ => None,
        })
    };
    assert_eq!(beyond(&grower), Some((2, 0, 45)), "as they could stand");
    for (n, x) in (1..).zip(["0 in", "10.94 in", "21.88 in", "32.82 in"]) {
        let tray = sheet(&grower, sowing, n);
        put(&mut grower, tray, shelf, x);
    }
    assert_eq!(beyond(&grower), Some((4, 0, 45)), "as they do stand");
}

/// 7 cm pots on benches of 100 × 60 cm, with those zones.
#[track_caller]
fn benches(pots: u32, zones: &[Vec<Zone>]) -> Grower {
    let mut grower = Grower::new();
    let place = grower.place(Role::Growing);
    for zones in zones {
        grower.rack(place, 1, &Shelf { zones: zones.clone(), ..shelf("100 x 60 cm") });
    }
    grower.container("pot", ContainerKind::Pot(pot(RimShape::Square, "7 cm")));
    grower.sow(pots, &[stage("pot", SOWN)], OUT);
    grower
}

/// 14 × 8 = 112 on each bench: 150 pots want light as pots, and so they are counted.
#[test]
fn loose_pots_on_fully_lit_benches_are_beyond_no_lamp() {
    let lamp = || vec![zone(ZoneKind::Lamp, "100 x 60 cm")];
    let mut grower = benches(150, &[lamp(), lamp()]);
    // 27.8 × 54.5 cm: what is commonest that day are not the pots
    sheets(&mut grower, 1);
    let looked = grower.look().fits();
    assert_eq!(looked.week("2025-03-19").over_lit, 0);
    assert_eq!(looked.outlook.problems, []);
}

/// Half of it is 7 × 8 = 56.
#[test]
fn pots_beyond_a_lamp_over_half_a_bench_are_said_as_pots() {
    let grower = benches(100, &[vec![zone(ZoneKind::Lamp, "50 x 60 cm")]]);
    let looked = grower.look().fits();
    let week = looked.week("2025-03-19");
    assert_eq!((week.needed, week.lit, week.over_lit), (100, Some(56), 44));
    let sentence = "Up to 44 loose pots beyond the lamps' good reach, on 45 days between 7 Mar – 20 Apr: hang more light, \
                    or let them take turns under the lamps";
    assert_eq!(said(&grower, &looked.outlook), [sentence]);
}

/// Up after 5 to 12 days, likely 8; stacked for 9.
#[track_caller]
fn stacked(light: SeedLight) -> (Grower, SowingId) {
    let days = DayRange { early: 5, likely: 8, late: 12 };
    let mut grower = Grower::growing(1, &lamp_lit("48 x 24 in"));
    let crop = Crop { emergence: Sourced::own(days), light_to_germinate: light, ..seedling() };
    grower.edit(&Op::PutCrop(Box::new(crop)).into());
    let manner = Manner { stack: Some(Stack { days: 9, high: 4 }), bottom_heat: false };
    let sowing = grower.sow_so(288, &[stage("sheet of 72", SOWN)], OUT, manner);
    (grower, sowing)
}

#[test]
fn a_stack_is_taken_apart_when_the_first_are_up() {
    for light in [SeedLight::Either, SeedLight::Dark] {
        let (grower, sowing) = stacked(light);
        let forecast = grower.forecast();
        let course = forecast.courses_of(sowing).next().expect("it is sown");
        let event = course.events.iter().find(|event| event.what == What::Unstacked).expect("it was stacked");
        assert_eq!((event.date, event.why), (day("2025-03-08"), Why::CropDays));
        // one pile of four until then, four trays until the likely day
        let looked = grower.look().fits();
        let places = ["2025-03-07", "2025-03-08", "2025-03-10"].map(|date| looked.places_on(date));
        assert_eq!(places, [1, 4, 4]);
        let plugs = forecast.stays.iter().filter(|stay| stay.phase == Phase::Plugs).map(|stay| stay.span.from());
        assert_eq!(plugs.min(), Some(day("2025-03-11")));
    }
}

#[test]
fn seed_that_wants_light_is_not_stacked_in_the_dark() {
    let (grower, sowing) = stacked(SeedLight::Light);
    let forecast = grower.forecast();
    assert!(forecast.problems.contains(&Problem::StackInTheDark { sowing, days: 9 }), "{:?}", forecast.problems);
    let looked = grower.look().fits();
    assert_eq!(looked.places_on(SOWN), 4);
    assert_eq!(looked.event(sowing, What::Unstacked), None);
    let sentence = "seedling: its seed wants light to sprout, so its trays stand side by side in the light from the first \
                    day, not 9 days in a stack";
    assert_eq!(said(&grower, &looked.outlook), [sentence]);
}

/// A room with a lamp, and a shelf of its own that may be dark; up after 5 days at the earliest.
#[track_caller]
fn wants_dark(light: Option<Light>) -> Vec<String> {
    let days = DayRange { early: 5, likely: 8, late: 12 };
    let (mut grower, floor) = room_with_floor();
    let crop = Crop { emergence: Sourced::own(days), light_to_germinate: SeedLight::Dark, ..seedling() };
    grower.edit(&Op::PutCrop(Box::new(crop)).into());
    let found = grower.season.shelf(floor).cloned().expect("it was made");
    grower.edit(&Op::PutShelf(Shelf { light, ..found }).into());
    sheets(&mut grower, 1);
    let looked = grower.look().fits();
    assert!(looked.forecast.stays.iter().any(|stay| stay.phase == Phase::Germinating), "it was sown");
    said(&grower, &looked.outlook)
}

#[test]
fn seed_that_wants_dark_is_to_be_covered_where_no_shelf_is_dark() {
    let sentence = "seedling: its seed wants dark to sprout, and no shelf is dark: cover it with mix, or its trays, until \
                    the first are up, about 8 Mar";
    assert_eq!(wants_dark(None), [sentence]);
    assert_eq!(wants_dark(Some(Light::Dark)), Vec::<String>::new());
}
