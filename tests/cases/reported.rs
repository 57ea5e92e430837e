//! Wrong answers that a review found, each as the season that gave it.

use std::path::Path;

use flatwright::fit::{Cancel, Memory, Progress};
use flatwright::forecast::{Course, Forecast, Phase, Problem, What, forecast};
use flatwright::outlook::{Effort, Keep, Outlook, PoolKind, Verdict, layout_problems, look_ahead};
use flatwright::season::{Role, Season, StepId};
use flatwright::store;

use crate::support::day;

struct Answer {
    season: Season,
    forecast: Forecast,
    outlook: Outlook,
}

/// Beside the growing place (id 1) and its rack (id 2) of every season here.
#[derive(Clone, Copy, Default)]
struct Ground<'a> {
    settings: &'a str,
    places: &'a str,
    racks: &'a str,
    shelves: &'a str,
}

#[track_caller]
fn answer(ground: Ground<'_>, sowings: &str, rest: &str) -> Answer {
    let Ground { settings, places, racks, shelves } = ground;
    let text = format!(
        r#"(format: "flatwright season", version: 1, name: "reported", {settings}
        places: [(id: 1, name: "room", role: Growing), {places}],
        racks: [(id: 2, place: 1, name: "r"), {racks}],
        shelves: [{shelves}], sowings: [{sowings}], {rest})"#
    );
    let season = match store::parse(&text, Path::new("reported.ron")) {
        Ok(season) => season,
        Err(why) => panic!("{why}"),
    };
    let forecast = forecast(&season, store::library());
    let (progress, cancel) = (Progress::default(), Cancel::default());
    let look =
        look_ahead(&season, &forecast, Keep::Pinned, Effort::default(), &mut Memory::default(), &progress, &cancel);
    let Ok(outlook) = look else { panic!("nobody cancelled it") };
    Answer { season, forecast, outlook }
}

const ONE_SHELF: Ground<'_> =
    Ground { settings: "", places: "", racks: "", shelves: r#"(id: 3, rack: 2, size: "48 x 24 in")"# };

const WITH_FRAME: Ground<'_> = Ground {
    settings: "",
    places: r#"(id: 5, name: "frame", role: Hardening)"#,
    racks: r#"(id: 6, place: 5, name: "f")"#,
    shelves: r#"(id: 3, rack: 2, size: "96 x 48 in"), (id: 7, rack: 6, size: "96 x 48 in")"#,
};

fn sowing(crop: &str, wanted: &str, steps: &str) -> String {
    format!(
        r#"(id: 20, crop: "{crop}", wanted: [{wanted}], steps: [{steps}], lots: [(id: 21)],
        germination_percent: 100, bottom_heat: false)"#
    )
}

/// Broccoli in trays of 72 cells, out on 14 April.
fn broccoli(plants: u32) -> String {
    sowing("broccoli", &format!(r#"(date: "2027-04-14", plants: {plants})"#), r#"(id: 22, container: "plug_72")"#)
}

impl Answer {
    fn on(&self, date: &str, phase: Phase) -> usize {
        self.forecast.on(day(date)).filter(|stay| stay.phase == phase).count()
    }

    fn is_out_of_order(&self) -> bool {
        self.forecast.problems.iter().any(|problem| matches!(problem, Problem::OutOfOrder { .. }))
    }
}

#[test]
fn pots_that_are_due_only_after_planting_out_still_want_room() {
    let steps = r#"(id: 22, container: "plug_72", start: On("2027-04-01")),
        (id: 23, container: "sq_4_18ct", carried_in: "flat_1020", start: On("2027-05-20"))"#;
    let found = answer(ONE_SHELF, &sowing("tomato", r#"(date: "2027-05-16", plants: 180)"#, steps), "");
    assert!(found.is_out_of_order());
    assert_eq!(found.on("2027-05-20", Phase::Pots), 10);
    assert_eq!(found.outlook.verdict, Verdict::Crunch);
}

#[test]
fn a_shared_tray_takes_only_the_rows_that_its_note_names_and_hardens() {
    let cabbage = r#"(id: 30, crop: "cabbage", wanted: [(date: "2027-04-14", plants: 20)],
        steps: [(id: 31, container: "plug_72")], lots: [(id: 32)], germination_percent: 100, bottom_heat: false)"#;
    let note = "notes: [(tray: Shared(40), rows: [(from: 0, until: 3, lot: 21, step: 22), \
                (from: 3, until: 6, lot: 32, step: 31)])]";
    let found = answer(WITH_FRAME, &format!("{}, {cabbage}", broccoli(500)), note);
    // 500 less three rows of twelve are 464: seven trays, and the shared one
    assert_eq!(found.on("2027-03-25", Phase::Plugs), 8);
    assert_eq!(found.on("2027-04-13", Phase::Hardening), 8, "the shared tray hardens with the others");
    let plants: u32 = found.forecast.on(day("2027-03-25")).map(|stay| stay.plants).sum();
    assert_eq!(plants, 520);
}

#[test]
fn plants_wanted_on_several_days_are_sown_for_the_first_and_harden_for_their_own() {
    let wanted = r#"(date: "2027-04-14", plants: 72), (date: "2027-05-14", plants: 72)"#;
    let found = answer(WITH_FRAME, &sowing("broccoli", wanted, r#"(id: 22, container: "plug_72")"#), "");
    assert_eq!([found.on("2027-04-13", Phase::Hardening), found.on("2027-05-13", Phase::Hardening)], [1, 1]);
    let sown = found.forecast.courses.first().and_then(|course| course.date(What::Sown));
    assert!(sown.is_some_and(|sown| sown < day("2027-03-10")), "{sown:?}");
}

#[test]
fn one_of_several_days_out_that_comes_before_the_sowing_is_a_problem() {
    let wanted = r#"(date: "2027-03-01", plants: 720), (date: "2027-05-14", plants: 72)"#;
    let steps = r#"(id: 22, container: "plug_72", start: On("2027-04-02"))"#;
    assert!(answer(ONE_SHELF, &sowing("broccoli", wanted, steps), "").is_out_of_order());
}

#[test]
fn a_tray_on_a_shelf_that_shuts_during_its_stay_is_told() {
    let shelves = r#"(id: 3, rack: 2, size: "48 x 24 in", closed: [(from: "2027-03-20", until: "2027-03-24")]),
        (id: 4, rack: 2, tier: 2, size: "48 x 24 in")"#;
    let spot = r#"spots: [(tray: Own(lot: 21, step: 22, n: 1), shelf: 3, x: "0 mm", y: "0 mm")]"#;
    let found = answer(Ground { shelves, ..ONE_SHELF }, &broccoli(40), spot);
    let told = layout_problems(&found.season, &found.forecast);
    let shut = |problem: &Problem| matches!(problem, Problem::OffShelf { day: on, .. } if *on == day("2027-03-20"));
    assert!(told.iter().any(shut), "{told:?}");
}

const LAWN: (&str, &str) = (
    r#"(id: 50, name: "lawn", role: Hardening, part: Days)"#,
    r#"(id: 51, place: 50, name: "l"), (id: 61, place: 60, name: "f")"#,
);

/// 560 broccoli with a lawn of 8 × 4 ft, and a frame of that size if one is asked for.
fn on_the_lawn(frame: Option<(&str, &str)>) -> Answer {
    let lawn = r#"(id: 3, rack: 2, size: "96 x 48 in"), (id: 52, rack: 51, size: "8 x 4 ft")"#;
    let Some((open, size)) = frame else {
        let racks = r#"(id: 51, place: 50, name: "l")"#;
        return answer(Ground { settings: "", places: LAWN.0, racks, shelves: lawn }, &broccoli(560), "");
    };
    let places = format!(r#"{}, (id: 60, name: "frame", role: Hardening, open: [{open}])"#, LAWN.0);
    let shelves = format!(r#"{lawn}, (id: 62, rack: 61, size: "{size}")"#);
    answer(Ground { settings: "", places: &places, racks: LAWN.1, shelves: &shelves }, &broccoli(560), "")
}

#[test]
fn a_small_frame_beside_a_lawn_proves_nothing() {
    assert_eq!(on_the_lawn(None).outlook.verdict, Verdict::Fits);
    let both = on_the_lawn(Some(("", "48 x 24 in")));
    assert_ne!(both.outlook.verdict, Verdict::Crunch, "{:?}", both.outlook.crunches);
}

#[test]
fn a_frame_that_opens_after_the_lawn_still_takes_the_nights() {
    let found = on_the_lawn(Some((r#"(from: "2027-04-08", until: "2027-05-01")"#, "8 x 4 ft")));
    assert_eq!(found.outlook.verdict, Verdict::Fits, "{:?}", found.outlook.crunches);
    let rule = store::library().crops.values().find(|crop| crop.name == "Broccoli").map(|crop| crop.hardening.value);
    let Some(rule) = rule else { panic!("no broccoli") };
    let from = day("2027-04-14") - chrono::TimeDelta::days(i64::from(rule.days));
    let night = (from + chrono::TimeDelta::days(i64::from(rule.first_night_after))).max(day("2027-04-08"));
    let indoors = |date: chrono::NaiveDate| found.on(&date.to_string(), Phase::Plugs);
    assert_eq!([indoors(night - chrono::TimeDelta::days(1)), indoors(night)], [8, 0]);
}

#[test]
fn a_gap_is_kept_between_trays_and_not_to_the_edge() {
    let settings = r#"settings: (gap: "3 mm", lamp_gap: "50 mm", sure_percent: 90),"#;
    // 10.94 in are 277.88 mm: twice that and the gap are 558.75
    for (size, trays) in [("545 x 278 mm", 1), ("545 x 559 mm", 2), ("545 x 558 mm", 1)] {
        let shelves = format!(r#"(id: 3, rack: 2, size: "{size}")"#);
        let ground = Ground { settings, shelves: &shelves, ..ONE_SHELF };
        let verdict = |plants| answer(ground, &broccoli(plants), "").outlook.verdict;
        assert_eq!(verdict(72 * trays), Verdict::Fits, "{trays} on {size}");
        assert_eq!(verdict(72 * trays + 1), Verdict::Crunch, "{} on {size}", trays + 1);
    }
}

#[test]
fn spaced_loose_pots_need_their_pitch_between_middles_only() {
    // eight by four pots 83 mm wide and 6 in apart: 7 × 152.4 + 83 by 3 × 152.4 + 83 mm
    let steps = r#"(id: 22, container: "sq_4_18ct", spaced: (after_days: 0, pitch: "6 in"))"#;
    let pots = |plants| sowing("broccoli", &format!(r#"(date: "2027-04-14", plants: {plants})"#), steps);
    let ground = Ground { shelves: r#"(id: 3, rack: 2, size: "1149.8 x 540.2 mm")"#, ..ONE_SHELF };
    assert_eq!(answer(ground, &pots(32), "").outlook.verdict, Verdict::Fits);
    let over = answer(ground, &pots(33), "").outlook;
    let crunch = over.crunches.first().map(|crunch| (crunch.needed, crunch.held, crunch.short));
    assert_eq!(crunch, Some((33, 32, 1)));
}

#[test]
fn a_later_lot_is_late_by_its_days_once() {
    let steps = r#"(id: 22, container: "plug_288", start: On("2027-02-01")), (id: 23, container: "plug_72"),
        (id: 24, container: "sq_4_18ct", carried_in: "flat_1020")"#;
    let sown = format!(
        r#"(id: 20, crop: "tomato", wanted: [(date: "2027-06-16", plants: 72)], steps: [{steps}],
        lots: [(id: 25), (id: 26, later: 7)], bottom_heat: false)"#
    );
    let found = answer(WITH_FRAME, &sown, "");
    for step in [23, 24] {
        let moved = |course: &Course| course.date(What::MovedOn(StepId(step)));
        let dates: Vec<_> = found.forecast.courses.iter().filter_map(moved).collect();
        let [first, second] = dates.as_slice() else { panic!("two lots: {dates:?}") };
        assert_eq!((*second - *first).num_days(), 7, "step {step}");
    }
}

#[test]
fn what_was_seen_to_leave_does_not_move_the_sowing() {
    let plain = broccoli(40);
    let seen = plain.replace("lots:", r#"seen: [(date: "2027-04-02", what: PutOut(40))], lots:"#);
    let [plain, seen] = [plain, seen].map(|text| answer(ONE_SHELF, &text, ""));
    let sown = |found: &Answer| found.forecast.courses.first().and_then(|course| course.date(What::Sown));
    assert_eq!(sown(&plain), sown(&seen));
    assert_eq!([plain.on("2027-04-02", Phase::Plugs), seen.on("2027-04-02", Phase::Plugs)], [1, 0]);
}

#[test]
fn large_floors_are_counted_without_placing_every_tray() {
    let ground = Ground { shelves: r#"(id: 3, rack: 2, size: "100 x 100 m")"#, ..ONE_SHELF };
    let found = answer(ground, &broccoli(100), "");
    let held = found.outlook.weeks_of(PoolKind::Of(Role::Growing)).next().map(|week| week.held);
    // 100 m by 100 m over 0.1526 m² is 65,530; the strips beside what stands hold most of it
    assert!(held.is_some_and(|held| (40_000..=65_530).contains(&held)), "{held:?}");
}
