//! What is in the season's file, and whether somebody else was there.
//!
//! Looked at when the window gets the focus, before anything is saved, and from time to time while
//! it has the focus: by a thread that wakes the window only when there is something to say.

use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

use egui::Context;

use crate::season::Season;
use crate::store::{self, Content, Elsewhere, Expected, Loaded, RealDisk, Watch, Watched};

use super::wake::Waker;

const EVERY: Duration = Duration::from_secs(2);

#[derive(Debug, Default)]
pub(super) struct OnDisk {
    /// As it was opened or saved here; `None` where that was never known.
    known: Option<Content>,
    /// As it was last seen; `None` for no file.
    seen: Option<Content>,
    /// Notes in it that saving would drop.
    pub(super) own_comments: bool,
    watch: Option<Watch>,
    fired: Arc<AtomicBool>,
    told: Option<Watched>,
    in_front: bool,
}

impl OnDisk {
    pub(super) fn of(loaded: &Loaded) -> Self {
        let content = Some(loaded.content);
        Self { known: content, seen: content, own_comments: loaded.own_comments, ..Self::default() }
    }

    /// The season of another file takes the place of this one.
    pub(super) fn replace(&mut self, by: &Self) {
        (self.known, self.seen, self.own_comments) = (by.known, by.seen, by.own_comments);
    }

    pub(super) fn start(&mut self, waker: &Waker) {
        let (fired, waker) = (Arc::clone(&self.fired), waker.clone());
        // Without it the file is looked at as often as the window gets the focus.
        self.watch = Watch::start(Arc::new(RealDisk), EVERY, move || {
            fired.store(true, Ordering::Relaxed);
            waker.wake();
        })
        .ok();
    }

    /// Where only the season was given, and not what its file held.
    pub(super) fn first_look(&mut self, path: &Path, season: Option<&Season>) {
        if self.known.is_some() {
            return;
        }
        self.seen = store::content(&RealDisk, path).ok().flatten();
        self.known = self.seen;
        if let Ok(loaded) = store::load_whole(&RealDisk, path) {
            self.own_comments = loaded.own_comments;
            if let Some(season) = season.filter(|season| **season != loaded.season) {
                self.known = Some(Content::of(store::to_text(season).as_bytes()));
            }
        }
    }

    pub(super) fn saved(&mut self, content: Content) {
        (self.known, self.seen, self.own_comments) = (Some(content), Some(content), false);
    }

    pub(super) fn look(&mut self, path: &Path) {
        // What can't be looked at just now is taken to be as it was.
        if let (Some(_), Ok(seen)) = (self.known, store::content(&RealDisk, path)) {
            self.seen = seen;
        }
    }

    /// Whether it was looked at anew.
    pub(super) fn follow(&mut self, ctx: &Context, path: Option<&Path>) -> bool {
        let in_front = ctx.input(|i| i.focused);
        let was_in_front = std::mem::replace(&mut self.in_front, in_front);
        let came = in_front && !was_in_front;
        let looks = (came || self.fired.swap(false, Ordering::Relaxed)) && self.known.is_some();
        if let (true, Some(path)) = (looks, path) {
            self.look(path);
        }
        let path = path.filter(|_| in_front && self.known.is_some());
        let watched = path.map(|path| Watched { path: path.to_owned(), holds: self.seen });
        if looks || watched != self.told {
            self.told.clone_from(&watched);
            self.watch.iter().for_each(|watch| watch.look_at(watched.clone()));
        }
        looks
    }

    pub(super) fn elsewhere(&self) -> Option<Elsewhere> {
        let known = self.known?;
        match self.seen {
            None => Some(Elsewhere::Gone),
            Some(seen) if seen != known => Some(Elsewhere::Changed(seen)),
            Some(_) => None,
        }
    }

    /// What may be written over without a question.
    pub(super) fn expected(&self) -> Expected {
        self.known.map_or(Expected::Anything, |known| Expected::Only(Some(known)))
    }
}
