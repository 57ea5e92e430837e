//! The page of how much the room carries: of what, the answer in sentences, the figures of what one more would add.

use egui::{Label, RichText, Ui};

use crate::outlook::carries::{Carries, NotAsked, Of};
use crate::season::{Crop, CropKey};
use crate::words::{self, carries as said};

use crate::window::action::{Action, Do};
use crate::window::carried::Carried;
use crate::window::kit::{
    AskedWords, State, Wanted, asked_ui, button_ui, drop_down_ui, middle_ui, part_title_ui, row_ui, soft_ui, state_ui,
    stop_ui, title_ui, wrapped_ui,
};
use crate::window::scene::Scene;
use crate::window::theme;

const CHOICE_PT: f32 = 320.0;

#[derive(Default)]
pub(in crate::window) struct CarriesPage {
    /// The whole season where none is chosen.
    crop: Option<CropKey>,
}

impl CarriesPage {
    pub(in crate::window) fn look_at(&mut self, crop: CropKey) {
        self.crop = Some(crop);
    }
}

pub(in crate::window) fn carries_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    page: &mut CarriesPage,
    // without it the season is only shown as it would be
    carried: Option<&Carried>,
    actions: &mut Vec<Action>,
) {
    middle_ui(ui, "carries", |ui| {
        ui.set_max_width(ui.available_width().min(900.0));
        title_ui(ui, said::PAGE);
        soft_ui(ui, said::WHAT_IT_DOES);
        let Some(carried) = carried else {
            soft_ui(ui, words::ways_out::ONLY_SHOWN);
            return;
        };
        of_what_ui(ui, scene, page);
        ui.add_space(8.0);
        let of = page.crop.clone().map_or(Of::Season, Of::Crop);
        if carried.is_open(&of, scene.revision) {
            actions.push(Action::Do(Do::AskHowMuch(of)));
        } else {
            match carried.found(&of, scene.revision) {
                Some(Ok(found)) => found_ui(ui, scene, found, actions),
                Some(Err(why)) => not_asked_ui(ui, scene, *why),
                None => looking_ui(ui, carried, of, actions),
            }
        }
    });
}

/// The crops that the season grows come before the others.
fn of_what_ui(ui: &mut Ui, scene: &Scene<'_>, page: &mut CarriesPage) {
    let season = scene.season;
    page.crop = page.crop.take().filter(|key| season.crop(scene.library, key).is_some());
    let is_grown = |crop: &Crop| season.sowings().any(|sowing| sowing.crop == crop.key);
    let mut crops: Vec<(bool, &Crop)> = season.crops(scene.library).map(|crop| (!is_grown(crop), crop)).collect();
    crops.sort_by_key(|(other, crop)| (*other, &crop.name));
    let choices: Vec<(Option<usize>, &str)> = std::iter::once((None, said::WHOLE_SEASON))
        .chain(crops.iter().enumerate().map(|(at, (_, crop))| (Some(at), crop.name.as_str())))
        .collect();
    let now = crops.iter().position(|(_, crop)| page.crop.as_ref() == Some(&crop.key));
    row_ui(ui, said::OF_WHAT, |ui, _| {
        if let Some(chosen) = drop_down_ui(ui, said::OF_WHAT, CHOICE_PT, now, &choices) {
            page.crop = chosen.and_then(|at| crops.get(at)).map(|(_, crop)| crop.key.clone());
        }
    });
}

fn looking_ui(ui: &mut Ui, carried: &Carried, of: Of, actions: &mut Vec<Action>) {
    let words = AskedWords { stopped: said::STOPPED, looking: said::looking, again: said::ASK };
    let wanted = asked_ui(ui, &carried.asked, &words).map(|wanted| match wanted {
        Wanted::Stop => Do::StopAskingHowMuch,
        Wanted::Again => Do::AskHowMuch(of),
    });
    actions.extend(wanted.map(Action::Do));
}

fn not_asked_ui(ui: &mut Ui, scene: &Scene<'_>, why: NotAsked) {
    state_ui(ui, State::NothingSown, &said::not_asked(why, &scene.words().crops_grown()));
}

fn found_ui(ui: &mut Ui, scene: &Scene<'_>, found: &Carries, actions: &mut Vec<Action>) {
    let words = scene.words();
    for (at, sentence) in words.carries(found).iter().enumerate() {
        if at == 0 {
            ui.add(Label::new(RichText::new(sentence).font(theme::strong(theme::HEAD_PT))).wrap());
        } else {
            wrapped_ui(ui, sentence);
        }
    }
    if let Some(many) = &found.most.too_many {
        soft_ui(ui, &words.why_no_more(many));
    }
    if let Some(edit) = &found.edit
        && button_ui(ui, said::TAKE_IT)
    {
        actions.push(Action::edit(edit.clone()));
    }
    part_title_ui(ui, said::WHAT_ONE_MORE_BUYS);
    if found.more.is_empty() {
        soft_ui(ui, said::NOTHING_MORE);
    }
    stop_ui(ui, "one_more", said::WHAT_ONE_MORE_BUYS, |ui, stop| {
        for more in &found.more {
            let sentence = words.one_more(found, more);
            ui.add_space(4.0);
            wrapped_ui(ui, &sentence);
            let name = words::ways_out::named(words::ways_out::DO_IT, &sentence);
            if stop.small_button_ui(ui, words::ways_out::DO_IT, &name) {
                actions.push(Action::edit(more.edit.clone()));
            }
        }
    });
}
