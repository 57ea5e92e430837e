//! Open flats: how many plants they take, and who says so.

use flatwright::season::{ContainerKind, Flat, Trust};
use flatwright::trade::{chain_for, plants_in_open_flat};

use super::{LIBRARY, check, container, crop};

fn flat(key: &str) -> &'static Flat {
    let ContainerKind::Flat(flat) = &container(key).kind else { panic!("{key} is no flat") };
    flat
}

#[test]
fn onions_leeks_and_chives_stand_by_the_hundred() {
    check("sown thick: 200 to 500 seeds to an open flat of 10 × 20 in", "from memory");
    for key in ["onion", "leek", "chives", "bunching_onion"] {
        let figure = crop(key).in_open_flat.as_ref().expect("a figure of its own");
        assert!((200..=500).contains(&figure.value), "{key}");
        assert_eq!(figure.trust, Trust::FromMemory, "{key}");
        assert!(!figure.source.is_empty(), "{key}");
        assert_eq!(plants_in_open_flat(crop(key), flat("flat_1020"), false), u32::from(figure.value), "{key}");
        assert_eq!(chain_for(crop(key), None, &LIBRARY)[0].container.to_string(), "flat_1020");
    }
}

/// 280 × 273 mm is half of 545 × 280, 545 × 140 is half of it.
#[test]
fn half_a_flat_takes_half() {
    for half in ["flat_1010", "flat_0520"] {
        assert_eq!(plants_in_open_flat(crop("onion"), flat(half), false), 150, "{half}");
    }
}

/// A floor of some 500 × 250 to 521 × 267 mm: 138 to 154 squares of 3 cm, 50 to 55 of 5 cm.
#[test]
fn others_are_pricked_out_from_3_cm_and_stay_at_5_cm() {
    check("pricked out at 3 × 3 cm, about 1,100 to the square metre", "seed trade, wax begonia");
    let whole = flat("flat_1020");
    let (pricked_out, stays) = (true, false);
    for key in ["wax_begonia", "petunia", "tomato"] {
        assert!((138..=154).contains(&plants_in_open_flat(crop(key), whole, pricked_out)), "{key}");
        assert!((50..=55).contains(&plants_in_open_flat(crop(key), whole, stays)), "{key}");
    }
}
