//! Ends that nobody asks for: what is not saved is kept before the program is gone.

use std::cell::RefCell;

use crate::store::Keeper;

/// Told to end or to hang up, or the display goes.
pub(super) fn keep_at_the_end(keeper: &Keeper) {
    on_signals(keeper.clone());
    AT_EXIT.with(|at_exit| *at_exit.borrow_mut() = Some(AtExit(keeper.clone())));
}

struct AtExit(Keeper);

/// Xlib ends the program by itself when its display goes; the window's own is not dropped then, what
/// belongs to its thread is.
impl Drop for AtExit {
    fn drop(&mut self) {
        self.0.keep_now();
    }
}

thread_local! {
    static AT_EXIT: RefCell<Option<AtExit>> = const { RefCell::new(None) };
}

#[cfg(unix)]
fn on_signals(keeper: Keeper) {
    use signal_hook::consts::{SIGHUP, SIGINT, SIGTERM};
    // Where they can't be listened to, two seconds of work are lost at most.
    let Ok(mut signals) = signal_hook::iterator::Signals::new([SIGTERM, SIGHUP, SIGINT]) else { return };
    let listen = move || {
        if let Some(signal) = signals.forever().next() {
            keeper.keep_now();
            signal_hook::low_level::emulate_default_handler(signal).ok(); // ends the program
        }
    };
    std::thread::Builder::new().name("signals".to_owned()).spawn(listen).ok();
}

/// Elsewhere a window is asked to close.
#[cfg(not(unix))]
fn on_signals(_: Keeper) {}
