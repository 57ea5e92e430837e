//! A season from nothing.

use egui::{Key, Modifiers};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use flatwright::outlook::Verdict;
use flatwright::season::{EditLabel, Light, Role, Season};
use flatwright::window::App;
use flatwright::words;
use flatwright::words::{fields, start as said};

use crate::desktop::{Dialogs, Fake};
use crate::sowings::{click, enter, settle};
use crate::{Window, day, menu, sized, wait_until, window_beside};

pub(crate) fn opened(season: Season) -> Window {
    let mut window = sized(1280.0, 900.0).build_eframe(move |_| App::new(season, None, day(1, 10)));
    settle(&mut window);
    window
}

/// The sample is there at first; a new season is one key away.
fn new_season() -> Window {
    let mut window = opened(Season::new("Test"));
    window.key_press_modifiers(Modifiers::COMMAND, Key::N);
    settle(&mut window);
    window
}

pub(crate) fn season(window: &Window) -> &Season {
    window.state().history().season()
}

pub(crate) fn settled(window: &mut Window) -> Verdict {
    wait_until(window, |app| app.outlook().is_some());
    window.state().outlook().map_or(Verdict::Unsettled, |outlook| outlook.verdict)
}

#[test]
fn from_nothing_to_a_crunch_to_one_change_that_helps_and_back_from_the_file() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("mine.ron");
    let desktop = Fake::new(folder.path(), Dialogs::Answer(path.clone()));
    let mut window = window_beside(&desktop, None);
    menu(&mut window, words::menu::SEASON, words::menu::NEW);
    settle(&mut window);
    click(&mut window, words::places::ADD);
    click(&mut window, "One more like Rack 1");
    assert_eq!((season(&window).racks().len(), season(&window).shelves().count()), (2, 8));
    for line in [
        "288 tomato, out 16 May",
        "100 lettuce, out on 20 Apr",
        "60 pepper, out 23 May",
        "48 basil, out 16 May",
        "200 onion, out 11 Apr",
    ] {
        enter(&mut window, words::sowings::WHAT_TO_GROW, line);
    }
    assert_eq!(season(&window).sowings().count(), 5);
    // a shelf of 48 × 18 in holds two flats, so eight hold 16; the tomatoes alone want 288 / 18 flats
    assert_eq!(settled(&mut window), Verdict::Crunch);
    let shown = window.state().day();
    let span = window.state().forecast().span().expect("something is sown");
    assert!(span.contains(shown), "the day shown is one of the season");
    assert!(window.query_all_by_label_contains(" short, ").next().is_some(), "the verdict says so");
    click(&mut window, "One more like Rack 2");
    assert_eq!(settled(&mut window), Verdict::Fits);
    assert!(window.query_all_by_label_contains("Fits, ").next().is_some());
    crate::go(&mut window, words::menu::ROOM);
    window.get_by_label(words::weeks::FIND_SPOTS).click();
    window.run();
    wait_until(&mut window, |app| app.history().undo_label() == Some(&EditLabel::FindSpots));
    window.key_press_modifiers(Modifiers::COMMAND, Key::S);
    wait_until(&mut window, |_| path.exists());
    let saved = season(&window).clone();
    assert!(saved.spots().next().is_some());
    let mut window = window_beside(&desktop, Some(&path));
    assert_eq!(season(&window), &saved);
    assert_eq!(settled(&mut window), Verdict::Fits);
}

#[test]
fn each_step_of_the_start_can_be_undone() {
    let mut window = new_season();
    click(&mut window, words::places::ADD);
    enter(&mut window, said::ON_AVERAGE, "2 May");
    enter(&mut window, words::sowings::WHAT_TO_GROW, "72 tomato");
    for left in [(1, true, 0), (1, false, 0), (0, false, 0)] {
        window.key_press(Key::Escape);
        window.get_by_label(words::menu::EDIT).click();
        settle(&mut window);
        window.get_by_label_contains("Undo ").click();
        settle(&mut window);
        let season = season(&window);
        let found = (season.racks().len(), season.settings().frost.is_some(), season.sowings().count());
        assert_eq!(found, left);
    }
}

#[test]
fn a_line_without_a_day_goes_out_by_the_frost() {
    let mut window = new_season();
    enter(&mut window, words::sowings::WHAT_TO_GROW, "72 tomato");
    assert_eq!(season(&window).sowings().count(), 0, "out when is not known");
    window.get_by_label_contains("give the season its last frost");
    enter(&mut window, said::ON_AVERAGE, "9 May");
    let frost = season(&window).settings().frost.clone().expect("a frost");
    assert_eq!((frost.date, frost.later_in_ten), (day(5, 9), 5));
    window.get_by_label_contains("5 years in 10 have a later frost of 32 °F or colder; lines without a day go by it");
    enter(&mut window, words::sowings::WHAT_TO_GROW, "72 tomato");
    // 0 to 2 weeks after the frost: the middle
    assert_eq!(season(&window).sowings().map(flatwright::season::Sowing::out).collect::<Vec<_>>(), [Some(day(5, 16))]);
}

#[test]
fn a_frost_that_is_no_day_stays_in_its_field_with_the_reason() {
    let mut window = new_season();
    for text in ["31 April", "soon", "2 May 1900"] {
        enter(&mut window, said::ON_AVERAGE, text);
        assert_eq!(season(&window).settings().frost, None, "{text}");
        assert_eq!(window.get_by_label(said::ON_AVERAGE).value().as_deref(), Some(text));
    }
    enter(&mut window, said::ON_AVERAGE, "2 May");
    assert!(season(&window).settings().frost.is_some());
    window.get_by_label(said::ON_AVERAGE).focus();
    settle(&mut window);
    window.key_press_modifiers(Modifiers::COMMAND, Key::A);
    window.key_press(Key::Backspace);
    settle(&mut window);
    window.key_press(Key::Enter);
    settle(&mut window);
    assert_eq!(season(&window).settings().frost, None, "an empty field takes it away");
}

#[test]
fn a_day_can_be_picked_from_the_calendar() {
    let mut window = new_season();
    enter(&mut window, said::ON_AVERAGE, "2 May");
    click(&mut window, &fields::pick_a_day(said::ON_AVERAGE));
    window.get_by_label("May 2027");
    click(&mut window, words::fields::LATER_MONTH);
    window.get_by_label("June 2027");
    click(&mut window, words::fields::EARLIER_MONTH);
    click(&mut window, "Sun 9 May 2027");
    let frost = season(&window).settings().frost.clone().expect("a frost");
    assert_eq!(frost.date, day(5, 9));
    enter(&mut window, words::sowings::WHAT_TO_GROW, "72 tomato, out 16 May");
    crate::go(&mut window, words::menu::SOWINGS);
    click(&mut window, "Pick a day: Plant out or sell on");
    click(&mut window, "Sun 23 May 2027");
    assert_eq!(season(&window).sowings().map(flatwright::season::Sowing::out).collect::<Vec<_>>(), [Some(day(5, 23))]);
}

#[test]
fn a_new_season_offers_those_used_before_by_name_and_year() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("mine.ron");
    let mut mine = flatwright::store::sample();
    mine.apply(&flatwright::season::Op::Rename("At home".to_owned()).into()).expect("a name");
    flatwright::store::save(&path, &mine).expect("saved");
    let mut window = window_beside(&Fake::new(folder.path(), Dialogs::Answer(path.clone())), None);
    window.key_press_modifiers(Modifiers::COMMAND, Key::O);
    wait_until(&mut window, |app| app.history().season().name() == "At home");
    menu(&mut window, words::menu::SEASON, words::menu::NEW);
    settle(&mut window);
    window.get_by_role_and_label(egui::Role::Label, said::USED_BEFORE);
    let name = said::open_used(&said::named_with_year("At home", Some(2027)), &path);
    assert!(name.starts_with("Open At home, 2027: "), "{name}");
    click(&mut window, &name);
    assert_eq!(season(&window).name(), "At home");
    assert_eq!(said::named_with_year("Spring 2027 at home", Some(2027)), "Spring 2027 at home");
}

/// What is read on the way: every word that stands beside, below or in what is asked.
fn words_to_read(window: &Window) -> usize {
    let said = window.root().children_recursive().filter_map(|node| {
        let node = node.accesskit_node();
        node.label().or_else(|| node.value()).filter(|_| !node.is_hidden())
    });
    let mut all: Vec<String> = said.collect();
    all.dedup();
    all.iter().map(|text| text.split_whitespace().count()).sum()
}

/// By keys as far as it goes: the size of the shelves is asked for at once, and Enter adds one more rack of it.
#[test]
fn a_first_season_takes_few_keys_and_few_words() {
    let mut window = new_season();
    let read = words_to_read(&window);
    assert!(read <= 170, "{read} words");
    window.event(egui::Event::Text("36x18".to_owned()));
    settle(&mut window);
    for _ in 0..2 {
        window.key_press(Key::Enter);
        settle(&mut window);
    }
    let sizes: Vec<_> = season(&window).shelves().map(words::places::shelf_size).collect();
    assert_eq!(sizes, ["36 in × 18 in"; 8]);
    // another size is typed over the last; whoever types fast is done in one frame
    window.event(egui::Event::Text("48x24".to_owned()));
    window.key_press(Key::Enter);
    settle(&mut window);
    assert!(window.query_all_by_label_contains("4 flats").count() > 0, "how many fit follows");
    assert_eq!(season(&window).shelves().last().map(words::places::shelf_size).as_deref(), Some("48 in × 24 in"));
    enter(&mut window, said::ON_AVERAGE, "9 May");
    for line in ["72 tomato", "60 pepper", "48 basil", "100 onion", "40 broccoli"] {
        enter(&mut window, words::sowings::WHAT_TO_GROW, line);
    }
    let again = "144 lettuce, 3 sowings 3 weeks apart, out from 20 Apr";
    crate::sowings::write(&mut window, words::sowings::WHAT_TO_GROW, again);
    window.get_by_label("3 sowings, out 20 Apr, 11 May and 1 Jun; the first sown 16 Mar, out 20 Apr; 2 trays");
    window.key_press(Key::Enter);
    settle(&mut window);
    assert_eq!((season(&window).racks().len(), season(&window).sowings().count()), (3, 8));
    settled(&mut window);
}

/// The start page asks for it beside the racks, and as long as nothing is there to harden off on it says who wants it.
#[test]
fn a_table_to_harden_off_on_is_one_click_and_one_step() {
    let mut window = new_season();
    click(&mut window, words::places::ADD);
    enter(&mut window, said::ON_AVERAGE, "9 May");
    enter(&mut window, words::sowings::WHAT_TO_GROW, "72 tomato");
    window.get_by_label_contains("1 sowing hardens off from ");
    click(&mut window, words::places::ADD_TABLE);
    assert!(window.query_by_label_contains("hardens off from").is_none());
    assert!(window.query_by_label(words::places::ADD_TABLE).is_none(), "it is there");
    let place = season(&window).places().find(|place| place.role == Role::Hardening).expect("a place");
    assert_eq!((place.name.as_str(), place.light), (words::places::OUTDOORS, Light::Daylight));
    let table = season(&window).shelves().last().expect("a table");
    assert_eq!((words::places::shelf_size(table).as_str(), table.zones.len()), ("72 in × 30 in", 0));
    window.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    settle(&mut window);
    assert_eq!(season(&window).places().count(), 1);
}

#[test]
fn the_sample_leads_to_a_season_of_ones_own() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut window = window_beside(&Fake::new(folder.path(), Dialogs::Cancel), None);
    click(&mut window, words::notices::START_NEW);
    assert_eq!(season(&window).racks().len(), 0);
    window.get_by_label(words::places::SIZE);
}
