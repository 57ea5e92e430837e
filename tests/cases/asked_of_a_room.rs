//! One sowing each in an empty room, as a line of it says, with the library's figures: what is to be said of it,
//! and when it is where. The same courses stand beside published ones in `tests/handbook/forecasts.rs`.
//!
//! An invented room: four lamp-lit shelves of 48 × 24 in at 21 °C by day and 17 °C at night, a mat of 25 °C, a frame
//! with nights of 8 °C. The last frost has even chances on 2 May; one year in ten has a later one than 16 May, which is
//! the risk taken.

use flatwright::forecast::{Phase, Problem, What};
use flatwright::season::{Op, SowingId};
use flatwright::store;
use flatwright::trade::QuickLine;

use crate::support::day;
use crate::whole_seasons::Whole;

const ROOM: &str = r#"(
    format: "flatwright season", version: 2, name: "Asked of a room",
    settings: (frost: (date: "2026-05-16", later_in_ten: 1, temperature: "0 °C", table: [
        (temperature: "0 °C", later_in_ten: 5, date: "2026-05-02"),
        (temperature: "0 °C", later_in_ten: 1, date: "2026-05-16")])),
    places: [
        (id: 1, name: "Room", role: Growing, temperatures: (day: "21 °C", night: "17 °C", mat: "25 °C")),
        (id: 2, name: "Frame", role: Hardening, temperatures: (day: "15 °C", night: "8 °C")),
        MORE
    ],
    racks: [(id: 3, place: 1, name: "Rack"), (id: 4, place: 2, name: "Frame"), BENCH],
    shelves: [
        (id: 5, rack: 3, size: "48 x 24 in", clear_height: "20 in",
            zones: [(kind: Lamp, size: "48 x 24 in"), (kind: Heat, size: "48 x 22 in")]),
        (id: 6, rack: 3, tier: 2, size: "48 x 24 in", clear_height: "20 in", zones: [(kind: Lamp, size: "48 x 24 in")]),
        (id: 7, rack: 3, tier: 3, size: "48 x 24 in", clear_height: "20 in", zones: [(kind: Lamp, size: "48 x 24 in")]),
        (id: 8, rack: 3, tier: 4, size: "48 x 24 in", clear_height: "20 in", zones: [(kind: Lamp, size: "48 x 24 in")]),
        (id: 9, rack: 4, size: "96 x 48 in", reach: BothSides),
        BED
    ],
)"#;

fn room() -> String {
    ["MORE", "BENCH", "BED"].iter().fold(ROOM.to_owned(), |text, name| text.replace(name, ""))
}

#[track_caller]
fn asked(line: &str) -> Whole {
    asked_of(&room(), line)
}

#[track_caller]
fn asked_of(room: &str, line: &str) -> Whole {
    let mut season = Whole::read(room).season;
    let library = store::library();
    let frost = season.settings().frost.clone();
    let (crops, containers) = (library.crops.values(), library.containers.values());
    let read = QuickLine::read(line, crops, containers, day("2026-01-10"), frost.as_ref());
    let read = read.unwrap_or_else(|why| panic!("{line}: {why}"));
    let sowing = read.sowing(&library.crops[&read.crop], library).renumbered(season.next_id());
    season.apply(&Op::PutSowing(sowing).into()).expect("a sowing");
    Whole::look(season)
}

fn sowing(whole: &Whole) -> SowingId {
    whole.forecast.courses[0].sowing
}

#[track_caller]
fn on(whole: &Whole, what: What) -> Option<chrono::NaiveDate> {
    whole.forecast.courses[0].date(what)
}

#[track_caller]
fn nothing_else_is_said(whole: &Whole) {
    assert_eq!(whole.says(), Vec::<String>::new());
}

/// The first nights out were five days before the date whose risk the grower takes.
#[test]
fn tomatoes_harden_by_day_until_the_frost_is_over_and_their_leaves_meet() {
    let whole = asked("72 tomato, out 16 May").fits();
    assert_eq!(on(&whole, What::Sown), Some(day("2026-03-28")));
    assert_eq!(on(&whole, What::Hardening), Some(day("2026-05-06")));
    assert_eq!(on(&whole, What::FirstNightOut), None, "it goes out on the day of the frost, and no night before");
    let pots = whole.season.sowing(sowing(&whole)).expect("it is there").steps[1].id;
    assert_eq!(on(&whole, What::LeavesMeet(pots)), Some(day("2026-04-24")));
    let deep = "potted on 24 Apr into 4 in trade square pot, set deep, to the seed leaves";
    assert!(
        whole.course(sowing(&whole).0).iter().any(|event| event.starts_with(deep)),
        "{:?}",
        whole.course(sowing(&whole).0)
    );
    nothing_else_is_said(&whole);
}

/// Comes in below 10 °C, where the frame has nights of 8.
#[test]
fn peppers_are_as_a_grower_would_have_them_but_for_the_nights_in_a_cold_frame() {
    let whole = asked("54 pepper, out 23 May").fits();
    assert_eq!(on(&whole, What::Sown), Some(day("2026-03-21")));
    assert_eq!(whole.forecast.courses[0].trays.iter().map(|(_, trays)| *trays).collect::<Vec<_>>(), [1, 3]);
    let nights = "Pepper (sweet or hot): Frame has 8 °C at night, and it comes in below 10 °C: it hardens off there by day \
                  alone and keeps its spot indoors for the nights, from 20 May until it goes out";
    assert_eq!(whole.says(), [nights]);
}

/// 99 of 100 come up at 20 °C: 216 blocks are enough for 212 nine times in ten (binomial law), five flats of 50.
#[test]
fn lettuce_stands_in_five_flats_of_blocks() {
    let whole = asked("212 lettuce in soil_block_50, out 18 Apr").fits();
    let course = &whole.forecast.courses[0];
    assert_eq!((course.sow.sure, course.trays[0].1), (216, 5));
    nothing_else_is_said(&whole);
}

#[test]
fn onions_stand_in_three_open_flats() {
    let whole = asked("600 onion, out 11 Apr").fits();
    assert_eq!(whole.forecast.courses[0].trays.iter().map(|(_, trays)| *trays).collect::<Vec<_>>(), [3]);
    nothing_else_is_said(&whole);
}

/// Potted on 19 May and out on 23 May was four days in the pot, with hardening from the day after.
#[test]
fn basil_roots_through_its_pot_before_it_goes() {
    let whole = asked("36 basil, out 23 May").fits();
    let pots = whole.season.sowing(sowing(&whole)).expect("it is there").steps[1].id;
    let potted = on(&whole, What::MovedOn(pots)).expect("it is potted");
    assert!((day("2026-05-23") - potted).num_days() >= 14, "potted on {potted}");
    assert!(whole.says().iter().all(|said| !said.contains("roots through")), "{:?}", whole.says());
}

/// Nine weeks to flower at the least, twelve as sown; by its own best of 24 °C on the mat in a room of 19.7.
#[test]
fn petunias_to_sell_are_on_the_mat_and_in_flower_in_time() {
    let whole = asked("108 petunia, sell 16 May").fits();
    assert!(on(&whole, What::InFlower).is_some_and(|date| date <= day("2026-05-16")));
    let seed = whole.forecast.stays.iter().find(|stay| stay.phase == Phase::Germinating).expect("it is sown");
    assert!(seed.needs.heat && seed.needs.light);
    assert!(whole.says().iter().all(|said| !said.contains("in flower")), "{:?}", whole.says());
}

/// Celery bolts of ten days below 13 °C when it is young: it is not hardened by cold.
#[test]
fn celery_stays_out_of_the_frame_and_is_told_to_bolt_where_it_would() {
    let whole = asked("50 celery, out 23 May").fits();
    assert_eq!((on(&whole, What::Hardening), on(&whole, What::FirstNightOut)), (None, None));
    nothing_else_is_said(&whole);
    // (16 × 15 + 8 × 8) ∕ 24 = 12.7 °C
    let cold = room().replace("21 °C", "15 °C").replace("17 °C", "8 °C");
    let bolts = asked_of(&cold, "50 celery, out 23 May").says();
    let told = "days with a mean below 13 °C from";
    assert!(bolts.iter().any(|said| said.starts_with("Celery: ") && said.contains(told)), "{bolts:?}");
}

#[test]
fn cabbage_stays_in_one_tray_of_cells() {
    let whole = asked("54 cabbage, out 18 Apr").fits();
    assert_eq!(whole.forecast.courses[0].trays.iter().map(|(_, trays)| *trays).collect::<Vec<_>>(), [1]);
    nothing_else_is_said(&whole);
}

/// Eight days in a dark stack were planned, where it is up after six at 19.7 °C.
#[test]
fn cucumbers_come_up_in_a_week_and_never_in_the_dark() {
    let whole = asked("36 cucumber, out 23 May").fits();
    let up = on(&whole, What::Up).expect("it comes up");
    assert_eq!(up, day("2026-05-08"), "six days after 2 May");
    assert_eq!(on(&whole, What::Unstacked), None);
}

/// Lit shelves were asked for in August, for ten weeks: a bench by daylight will do, for nine.
#[test]
fn pansies_for_autumn_stand_in_daylight_where_there_is_a_bench() {
    let room = ROOM
        .replace(
            "MORE",
            r#"(id: 10, name: "Bench", role: Growing, light: Daylight, temperatures: (day: "22 °C", night: "16 °C")),"#,
        )
        .replace("BENCH", r#"(id: 11, place: 10, name: "Bench")"#)
        .replace("BED", r#"(id: 12, rack: 11, size: "96 x 48 in", reach: BothSides)"#);
    let whole = asked_of(&room, "90 pansy, sell 20 Sep").fits();
    assert_eq!(whole.grow_on(sowing(&whole).0), [12]);
    let sown = on(&whole, What::Sown).expect("it is sown");
    assert!((56..=63).contains(&(day("2026-09-20") - sown).num_days()), "{sown}");
    let problems = &whole.forecast.problems;
    let warm = |problem: &Problem| matches!(problem, Problem::TooWarm { .. } | Problem::WontComeUp { .. });
    assert!(!problems.iter().any(warm), "{:?}", whole.says());
    // August in a house of 31 °C by day and 22 at night: 28 °C in the mix
    let hot =
        room.replace("22 °C", "31 °C").replace("16 °C", "22 °C").replace("21 °C", "31 °C").replace("17 °C", "22 °C");
    let told = asked_of(&hot, "90 pansy, sell 20 Sep").says();
    let seed = "Pansy: a mix of 28 °C is too hot for its seed, which bears 24 °C at most";
    assert!(told.iter().any(|said| said == seed), "{told:?}");
    assert!(told.iter().any(|said| said.starts_with("Pansy: ") && said.contains("at 31 °C by day in ")), "{told:?}");
}

/// Hardened off for 10 of 21 days, outdoors at 11 days from sowing: 3 days are enough.
#[test]
fn sweet_corn_goes_outside_for_its_last_three_days() {
    let whole = asked("50 sweet corn, out 16 May").fits();
    assert_eq!(on(&whole, What::Sown), Some(day("2026-04-25")));
    assert_eq!(on(&whole, What::Hardening), Some(day("2026-05-13")));
    nothing_else_is_said(&whole);
}
