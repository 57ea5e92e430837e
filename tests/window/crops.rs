use egui_kittest::kittest::Queryable as _;
use flatwright::forecast::What;
use flatwright::season::{Crop, CropKey, DayRange, GrowthPoint, Hardening, Season, Sourced, Trust};
use flatwright::store;

use crate::Window;
use crate::hand::{choose, field, opened, press, saved_and_read, season, undo, value};

fn library() -> &'static Crop {
    &store::library().crops[&CropKey::new("tomato")]
}

fn own(window: &Window) -> Vec<Crop> {
    season(window).own_crops().cloned().collect()
}

/// The crops page at the tomato; the library's until something is changed.
fn at_tomato() -> Window {
    let mut window = opened(Season::new("Test"), "Crops");
    field(&mut window, "Find a crop", "Solanum lyco");
    press(&mut window, "Tomato");
    window
}

#[test]
fn a_changed_figure_is_the_growers_own_and_the_others_keep_their_source() {
    let mut window = at_tomato();
    assert_eq!(own(&window), []);
    field(&mut window, "Up, likely", "8");
    field(&mut window, "Comes in below", "50 °F");
    field(&mut window, "Days of hardening off", "12");
    let changed = own(&window).pop().expect("it is the season's now");
    assert_eq!(changed.emergence, Sourced::own(DayRange { early: 6, likely: 8, late: 8 }));
    assert_eq!(changed.come_in.value.typed(), "50 °F");
    assert_eq!(changed.hardening, Sourced::own(Hardening { days: 12, first_night_after: 5 }));
    assert_eq!((changed.germination_percent.trust, &changed.latest), (Trust::CommonPractice, &library().latest));
    assert_eq!(value(&window, "Comes in below"), "50 °F");
    assert!(window.query_all_by_label("own figure").count() >= 3);
    window.get_by_label("Tomato, changed by you");
    assert_eq!(&saved_and_read(&window), season(&window));
    press(&mut window, "Back to the library's figures");
    assert_eq!(own(&window), []);
    undo(&mut window);
    undo(&mut window);
    assert_eq!(own(&window)[0].hardening, library().hardening);
}

#[test]
fn the_forecast_goes_by_the_growers_own_days() {
    let mut season = Season::new("Test");
    let text = r#"(format: "flatwright season", version: 1, name: "Test", sowings: [(id: 20, crop: "tomato",
        wanted: [(date: "2027-05-16", plants: 10)], steps: [(id: 22, container: "plug_72", start: On("2027-04-01"))],
        lots: [(id: 21)])])"#;
    match store::parse(text, std::path::Path::new("test.ron")) {
        Ok(read) => season = read,
        Err(why) => panic!("{why} in {}", season.name()),
    }
    let mut window = opened(season, "Crops");
    field(&mut window, "Find a crop", "Solanum lyco");
    press(&mut window, "Tomato");
    let up = |window: &Window| window.state().forecast().courses[0].date(What::Up);
    assert_eq!(up(&window), Some(crate::day(4, 8)));
    field(&mut window, "Up, late", "12");
    field(&mut window, "Up, likely", "10");
    assert_eq!(up(&window), Some(crate::day(4, 11)));
    press(&mut window, "Back to the library's figures");
    assert_eq!(up(&window), Some(crate::day(4, 8)), "even while a sowing uses it");
}

#[test]
fn heights_are_points_that_can_be_typed_added_and_removed() {
    let mut window = at_tomato();
    field(&mut window, "Height 4", "1 ft");
    field(&mut window, "Week of height 1", "2,5");
    let heights = |window: &Window| own(window).pop().expect("changed").heights;
    let point = |week, mm| GrowthPoint { week, mm };
    let typed = vec![point(2.5, 40.0), point(4.0, 100.0), point(6.0, 160.0), point(8.0, 304.8)];
    assert_eq!(heights(&window), Sourced::own(typed.clone()));
    window.get_by_label("Drawing: height 12 in in week 8, spread 10.24 in in week 8");
    press(&mut window, "Add a height");
    assert_eq!(heights(&window).value.last(), Some(&point(9.0, 304.8)));
    press(&mut window, "Remove height 5");
    assert_eq!(heights(&window).value, typed);
    assert_eq!(own(&window)[0].spreads, library().spreads);
    assert_eq!(&saved_and_read(&window), season(&window));
}

#[test]
fn a_crop_of_ones_own_starts_from_another() {
    let mut window = at_tomato();
    press(&mut window, "Start from this one");
    field(&mut window, "Name of the crop", "Tomato for the sill");
    choose(&mut window, "at the root collar");
    field(&mut window, "Weeks from the frost, earliest", "-1");
    let mine = own(&window).pop().expect("a copy");
    assert_eq!((mine.name.as_str(), mine.depth.trust), ("Tomato for the sill", Trust::Own));
    assert_eq!(mine.planting_out_after_frost, Some(Sourced::own((-1, 2))));
    assert_eq!((&mine.emergence, mine.family.as_str()), (&library().emergence, "solanaceae"));
    field(&mut window, "Find a crop", "sill");
    window.get_by_label("Tomato for the sill, your own");
    press(&mut window, "Remove crop");
    assert_eq!(own(&window), []);
}

#[test]
fn what_cannot_be_stays_in_its_field_with_the_reason() {
    let mut window = at_tomato();
    for (name, text, why) in [
        ("Germination, %", "2,5", "found \"2,5\"; write a whole number"),
        ("Germination, %", "2.5", "found \"2.5\"; write a whole number"),
        ("Germination, %", "0", "from 1 to 100"),
        ("Up, early", "9", "must be early, likely, late"),
        ("Moving on, late", "1 1/2 in", "write a whole number"),
        ("Weeks in pots", "300", "too large"),
        ("Weeks to planting out, least", "8", "must not fall"),
        ("Weeks from the frost, latest", "", "write both, or leave both empty"),
        ("Weeks from the frost, earliest", "3", "must not fall"),
        ("Comes in below", "10", "without a unit"),
        ("Comes in below", "10 K", "the unit \"k\""),
        ("Height 2", "tall", "tall"),
        ("Height 2", "1 km", "the unit \"km\""),
        ("Week of height 2", "7", "must rise from point to point"),
        ("Week of spread 1", "two", "write a number of weeks"),
        ("Name of the crop", "", "a name is missing"),
        ("Name of the crop", &"Ж".repeat(500), "500 characters long"),
    ] {
        let shown = value(&window, name);
        field(&mut window, name, text);
        assert_eq!(own(&window), [], "{name}: {text}");
        assert_eq!(value(&window, name), text);
        assert!(window.query_all_by_label_contains(why).next().is_some(), "{name}: {text}: {why}");
        field(&mut window, name, &shown);
    }
    assert_eq!(own(&window), []);
}
