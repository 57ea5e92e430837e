//! What the window knows beside the document.
//!
//! [`ViewState`] is kept between starts; selection and gestures are gone when done. None of it is
//! in a season file, and none of it can be undone.

use std::collections::BTreeSet;

use chrono::NaiveDate;
use egui::emath::TSTransform;
use serde::{Deserialize, Serialize};

use crate::outlook::{Arranged, Becomes, PlacedId};
use crate::season::{ShelfId, SowingId, TrayKey};
use crate::units::LengthUnit;

use super::space::Space;

/// The list of all pages is made with them: none can be missing from it.
macro_rules! pages {
    ($($(#[$about:meta])* $page:ident),*) => {
        #[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
        pub(super) enum Page {
            $($(#[$about])* $page),*
        }

        impl Page {
            /// In the order of the bar and the menu.
            pub(super) const ALL: &[Self] = &[$(Self::$page),*];
        }
    };
}

pages! {
    #[default]
    Shelves,
    Plan,
    Work,
    Supplies,
    Crops,
    Containers,
    Start,
    Places,
    Floor,
    Sowings,
    Guests,
    Frost,
    Days,
    Records,
    SowingTable,
    NextYear,
    WorthALook,
    MakeRoom,
    WhatIf,
    CanWait,
    Carries
}

/// The rooms in the order of the work, each a tab; all other pages open over one of them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Room {
    Shelves,
    Plan,
    Work,
    Supplies,
    Library,
}

impl Room {
    pub(super) const ALL: [Self; 5] = [Self::Shelves, Self::Plan, Self::Work, Self::Supplies, Self::Library];

    /// What its tab leads to.
    pub(super) const fn page(self) -> Page {
        match self {
            Self::Shelves => Page::Shelves,
            Self::Plan => Page::Plan,
            Self::Work => Page::Work,
            Self::Supplies => Page::Supplies,
            Self::Library => Page::Crops,
        }
    }
}

impl Page {
    /// The room that it is; `None` of a page that opens over one.
    pub(super) const fn room(self) -> Option<Room> {
        Some(match self {
            Self::Shelves => Room::Shelves,
            Self::Plan => Room::Plan,
            Self::Work => Room::Work,
            Self::Supplies => Room::Supplies,
            Self::Crops | Self::Containers => Room::Library,
            _ => return None,
        })
    }
}

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub(super) enum UnitsShown {
    #[default]
    AsTheSeason,
    Millimetres,
    Inches,
}

impl UnitsShown {
    /// `of_season` is the unit that the season was measured in.
    pub(super) const fn length_unit(self, of_season: LengthUnit) -> LengthUnit {
        match self {
            Self::AsTheSeason if of_season.is_of_inches() => LengthUnit::Inch,
            Self::AsTheSeason | Self::Millimetres => LengthUnit::Millimetre,
            Self::Inches => LengthUnit::Inch,
        }
    }
}

/// Kept in eframe's storage.
#[derive(Clone, Debug, Default, Serialize, Deserialize)]
#[serde(default)]
pub(super) struct ViewState {
    pub(super) page: Page,
    /// The room that was shown last: what a page that opens over it lies over.
    pub(super) under: Page,
    /// The pages over that room that led to the one that is shown.
    #[serde(skip)]
    pub(super) trail: Vec<Page>,
    /// Where a link led to the room that is shown from: what back leads to there.
    #[serde(skip)]
    pub(super) led_from: Option<LedFrom>,
    /// Whether the week strip is one line; as the window has room where nothing was said.
    pub(super) strip_folded: Option<bool>,
    pub(super) units: UnitsShown,
    pub(super) theme: Option<egui::ThemePreference>,
    pub(super) hint_hidden: bool,
    /// Where the last file was, so that the next dialog opens there.
    #[serde(with = "super::kept_paths::one")]
    pub(super) last_folder: Option<std::path::PathBuf>,
    /// Files used last, newest first.
    #[serde(with = "super::kept_paths")]
    pub(super) recent: Vec<std::path::PathBuf>,
    /// What the season in each is called, by its path in text.
    pub(super) recent_names: std::collections::BTreeMap<String, String>,
    /// The season that was open last, where it was in a file.
    #[serde(with = "super::kept_paths::one")]
    pub(super) left: Option<std::path::PathBuf>,
    /// The day that it showed, counted from the first of our era.
    pub(super) left_on: i32,
    /// How large letters are on each screen it was set on; see `screens`.
    pub(super) zooms: std::collections::BTreeMap<String, f32>,
}

/// A page, with what it lay over.
#[derive(Clone, Debug)]
pub(super) struct LedFrom {
    page: Page,
    under: Page,
    trail: Vec<Page>,
}

/// What is looked at; dropped when it is gone from the season.
#[derive(Clone, Debug, Default)]
pub(super) struct Selection {
    pub(super) tray: Option<TrayKey>,
    /// Chosen beside it, to be moved together.
    pub(super) more: BTreeSet<TrayKey>,
    /// Stands out through the season; everything else is drawn faint.
    pub(super) sowing: Option<SowingId>,
    /// What the selected tray becomes is shown on the shelves.
    pub(super) later: bool,
    /// The trays that prove the crunch last asked about.
    pub(super) marked: BTreeSet<TrayKey>,
    /// A shelf, a rack or a place, where no tray is looked at.
    pub(super) space: Option<Space>,
}

impl ViewState {
    /// Where the page that is shown leads back to: the one it was opened from, in the end the room.
    pub(super) fn back(&self) -> Page {
        let led_from = self.led_from.as_ref().map(|led| led.page);
        led_from.or_else(|| self.trail.last().copied()).unwrap_or(self.under)
    }

    /// Whether it leads back anywhere.
    pub(super) const fn leads_back(&self) -> bool {
        self.page.room().is_none() || self.led_from.is_some()
    }

    /// To a room, by a link; back leads to where that was.
    pub(super) fn lead_to(&mut self, room: Page) {
        if self.page != room {
            let trail = std::mem::take(&mut self.trail);
            self.led_from = Some(LedFrom { page: self.page, under: self.under, trail });
            self.page = room;
        }
    }

    /// The page to be shown; what it lay over it lies over again.
    pub(super) fn go_back(&mut self) -> Page {
        let back = self.back();
        if let Some(led) = self.led_from.take() {
            (self.under, self.trail) = (led.under, led.trail);
        }
        back
    }

    /// Remembers the way to the page that is shown, from the one that was shown before.
    pub(super) fn came_from(&mut self, before: Page) {
        if self.page == before {
            return;
        }
        if self.led_from.as_ref().is_some_and(|led| led.page != before) {
            self.led_from = None;
        }
        if self.page.room().is_some() {
            self.under = self.page;
            self.trail.clear();
        } else if let Some(at) = self.trail.iter().position(|page| *page == self.page) {
            self.trail.truncate(at);
        } else if before.room().is_none() {
            self.trail.push(before);
        }
    }

    /// As it may be shown: what was kept may have been damaged since.
    pub(super) fn mended(mut self) -> Self {
        self.zooms.retain(|_, zoom| super::screens::is_a_zoom(*zoom));
        self
    }
}

impl Selection {
    pub(super) fn holds(&self, tray: TrayKey) -> bool {
        self.tray == Some(tray) || self.more.contains(&tray)
    }

    pub(super) fn several(&self) -> bool {
        self.tray.is_some() && !self.more.is_empty()
    }

    /// That one alone.
    pub(super) fn choose(&mut self, tray: Option<TrayKey>) {
        self.space = None;
        self.tray = tray;
        self.more.clear();
    }

    pub(super) fn look_at(&mut self, space: Option<Space>) {
        self.choose(None);
        self.space = space;
    }

    /// These, and the first is looked at.
    pub(super) fn choose_these(&mut self, trays: Vec<TrayKey>) {
        self.choose(trays.first().copied());
        self.more = trays.into_iter().skip(1).collect();
    }

    /// The same; what is marked is not, where none is chosen.
    pub(super) fn choose_alone(&mut self, tray: Option<TrayKey>) {
        self.choose(tray);
        if tray.is_none() {
            self.marked.clear();
        }
    }

    /// One more, or one less; the last one named is looked at.
    pub(super) fn toggle(&mut self, tray: TrayKey) {
        self.space = None;
        if self.more.remove(&tray) {
            return;
        }
        match self.tray {
            Some(looked_at) if looked_at == tray => self.tray = self.more.pop_last(),
            Some(looked_at) => {
                self.more.insert(looked_at);
                self.tray = Some(tray);
            }
            None => self.tray = Some(tray),
        }
    }

    /// Takes another of those chosen in hand.
    pub(super) fn lead(&mut self, tray: TrayKey) {
        if self.more.remove(&tray) {
            self.more.extend(self.tray.replace(tray));
        }
    }

    pub(super) fn keep(&mut self, there: impl Fn(&TrayKey) -> bool) {
        self.tray = self.tray.filter(&there);
        self.more.retain(&there);
        if self.tray.is_none() {
            self.tray = self.more.pop_last();
        }
    }
}

/// What the hand is doing; the document hears of it only when it is done.
#[derive(Clone, Debug, Default)]
pub(super) enum Gesture {
    #[default]
    None,
    InHand(InHand),
}

/// A tray in the hand.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct InHand {
    pub(super) id: PlacedId,
    /// Where it is held, from its corner as it lies in the hand, in millimetres.
    pub(super) grab_mm: egui::Vec2,
    pub(super) quarter_turns: u8,
}

/// A lamp or a heat mat in the hand.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct ZoneInHand {
    pub(super) shelf: ShelfId,
    /// Among the zones of its shelf.
    pub(super) at: usize,
    pub(super) resizes: bool,
    /// Since it was taken, on the screen.
    pub(super) moved: egui::Vec2,
}

/// What is to be brought into view.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Fit {
    /// Where plants grow on, as large as it goes.
    Growing,
    All,
}

/// How the board is seen.
#[derive(Clone, Debug)]
pub(super) struct BoardView {
    /// Points on the screen from millimetres on the board; `None` until the first fit.
    pub(super) screen_from_board: Option<TSTransform>,
    pub(super) fit_wanted: Option<Fit>,
    /// What was brought into view last, in a pane of that size, and how; seen so until a hand moves it.
    pub(super) fitted: Option<(Fit, egui::Vec2, TSTransform)>,
    /// Where the shelves are drawn, and where those without a spot wait, on the screen.
    pub(super) pane: egui::Rect,
    pub(super) waiting: egui::Rect,
    /// Of the racks when they were last drawn, on the board.
    pub(super) bounds: Option<egui::Rect>,
    /// Where a frame around trays was begun, on the screen.
    pub(super) frame_from: Option<egui::Pos2>,
    /// The shelf whose menu was opened last.
    pub(super) menu_of: Option<ShelfId>,
    /// A lamp or a mat in the hand.
    pub(super) zone: Option<ZoneInHand>,
    /// Racks are seen from the front.
    pub(super) from_the_front: bool,
    /// The arrangement that was copied last.
    pub(super) copied: Vec<Arranged>,
    /// The shelf that was pointed at, or stepped to, last.
    pub(super) shelf: Option<ShelfId>,
    /// What the tray in the hand becomes, worked out once for the season at that revision.
    pub(super) becomes: Option<(u64, Becomes)>,
}

/// The day that is shown, and whether it runs on by itself.
#[derive(Clone, Copy, Debug)]
pub(super) struct DayShown {
    pub(super) day: NaiveDate,
    pub(super) playing: bool,
    /// When the next step is due, in seconds of the window's clock.
    pub(super) next_step_at: f64,
}

impl Default for BoardView {
    fn default() -> Self {
        Self {
            screen_from_board: None,
            fit_wanted: None,
            fitted: None,
            pane: egui::Rect::NOTHING,
            waiting: egui::Rect::NOTHING,
            bounds: None,
            frame_from: None,
            menu_of: None,
            zone: None,
            from_the_front: false,
            copied: Vec::new(),
            shelf: None,
            becomes: None,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn again(view: &ViewState) -> ViewState {
        ron::from_str(&ron::to_string(view).unwrap()).unwrap()
    }

    /// One such file among those used last, and nothing at all was kept of how the window was.
    #[cfg(unix)]
    #[test]
    fn a_file_whose_name_is_no_text_is_kept_among_the_others() {
        use std::os::unix::ffi::OsStrExt as _;
        let odd: std::path::PathBuf = std::ffi::OsStr::from_bytes(b"/seasons/fr\xfchling.ron").into();
        let plain: std::path::PathBuf = "/seasons/spring.ron".into();
        let view = ViewState {
            recent: vec![odd.clone(), plain.clone()],
            last_folder: Some(odd.clone()),
            hint_hidden: true,
            ..ViewState::default()
        };
        let kept = again(&view);
        assert_eq!(
            (kept.recent, kept.last_folder, kept.hint_hidden),
            (vec![odd, plain], Some(view.last_folder.unwrap()), true)
        );
        let old = r#"(recent:["/seasons/spring.ron"],last_folder:Some("/seasons"))"#;
        let old: ViewState = ron::from_str(old).unwrap();
        assert_eq!((old.recent.len(), old.last_folder), (1, Some("/seasons".into())), "as it was kept before");
    }

    #[test]
    fn a_size_of_letters_that_none_can_be_read_in_is_forgotten() {
        let zooms = [("a", 0.0), ("b", f32::NAN), ("c", f32::INFINITY), ("d", -1.0), ("e", 1.3), ("f", 900.0)];
        let zooms = zooms.map(|(screen, zoom)| (screen.to_owned(), zoom)).into();
        let view = ViewState { zooms, ..ViewState::default() }.mended();
        assert_eq!(view.zooms.into_iter().collect::<Vec<_>>(), [("e".to_owned(), 1.3)]);
    }
}
