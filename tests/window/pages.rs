//! Every page, and whatever can be chosen on it, one after the other.

use egui::Role;
use egui_kittest::kittest::{NodeT as _, Queryable as _, by};
use flatwright::words;

use crate::Window;
use crate::hand::settle;

/// All that is written on screen, and said by a screen reader.
pub(crate) fn texts(window: &Window) -> Vec<String> {
    let all = window.query_all(by().predicate(|_| true));
    let of = |node: egui_kittest::Node<'_>| {
        let node = node.accesskit_node();
        [node.label(), node.value(), node.placeholder().map(ToOwned::to_owned)]
    };
    all.flat_map(of).flatten().collect()
}

/// Below the headline on every page, and none of its rows.
const POOLS: [&str; 4] = ["bottom heat", "germinating", "growing", "hardening"];

/// All that opens over a room.
pub(crate) const OVER: [&str; 13] = [
    words::containers::PAGE,
    words::menu::START,
    words::menu::PLACES,
    words::menu::SOWINGS,
    words::menu::GUESTS,
    words::menu::DAYS,
    words::menu::RECORDS,
    words::menu::WORTH_A_LOOK,
    words::frost::OPEN,
    words::sowing_table::OPEN,
    words::next_year::OPEN,
    words::ways_out::OPEN,
    words::can_wait::OPEN,
];

/// Runs `look` on each page and with each row of its list chosen, up to so many of them.
pub(crate) fn each(window: &mut Window, rows: usize, mut look: impl FnMut(&mut Window, &str)) {
    // by their places: one of them counts
    for at in 0..labels(window, Role::Tab).len() {
        let Some(tab) = window.query_all_by_role(Role::Tab).nth(at) else { continue };
        tab.click();
        let name = tab.accesskit_node().label().unwrap_or_default();
        settle(window);
        rows_of(window, &name, rows, &mut look);
    }
    for page in OVER {
        crate::go(window, page);
        rows_of(window, page, rows, &mut look);
    }
}

pub(crate) fn labels(window: &Window, role: Role) -> Vec<String> {
    window.query_all_by_role(role).filter_map(|node| node.accesskit_node().label()).collect()
}

fn rows_of(window: &mut Window, page: &str, rows: usize, look: &mut impl FnMut(&mut Window, &str)) {
    look(window, page);
    // what is chosen is another thing than a button that does something: it can be chosen or not
    let chosen = |window: &Window| {
        let all = window.query_all_by_role(Role::Button);
        let can = |node: &egui_kittest::Node<'_>| {
            let node = node.accesskit_node();
            let is_pool = node.label().is_some_and(|label| POOLS.iter().any(|pool| label.starts_with(pool)));
            !is_pool && (node.is_selected().is_some() || node.toggled().is_some())
        };
        let rows = all.filter(can);
        rows.filter_map(|node| node.accesskit_node().label()).collect::<Vec<_>>()
    };
    for row in chosen(window).into_iter().take(rows) {
        let Some(node) = window.query_all_by_role_and_label(Role::Button, &row).next() else { continue };
        node.click();
        settle(window);
        look(window, &format!("{page}, {row}"));
    }
}
