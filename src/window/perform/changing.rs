//! What an edit changed, said once in the line for notices, as soon as it is worked out.

use crate::season::Edit;
use crate::window::app::App;
use crate::window::changed::{Awaited, known};
use crate::window::notice::Notice;
use crate::words::{Told, notices};

impl App {
    /// Before an edit is made, or a step is taken back.
    pub(super) fn await_change(&mut self, edit: Option<&Edit>) {
        let done = edit.and_then(|edit| self.words().done(edit));
        let open = &mut self.open;
        open.awaited = Awaited::of(open.awaited.take(), &open.derived, done, open.history.revision());
    }

    /// What was done at once, the rest behind it.
    pub(in crate::window) fn say_what_changed(&mut self) {
        let open = &mut self.open;
        let revision = open.history.revision();
        if open.awaited.as_ref().is_some_and(|awaited| !awaited.is_made(revision)) {
            open.awaited = None;
        }
        let Some(awaited) = open.awaited.as_mut().filter(|_| open.preview.is_none()) else { return };
        let Some(after) = known(&open.derived) else {
            let is_said = std::mem::replace(&mut awaited.is_said, true);
            if let (Some(done), None) = (awaited.done.clone().filter(|_| !is_said), &open.notice) {
                open.notice = Some(Notice::said(done));
            }
            return;
        };
        let Some(awaited) = open.awaited.take() else { return };
        let (changed, is_told) = awaited.changed(&after, self.today);
        open.brought = changed.brings().cloned().collect();
        if !is_told {
            return;
        }
        let see_to = open.brought.first().cloned();
        let Told { short, whole } = self.words().changed(awaited.done.as_deref(), &changed);
        match &mut self.open.notice {
            Some(notice) if notice.complains => {}
            Some(notice) if Some(&notice.text) != awaited.done.as_ref() => {
                notice.short = Some(notices::and_then(&notice.text, &short));
                (notice.text, notice.see_to) = (notices::and_then(&notice.text, &whole), see_to);
            }
            notice => *notice = Some(Notice { see_to, short: Some(short), ..Notice::said(whole) }),
        }
    }
}
