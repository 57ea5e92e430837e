//! What is done to the season, and the work on it.

use std::sync::Arc;

use egui::Context;

use crate::fit::Memory;
use crate::outlook::ways_out::{self, Found, Standing};
use crate::outlook::{Settled, arrange, arrangement, free_spot, otherwise, put};
use crate::season::{Edit, EditError, EditLabel, History, Op, Settings, SowingId, TrayKey};
use crate::window::action::{Action, Do, Go};
use crate::window::app::App;
use crate::window::notice::Notice;
use crate::window::open::Open;
use crate::window::ways::Shown;
use crate::words::{self, notices};

impl App {
    pub(super) fn perform_do(&mut self, asked: Do, ctx: &Context) {
        if self.open.preview.is_some() && asked.changes_the_season() {
            self.open.notice = Some(Notice::complaint(words::ways_out::ONLY_SHOWN.to_owned()));
            return;
        }
        match asked {
            Do::Edit(edit) => {
                self.open.notice = None;
                self.await_change(Some(&edit));
                let (before, about_ways) = (self.open.history.revision(), self.is_only_about_ways(&edit));
                if let Err(why) = self.open.history.commit(&edit) {
                    self.refused(&why);
                } else if about_ways {
                    let (now, settings) = (self.open.history.revision(), self.open.history.season().settings());
                    let still = |found: &Found| found.without(&settings.unwanted).weighed(settings.matters);
                    self.open.ways.carry(&before, now, still);
                }
                self.changed(ctx);
            }
            Do::Nudge(edit) => self.nudge(&edit, ctx),
            Do::Undo => self.step(History::undo, ctx),
            Do::Redo => self.step(History::redo, ctx),
            Do::CopyTrays => self.copy_trays(ctx),
            Do::PasteTrays => self.paste_trays(ctx),
            Do::TakeWay(edit) => self.take_way(edit, ctx),
            Do::FindSpots => self.open.derived.find(&self.open.history, ctx),
            Do::FindSpotFor(tray) => self.find_spot_for(tray, ctx),
            Do::StopWork => self.open.derived.stop(),
            Do::LookForWays => self.look_for_ways(ctx),
            Do::StopLookingForWays => self.open.ways.stop(),
            Do::CompareWhatIfs => self.compare_what_ifs(ctx),
            Do::WorkOutWaits(sowing) => self.work_out_waits(sowing, ctx),
            Do::StopWaits => self.open.waits.whole.stop(),
            Do::AskHowMuch(of) => {
                let Open { carried, history, derived, .. } = &mut self.open;
                carried.ask(of, history, (derived, self.library), ctx);
            }
            Do::StopAskingHowMuch => self.open.carried.asked.stop(),
            Do::TakePreview => {
                let (held, shown) = (self.open.trying.take(), self.open.preview.take());
                let is_way = shown.as_ref().is_some_and(|preview| matches!(preview.shown, Shown::Way(_)));
                let (edit, shown) = shown.map(|shown| (shown.edit, shown.derived)).unzip();
                match held.or(edit) {
                    Some(edit) if is_way => self.take_way(edit, ctx),
                    Some(edit) => self.perform_do(Do::Edit(edit), ctx),
                    None => {}
                }
                if let Some(shown) = shown {
                    self.open.derived.take_answer(shown);
                }
            }
            Do::WorkItOut => {
                self.open.derived.restart();
                self.open.derived.follow(&self.open.history, self.library, ctx);
            }
        }
    }

    /// Back, or on again.
    fn step(&mut self, step: impl FnOnce(&mut History) -> bool, ctx: &Context) {
        self.await_change(None);
        if step(&mut self.open.history) {
            self.open.notice = None;
            self.changed(ctx);
        }
    }

    /// Whether it only refuses ways out, or says what matters: what was found still counts.
    fn is_only_about_ways(&self, edit: &Edit) -> bool {
        let settings = self.open.history.season().settings();
        edit.ops.iter().all(|op| match op {
            Op::SetSettings(next) => {
                let (unwanted, matters) = (settings.unwanted.clone(), settings.matters);
                *settings == Settings { matters, unwanted, ..next.clone() }
                    && next.unwanted.len() >= settings.unwanted.len()
            }
            _ => false,
        })
    }

    /// Keys pressed one after the other are one step of undo; a pause or any other edit ends it.
    fn nudge(&mut self, edit: &Edit, ctx: &Context) {
        const PAUSE_S: f64 = 1.0;
        let now = ctx.input(|i| i.time);
        let same = |label: Option<&EditLabel>| label == Some(&edit.label);
        let goes_on = self.open.nudged.is_some_and(|(at, revision)| {
            now - at <= PAUSE_S && revision == self.open.history.revision() && same(self.open.history.undo_label())
        });
        self.await_change(None);
        let done = if goes_on { self.open.history.add_to_last(edit) } else { self.open.history.commit(edit) };
        self.open.notice = None;
        if let Err(why) = done {
            self.refused(&why);
        }
        self.open.nudged = Some((now, self.open.history.revision()));
        self.changed(ctx);
    }

    fn look_for_ways(&mut self, ctx: &Context) {
        let open = &mut self.open;
        let Some(outlook) = open.derived.outlook.clone().filter(|_| open.derived.is_fresh()) else { return };
        let (season, library, forecast) =
            (open.history.season().clone(), self.library, Arc::clone(&open.derived.forecast));
        let (about, today) = (("make_room", outlook.problem), Some(self.today));
        open.ways.ask(open.history.revision(), about, ctx, move |progress, cancel| {
            let of = Standing { season: &season, library, forecast: &forecast, outlook: &outlook, today };
            ways_out::find(&of, &mut Memory::default(), progress, cancel)
        });
    }

    fn compare_what_ifs(&mut self, ctx: &Context) {
        let open = &mut self.open;
        let Some(outlook) = open.derived.outlook.clone().filter(|_| open.derived.is_fresh()) else { return };
        let (season, library, forecast) =
            (open.history.season().clone(), self.library, Arc::clone(&open.derived.forecast));
        let (about, today) = (("what_ifs", outlook.problem), Some(self.today));
        open.what_ifs.ask(open.history.revision(), about, ctx, move |progress, cancel| {
            let (mut memory, kept) = (Memory::default(), &season.settings().what_ifs);
            let one = |(at, what_if)| {
                progress.set(at, kept.len());
                otherwise((&season, library, today), (&forecast, &outlook), what_if, &mut memory, cancel)
            };
            kept.iter().enumerate().map(one).collect()
        });
    }

    fn work_out_waits(&mut self, sowing: Option<SowingId>, ctx: &Context) {
        let open = &mut self.open;
        if let Some(outlook) = open.derived.outlook.as_ref().filter(|_| open.derived.is_fresh()) {
            open.waits.ask(sowing, &open.history, self.library, (&open.derived.forecast, outlook), ctx);
        }
    }

    fn refused(&mut self, why: &EditError) {
        self.open.notice = Some(Notice::complaint(notices::not_done(words::refusal(why))));
    }

    /// What is derived follows at once, so that the next frame draws one truth.
    pub(in crate::window) fn changed(&mut self, ctx: &Context) {
        self.open.changed(self.library, ctx);
        self.files.season_changed(self.open.history.season(), self.open.history.revision());
    }

    /// The layout that "Find spots" waits for, as soon as it is there.
    pub(in crate::window) fn take_found(&mut self, ctx: &Context) {
        if let Some(preview) = &mut self.open.preview {
            preview.settle(self.library, ctx);
        }
        let Some((found, left)) = self.open.derived.take_found() else { return };
        if self.open.preview.is_some() {
            self.open.notice = Some(Notice::complaint(words::ways_out::ONLY_SHOWN.to_owned()));
            return;
        }
        let before = self.open.history.season().clone();
        // of a way out that was taken it is a part
        let of_a_way = self.open.way_taken.take() == Some(self.open.history.revision());
        let history = &mut self.open.history;
        if let Err(why) = if of_a_way { history.add_to_last(&found) } else { history.commit(&found) } {
            self.refused(&why);
            return;
        }
        let settled = Settled::between(&before, history.season(), &self.open.derived.forecast);
        self.changed(ctx);
        self.open.notice = Some(match (left.is_empty(), of_a_way) {
            (true, true) => Notice::said(notices::WAY_TAKEN.to_owned()),
            (true, false) => Notice::said(notices::all_have_a_spot(settled)),
            (false, _) => Notice::short_of_room(self.scene().words().some_have_a_spot(&left, settled)),
        });
    }

    /// Its trays stand as it wants them as soon as it is known where, in one step with it.
    fn take_way(&mut self, edit: Edit, ctx: &Context) {
        let before = self.open.history.revision();
        self.perform_do(Do::Edit(edit), ctx);
        if self.open.history.revision() != before {
            self.open.way_taken = Some(self.open.history.revision());
            // the grower has read what it does
            self.open.awaited = None;
            self.open.derived.find(&self.open.history, ctx);
        }
    }

    fn copy_trays(&mut self, ctx: &Context) {
        let scene = self.scene();
        let chosen = scene.chosen();
        if chosen.is_empty() {
            return;
        }
        let (copied, table) = (arrangement(&chosen), scene.words().as_table(&chosen));
        let said = notices::copied(chosen.len());
        self.open.notice = Some(Notice::said(said));
        self.open.board.copied = copied;
        ctx.copy_text(table);
    }

    fn paste_trays(&mut self, ctx: &Context) {
        let scene = self.scene();
        let action = match arrange(&scene.on_day(), &self.open.board.copied, self.open.board.shelf) {
            Ok(edit) => Action::edit(edit),
            Err(why) => Action::Go(Go::Complain(scene.words().not_arranged(&why))),
        };
        self.perform(action, ctx);
    }

    fn find_spot_for(&mut self, tray: TrayKey, ctx: &Context) {
        let scene = self.scene();
        let at = scene.on_day();
        let Some(stay) = at.stay_of(tray) else { return };
        let action = match free_spot(&at, stay, None) {
            Some(spot) => Action::edit(put(&at, stay, spot, false)),
            None => Action::Go(Go::Complain(notices::no_free_spot(&scene.mark(stay)))),
        };
        self.perform(action, ctx);
    }

    /// From a field, or on a page that does not show what changed, a step is not taken back in silence.
    pub(in crate::window) fn step_named(&mut self, step: Do, ctx: &Context) {
        let words = self.words();
        let said = if matches!(step, Do::Undo) {
            self.open.history.undo_label().map(|label| notices::taken_back(&words.edit(label)))
        } else {
            self.open.history.redo_label().map(|label| notices::done_again(&words.edit(label)))
        };
        if let Some(said) = said {
            self.perform_do(step, ctx);
            self.open.notice = Some(Notice::said(said));
        }
    }
}
