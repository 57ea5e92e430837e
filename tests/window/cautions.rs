//! Cautions stand folded beside the figures that they concern.

use egui_kittest::kittest::Queryable as _;
use flatwright::season::Season;
use flatwright::units::LengthUnit;
use flatwright::words::cautions::{Care, DEFER};
use flatwright::words::{containers, frost, menu, places};

use crate::Window;
use crate::hand::{opened, page_of, press, settle};

fn turn(window: &mut Window, care: Care) {
    window.get_by_label(care.title()).scroll_to_me();
    settle(window);
    window.get_by_label(care.title()).click();
    // it opens and closes in a few frames
    for _ in 0..20 {
        window.step();
    }
    settle(window);
}

/// One line, which opens and says all; what defers to others comes last.
#[track_caller]
fn is_folded(window: &mut Window, care: Care, says: &str) {
    assert!(window.query_by_label_contains(says).is_none(), "{care:?} is folded");
    turn(window, care);
    window.get_by_label_contains(says);
    assert!(window.query_all_by_label(DEFER).next().is_some(), "{care:?} defers");
    turn(window, care);
    assert!(window.query_by_label_contains(says).is_none(), "{care:?} is folded again");
}

#[test]
fn they_stand_beside_lamps_mats_loads_and_frames() {
    let mut window = opened(Season::new("Test"), menu::PLACES);
    press(&mut window, places::ADD);
    press(&mut window, "Rack 1, shelf 2, 48 in × 18 in");
    is_folded(&mut window, Care::Load, "casters lower it");
    is_folded(&mut window, Care::Power, "80 % of the breaker at most (15 A at 120 V: 1,440 W; 20 A: 1,920 W)");
    is_folded(&mut window, Care::Power, "A GFCI (RCD) that trips ends the heat");
    let place = places::usual_place(flatwright::season::Role::Growing);
    press(&mut window, &places::place_said(place, flatwright::season::Role::Growing));
    is_folded(&mut window, Care::Power, "thermostat with its probe in the mix");
    is_folded(&mut window, Care::Houses, "A heater without a flue");
}

#[test]
fn they_stand_beside_mix_and_frost() {
    let mut window = opened(Season::new("Test"), containers::PAGE);
    press(&mut window, containers::ADD_TITLE);
    is_folded(&mut window, Care::Mix, "Legionella");
    let mut window = page_of(Season::new("Test"), None, frost::OPEN);
    window.get_by_label_contains("commonly 4 to 9 °F colder at grass height");
    is_folded(&mut window, Care::Houses, "A closed frame in sun is soon too hot");
}

#[test]
fn each_is_one_sentence_of_the_grower_s_own_units() {
    for care in Care::ALL {
        for unit in [LengthUnit::Millimetre, LengthUnit::Inch] {
            let lines = care.lines(unit);
            assert!(lines.len() >= 3 && lines.iter().all(|line| !line.ends_with('.')), "{lines:?}");
            let said = lines.join(" ");
            assert!(!(said.contains("°C") && said.contains("°F")), "one scale: {said}");
        }
    }
    assert!(Care::Houses.lines(LengthUnit::Millimetre).iter().any(|line| line.contains("commonly 2 to 5 °C colder")));
}
