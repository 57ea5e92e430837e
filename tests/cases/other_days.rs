//! A sowing put on other days by one of its handles is what the hand says, and nothing that was seen moves.

use flatwright::forecast::{Forecast, What, Why, forecast};
use flatwright::outlook::{Handle, handles, on_other_days};
use flatwright::season::{Observation, Observed, RecordId, Season};
use flatwright::store;
use flatwright::units::shifted;

fn sample() -> (Season, Forecast) {
    let season = store::sample();
    let forecast = forecast(&season, store::library());
    (season, forecast)
}

/// Every handle of every sowing of the sample, a week each way: the season takes it, and the day that was dragged
/// is where the hand let go.
#[test]
fn a_handle_comes_to_lie_where_the_hand_lets_go() {
    let (season, now) = sample();
    let mut taken = 0;
    for sowing in season.sowings() {
        let course = now.courses_of(sowing.id).next().expect("a course");
        for handle in handles(sowing, course) {
            for days in [-7, 7] {
                let op = on_other_days(&now, sowing, handle, days).expect("a handle that can be taken");
                let mut then = season.clone();
                if then.apply(&op.into()).is_err() {
                    continue;
                }
                let after = forecast(&then, store::library());
                let after = after.courses_of(sowing.id).next().expect("still a course");
                let out = |course| Handle::Out.date(course).unwrap();
                let was = handle.date(course).unwrap();
                let wanted = match handle {
                    // one day of it is left to take hold of
                    Handle::Hardening => shifted(was, days).min(shifted(out(course), -1)),
                    _ => shifted(was, days),
                };
                if handle == Handle::Whole {
                    assert_eq!(out(after), shifted(out(course), days), "{sowing:?} {handle:?} {days}");
                } else if after.events.iter().any(|event| (event.what, event.why) == (What::Hardening, Why::PlaceOpens))
                {
                    assert!(handle.date(after) >= Some(wanted), "no sooner than there is a place for it");
                } else {
                    assert_eq!(handle.date(after), Some(wanted), "{sowing:?} {handle:?} {days}");
                }
                taken += 1;
            }
        }
    }
    assert!(taken > 60, "only {taken} were taken");
}

#[test]
fn what_was_seen_stays() {
    let (season, now) = sample();
    let mut sowing = season.sowings().next().expect("a sowing").clone();
    let course = now.courses_of(sowing.id).next().expect("a course");
    let (sown, out) = (Handle::Sown.date(course).unwrap(), Handle::Out.date(course).unwrap());
    let seen = |date, what| Observation { id: RecordId(9_000), date, what, lot: None };
    sowing.seen.push(seen(sown, Observed::Sown { cells: None }));
    let left = handles(&sowing, course);
    assert!(!left.contains(&Handle::Whole) && !left.contains(&Handle::Sown) && left.contains(&Handle::Out));
    assert_eq!(on_other_days(&now, &sowing, Handle::Sown, 3), None);
    sowing.seen.push(seen(out, Observed::PutOut(1)));
    let left = handles(&sowing, course);
    assert!(!left.contains(&Handle::Out) && !left.contains(&Handle::Hardening));
}
