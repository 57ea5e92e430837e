use chrono::{Days, NaiveDate};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use flatwright::forecast::{Problem, What, Why};
use flatwright::season::{EditLabel, Loss, Observed, Season, Sowing};
use flatwright::words::{self, menu, records as said, sowings};

use crate::hand::{field, opened_on, press, saved_and_read, season, settle, undo, value};
use crate::sowings::{click, enter};
use crate::{Window, day};

/// 60 tomatoes out on 16 May, at the page of records, on 1 June.
fn with_tomatoes() -> Window {
    with_tomatoes_on(day(6, 1))
}

fn with_tomatoes_on(today: NaiveDate) -> Window {
    let mut window = opened_on(today, Season::new("Test"), words::menu::SOWINGS);
    enter(&mut window, sowings::WHAT_TO_GROW, "60 tomato, out 16 May 2027");
    crate::go(&mut window, words::menu::RECORDS);
    settle(&mut window);
    window
}

fn one(window: &Window) -> Sowing {
    season(window).sowings().next().cloned().expect("a sowing")
}

fn seen(window: &Window) -> Vec<Observed> {
    one(window).seen.iter().map(|record| record.what).collect()
}

fn event(window: &Window, what: What) -> (NaiveDate, Why) {
    let course = window.state().forecast().courses.first().expect("a course");
    let event = course.events.iter().find(|event| event.what == what).expect("that event");
    (event.date, event.why)
}

fn later(date: NaiveDate, days: u64) -> NaiveDate {
    date.checked_add_days(Days::new(days)).expect("in the calendar")
}

fn shown(date: NaiveDate) -> String {
    date.format("%-d %b").to_string()
}

fn what(window: &mut Window, name: &str) {
    click(window, said::WHAT_WAS_SEEN);
    window.get_by_role_and_label(egui::Role::Button, name).click();
    settle(window);
}

/// Sown `cells` cells three days late, `up` of them up a week after.
fn sown_and_up(window: &mut Window, cells: &str, up: &str) -> (NaiveDate, NaiveDate) {
    let planned = event(window, What::Sown).0;
    let sown = later(planned, 3);
    field(window, "Cells sown", cells);
    field(window, said::DAY, &sown.to_string());
    press(window, said::WRITE_IT);
    field(window, "Cells with a plant", up);
    field(window, said::DAY, &later(sown, 7).to_string());
    press(window, said::WRITE_IT);
    (planned, sown)
}

#[test]
fn planned_and_actual_stand_side_by_side() {
    let mut window = with_tomatoes();
    let (planned, sown) = sown_and_up(&mut window, "216", "189");
    assert_eq!(seen(&window), [Observed::Sown { cells: Some(216) }, Observed::Up { plants: Some(189) }]);
    assert_eq!(event(&window, What::Sown), (sown, Why::Seen));
    assert_eq!(event(&window, What::Up), (later(sown, 7), Why::Seen));
    let (planned, sown) = (shown(planned), shown(sown));
    window.get_by_label(&format!("Sown: planned {planned}, actual {sown}, seen, 3 days later"));
    window.get_by_label("Trays of 72-cell plug tray: planned 2, actual 3, 1 more");
    window.get_by_label("Out: planned 16 May, actual 16 May, expected, as planned");
    // 189 of 216 is 87.5 %
    window.get_by_label("Came up: 189 of 216 cells, 87.5 % germination");
    let label = EditLabel::AddRecord("Tomato: up, 189 of them".to_owned());
    assert_eq!(window.state().history().undo_label(), Some(&label));
    assert_eq!(&saved_and_read(&window), season(&window));
    undo(&mut window);
    undo(&mut window);
    assert!(seen(&window).is_empty());
    assert_eq!(shown(event(&window, What::Sown).0), planned);
}

#[test]
fn every_kind_is_written_down_and_taken_out_in_order_of_date() {
    let mut window = with_tomatoes();
    let step = one(&window).steps[1].id;
    what(&mut window, "plants lost");
    click(&mut window, said::WHY_LOST);
    click(&mut window, "damping off");
    field(&mut window, "Plants", "4");
    field(&mut window, said::DAY, "20 April 2027");
    press(&mut window, said::WRITE_IT);
    for (kind, number, date) in [
        ("sown", Some(("Cells sown", "80")), "2027-03-21"),
        ("up", Some(("Cells with a plant", "")), "28 Mar"),
        ("true leaves", Some(("True leaves", "4")), "18 April"),
        ("potted on", None, "22 Apr"),
        ("gapped up", None, "Apr 21st"),
        ("planted out", Some(("Plants", "30")), "16 May"),
        ("sold", Some(("Plants", "10")), "17 May"),
        ("how they turned out", None, "15 May"),
    ] {
        what(&mut window, kind);
        if let Some((name, number)) = number {
            field(&mut window, name, number);
        }
        field(&mut window, said::DAY, date);
        press(&mut window, said::WRITE_IT);
    }
    let expected = [
        Observed::Sown { cells: Some(80) },
        Observed::Up { plants: None },
        Observed::TrueLeaves(4),
        Observed::Lost { plants: 4, why: Loss::DampingOff },
        Observed::GappedUp,
        Observed::MovedOn(step),
        Observed::Grown(flatwright::season::Grown::Right),
        Observed::PutOut(30),
        Observed::Sold(10),
    ];
    assert_eq!(seen(&window), expected);
    assert!(one(&window).seen.is_sorted_by_key(|record| record.date));
    assert_eq!(&saved_and_read(&window), season(&window));
    press(&mut window, &said::remove("lost, damping off 20 Apr"));
    assert_eq!(seen(&window).len(), 8);
    assert!(!seen(&window).contains(&Observed::Lost { plants: 4, why: Loss::DampingOff }));
    let label = EditLabel::RemoveRecord("Tomato: lost 4: damping off".to_owned());
    assert_eq!(window.state().history().undo_label(), Some(&label));
}

#[test]
fn what_is_refused_stays_in_its_field_with_the_reason() {
    let mut window = with_tomatoes();
    let (_, sown) = sown_and_up(&mut window, "144", "126");
    let before = one(&window);
    let (of_sown, of_up) = (format!("sown {}", shown(sown)), format!("up {}", shown(later(sown, 7))));
    for (name, text, why) in [
        (said::how_many(&of_sown), "2,5", "found \"2,5\"; write a whole number"),
        (said::how_many(&of_sown), "0", "the number sown must be from 1 to 1000000, found 0"),
        (said::how_many(&of_up), "4000000000", "must be from 0 to 1000000"),
        (said::day_of(&of_up), "31 April", "a day that the calendar doesn't have"),
        (said::day_of(&of_up), "1 Mar 1900", "found the year 1900"),
    ] {
        field(&mut window, &name, text);
        assert_eq!(one(&window), before, "{name}: {text}");
        assert!(window.query_all_by_label_contains(why).next().is_some(), "{name}: {text}");
        crate::go(&mut window, menu::ROOM);
        settle(&mut window);
        crate::go(&mut window, words::menu::RECORDS);
        settle(&mut window);
        assert_eq!(value(&window, &name), text);
        window.get_by_role_and_label(egui::Role::TextInput, &name).focus();
        settle(&mut window);
        window.key_press(egui::Key::Escape);
        settle(&mut window);
    }
    field(&mut window, &said::how_many(&of_sown), "150");
    field(&mut window, &said::day_of(&of_up), &later(sown, 9).to_string());
    let after = one(&window);
    assert_eq!(after.seen[0].what, Observed::Sown { cells: Some(150) });
    assert_eq!(after.seen[1].date, later(sown, 9));
    let label = EditLabel::ChangeRecord("Tomato: up, 126 of them".to_owned());
    assert_eq!(window.state().history().undo_label(), Some(&label));
}

#[test]
fn too_few_are_sown_again_for_what_is_missing() {
    let mut window = with_tomatoes_on(day(4, 7));
    sown_and_up(&mut window, "80", "48");
    let problems = &window.state().forecast().problems;
    let Some(Problem::TooFew { alive: 48, wanted: 60, sow_again_until, .. }) =
        problems.iter().find(|problem| matches!(problem, Problem::TooFew { .. }))
    else {
        panic!("12 are missing: {problems:?}")
    };
    let last = *sow_again_until;
    let still = format!("48 alive of 60 wanted; {} is the last day to sow more for the other 12", shown(last));
    window.get_by_label_contains(&still);
    window.get_by_label("Came up: 48 of 80 cells, 60.0 % germination; few seeds, so this says little");
    // 60 % come up: 20 cells for 12 plants on average
    window.get_by_label_contains("48 of 80 came up: 20 cells on average");
    window.get_by_label_contains("Sow 12 more on").click();
    settle(&mut window);
    let both: Vec<Sowing> = season(&window).sowings().cloned().collect();
    assert_eq!(both.len(), 2);
    assert_eq!((both[1].plants_wanted(), both[1].out()), (12, both[0].out()));
    let chain = |sowing: &Sowing| sowing.steps.iter().map(|step| step.container.clone()).collect::<Vec<_>>();
    assert_eq!(chain(&both[0]), chain(&both[1]));
    assert!(both[1].seen.is_empty());
    window.get_by_label_contains("Sown again: 12 plants");
    assert_eq!(window.state().history().undo_label(), Some(&EditLabel::AddSowing("Tomato".to_owned())));
    assert!(window.query_by_label_contains("Sow 12 more").is_none(), "not twice");
}

/// "Sow again by 8 Apr" stood above "8 Apr was the last day".
#[test]
fn what_it_is_too_late_for_is_said_once() {
    let mut window = with_tomatoes_on(day(5, 1));
    sown_and_up(&mut window, "80", "48");
    let problems = &window.state().forecast().problems;
    let last = problems.iter().find_map(|problem| match problem {
        Problem::TooFew { sow_again_until, .. } => Some(shown(*sow_again_until)),
        _ => None,
    });
    let last = last.expect("12 are missing");
    let said = format!("48 alive of 60 wanted; {last} was the last day to sow more for the other 12");
    window.get_by_label_contains(&said);
    assert_eq!(window.query_all_by_label_contains("last day").count(), 1);
    assert!(window.query_by_label_contains("Sow 12 more").is_none());
    crate::go(&mut window, menu::WORTH_A_LOOK);
    assert!(window.query_all_by_label_contains(&said).next().is_some(), "here as there");
}

#[test]
fn plugs_of_half_empty_trays_are_moved_together() {
    let mut window = with_tomatoes();
    let (_, sown) = sown_and_up(&mut window, "144", "70");
    let trays_on = |window: &Window, date: NaiveDate| window.state().forecast().on(date).count();
    let after = later(sown, 7);
    assert_eq!(trays_on(&window, after), 2);
    window.get_by_label("Gapped up, the plugs would fill 1 tray in place of 2");
    window.get_by_label_contains("Gapped up on").click();
    settle(&mut window);
    assert_eq!(seen(&window).last(), Some(&Observed::GappedUp));
    let together = one(&window).seen.last().expect("a record").date;
    assert!(together >= after, "not before they were up");
    assert_eq!((trays_on(&window, sown), trays_on(&window, together)), (2, 1));
    let label = EditLabel::AddRecord("Tomato: gapped up".to_owned());
    assert_eq!(window.state().history().undo_label(), Some(&label));
    assert!(window.query_by_label_contains("would fill").is_none());
    assert_eq!(day(5, 16), one(&window).out().expect("a day out"));
}

/// What was written down stood on the day that is looked at.
#[test]
fn a_record_stands_on_the_day_it_was_due() {
    let mut window = with_tomatoes();
    let day_shown = |window: &Window| value(window, said::DAY);
    let due = |window: &Window, what| words::fields::typed_day(event(window, what).0);
    assert_eq!(day_shown(&window), due(&window, What::Sown));
    field(&mut window, "Cells sown", "80");
    press(&mut window, said::WRITE_IT);
    assert_eq!(one(&window).seen[0].date, event(&window, What::Sown).0);
    assert_eq!(day_shown(&window), due(&window, What::Up));
    what(&mut window, "planted out");
    assert_eq!(day_shown(&window), words::fields::typed_day(day(5, 16)));
    what(&mut window, "plants lost");
    assert_eq!(
        day_shown(&window),
        words::fields::typed_day(window.state().day()),
        "due on no day: the one that is looked at"
    );
}

/// The form went back to "sown" after each entry.
#[test]
fn the_form_goes_on_to_what_is_due_next_and_to_the_same_of_the_next_sowing() {
    let mut window = opened_on(day(6, 1), Season::new("Test"), words::menu::SOWINGS);
    for line in ["60 tomato, out 16 May 2027", "48 pepper, out 23 May 2027"] {
        enter(&mut window, sowings::WHAT_TO_GROW, line);
    }
    crate::go(&mut window, words::menu::RECORDS);
    let look_at = |window: &mut Window, crop: &str| {
        let row =
            window.query_all_by_label_contains(crop).find(|node| node.accesskit_node().role() == egui::Role::Button);
        row.expect("a row").click();
        settle(window);
    };
    let shows = |window: &Window, field: &str| window.query_by_role_and_label(egui::Role::TextInput, field).is_some();
    look_at(&mut window, "Tomato");
    what(&mut window, "true leaves");
    field(&mut window, "True leaves", "2");
    field(&mut window, said::DAY, "10 Apr 2027");
    press(&mut window, said::WRITE_IT);
    assert!(
        window.query_by_label(said::MOVED_ON_INTO).is_some() && !shows(&window, "Cells sown"),
        "on to what is next"
    );
    look_at(&mut window, "Pepper");
    assert!(shows(&window, "True leaves"), "the same of the next one");
    look_at(&mut window, "Tomato");
    assert!(window.query_by_label(said::MOVED_ON_INTO).is_some());
}

/// A record of one batch counted for all.
#[test]
fn a_record_names_its_batch_where_batches_are_moved_on_by_themselves() {
    use flatwright::season::{Delays, Lot, LotId, Op};
    let window = with_tomatoes();
    let mut two = season(&window).clone();
    let (mut sowing, later) = (one(&window), LotId(two.next_id()));
    sowing.lots.push(Lot { later: 7, delays: Delays::MovingOn, ..Lot::new(later) });
    two.apply(&Op::PutSowing(sowing.clone()).into()).expect("two batches");
    let mut window = opened_on(day(6, 1), two, words::menu::RECORDS);
    what(&mut window, "potted on");
    press(&mut window, said::WRITE_IT);
    press(&mut window, said::WRITE_IT);
    let lots: Vec<_> = one(&window).seen.iter().map(|record| record.lot).collect();
    assert_eq!(lots, [Some(sowing.lots[0].id), Some(later)]);
    let batch = said::batch_of(&one(&window), Some(later)).expect("of several");
    assert!(window.query_all_by_label_contains(&batch).next().is_some(), "{batch}");
    assert_eq!(&saved_and_read(&window), season(&window));
}

#[test]
fn what_cannot_have_been_is_told_beside_the_field() {
    let mut window = with_tomatoes();
    let (_, sown) = sown_and_up(&mut window, "80", "60");
    what(&mut window, "potted on");
    field(&mut window, said::DAY, &later(sown, 3).to_string());
    let why = "coming up comes first, and that was on";
    assert!(window.query_all_by_label_contains(why).next().is_some(), "{why}");
    assert_eq!(seen(&window).len(), 2);
    assert_eq!(value(&window, said::DAY), later(sown, 3).to_string(), "nothing typed is lost");
}

/// Records of one kind and day were told apart by their place: what was typed for one stood at another.
#[test]
fn a_refused_number_stays_with_its_record() {
    let mut window = with_tomatoes();
    let (_, sown) = sown_and_up(&mut window, "80", "60");
    for plants in ["3", "4"] {
        what(&mut window, "plants lost");
        field(&mut window, "Plants", plants);
        field(&mut window, said::DAY, &later(sown, 10).to_string());
        press(&mut window, said::WRITE_IT);
    }
    let first = format!("lost, not known why {}", shown(later(sown, 10)));
    let second = words::fields::numbered(&first, 1);
    field(&mut window, &said::how_many(&second), "0");
    press(&mut window, &said::remove(&first));
    assert_eq!(value(&window, &said::how_many(&first)), "4", "the one that is left is another record");
}
