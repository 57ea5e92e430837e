//! The page of what can't wait: every work that is still to be done, the one whose slip overflows first before the others,
//! each a click away from its sowing.

use egui::{RichText, Ui};

use crate::outlook::slack::{CanWait, End, Slack};
use crate::words::{self, can_wait as said};

use crate::window::action::{Action, Do, Go};
use crate::window::kit::{
    AskedWords, Named, State, Stop, Wanted, asked_ui, button, middle_ui, part_title_ui, soft_ui, state_ui, stop_ui,
    thing_ui, title_ui,
};
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
            state_ui(ui, State::Working(None), words::ways_out::NOT_YET);
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
        stop_ui(ui, "can_wait", said::PAGE, |ui, stop| found_ui(ui, stop, (scene, found), page, actions));
    });
}

fn looking_ui(ui: &mut Ui, waits: &Waits, actions: &mut Vec<Action>) {
    let words = AskedWords { stopped: said::STOPPED, looking: said::looking, again: said::LOOK_AGAIN };
    let wanted = asked_ui(ui, &waits.whole, &words).map(|wanted| match wanted {
        Wanted::Stop => Do::StopWaits,
        Wanted::Again => Do::WorkOutWaits(None),
    });
    actions.extend(wanted.map(Action::Do));
}

fn found_ui(
    ui: &mut Ui,
    stop: &mut Stop,
    (scene, found): (&Scene<'_>, &CanWait),
    page: &mut CanWaitPage,
    actions: &mut Vec<Action>,
) {
    let words = scene.words();
    ui.add_space(4.0);
    let first = words.first_to_overflow(found);
    match found.first() {
        Some(slack) => {
            let first = RichText::new(first).font(theme::strong(theme::PART_PT)).color(Palette::of(ui).trouble);
            to_sowing_ui(ui, stop, first, slack, actions);
        }
        None => state_ui(ui, State::InOrder, &first),
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
        to_sowing_ui(ui, stop, text, slack, actions);
    }
    let more = found.all.len().saturating_sub(shown);
    let text = words::weeks::more(more);
    if more > 0 && stop.row_ui(ui, button(&text), Named::new(&text)) {
        page.more += SHOWN;
    }
}

fn to_sowing_ui(ui: &mut Ui, stop: &mut Stop, text: RichText, slack: &Slack, actions: &mut Vec<Action>) {
    if thing_ui(ui, stop, text, None, said::TO_THE_SOWING) {
        actions.push(Action::Go(Go::Sowing(slack.sowing)));
        actions.push(Action::Go(Go::Page(Page::Sowings)));
    }
}
