use crate::season::{Container, ContainerKind, Pot, RimShape};
use crate::units::{Length, Measure, Volume};

/// The volume of a tapered pot to its brim, in ml: h/3 (A₁ + A₂ + √(A₁A₂)), with the areas of rim
/// and base (Euclid, Elements XII; any geometry text).
pub fn frustum_ml(rim: RimShape, top: Length, bottom: Length, height: Length) -> f64 {
    let (top, bottom, height) = (top.to_mm(), bottom.to_mm(), height.to_mm());
    let per_square = match rim {
        RimShape::Square => 1.0,
        RimShape::Round => std::f64::consts::FRAC_PI_4,
    };
    per_square * height / 3.0 * (top * top + bottom * bottom + top * bottom) / 1000.0
}

/// So much of a pot is filled: mix ends below the brim, to leave room for water (85 to 90 %, common practice,
/// no source; the middle is our choice).
const FILLED: f64 = 0.875;

/// What one cell or pot holds as it is filled: the stated volume, else its share of the brim's, stated or by
/// the frustum; `None` where nothing is known, and for open flats.
pub fn cell_volume(container: &Container) -> Option<Volume> {
    match &container.kind {
        ContainerKind::Plug(plug) => plug.cell_volume.as_ref().map(|volume| volume.value.value()),
        ContainerKind::Pot(pot) => pot_volume(pot, container),
        ContainerKind::Flat(_) | ContainerKind::Class { .. } => None,
    }
}

fn pot_volume(pot: &Pot, container: &Container) -> Option<Volume> {
    if let Some(volume) = &pot.volume {
        return Some(volume.value.value());
    }
    Volume::try_from_ml(brim_ml(pot, container.height.as_ref().map(Measure::value))? * FILLED)
}

/// To the brim, as stated, else by its shape.
fn brim_ml(pot: &Pot, height: Option<Length>) -> Option<f64> {
    if let Some(brim) = &pot.brim {
        return Some(brim.value.value().to_ml());
    }
    let top = pot.top.value.value();
    let bottom = pot.bottom.as_ref().map_or(top, |bottom| bottom.value.value());
    Some(frustum_ml(pot.rim, top, bottom, height?))
}

/// A pot that is small for what goes into it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SmallStep {
    /// Less than three times the old cell: moves again soon.
    MovesAgainSoon,
    /// No larger than the old cell.
    NoLarger,
}

/// Whether the new pot holds at least three times the old cell (common practice, no source). It
/// warns; it never forbids.
pub fn step_up(from: Volume, to: Volume) -> Option<SmallStep> {
    if to <= from {
        Some(SmallStep::NoLarger)
    } else if holds_enough(from, to) {
        None
    } else {
        Some(SmallStep::MovesAgainSoon)
    }
}

/// Whether `to` is at least three times `from`.
pub const fn holds_enough(from: Volume, to: Volume) -> bool {
    to.nanolitres() >= from.nanolitres().saturating_mul(3)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_trade_gallon_of_153_by_135_by_175_mm_holds_about_2_85_litres() {
        // measured pot, bulb-society measurement post, in the container table
        let ml = frustum_ml(RimShape::Round, Length::from_mm(153), Length::from_mm(135), Length::from_mm(175));
        assert!((ml - 2_854.0).abs() < 1.0, "{ml}");
    }

    #[test]
    fn a_round_pot_holds_78_5_per_cent_of_a_square_one() {
        let [round, square] = [RimShape::Round, RimShape::Square]
            .map(|rim| frustum_ml(rim, Length::from_mm(70), Length::from_mm(50), Length::from_mm(60)));
        assert!((round / square - std::f64::consts::FRAC_PI_4).abs() < 1e-4);
    }

    #[test]
    fn a_pot_is_filled_below_its_brim() {
        use crate::season::{ContainerKey, Sourced};
        use crate::units::Typed;
        let volume = |text: &str| Typed::parse_volume(text).ok().map(Sourced::own);
        let pot = |fill: Option<&str>, brim: Option<&str>| Container {
            key: ContainerKey::new("a"),
            name: "a".to_owned(),
            kind: ContainerKind::Pot(Pot {
                rim: RimShape::Square,
                top: Sourced::own(Measure::mm(100)),
                bottom: None,
                volume: fill.and_then(volume),
                brim: brim.and_then(volume),
                per_flat: None,
            }),
            height: Some(Measure::mm(100)),
            dome: None,
            note: String::new(),
        };
        // 0.875 of 800 ml, and of the litre of its shape
        for (fill, brim, ml) in
            [(Some("650 ml"), Some("800 ml"), 650.0), (None, Some("800 ml"), 700.0), (None, None, 875.0)]
        {
            let found = cell_volume(&pot(fill, brim)).map(Volume::to_ml).unwrap();
            assert!((found - ml).abs() < 0.01, "{fill:?} {brim:?}: {found}");
        }
    }

    #[test]
    fn three_times_the_volume_is_enough() {
        let ml = |ml| Volume::try_from_ml(ml).unwrap();
        assert_eq!(step_up(ml(43.0), ml(129.0)), None);
        assert_eq!(step_up(ml(43.0), ml(128.9)), Some(SmallStep::MovesAgainSoon));
        assert_eq!(step_up(ml(43.0), ml(23.0)), Some(SmallStep::NoLarger));
    }
}
