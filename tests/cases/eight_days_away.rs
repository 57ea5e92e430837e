//! Eight days away in the middle of March.

use flatwright::forecast::{Problem, What, Why};
use flatwright::season::{ContainerKind, Observed, Op, RimShape, Role, Rule, Slack, SowingId};
use flatwright::units::DateSpan;

use crate::support::{Grower, date_of, day, out_on, pot, shelf};

struct Trip {
    grower: Grower,
    dahlias: SowingId,
    tomatoes: SowingId,
    peppers: SowingId,
}

fn trip() -> Trip {
    let mut grower = Grower::new();
    let growing = grower.place(Role::Growing);
    grower.rack(growing, 3, &shelf("48 x 24 in"));
    grower.container("cup of 12 oz", ContainerKind::Pot(pot(RimShape::Round, "3.5 in")));
    let mut sow = |steps: &[(&str, Rule)], at: usize, slack: Slack| {
        let sowing = grower.sow_by(12, steps, out_on("2025-05-20"));
        grower.change(sowing, |sowing| sowing.steps[at].slack = Some(slack));
        sowing
    };
    let plug = |sown: &str| ("sheet of 128", Rule::On(day(sown)));
    let potted = |on: &str| ("cup of 12 oz", Rule::On(day(on)));
    let dahlias = sow(&[plug("2025-02-14"), potted("2025-03-14")], 1, Slack { early: 4, late: 4 });
    let tomatoes = sow(&[plug("2025-03-15")], 0, Slack { early: 3, late: 7 });
    let peppers = sow(&[plug("2025-02-20"), potted("2025-03-20")], 1, Slack { early: 4, late: 4 });
    grower.settings(|settings| {
        settings.water_every = 2;
    });
    grower.away("away", DateSpan::new(day("2025-03-12"), day("2025-03-20")).expect("in order"), false);
    Trip { grower, dahlias, tomatoes, peppers }
}

#[test]
fn work_bends_round_the_trip_inside_its_windows() {
    let Trip { grower, dahlias, tomatoes, peppers } = trip();
    let forecast = grower.forecast();
    let potting = |sowing| {
        let step = grower.season.sowing(sowing).expect("there").steps[1].id;
        date_of(&forecast, sowing, What::MovedOn(step))
    };
    assert_eq!(potting(dahlias), day("2025-03-11"), "the last day at home; 20 March would be 6 late");
    assert_eq!(date_of(&forecast, tomatoes, What::Sown), day("2025-03-20"));
    assert_eq!(potting(peppers), day("2025-03-20"));
    assert!(!forecast.problems.iter().any(|problem| matches!(problem, Problem::NobodyThere { .. })));
    let why = |sowing, what| {
        let course = forecast.courses_of(sowing).next().expect("one lot");
        course.events.iter().find(|event| event.what == what).map(|event| event.why)
    };
    // five days younger when they are planted out, and said so
    assert_eq!(why(tomatoes, What::Sown), Some(Why::Bent { days: 5 }));
    let library = flatwright::season::Library::default();
    let unit = flatwright::units::LengthUnit::Inch;
    let words = flatwright::words::Words { season: &grower.season, library: &library, forecast: &forecast, unit };
    let course = forecast.courses_of(tomatoes).next().expect("one lot");
    let said = course.events.iter().find(|event| event.what == What::Sown).map(|event| words.event(event));
    assert_eq!(
        said.as_deref(),
        Some("sown 20 Mar (nobody there on its day: 5 days late, so 5 days younger when planted out)")
    );
}

#[test]
fn eight_days_without_water_are_listed_with_their_trays() {
    let Trip { grower, .. } = trip();
    let forecast = grower.forecast();
    let gap = forecast.problems.iter().find_map(|problem| match problem {
        Problem::NobodyWaters { span, trays, .. } => Some((*span, trays.clone())),
        _ => None,
    });
    let (span, trays) = gap.expect("nobody waters");
    assert_eq!((span.from(), span.days()), (day("2025-03-12"), 8));
    let dry = forecast.problems.iter().find(|problem| matches!(problem, Problem::NobodyWaters { .. }));
    let over = |on: &str| dry.map(|problem| problem.is_over(day(on)));
    assert_eq!((over("2025-03-19"), over("2025-03-20")), (Some(false), Some(true)));
    for tray in &trays {
        assert!(forecast.stays_of(*tray).any(|stay| stay.span.overlaps(span)));
    }
    let standing: Vec<_> =
        forecast.stays.iter().filter(|stay| stay.span.overlaps(span)).flat_map(|stay| stay.trays.clone()).collect();
    assert!(!trays.is_empty() && standing.iter().all(|tray| trays.contains(tray)));
}

#[test]
fn the_cups_take_their_room_from_the_earlier_day() {
    let Trip { mut grower, dahlias, .. } = trip();
    let cups = |grower: &Grower, date: &str| {
        let forecast = grower.forecast();
        let step = grower.season.sowing(dahlias).expect("there").steps[1].id;
        let of_step = |stay: &&flatwright::forecast::Stay| matches!(stay.tray(), Some(flatwright::season::TrayKey::Own { step: of, .. }) if of == step);
        forecast.on(day(date)).filter(of_step).map(|stay| stay.plants).sum::<u32>()
    };
    assert_eq!([cups(&grower, "2025-03-10"), cups(&grower, "2025-03-11")], [0, 12]);
    let trip = grower.season.away()[0].id;
    grower.edit(&Op::RemoveAway(trip).into());
    assert_eq!([cups(&grower, "2025-03-13"), cups(&grower, "2025-03-14")], [0, 12]);
}

#[test]
fn work_without_another_day_is_kept_and_said() {
    let Trip { mut grower, dahlias, .. } = trip();
    grower.change(dahlias, |sowing| sowing.steps[1].slack = Some(Slack { early: 2, late: 2 }));
    let forecast = grower.forecast();
    let step = grower.season.sowing(dahlias).expect("there").steps[1].id;
    assert_eq!(date_of(&forecast, dahlias, What::MovedOn(step)), day("2025-03-14"), "not dropped");
    let told = forecast.problems.iter().find_map(|problem| match problem {
        Problem::NobodyThere { sowing, before, after, .. } if *sowing == dahlias => Some((*before, *after)),
        _ => None,
    });
    assert_eq!(told, Some((Some(day("2025-03-11")), day("2025-03-20"))));
}

/// Plants that are up were sown, whether anybody wrote the day down or not.
#[test]
fn what_was_written_down_is_not_moved_and_not_said_to_have_no_day() {
    let Trip { mut grower, dahlias, tomatoes, .. } = trip();
    let sown = day("2025-03-15");
    grower.change(tomatoes, |sowing| sowing.steps[0].slack = Some(Slack { early: 0, late: 0 }));
    let stuck = |grower: &Grower, of| {
        let is_of = |problem: &&Problem| matches!(problem, Problem::NobodyThere { sowing, .. } if *sowing == of);
        grower.forecast().problems.iter().filter(is_of).count()
    };
    assert_eq!(stuck(&grower, tomatoes), 1);
    grower.see(tomatoes, "2025-03-22", Observed::Up { plants: None });
    assert_eq!(stuck(&grower, tomatoes), 0);
    assert_eq!(date_of(&grower.forecast(), tomatoes, What::Sown), sown);
    // moved on while nobody was there, on a day that nobody wrote down
    grower.change(dahlias, |sowing| sowing.steps[1].slack = Some(Slack { early: 2, late: 2 }));
    assert_eq!(stuck(&grower, dahlias), 1);
    grower.see(dahlias, "2025-05-20", Observed::PutOut(12));
    assert_eq!(stuck(&grower, dahlias), 0);
}
