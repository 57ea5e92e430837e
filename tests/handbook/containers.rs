use std::f64::consts::PI;

use flatwright::season::{Container, ContainerKind, Plug, Pot};
use flatwright::units::Length;

use crate::{check, close, container};

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
    for key in ["flat_1020", "plug_406"] {
        let outer = container(key).tray_outer().unwrap();
        close(outer.width.value().to_mm(), 550.0, 5.0);
        close(outer.depth.value().to_mm(), 280.0, 5.0);
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
        let stated = pot.volume.as_ref().unwrap().value.value().to_ml();
        close(stated / 1000.0, litres, 0.05);
    }
    check("the #1 is a 2.8 l container", "HortScience 59(10):1477, 2024");
    close(pot("trade_1").1.volume.as_ref().unwrap().value.value().to_ml() / 1000.0, 2.8, 0.06);
}

#[test]
fn four_inch_pots() {
    check("18 of the small 4 in square pots, 10 of the true ones to a flat", "nursery container-size pages");
    assert_eq!(pot("sq_4_18ct").1.per_flat, Some(18));
    assert_eq!(pot("sq_4_true").1.per_flat, Some(10));
    check("one US liquid pint, 473 ml", "NIST Handbook 44, appendix C: 28.875 in³");
    let pint = flatwright::units::Volume::parse("28.875 in³").unwrap().to_ml();
    close(pot("sq_4_18ct").1.volume.as_ref().unwrap().value.value().to_ml(), pint, 0.5);
}
