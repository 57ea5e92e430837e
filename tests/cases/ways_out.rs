//! What a grower can change where the shelves run out of room: the fixes that the cases name, and what holds for
//! every way that is offered.

use flatwright::fit::{Cancel, Memory, Progress};
use flatwright::outlook::ways_out::{Change, Found, Standing, WayOut, find};
use flatwright::outlook::{Effort, Keep, Outlook, PoolKind, Verdict, look_ahead};
use flatwright::season::{
    ContainerKey, ContainerKind, Crop, CropKey, Frost, GrowthPoint, Hardening, Hardiness, Library, Matter, Observed,
    Op, Place, RimShape, Role, Season, Shelf, Sourced, Sowing, SowingChange, SowingId, Unwanted, ZoneKind,
};
use flatwright::store::library;
use flatwright::units::{DateSpan, LengthUnit};
use flatwright::words::Words;

use crate::support::{FLAT, Grower, Manner, day, measure, pot, seedling, shelf, stage, zone};

/// What was found for the first crunch.
pub(crate) struct Ways {
    pub(crate) found: Found,
    before: Outlook,
    pub(crate) season: Season,
    library: Library,
}

pub(crate) fn outlook(season: &Season, library: &Library, memory: &mut Memory) -> Outlook {
    let forecast = flatwright::forecast::forecast(season, library);
    let (progress, cancel) = (Progress::default(), Cancel::default());
    look_ahead(season, &forecast, Keep::Pinned, Effort::default(), memory, &progress, &cancel)
        .unwrap_or_else(|_| panic!("nobody cancelled it"))
}

impl Ways {
    #[track_caller]
    fn of(season: &Season, library: &Library) -> Self {
        let forecast = flatwright::forecast::forecast(season, library);
        let before = outlook(season, library, &mut Memory::default());
        let of = Standing { season, library, forecast: &forecast, outlook: &before, today: None };
        let found = find(&of, &mut Memory::default(), &Progress::default(), &Cancel::default());
        let found = found.unwrap_or_else(|_| panic!("nobody cancelled it"));
        let ways = Self { found, before, season: season.clone(), library: library.clone() };
        ways.hold();
        ways
    }

    #[track_caller]
    pub(crate) fn of_grower(grower: &Grower) -> Self {
        Self::of(&grower.season, &Library::default())
    }

    /// What is offered is true of the season with the edit made by hand.
    #[track_caller]
    fn hold(&self) {
        let mut memory = Memory::default();
        let all = self.found.of_crunches.iter().flatten().chain(&self.found.best.way);
        for way in all {
            let mut season = self.season.clone();
            if let Err(why) = season.apply(&way.edit) {
                panic!("{:?} is refused: {why:?}", way.changes);
            }
            let then = outlook(&season, &self.library, &mut memory);
            assert_eq!(then.verdict, way.effect.verdict, "{:?}", way.changes);
            let tray_days: u64 = then.crunches.iter().map(|crunch| crunch.tray_days).sum();
            assert_eq!(tray_days, way.effect.after.tray_days, "{:?}", way.changes);
            let was: u64 = self.before.crunches.iter().map(|crunch| crunch.tray_days).sum();
            assert!(tray_days < was, "{:?} takes nothing away: {was} before, {tray_days} after", way.changes);
        }
    }

    #[track_caller]
    pub(crate) fn has(&self, what: &str, is_so: impl Fn(&WayOut) -> bool) -> &WayOut {
        let all: Vec<_> = self.found.of_crunches.iter().flatten().collect();
        let found = all.iter().find(|way| is_so(way));
        found.unwrap_or_else(|| panic!("{what} among {:#?}", all.iter().map(|way| &way.changes).collect::<Vec<_>>()))
    }
}

pub(crate) fn only(way: &WayOut) -> Option<&Change> {
    match way.changes.as_slice() {
        [change] => Some(change),
        _ => None,
    }
}

const SOWN: &str = "2025-03-03";
const MOVED_ON: &str = "2025-03-17";
const OUT: &str = "2025-04-28";

/// Five sheets of 200 that become 56 flats of 18 pots, beside eight others, on racks for 36.
fn plugs_grow_out() -> Grower {
    let lamp = zone(ZoneKind::Lamp, "24 x 24 in");
    let mut grower = Grower::growing(9, &Shelf { zones: vec![lamp], ..shelf("48 x 24 in") });
    grower.container("3.25 in pot", ContainerKind::Pot(pot(RimShape::Square, "3.25 in")));
    grower.guests(8, FLAT, "2025-02-24", OUT);
    grower.sow(1_000, &[stage("sheet of 200", SOWN), stage("3.25 in pot", MOVED_ON).carried_in("flat")], OUT);
    grower
}

#[test]
fn plugs_that_grow_out_may_go_into_smaller_cells_or_be_fewer() {
    let ways = Ways::of_grower(&plugs_grow_out());
    let fits = |way: &WayOut| way.effect.verdict == Verdict::Fits;
    let into =
        |way: &WayOut| matches!(only(way), Some(Change::Into { to, .. }) if *to == ContainerKey::new("sheet of 38"));
    let smaller = ways.has("sheets of 38", into);
    assert!(fits(smaller), "27 sheets of 38 beside 8 others stand on 36 places: {:?}", smaller.effect);
    assert_eq!(smaller.effect.spare.map(|(_, spare)| spare), Some(1));
    // 28 flats of 18 have room
    let fewer = ways.has("fewer plants", |way| matches!(only(way), Some(Change::Fewer { .. })));
    assert_eq!(only(fewer).map(|change| matches!(change, Change::Fewer { to: 504, .. })), Some(true), "{fewer:?}");
    assert!(fits(fewer));
    ways.has("28 places more", |way| matches!(only(way), Some(Change::Shelves { .. })) && fits(way));
    assert!(ways.found.fits());
}

#[test]
fn cups_may_be_smaller_or_plants_fewer() {
    let mut grower = Grower::growing(2, &shelf("48 x 24 in"));
    for (name, rim) in [("3 oz cup", "2.5 in"), ("9 oz cup", "3.2 in"), ("16 oz cup", "3.75 in")] {
        grower.container(name, ContainerKind::Pot(pot(RimShape::Round, rim)));
    }
    let steps = [stage("sheet of 200", "2025-03-24"), stage("16 oz cup", "2025-04-14").carried_in("flat")];
    grower.sow(196, &steps, "2025-06-02");
    let ways = Ways::of_grower(&grower);
    let into = |name: &'static str| move |way: &WayOut| matches!(only(way), Some(Change::Into { to, .. }) if *to == ContainerKey::new(name));
    let small = ways.has("the small cups", into("3 oz cup"));
    assert_eq!(small.effect.verdict, Verdict::Fits, "32 to a tray, 7 trays of 8");
    let fewer = ways.has("fewer", |way| matches!(only(way), Some(Change::Fewer { to: 80, .. })));
    assert_eq!(fewer.effect.verdict, Verdict::Fits, "80 fit, 10 to a tray");
}

#[test]
fn a_mat_booked_twice_is_freed_by_sowing_some_days_off() {
    // four flats on the mat: six from 20 to 22 February, five from 27 February to 5 March
    let mat = zone(ZoneKind::Heat, "48 x 21.44 in");
    let wide = shelf("96 x 48 in");
    let mut grower = Grower::growing(1, &Shelf { zones: vec![mat], ..shelf("48 x 22 in") });
    let place = grower.season.places().next().map_or_else(|| panic!("a place"), |place| place.id);
    grower.rack(place, 1, &wide);
    let slow = |days| {
        let range = flatwright::season::DayRange { early: days, likely: days, late: days };
        Crop { key: CropKey::new(&format!("up in {days}")), emergence: Sourced::own(range), ..seedling() }
    };
    let heat = Manner { bottom_heat: true, ..Manner::default() };
    for (plants, sown, on_mat) in
        [(400, "2025-02-13", 10), (800, "2025-02-20", 14), (200, "2025-02-27", 12), (600, "2025-03-13", 7)]
    {
        let crop = slow(on_mat);
        grower.edit(&Op::PutCrop(Box::new(crop.clone())).into());
        let id = grower.sow_so(plants, &[stage("sheet of 200", sown)], "2025-05-01", heat);
        grower.change(id, |sowing: &mut Sowing| sowing.crop = crop.key.clone());
    }
    let ways = Ways::of_grower(&grower);
    let crunches: Vec<_> = ways.before.crunches.iter().map(|crunch| (crunch.span, crunch.short)).collect();
    let span = |from: &str, until: &str| DateSpan::new(day(from), day(until)).unwrap_or_else(|why| panic!("{why}"));
    assert_eq!(crunches, [(span("2025-02-20", "2025-02-23"), 2), (span("2025-02-27", "2025-03-06"), 1)]);
    assert!(ways.before.crunches.iter().all(|crunch| crunch.pools[0].kind == PoolKind::BottomHeat));
    let onions = |way: &WayOut| matches!(only(way), Some(Change::Sown { to, .. }) if *to == day("2025-02-10"));
    let earlier = ways.has("the onions three days earlier", onions);
    assert!(earlier.effect.removes(), "{:?}", earlier.effect);
    let aubergine = |way: &WayOut| matches!(only(way), Some(Change::Sown { to, .. }) if *to == day("2025-03-06"));
    assert!(ways.has("the aubergines seven days later", aubergine).effect.removes());
    assert!(ways.found.fits(), "both together: {:?}", ways.found.best);
}

/// A frame for three trays, twelve to harden off before 17 May for ten days.
#[test]
fn a_frame_too_small_may_be_larger_or_filled_in_turns() {
    let mut grower = Grower::growing(4, &shelf("48 x 24 in"));
    let frame = grower.place(Role::Hardening);
    grower.rack(frame, 1, &shelf("33 x 22 in"));
    let crop = Crop { hardening: Sourced::own(Hardening { days: 10, first_night_after: 0 }), ..seedling() };
    grower.edit(&Op::PutCrop(Box::new(crop)).into());
    grower.sow(600, &[stage("sheet of 50", "2025-04-01")], "2025-05-17");
    let ways = Ways::of_grower(&grower);
    assert_eq!(ways.before.crunches.first().map(|crunch| (crunch.needed, crunch.held)), Some((12, 3)));
    let more = ways.has("a larger frame", |way| matches!(only(way), Some(Change::Shelves { .. })));
    assert_eq!(more.effect.verdict, Verdict::Fits);
    let turns = |way: &WayOut| matches!(only(way), Some(Change::OutInLots { lots: 4, apart: 10, .. }));
    let turns = ways.has("four lots ten days apart", turns);
    assert_eq!(turns.effect.verdict, Verdict::Fits, "the racks have room for those that wait");
}

#[test]
fn tall_plants_may_be_sown_later_or_be_fewer() {
    // 4 in at 3 weeks, 12 in at 6, 18 in at 8, and 6.5 in of pot, lamp and gap
    let grow = |week: f64, inches: f64| GrowthPoint { week, mm: inches * 25.4 };
    let heights = vec![grow(0.0, 0.0), grow(3.0, 4.0), grow(6.0, 12.0), grow(8.0, 18.0)];
    let mut grower = Grower::new();
    let closet = grower.place(Role::Growing);
    for height in ["12 in", "18 in", "24 in", "30 in"] {
        grower.rack(closet, 3, &Shelf { clear_height: Some(measure(height)), ..shelf("48 x 24 in") });
    }
    grower.settings(|settings| settings.lamp_gap = measure("6.5 in"));
    let crop = Crop {
        heights: Sourced::own(heights),
        hardening: Sourced::own(Hardening { days: 0, first_night_after: 0 }),
        ..seedling()
    };
    grower.edit(&Op::PutCrop(Box::new(crop)).into());
    grower.sow(1_000, &[stage("sheet of 50", "2025-03-03")], "2025-05-05");
    let ways = Ways::of_grower(&grower);
    assert_eq!(ways.before.crunches.first().map(|crunch| (crunch.needed, crunch.held)), Some((20, 12)), "at 18 in");
    let later = ways.has("sown later", |way| matches!(only(way), Some(Change::Sown { from, to, .. }) if to > from));
    assert_eq!(later.effect.verdict, Verdict::Fits);
    let fewer = ways.has("fewer", |way| matches!(only(way), Some(Change::Fewer { to: 600, .. })));
    assert_eq!(fewer.effect.verdict, Verdict::Fits);
    let sooner = |way: &WayOut| matches!(only(way), Some(Change::Out { from, to, .. }) if to < from);
    assert_eq!(ways.has("out sooner", sooner).effect.verdict, Verdict::Fits);
}

#[test]
fn the_sample_has_a_way_out_that_fits_and_none_of_its_parts_is_enough_for_less() {
    let sample = flatwright::store::sample();
    let ways = Ways::of(&sample, library());
    assert!(ways.found.fits(), "{:?}", ways.found.best);
    assert!(ways.found.of_crunches.iter().all(|ways| ways.iter().any(|way| way.effect.removes())));
    let matters = sample.settings().matters;
    let Some(best) = &ways.found.best.way else { panic!("a way") };
    // a grower who refused a lit shelf (13,500) and trays over the edge came to 299 plant-weeks and smaller pots at 21 each
    assert!(best.price.points(&matters) <= 6_279, "{} for {:?}", best.price.points(&matters), best.changes);
    let alone = ways.found.of_crunches.iter().flatten().filter(|way| way.effect.verdict == Verdict::Fits);
    for one in alone {
        assert!(best.price.points(&matters) <= one.price.points(&matters), "{:?} is cheaper", one.changes);
    }
}

#[test]
fn what_matters_a_lot_comes_after_what_matters_little() {
    let mut grower = plugs_grow_out();
    let first = |grower: &Grower| Ways::of_grower(grower).found.of_crunches[0][0].changes.clone();
    assert!(matches!(first(&grower).as_slice(), [Change::Into { .. }]), "smaller cells for five shelves with lamps");
    grower.settings(|settings| (settings.matters.smaller, settings.matters.buying) = (Matter::Much, Matter::Little));
    assert!(matches!(first(&grower).as_slice(), [Change::Shelves { number: 5, .. }]), "{:?}", first(&grower));
}

/// Six flats of each from 3 March, four hardy and four tender, on a shelf for six; the last frost on 10 April, with
/// an even chance, and a frame with room.
fn hardy_beside_tender() -> (Grower, [SowingId; 2]) {
    let mut grower = Grower::growing(1, &shelf("66 x 22 in"));
    let frame = grower.place(Role::Hardening);
    grower.rack(frame, 1, &shelf("96 x 22 in"));
    let weeks = |first, last| Some(Sourced::own((first, last)));
    let tender = Crop {
        key: CropKey::new("tender"),
        hardiness: Hardiness::Tender,
        planting_out_after_frost: weeks(1, 3),
        ..seedling()
    };
    let hardy = Crop { planting_out_after_frost: weeks(-4, 2), ..seedling() };
    grower.edit(&Op::PutCrop(Box::new(hardy)).into());
    grower.edit(&Op::PutCrop(Box::new(tender.clone())).into());
    let first = grower.sow(200, &[stage("sheet of 50", "2025-03-03")], "2025-04-28");
    let second = grower.sow(200, &[stage("sheet of 50", "2025-03-24")], "2025-05-12");
    grower.change(second, |sowing| sowing.crop = tender.key.clone());
    grower.settings(|settings| settings.frost = Some(Frost::on(day("2025-04-10"))));
    (grower, [first, second])
}

#[test]
fn hardy_crops_go_outside_sooner_from_their_safe_date_and_tender_ones_do_not() {
    let (grower, [hardy, tender]) = hardy_beside_tender();
    let ways = Ways::of_grower(&grower);
    let crunches: Vec<_> = ways.before.crunches.iter().map(|crunch| (crunch.span.from(), crunch.short)).collect();
    assert_eq!(crunches, [(day("2025-03-24"), 2)], "four and four on a shelf for six, until the first night out");
    let outside = |way: &WayOut| matches!(only(way), Some(Change::Hardened { .. }));
    let way = ways.has("the hardy ones outside sooner", outside);
    let Some(Change::Hardened { sowing, nights, .. }) = only(way) else { panic!("{way:?}") };
    assert_eq!(*sowing, hardy);
    // 28 days is as far as is looked; four weeks before the frost would be 13 March
    assert!((day("2025-03-13")..day("2025-04-24")).contains(nights), "{nights}");
    assert_eq!(*nights, day("2025-03-27"), "28 days sooner than 24 April");
    let forecast = flatwright::forecast::forecast(&grower.season, &ways.library);
    let words = Words { season: &grower.season, library: &ways.library, forecast: &forecast, unit: LengthUnit::Inch };
    let said = words.changes_of(way);
    assert!(
        said.contains(
            "28 days sooner, by day from 24 Mar, at night from 27 Mar: 5 years in 10 or more have a later frost"
        ),
        "{said}"
    );
    let of_tender = |way: &WayOut| {
        let first_night = |change: &Change| match change {
            Change::Hardened { sowing, nights, .. } if *sowing == tender => Some(*nights),
            _ => None,
        };
        way.changes.iter().find_map(first_night)
    };
    let nights = ways.found.of_crunches.iter().flatten().filter_map(of_tender).min();
    assert!(nights.is_none_or(|night| night >= day("2025-04-17")), "a week after the frost: {nights:?}");
}

#[test]
fn nothing_goes_outside_sooner_where_nobody_knows_how_cold_it_gets() {
    let (mut grower, _) = hardy_beside_tender();
    grower.settings(|settings| settings.frost = None);
    let ways = Ways::of_grower(&grower);
    let outside = |way: &&WayOut| way.changes.iter().any(|change| matches!(change, Change::Hardened { .. }));
    assert!(ways.found.of_crunches.iter().flatten().find(outside).is_none());
}

#[test]
fn a_frame_that_is_shut_may_open_sooner() {
    let (mut grower, _) = hardy_beside_tender();
    let Some(frame) = grower.season.places().find(|place| place.role == Role::Hardening).cloned() else {
        panic!("a frame")
    };
    let until_june = DateSpan::new(day("2025-05-05"), day("2025-06-01")).unwrap_or_else(|why| panic!("{why}"));
    grower.edit(&Op::PutPlace(Place { open: vec![until_june], ..frame }).into());
    let ways = Ways::of_grower(&grower);
    let open = |way: &WayOut| way.changes.iter().any(|change| matches!(change, Change::Open { .. }));
    let shown = ways.found.of_crunches.iter().flatten().chain(&ways.found.best.way).find(|way| open(way));
    let Some(Change::Open { then, .. }) =
        shown.and_then(|way| way.changes.iter().find(|change| matches!(change, Change::Open { .. })))
    else {
        panic!("{:#?}", ways.found.of_crunches)
    };
    assert!(then.from() < day("2025-05-05") && then.until() == day("2025-06-01"));
}

#[test]
fn plugs_are_moved_together_where_cells_failed() {
    // four sheets of 50 in which half came up, beside three others, on a shelf for six
    let mut grower = Grower::growing(1, &shelf("66 x 22 in"));
    let id = grower.sow(100, &[stage("sheet of 50", "2025-03-03")], "2025-04-28");
    grower.change(id, |sowing| sowing.germination_percent = Some(50));
    grower.see(id, "2025-03-03", Observed::Sown { cells: Some(200) });
    grower.see(id, "2025-03-10", Observed::Up { plants: Some(100) });
    grower.guests(3, FLAT, "2025-03-17", "2025-04-20");
    let ways = Ways::of_grower(&grower);
    let together = |way: &WayOut| matches!(only(way), Some(Change::GappedUp { from: 4, to: 2, .. }));
    let way = ways.has("moved together", together);
    assert_eq!(way.effect.verdict, Verdict::Fits);
    assert_eq!(way.price.moved_together, 1);
}

#[test]
fn trays_that_are_not_full_are_shared() {
    // two sowings of half a sheet each, one that wants to stand alone, beside five others, on a shelf for six
    let mut grower = Grower::growing(1, &shelf("66 x 22 in"));
    grower.rows("rows", FLAT, (10, 5));
    grower.sow(25, &[stage("rows", "2025-03-03")], "2025-04-28");
    let alone = grower.sow(25, &[stage("rows", "2025-03-03")], "2025-04-28");
    grower.change(alone, |sowing| sowing.alone = true);
    grower.guests(5, FLAT, "2025-03-17", "2025-04-20");
    let ways = Ways::of_grower(&grower);
    let way = ways.has("shared", |way| matches!(only(way), Some(Change::Shared { sowing }) if *sowing == alone));
    assert_eq!(way.effect.verdict, Verdict::Fits);
}

/// Lots that share a tray are counted in it: one tray fewer for both, not one each.
#[test]
fn what_shares_a_tray_has_its_ways_out_too() {
    let mut grower = Grower::growing(1, &shelf("66 x 22 in"));
    grower.rows("rows", FLAT, (10, 5));
    let one = grower.sow(25, &[stage("rows", "2025-03-03")], "2025-04-28");
    let other = grower.sow(25, &[stage("rows", "2025-03-03")], "2025-04-28");
    grower.guests(6, FLAT, "2025-04-14", "2025-05-05");
    let shares = |id| !grower.forecast().shared_by(id).is_empty();
    assert!(shares(one) && shares(other));
    let ways = Ways::of_grower(&grower);
    // neither by itself makes room: the other stays in the tray
    let best = ways.found.best.way.as_ref();
    assert!(
        ways.found.of_crunches[0].iter().any(|way| way.effect.removes())
            || best.is_some_and(|way| way.effect.verdict == Verdict::Fits),
        "{best:#?}"
    );
    assert!(!ways.found.best.none_fits, "both sown later fit");
}

#[test]
fn what_was_refused_is_not_offered_again() {
    let mut grower = plugs_grow_out();
    let ways = Ways::of_grower(&grower);
    let first = ways.found.of_crunches[0][0].changes[0].refused();
    grower.settings(|settings| settings.unwanted.push(first));
    let ways = Ways::of_grower(&grower);
    let offered = ways.found.of_crunches.iter().flatten().chain(&ways.found.best.way).flat_map(|way| &way.changes);
    assert!(offered.clone().count() > 0);
    assert_eq!(offered.filter(|change| change.refused() == first).count(), 0);
}

/// One crop that is not to go outside sooner, and a shelf was all that was offered, at twice the points of eight small
/// changes; without that too, nothing.
#[test]
fn whoever_refuses_one_small_change_is_not_sent_to_buy_a_shelf() {
    let mut season = flatwright::store::sample();
    let chard = season.sowings().find(|sowing| &*sowing.crop.0 == "swiss_chard").expect("it is sown").id;
    let mut settings = season.settings().clone();
    settings.unwanted = vec![Unwanted::OfSowing(chard, SowingChange::Hardened)];
    season.apply(&Op::SetSettings(settings).into()).expect("it may be refused");
    let library = library();
    let forecast = flatwright::forecast::forecast(&season, library);
    let before = outlook(&season, library, &mut Memory::default());
    let of = Standing { season: &season, library, forecast: &forecast, outlook: &before, today: None };
    let found = find(&of, &mut Memory::default(), &Progress::default(), &Cancel::default());
    let best = found.unwrap_or_else(|_| panic!("nobody cancelled it")).best.way.expect("a way");
    let points = best.price.points(&season.settings().matters);
    assert_eq!((best.effect.verdict, best.price.shelves), (Verdict::Fits, 0), "{points}: {:#?}", best.changes);
    // found by hand in the window
    assert!(points <= 6_345, "{points}");
    season.apply(&best.edit).expect("it can be made");
    assert_eq!(outlook(&season, library, &mut Memory::default()).verdict, Verdict::Fits);
}
