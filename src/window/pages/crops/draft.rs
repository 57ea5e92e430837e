//! A crop as it is typed: each figure that is changed becomes the grower's own; the others keep
//! their source.

use crate::season::{
    Crop, CropKey, DayRange, FieldId, GerminationTemperatures, GrowthPoint, Hardening, LatestWeeks, MovingOn, Potting,
    Sourced,
};
use crate::trade;
use crate::units::{Length, LengthUnit, Temperature, Typed};
use crate::window::kit::{Fault, Field, Form, Owner, Reader, WIDE_PT, whole, whole_or_none};
use crate::words::{self, crops as said, fields};

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

    pub(super) const fn what(self) -> &'static str {
        match self {
            Self::Height => said::HEIGHT,
            Self::Spread => said::SPREAD,
        }
    }

    /// Names of the two fields of a point.
    pub(super) fn fields(self, at: usize) -> [String; 2] {
        [said::week_of(self.what(), at), said::size_of(self.what(), at)]
    }

    const fn ids(self, at: usize) -> [FieldId; 2] {
        match self {
            Self::Height => [FieldId::HeightWeek(at), FieldId::HeightSize(at)],
            Self::Spread => [FieldId::SpreadWeek(at), FieldId::SpreadSize(at)],
        }
    }
}

pub(super) fn owner(key: &CropKey) -> Owner {
    Owner::Crop(key.clone())
}

fn or_nothing<T: ToString>(value: Option<T>) -> String {
    value.map_or_else(String::new, |value| value.to_string())
}

/// One of several in a line.
fn small<'a>(label: &'a str, name: impl Into<std::borrow::Cow<'a, str>>, shown: String) -> Field<'a> {
    let width = if shown.len() > 4 { 74.0 } else { 44.0 };
    Field::new(label, shown).named(name).width(width)
}

/// All its fields, as they are in `crop`.
pub(super) fn form(crop: &Crop, unit: LengthUnit, word: Potting) -> Form<'_> {
    let mut all = vec![
        Field::new(said::NAME, &*crop.name).width(WIDE_PT),
        Field::new(said::GERMINATION, crop.germination_percent.value.to_string()),
        Field::new(said::LEAVES, or_nothing(crop.moving_on.value.true_leaves)).hint(said::LEAVES_HINT),
        Field::new(said::COME_IN, words::temperature(&crop.come_in.value, unit)),
        Field::new(said::moves(word), crop.usual_moves.to_string()),
        Field::new(said::ROOTING, trade::rooting_days(crop).to_string()),
        Field::new(said::IN_OPEN_FLAT, or_nothing(crop.in_open_flat.as_ref().map(|plants| plants.value)))
            .hint(said::IN_OPEN_FLAT_HINT)
            .is(FieldId::CropInOpenFlat),
        small(said::DAYS, said::HARDENING, crop.hardening.value.days.to_string()).is(FieldId::CropHardening),
        small(said::FIRST_NIGHT_LABEL, said::FIRST_NIGHT, crop.hardening.value.first_night_after.to_string())
            .is(FieldId::CropFirstNight),
    ];
    let ranges = [
        (crop.emergence.value, said::UP, FieldId::CropEmergence),
        (crop.moving_on.value.days, said::DUE, FieldId::CropMovingOn),
    ];
    for (days, names, id) in ranges {
        let shown = [days.early, days.likely, days.late].map(|days| days.to_string());
        let fields = said::EARLY_LIKELY_LATE.into_iter().zip(names).zip(shown);
        all.extend(blamed_last(fields.map(|((label, name), shown)| small(label, name, shown)), id));
    }
    let LatestWeeks { small: in_small, medium, large, pot, litre, gallon, in_days } = crop.latest.value;
    let fields = said::SIZES.into_iter().zip(said::LATEST).zip([in_small, medium, large, pot, litre, gallon]);
    let shown = |held: Option<u8>| held.map_or_else(String::new, |held| said::held(held, in_days));
    let fields = fields.map(|((label, name), held)| small(label, name, shown(held)));
    all.extend(blamed_last(fields, FieldId::CropLatest));
    let (least, most) = crop.weeks_to_planting_out.value;
    let frost = crop.planting_out_after_frost.as_ref().map(|weeks| weeks.value);
    let sale = crop.weeks_to_sale.as_ref().map(|weeks| weeks.value);
    let pairs = [
        ([or_nothing(sale.map(|s| s.0)), or_nothing(sale.map(|s| s.1))], said::SALE, FieldId::CropWeeksToSale),
        ([least.to_string(), most.to_string()], said::WEEKS, FieldId::CropWeeksOut),
        ([or_nothing(frost.map(|f| f.0)), or_nothing(frost.map(|f| f.1))], said::FROST, FieldId::CropWeeksFromFrost),
    ];
    for (shown, names, id) in pairs {
        let fields = ["", said::TO].into_iter().zip(names).zip(shown);
        all.extend(blamed_last(fields.map(|((label, name), shown)| small(label, name, shown)), id));
    }
    let warmth = germination(crop);
    let fields = said::GERMINATES_LABELS.into_iter().zip(said::GERMINATES).zip(warmth).enumerate();
    all.extend(fields.map(|(at, ((label, name), degrees))| {
        let shown = degrees.map_or_else(String::new, |degrees| degrees.in_words(unit));
        small(label, name, shown).is(FieldId::CropGerminates(at))
    }));
    all.push(Field::new(said::SEEDS, or_nothing(crop.seeds_per_gram)).hint(fields::UNKNOWN));
    all.push(Field::new(said::BEFORE, &*crop.before_sowing).hint(said::NOTHING).width(WIDE_PT));
    for curve in [Curve::Height, Curve::Spread] {
        for (at, point) in curve.of(crop).value.iter().enumerate() {
            let ([week, size], [week_id, size_id]) = (curve.fields(at), curve.ids(at));
            let length = Length::try_from_mm(point.mm).unwrap_or(Length::ZERO);
            all.push(small(said::WEEK, week, point.week.to_string()).is(week_id));
            all.push(small(curve.what(), size, length.in_words(unit)).is(size_id));
        }
    }
    Form::new(owner(&crop.key), all).unit(unit)
}

/// A refusal of them all stands behind the last.
fn blamed_last<'a>(fields: impl Iterator<Item = Field<'a>>, id: FieldId) -> Vec<Field<'a>> {
    let mut fields: Vec<Field<'a>> = fields.collect();
    let last = fields.pop().map(|last| last.is(id));
    fields.extend(last);
    fields
}

fn any(reader: &Reader<'_>, names: &[&str]) -> bool {
    names.iter().any(|name| reader.is_typed(name))
}

fn up_and_due(reader: &mut Reader<'_>, crop: &mut Crop) {
    if any(reader, &said::UP)
        && let Some(days) = days(reader, said::UP)
    {
        crop.emergence = Sourced::own(days);
        // the grower's own days count before any table
        (crop.emergence_warmth, crop.emergence_row) = (None, None);
    }
    if any(reader, &said::DUE) || reader.is_typed(said::LEAVES) {
        let leaves = reader.read(said::LEAVES, whole_or_none::<u8>);
        if let (Some(true_leaves), Some(days)) = (leaves, days(reader, said::DUE)) {
            crop.moving_on = Sourced::own(MovingOn { true_leaves, days });
        }
    }
}

/// The crop with what is typed, or what is wrong with each field.
pub(super) fn read(reader: &mut Reader<'_>, before: &Crop, unit: LengthUnit, word: Potting) -> Crop {
    let mut crop = before.clone();
    reader.text(said::NAME).clone_into(&mut crop.name);
    if reader.is_typed(said::GERMINATION)
        && let Some(percent) = reader.read(said::GERMINATION, whole::<u8>)
    {
        crop.germination_percent = Sourced::own(percent);
    }
    up_and_due(reader, &mut crop);
    if any(reader, &said::LATEST) {
        latest(reader, &mut crop);
    }
    if any(reader, &said::WEEKS) {
        let least = reader.read(said::WEEKS[0], whole::<u8>);
        let most = reader.read(said::WEEKS[1], whole::<u8>);
        crop.weeks_to_planting_out = least.zip(most).map_or(crop.weeks_to_planting_out, Sourced::own);
    }
    if any(reader, &said::SALE) {
        sale(reader, &mut crop);
    }
    if any(reader, &said::FROST) {
        frost(reader, &mut crop);
    }
    seed(reader, &mut crop);
    if any(reader, &[said::HARDENING, said::FIRST_NIGHT])
        && let (Some(days), Some(first_night_after)) =
            (reader.read(said::HARDENING, whole::<u16>), reader.read(said::FIRST_NIGHT, whole::<u16>))
    {
        crop.hardening = Sourced::own(Hardening { days, first_night_after });
    }
    if reader.is_typed(said::ROOTING)
        && let Some(days) = reader.read(said::ROOTING, whole::<u16>)
    {
        crop.rooting_days = Some(Sourced::own(days));
    }
    if reader.is_typed(said::COME_IN)
        && let Some(degrees) = reader.read(said::COME_IN, Typed::parse_temperature)
    {
        crop.come_in = Sourced::own(degrees);
    }
    if let Some(moves) = reader.read(said::moves(word), whole::<u8>) {
        crop.usual_moves = moves;
    }
    if reader.is_typed(said::IN_OPEN_FLAT)
        && let Some(plants) = reader.read(said::IN_OPEN_FLAT, whole_or_none::<u16>)
    {
        crop.in_open_flat = plants.map(Sourced::own);
    }
    for curve in [Curve::Height, Curve::Spread] {
        points(reader, curve, &mut crop, unit);
    }
    crop
}

fn seed(reader: &mut Reader<'_>, crop: &mut Crop) {
    if any(reader, &said::GERMINATES) {
        germinates(reader, crop);
    }
    if let Some(seeds) = reader.read(said::SEEDS, whole_or_none::<u32>) {
        crop.seeds_per_gram = seeds;
    }
    reader.text(said::BEFORE).clone_into(&mut crop.before_sowing);
}

fn days(reader: &mut Reader<'_>, names: [&str; 3]) -> Option<DayRange> {
    let early = reader.read(names[0], whole::<u16>);
    let likely = reader.read(names[1], whole::<u16>);
    let late = reader.read(names[2], whole::<u16>);
    Some(DayRange { early: early?, likely: likely?, late: late? })
}

/// Weeks, or days where one of them is written as days: `16 d`.
fn latest(reader: &mut Reader<'_>, crop: &mut Crop) {
    let held = |text: &str| {
        let days = ["days", "day", "d"].iter().find_map(|ending| text.strip_suffix(ending));
        whole_or_none::<u8>(days.unwrap_or(text).trim()).map(|held| held.map(|held| (held, days.is_some())))
    };
    let read = said::LATEST.map(|name| reader.read(name, held));
    let in_days = read.iter().flatten().flatten().any(|(_, in_days)| *in_days);
    let mut all = [None; 6];
    for ((place, name), found) in all.iter_mut().zip(said::LATEST).zip(read) {
        *place = match found {
            None => return,
            Some(Some((weeks, false))) if in_days => match weeks.checked_mul(7) {
                Some(days) => Some(days),
                None => return reader.fault(name, said::TOO_LONG_IN_DAYS),
            },
            Some(found) => found.map(|(held, _)| held),
        };
    }
    let [small, medium, large, pot, litre, gallon] = all;
    crop.latest = Sourced::own(LatestWeeks { small, medium, large, pot, litre, gallon, in_days });
}

fn sale(reader: &mut Reader<'_>, crop: &mut Crop) {
    match said::SALE.map(|name| reader.read(name, whole_or_none::<u8>)) {
        [Some(Some(least)), Some(Some(most))] => crop.weeks_to_sale = Some(Sourced::own((least, most))),
        [Some(None), Some(None)] => crop.weeks_to_sale = None,
        [Some(None), Some(_)] => reader.fault(said::SALE[0], said::BOTH_OR_NEITHER),
        [Some(_), Some(None)] => reader.fault(said::SALE[1], said::BOTH_OR_NEITHER),
        _ => {}
    }
}

/// Least, best from and to, and greatest.
fn germination(crop: &Crop) -> [Option<Temperature>; 4] {
    let known = crop.germination_temperatures.as_ref().map(|figure| figure.value);
    known.map_or([None; 4], |of| [of.min, of.best_low, of.best_high, of.max])
}

fn germinates(reader: &mut Reader<'_>, crop: &mut Crop) {
    let before = germination(crop);
    let mut all = before;
    for ((degrees, name), before) in all.iter_mut().zip(said::GERMINATES).zip(before) {
        // what was not typed keeps its exact value, however it is shown
        if !reader.is_typed(name) {
            *degrees = before;
            continue;
        }
        let read = |text: &str| if text.is_empty() { Ok(None) } else { Temperature::parse(text).map(Some) };
        let Some(read) = reader.read(name, read) else { return };
        *degrees = read;
    }
    let [min, best_low, best_high, max] = all;
    let all = GerminationTemperatures { min, best_low, best_high, max };
    crop.germination_temperatures =
        (germination(crop) != [None; 4] || [min, best_low, best_high, max] != [None; 4]).then(|| Sourced::own(all));
}

fn frost(reader: &mut Reader<'_>, crop: &mut Crop) {
    let mut weeks = |name| {
        reader.read(name, |text| match text {
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
    let (earliest, latest) = (weeks(said::FROST[0]), weeks(said::FROST[1]));
    match (earliest, latest) {
        (Some(Some(earliest)), Some(Some(latest))) => {
            crop.planting_out_after_frost = Some(Sourced::own((earliest, latest)));
        }
        (Some(None), Some(None)) => crop.planting_out_after_frost = None,
        (Some(None), Some(_)) => reader.fault(said::FROST[0], said::BOTH_OR_NEITHER),
        (Some(_), Some(None)) => reader.fault(said::FROST[1], said::BOTH_OR_NEITHER),
        _ => {}
    }
}

fn points(reader: &mut Reader<'_>, curve: Curve, crop: &mut Crop, unit: LengthUnit) {
    let mut changed = curve.of(crop).value.clone();
    for (at, point) in changed.iter_mut().enumerate() {
        let [week, size] = curve.fields(at);
        if reader.is_typed(&week)
            && let Some(number) = reader.read(&week, number)
        {
            point.week = number;
        }
        if reader.is_typed(&size)
            && let Some(length) = reader.read(&size, |text| Length::parse(text, Some(unit)))
        {
            point.mm = length.to_mm();
        }
    }
    if changed != curve.of(crop).value {
        *curve.of_mut(crop) = Sourced::own(changed);
    }
}

/// A number written as any length is: `2,5`, `2.5`, `2 1/2`.
fn number(text: &str) -> Result<f64, Fault> {
    let refused = || Fault::from(said::no_weeks(text));
    if text.chars().any(char::is_alphabetic) || text.contains(['"', '\'']) {
        return Err(refused());
    }
    Length::parse(text, Some(LengthUnit::Millimetre)).map(Length::to_mm).map_err(|_why| refused())
}
