use std::f64::consts::PI;

use flatwright::season::{Container, ContainerKey, ContainerKind, Plug, Pot, Season};
use flatwright::trade;
use flatwright::units::Length;

use crate::{LIBRARY, check, close, container};

const OMAFRA: &str = "Ontario ministry of agriculture, Growing Vegetable Transplants in Plug Trays, Table 1";
const JA: &str = "JA/MAFF cell-tray standard chart";

#[track_caller]
fn plug(key: &str) -> &'static Plug {
    match &container(key).kind {
        ContainerKind::Plug(plug) => plug,
        other => panic!("{key} is {other:?}"),
    }
}

#[track_caller]
fn pot(key: &str) -> (&'static Container, &'static Pot) {
    match container(key) {
        all @ Container { kind: ContainerKind::Pot(pot), .. } => (all, pot),
        other => panic!("{key} is {other:?}"),
    }
}

#[test]
fn cell_volumes() {
    let printed = [
        ("plug_24", 171.0),
        ("plug_38", 106.0),
        ("plug_50", 66.0),
        ("plug_72", 43.0),
        ("plug_128", 23.0),
        ("plug_200", 11.0),
        ("plug_288", 7.0),
    ];
    for (key, ml) in printed {
        check(&format!("{key}: {ml} ml"), OMAFRA);
        close(plug(key).cell_volume.as_ref().unwrap().value.value().to_ml(), ml, 0.5);
    }
}

#[test]
fn the_japanese_tray() {
    check("the machine tray is 590 x 300 mm", JA);
    let outer = &plug("jp_plug_128").outer.value;
    assert_eq!((outer.width.value(), outer.depth.value()), (Length::from_mm(590), Length::from_mm(300)));
    for (keys, mm) in [(["jp_plug_128", "plug_128"], 30), (["plug_200"; 2], 25), (["plug_288"; 2], 20)] {
        check(&format!("{}: cells {mm} mm wide", keys[0]), JA);
        for key in keys {
            let top = plug(key).cell_top.as_ref().unwrap();
            assert_eq!(top.value(), Length::from_mm(mm), "{key}");
        }
    }
}

#[test]
fn flats_hold_their_cells() {
    check("10 x 20 in flats are 28 x 55 cm", "HortScience 25(2):173, 1990");
    check("11 x 21 to 11 x 21.5 in outside", "trade listings of plug trays");
    for key in ["flat_1020", "plug_406", "plug_72", "pack_606"] {
        let outer = container(key).tray_outer().unwrap();
        let (long, short) = (outer.width.value().to_mm() / 25.4, outer.depth.value().to_mm() / 25.4);
        close(long, 21.25, 0.25);
        close(short, 11.0, 0.1);
    }
    check("a flat is 10.94 x 21.44 in wherever it is named", "our growers' cases");
    let named = trade::resolve(LIBRARY.containers.values(), "flat", None).expect("a flat");
    let Some(flat) = trade::Outline::of(container("flat_1020")) else { panic!("a flat") };
    let sides = |outline: trade::Outline| match outline {
        trade::Outline::Rectangle { width, depth } => [width.min(depth), width.max(depth)],
        trade::Outline::Round { .. } => panic!("round"),
    };
    assert_eq!(sides(named.outline), sides(flat));
}

#[test]
fn carrying_trays_hold_as_many_pots_as_they_have_places() {
    check("18 pots of 3.25 in to a 10 x 20 in tray, 10 of 4 in to 8 x 20 in", "nursery plant-container-size page");
    for (tray, one, number) in [("carry_18", "sq_4_18ct", 18), ("carry_15", "sq_3_5", 15), ("carry_10", "rd_4", 10)] {
        let ContainerKind::Flat(flat) = &container(tray).kind else { panic!("{tray} is no flat") };
        let standing = trade::pots_in_flat(pot(one).1, flat, Length::ZERO);
        assert_eq!(standing.map(|standing| standing.number), Some(number), "{tray}");
    }
}

#[test]
fn nobody_is_offered_a_class() {
    let season = Season::new("test");
    let offered: Vec<_> = season.containers(&LIBRARY).collect();
    assert!(!offered.iter().any(|one| matches!(one.kind, ContainerKind::Class { .. })));
    let key = ContainerKey::new("ansi_n1");
    assert!(season.container(&LIBRARY, &key).is_some(), "a file that names it still says what it is");
    for one in offered {
        let holds = trade::cell_volume(one).is_some() || matches!(one.kind, ContainerKind::Flat(_));
        assert!(holds || one.key.0.as_ref() == "pack_1204_slim" || one.key.0.as_ref() == "jp_plug_128", "{}", one.key);
    }
}

#[test]
fn container_classes() {
    let source = "ANSI Z60.1-2004, American Standard for Nursery Stock";
    for (key, low, high) in [
        ("ansi_n1", 2491.0, 4113.0),
        ("ansi_n2", 5244.0, 7767.0),
        ("ansi_n3", 10_291.0, 12_159.0),
        ("ansi_n5", 12_864.0, 20_353.0),
    ] {
        check(&format!("{key}: {low} to {high} ml"), source);
        let ContainerKind::Class { low: from, high: to, .. } = &container(key).kind else {
            panic!("{key} is no class")
        };
        close(from.value().to_ml(), low, 0.5);
        close(to.value().to_ml(), high, 0.5);
    }
}

/// π h (D² + D d + d²) / 12.
fn round_frustum_ml(top: f64, bottom: f64, height: f64) -> f64 {
    PI * height * (top * top + top * bottom + bottom * bottom) / 12.0 / 1000.0
}

#[test]
fn the_trade_gallon() {
    let measured = "measured pots, bulb-society post";
    for (key, text, litres) in [("trade_1", "153, 135 and 175 mm", 2.85), ("trade_2", "198, 170 and 211 mm", 5.6)] {
        check(&format!("{key}: {text} (top, bottom, height) hold {litres} l"), measured);
        let (all, pot) = pot(key);
        let bottom = pot.bottom.as_ref().unwrap().value.value().to_mm();
        let height = all.height.as_ref().unwrap().value().to_mm();
        let frustum = round_frustum_ml(pot.top.value.value().to_mm(), bottom, height);
        close(frustum / 1000.0, litres, 0.05);
        let stated = pot.brim.as_ref().unwrap().value.value().to_ml();
        close(stated / 1000.0, litres, 0.05);
    }
    check("the #1 is a 2.8 l container, to its brim", "HortScience 59(10):1477, 2024");
    close(pot("trade_1").1.brim.as_ref().unwrap().value.value().to_ml() / 1000.0, 2.8, 0.06);
    check("mix ends below the brim: 85 to 90 % of it is filled", "common practice, no source");
    let filled = trade::cell_volume(container("trade_1")).unwrap().to_ml() / 2850.0;
    assert!((0.85..=0.9).contains(&filled), "{filled}");
}

#[test]
fn four_inch_pots() {
    check("18 of the small 4 in square pots, 10 of the true ones to a flat", "nursery container-size pages");
    assert_eq!(pot("sq_4_18ct").1.per_flat, Some(18));
    assert_eq!(pot("sq_4_true").1.per_flat, Some(10));
    check("one US liquid pint, 473 ml", "NIST Handbook 44, appendix C: 28.875 in³");
    let pint = flatwright::units::Volume::parse("28.875 in³").unwrap().to_ml();
    close(pot("sq_4_18ct").1.brim.as_ref().unwrap().value.value().to_ml(), pint, 0.5);
    check("4.5 in 737 ml, 6 in 1.43 l", "wholesale nursery, annuals");
    for (key, ml) in [("rd_4_5", 737.0), ("rd_6", 1_430.0)] {
        close(pot(key).1.volume.as_ref().unwrap().value.value().to_ml(), ml, 5.0);
    }
    check("6 in: 72.5 in³, the bulb pan", "nursery soil-volume chart");
    close(pot("rd_6_pan").1.volume.as_ref().unwrap().value.value().to_ml(), 1_188.0, 5.0);
}
