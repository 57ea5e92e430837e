//! Wakes the window from a thread that was started before there was one to wake.

use std::sync::{Arc, OnceLock};

use egui::Context;

#[derive(Clone, Debug, Default)]
pub(super) struct Waker(Arc<OnceLock<Context>>);

impl Waker {
    pub(super) fn is_of(&self, ctx: &Context) {
        self.0.get_or_init(|| ctx.clone());
    }

    pub(super) fn wake(&self) {
        if let Some(ctx) = self.0.get() {
            ctx.request_repaint();
        }
    }
}
