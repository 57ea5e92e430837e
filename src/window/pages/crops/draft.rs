//! A crop as it is typed: each figure that is changed becomes the grower's own; the others keep
//! their source.

use crate::season::{Crop, DayRange, FieldId, GrowthPoint, Hardening, LatestWeeks, MovingOn, Op, Sourced};
use crate::units::{Length, LengthUnit, Typed};
use crate::window::kit::form::{Faults, Form, Reader};
use crate::window::pages::sowings::{whole, whole_or_none};
use crate::window::scene::Scene;
use crate::words;

pub(super) const NAME: &str = words::field(FieldId::CropName);
pub(super) const GERMINATION: &str = words::field(FieldId::CropGermination);
pub(super) const UP: [&str; 3] = ["Up, early", "Up, likely", "Up, late"];
pub(super) const LEAVES: &str = "True leaves needed";
pub(super) const DUE: [&str; 3] = ["Moving on, early", "Moving on, likely", "Moving on, late"];
pub(super) const LATEST: [&str; 4] =
    ["Weeks in small cells", "Weeks in medium cells", "Weeks in large cells", "Weeks in pots"];
pub(super) const WEEKS: [&str; 2] = ["Weeks to planting out, least", "Weeks to planting out, most"];
pub(super) const FROST: [&str; 2] = ["Weeks from the frost, earliest", "Weeks from the frost, latest"];
pub(super) const HARDENING: &str = "Days of hardening off";
pub(super) const FIRST_NIGHT: &str = "First night out after days";
pub(super) const COME_IN: &str = "Comes in below";
pub(super) const MOVES: &str = "Usual moves";

/// Which of the two curves.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Curve {
    Height,
    Spread,
}

impl Curve {
    pub(super) const fn of(self, crop: &Crop) -> &Sourced<Vec<GrowthPoint>> {
        match self {
            Self::Height => &crop.heights,
            Self::Spread => &crop.spreads,
        }
    }

    pub(super) const fn of_mut(self, crop: &mut Crop) -> &mut Sourced<Vec<GrowthPoint>> {
        match self {
            Self::Height => &mut crop.heights,
            Self::Spread => &mut crop.spreads,
        }
    }

    /// Names of the two fields of a point.
    pub(super) fn fields(self, at: usize) -> [String; 2] {
        [self.week_field(at), self.size_field(at)]
    }

    fn week_field(self, at: usize) -> String {
        format!("Week of {} {}", self.what(), at + 1)
    }

    fn size_field(self, at: usize) -> String {
        let what = match self {
            Self::Height => "Height",
            Self::Spread => "Spread",
        };
        format!("{what} {}", at + 1)
    }

    pub(super) const fn what(self) -> &'static str {
        words::field(match self {
            Self::Height => FieldId::HeightSize(0),
            Self::Spread => FieldId::SpreadSize(0),
        })
    }
}

/// What stands in the fields of a point while nothing else is typed.
pub(super) fn point_shown(point: &GrowthPoint, unit: LengthUnit) -> [String; 2] {
    let length = Length::try_from_mm(point.mm).unwrap_or(Length::ZERO);
    [point.week.to_string(), length.in_words(unit)]
}

pub(super) fn or_nothing<T: ToString>(value: Option<T>) -> String {
    value.map_or_else(String::new, |value| value.to_string())
}

fn any(form: &Form, names: &[&str]) -> bool {
    names.iter().any(|name| form.has(name))
}

/// The crop with what is typed, or what is wrong with each field.
pub(super) fn read(form: &Form, before: &Crop, scene: &Scene<'_>) -> Result<Crop, Faults> {
    let (season, unit) = (scene.season, scene.unit);
    let mut reader = Reader::new(form);
    let mut crop = before.clone();
    if let Some(name) = reader.read(NAME, &before.name, |text| Ok(text.to_owned())) {
        crop.name = name;
    }
    if form.has(GERMINATION)
        && let Some(percent) = reader.read(GERMINATION, "", whole::<u8>)
    {
        crop.germination_percent = Sourced::own(percent);
    }
    if any(form, &UP)
        && let Some(days) = days(&mut reader, UP, before.emergence.value)
    {
        crop.emergence = Sourced::own(days);
        // the grower's own days count before any table
        (crop.emergence_warmth, crop.emergence_row) = (None, None);
    }
    let moving_on = before.moving_on.value;
    if any(form, &DUE) || form.has(LEAVES) {
        let leaves = reader.read(LEAVES, &or_nothing(moving_on.true_leaves), whole_or_none::<u8>);
        if let (Some(true_leaves), Some(days)) = (leaves, days(&mut reader, DUE, moving_on.days)) {
            crop.moving_on = Sourced::own(MovingOn { true_leaves, days });
        }
    }
    if any(form, &LATEST) {
        let LatestWeeks { small, medium, large, pot } = before.latest.value;
        let mut week = |at: usize, shown| reader.read(LATEST[at], &or_nothing(shown), whole_or_none::<u8>);
        if let (Some(small), Some(medium), Some(large), Some(pot)) =
            (week(0, small), week(1, medium), week(2, large), week(3, pot))
        {
            crop.latest = Sourced::own(LatestWeeks { small, medium, large, pot });
        }
    }
    if any(form, &WEEKS) {
        let (least, most) = before.weeks_to_planting_out.value;
        let least = reader.read(WEEKS[0], &least.to_string(), whole::<u8>);
        let most = reader.read(WEEKS[1], &most.to_string(), whole::<u8>);
        crop.weeks_to_planting_out = least.zip(most).map_or(crop.weeks_to_planting_out, Sourced::own);
    }
    if any(form, &FROST) {
        frost(&mut reader, before, &mut crop);
    }
    let Hardening { days, first_night_after } = before.hardening.value;
    if any(form, &[HARDENING, FIRST_NIGHT])
        && let (Some(days), Some(first_night_after)) = (
            reader.read(HARDENING, &days.to_string(), whole::<u16>),
            reader.read(FIRST_NIGHT, &first_night_after.to_string(), whole::<u16>),
        )
    {
        crop.hardening = Sourced::own(Hardening { days, first_night_after });
    }
    if form.has(COME_IN)
        && let Some(degrees) =
            reader.read(COME_IN, "", |text| Typed::parse_temperature(text).map_err(|why| why.to_string()))
    {
        crop.come_in = Sourced::own(degrees);
    }
    if let Some(moves) = reader.read(MOVES, &before.usual_moves.to_string(), whole::<u8>) {
        crop.usual_moves = moves;
    }
    for curve in [Curve::Height, Curve::Spread] {
        points(&mut reader, form, curve, &mut crop, unit);
    }
    if reader.faults.is_empty()
        && let Err(why) = season.may(&Op::PutCrop(Box::new(crop.clone())).into())
    {
        reader.fault(&at_fault(why.field), &words::refusal(&why));
    }
    if reader.faults.is_empty() { Ok(crop) } else { Err(reader.faults) }
}

/// Where a label stands before several fields, the last of them.
fn at_fault(field: FieldId) -> String {
    match field {
        FieldId::CropEmergence => UP[2].to_owned(),
        FieldId::CropMovingOn => DUE[2].to_owned(),
        FieldId::CropWeeksOut => WEEKS[1].to_owned(),
        FieldId::CropWeeksFromFrost => FROST[1].to_owned(),
        FieldId::HeightWeek(at) => Curve::Height.week_field(at),
        FieldId::HeightSize(at) => Curve::Height.size_field(at),
        FieldId::SpreadWeek(at) => Curve::Spread.week_field(at),
        FieldId::SpreadSize(at) => Curve::Spread.size_field(at),
        field => words::field(field).to_owned(),
    }
}

fn days(reader: &mut Reader<'_>, names: [&str; 3], before: DayRange) -> Option<DayRange> {
    let early = reader.read(names[0], &before.early.to_string(), whole::<u16>);
    let likely = reader.read(names[1], &before.likely.to_string(), whole::<u16>);
    let late = reader.read(names[2], &before.late.to_string(), whole::<u16>);
    Some(DayRange { early: early?, likely: likely?, late: late? })
}

fn frost(reader: &mut Reader<'_>, before: &Crop, crop: &mut Crop) {
    let shown = before.planting_out_after_frost.as_ref().map(|weeks| weeks.value);
    let mut weeks = |name, shown: Option<i8>| {
        reader.read(name, &or_nothing(shown), |text| match text {
            "" => Ok(None),
            text => {
                let number = text.strip_prefix(['-', '−']).map_or_else(
                    || whole::<i8>(text.strip_prefix('+').unwrap_or(text)),
                    |rest| whole::<i8>(rest).map(|weeks| -weeks),
                );
                number.map(Some)
            }
        })
    };
    let (earliest, latest) = (weeks(FROST[0], shown.map(|weeks| weeks.0)), weeks(FROST[1], shown.map(|weeks| weeks.1)));
    match (earliest, latest) {
        (Some(Some(earliest)), Some(Some(latest))) => {
            crop.planting_out_after_frost = Some(Sourced::own((earliest, latest)));
        }
        (Some(None), Some(None)) => crop.planting_out_after_frost = None,
        (Some(None), Some(_)) => reader.fault(FROST[0], "write both, or leave both empty"),
        (Some(_), Some(None)) => reader.fault(FROST[1], "write both, or leave both empty"),
        _ => {}
    }
}

fn points(reader: &mut Reader<'_>, form: &Form, curve: Curve, crop: &mut Crop, unit: LengthUnit) {
    let mut changed = curve.of(crop).value.clone();
    for (at, point) in changed.iter_mut().enumerate() {
        let [week, size] = curve.fields(at);
        if form.has(&week)
            && let Some(number) = reader.read(&week, "", number)
        {
            point.week = number;
        }
        if form.has(&size)
            && let Some(length) =
                reader.read(&size, "", |text| Length::parse(text, Some(unit)).map_err(|w| w.to_string()))
        {
            point.mm = length.to_mm();
        }
    }
    if changed != curve.of(crop).value {
        *curve.of_mut(crop) = Sourced::own(changed);
    }
}

/// A number written as any length is: `2,5`, `2.5`, `2 1/2`.
fn number(text: &str) -> Result<f64, String> {
    let refused = || format!("found {text:?}; write a number of weeks such as 2.5");
    if text.chars().any(char::is_alphabetic) || text.contains(['"', '\'']) {
        return Err(refused());
    }
    Length::parse(text, Some(LengthUnit::Millimetre)).map(Length::to_mm).map_err(|_why| refused())
}
