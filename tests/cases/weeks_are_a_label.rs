//! Eleven weeks that are 10.7, and plants that stay until June.

use flatwright::forecast::{What, Why, dates_moved};
use flatwright::season::{ContainerKind, Frost, OutRule, RimShape, Role, Rule, SowingId};
use flatwright::words::weeks;

use crate::support::{Grower, date_of, day, out_by, out_on, pot, shelf};

struct Greenhouse {
    grower: Grower,
    peppers: SowingId,
    tomatoes: SowingId,
    squash: SowingId,
}

/// Six flats of peppers and ten of tomatoes in 3.25 in pots, 18 to the flat.
fn greenhouse() -> Greenhouse {
    let mut grower = Grower::new();
    let growing = grower.place(Role::Growing);
    grower.rack(growing, 1, &shelf("240 x 48 in"));
    grower.container("pot", ContainerKind::Pot(pot(RimShape::Square, "3.25 in")));
    grower.settings(|settings| settings.frost = Some(Frost::on(day("2012-05-15"))));
    let mut sow = |plants, sown: &str, pots: u16, out| {
        let steps = [("sheet of 128", Rule::On(day(sown))), ("pot", Rule::DaysAfterSowing(pots))];
        let sowing = grower.sow_by(plants, &steps, out);
        grower.change(sowing, |sowing| {
            sowing.steps[1].carried_in = Some(flatwright::season::ContainerKey::new("flat"));
        });
        sowing
    };
    let peppers = sow(6 * 18, "2012-03-01", 42, out_on("2012-06-01"));
    let tomatoes = sow(10 * 18, "2012-03-15", 35, out_on("2012-06-01"));
    let frost = OutRule::Frost { days: 0, waits: false };
    let squash = sow(18, "2012-03-29", 28, out_by(frost, "2012-05-15"));
    Greenhouse { grower, peppers, tomatoes, squash }
}

#[test]
fn weeks_are_only_a_label() {
    let last = day("2012-05-15");
    for (sown, days, label) in
        [("2012-03-01", 75, "10.7"), ("2012-03-15", 61, "8.7"), ("2012-03-29", 47, "6.7"), ("2012-04-26", 19, "2.7")]
    {
        let found = (last - day(sown)).num_days();
        assert_eq!((found, weeks(found)), (days, label.to_owned()));
    }
    assert_eq!([weeks(92), weeks(78), weeks(49)], ["13.1", "11.1", "7"]);
}

#[test]
fn they_stay_on_the_bench_until_they_leave() {
    let Greenhouse { grower, peppers, tomatoes, .. } = greenhouse();
    let forecast = grower.forecast();
    for (sowing, plants, days) in [(peppers, 108, 92), (tomatoes, 180, 78)] {
        let (sown, out) = (date_of(&forecast, sowing, What::Sown), date_of(&forecast, sowing, What::Out { plants }));
        assert_eq!((out - sown).num_days(), days);
    }
}

#[test]
fn the_bench_is_not_free_on_the_frost_date() {
    let Greenhouse { grower, .. } = greenhouse();
    let looked = grower.look();
    // one flat of squash goes on the frost date, the 16 flats stay for 17 days more
    assert_eq!(looked.places_on("2012-05-14"), 17);
    assert_eq!(
        [looked.places_on("2012-05-15"), looked.places_on("2012-05-31"), looked.places_on("2012-06-01")],
        [16, 16, 0]
    );
    assert_eq!((day("2012-06-01") - day("2012-05-15")).num_days(), 17);
}

#[test]
fn another_frost_date_moves_what_goes_by_it_and_not_what_is_fixed() {
    let Greenhouse { mut grower, peppers, squash, .. } = greenhouse();
    let before = grower.forecast();
    grower.settings(|settings| settings.frost = Some(Frost::on(day("2012-05-20"))));
    let after = grower.forecast();
    assert_eq!(date_of(&after, squash, What::Out { plants: 18 }), day("2012-05-20"));
    let found = dates_moved(&before, &after);
    let out = |what: &What| matches!(what, What::Out { .. });
    assert!(
        found.moved.iter().any(|moved| moved.sowing == squash && out(&moved.what) && moved.to == day("2012-05-20"))
    );
    assert!(!found.moved.iter().any(|moved| moved.sowing == peppers));
    let kept = found.kept.iter().find(|kept| kept.sowing == peppers && out(&kept.what)).expect("not moved");
    assert_eq!((kept.date, kept.why), (day("2012-06-01"), Why::Set));
    // the new gap: 12 days where 17 were
    assert_eq!((kept.date - day("2012-05-20")).num_days(), 12);
    let library = flatwright::season::Library::default();
    let unit = flatwright::units::LengthUnit::Inch;
    let words = flatwright::words::Words { season: &grower.season, library: &library, forecast: &after, unit };
    assert!(words.kept(kept).contains("12 days after the frost date"), "{}", words.kept(kept));
}
