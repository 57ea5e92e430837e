//! What stands where there is nothing to show: a picture, below it the sentence that says so, and the one thing to do next.
//! A screen reader hears the sentence alone.

use egui::{Button, Label, ProgressBar, RichText, Ui, Vec2, vec2};

use crate::window::asked::Asked;
use crate::window::pictures::{Picture, picture_into};
use crate::window::theme::Palette;
use crate::words::weeks;

use super::choice::button_ui;
use super::row::{reason_ui, soft_ui};

const PICTURE_PT: f32 = 56.0;
/// In a window with little height.
const LOW_PICTURE_PT: f32 = 48.0;
const LOW_PT: f32 = 560.0;

#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::window) enum State {
    /// Nothing is there yet.
    Empty,
    NothingSown,
    /// Nothing has to be done.
    InOrder,
    /// As far as it is, where somebody knows.
    Working(Option<f32>),
    /// All was tried, and nothing was found.
    NoneFound,
    /// Nothing came of it, as the grower wanted.
    Stopped,
    /// Nothing came of it.
    Failed,
}

impl State {
    pub(in crate::window) const fn picture(self) -> Picture {
        match self {
            Self::Empty => Picture::EmptyShelf,
            Self::NothingSown => Picture::EmptyTray,
            Self::InOrder => Picture::InTheSun,
            Self::Working(progress) => Picture::ComingUp(progress),
            Self::NoneFound | Self::Stopped | Self::Failed => Picture::Wilted,
        }
    }
}

/// Its picture alone.
pub(in crate::window) fn picture_ui(ui: &mut Ui, state: State) {
    let is_low = ui.ctx().content_rect().height() < LOW_PT;
    let side = if is_low { LOW_PICTURE_PT } else { PICTURE_PT };
    // space, and no widget: nobody is to hear of it
    let (_, rect) = ui.allocate_space(Vec2::splat(side));
    picture_into(ui.painter(), rect, state.picture(), Palette::of(ui));
}

pub(in crate::window) fn state_ui(ui: &mut Ui, state: State, said: &str) {
    ui.add_space(4.0);
    picture_ui(ui, state);
    if state == State::Failed {
        reason_ui(ui, said);
    } else {
        soft_ui(ui, said);
    }
}

/// The same with what can be done next; whether that was asked for.
pub(in crate::window) fn state_next_ui(ui: &mut Ui, state: State, said: &str, next: &str) -> bool {
    state_ui(ui, state, said);
    ui.add_space(4.0);
    button_ui(ui, next)
}

/// The same in the middle of all the room that there is.
pub(in crate::window) fn state_in_the_middle_ui(ui: &mut Ui, state: State, said: &str, next: Option<&str>) -> bool {
    const HEIGHT_PT: f32 = 130.0;
    ui.vertical_centered(|ui| {
        ui.add_space(((ui.available_height() - HEIGHT_PT) / 2.0).max(0.0));
        picture_ui(ui, state);
        ui.add(Label::new(RichText::new(said).color(Palette::of(ui).ink)).wrap());
        ui.add_space(4.0);
        next.is_some_and(|next| ui.add(Button::new(next).min_size(vec2(180.0, 32.0))).clicked())
    })
    .inner
}

/// What is said of work that somebody asked for.
pub(in crate::window) struct AskedWords<'a> {
    pub(in crate::window) stopped: &'a str,
    pub(in crate::window) looking: fn(f32) -> String,
    pub(in crate::window) again: &'a str,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::window) enum Wanted {
    Stop,
    Again,
}

/// In place of an answer that is not there: how far it is, or why there is none.
pub(in crate::window) fn asked_ui<K: PartialEq, T: Send + 'static>(
    ui: &mut Ui,
    asked: &Asked<K, T>,
    words: &AskedWords<'_>,
) -> Option<Wanted> {
    match &asked.failure {
        Some(why) => state_ui(ui, State::Failed, why),
        None if asked.stopped => state_ui(ui, State::Stopped, words.stopped),
        None => {
            let progress = asked.progress().unwrap_or(0.0);
            ui.add_space(4.0);
            picture_ui(ui, State::Working(Some(progress)));
            let stop = ui.horizontal(|ui| {
                let bar = ProgressBar::new(progress).desired_width(300.0).text((words.looking)(progress));
                ui.add(bar.fill(Palette::of(ui).plugs).animate(false));
                button_ui(ui, weeks::STOP)
            });
            return stop.inner.then_some(Wanted::Stop);
        }
    }
    button_ui(ui, words.again).then_some(Wanted::Again)
}
