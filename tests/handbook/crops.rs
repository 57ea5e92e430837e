use flatwright::season::{GrowthPoint, SettingDepth, Transplants, Trust};

use crate::{check, close, crop};

const MCCRAW: &str = "McCraw and Greig 1986, cited by Penn State Extension 2011";
const ONTARIO: &str = "Ontario ministry of agriculture, processing tomato plugs, 1994";
const HARRINGTON: &str = "Harrington and Minges 1954, Vegetable Seed Germination, California Agricultural Extension";
const SEED_ACT: &str = "7 CFR 201.31, Federal Seed Act Regulations";

/// Straight between the points.
fn at(points: &[GrowthPoint], week: f64) -> Option<f64> {
    points.windows(2).find_map(|pair| match pair {
        [a, b] if a.week <= week && week <= b.week => Some(a.mm + (b.mm - a.mm) * (week - a.week) / (b.week - a.week)),
        _ => None,
    })
}

#[test]
fn height_of_pepper() {
    check("pepper, 8 weeks from sowing: 6 in (15 cm), no flowers", MCCRAW);
    let heights = &crop("pepper").heights.value;
    let at_8 = at(heights, 8.0).unwrap();
    close(at_8, 150.0, 5.0);
    check("pepper, 11 weeks: 12 in (30 cm); back along the exponential that is 9.4 cm at 6 and 6.0 at 4", MCCRAW);
    let rate = (300.0_f64 / 150.0).ln() / 3.0;
    for week in [6.0, 4.0] {
        close(at(heights, week).unwrap(), at_8 * (rate * (week - 8.0)).exp(), 5.0);
    }
}

#[test]
fn height_of_a_tomato_plug() {
    check("a good tomato plug is 12 to 17 cm tall (shipped: at 5.5 weeks)", ONTARIO);
    let height = at(&crop("tomato").heights.value, 5.5).unwrap();
    assert!((120.0..=170.0).contains(&height), "{height} mm");
}

#[test]
fn days_to_emerge() {
    check("tomato at 15, 20 and 25 °C: 14, 8 and 6 days", HARRINGTON);
    let tomato = crop("tomato").emergence.value;
    assert_eq!((tomato.early, tomato.late), (6, 8));
    assert!(tomato.late < 14);
    check("pepper at 15, 20 and 25 °C: 25, 13 and 8 days", HARRINGTON);
    let pepper = crop("pepper").emergence.value;
    assert_eq!((pepper.early, pepper.late), (8, 13));
    check("lettuce at 15, 20 and 25 °C: 4, 3 and 2 days", HARRINGTON);
    let lettuce = crop("lettuce").emergence.value;
    assert_eq!((lettuce.early, lettuce.likely, lettuce.late), (2, 3, 4));
    check("cabbage at 15 and 30 °C: 9 and 4 days", HARRINGTON);
    let cabbage = crop("cabbage").emergence.value;
    assert_eq!((cabbage.early, cabbage.late), (4, 9));
}

#[test]
fn legal_minima_of_germination() {
    let printed = [
        ("tomato", 75),
        ("pepper", 55),
        ("eggplant", 60),
        ("lettuce", 80),
        ("onion", 70),
        ("leek", 60),
        ("celery", 55),
        ("cabbage", 75),
    ];
    for (key, percent) in printed {
        check(&format!("{key}: at least {percent} %"), SEED_ACT);
        assert_eq!(crop(key).germination_legal_percent, Some(percent), "{key}");
    }
}

#[test]
fn when_tomato_moves_on() {
    check("two or three true leaves", "UMass Extension, Greenhouse Seeders");
    check("first true leaves 10 to 14 days after it shows", "Univ. of Maine Cooperative Extension, 3 April 2024");
    check("moving on from a month to eight weeks after sowing", "common practice, no source");
    let tomato = crop("tomato");
    assert_eq!(tomato.moving_on.value.true_leaves, Some(3));
    let days = tomato.moving_on.value.days;
    assert!((28..=31).contains(&days.likely), "{days:?}");
    // Days to the first leaf, and two more leaves at one in 3 to 5 days.
    let first_leaf = days.likely - tomato.emergence.value.likely - 9;
    assert!((10..=14).contains(&first_leaf), "{first_leaf}");
    assert!(tomato.latest.value.large.is_some_and(|weeks| weeks >= 8));
}

#[test]
fn how_long_small_cells_do() {
    check("tomato in 406 cells: 1 to 4 weeks without loss, 5 to 7 cut yield", "HortScience 25(2):173, 1990");
    assert_eq!(crop("tomato").latest.value.small, Some(4));
    check(
        "onion: 10 to 12 weeks right in 7.1 ml, 8 to 10 in 4.0 ml",
        "Leskovar and Vavrina, Scientia Horticulturae, 1999",
    );
    assert!(crop("onion").latest.value.small.is_some_and(|weeks| (8..=12).contains(&weeks)));
}

#[test]
fn weeks_to_planting_out() {
    let source = "Iowa State Univ. Extension, Seed Germination Guide, 2017; Univ. of Delaware Extension";
    check("tomato 5 to 7 weeks", source);
    assert_eq!(crop("tomato").weeks_to_planting_out.value, (5, 7));
    check("onion 8 to 12 weeks", source);
    assert_eq!(crop("onion").weeks_to_planting_out.value, (8, 12));
}

#[test]
fn planting_out_around_the_last_frost() {
    let source = "Colorado State Univ. Extension GardenNotes 720";
    check("hardy crops 4 to 2 weeks before the average last frost", source);
    for key in ["broccoli", "cabbage", "onion"] {
        assert_eq!(crop(key).planting_out_after_frost.as_ref().map(|figure| figure.value), Some((-4, -2)), "{key}");
    }
    check("half-hardy crops 2 to 0 weeks before it", source);
    for key in ["cauliflower", "beet"] {
        assert_eq!(crop(key).planting_out_after_frost.as_ref().map(|figure| figure.value), Some((-2, 0)), "{key}");
    }
}

#[test]
fn cold_that_harms() {
    check("basil is harmed below 12 °C (54 °F)", "Lang and Cameron 1994; Lopez, Michigan State Univ.");
    close(crop("basil").come_in.value.value().to_celsius(), 12.0, 0.3);
    check("tender plants in below 45 °F, cucumber and melon below 50 °F", "Univ. of Maryland Extension, 2023");
    close(crop("tomato").come_in.value.value().to_fahrenheit(), 45.0, 0.1);
    for key in ["cucumber", "muskmelon"] {
        close(crop(key).come_in.value.value().to_fahrenheit(), 50.0, 0.1);
    }
}

#[test]
fn cold_that_makes_them_bolt() {
    check("Chinese cabbage: 12 °C for 1 to 3 weeks", "Scientia Horticulturae 25:217, 1985");
    let bolts = crop("chinese_cabbage").bolts.as_ref().unwrap();
    close(bolts.value.below.to_celsius(), 12.0, 0.05);
    assert!((7..=21).contains(&bolts.value.days));
    check("celery bolted at 10 °C, stayed in leaf at 18, mixed at 14", "glasshouse celery trial, 1990");
    let celery = crop("celery").bolts.as_ref().unwrap().value.below.to_celsius();
    assert!((10.0..=14.0).contains(&celery), "{celery}");
    check("lettuce bolts of long days and heat, not of cold", "Univ. of Delaware Extension");
    assert_eq!(crop("lettuce").bolts, None);
}

#[test]
fn setting_depth() {
    check("tomato set to the first true leaf: first harvest +26 %", "Univ. of Florida, Vegetarian 94-10");
    assert_eq!((crop("tomato").depth.value, crop("tomato").depth.trust), (SettingDepth::Deep, Trust::Published));
}

#[test]
fn ease_of_transplanting() {
    let source = "New England Vegetable Management Guide";
    let groups = [
        (Transplants::Easily, ["broccoli", "lettuce", "tomato"]),
        (Transplants::Moderately, ["celery", "eggplant", "pepper"]),
        (Transplants::Poorly, ["cucumber", "muskmelon", "summer_squash"]),
    ];
    for (ease, keys) in groups {
        check(&format!("{}: {ease:?}", keys.join(", ")), source);
        for key in keys {
            assert_eq!(crop(key).transplants, ease, "{key}");
        }
    }
}

#[test]
fn light() {
    check("plugs are poor below 8 mol a day", "Runkle 2007");
    check("bedding plugs 10 to 12 mol", "Randall and Lopez 2015, HortScience 50(5):705");
    check("vegetable transplants 10 to 15 mol", "Owen, Ohio State Univ., 2021");
    for (key, range) in
        [("petunia", 10.0..=12.0), ("impatiens", 10.0..=12.0), ("lettuce", 10.0..=15.0), ("tomato", 10.0..=15.0)]
    {
        let (poor, target) = crop(key).light.as_ref().unwrap().value;
        close(poor, 8.0, 0.05);
        assert!(range.contains(&target), "{key} {target}");
    }
}
