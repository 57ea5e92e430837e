//! How long work tells how far it is, and hears that it is no longer wanted.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicU32, Ordering};

/// Asks running work to stop; clones speak of the same work.
#[derive(Clone, Debug, Default)]
pub struct Cancel(Arc<AtomicBool>);

/// The work was told to stop; what it had is gone.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("stopped before the end")]
pub struct Cancelled;

impl Cancel {
    pub fn cancel(&self) {
        self.0.store(true, Ordering::Relaxed);
    }

    pub fn is_cancelled(&self) -> bool {
        self.0.load(Ordering::Relaxed)
    }

    /// # Errors
    /// [`Cancelled`] once the work is no longer wanted.
    pub fn check(&self) -> Result<(), Cancelled> {
        if self.is_cancelled() { Err(Cancelled) } else { Ok(()) }
    }
}

/// How far work is, in thousandths; clones speak of the same work.
#[derive(Clone, Debug, Default)]
pub struct Progress(Arc<AtomicU32>);

impl Progress {
    pub fn set(&self, done: usize, of: usize) {
        let thousandths = (done * 1000).checked_div(of).unwrap_or(1000).min(1000);
        self.0.store(u32::try_from(thousandths).unwrap_or(1000), Ordering::Relaxed);
    }

    /// From 0 to 1.
    pub fn share(&self) -> f32 {
        self.0.load(Ordering::Relaxed) as f32 / 1000.0
    }
}
