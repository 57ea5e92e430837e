//! Seven last-frost dates for one town, 65 days apart. A grower's report, restated.

use flatwright::forecast::{What, dates_moved, forecast};
use flatwright::season::{
    Crop, CropKey, Frost, Hardiness, Library, Observation, Observed, Op, OutRule, RecordId, Rule, Season, Settings,
    Sourced, SowingId,
};
use flatwright::store::{Sense, read_frost_table};
use flatwright::trade::{frost_from_table, out_after_frost, out_rule, with_risk};
use flatwright::units::{LengthUnit, Temperature, Typed};
use flatwright::words;

use crate::support::{Grower, day, seedling, shelf, stage};

const TABLE: &str = "36 F: 90% 27 Mar, 50% 11 Apr, 10% 18 May\n\
                     32 F: 90% 13 Feb, 50% 10 Mar, 10% 22 Apr\n\
                     28 F: 90% 1 Jan, 50% 25 Feb, 10% 20 Mar\n";

fn temperature(text: &str) -> Typed<Temperature> {
    Typed::parse_temperature(text).expect("a temperature")
}

#[track_caller]
fn frost(at: &str, later_in_ten: u8) -> Frost {
    let table = read_frost_table(TABLE, Sense::Later, day("2025-04-01")).expect("the service's table");
    frost_from_table(table, &temperature(at), later_in_ten).expect("a date of the table")
}

/// Tomatoes that go out on the day of the frost that was chosen, 8 weeks from sowing.
fn tomato() -> Crop {
    Crop {
        key: CropKey::new("seedling"),
        name: "Tomato".to_owned(),
        weeks_to_planting_out: Sourced::own((8, 8)),
        planting_out_after_frost: Some(Sourced::own((0, 0))),
        hardiness: Hardiness::Tender,
        ..seedling()
    }
}

#[track_caller]
fn take(season: &mut Season, frost: &Frost) {
    let settings = Settings { frost: Some(frost.clone()), ..season.settings().clone() };
    season.apply(&Op::SetSettings(settings).into()).unwrap_or_else(|why| panic!("{why:?}"));
}

fn sown(season: &Season, sowing: SowingId) -> Option<chrono::NaiveDate> {
    forecast(season, &Library::default()).courses_of(sowing).find_map(|course| course.date(What::Sown))
}

/// Tomatoes that are sown when their day out says so, which is that of the frost.
#[track_caller]
fn sow(grower: &mut Grower, rule: OutRule) -> SowingId {
    let id = grower.sow(36, &[stage("sheet of 72", "2025-01-13")], "2025-03-10");
    let mut sowing = grower.season.sowing(id).expect("a sowing").clone();
    for step in &mut sowing.steps {
        step.start = Rule::WhenDue;
    }
    for wanted in &mut sowing.wanted {
        wanted.rule = rule;
    }
    grower.edit(&Op::PutSowing(sowing).into());
    id
}

fn grower() -> (Grower, SowingId) {
    let mut grower = Grower::growing(1, &shelf("48 x 24 in"));
    grower.edit(&Op::PutCrop(Box::new(tomato())).into());
    let rule = out_rule(&tomato()).expect("its weeks are known");
    let id = sow(&mut grower, rule);
    (grower, id)
}

#[test]
fn the_published_dates_lie_65_days_apart() {
    let published =
        ["03-10", "04-20", "03-22", "04-15", "05-14", "03-25", "03-24"].map(|date| day(&format!("2025-{date}")));
    let spread = *published.iter().max().expect("dates") - *published.iter().min().expect("dates");
    assert_eq!(spread.num_days(), 65);
}

#[test]
fn eight_weeks_before_each_of_the_tables_dates() {
    for (at, later, wanted) in
        [("32 F", 5, "2025-01-13"), ("32 F", 1, "2025-02-25"), ("36 F", 5, "2025-02-14"), ("36 F", 1, "2025-03-23")]
    {
        let (mut grower, id) = grower();
        take(&mut grower.season, &frost(at, later));
        assert_eq!(sown(&grower.season, id), Some(day(wanted)), "{later} in 10 at {at}");
    }
    assert_eq!((day("2025-03-23") - day("2025-01-13")).num_days(), 69);
}

#[test]
fn the_date_the_temperature_and_the_chance_are_kept_and_said() {
    let frost = frost("36 F", 1);
    assert_eq!((frost.date, frost.later_in_ten, frost.temperature.typed()), (day("2025-05-18"), 1, "36 F"));
    assert_eq!(frost.even(), day("2025-03-10"), "weeks count from 5 in 10 at 0 °C, whatever risk is chosen");
    let said = words::last_frost(&frost, LengthUnit::Millimetre);
    assert_eq!(said, "Sun 18 May 2025: 1 year in 10 has a later frost of 2.2 °C or colder; from a table");
    let even = with_risk(&frost, &temperature("32 F"), 5).expect("a date of the table");
    assert!(
        words::last_frost(&even, LengthUnit::Millimetre).contains("5 years in 10 have a later frost"),
        "never called safe"
    );
    // each crop has its own weeks, or its own day
    let early =
        Crop { planting_out_after_frost: Some(Sourced::own((-4, -2))), hardiness: Hardiness::Hardy, ..tomato() };
    assert_eq!(out_after_frost(&early, &frost), Some(day("2025-02-17")));
    assert_eq!(out_after_frost(&tomato(), &frost), Some(day("2025-05-18")));
}

#[test]
fn another_risk_moves_what_follows_it_and_nothing_that_is_done_or_set() {
    let (mut grower, follows) = grower();
    let rule = out_rule(&tomato()).expect("its weeks are known");
    let (done, set) = (sow(&mut grower, rule), sow(&mut grower, OutRule::Day));
    let mut sowing = grower.season.sowing(done).expect("a sowing").clone();
    sowing.seen = vec![Observation {
        id: RecordId(900),
        date: day("2025-01-15"),
        what: Observed::Sown { cells: None },
        lot: None,
    }];
    grower.edit(&Op::PutSowing(sowing).into());
    take(&mut grower.season, &frost("32 F", 5));
    let all = [follows, done, set];
    assert_eq!(
        all.map(|id| sown(&grower.season, id)),
        ["2025-01-13", "2025-01-15", "2025-01-13"].map(|on| Some(day(on)))
    );
    let before = forecast(&grower.season, &Library::default());
    take(&mut grower.season, &frost("32 F", 1));
    assert_eq!(
        all.map(|id| sown(&grower.season, id)),
        ["2025-02-25", "2025-01-15", "2025-01-13"].map(|on| Some(day(on)))
    );
    let out = all.map(|id| grower.season.sowing(id).and_then(flatwright::season::Sowing::out));
    assert_eq!(out, ["2025-04-22", "2025-04-22", "2025-03-10"].map(|on| Some(day(on))));
    let after = forecast(&grower.season, &Library::default());
    assert_ne!(before.stays, after.stays, "the space forecast follows");
    let found = dates_moved(&before, &after);
    let moved = |id, from: &str, to: &str| {
        found.moved.iter().any(|one| (one.sowing, one.what, one.from, one.to) == (id, What::Sown, day(from), day(to)))
    };
    assert!(moved(follows, "2025-01-13", "2025-02-25"), "{found:?}");
    let kept = |id| found.kept.iter().any(|one| (one.sowing, one.what) == (id, What::Sown));
    assert!(kept(done) && kept(set), "{found:?}");
}
