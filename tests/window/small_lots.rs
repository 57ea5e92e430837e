//! Small lots that share a tray: said on the sowing's page and beside the tray, and taken apart again.

use egui::{Key, Modifiers, Role};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use flatwright::season::{
    Op, PartOfDay, Place, PlaceId, Rack, RackId, Reach, Season, Shelf, ShelfId, Temperatures, Zone, ZoneKind,
};
use flatwright::units::Measure;
use flatwright::words::{menu, sharing as said, sowing, sowings as list};

use crate::Window;
use crate::hand::{opened, press, saved_and_read, season, settle, undo};
use crate::sowings::{click, enter};

/// A lit shelf for growing.
fn room() -> Season {
    let mut season = Season::new("Test");
    let [place, rack, shelf] = [1, 2, 3];
    let (width, depth) = (inches(48), inches(24));
    let lamp =
        Zone { kind: ZoneKind::Lamp, x: Measure::mm(0), y: Measure::mm(0), width: width.clone(), depth: depth.clone() };
    let name = || "Room".to_owned();
    let (open, temperatures) = (Vec::new(), Temperatures::default());
    let ops = vec![
        Op::PutPlace(Place {
            id: PlaceId(place),
            name: name(),
            role: flatwright::season::Role::Growing,
            open,
            part: PartOfDay::Whole,
            temperatures,
            light: flatwright::season::Light::Lamps,
            floor: None,
        }),
        Op::PutRack(Rack { id: RackId(rack), place: PlaceId(place), name: name(), position: 1, stands: None }),
        Op::PutShelf(Shelf {
            id: ShelfId(shelf),
            rack: RackId(rack),
            tier: 1,
            width,
            depth,
            clear_height: None,
            reach: Reach::OneSide,
            closed: Vec::new(),
            zones: vec![lamp],
            overhang: Measure::mm(0),
            allowance_percent: 0,
            load_grams: None,
            light: None,
        }),
    ];
    for op in ops {
        season.apply(&op.into()).expect("a room of the test's own");
    }
    season
}

fn inches(number: u32) -> Measure {
    Measure::parse_length(&format!("{number} in"), None).expect("a length of the test's own")
}

/// Six each of two tomatoes, sown and potted on the same days.
fn two_sorts() -> Window {
    let mut window = opened(room(), menu::SOWINGS);
    for variety in ["Early", "Late"] {
        enter(&mut window, list::WHAT_TO_GROW, "6 tomato, out 16 May 2027");
        enter(&mut window, sowing::VARIETY, variety);
    }
    window
}

fn alone(window: &Window) -> Vec<bool> {
    season(window).sowings().map(|sowing| sowing.alone).collect()
}

/// Trays on the fullest day, and trays that are shared.
fn trays(window: &Window) -> (usize, usize) {
    let forecast = window.state().forecast();
    let most = forecast.stays.iter().map(|stay| forecast.on(stay.span.from()).count()).max();
    (most.unwrap_or(0), forecast.shared.len())
}

#[test]
fn a_sowing_says_with_whom_it_shares_and_can_stand_alone() {
    let mut window = two_sorts();
    // nine cells each are two rows of six; six pots each stand in a flat of 18
    window.get_by_label("shares To 1 (rows 3–4) with Tomato ‘Early’");
    window.get_by_label("shares To 2 (pots 7–12) with Tomato ‘Early’");
    assert_eq!(trays(&window), (1, 2));
    window.get_by_role_and_label(Role::CheckBox, said::ALONE).scroll_to_me();
    settle(&mut window);
    click(&mut window, said::ALONE);
    assert_eq!((alone(&window), trays(&window)), (vec![false, true], (2, 0)));
    assert!(window.query_by_label_contains("shares To").is_none());
    assert_eq!(saved_and_read(&window), *season(&window));
    undo(&mut window);
    assert_eq!((alone(&window), trays(&window)), (vec![false, false], (1, 2)));
}

#[test]
fn the_tray_shows_its_map_and_lets_one_of_them_out() {
    let mut window = two_sorts();
    press(&mut window, "shares To 1 (rows 3–4) with Tomato ‘Early’");
    window.get_by_label(said::WHO_STANDS_IN_IT);
    window.get_by_label("12 rows of 6");
    window.get_by_label("8 rows free");
    let row = window.get_by_role_and_label(Role::Button, "rows 1–2: Tomato ‘Early’, 9 cells");
    assert!(!row.accesskit_node().is_disabled());
    press(&mut window, &said::take_out("Tomato ‘Early’"));
    assert_eq!((alone(&window), trays(&window)), (vec![true, false], (2, 0)));
    assert!(window.query_by_label(said::WHO_STANDS_IN_IT).is_none(), "it is no shared tray any more");
    // Escape would choose no tray
    window.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    settle(&mut window);
    window.get_by_label(said::WHO_STANDS_IN_IT);
    // a row leads to who stands there
    press(&mut window, "rows 1–2: Tomato ‘Early’, 9 cells");
    settle(&mut window);
    window.get_by_label("shares To 1 (rows 1–2) with Tomato ‘Late’");
}

/// Nothing said that plants without a lamp grow by daylight alone.
#[test]
fn a_sowing_says_once_what_it_grows_by_where_no_lamp_is() {
    use flatwright::season::{Light, NoLamps};
    for (light, said) in
        [(Light::Daylight, Some(NoLamps::Daylight)), (Light::Dark, Some(NoLamps::Dark)), (Light::Lamps, None)]
    {
        let mut season = room();
        let mut shelf = season.shelves().next().expect("a shelf").clone();
        let mut place = season.place_of(&shelf).expect("its place").clone();
        if said.is_some() {
            shelf.zones.clear();
        }
        place.light = light;
        season.apply(&Op::PutPlace(place).into()).expect("another light");
        season.apply(&Op::PutShelf(shelf).into()).expect("no lamp");
        assert_eq!(season.grows_without_lamps(), said);
        let mut window = opened(season, menu::SOWINGS);
        enter(&mut window, list::WHAT_TO_GROW, "6 tomato, out 16 May 2027");
        for one in [NoLamps::Daylight, NoLamps::Dark] {
            let times = window.query_all_by_label(sowing::grows_by(one)).count();
            assert_eq!(times, usize::from(said == Some(one)), "{light:?}");
        }
    }
}
