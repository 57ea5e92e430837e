//! The rooms, the pages that open over them, and the verdict that is always there.

use egui::{Key, Role};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use flatwright::outlook::Verdict;
use flatwright::season::{Op, Season};
use flatwright::words::{self, Words, verdict as said};
use flatwright::{store, units::LengthUnit, window::App};

use crate::{Window, day, go, press, sized, tabs, wait, window_on};

fn verdict(window: &Window) -> String {
    let (season, forecast) = (window.state().history().season(), window.state().forecast());
    let words = Words { season, library: store::library(), forecast, unit: LengthUnit::Inch };
    words.short_verdict(window.state().outlook().expect("an answer"), window.state().chance())
}

fn open_tab(window: &Window) -> Option<String> {
    let tabs = window.query_all_by_role(Role::Tab);
    tabs.filter(crate::plan::is_chosen).find_map(|tab| tab.accesskit_node().label())
}

#[test]
fn whatever_opens_over_a_room_leads_back_to_it() {
    let mut window = window_on(day(4, 20));
    wait(&mut window);
    for room in tabs(&window) {
        for page in [words::menu::PLACES, words::frost::OPEN, words::what_if::OPEN, words::menu::RECORDS] {
            go(&mut window, &room);
            go(&mut window, page);
            assert_eq!(open_tab(&window).as_ref(), Some(&room), "{page} lies over {room}");
            press(&mut window, &words::menu::back_to(&room));
            assert!(window.query_by_label(&words::menu::back_to(&room)).is_none());
            go(&mut window, page);
            window.key_press(Key::Escape);
            window.run();
            assert_eq!(open_tab(&window).as_ref(), Some(&room));
            assert!(window.query_by_label(&words::menu::back_to(&room)).is_none(), "Escape leaves {page}");
        }
    }
}

/// From a page that another had led to, one was always led to the room.
#[test]
fn a_page_leads_back_to_the_page_that_led_to_it() {
    let mut window = window_on(day(4, 20));
    wait(&mut window);
    let back_to = |page: &str| words::menu::back_to(page.trim_end_matches('…'));
    go(&mut window, words::plan::PAGE);
    let way = [words::menu::RECORDS, words::menu::SOWINGS, words::menu::GUESTS];
    for page in way {
        go(&mut window, page);
    }
    for to in [words::menu::SOWINGS, words::menu::RECORDS, words::plan::PAGE] {
        press(&mut window, &back_to(to));
    }
    assert_eq!(open_tab(&window).as_deref(), Some(words::plan::PAGE));
    assert!(window.query_all_by_label_contains("‹ ").next().is_none());
    // the same page twice is no loop
    for page in [words::menu::RECORDS, words::menu::SOWINGS, words::menu::RECORDS] {
        go(&mut window, page);
    }
    press(&mut window, &back_to(words::plan::PAGE));
    // the way ends in a room
    for page in way {
        go(&mut window, page);
    }
    go(&mut window, words::jobs::PAGE);
    go(&mut window, words::menu::RECORDS);
    window.key_press(Key::Escape);
    window.run();
    assert_eq!(open_tab(&window).as_deref(), Some(words::jobs::PAGE));
}

#[test]
fn the_verdict_stands_in_every_room_and_leads_to_what_is_short() {
    let mut window = window_on(day(2, 1));
    wait(&mut window);
    let told = verdict(&window);
    assert!(told.contains("short"), "{told}");
    for room in tabs(&window) {
        go(&mut window, &room);
        window.get_by_role_and_label(Role::Button, &told);
    }
    go(&mut window, words::menu::LIBRARY);
    press(&mut window, &told);
    let outlook = window.state().outlook().expect("an answer").clone();
    let (_, worst) = outlook.worst().expect("a crunch");
    let sentence = {
        let (season, forecast) = (window.state().history().season(), window.state().forecast());
        Words { season, library: store::library(), forecast, unit: LengthUnit::Inch }.crunch(worst)
    };
    window.get_by_label(&sentence).click();
    window.run();
    assert_eq!(window.state().day(), worst.worst_day);
    assert_eq!(open_tab(&window).as_deref(), Some(words::menu::ROOM));
}

#[test]
fn the_verdict_counts_the_ways_out_and_leads_to_them() {
    let mut window = window_on(day(2, 1));
    wait(&mut window);
    let told = verdict(&window);
    press(&mut window, &told);
    crate::until(&mut window, |window| {
        window.query_all_by_label_contains("out").any(|node| {
            node.accesskit_node().label().is_some_and(|label| label.starts_with(&told) && label.contains("ways out"))
        })
    });
    window.run();
    window.get_by_role_and_label(Role::Button, words::ways_out::OPEN).click();
    window.run();
    window.get_by_label_contains(&words::menu::back_to(words::menu::ROOM));
}

#[test]
fn a_season_that_fits_says_what_is_to_spare() {
    let mut season = store::sample();
    for sowing in season.sowings().map(|sowing| sowing.id).skip(2).collect::<Vec<_>>() {
        season.apply(&Op::RemoveSowing(sowing).into()).expect("one less");
    }
    let mut window = sized(1280.0, 800.0).build_eframe(move |_| App::new(season, None, day(2, 1)));
    window.run();
    wait(&mut window);
    assert_eq!(window.state().outlook().map(|outlook| outlook.verdict), Some(Verdict::Fits));
    let told = verdict(&window);
    assert!(told.starts_with("Fits, ") && told.contains(" to spare in the week of "), "{told}");
    window.get_by_role_and_label(Role::Button, &told);
}

#[test]
fn nothing_sown_is_no_verdict() {
    let mut window = sized(1280.0, 800.0).build_eframe(|_| App::new(Season::new("Test"), None, day(3, 1)));
    window.run();
    window.get_by_role_and_label(Role::Button, said::NOTHING_YET);
}

#[test]
fn the_strip_folds_to_one_line_and_back() {
    let mut window = window_on(day(4, 20));
    wait(&mut window);
    let slider = |window: &Window| window.get_by_role(Role::Slider).rect().height();
    let tall = slider(&window);
    press(&mut window, words::weeks::FOLD);
    window.run();
    assert!(slider(&window) < 70.0 && tall > 120.0, "{} {tall}", slider(&window));
    press(&mut window, words::weeks::UNFOLD);
    window.run();
    assert!((slider(&window) - tall).abs() < 1.0);
}

/// Everything that is always there has its place also in a small window and with large letters.
#[test]
fn rooms_and_verdict_have_their_place_in_small_windows() {
    for (width, height) in [(1280.0, 800.0), (900.0, 600.0), (640.0, 400.0)] {
        let mut window = sized(width, height).build_eframe(|_| App::new(store::sample(), None, day(4, 20)));
        window.run();
        wait(&mut window);
        let told = verdict(&window);
        let mut rects: Vec<egui::Rect> = window.query_all_by_role(Role::Tab).map(|tab| tab.rect()).collect();
        rects.push(window.get_by_role_and_label(Role::Button, &told).rect());
        for (at, one) in rects.iter().enumerate() {
            assert!(one.left() >= 0.0 && one.right() <= width && one.bottom() <= height, "{one} at {width}");
            for other in rects.iter().skip(at + 1) {
                assert!(!one.shrink(1.0).intersects(other.shrink(1.0)), "{one} and {other} at {width}");
            }
        }
        assert!(rects.last().is_some_and(|verdict| verdict.width() >= 60.0));
    }
}
