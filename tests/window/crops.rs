use egui::{Key, Role};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use flatwright::forecast::What;
use flatwright::season::{Crop, CropKey, DayRange, GrowthPoint, Hardening, Op, Season, Sourced, Trust};
use flatwright::store;
use flatwright::words::{crops as said, menu, plan};

use crate::hand::{choose, field, opened, press, saved_and_read, season, settle, undo, value};
use crate::{Window, go};

fn library() -> &'static Crop {
    &store::library().crops[&CropKey::new("tomato")]
}

fn own(window: &Window) -> Vec<Crop> {
    season(window).own_crops().cloned().collect()
}

/// The crops page at the tomato; the library's until something is changed.
fn at_tomato() -> Window {
    let mut window = opened(Season::new("Test"), said::PAGE);
    field(&mut window, said::FIND, "Solanum lyco");
    press(&mut window, "Tomato");
    window
}

#[test]
fn a_changed_figure_is_the_growers_own_and_the_others_keep_their_source() {
    let mut window = at_tomato();
    assert_eq!(own(&window), []);
    field(&mut window, said::IN_OPEN_FLAT, "120");
    field(&mut window, said::UP[1], "8");
    field(&mut window, said::COME_IN, "50 °F");
    field(&mut window, said::HARDENING, "12");
    assert_eq!(value(&window, said::ROOTING), "14");
    field(&mut window, said::ROOTING, "21");
    let changed = own(&window).pop().expect("it is the season's now");
    assert_eq!(changed.emergence, Sourced::own(DayRange { early: 6, likely: 8, late: 8 }));
    assert_eq!(changed.come_in.value.typed(), "50 °F");
    assert_eq!(changed.in_open_flat, Some(Sourced::own(120)));
    assert_eq!(changed.hardening, Sourced::own(Hardening { days: 12, first_night_after: 5 }));
    assert_eq!(changed.rooting_days, Some(Sourced::own(21)));
    assert_eq!((changed.germination_percent.trust, &changed.latest), (Trust::CommonPractice, &library().latest));
    assert_eq!(value(&window, said::COME_IN), "50 °F");
    assert!(window.query_all_by_label("own figure").count() >= 3);
    window.get_by_label(&format!("Tomato, {}", said::CHANGED));
    assert_eq!(&saved_and_read(&window), season(&window));
    press(&mut window, said::BACK);
    assert_eq!(own(&window), []);
    for _ in 0..3 {
        undo(&mut window);
    }
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
    let mut window = opened(season, said::PAGE);
    field(&mut window, said::FIND, "Solanum lyco");
    press(&mut window, "Tomato");
    let up = |window: &Window| window.state().forecast().courses[0].date(What::Up);
    assert_eq!(up(&window), Some(crate::day(4, 8)));
    field(&mut window, said::UP[2], "12");
    field(&mut window, said::UP[1], "10");
    assert_eq!(up(&window), Some(crate::day(4, 11)));
    press(&mut window, said::BACK);
    assert_eq!(up(&window), Some(crate::day(4, 8)), "even while a sowing uses it");
}

#[test]
fn heights_are_points_that_can_be_typed_added_and_removed() {
    let mut window = at_tomato();
    field(&mut window, &said::size_of(said::HEIGHT, 3), "1 ft");
    field(&mut window, &said::week_of(said::HEIGHT, 0), "2,5");
    let heights = |window: &Window| own(window).pop().expect("changed").heights;
    let point = |week, mm| GrowthPoint { week, mm };
    let mut typed = vec![point(2.5, 40.0), point(4.0, 100.0), point(6.0, 160.0), point(8.0, 304.8)];
    typed.extend([point(10.0, 370.0), point(12.0, 500.0)]);
    assert_eq!(heights(&window), Sourced::own(typed.clone()));
    window.get_by_label(&said::drawing(("19.69 in", 12.0), ("16.54 in", 12.0)));
    press(&mut window, &said::add(said::HEIGHT));
    assert_eq!(heights(&window).value.last(), Some(&point(13.0, 500.0)));
    press(&mut window, &said::remove(said::HEIGHT, 6));
    assert_eq!(heights(&window).value, typed);
    assert_eq!(own(&window)[0].spreads, library().spreads);
    assert_eq!(&saved_and_read(&window), season(&window));
}

#[test]
fn the_longest_stay_may_be_typed_in_days_and_pots_are_told_apart() {
    let mut window = at_tomato();
    field(&mut window, said::LATEST[0], "30 d");
    // six weeks are 42 days beside them
    let latest = own(&window).pop().expect("changed").latest.value;
    assert_eq!((latest.small, latest.medium, latest.gallon, latest.in_days), (Some(30), Some(42), Some(84), true));
    assert_eq!(value(&window, said::LATEST[5]), "84 d");
    field(&mut window, said::SALE[1], "10");
    field(&mut window, said::SALE[0], "9");
    assert_eq!(own(&window)[0].weeks_to_sale, Some(Sourced::own((9, 10))));
    assert_eq!(&saved_and_read(&window), season(&window));
}

#[test]
fn a_crop_of_ones_own_starts_from_another() {
    let mut window = at_tomato();
    press(&mut window, said::START_FROM);
    field(&mut window, said::NAME, "Tomato for the sill");
    choose(&mut window, said::DEPTHS[1].1);
    field(&mut window, said::FROST[0], "-1");
    let mine = own(&window).pop().expect("a copy");
    assert_eq!((mine.name.as_str(), mine.depth.trust), ("Tomato for the sill", Trust::Own));
    assert_eq!(mine.planting_out_after_frost, Some(Sourced::own((-1, 2))));
    assert_eq!((&mine.emergence, mine.family.as_str()), (&library().emergence, "solanaceae"));
    field(&mut window, said::FIND, "sill");
    window.get_by_label(&format!("Tomato for the sill, {}", said::OWN));
    press(&mut window, said::REMOVE);
    assert_eq!(own(&window), []);
}

#[test]
fn what_cannot_be_stays_in_its_field_with_the_reason() {
    let mut window = at_tomato();
    for (name, text, why) in [
        (said::GERMINATION, "2,5", "found \"2,5\"; write a whole number"),
        (said::GERMINATION, "2.5", "found \"2.5\"; write a whole number"),
        (said::GERMINATION, "0", "from 1 to 100"),
        (said::UP[0], "9", "must be early, likely, late"),
        (said::DUE[2], "1 1/2 in", "write a whole number"),
        (said::LATEST[3], "300", "too large"),
        (said::WEEKS[0], "8", "must not fall"),
        (said::FROST[1], "", said::BOTH_OR_NEITHER),
        (said::FROST[0], "3", "must not fall"),
        (said::LATEST[3], "2", "must not fall"),
        (said::LATEST[0], "60 d", "must not fall"),
        (said::GERMINATES[0], "40 °C", "must not fall"),
        (said::GERMINATES[3], "20 °C", "must not fall"),
        (said::FIRST_NIGHT, "11", "must be 10 at most, found 11"),
        (said::SALE[0], "9", said::BOTH_OR_NEITHER),
        (said::COME_IN, "10", "without a unit"),
        (said::COME_IN, "10 K", "the unit \"k\""),
        (&said::size_of(said::HEIGHT, 1), "tall", "tall"),
        (&said::size_of(said::HEIGHT, 1), "1 km", "the unit \"km\""),
        (&said::week_of(said::HEIGHT, 1), "7", "must rise from point to point"),
        (&said::week_of(said::SPREAD, 0), "two", "write a number of weeks"),
        (said::NAME, "", "a name is missing"),
        (said::NAME, &"Ж".repeat(500), "500 characters long"),
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

#[test]
fn a_crop_may_ask_for_its_pots_to_be_spaced_out() {
    let mut window = at_tomato();
    let ask = |window: &mut Window| {
        window.get_by_role_and_label(egui::Role::CheckBox, said::SPACED).scroll_to_me();
        settle(window);
        window.get_by_role_and_label(egui::Role::CheckBox, said::SPACED).click();
        settle(window);
    };
    ask(&mut window);
    assert_eq!(own(&window).pop(), Some(Crop { spaced: true, ..library().clone() }));
    assert_eq!(&saved_and_read(&window), season(&window));
    undo(&mut window);
    assert_eq!(own(&window), []);
}

/// Two sowings that are called alike lead to their crop, which is looked at wherever the list was; back leads to the plan,
/// and no further.
#[test]
fn a_crop_in_a_sentence_leads_to_the_library_and_one_step_back() {
    let mut season = Season::new("Test");
    for id in [20, 30] {
        let read = store::parse(&with_poor_seed(id), std::path::Path::new("test.ron")).expect("a season");
        season.apply(&Op::PutSowing(read.sowings().next().expect("a sowing").clone()).into()).expect("sown");
    }
    let mut window = opened(season, said::PAGE);
    field(&mut window, said::FIND, "Kale");
    go(&mut window, plan::PAGE);
    let row = |node: &egui_kittest::Node<'_>| {
        let label = node.accesskit_node().label();
        label.is_some_and(|label| label.starts_with("Tomato"))
    };
    window.query_all_by_role(Role::Button).find(row).expect("a row of the plan").click();
    settle(&mut window);
    window.get_by_label_contains("50 % germination is below the legal minimum").focus();
    settle(&mut window);
    window.key_press(Key::Enter);
    settle(&mut window);
    assert_eq!(value(&window, said::NAME), "Tomato");
    window.get_by_role_and_label(Role::Button, "Tomato");
    press(&mut window, &menu::back_to(plan::PAGE));
    window.get_by_label_contains("50 % germination is below the legal minimum");
    assert!(window.query_by_label_contains(&menu::back_to("")).is_none(), "a room leads no further back");
    // by its tab it is a room, whatever led to it before
    go(&mut window, said::PAGE);
    assert!(window.query_by_label_contains(&menu::back_to("")).is_none());
    assert_eq!(value(&window, said::NAME), "Tomato");
}

fn with_poor_seed(id: u32) -> String {
    let (lot, step) = (id + 1, id + 2);
    format!(
        r#"(format: "flatwright season", version: 1, name: "Test", sowings: [(id: {id}, crop: "tomato",
        germination_percent: Some(50), wanted: [(date: "2027-05-16", plants: 10)],
        steps: [(id: {step}, container: "plug_72", start: On("2027-04-01"))], lots: [(id: {lot})])])"#
    )
}
