//! What is looked at, and how.

use chrono::NaiveDate;
use egui::Context;

use crate::forecast::{About, Problem};
use crate::outlook::{day_to_see_to, is_same, without_lamp};
use crate::window::action::Go;
use crate::window::app::App;
use crate::window::notice::Notice;
use crate::window::space::Space;
use crate::window::state::{Fit, Page};
use crate::words::notices;

impl App {
    pub(super) fn perform_go(&mut self, to: Go, ctx: &Context) {
        let (open, view) = (&mut self.open, &mut self.view);
        match to {
            Go::Day(day) => open.show_day(day),
            Go::Along(in_view) => open.in_view = in_view,
            Go::FoldWeeks(folded) => view.strip_folded = Some(folded),
            Go::AlreadyHere => open.pages.sowings.add_here(),
            Go::Back => {
                let to = view.go_back();
                self.show_page(to);
            }
            Go::Pool(pool) => open.pool = pool,
            Go::Page(page) => self.show_page(page),
            Go::Crunch(at) => self.show_crunch(at),
            Go::Problem(at) => self.show_problem(at),
            Go::SeeTo(problem) => self.see_to(&problem),
            to @ (Go::Sowing(_)
            | Go::WriteSowing
            | Go::Records(_)
            | Go::WriteDown(_)
            | Go::Rack(_)
            | Go::Floor(_)
            | Go::Crop(_)
            | Go::HowMuch(_)) => self.look_at(to),
            Go::Space(space) => open.selection.look_at(space),
            Go::FromTheFront(front) => {
                open.board.from_the_front = front;
                open.board.fit_wanted = Some(Fit::Growing);
            }
            Go::Select(tray) => open.selection.choose_alone(tray),
            Go::ChooseToo(tray) => open.selection.toggle(tray),
            Go::Choose(trays) => open.selection.choose_these(trays),
            Go::Lead(tray) => open.selection.lead(tray),
            Go::Highlight(sowing) => open.selection.sowing = sowing,
            Go::Later(shown) => open.selection.later = shown,
            Go::Play(playing) => {
                open.shown.playing = playing;
                open.shown.next_step_at = ctx.input(|i| i.time);
            }
            Go::Fit(fit) => open.board.fit_wanted = Some(fit),
            Go::Units(units) => view.units = units,
            Go::Theme(theme) => {
                view.theme = Some(theme);
                ctx.set_theme(theme);
            }
            Go::Zoom(factor) => ctx.set_zoom_factor((factor * 10.0).round().clamp(5.0, 30.0) / 10.0),
            to @ (Go::Preview(_) | Go::WhatIf(_) | Go::TryOut(_)) => self.show_what_may_be(to, ctx),
            Go::LeavePreview => view.page = open.leave_preview().unwrap_or(view.page),
            Go::HideHint => view.hint_hidden = true,
            Go::Say(text) => open.notice = Some(Notice::said(text)),
            Go::Complain(text) => open.notice = Some(Notice::complaint(text)),
            Go::HideNotice => open.notice = None,
        }
    }

    /// A page with one thing on it chosen.
    fn look_at(&mut self, to: Go) {
        let (open, view) = (&mut self.open, &mut self.view);
        match to {
            Go::Sowing(sowing) => {
                open.pages.sowings.look_at(sowing);
                open.pages.plan.look_at(sowing);
            }
            Go::WriteSowing => {
                open.pages.plan.write();
                self.show_page(Page::Plan);
            }
            Go::Records(sowing) => {
                open.pages.records.look_at(sowing);
                view.page = Page::Records;
            }
            Go::WriteDown(job) => {
                if let Some(sowing) = open.history.season().sowing(job.sowing) {
                    open.pages.records.write_down(sowing, &job, &mut open.drafts);
                }
                view.page = Page::Records;
            }
            Go::Rack(rack) => {
                open.pages.places.look_at(Space::Rack(rack));
                view.page = Page::Places;
            }
            Go::Floor(place) => {
                open.pages.floor.look_at(place, None);
                view.page = Page::Floor;
            }
            Go::Crop(crop) => {
                open.pages.crops.look_at(crop);
                view.lead_to(Page::Crops);
            }
            Go::HowMuch(crop) => {
                open.pages.carries.look_at(crop);
                view.page = Page::Carries;
            }
            _ => {}
        }
    }

    fn show_what_may_be(&mut self, to: Go, ctx: &Context) {
        let open = &mut self.open;
        match to {
            Go::Preview(way) => {
                open.show_first(way);
                open.follow(self.library, ctx);
                if let Some(preview) = open.preview.as_mut() {
                    preview.derived.find(&preview.history, ctx);
                }
                self.view.page = Page::Shelves;
                return;
            }
            Go::WhatIf(what_if) => open.might_go(what_if, self.library),
            Go::TryOut(edit) => open.try_out(edit, self.library, ctx),
            _ => return,
        }
        open.follow(self.library, ctx);
    }

    /// What was said was said of the page before.
    pub(super) fn show_page(&mut self, page: Page) {
        if page != self.view.page {
            self.open.notice = None;
        }
        self.view.page = page;
    }

    fn show_crunch(&mut self, at: usize) {
        let outlook = self.open.looked_at().1.outlook.as_ref();
        let Some(crunch) = outlook.and_then(|outlook| outlook.crunches.get(at)).cloned() else { return };
        self.open.show_day(crunch.worst_day);
        self.open.shown.playing = false;
        if let Some(pool) = crunch.pools.first() {
            self.open.pool = pool.kind;
        }
        self.open.selection.marked = crunch.proof.iter().copied().collect();
        let words = self.words();
        self.open.notice = Some(Notice::said(notices::framed(&words.reason(&crunch))));
        self.view.page = Page::Shelves;
    }

    /// To its row among the work of its week; what is no work leads to where it can be changed.
    fn see_to(&mut self, problem: &Problem) {
        self.open.notice = None;
        if let Some(day) = day_to_see_to(problem, self.today) {
            self.open.show_day(day);
            self.open.pages.work.look_at(problem.clone());
            self.show_page(Page::Work);
            return;
        }
        let known = &self.open.looked_at().1.problems;
        match known.iter().position(|known| is_same(known, problem)) {
            Some(at) => self.show_problem(at),
            None => self.show_page(Page::WorthALook),
        }
    }

    fn show_problem(&mut self, at: usize) {
        let Some(problem) = self.open.looked_at().1.problems.get(at) else { return };
        let about = problem.about();
        let of_days = problem.is_of_days_away();
        let of_records = matches!(problem, Problem::TooFew { .. });
        let to_harden = matches!(problem, Problem::NowhereToHarden { .. });
        let words = self.words();
        self.open.notice = Some(Notice::said(words.problem(problem)));
        let day = match about {
            About::Tray(tray, None) => {
                self.open.looked_at().1.forecast.stays_of(tray).map(|stay| stay.span.from()).min()
            }
            About::Tray(_, day) | About::Shelf(_, day) => day,
            About::Place(_, day) | About::Lamps(day) | About::Away(_, day) => Some(day),
            About::Season | About::Sowing(_) | About::Floor(..) => None,
        };
        if let Some(day) = day {
            self.open.show_day(day);
            self.open.shown.playing = false;
        }
        if to_harden {
            self.open.pages.places.add_hardening(&mut self.open.drafts);
        }
        if let About::Lamps(day) = about {
            self.mark_beyond_lamps(day);
        }
        self.view.page = match about {
            _ if of_days => Page::Days,
            About::Sowing(sowing) if of_records => {
                self.open.pages.records.look_at(sowing);
                Page::Records
            }
            About::Season => Page::Start,
            About::Sowing(sowing) => {
                self.open.pages.sowings.look_at(sowing);
                self.open.pages.plan.look_at(sowing);
                Page::Plan
            }
            About::Tray(tray, _) => {
                self.open.selection.choose(Some(tray));
                Page::Shelves
            }
            About::Shelf(_, Some(_)) | About::Lamps(_) | About::Away(..) => Page::Shelves,
            About::Shelf(shelf, None) => {
                self.open.selection.look_at(Some(Space::Shelf(shelf)));
                Page::Shelves
            }
            About::Place(..) => Page::Places,
            About::Floor(place, rack) => {
                self.open.pages.floor.look_at(place, rack);
                Page::Floor
            }
        };
    }

    /// Frames the trays that want light and have none: beyond a lamp's good reach, or without a spot.
    fn mark_beyond_lamps(&mut self, day: NaiveDate) {
        self.open.selection.marked = without_lamp(self.open.history.season(), &self.open.derived.forecast, day);
        let framed = self.open.selection.marked.len();
        let said = match framed {
            0 => notices::IN_ORDER_BELOW_LAMPS.to_owned(),
            _ => notices::framed_beyond_lamps(framed),
        };
        if let Some(notice) = &mut self.open.notice {
            notice.text = format!("{}; {said}", notice.text);
        }
    }
}
