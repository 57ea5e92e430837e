//! Every stay, date and mark of a season, worked out.

use std::collections::{BTreeMap, BTreeSet};

use chrono::NaiveDate;

use crate::season::{
    Crop, CropKey, Hardiness, Library, LotId, Observed, Reach, Season, Sowing, SowingId, Step, StepId, TrayKey, Zone,
};
use crate::trade::{self, Germination};
use crate::units::{Length, shifted};

use super::all::{Alike, Forecast};
use super::course::{Course, Event, What, Why};
use super::hardening::hardening_places;
use super::leaves::{Meeting, once_for_a_crop};
use super::problem::Problem;
use super::scenario::Scenario;
use super::shared_tray::Sharing;
use super::sharing::{self, Beside};
use super::sown::{Sown, Stood};
use super::starts::sown_about;
use super::stay::Stay;
use super::stays::Premises;
use super::{away, clock, records, shared, stays};

/// Opens the marks of trays that hold several crops.
const MIXED: &str = "Mix";

/// Works out every stay of the season, the way that luck has it; not what would be right where something is held too
/// long.
pub fn drawn(season: &Season, library: &Library, scenario: &Scenario) -> Forecast {
    let mut result = Forecast::default();
    let ground = Premises::of(season);
    let mut numbers = BTreeMap::new();
    let all: Vec<_> = season.sowings().map(|sowing| (sowing, prepared(season, library, sowing))).collect();
    let sown: Vec<&Sown<'_>> = all.iter().filter_map(|(_, made)| Some(&made.as_ref()?.0)).collect();
    let sharing = sharing::share(season, &ground, &sown);
    let mut beside = Vec::new();
    for (sowing, made) in &all {
        let Some((sown, problems)) = made else {
            result.problems.push(Problem::UnknownCrop { sowing: sowing.id, crop: sowing.crop.clone() });
            continue;
        };
        beside.extend(of_sowing(season, library, (sown, problems), (&ground, &sharing), scenario, &mut result));
    }
    result.problems = once_for_a_crop(season, std::mem::take(&mut result.problems));
    result.problems.extend(sharing::unlike(&beside));
    let given = shared::given(season, &result.stays);
    shared::shared(&mut result.stays, &sharing);
    result.fewer.clone_from(&sharing.fewer);
    result.shared = sharing::trays(&sharing, given, &beside);
    result.stays = with_guests(season, std::mem::take(&mut result.stays));
    marks(season, library, &mut numbers, &mut result);
    alike(season, &mut result);
    problems_of_season(season, library, &mut result);
    away::dry_days(season, &mut result);
    away::carried(season, &mut result);
    result
}

/// By date, with those of plants that were not sown.
fn with_guests(season: &Season, mut stays: Vec<Stay>) -> Vec<Stay> {
    stays.extend(season.guests().flat_map(stays::of_guest));
    stays.sort_by(|a, b| (a.span, &a.trays).cmp(&(b.span, &b.trays)));
    stays
}

/// Works out one sowing by itself, in the season or not: its stays, courses and problems, without
/// marks.
pub fn of_one(season: &Season, library: &Library, sowing: &Sowing) -> Forecast {
    let mut result = Forecast::default();
    if let Some((sown, problems)) = prepared(season, library, sowing) {
        let (ground, alone) = (Premises::of(season), Sharing::default());
        of_sowing(season, library, (&sown, &problems), (&ground, &alone), &Scenario::none(), &mut result);
    }
    result
}

/// What no luck changes about a sowing, and what is wrong with its containers; nothing for a crop that
/// is not known.
fn prepared<'a>(season: &'a Season, library: &'a Library, sowing: &'a Sowing) -> Option<(Sown<'a>, Vec<Problem>)> {
    let crop = season.crop(library, &sowing.crop)?;
    let mut problems = Vec::new();
    Some((Sown::of(season, library, crop, sowing, &mut problems), problems))
}

/// A day near the frost that the season is about: its first planting out, or the frost it has.
pub fn frost_near(season: &Season) -> Option<NaiveDate> {
    let out = season.sowings().flat_map(|sowing| &sowing.wanted).map(|wanted| wanted.date).min();
    out.or_else(|| season.settings().frost.as_ref().map(|frost| frost.date))
}

/// Says of its lots that stand with others how they fare there.
fn of_sowing<'a>(
    season: &Season,
    library: &Library,
    (sown, found): (&Sown<'a>, &[Problem]),
    (ground, sharing): (&Premises, &Sharing),
    scenario: &Scenario,
    result: &mut Forecast,
) -> Vec<Beside<'a>> {
    let (crop, sowing) = (sown.crop, sown.sowing);
    result.problems.extend(as_planned(season, library, crop, sowing));
    result.problems.extend_from_slice(found);
    result.problems.extend(records::of_no_batch(sowing));
    result.problems.extend(records::too_few(season, crop, sowing, sown.likely()));
    result.problems.extend(sown.not_so(ground, sharing));
    let mut beside = Vec::new();
    let mut meetings = Vec::new();
    for lot in &sown.lots {
        let mut problems = Vec::new();
        let Some((timed, mut events)) = sown.time(lot, scenario, &mut problems) else { continue };
        if lot.died().is_none() {
            problems.extend(sown.climate(ground, lot, &timed));
        }
        result
            .problems
            .extend(problems.into_iter().filter(|problem| !result.problems.contains(problem)).collect::<Vec<_>>());
        let mut trays = Vec::new();
        let mut before: Vec<(TrayKey, u32)> = Vec::new();
        for Stood { step, spaced, stays, trays: number } in sown.steps(ground, sharing, lot, &timed) {
            events.extend(spaced.map(|(date, why)| Event { what: What::Spaced, date, range: None, why }));
            let here = plants_by_tray(&stays);
            add_origins(result, origins(&before, &here));
            before = here;
            result.stays.extend(stays);
            trays.push((step, number));
        }
        beside.extend(sharing::beside(sharing, ground, sown, lot, &timed));
        if scenario.is_none() {
            let here = sown.leaves_meet(lot, &timed);
            events.extend(here.iter().map(Meeting::event));
            meetings.extend(here);
        }
        let gapped_up = lot.gapped_up();
        events.extend(gapped_up.map(|date| Event { what: What::GappedUp, date, range: None, why: Why::Seen }));
        events.sort_by_key(|event| event.date);
        let (id, plants, go_out, sow) = (lot.lot.id, lot.plants, lot.go_out(), lot.sow);
        let places_in = |(index, step): (usize, &Step)| Some((step.id, lot.places_at_start(index, &timed)?));
        let places = sowing.steps.iter().enumerate().filter_map(places_in).collect();
        result.courses.push(Course { sowing: sowing.id, lot: id, plants, go_out, sow, trays, places, events });
    }
    result.problems.extend(Meeting::of_all(&meetings).and_then(|meeting| meeting.problem(sowing.id)));
    beside
}

/// What is wrong with a sowing before its lots are looked at.
fn as_planned(season: &Season, library: &Library, crop: &Crop, sowing: &Sowing) -> Vec<Problem> {
    let mut found = Vec::new();
    let percent = sowing.germination_percent.unwrap_or(crop.germination_percent.value);
    if let Some(legal) = crop.germination_legal_percent.filter(|legal| percent < *legal && sowing.begun.is_none()) {
        found.push(Problem::BelowLegalGermination { sowing: sowing.id, percent, legal });
    }
    if let Some(frost) = season.settings().frost.as_ref().filter(|_| trade::is_tender(crop) && !went(sowing))
        && let Some(out) = sowing.wanted.iter().map(|wanted| wanted.date).min().filter(|out| *out < frost.date)
    {
        let problem =
            Problem::OutBeforeFrost { sowing: sowing.id, out, frost: frost.date, later_in_ten: frost.later_in_ten };
        found.push(problem);
    }
    found.extend(few_come_up(season, library, crop, sowing));
    found.extend(out_before_window(season, crop, sowing));
    let volume_of = |step: &Step| season.container(library, &step.container).and_then(trade::cell_volume);
    for (before, step) in sowing.steps.iter().zip(sowing.steps.iter().skip(1)) {
        if let (Some(from), Some(to)) = (volume_of(before), volume_of(step))
            && !trade::holds_enough(from, to)
        {
            found.push(Problem::SmallStep { sowing: sowing.id, step: step.id, from, to });
        }
    }
    found
}

/// A tray that several lots share comes from the trays of all of them.
fn add_origins(result: &mut Forecast, found: Vec<(TrayKey, Vec<TrayKey>)>) {
    for (tray, parents) in found {
        let known = result.origins.entry(tray).or_default();
        for parent in parents {
            if !known.contains(&parent) {
                known.push(parent);
            }
        }
    }
}

/// Less than so many of those that come up at their best are told: our choice, no source.
const FEW: f64 = 0.75;

fn few_come_up(season: &Season, library: &Library, crop: &Crop, sowing: &Sowing) -> Option<Problem> {
    let Germination { percent, at } = clock::germination(season, library, crop, sowing, sown_about(crop, sowing));
    let (at, (best_at, best)) = (at?, trade::germinates_best(crop, library)?);
    let unsown = sowing.seen.is_empty() && sowing.begun.is_none();
    let is_few = unsown && f64::from(percent) < FEW * f64::from(best) && trade::germination_limit(crop, at).is_none();
    is_few.then_some(Problem::FewComeUp { sowing: sowing.id, percent, at, best, best_at })
}

fn went(sowing: &Sowing) -> bool {
    sowing.seen.iter().any(|seen| matches!(seen.what, Observed::PutOut(_) | Observed::Sold(_)))
}

/// A half-hardy crop stands a light frost, once its weeks from the last frost have begun: they are counted from
/// the day with even chances of a later one.
fn out_before_window(season: &Season, crop: &Crop, sowing: &Sowing) -> Option<Problem> {
    let frost = season.settings().frost.as_ref().filter(|_| crop.hardiness == Hardiness::HalfHardy)?;
    let (weeks, _) = crop.planting_out_after_frost.as_ref()?.value;
    let from = frost.out(7 * i16::from(weeks), false)?;
    let out = sowing.wanted.iter().map(|wanted| wanted.date).min().filter(|out| *out < from)?;
    (!went(sowing) && !sowing.is_to_sell()).then_some(Problem::OutBeforeWindow { sowing: sowing.id, out, from, weeks })
}

/// How many plants each tray of a step holds at most.
fn plants_by_tray(stays: &[Stay]) -> Vec<(TrayKey, u32)> {
    let mut plants = BTreeMap::new();
    for stay in stays.iter().filter(|stay| stay.trays.len() == 1) {
        for tray in &stay.trays {
            let most = plants.entry(*tray).or_insert(0);
            *most = stay.plants.max(*most);
        }
    }
    plants.into_iter().collect()
}

/// Which trays of the step before fill which of this one: plants are moved on in order, and the
/// cells that failed are spread evenly.
fn origins(before: &[(TrayKey, u32)], here: &[(TrayKey, u32)]) -> Vec<(TrayKey, Vec<TrayKey>)> {
    let total = |trays: &[(TrayKey, u32)]| trays.iter().map(|(_, plants)| u64::from(*plants)).sum::<u64>();
    let (sown, moved) = (total(before), total(here).max(1));
    let mut first = 0_u64;
    here.iter()
        .map(|&(tray, plants)| {
            let (from, until) = (first * sown / moved, ((first + u64::from(plants)) * sown).div_ceil(moved));
            first += u64::from(plants);
            let mut start = 0;
            let parents = before.iter().filter_map(|&(parent, cells)| {
                let (begins, ends) = (start, start + u64::from(cells));
                start = ends;
                (begins < until && from < ends).then_some(parent)
            });
            (tray, parents.collect::<Vec<_>>())
        })
        .filter(|(_, parents)| !parents.is_empty())
        .collect()
}

/// Every tray's mark: the crop's letters and a number, or the grower's own. A tray of several crops is
/// a mixed one.
fn marks(season: &Season, library: &Library, numbers: &mut BTreeMap<String, u32>, result: &mut Forecast) {
    let mut next = |letters: &str| {
        let number = numbers.entry(letters.to_owned()).or_insert(0);
        *number += 1;
        format!("{letters} {number}")
    };
    let mut own: BTreeMap<(LotId, StepId), BTreeSet<u32>> = BTreeMap::new();
    for tray in result.stays.iter().flat_map(|stay| &stay.trays) {
        if let TrayKey::Own { lot, step, n } = *tray {
            own.entry((lot, step)).or_default().insert(n);
        }
    }
    let crop_of = |sowing| season.sowing(sowing).map(|sowing| &sowing.crop);
    for course in &result.courses {
        let key = crop_of(course.sowing);
        let letters = key.and_then(|key| season.crop(library, key)).map_or("?", |crop| crop.mark.as_str());
        for &(step, _) in &course.trays {
            for &n in own.get(&(course.lot, step)).into_iter().flatten() {
                let tray = TrayKey::Own { lot: course.lot, step, n };
                let others = result.shared.get(&tray).map_or(&[][..], |tray| &tray.parts);
                let mixed = others.iter().any(|part| crop_of(part.sowing) != key);
                result.marks.insert(tray, next(if mixed { MIXED } else { letters }));
            }
        }
    }
    for guest in season.guests() {
        let letters: String = guest.name.chars().filter(|c| c.is_alphanumeric()).take(2).collect();
        for n in 1..=u32::from(guest.number) {
            result.marks.insert(TrayKey::Guest { guest: guest.id, n }, next(&letters));
        }
    }
    for note in season.notes() {
        if let Some(mark) = &note.mark {
            result.marks.insert(note.key, mark.clone());
        } else if matches!(note.key, TrayKey::Shared(_)) {
            result.marks.insert(note.key, next(MIXED));
        }
    }
}

fn alike(season: &Season, result: &mut Forecast) {
    let mut named: BTreeMap<(&CropKey, &str), Vec<SowingId>> = BTreeMap::new();
    for sowing in season.sowings() {
        named.entry((&sowing.crop, &sowing.variety)).or_default().push(sowing.id);
    }
    for same in named.into_values().filter(|same| same.len() > 1) {
        let sown = |id: &SowingId| {
            result.courses_of(*id).find_map(|course| course.date(What::Sown).or_else(|| course.date(What::Begun)))
        };
        let dates: Vec<_> = same.iter().map(sown).collect();
        let mut times: BTreeMap<_, usize> = BTreeMap::new();
        for date in &dates {
            *times.entry(*date).or_insert(0) += 1;
        }
        for ((at, id), date) in (1..).zip(&same).zip(dates) {
            let sown = date.filter(|_| times.get(&date) == Some(&1));
            result.alike.insert(*id, Alike { at, of: same.len(), sown });
        }
    }
}

fn problems_of_season(season: &Season, library: &Library, result: &mut Forecast) {
    if season.sowings().next().is_none() && season.guests().next().is_none() {
        result.problems.push(Problem::NothingSown);
    }
    if season.shelves().next().is_none() {
        result.problems.push(Problem::NoShelves);
    }
    result.problems.extend(nowhere_to_harden(season, library, result));
    for shelf in season.shelves() {
        // 36 in from one side at a time is as far as an arm works: bench advice, common practice
        let reach = Length::from_units(36 * 203_200);
        let sides = if shelf.reach == Reach::BothSides { 2 } else { 1 };
        if shelf.depth.value() >= reach * sides {
            result.problems.push(Problem::OutOfReach { shelf: shelf.id, reach: reach * sides });
        }
        let over = |zone: &Zone| {
            (zone.x.value() + zone.width.value() - shelf.width.value())
                .max(zone.y.value() + zone.depth.value() - shelf.depth.value())
        };
        if let Some(by) = shelf.zones.iter().map(over).max().filter(|by| *by > Length::ZERO) {
            result.problems.push(Problem::ZoneSticksOut { shelf: shelf.id, by });
        }
    }
}

/// Where there are shelves, but none outside, and something wants to be hardened off that has not died.
fn nowhere_to_harden(season: &Season, library: &Library, result: &Forecast) -> Option<Problem> {
    if season.shelves().next().is_none() || !hardening_places(season).is_empty() {
        return None;
    }
    let wants = |sowing: &Sowing| {
        let days = trade::hardening_days(season.crop(library, &sowing.crop)?, sowing).days;
        let goes = |course: &Course| course.events.iter().any(|event| matches!(event.what, What::Out { .. }));
        let out = records::still_to_go(sowing, 0).first()?.date;
        let wants = days > 0 && result.courses_of(sowing.id).any(goes);
        wants.then(|| shifted(out, -i64::from(days)))
    };
    let days: Vec<_> = season.sowings().filter_map(|sowing| Some((wants(sowing)?, sowing.id))).collect();
    let sowings = u32::try_from(days.len()).unwrap_or(u32::MAX);
    let (first, sowing) = days.into_iter().min()?;
    Some(Problem::NowhereToHarden { sowings, sowing, first })
}
