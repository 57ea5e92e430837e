//! What lies under the pointer stays there: nothing that comes or goes by itself moves it, and no
//! button comes to lie where another one was pressed.

use egui::{Key, Modifiers, Rect, Role};
use egui_kittest::kittest::Queryable as _;
use flatwright::season::Season;
use flatwright::words;
use flatwright::words::{fields, menu, places, sowing, sowings, weeks};

use crate::hand::{click_at, opened, press, season, settle};
use crate::sowings::enter;
use crate::{Window, day, wait, window_on, write};

fn button(window: &Window, name: &str) -> Rect {
    window.get_by_role_and_label(Role::Button, name).rect()
}

fn with_tomatoes() -> Window {
    let mut window = opened(Season::new("Test"), words::menu::SOWINGS);
    enter(&mut window, sowings::WHAT_TO_GROW, "60 tomato, out 16 May 2027");
    window
}

#[test]
fn what_adds_one_more_adds_another_when_it_is_pressed_again_at_the_same_place() {
    let mut window = with_tomatoes();
    let numbers = |window: &Window| {
        let one = season(window).sowings().next().expect("a sowing");
        (one.lots.len(), one.wanted.len(), one.steps.len())
    };
    let before = numbers(&window);
    for name in [sowing::ADD_LOT, sowing::ADD_OUT, sowing::ADD_STEP] {
        let at = button(&window, name).center();
        click_at(&mut window, at);
        click_at(&mut window, at);
        assert_eq!(button(&window, name).center(), at, "{name} stays");
    }
    assert_eq!(numbers(&window), (before.0 + 2, before.1 + 2, before.2 + 2));
}

#[test]
fn what_adds_a_lamp_or_dates_of_a_shelf_stays_where_it_is() {
    let mut window = opened(Season::new("Test"), menu::PLACES);
    press(&mut window, places::ADD);
    press(&mut window, "Rack 1, shelf 1, 48 in × 18 in");
    let shelf = |window: &Window| {
        let shelf = season(window).shelves().find(|shelf| shelf.tier == 1).expect("a shelf").clone();
        (shelf.zones.len(), shelf.closed.len())
    };
    let at = button(&window, places::ADD_MAT).center();
    click_at(&mut window, at);
    click_at(&mut window, at);
    assert_eq!((shelf(&window), button(&window, places::ADD_MAT).center()), ((3, 0), at));
    window.get_by_role_and_label(Role::Button, places::ADD_CLOSED).scroll_to_me();
    settle(&mut window);
    for (from, until) in [("1 Apr 2027", "5 Apr 2027"), ("10 Apr 2027", "12 Apr 2027")] {
        write(&mut window, &fields::newly(places::CLOSED_FROM), from);
        write(&mut window, &fields::newly(places::OPEN_AGAIN), until);
        let at = button(&window, places::ADD_CLOSED).center();
        click_at(&mut window, at);
        assert_eq!(button(&window, places::ADD_CLOSED).center(), at);
    }
    assert_eq!(shelf(&window), (3, 2));
}

#[test]
fn a_notice_comes_and_goes_above_a_page_that_stays_where_it_is() {
    let mut window = with_tomatoes();
    let line = |window: &Window| window.get_by_role_and_label(Role::TextInput, sowings::WHAT_TO_GROW).rect();
    let before = line(&window);
    window.key_press(Key::Escape);
    settle(&mut window);
    window.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    settle(&mut window);
    assert!(window.query_by_label_contains("Taken back").is_some());
    assert_eq!(line(&window), before);
    press(&mut window, words::notices::HIDE);
    assert!(window.query_by_label_contains("Taken back").is_none());
    assert_eq!(line(&window), before);
}

/// A button below a field that can't be right was moved away by the reason as it was pressed.
#[test]
fn a_reason_waits_until_the_button_that_is_being_pressed_is_let_go() {
    let mut window = with_tomatoes();
    let name = sowing::which(sowing::PLANTS, 0);
    write(&mut window, &name, "as many as will fit on all of the shelves that there are");
    let (at, before) = (button(&window, sowing::ADD_LOT).center(), button(&window, sowing::ADD_LOT));
    window.hover_at(at);
    settle(&mut window);
    window.drag_at(at);
    window.step();
    window.step();
    assert_eq!(button(&window, sowing::ADD_LOT), before, "it stays while it is held down");
    window.drop_at(at);
    settle(&mut window);
    assert_eq!(season(&window).sowings().next().expect("a sowing").lots.len(), 2, "and is pressed");
    assert!(window.query_all_by_label_contains("found \"as many").next().is_some(), "the reason came then");
    let field = window.get_by_role_and_label(Role::TextInput, &name);
    assert_eq!(field.value().as_deref(), Some("as many as will fit on all of the shelves that there are"));
}

#[test]
fn the_strip_stays_and_no_button_comes_to_lie_where_stop_was() {
    let mut window = window_on(day(2, 1));
    let strip = |window: &Window| window.get_by_label_contains("Day shown").rect();
    let before = strip(&window);
    let stop = window.query_by_label(weeks::STOP).map(|stop| stop.rect());
    let find = button(&window, weeks::FIND_SPOTS);
    wait(&mut window);
    assert_eq!(strip(&window), before, "the pools come to stand in room that was kept for them");
    assert_eq!(button(&window, weeks::FIND_SPOTS), find);
    assert!(stop.is_none_or(|stop| !stop.intersects(find)));
}
