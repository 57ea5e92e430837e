//! S15, seven last-frost dates for one town, 65 days apart. A grower's report, restated.

use flatwright::forecast::{What, forecast};
use flatwright::season::{
    Crop, CropKey, Edit, Frost, Hardiness, Library, Observation, Rule, Season, Seen, Settings, Sourced, SowingId,
    Wanted,
};
use flatwright::store::{Sense, read_frost_table};
use flatwright::trade::{frost_from_table, out_after_frost, with_risk};
use flatwright::units::{Temperature, Typed};
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

/// Takes the frost, and the day out that it means for the tomatoes unless they keep their own.
#[track_caller]
fn take(season: &mut Season, frost: &Frost, follow: &[SowingId]) {
    let settings = Settings { frost: Some(frost.clone()), ..season.settings().clone() };
    let mut edits = vec![Edit::SetSettings(settings)];
    let date = out_after_frost(&tomato(), frost).expect("a day out");
    for id in follow {
        let sowing = season.sowing(*id).expect("a sowing").clone();
        let wanted = sowing.wanted.iter().map(|wanted| Wanted { date, ..*wanted }).collect();
        edits.push(Edit::PutSowing(flatwright::season::Sowing { wanted, ..sowing }));
    }
    for edit in edits {
        season.apply(&edit).unwrap_or_else(|why| panic!("{why}"));
    }
}

fn sown(season: &Season, sowing: SowingId) -> Option<chrono::NaiveDate> {
    forecast(season, &Library::default()).courses_of(sowing).find_map(|course| course.date(What::Sown))
}

/// One sowing of tomatoes that is sown when its day out says so.
fn grower() -> (Grower, SowingId) {
    let mut grower = Grower::growing(1, &shelf("48 x 24 in"));
    grower.edit(&Edit::PutCrop(Box::new(tomato())));
    let id = grower.sow(36, &[stage("sheet of 72", "2025-01-13")], "2025-03-10");
    let mut sowing = grower.season.sowing(id).expect("a sowing").clone();
    for step in &mut sowing.steps {
        step.start = Rule::WhenDue;
    }
    grower.edit(&Edit::PutSowing(sowing));
    (grower, id)
}

#[test]
fn s15_the_published_dates_lie_65_days_apart() {
    let published =
        ["03-10", "04-20", "03-22", "04-15", "05-14", "03-25", "03-24"].map(|date| day(&format!("2025-{date}")));
    let spread = *published.iter().max().expect("dates") - *published.iter().min().expect("dates");
    assert_eq!(spread.num_days(), 65);
}

#[test]
fn s15_eight_weeks_before_each_of_the_tables_dates() {
    for (at, later, wanted) in
        [("32 F", 5, "2025-01-13"), ("32 F", 1, "2025-02-25"), ("36 F", 5, "2025-02-14"), ("36 F", 1, "2025-03-23")]
    {
        let (mut grower, id) = grower();
        take(&mut grower.season, &frost(at, later), &[id]);
        assert_eq!(sown(&grower.season, id), Some(day(wanted)), "{later} in 10 at {at}");
    }
    assert_eq!((day("2025-03-23") - day("2025-01-13")).num_days(), 69);
}

#[test]
fn s15_the_date_the_temperature_and_the_chance_are_kept_and_said() {
    let frost = frost("36 F", 1);
    assert_eq!((frost.date, frost.later_in_ten, frost.temperature.typed()), (day("2025-05-18"), 1, "36 F"));
    assert_eq!(frost.even(), day("2025-03-10"), "weeks count from 5 in 10 at 0 °C, whatever risk is chosen");
    let said = words::last_frost(&frost);
    assert_eq!(said, "Sun 18 May 2025: 1 year in 10 has a later frost of 36 F (2.2 °C) or colder; from a table");
    let even = with_risk(&frost, &temperature("32 F"), 5).expect("a date of the table");
    assert!(words::last_frost(&even).contains("5 years in 10 have a later frost"), "never called safe");
    // each crop has its own weeks, or its own day
    let early =
        Crop { planting_out_after_frost: Some(Sourced::own((-4, -2))), hardiness: Hardiness::Hardy, ..tomato() };
    assert_eq!(out_after_frost(&early, &frost), Some(day("2025-02-17")));
    assert_eq!(out_after_frost(&tomato(), &frost), Some(day("2025-05-18")));
}

#[test]
fn s15_another_risk_moves_what_follows_it_and_nothing_that_is_done() {
    let (mut grower, follows) = grower();
    let sowing = grower.season.sowing(follows).expect("a sowing").clone();
    let done = grower.sow(36, &[stage("sheet of 72", "2025-01-13")], "2025-03-10");
    let own = grower.season.sowing(done).expect("a sowing").clone();
    let steps =
        sowing.steps.iter().zip(&own.steps).map(|(step, own)| flatwright::season::Step { id: own.id, ..step.clone() });
    let seen = vec![Observation { date: day("2025-01-15"), what: Seen::Sown { cells: None } }];
    grower.edit(&Edit::PutSowing(flatwright::season::Sowing { steps: steps.collect(), seen, ..own }));
    take(&mut grower.season, &frost("32 F", 5), &[follows, done]);
    assert_eq!(sown(&grower.season, follows), Some(day("2025-01-13")));
    let before = forecast(&grower.season, &Library::default());
    take(&mut grower.season, &frost("32 F", 1), &[follows, done]);
    assert_eq!(sown(&grower.season, follows), Some(day("2025-02-25")));
    assert_eq!(sown(&grower.season, done), Some(day("2025-01-15")), "what was sown stays sown on its day");
    let after = forecast(&grower.season, &Library::default());
    assert_ne!(before.stays, after.stays, "the space forecast follows");
}
