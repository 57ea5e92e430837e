//! Whole trays, spare trays, seeds, and what was really sown.

use flatwright::forecast::{Change, Learned, What, forecast, next_year};
use flatwright::season::{Counted, Library, Observed, Role, Rule};
use flatwright::trade;
use flatwright::words::own_records;

use crate::support::{Grower, date_of, day, out_on, shelf};

#[test]
fn a_bed_in_plants_cells_and_trays() {
    let plants = 3 * 300;
    assert_eq!(trade::whole_trays(plants, 128), 8);
    assert_eq!(8 * 128 - plants, 124);
    assert_eq!(plants - 7 * 128, 4, "seven trays are four short");
    assert_eq!((trade::whole_trays(plants, 128) + 2) * 128, 1280);
}

#[test]
fn cells_for_900_live_plants() {
    let success = trade::cell_success(0.85, 1, 0.0);
    let (average, sure) = (trade::cells_on_average(900, success), trade::cells_sure(900, success, 0.9));
    assert_eq!((average, sure), (Some(1059), Some(1076)));
    assert_eq!([1059, 1076].map(|cells| trade::whole_trays(cells, 128)), [9, 9]);
}

#[test]
fn twelve_plants_each_of_four_crops() {
    for (crop, rate, average, sure) in
        [("pepper", 0.55, 22, 27), ("aubergine", 0.60, 20, 25), ("tomato", 0.75, 16, 19), ("lettuce", 0.80, 15, 18)]
    {
        let success = trade::cell_success(rate, 1, 0.0);
        assert_eq!(trade::cells_on_average(12, success), Some(average), "{crop}");
        assert_eq!(trade::cells_sure(12, success, 0.9), Some(sure), "{crop}");
    }
}

/// Nine trays of 128 planned for 10 March at 85 %, out on 12 May.
fn farm() -> (Grower, flatwright::season::SowingId) {
    let mut grower = Grower::new();
    let growing = grower.place(Role::Growing);
    grower.rack(growing, 1, &shelf("120 x 48 in"));
    let sowing = grower.sow_by(900, &[("sheet of 128", Rule::On(day("2025-03-10")))], out_on("2025-05-12"));
    grower.change(sowing, |sowing| sowing.germination_percent = Some(85));
    (grower, sowing)
}

#[test]
fn next_year_starts_from_what_came_up() {
    let (mut grower, sowing) = farm();
    grower.see(sowing, "2025-03-13", Observed::Sown { cells: Some(9 * 128) });
    grower.see(sowing, "2025-03-18", Observed::Up { plants: Some(1010) });
    grower.see(sowing, "2025-04-02", Observed::Lost { plants: 200, why: flatwright::season::Loss::Cold });
    let next = next_year(&grower.season, &Library::default(), 2026, own_records).expect("it has dates");
    let rate = next.changes.iter().find_map(|change| match change {
        Change::Learned(Learned::Germination { rate, .. }) => Some(*rate),
        _ => None,
    });
    let rate = rate.expect("learned");
    assert_eq!((rate.up, rate.sown, rate.percent, rate.before_percent), (1010, 1152, 88, 85));
    assert!((rate.counted_percent() - 87.7).abs() < 0.05, "losses after it is up are not germination");
    assert!(!rate.is_weak());
    let again = next.season.sowing(sowing).expect("it comes along");
    assert_eq!(again.germination_percent, Some(88));
    assert_eq!(again.germination_from, Some(Counted { up: 1010, sown: 1152, year: 2025 }));
    assert!(again.seen.is_empty(), "nothing is done yet");
    let after = forecast(&next.season, &Library::default());
    let words = flatwright::words::Words {
        season: &next.season,
        library: &Library::default(),
        forecast: &after,
        unit: flatwright::units::LengthUnit::Inch,
    };
    let said: Vec<String> = next.changes.iter().map(|change| words.change(change)).collect();
    let why = "seedling: 88 % germination, 85 % before: 1010 of 1152 came up (87.7 %) in 2025";
    assert!(said.iter().any(|line| line == why), "{said:#?}");
}

#[test]
fn a_rate_from_few_seeds_is_weak_and_pulled() {
    let (mut grower, sowing) = farm();
    grower.see(sowing, "2025-03-10", Observed::Sown { cells: Some(10) });
    grower.see(sowing, "2025-03-18", Observed::Up { plants: Some(2) });
    let next = next_year(&grower.season, &Library::default(), 2026, own_records).expect("it has dates");
    // (2 + 20 · 0.85) / (10 + 20) = 63 %
    assert_eq!(next.season.sowing(sowing).and_then(|sowing| sowing.germination_percent), Some(63));
    let weak = |change: &Change| matches!(change, Change::Learned(Learned::Germination { rate, .. }) if rate.is_weak());
    assert!(next.changes.iter().any(weak));
}

#[test]
fn planned_and_actual_are_kept_and_space_goes_by_the_actual() {
    let (mut grower, sowing) = farm();
    let planned = grower.look();
    assert_eq!([planned.places_on("2025-03-09"), planned.places_on("2025-03-10")], [0, 9]);
    grower.see(sowing, "2025-03-13", Observed::Sown { cells: Some(9 * 128) });
    let actual = grower.look();
    assert_eq!([actual.places_on("2025-03-12"), actual.places_on("2025-03-13")], [0, 9]);
    assert_eq!(date_of(&actual.forecast, sowing, What::Sown), day("2025-03-13"));
    // the plan is in the season still
    let plan = grower.season.sowing(sowing).map(|sowing| sowing.steps[0].start);
    assert_eq!(plan, Some(Rule::On(day("2025-03-10"))));
    // up three days late as well: four days after it was sown
    assert_eq!(date_of(&actual.forecast, sowing, What::Up), day("2025-03-17"));

    // 1,010 plugs fill eight trays; moved together, one spot is free
    grower.see(sowing, "2025-03-18", Observed::Up { plants: Some(1010) });
    assert_eq!(grower.look().places_on("2025-03-25"), 9);
    grower.see(sowing, "2025-03-20", Observed::GappedUp);
    let merged = grower.look();
    assert_eq!([merged.places_on("2025-03-19"), merged.places_on("2025-03-20")], [9, 8]);
}
