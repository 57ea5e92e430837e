//! Numbers of seeds, cells and trays, against a reference library and printed sums.

use flatwright::season::ContainerKind;
use flatwright::trade;
use flatwright::units::Length;
use statrs::distribution::{Binomial, DiscreteCDF as _};

use super::{check, container};

/// The smallest n with P(Binomial(n, p) ≥ N) ≥ chance, by walking up with the reference's own tail.
fn by_reference(plants: u32, success: f64, chance: f64) -> u32 {
    let enough = |n: u32| {
        Binomial::new(success, u64::from(n)).is_ok_and(|tail| tail.sf(u64::from(plants) - 1) >= chance - 1e-12)
    };
    (plants..10 * plants + 100).find(|&n| enough(n)).unwrap_or(u32::MAX)
}

#[test]
fn the_sure_number_of_cells_is_the_reference_librarys_quantile() {
    check("cells that are enough nine times in ten", "binomial tail of statrs, a general statistics library");
    for plants in [1, 2, 5, 12, 36, 72, 100, 250, 1000] {
        for percent in [20, 55, 60, 75, 85, 95, 99] {
            for chance in [0.5, 0.9, 0.99] {
                let success = f64::from(percent) / 100.0;
                let (found, wanted) =
                    (trade::cells_sure(plants, success, chance), by_reference(plants, success, chance));
                assert_eq!(found, Some(wanted), "{plants} plants at {percent} %, {chance}");
            }
        }
    }
}

#[test]
fn printed_sums_of_seeds_come_out_the_same() {
    check(
        "72 tomatoes at 75 % and 95 % stand want 102 seeds",
        "germination minimum of US 7 CFR 201.31; sum worked by hand",
    );
    assert_eq!(trade::cells_on_average(72, trade::cell_success(0.75, 1, 0.05)), Some(102));
    check("9,000 brassica seeds give about 5,000 plants", "Utah State University Extension");
    assert_eq!(trade::cells_on_average(5_000, 5_000.0 / 9_000.0), Some(9_000));
}

#[test]
fn printed_tray_counts_come_out_the_same() {
    check("18 or 10 pots to a 1020 flat; 72 plugs become 4 or 8 flats", "nursery plant-container-size page (trade)");
    let ContainerKind::Flat(flat) = &container("flat_1020").kind else { panic!("the 1020 flat is no flat") };
    for (key, number, flats) in [("sq_4_18ct", 18, 4), ("sq_4_true", 10, 8)] {
        let ContainerKind::Pot(pot) = &container(key).kind else { panic!("{key} is no pot") };
        let standing = trade::pots_in_flat(pot, flat, Length::ZERO);
        assert_eq!(standing.map(|standing| standing.number), Some(number), "{key}");
        assert_eq!(trade::whole_trays(72, number), flats, "{key}");
    }
}

#[test]
fn a_72_cell_plug_may_go_into_a_pint_pot_but_not_back() {
    check("43 ml and 473 ml", "Ontario plug table (OMAFRA); nursery plant-container-size page (trade)");
    let volume = |key| trade::cell_volume(container(key));
    let (Some(plug), Some(pot)) = (volume("plug_72"), volume("sq_4_18ct")) else { panic!("volumes are missing") };
    assert_eq!(trade::step_up(plug, pot), None);
    assert_eq!(trade::step_up(pot, plug), Some(trade::SmallStep::NoLarger));
}
