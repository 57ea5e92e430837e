//! Lists of rows of any height: one Tab stop each, with arrows inside, and the row under the keys named.

use egui::{Key, Role};
use egui_kittest::Node;
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use flatwright::season::{Season, SowingId};
use flatwright::words::{self, menu, places, worth_a_look as said};

use crate::hand::{opened, season, settle};
use crate::sowings::enter;
use crate::{Window, day, go, placed_on, sized, tray};

fn list<'a>(window: &'a Window, name: &str) -> Node<'a> {
    let is_it = |list: &Node<'_>| list.accesskit_node().label().is_some_and(|label| label.starts_with(name));
    window.query_all_by_role(Role::ListBox).find(is_it).expect("the list")
}

/// What a screen reader hears of it, without the name of the whole.
fn here(window: &Window, name: &str) -> String {
    let label = list(window, name).accesskit_node().label().unwrap_or_default();
    label.strip_prefix(name).map(|rest| rest.trim_start_matches(": ").to_owned()).unwrap_or_default()
}

fn key(window: &mut Window, key: Key) {
    window.key_press(key);
    settle(window);
}

/// Nothing sown, and no shelf.
const NO_SHELF: &str = "There is no shelf in this season yet";

#[test]
fn things_worth_a_look_are_gone_through_by_arrows_and_left_by_tab() {
    let mut window = opened(Season::new("Test"), menu::WORTH_A_LOOK);
    assert_eq!(here(&window, said::TITLE), "", "nothing is under the keys yet");
    list(&window, said::TITLE).focus();
    settle(&mut window);
    let first = here(&window, said::TITLE);
    assert_ne!(first, "");
    for (pressed, then) in [
        (Key::ArrowDown, NO_SHELF),
        (Key::ArrowDown, NO_SHELF),
        (Key::Home, &first),
        (Key::ArrowUp, &first),
        (Key::End, NO_SHELF),
    ] {
        key(&mut window, pressed);
        assert_eq!(here(&window, said::TITLE), then, "{pressed:?}");
    }
    key(&mut window, Key::Tab);
    assert!(!list(&window, said::TITLE).accesskit_node().is_focused(), "one stop");
    let rows = window.query_all_by_role(Role::Button).filter(|row| row.accesskit_node().is_focused());
    let on_a_row = rows.filter_map(|row| row.accesskit_node().label()).any(|label| label == first || label == NO_SHELF);
    assert!(!on_a_row, "rows are no stops of their own");
    list(&window, said::TITLE).focus();
    settle(&mut window);
    key(&mut window, Key::Enter);
    window.get_by_role_and_label(Role::Button, places::ADD);
}

#[test]
fn buttons_behind_each_line_are_one_stop_too() {
    let mut window = opened(Season::new("Test"), menu::START);
    for line in ["40 kale, out 20 May", "72 tomato, out 16 May"] {
        enter(&mut window, words::sowings::WHAT_TO_GROW, line);
    }
    let sowings: Vec<SowingId> = season(&window).sowings().map(|sowing| sowing.id).collect();
    list(&window, words::start::SOWINGS).focus();
    settle(&mut window);
    assert_eq!(here(&window, words::start::SOWINGS), words::start::change("Tomato"));
    for pressed in [Key::ArrowRight, Key::ArrowDown, Key::ArrowDown] {
        key(&mut window, pressed);
    }
    assert_eq!(here(&window, words::start::SOWINGS), words::start::remove("Kale"));
    key(&mut window, Key::Enter);
    assert_eq!(season(&window).sowings().map(|sowing| sowing.id).collect::<Vec<_>>(), sowings[1..]);
    // the keys stay with what is left
    assert_eq!(here(&window, words::start::SOWINGS), words::start::remove("Tomato"));
}

#[test]
fn places_racks_and_shelves_are_one_list() {
    let mut window = placed_on(day(4, 20));
    go(&mut window, menu::PLACES);
    let name = menu::PLACES.trim_end_matches('…');
    list(&window, name).focus();
    settle(&mut window);
    assert_eq!(here(&window, name), places::ADD_ROW);
    key(&mut window, Key::End);
    let last = here(&window, name);
    key(&mut window, Key::Enter);
    let row = window.get_by_role_and_label(Role::Button, &last);
    assert!(crate::plan::is_chosen(&row), "{last}");
}

#[test]
fn trays_of_a_sowing_are_one_stop() {
    let mut window = placed_on(day(4, 20));
    go(&mut window, words::plan::PAGE);
    window.get_by_label(words::plan::ROWS).focus();
    settle(&mut window);
    key(&mut window, Key::ArrowDown);
    list(&window, words::plan::TRAYS).focus();
    settle(&mut window);
    key(&mut window, Key::ArrowDown);
    let mark = here(&window, words::plan::TRAYS);
    key(&mut window, Key::Enter);
    assert_eq!(window.state().selected(), Some(tray(&window, &mark)));
}

/// The containers that a step may be put in.
#[test]
fn what_a_choice_among_many_finds_is_one_stop() {
    let mut window = opened(Season::new("Test"), menu::SOWINGS);
    enter(&mut window, words::sowings::WHAT_TO_GROW, "72 tomato, out 16 May");
    let name = words::sowing::container_of(0);
    crate::sowings::click(&mut window, &name);
    list(&window, &name).focus();
    settle(&mut window);
    key(&mut window, Key::Home);
    key(&mut window, Key::ArrowDown);
    let second = here(&window, &name);
    key(&mut window, Key::Enter);
    let container = &season(&window).sowings().next().expect("a sowing").steps[0].container;
    let found = season(&window).container(flatwright::store::library(), container).expect("a container");
    assert_eq!(found.name, second);
}

/// What is worth a look was once cut at the window's foot, out of reach of anybody.
#[test]
fn a_verdict_longer_than_the_window_is_scrolled_by_its_keys() {
    let mut window = sized(640.0, 400.0)
        .build_eframe(|_| flatwright::window::App::new(flatwright::store::sample(), None, day(4, 20)));
    window.run();
    crate::wait(&mut window);
    let verdict = window
        .query_all_by_role(Role::Button)
        .find(|button| button.accesskit_node().label().is_some_and(|label| label.contains("trays short")));
    verdict.expect("the verdict").click();
    settle(&mut window);
    let name = words::weeks::CRUNCH;
    list(&window, name).focus();
    settle(&mut window);
    key(&mut window, Key::End);
    window.run();
    let last = here(&window, name);
    let row = window.get_by_role_and_label(Role::Button, &last).rect();
    assert!(row.top() > 0.0 && row.bottom() < 400.0, "{last}: {row:?}");
    // what else is worth a look is one row below it
    list(&window, words::verdict::ALSO).focus();
    settle(&mut window);
    key(&mut window, Key::Enter);
    window.get_by_role_and_label(Role::Label, said::CRUNCHES);
}

/// The edge above the weeks is a Tab stop, and was one that nobody saw and that no key moved.
#[test]
fn an_edge_between_panes_is_moved_by_arrows() {
    let mut window = crate::window_on(crate::day(2, 1));
    let lowest = |window: &Window| {
        let edges = window.query_all_by_role(Role::Splitter).map(|edge| (edge.rect(), edge.is_focused()));
        edges
            .filter(|(rect, _)| rect.width() > rect.height())
            .max_by(|one, other| one.0.top().total_cmp(&other.0.top()))
    };
    let (before, _) = lowest(&window).expect("the edge of the weeks");
    for _ in 0..80 {
        if lowest(&window).is_some_and(|(_, focused)| focused) {
            break;
        }
        window.key_press(Key::Tab);
        window.run();
    }
    assert!(lowest(&window).is_some_and(|(_, focused)| focused), "Tab comes to it");
    for (pressed, higher) in [(Key::ArrowUp, true), (Key::ArrowDown, false)] {
        let was = lowest(&window).expect("it").0.center().y;
        key(&mut window, pressed);
        settle(&mut window);
        let (now, focused) = lowest(&window).expect("it");
        assert!(focused, "the keys stay with it");
        assert_eq!(now.center().y < was, higher, "{pressed:?}: {was} to {}", now.center().y);
    }
    assert!((lowest(&window).expect("it").0.center().y - before.center().y).abs() < 1.0);
}
