//! Menus of what can be done with one thing, by the right button and by keys.

use egui::{Key, Modifiers, Role};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use flatwright::season::Season;
use flatwright::units::monday;
use flatwright::words::{self, menu, sowing, sowings};

use crate::Window;
use crate::hand::{opened, season, settle};
use crate::sowings::enter;

/// Two sowings, at the page of their figures.
fn with_two() -> Window {
    let mut window = opened(Season::new("Test"), menu::SOWINGS);
    for line in ["60 tomato, out 16 May 2027", "48 basil, out 20 May 2027"] {
        enter(&mut window, sowings::WHAT_TO_GROW, line);
    }
    window
}

fn has(window: &Window, item: &str) -> bool {
    window.query_all_by_role_and_label(Role::Button, item).next().is_some()
}

fn choose(window: &mut Window, item: &str) {
    // what is drawn last lies over the page
    window.get_all_by_role_and_label(Role::Button, item).last().expect("such an item").click();
    settle(window);
}

fn row<'w>(window: &'w Window, crop: &'w str) -> egui_kittest::Node<'w> {
    let mut rows = window.query_all_by_label_contains(crop);
    let row = rows.find(|row| row.accesskit_node().role() == Role::Button);
    row.expect("a row of the list")
}

#[test]
fn the_right_button_offers_what_can_be_done_with_a_sowing_of_the_list() {
    let mut window = with_two();
    row(&window, "Basil").click_secondary();
    settle(&mut window);
    for item in [words::plan::PAGE, sowing::RECORDS_OF_IT, words::can_wait::OPEN] {
        assert!(has(&window, item), "{item}");
    }
    choose(&mut window, sowing::RECORDS_OF_IT);
    window.get_by_label(words::records::SEEN_SO_FAR);
    assert!(!has(&window, words::can_wait::OPEN), "the menu is gone");
    let basil = season(&window).sowings().find(|sowing| sowing.crop.to_string().contains("basil")).expect("basil").id;
    assert!(window.query_all_by_label_contains("Basil").count() >= 2, "{basil}");
}

#[test]
fn shift_and_f10_open_it_for_the_row_that_the_keys_are_with() {
    for (modifiers, key) in [(Modifiers::SHIFT, Key::F10), (Modifiers::NONE, Key::Menu)] {
        let mut window = with_two();
        window.get_by_role_and_label(Role::ListBox, sowings::PAGE).focus();
        settle(&mut window);
        window.key_press_modifiers(modifiers, key);
        settle(&mut window);
        assert!(has(&window, words::can_wait::OPEN), "{key:?}");
        // the keys go on from its first item
        window.key_press(Key::Enter);
        settle(&mut window);
        assert!(window.query_by_role_and_label(Role::ListBox, words::plan::ROWS).is_some(), "{key:?}");
    }
}

#[test]
fn a_row_of_the_plan_and_a_week_of_the_strip_have_one_too() {
    let mut window = with_two();
    crate::go(&mut window, words::plan::PAGE);
    row(&window, "Basil").click_secondary();
    settle(&mut window);
    choose(&mut window, menu::SOWINGS);
    window.get_by_role_and_label(Role::ListBox, sowings::PAGE);
    let before = window.state().day();
    window.get_by_role(Role::Slider).click_secondary();
    settle(&mut window);
    // of the week that was pressed, not of the one that was shown
    let shown = window.state().day();
    assert_ne!(shown, before);
    assert!(has(&window, &sowings::show_on_shelves(shown)));
    choose(&mut window, words::jobs::THE_LIST);
    window.get_by_role_and_label(Role::Button, words::jobs::WEEK_BEFORE);
}

#[test]
fn a_week_of_the_strip_is_a_week_away_by_one_item_of_its_menu() {
    let mut window = with_two();
    window.get_by_role(Role::Slider).click_secondary();
    settle(&mut window);
    let monday = monday(window.state().day());
    choose(&mut window, words::days_away::THIS_WEEK);
    let [away] = &season(&window).away()[..] else { panic!("one") };
    assert_eq!((away.span.from(), away.span.days()), (monday, 7));
}
