//! What a sowing would come to that is not in the season yet.

use crate::forecast;
use crate::season::{Crop, Edit, EditLabel, Op, Sowing};
use crate::words;

use crate::window::action::Action;
use crate::window::scene::Scene;

pub(super) fn would_mean(scene: &Scene<'_>, crop: &Crop, sowing: &Sowing) -> String {
    let with = forecast::with_one(scene.season, scene.library, sowing);
    scene.words().would_mean(&words::with_variety(&crop.name, &sowing.variety), sowing, &with)
}

pub(super) fn added(sowing: &Sowing, crop: &Crop) -> Action {
    let label = EditLabel::AddSowing(crop.name.clone());
    Action::edit(Edit::new(label, vec![Op::PutSowing(sowing.clone())]))
}
