//! What a sowing would come to that is not in the season yet.

use crate::forecast::{self, Fill};
use crate::season::{Crop, Edit, EditLabel, Op, OutRule, Rule, Sowing};
use crate::trade::{Again, Amount, QuickLine};
use crate::units::shifted;
use crate::words::{self, sowings as said};

use crate::window::action::Action;
use crate::window::scene::Scene;

pub(super) fn would_mean(scene: &Scene<'_>, crop: &Crop, sowing: &Sowing) -> String {
    in_full_and_briefly(scene, crop, sowing).0
}

fn in_full_and_briefly(scene: &Scene<'_>, crop: &Crop, sowing: &Sowing) -> (String, String) {
    let with = forecast::with_one(scene.season, scene.library, sowing).without_past(scene.today);
    let (words, name) = (scene.words(), words::with_variety(&crop.name, &sowing.variety));
    (words.would_mean(&name, sowing, &with), words.would_mean_briefly(sowing, &with))
}

pub(super) fn added(sowing: &Sowing, crop: &Crop) -> Action {
    let label = EditLabel::AddSowing(crop.name.clone());
    Action::edit(Edit::new(label, vec![Op::PutSowing(sowing.clone())]))
}

/// What a line comes to: the sowings that it makes, the edit that adds them, and what is said of it.
pub(super) struct Meant {
    pub(super) first: Sowing,
    pub(super) edit: Edit,
    pub(super) said: String,
    /// The same in a few words.
    pub(super) brief: String,
}

/// # Errors
/// Says why there are no such sowings.
pub(super) fn meant_by(scene: &Scene<'_>, crop: &Crop, line: &QuickLine) -> Result<Meant, String> {
    let mut first = line.sowing(crop, scene.library).renumbered(scene.season.next_id());
    let (mut before, mut after) = (None, Vec::new());
    if let Amount::Trays(trays) = line.amount {
        let held = forecast::in_trays(scene.season, scene.library, &first, trays);
        let held = held.ok_or_else(|| said::NOT_BY_THE_TRAY.to_owned())?;
        if held.sure == 0 {
            return Err(said::NONE_WOULD_COME.to_owned());
        }
        first.wanted.iter_mut().for_each(|wanted| wanted.plants = held.sure);
        after.push(said::come_of_trays(held));
    }
    let (meant, brief) = in_full_and_briefly(scene, crop, &first);
    let label = EditLabel::AddSowing(crop.name.clone());
    let mut sowings = vec![first.clone()];
    if line.fills > 1 {
        let fills = forecast::fills(scene.season, scene.library, &first, line.fills);
        if fills.is_empty() {
            return Err(said::NONE_WOULD_COME.to_owned());
        }
        after.push(said::one_after_the_other(&fills, line.until));
        sowings = together(&crop.name, fills);
    } else if let Some(again) = line.again {
        sowings = repeated(&first, again);
        let outs: Vec<_> = sowings.iter().filter_map(Sowing::out).collect();
        before = Some((said::again(again, &outs), said::again_briefly(&outs)));
        let name = first.out().map(|out| said::repeated(&crop.name, out));
        for sowing in &mut sowings {
            sowing.series.clone_from(&name);
        }
        first = sowings.first().cloned().unwrap_or(first);
    } else if line.until.is_some() {
        let alone = forecast::fills(scene.season, scene.library, &first, 1);
        after.push(said::one_after_the_other(&alone, line.until));
    }
    let edit = Edit::new(label, sowings.into_iter().map(Op::PutSowing).collect());
    let (all_before, briefly_before) = before.unzip();
    let said = all_before.into_iter().chain([meant]).chain(after.clone()).collect::<Vec<_>>().join("; ");
    let brief = briefly_before.map_or(brief.clone(), |before| format!("{before} {brief}"));
    Ok(Meant { first, edit, said, brief: [brief].into_iter().chain(after).collect::<Vec<_>>().join("; ") })
}

/// The same again, each so many days later, with numbers of its own.
fn repeated(first: &Sowing, again: Again) -> Vec<Sowing> {
    let mut next = first.id.0;
    let one = |at: u16| {
        let mut copy = first.renumbered(next);
        let numbers = 1 + copy.steps.len() + copy.lots.len();
        next = next.saturating_add(u32::try_from(numbers).unwrap_or(u32::MAX));
        let days = i64::from(at) * i64::from(again.days_apart);
        for wanted in copy.wanted.iter_mut().filter(|_| at > 0) {
            (wanted.date, wanted.rule) = (shifted(wanted.date, days), OutRule::Day);
        }
        for step in &mut copy.steps {
            if let Rule::On(date) = step.start {
                step.start = Rule::On(shifted(date, days));
            }
        }
        copy
    };
    (0..again.times).map(one).collect()
}

/// Under one name; each can be moved by itself.
fn together(crop: &str, fills: Vec<Fill>) -> Vec<Sowing> {
    let name = fills.first().map(|fill| said::fills_of(crop, fill.sown));
    fills.into_iter().map(|fill| Sowing { series: name.clone(), ..fill.sowing }).collect()
}
