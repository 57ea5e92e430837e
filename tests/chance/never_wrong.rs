//! What chance says of a draw, held against the solver's answer to that very season.

use flatwright::fit::{Cancel, Memory, Progress};
use flatwright::forecast::{self, Problem, Scenario, Stay};
use flatwright::outlook::{ChanceWeek, Effort, Keep, Outlook, Verdict, Week, look_ahead};
use flatwright::season::{Op, Role, Season};

use crate::seasons::{drawn, example, library, read};

fn ahead(season: &Season, scenario: &Scenario) -> Outlook {
    let forecast = forecast::drawn(season, library(), scenario);
    let (progress, cancel) = (Progress::default(), Cancel::default());
    let mut memory = Memory::default();
    let effort = Effort(300_000);
    look_ahead(season, &forecast, Keep::Pinned, effort, &mut memory, &progress, &cancel).expect("nobody cancels")
}

fn indoors(pool: &flatwright::outlook::Pool) -> bool {
    pool.kind != flatwright::outlook::PoolKind::Of(Role::Hardening)
}

/// How many weeks were proven too full, and how many were left open, so that the test has something
/// to hold.
#[track_caller]
fn never_wrong(season: &Season, draws: std::ops::Range<u32>) -> (u32, u32) {
    let (mut proven, mut open) = (0, 0);
    for draw in draws {
        let chance = drawn(season, draw, 1);
        let outlook = ahead(season, &Scenario::draw(draw));
        for week in &outlook.weeks {
            let of: &ChanceWeek = chance.of(week).unwrap_or_else(|| panic!("draw {draw}: no chance of {week:?}"));
            assert!(of.proven <= of.at_most);
            assert_eq!(of.label, week.label);
            assert_eq!(of.pool, week.pool);
            if of.proven == 1 {
                // what places are short of together may be missing in either of them
                let near = |other: &&Week| other.from == week.from && indoors(&other.pool) == indoors(&week.pool);
                let short = outlook.weeks.iter().filter(near).any(|other| other.verdict != Verdict::Fits);
                assert!(short, "draw {draw}: proven, and yet a layout was found: {week:?}");
            }
            if of.at_most == 0 {
                assert_ne!(week.verdict, Verdict::Crunch, "draw {draw}: said to fit: {week:?}");
            }
            proven += of.proven;
            open += of.at_most - of.proven;
        }
    }
    (proven, open)
}

#[test]
fn a_crowded_room_with_mats_lamps_and_a_frame() {
    let (proven, open) = never_wrong(&example("community-room"), 0..10);
    assert!(proven >= 20, "{proven}");
    assert!(open <= 30, "{open}");
}

#[test]
fn a_roomy_tunnel() {
    let (proven, open) = never_wrong(&example("southern"), 0..3);
    assert_eq!((proven, open), (0, 0));
}

/// Loose pots, round and square, that are spaced out; two shelves of other sizes, one with a load
/// limit, one with a packing allowance; a frame for the day and a kitchen for the night.
fn mixed() -> Season {
    read(
        r#"(format: "flatwright season", version: 1, name: "Mixed", settings: (gap: "3 mm"),
        places: [(id: 1, name: "Room", role: Growing), (id: 2, name: "Frame", role: Hardening, part: Days),
            (id: 3, name: "Kitchen", role: Hardening, part: Nights)],
        racks: [(id: 4, place: 1, name: "Rack", position: 1), (id: 5, place: 2, name: "Frame", position: 2),
            (id: 6, place: 3, name: "Kitchen", position: 3)],
        shelves: [
            (id: 7, rack: 4, tier: 1, size: "1200 x 600 mm", load_grams: 40000),
            (id: 8, rack: 4, tier: 2, size: "900 x 450 mm", allowance_percent: 10),
            (id: 9, rack: 5, tier: 1, size: "1200 x 600 mm"),
            (id: 10, rack: 6, tier: 1, size: "600 x 600 mm")],
        sowings: [
            (id: 20, crop: "tomato", wanted: [(date: "2027-05-20", plants: 90)], steps: [
                (id: 21, container: "plug_72"), (id: 22, container: "sq_3_5", spaced: (after_days: 10, pitch: "12 cm"))],
                lots: [(id: 23, share: 1), (id: 24, share: 1, later: 7)]),
            (id: 30, crop: "pepper", wanted: [(date: "2027-05-25", plants: 70)], steps: [
                (id: 31, container: "plug_72"), (id: 32, container: "rd_4")], lots: [(id: 33)]),
            (id: 40, crop: "lettuce", wanted: [(date: "2027-04-20", plants: 30), (date: "2027-05-01", plants: 30)],
                steps: [(id: 41, container: "plug_72")], lots: [(id: 42)])])"#,
    )
}

#[test]
fn loose_pots_load_allowance_and_places_for_the_day_or_the_night() {
    let (proven, _) = never_wrong(&mixed(), 0..12);
    assert!(proven > 0);
}

#[test]
fn pinned_trays_are_left_where_they_are() {
    let mut season = example("community-room");
    let outlook = ahead(&season, &Scenario::none());
    let mut pinned = outlook.layout;
    for (number, spot) in pinned.iter_mut().enumerate() {
        spot.pinned = number % 9 == 0;
    }
    season.apply(&Op::SetLayout(pinned).into()).expect("a layout");
    let (proven, _) = never_wrong(&season, 0..5);
    assert!(proven > 0);
}

/// What is put together from ready-made courses is the season's own forecast, tray for tray.
#[test]
fn drawn_seasons_are_the_forecasts_own() {
    for name in ["community-room", "southern", "roomy"] {
        let season = example(name);
        let chances = forecast::Chances::of(&season, library());
        for scenario in (0..20).map(Scenario::draw).chain([Scenario::none()]) {
            let bunches = 0..chances.len();
            let mut stays: Vec<Stay> = bunches
                .flat_map(|bunch| chances.stays(bunch, &chances.draw(bunch, &scenario)))
                .chain(chances.guests())
                .collect();
            stays.sort_by(|a, b| (a.span, &a.trays).cmp(&(b.span, &b.trays)));
            assert!(stays == forecast::drawn(&season, library(), &scenario).stays, "{name}, {scenario:?}");
        }
        let mut planned = forecast::forecast(&season, library());
        // what is right where a stay is too long is worked out for the plan alone
        for problem in &mut planned.problems {
            if let Problem::HeldTooLong { instead, .. } = problem {
                *instead = None;
            }
        }
        assert_eq!(forecast::drawn(&season, library(), &Scenario::none()), planned);
    }
}
