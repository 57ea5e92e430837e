use std::time::Duration;

use chrono::NaiveDate;
use egui::{Key, Modifiers, ViewportId};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use flatwright::forecast::{Problem, What};
use flatwright::season::{Delays, EditLabel, Season, Sowing, Spacing};
use flatwright::store;
use flatwright::window::App;
use flatwright::words::{self, containers, menu, sowing as said, sowings as list};

use crate::{Window, day, sized};

/// The sowings page of that season.
fn page_of(season: Season) -> Window {
    let mut window = sized(1280.0, 1000.0).build_eframe(move |_| App::new(season, None, day(1, 10)));
    settle(&mut window);
    crate::go(&mut window, menu::SOWINGS);
    window
}

/// The thread that works on the outlook wakes the window meanwhile.
pub(crate) fn settle(window: &mut Window) {
    for _ in 0..6 {
        window.step();
    }
}

fn empty_page() -> Window {
    page_of(Season::new("Test"))
}

/// In place of what stands in the field.
pub(crate) fn write(window: &mut Window, field: &str, text: &str) {
    window.get_by_label(field).focus();
    settle(window);
    window.key_press_modifiers(Modifiers::COMMAND, Key::A);
    settle(window);
    window.get_by_label(field).type_text(text);
    settle(window);
}

pub(crate) fn enter(window: &mut Window, field: &str, text: &str) {
    write(window, field, text);
    window.key_press(Key::Enter);
    settle(window);
}

pub(crate) fn click(window: &mut Window, name: &str) {
    window.get_by_label(name).scroll_to_me();
    settle(window);
    window.get_by_label(name).click();
    settle(window);
}

fn with(line: &str) -> Window {
    let mut window = empty_page();
    enter(&mut window, list::WHAT_TO_GROW, line);
    window
}

fn sowings(window: &Window) -> Vec<Sowing> {
    window.state().history().season().sowings().cloned().collect()
}

fn trays(window: &Window) -> Vec<u32> {
    let courses = &window.state().forecast().courses;
    courses.iter().flat_map(|course| course.trays.iter().map(|(_, trays)| *trays)).collect()
}

fn value(window: &Window, field: &str) -> String {
    window.get_by_label(field).value().unwrap_or_default()
}

fn sown(window: &Window) -> Option<NaiveDate> {
    window.state().forecast().courses.first().and_then(|course| course.date(What::Sown))
}

#[test]
fn a_line_becomes_a_sowing_with_its_dates_and_trays() {
    let mut window = empty_page();
    write(&mut window, list::WHAT_TO_GROW, "72 tomato, out 16 May");
    assert!(sowings(&window).is_empty(), "nothing is added while it is typed");
    window.get_by_label_contains("72 plants of Tomato: sown");
    window.key_press(Key::Enter);
    settle(&mut window);
    let found = sowings(&window);
    assert_eq!(found.len(), 1);
    assert_eq!((found[0].plants_wanted(), found[0].out()), (72, Some(day(5, 16))));
    // 6 to 8 weeks before planting out, at 85 %: 72 plants want 2 trays of 72 cells, 4 flats of 18 pots
    assert_eq!(trays(&window), [2, 4]);
    let weeks = (day(5, 16) - sown(&window).expect("it has a sowing date")).num_days() / 7;
    assert!((6..=8).contains(&weeks), "{weeks}");
    assert_eq!(window.state().history().undo_label(), Some(&EditLabel::AddSowing("Tomato".into())));
    assert_eq!(value(&window, list::WHAT_TO_GROW), "", "ready for the next one");
    window.get_by_label(list::WHAT_TO_GROW).type_text("200 onion, sow 7 Feb, out 12 Apr");
    settle(&mut window);
    click(&mut window, list::ADD);
    assert_eq!(sowings(&window).len(), 2, "written without taking up the mouse");
}

#[test]
fn a_crop_that_nobody_knows_stays_in_the_line_with_the_reason() {
    let mut window = with("72 tomatto, out 16 May");
    assert!(sowings(&window).is_empty());
    assert_eq!(value(&window, list::WHAT_TO_GROW), "72 tomatto, out 16 May");
    window.get_by_label("no crop “tomatto”; did you mean tomato?");
    enter(&mut window, list::WHAT_TO_GROW, "72 tomato, out 16 May 1900");
    window.get_by_label_contains("found the year 1900");
    assert!(sowings(&window).is_empty());
}

#[test]
fn what_is_refused_stays_in_its_field_with_the_reason() {
    for (field, text, why) in [
        (said::PLANTS, "0", "the number of plants must be from 1 to 1000000, found 0"),
        (said::PLANTS, "2,5", "found \"2,5\"; write a whole number"),
        (said::PLANTS, "", "nothing is written here; write a whole number"),
        (said::OUT, "1 May 1900", "found the year 1900; it must be from 1950 to 2150"),
        (said::GERMINATION, "101", "germination must be from 1 to 100, found 101"),
        (said::SEEDS, "999", "found 999, which is too large"),
    ] {
        let mut window = with("72 tomato, out 16 May");
        let before = sowings(&window);
        if text.is_empty() {
            window.get_by_label(field).focus();
            settle(&mut window);
            window.key_press_modifiers(Modifiers::COMMAND, Key::A);
            window.key_press(Key::Delete);
            window.key_press(Key::Enter);
            settle(&mut window);
        } else {
            enter(&mut window, field, text);
        }
        assert_eq!(value(&window, field), text, "{field}");
        window.get_by_label(why);
        assert_eq!(sowings(&window), before, "{field}: {text}");
        crate::go(&mut window, menu::ROOM);
        crate::go(&mut window, menu::SOWINGS);
        assert_eq!(value(&window, field), text, "{field} after another page");
        window.get_by_label(field).focus();
        settle(&mut window);
        window.key_press(Key::Escape);
        settle(&mut window);
        assert!(window.query_by_label(why).is_none(), "{field}: Escape gives it up");
        assert_ne!(value(&window, field), text);
    }
}

#[test]
fn twice_the_plants_are_twice_the_trays_and_one_step_back() {
    let mut window = with("72 tomato, out 16 May");
    enter(&mut window, said::PLANTS, "144");
    assert_eq!(sowings(&window)[0].plants_wanted(), 144);
    assert_eq!(trays(&window), [3, 8]);
    assert_eq!(window.state().history().undo_label(), Some(&EditLabel::ChangeSowing("tomato".into())));
    window.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    settle(&mut window);
    assert_eq!(sowings(&window)[0].plants_wanted(), 72);
    assert_eq!(value(&window, said::PLANTS), "72");
    window.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    settle(&mut window);
    assert!(sowings(&window).is_empty());
}

/// They were told apart by name once, and each showed what was wrong with the other.
#[test]
fn of_two_sowings_of_one_name_each_shows_its_own_problems() {
    let mut window = with("72 tomato, out 16 May");
    enter(&mut window, said::GERMINATION, "50");
    assert!(window.query_all_by_label_contains("below the legal minimum").next().is_some());
    enter(&mut window, list::WHAT_TO_GROW, "72 tomato, out 16 May");
    assert_eq!(sowings(&window).len(), 2);
    assert_eq!(value(&window, said::GERMINATION), "", "the new one is looked at");
    assert!(window.query_by_label_contains("below the legal minimum").is_none(), "that is said of the other");
}

#[test]
fn plants_that_go_too_young_are_told_beside_their_dates_and_may_be_for_sale() {
    let mut window = with("72 petunia, sow 7 Apr, out 16 May");
    // beside its dates; the line on what an edit brought says it as well
    let told = |window: &Window, text: &str| window.query_all_by_label_contains(text).next().expect("told").rect();
    // 39 days; 8 weeks to planting size, 9 to flower
    told(&window, "39 days old when it goes out on 16 May, and wants 56 at least; sow 17 days earlier");
    click(&mut window, said::TO_SELL);
    assert!(sowings(&window)[0].wanted[0].to_sell);
    told(&window, "39 days old when it is sold on 16 May, and wants 63 at least to be in flower; sow 24 days earlier");
    crate::go(&mut window, menu::WORTH_A_LOOK);
    settle(&mut window);
    window.query_all_by_label_contains("39 days old when it is sold on 16 May").next().expect("a row").click();
    settle(&mut window);
    window.get_by_label("72 plants");
    click(&mut window, words::plan::MORE_FIGURES);
    assert_eq!(value(&window, said::PLANTS), "72", "the sowing is shown again");
}

#[test]
fn fields_take_their_values_when_they_are_left() {
    let mut window = with("72 tomato, out 16 May");
    write(&mut window, said::VARIETY, "Early Red");
    window.key_press(Key::Tab);
    settle(&mut window);
    enter(&mut window, said::OUT, "20 May");
    enter(&mut window, said::LOSSES, "10");
    enter(&mut window, said::STACK_DAYS, "3");
    enter(&mut window, said::STACK_HIGH, "4");
    enter(&mut window, &said::of_step(said::PER_TRAY, 1), "15");
    enter(&mut window, said::NOTE, "By the door");
    let one = &sowings(&window)[0];
    assert_eq!((one.variety.as_str(), one.out(), one.losses_percent), ("Early Red", Some(day(5, 20)), 10));
    assert_eq!(one.stack.map(|stack| (stack.days, stack.high)), Some((3, 4)));
    assert_eq!((one.steps[1].per_tray, one.note.as_str()), (Some(15), "By the door"));
}

#[test]
fn containers_and_starts_are_chosen() {
    let mut window = with("72 tomato, out 16 May");
    let before = sown(&window);
    click(&mut window, &said::container_of(0));
    window.get_by_label(containers::FIND).focus();
    settle(&mut window);
    window.get_by_label(containers::FIND).type_text("128-cell plug");
    settle(&mut window);
    click(&mut window, "128-cell plug tray");
    assert_eq!(sowings(&window)[0].steps[0].container.to_string(), "plug_128");
    click(&mut window, &said::start_of(0));
    click(&mut window, said::ON_A_DATE);
    assert_eq!(sown(&window), before, "the date stays where it was");
    enter(&mut window, &said::date_of(0), "15 Mar");
    assert_eq!(sown(&window), Some(day(3, 15)));
    click(&mut window, &said::remove_step(1));
    assert_eq!(sowings(&window)[0].steps.len(), 1);
    click(&mut window, said::ADD_STEP);
    assert_eq!(sowings(&window)[0].steps[1].container.to_string(), "sq_4_18ct");
    click(&mut window, said::ADD_LOT);
    enter(&mut window, &said::which(said::SHARE, 1), "3");
    assert_eq!(window.state().forecast().courses.iter().map(|course| course.plants).collect::<Vec<_>>(), [18, 54]);
    click(&mut window, said::ADD_OUT);
    assert_eq!(sowings(&window)[0].plants_wanted(), 144);
}

#[test]
fn a_sowing_is_duplicated_and_removed() {
    let mut window = with("72 tomato 'Early Red', out 16 May");
    click(&mut window, said::DUPLICATE);
    let two = sowings(&window);
    assert_eq!(two.len(), 2);
    assert_ne!(two[0].steps[0].id, two[1].steps[0].id);
    assert_eq!((&two[0].variety, &two[0].wanted), (&two[1].variety, &two[1].wanted));
    enter(&mut window, said::PLANTS, "36");
    assert_eq!(sowings(&window).iter().map(Sowing::plants_wanted).collect::<Vec<_>>(), [72, 36], "the copy is shown");
    click(&mut window, said::REMOVE);
    assert_eq!(sowings(&window).len(), 1);
    window.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    settle(&mut window);
    assert_eq!(sowings(&window).len(), 2);
}

#[test]
fn the_list_is_sorted_and_narrowed() {
    let mut window = page_of(store::sample());
    let rows = |window: &Window| {
        let rows = window.query_all_by_label_contains(", sown ");
        let mut rows: Vec<(f32, String)> =
            rows.map(|row| (row.rect().top(), row.accesskit_node().label().unwrap_or_default())).collect();
        rows.sort_by(|a, b| a.0.total_cmp(&b.0));
        rows.into_iter().map(|(_, name)| name).collect::<Vec<_>>()
    };
    let by_name = rows(&window);
    assert!(by_name.len() > 3 && by_name.is_sorted(), "{by_name:?}");
    click(&mut window, &list::sort_by(list::NAME));
    assert!(rows(&window).is_sorted_by(|a, b| a >= b));
    click(&mut window, &list::sort_by(list::OUT));
    assert_ne!(rows(&window), by_name);
    enter(&mut window, list::FIND, "TOMATO");
    let found = rows(&window);
    assert!(!found.is_empty() && found.len() < by_name.len(), "{found:?}");
    assert!(found.iter().all(|name| name.contains("Tomato")), "{found:?}");
}

#[test]
fn the_page_asks_for_no_frame_when_nothing_happens() {
    let mut window = with("72 tomato, out 16 May");
    crate::wait(&mut window);
    click(&mut window, said::VARIETY);
    window.key_press(Key::Escape);
    // a worker that goes on wakes it now and again; a page that asks for itself always does
    crate::until(&mut window, |window| {
        let root = window.output().viewport_output.get(&ViewportId::ROOT);
        root.is_some_and(|out| out.repaint_delay > Duration::from_mins(1))
    });
}

#[test]
fn a_lot_says_what_is_later_and_how_many_of_it_go_out() {
    let mut window = with("144 tomato, out 16 May 2027");
    click(&mut window, said::ADD_LOT);
    for label in ["96 of 144 go out", "48 of 144 go out"] {
        assert!(window.query_by_label(label).is_none(), "not before the shares are");
    }
    enter(&mut window, said::SHARE, "2");
    window.get_by_label("96 of 144 go out");
    window.get_by_label("48 of 144 go out");
    let second = |window: &Window| sowings(window)[0].lots[1];
    assert_eq!((second(&window).later, second(&window).delays), (7, Delays::MovingOn));
    let sown = |window: &Window| {
        let courses = &window.state().forecast().courses;
        let date = |at: usize| courses[at].date(What::Sown).expect("it is sown");
        (date(1) - date(0)).num_days()
    };
    assert_eq!(sown(&window), 0);
    window.get_by_label(&said::which(said::WHAT_IS_LATER, 1)).scroll_to_me();
    settle(&mut window);
    click(&mut window, &said::which(said::WHAT_IS_LATER, 1));
    window.get_by_role_and_label(egui::Role::Button, "sown later").click();
    settle(&mut window);
    assert_eq!((second(&window).delays, sown(&window)), (Delays::Sowing, 7));
}

#[test]
fn pots_are_spaced_out_as_the_grower_says() {
    let mut window = with("72 tomato, out 16 May 2027");
    // a pot without another step to say so: the second
    let spacing = |window: &Window| sowings(window)[0].steps.last().and_then(|step| step.spaced.clone());
    let at = sowings(&window)[0].steps.len() - 1;
    let meet = |window: &Window| {
        let problems = &window.state().forecast().problems;
        problems.iter().filter(|problem| matches!(problem, Problem::LeavesMeet { .. })).count()
    };
    let spaced_on = |window: &Window| window.state().forecast().courses[0].date(What::Spaced);
    assert_eq!((spacing(&window), meet(&window), spaced_on(&window)), (None, 1, None));
    let tell = |window: &mut Window, how: &str| {
        click(window, &said::spacing_of(at));
        window.get_by_role_and_label(egui::Role::Button, how).click();
        settle(window);
    };
    tell(&mut window, said::WHEN_LEAVES_MEET);
    assert_eq!(spacing(&window), Some(Spacing::WhenLeavesMeet));
    assert_eq!(meet(&window), 0, "they are kept apart");
    let met = spaced_on(&window).expect("they are spaced out");
    tell(&mut window, said::SPACED_AT);
    assert_eq!(spaced_on(&window), Some(met), "a day of one's own starts as that");
    enter(&mut window, &said::of_step(said::PITCH, at), "6 in");
    enter(&mut window, &said::of_step(said::SPACED_AFTER, at), "5");
    let Some(Spacing::At(own)) = spacing(&window) else { panic!("a day of one's own") };
    assert_eq!((own.after_days, own.pitch.typed()), (5, "6 in"));
    let start = window.state().forecast().courses[0].date(What::MovedOn(sowings(&window)[0].steps[at].id));
    let start = start.expect("it is moved on");
    assert_eq!(spaced_on(&window), start.checked_add_days(chrono::Days::new(5)));
    enter(&mut window, &said::of_step(said::PITCH, at), "1 mm");
    window.get_by_label_contains("a spacing must be from");
    tell(&mut window, said::TIGHT);
    assert_eq!((spacing(&window), spaced_on(&window)), (Some(Spacing::Never), None));
    window.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    settle(&mut window);
    assert_eq!(spacing(&window), Some(Spacing::At(own)));
}
