//! What to have ready: a table each of seed, trays and pots, by the figures of the forecast.

use egui::Role;
use egui_kittest::kittest::Queryable as _;
use flatwright::forecast::supplies::supplies;
use flatwright::season::Season;
use flatwright::store;
use flatwright::units::LengthUnit;
use flatwright::words::{self, Words, sowings, supplies as said};

use crate::Window;
use crate::hand::{opened, season, settle, undo};
use crate::sowings::enter;

fn with_tomatoes() -> Window {
    let mut window = opened(Season::new("Test"), words::menu::SOWINGS);
    enter(&mut window, sowings::WHAT_TO_GROW, "60 tomato, out 16 May 2027");
    window.get_by_role_and_label(Role::Tab, said::PAGE).click();
    settle(&mut window);
    window
}

/// Every row, as the library has it.
fn rows(window: &Window) -> Vec<String> {
    let (season, forecast, library) = (season(window), window.state().forecast(), store::library());
    let found = supplies(season, library, forecast);
    let words = Words { season, library, forecast, unit: LengthUnit::Inch };
    let seed = found.seed.iter().map(|one| words.seed_wanted(one).said);
    let in_use = found.trays.iter().chain(&found.pots).map(|one| words.in_use(one).said);
    seed.chain(in_use).collect()
}

#[test]
fn an_empty_season_needs_nothing() {
    let window = opened(Season::new("Test"), said::PAGE);
    window.get_by_label(said::NOTHING_SOWN);
}

#[test]
fn every_row_is_one_sentence_to_a_screen_reader() {
    let window = with_tomatoes();
    let rows = rows(&window);
    assert!(rows.len() > 2, "{rows:?}");
    for row in &rows {
        window.get_by_label(row);
    }
    window.get_by_label(&said::what_seed_counts(90));
    let sow = window.state().forecast().courses[0].sow;
    let (average, sure) = (sow.on_average.to_string(), sow.sure.to_string());
    assert!(rows[0].starts_with(&format!("Tomato, on average: {average}, to be sure: {sure}, ")), "{}", rows[0]);
}

#[test]
fn it_follows_the_season() {
    let mut window = with_tomatoes();
    let before = rows(&window);
    crate::go(&mut window, words::menu::SOWINGS);
    settle(&mut window);
    enter(&mut window, sowings::WHAT_TO_GROW, "72 kale, out 20 Apr");
    window.get_by_role_and_label(Role::Tab, said::PAGE).click();
    settle(&mut window);
    let after = rows(&window);
    assert!(after.len() > before.len());
    for row in &after {
        window.get_by_label(row);
    }
    undo(&mut window);
    for row in &before {
        window.get_by_label(row);
    }
    assert!(after.iter().filter(|row| !before.contains(row)).all(|row| window.query_by_label(row).is_none()));
}
