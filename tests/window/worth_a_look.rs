use egui_kittest::kittest::{NodeT as _, Queryable as _};
use flatwright::outlook::Verdict;
use flatwright::season::{Away, AwayId, EditLabel, Op, Role, Season, Spot, SpotFrom, ZoneKind};
use flatwright::units::{DateSpan, Length, LengthUnit};
use flatwright::window::App;
use flatwright::words;
use flatwright::words::Words;

use crate::hand::{field, press, value};
use crate::sowings::{click, enter, settle};
use crate::start::{opened, season, settled};
use crate::{day, sized, wait_until};

#[test]
fn a_click_on_a_crunch_goes_to_its_worst_day() {
    let mut window = opened(flatwright::store::sample());
    assert_eq!(settled(&mut window), Verdict::Crunch);
    let (season, forecast) = (season(&window).clone(), window.state().forecast().clone());
    let library = flatwright::store::library();
    let words = Words { season: &season, library, forecast: &forecast, unit: LengthUnit::Inch };
    // the least one: the headline speaks of the worst
    let crunches = window.state().outlook().map(|outlook| outlook.crunches.clone()).unwrap_or_default();
    let crunch = crunches.iter().min_by_key(|crunch| crunch.short).expect("a crunch");
    assert!(crunches.len() > 1, "only the headline's crunch is left to test");
    let worst = Some(crunch.worst_day);
    crate::go(&mut window, words::menu::WORTH_A_LOOK);
    settle(&mut window);
    window.get_by_label(&words.crunch(crunch)).click();
    settle(&mut window);
    assert_eq!(Some(window.state().day()), worst);
    window.get_by_label(words::WAITING);
}

/// "Sow on 13 Mar instead", on 1 April.
#[test]
fn a_day_to_sow_on_that_is_past_is_not_offered() {
    let offered = |today| {
        let mut window = crate::hand::opened_on(today, flatwright::store::sample(), words::menu::WORTH_A_LOOK);
        settle(&mut window);
        let rows = window.query_all_by_label_contains(" Mar instead of ");
        (rows.count(), window.query_all_by_label_contains("holds them until").count())
    };
    let (before, after) = (offered(day(3, 1)), offered(day(4, 1)));
    assert!(before.0 > 0, "{before:?}");
    assert_eq!(after, (0, before.1), "they are held too long all the same");
}

#[test]
fn problems_are_listed_and_each_leads_somewhere() {
    let mut season = Season::new("Test");
    season
        .apply(
            &Op::SetSettings(flatwright::season::Settings {
                frost: Some(flatwright::season::Frost::on(day(5, 20))),
                ..season.settings().clone()
            })
            .into(),
        )
        .expect("a frost");
    let mut window = opened(season);
    crate::go(&mut window, words::menu::START);
    enter(&mut window, words::sowings::WHAT_TO_GROW, "72 tomato, out 16 May");
    crate::go(&mut window, words::menu::WORTH_A_LOOK);
    settle(&mut window);
    let no_shelf = "There is no shelf in this season yet";
    let frost = "Tomato: tender, and out 16 May, before the last frost of 20 May (5 years in 10 have a later frost of 32 °F \
                 or colder); plant out on 20 May or later, or keep it from the frost until then";
    window.get_by_label(no_shelf);
    // what the last edit brought has a mark, until there is another
    let marked = words::fields::with_aside(frost, words::worth_a_look::NEW);
    click(&mut window, &marked);
    crate::go(&mut window, words::menu::START);
    crate::hand::rename(&mut window, "Another name");
    crate::go(&mut window, words::menu::WORTH_A_LOOK);
    settle(&mut window);
    click(&mut window, frost);
    window.get_by_label(words::plan::WHY);
    window.get_by_label("72 plants");
    crate::go(&mut window, words::menu::WORTH_A_LOOK);
    settle(&mut window);
    click(&mut window, no_shelf);
    window.get_by_label(words::places::ADD);
}

/// What was typed for another rack is not what it asks for: one tier of ground, unlit, in a new place.
#[test]
fn nowhere_to_harden_leads_to_the_form_for_such_a_place() {
    let roomy = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/roomy.ron");
    let mut window = opened(flatwright::store::load(&roomy).expect("an example"));
    settled(&mut window);
    crate::go(&mut window, words::menu::PLACES);
    press(&mut window, words::places::ADD_ROW);
    field(&mut window, words::places::TIERS, "7");
    crate::go(&mut window, words::menu::WORTH_A_LOOK);
    settle(&mut window);
    let said = window.get_by_label_contains("No place to harden off in: 8 sowings");
    said.scroll_to_me();
    settle(&mut window);
    window.get_by_label_contains("No place to harden off in: 8 sowings").click();
    settle(&mut window);
    assert_eq!(value(&window, words::places::TIERS), "1");
    assert_eq!(value(&window, words::places::PLACE_NAME), words::places::usual_place(Role::Hardening));
    let shelves = season(&window).shelves().count();
    press(&mut window, words::places::ADD);
    let place = season(&window).places().find(|place| place.role == Role::Hardening).expect("a place").clone();
    let new: Vec<_> = season(&window).shelves().skip(shelves).cloned().collect();
    let [tier] = new.as_slice() else { panic!("{new:?}") };
    assert!(tier.zones.is_empty(), "no lamp: {tier:?}");
    assert_eq!(season(&window).rack(tier.rack).map(|rack| rack.place), Some(place.id));
}

#[test]
fn too_many_for_the_lamps_leads_to_the_day_and_frames_those_without_light() {
    let mut season = flatwright::store::sample();
    season.apply(&Op::SetLayout(Vec::new()).into()).expect("trays may have no spot");
    // a lamp over every other shelf
    let shelves: Vec<_> = season.shelves().filter(|shelf| shelf.id.0 % 2 == 0).cloned().collect();
    for mut shelf in shelves {
        shelf.zones.retain(|zone| zone.kind != ZoneKind::Lamp);
        season.apply(&Op::PutShelf(shelf).into()).expect("a lamp less");
    }
    let mut window = sized(1280.0, 900.0).build_eframe(move |_| App::new(season, None, day(2, 1)));
    window.run();
    crate::wait(&mut window);
    crate::go(&mut window, words::menu::WORTH_A_LOOK);
    settle(&mut window);
    window.get_by_label_contains("the lamps' good reach").click_accesskit();
    window.run();
    let shown = window.state().day();
    assert_ne!(shown, day(2, 1));
    // nothing has a spot: all that want light on growing shelves are framed
    let stays = window.state().forecast().on(shown);
    let dark = stays.filter(|stay| stay.needs.light && stay.needs.role == flatwright::season::Role::Growing).count();
    window.get_by_label_contains(&format!("framed in red: {dark} trays beyond a lamp or without a spot"));
    window.get_by_label(words::weeks::FIND_SPOTS).click();
    window.run();
    wait_until(&mut window, |app| app.history().undo_label() == Some(&EditLabel::FindSpots));
    // any change ends it: the frames were about the season before
    assert!(window.query_by_label_contains("framed in red: ").is_none());
}

/// The shelf is 24 in deep and the trays are 20 or 10 in, so that both stick out of it, in one place.
#[test]
fn a_trays_panel_says_what_is_wrong_where_it_stands() {
    let mut window = crate::window_on(day(2, 1));
    let mut season = season(&window).clone();
    let shelf = season.shelves().next().expect("a shelf").id;
    let spots = ["Ge 1", "Ge 2"].map(|mark| Spot {
        tray: crate::tray(&window, mark),
        from: SpotFrom::Start,
        until: None,
        shelf,
        x: Length::ZERO,
        y: Length::from_mm(500),
        quarter_turns: 0,
        pinned: false,
    });
    season.apply(&Op::SetLayout(spots.to_vec()).into()).expect("two spots");
    window = sized(1280.0, 900.0).build_eframe(move |_| App::new(season, None, day(2, 1)));
    settle(&mut window);
    window.get_by_label_contains("Ge 1, ").click();
    settle(&mut window);
    // in its panel, and below Find spots
    assert_eq!(window.query_all_by_label_contains("Ge 1 and Ge 2 stand in the same place on ").count(), 2);
    window.get_by_label_contains(" stands outside the ground that suits it on ");
}

#[test]
fn days_on_which_nobody_was_there_are_not_listed_once_they_are_over() {
    let mut season = flatwright::store::sample();
    let span = DateSpan::new(day(3, 10), day(3, 18)).expect("in order");
    let (id, name) = (AwayId(season.next_id()), "a trip".to_owned());
    let trip = Away { id, name, span, waters: String::new(), every_year: false };
    season.apply(&Op::PutAway(trip).into()).expect("a trip");
    for (today, listed) in [(day(3, 17), 1), (day(3, 18), 0)] {
        let season = season.clone();
        let mut window = sized(1280.0, 800.0).build_eframe(move |_| App::new(season, None, today));
        crate::go(&mut window, words::menu::WORTH_A_LOOK);
        settle(&mut window);
        let said: Vec<_> =
            window.query_all_by_label_contains("Nobody waters").map(|said| said.accesskit_node().label()).collect();
        assert_eq!(said.len(), listed, "on {today}: {said:?}");
    }
}
