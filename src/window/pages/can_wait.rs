//! The page of what can't wait: every work that is still to be done, the one whose slip overflows first before the others,
//! each a click away from its sowing.

use egui::{Label, ProgressBar, RichText, Ui};

use crate::outlook::slack::{CanWait, End, Slack};
use crate::words::{self, can_wait as said};

use crate::window::action::{Action, Do, Go};
use crate::window::kit::{button_ui, middle_ui, part_title_ui, soft_ui, thing_ui, title_ui, wrapped_ui};
use crate::window::scene::Scene;
use crate::window::state::Page;
use crate::window::theme::{self, Palette};
use crate::window::waits::Waits;

/// At first, and as many more with each press.
const SHOWN: usize = 60;

#[derive(Default)]
pub(in crate::window) struct CanWaitPage {
    more: usize,
}

pub(in crate::window) fn can_wait_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    page: &mut CanWaitPage,
    actions: &mut Vec<Action>,
) {
    middle_ui(ui, "can_wait", |ui| {
        ui.set_max_width(ui.available_width().min(900.0));
        title_ui(ui, said::PAGE);
        soft_ui(ui, said::WHAT_IT_SAYS);
        let Some(waits) = scene.waits else {
            soft_ui(ui, words::ways_out::ONLY_SHOWN);
            return;
        };
        let Some(outlook) = scene.outlook.filter(|_| scene.outlook_is_fresh) else {
            soft_ui(ui, words::ways_out::NOT_YET);
            return;
        };
        if waits.whole.is_open(&scene.revision) {
            actions.push(Action::Do(Do::WorkOutWaits(None)));
        }
        let Some(found) = waits.whole.found(&scene.revision) else {
            looking_ui(ui, waits, actions);
            return;
        };
        if let Some(line) = said::as_planned(outlook.verdict) {
            soft_ui(ui, line);
        }
        found_ui(ui, scene, page, found, actions);
    });
}

fn looking_ui(ui: &mut Ui, waits: &Waits, actions: &mut Vec<Action>) {
    let whole = &waits.whole;
    if let Some(why) = &whole.failure {
        ui.add(Label::new(RichText::new(why).color(Palette::of(ui).trouble)).wrap());
    } else if whole.stopped {
        soft_ui(ui, said::STOPPED);
    } else {
        ui.horizontal(|ui| {
            let progress = whole.progress().unwrap_or(0.0);
            let bar = ProgressBar::new(progress).desired_width(360.0).text(said::looking(progress));
            ui.add(bar.fill(Palette::of(ui).plugs).animate(false));
            if button_ui(ui, words::weeks::STOP) {
                actions.push(Action::Do(Do::StopWaits));
            }
        });
        return;
    }
    if button_ui(ui, said::LOOK_AGAIN) {
        actions.push(Action::Do(Do::WorkOutWaits(None)));
    }
}

fn found_ui(ui: &mut Ui, scene: &Scene<'_>, page: &mut CanWaitPage, found: &CanWait, actions: &mut Vec<Action>) {
    let words = scene.words();
    ui.add_space(4.0);
    let first = words.first_to_overflow(found);
    match found.first() {
        Some(slack) => {
            let first = RichText::new(first).font(theme::strong(theme::PART_PT)).color(Palette::of(ui).trouble);
            to_sowing_ui(ui, first, slack, actions);
        }
        None => wrapped_ui(ui, &first),
    }
    let shown = SHOWN + page.more;
    let mut over = "";
    for slack in found.all.iter().skip(usize::from(found.first().is_some())).take(shown) {
        let heading = said::heading(&slack.end);
        if heading != over {
            over = heading;
            part_title_ui(ui, heading);
        }
        let text = RichText::new(words.slack(slack));
        let text = if matches!(slack.end, End::Short(_)) { text } else { text.color(Palette::of(ui).soft_ink) };
        to_sowing_ui(ui, text, slack, actions);
    }
    let more = found.all.len().saturating_sub(shown);
    if more > 0 && button_ui(ui, &words::weeks::more(more)) {
        page.more += SHOWN;
    }
}

fn to_sowing_ui(ui: &mut Ui, text: RichText, slack: &Slack, actions: &mut Vec<Action>) {
    if thing_ui(ui, text, None, said::TO_THE_SOWING) {
        actions.push(Action::Go(Go::Sowing(slack.sowing)));
        actions.push(Action::Go(Go::Page(Page::Sowings)));
    }
}
