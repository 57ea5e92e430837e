//! Every field of every page: what is refused stays in it, with its reason beside it.

use std::collections::BTreeSet;
use std::path::Path;

use egui::{Key, Modifiers, Rect, Role};
use egui_kittest::kittest::{NodeT as _, Queryable as _, by};
use flatwright::store;
use flatwright::window::App;
use flatwright::words::{already_here, containers, crops, days_away, fields::newly, frost, guests, places, sowings};

use crate::hand::settle;
use crate::pages::{each, labels};
use crate::{Window, day, sized};

/// Nothing that any field takes but one for words.
const ODD: &str = "7 §§ 1/0";

/// They look for part of a name, and refuse nothing.
const FIND: [&str; 3] = [containers::FIND, crops::FIND, sowings::FIND];

fn field(window: &Window, at: usize) -> Option<(String, String, Rect)> {
    let node = window.query_all_by_role(Role::TextInput).nth(at)?;
    Some((node.accesskit_node().label().unwrap_or_default(), node.value().unwrap_or_default(), node.rect()))
}

/// What is written near that field.
fn near(window: &Window, rect: Rect) -> BTreeSet<String> {
    let all = window.query_all(by().predicate(|_| true));
    let beside = all.filter(|node| {
        let (top, bottom) = (f64::from(rect.top()) - 70.0, f64::from(rect.bottom()) + 70.0);
        node.accesskit_node().raw_bounds().is_some_and(|bounds| bounds.y0 < bottom && bounds.y1 > top)
    });
    beside.flat_map(|node| [node.accesskit_node().label(), node.accesskit_node().value()]).flatten().collect()
}

fn write(window: &mut Window, at: usize) {
    let Some(node) = window.query_all_by_role(Role::TextInput).nth(at) else { return };
    node.scroll_to_me();
    settle(window);
    window.query_all_by_role(Role::TextInput).nth(at).expect("it is there").focus();
    settle(window);
    window.key_press_modifiers(Modifiers::COMMAND, Key::A);
    settle(window);
    window.query_all_by_role(Role::TextInput).nth(at).expect("it is there").type_text(ODD);
    settle(window);
}

fn is_words(name: &str) -> bool {
    WORDS.iter().any(|word| name == *word || name == newly(word)) || name == containers::NOTE
}

/// What is wrong with the fields of the page that is shown.
fn faults(window: &mut Window, page: &str, seen: &mut BTreeSet<String>) -> Vec<String> {
    let mut wrong = Vec::new();
    for at in 0..labels(window, Role::TextInput).len() {
        let Some((name, shown, _)) = field(window, at) else { continue };
        if FIND.contains(&name.as_str()) || !seen.insert(format!("{page}: {name}")) {
            continue;
        }
        let before = window.state().history().revision();
        if let Some(node) = window.query_all_by_role(Role::TextInput).nth(at) {
            node.scroll_to_me();
        }
        settle(window);
        let rect = field(window, at).map_or(Rect::NOTHING, |(_, _, rect)| rect);
        let said = near(window, rect);
        write(window, at);
        window.key_press(Key::Enter);
        settle(window);
        let taken = window.state().history().revision() != before;
        let Some((_, now, rect)) = field(window, at) else {
            // a small form goes with what it wrote down
            if taken && is_words(&name) {
                window.key_press_modifiers(Modifiers::COMMAND, Key::Z);
                settle(window);
                continue;
            }
            wrong.push(format!("{page}: {name} is gone"));
            continue;
        };
        let reason = near(window, rect).into_iter().any(|text| text.len() > ODD.len() && !said.contains(&text));
        if now != ODD {
            wrong.push(format!("{page}: {name} shows {now:?} (was {shown:?})"));
        } else if !taken && !reason && !is_words(&name) {
            wrong.push(format!("{page}: {name} gives no reason"));
        }
        if taken {
            window.key_press_modifiers(Modifiers::COMMAND, Key::Z);
            settle(window);
        } else {
            // as it was, for the fields beside it
            window.query_all_by_role(Role::TextInput).nth(at).expect("it is there").focus();
            settle(window);
            window.key_press(Key::Escape);
            settle(window);
        }
    }
    wrong
}

/// Any words will do in them, and they are taken with the rest of their form.
const WORDS: [&str; 8] = [
    places::NEW_RACK,
    already_here::VARIETY,
    days_away::NAME,
    days_away::WATERS,
    guests::NAME,
    containers::NAME,
    frost::FILE,
    frost::STATION,
];

#[test]
fn whatever_is_refused_stays_in_its_field_with_its_reason() {
    let season = store::load(&Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/files/v2-rich.ron")).unwrap();
    let mut window = sized(1600.0, 3000.0).build_eframe(move |_| App::new(season, None, day(4, 14)));
    settle(&mut window);
    let (mut wrong, mut seen) = (Vec::new(), BTreeSet::new());
    each(&mut window, 8, |window, page| wrong.extend(faults(window, page, &mut seen)));
    assert!(seen.len() > 100, "only {} fields", seen.len());
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// One was grey, and nothing said why until a name was written.
#[test]
fn a_button_that_is_grey_says_why_beside_it() {
    use egui_kittest::kittest::{NodeT as _, Queryable as _};
    use flatwright::words::{containers, fields, frost, guests, menu, sowing_table};
    for (page, button, why) in [
        (menu::GUESTS, guests::ADD, ": a name is missing"),
        (flatwright::words::containers::PAGE, containers::ADD, ": a name is missing"),
        (frost::OPEN, frost::READ_RECORD, fields::FILE_FIRST),
        (frost::OPEN, frost::TAKE_TABLE, frost::TABLE_FIRST),
        (sowing_table::OPEN, sowing_table::READ, fields::FILE_FIRST),
    ] {
        let window = crate::hand::opened(flatwright::season::Season::new("Test"), page);
        let grey = window.get_by_role_and_label(egui::Role::Button, button);
        assert!(grey.accesskit_node().is_disabled(), "{button}");
        assert!(window.query_all_by_label_contains(why).next().is_some(), "{button}: {why}");
    }
}
