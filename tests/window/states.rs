//! What stands where there is nothing to show: its sentence, the one thing to do next, and no frame more than it takes.

use egui::Role;
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use flatwright::season::Season;
use flatwright::store;
use flatwright::words::{self, jobs, menu, plan, records, shelves, sowings, supplies, weeks};

use crate::hand::{opened, press, season, settle};
use crate::{Window, day, sized, window_on};

fn is_to_be_written(window: &Window) -> bool {
    window.get_by_role_and_label(Role::TextInput, sowings::WHAT_TO_GROW).accesskit_node().is_focused()
}

#[test]
fn wherever_nothing_is_sown_the_first_sowing_is_one_press_away() {
    let places = [
        (jobs::PAGE, jobs::NOTHING_SOWN),
        (supplies::PAGE, supplies::NOTHING_SOWN),
        (plan::PAGE, sowings::NONE_YET),
        (menu::RECORDS, records::NOTHING_SOWN),
    ];
    for (page, said) in places {
        let mut window = opened(Season::new("Test"), page);
        window.get_by_label(said);
        press(&mut window, sowings::WRITE_FIRST);
        assert!(is_to_be_written(&window), "from {page}");
        window.get_by_role_and_label(Role::TextInput, sowings::WHAT_TO_GROW).type_text("72 tomato, out 16 May");
        settle(&mut window);
        window.key_press(egui::Key::Enter);
        settle(&mut window);
        assert_eq!(season(&window).sowings().count(), 1, "from {page}");
        assert!(window.query_by_label(sowings::WRITE_FIRST).is_none());
    }
}

#[test]
fn a_room_without_shelves_leads_to_where_they_are_made() {
    let mut window = opened(Season::new("Test"), menu::ROOM);
    window.get_by_label(shelves::NO_SHELVES);
    press(&mut window, shelves::ADD_SHELVES);
    window.get_by_role_and_label(Role::Button, words::places::ADD);
}

/// The picture says nothing that the sentence doesn't.
#[test]
fn nobody_hears_of_the_pictures() {
    let window = opened(Season::new("Test"), supplies::PAGE);
    window.get_by_label(supplies::NOTHING_SOWN);
    assert_eq!(window.query_all_by_role(Role::Image).count(), 0);
    // the strip says it too, and is no silent drawing
    assert!(window.query_all_by_label(weeks::NOTHING_SOWN).next().is_some());
}

#[test]
fn what_is_empty_asks_for_no_frame() {
    for page in [menu::ROOM, plan::PAGE, jobs::PAGE, supplies::PAGE] {
        let mut window = opened(Season::new("Test"), page);
        crate::until(&mut window, |window| {
            let root = window.output().viewport_output.get(&egui::ViewportId::ROOT);
            root.is_some_and(|out| out.repaint_delay > std::time::Duration::from_mins(1))
        });
    }
}

#[test]
fn a_season_that_was_not_read_still_leads_to_others_in_the_smallest_window() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("mine.ron");
    std::fs::write(&path, "(format: \"nonsense\")").expect("written");
    let why = store::load(&path).expect_err("no season").to_string();
    let file = path.clone();
    let mut window =
        sized(640.0, 400.0).build_eframe(move |_| flatwright::window::App::in_trouble(why, file, day(3, 1)));
    window.run();
    window.get_by_label(words::notices::NOT_OPENED);
    press(&mut window, words::notices::START_NEW);
    assert_eq!(season(&window).sowings().count(), 0);
}

#[test]
fn work_that_was_stopped_is_taken_up_from_what_is_said_of_it() {
    let mut window = window_on(day(2, 1));
    if window.state().outlook().is_some() {
        return;
    }
    let stop = window.query_by_role_and_label(Role::Button, weeks::STOP);
    stop.expect("the work goes on").click();
    settle(&mut window);
    window.get_by_role_and_label(Role::Button, words::verdict::STOPPED).click();
    settle(&mut window);
    window.get_by_label(weeks::STOPPED);
    window.query_all_by_role_and_label(Role::Button, weeks::WORK_IT_OUT).last().expect("below the sentence").click();
    crate::wait(&mut window);
}

/// A season in which nothing can stand anywhere is not told that all of it does.
#[test]
fn an_empty_room_says_what_is_missing_and_what_comes_next() {
    let mut window = opened(Season::new("Test"), menu::ROOM);
    let all = |window: &Window| window.query_all_by_label_contains(weeks::ALL_HAVE_A_SPOT).count();
    assert_eq!(all(&window), 0);
    window.get_by_label(shelves::NOT_BEFORE_SHELVES);
    crate::go(&mut window, menu::PLACES);
    press(&mut window, words::places::ADD);
    crate::go(&mut window, menu::ROOM);
    assert_eq!(all(&window), 0);
    press(&mut window, sowings::WRITE_FIRST);
    assert!(is_to_be_written(&window));
}
