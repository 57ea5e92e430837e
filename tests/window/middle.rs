use egui::{Key, Role};
use egui_kittest::kittest::Queryable as _;
use flatwright::forecast::What;
use flatwright::season::{Begun, EditLabel, Season, Stage};
use flatwright::words;
use flatwright::words::{already_here as said, sowings};

use crate::hand::{choose, field, opened, press, saved_and_read, season, settle, undo, value};
use crate::{Window, day};

fn fill(window: &mut Window) {
    field(window, said::CROP, "tomato");
    field(window, said::PLANTS, "72");
    field(window, said::LEAVES, "2");
    field(window, said::AS_OF, "3 Apr 2027");
    field(window, said::OUT, "16 May");
}

#[test]
fn plants_that_stand_there_go_on_from_their_stage() {
    let mut window = opened(Season::new("Test"), words::menu::SOWINGS);
    press(&mut window, said::OPEN);
    fill(&mut window);
    window.get_by_label_contains("72 plants of Tomato: 2 true leaves on 3 Apr, in 1 tray of");
    press(&mut window, said::ADD);
    let sowing = season(&window).sowings().next().expect("one").clone();
    assert_eq!(sowing.begun, Some(Begun { on: day(4, 3), stage: Stage::TrueLeaves(2) }));
    assert_eq!((sowing.plants_wanted(), sowing.out()), (72, Some(day(5, 16))));
    let steps: Vec<String> = sowing.steps.iter().map(|step| step.container.to_string()).collect();
    assert_eq!(steps, ["plug_72", "sq_4_18ct"]);
    // 21 days old then, due at 28
    let course = &window.state().forecast().courses[0];
    assert_eq!(course.date(What::MovedOn(sowing.steps[1].id)), Some(day(4, 10)));
    window.get_by_label_contains("here already 3 Apr (about 21 days old: 2 true leaves, by the crop's days)");
    window.get_by_label_contains("72 plants, here 3 Apr, out 16 May");
    assert_eq!(window.state().history().undo_label(), Some(&EditLabel::AddSowing("Tomato".to_owned())));
    assert_eq!(&saved_and_read(&window), season(&window));
    field(&mut window, said::LEAVES, "4");
    assert_eq!(
        season(&window).sowings().next().and_then(|one| one.begun).map(|begun| begun.stage),
        Some(Stage::TrueLeaves(4))
    );
    undo(&mut window);
    undo(&mut window);
    assert_eq!(season(&window).sowings().count(), 0);
}

#[test]
fn the_start_page_has_the_form_too() {
    let mut window = opened(Season::new("Test"), words::menu::START);
    press(&mut window, said::OPEN);
    fill(&mut window);
    choose(&mut window, said::UP);
    press(&mut window, said::ADD);
    let sowing = season(&window).sowings().next().expect("one").clone();
    assert_eq!(sowing.begun, Some(Begun { on: day(4, 3), stage: Stage::Up }));
    window.get_by_label("72 × Tomato: here from 3 Apr, out 16 May");
}

#[test]
fn what_cannot_be_stays_in_its_field_with_the_reason() {
    let mut window = opened(Season::new("Test"), words::menu::SOWINGS);
    press(&mut window, said::OPEN);
    fill(&mut window);
    for (name, text, why) in [
        (said::CROP, "tomatillo tree", "tomatillo tree"),
        (said::PLANTS, "2,5", "found \"2,5\"; write a whole number"),
        (said::PLANTS, "2.5", "found \"2.5\"; write a whole number"),
        (said::PLANTS, "0", "from 1 to 1000000"),
        (said::LEAVES, "1 1/2 in", "write a whole number"),
        (said::LEAVES, "0", "from 1 to 50"),
        (said::AS_OF, "31 April", "31 April"),
        (said::OUT, "3 Apr 2027", "must come after Sat 3 Apr 2027"),
        (said::OUT, "16 May 1900", "1900"),
    ] {
        let shown = value(&window, name);
        field(&mut window, name, text);
        assert_eq!(value(&window, name), text);
        assert!(window.query_all_by_label_contains(why).next().is_some(), "{name}: {text}: {why}");
        // the list and back: what was typed is still there
        press(&mut window, sowings::BACK);
        press(&mut window, said::OPEN);
        window.get_by_role_and_label(Role::TextInput, name);
        assert_eq!(value(&window, name), text);
        press(&mut window, said::ADD);
        settle(&mut window);
        assert_eq!(season(&window).sowings().count(), 0, "{name}: {text}");
        field(&mut window, name, &shown);
    }
    press(&mut window, said::ADD);
    assert_eq!(season(&window).sowings().count(), 1);
}

/// What is typed into a list that was opened narrows it at once, and Enter takes the first that is left.
#[test]
fn a_list_that_opens_is_searched_by_what_is_typed() {
    let mut window = opened(Season::new("Test"), words::menu::SOWINGS);
    press(&mut window, said::OPEN);
    for (part, found) in [("128", "128-cell plug tray"), ("105", "105-cell plug tray")] {
        window.get_by_role_and_label(Role::ComboBox, said::CONTAINER).click();
        settle(&mut window);
        let find = || words::containers::FIND;
        let field = window.get_by_role_and_label(Role::TextInput, find());
        assert!(field.is_focused(), "it has the keys");
        assert_eq!(field.value().unwrap_or_default(), "", "what was looked for before is gone");
        window.event(egui::Event::Text(part.to_owned()));
        settle(&mut window);
        window.key_press(Key::Enter);
        settle(&mut window);
        assert!(window.query_by_role_and_label(Role::TextInput, find()).is_none(), "it is shut again");
        let shown = window.get_by_role_and_label(Role::ComboBox, said::CONTAINER).value().unwrap_or_default();
        assert_eq!(shown, found);
    }
}
