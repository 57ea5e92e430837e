//! Which screen the window is on: whether it can be reached there, and how large letters are.
//!
//! The system keeps position and size between starts, maximised apart from normal; what it does
//! not check everywhere is whether that screen is still there.

use std::collections::BTreeMap;

use egui::{Context, Pos2, Rect, Vec2, ViewportCommand, pos2, vec2};

/// So much of a window must be seen for a hand to find it, in points.
const SEEN_PT: Vec2 = vec2(200.0, 150.0);
/// About as high as a title bar.
const TITLE_PT: f32 = 24.0;

/// The screen that the window was last seen on, and its letters there.
#[derive(Clone, Debug, Default)]
pub(super) struct Screens {
    now: Option<(String, f32)>,
}

impl Screens {
    /// On another screen letters get the size they had there; a size set here is kept for here.
    pub(super) fn follow(&mut self, ctx: &Context, frame: &eframe::Frame, zooms: &mut BTreeMap<String, f32>) {
        let Some(window) = frame.winit_window() else { return };
        // Once, before the window is shown.
        if self.now.is_none() && !window.is_maximized() && window.fullscreen().is_none() {
            let rect = |x: i32, y: i32, width: u32, height: u32| {
                Rect::from_min_size(pos2(x as f32, y as f32), vec2(width as f32, height as f32))
            };
            let screens = window.primary_monitor().into_iter().chain(window.available_monitors()).map(|screen| {
                let (at, size) = (screen.position(), screen.size());
                rect(at.x, at.y, size.width, size.height)
            });
            let screens: Vec<Rect> = screens.filter(Rect::is_positive).collect();
            let size = window.outer_size();
            // Some systems don't say where it is, and place it themselves.
            if let Ok(at) = window.outer_position()
                && let place = rect(at.x, at.y, size.width, size.height)
                && let Some(to) = reachable_at(place, window.scale_factor() as f32, &screens)
            {
                ctx.send_viewport_cmd(ViewportCommand::OuterPosition(to / ctx.pixels_per_point()));
            }
        }
        let Some(screen) = window.current_monitor() else { return };
        let size = screen.size();
        let name = format!("{} x {} at {}", size.width, size.height, screen.scale_factor());
        if let Some(zoom) = self.zoom_wanted(&name, ctx.zoom_factor(), zooms) {
            ctx.set_zoom_factor(zoom);
        }
    }

    fn zoom_wanted(&mut self, screen: &str, zoom: f32, zooms: &mut BTreeMap<String, f32>) -> Option<f32> {
        match &mut self.now {
            Some((name, seen)) if name == screen => {
                if differ(*seen, zoom) {
                    *seen = zoom;
                    zooms.insert(screen.to_owned(), zoom);
                }
                None
            }
            now => {
                let known =
                    zooms.get(screen).copied().filter(|known| known.is_finite()).map(|known| known.clamp(0.5, 3.0));
                *now = Some((screen.to_owned(), known.unwrap_or(zoom)));
                known.filter(|known| differ(*known, zoom))
            }
        }
    }
}

fn differ(one: f32, other: f32) -> bool {
    (one - other).abs() > 0.001
}

/// Where a window has to go that nobody can reach; all in pixels of the whole desktop.
///
/// It may stay if its title bar and [`SEEN_PT`] of it (all of it, if it is smaller) lie on one
/// screen; else it comes to the middle of the first. With no screens known it stays.
fn reachable_at(window: Rect, pixels_per_point: f32, screens: &[Rect]) -> Option<Pos2> {
    let primary = screens.first()?;
    let wanted = (SEEN_PT * pixels_per_point).min(window.size());
    let title = TITLE_PT * pixels_per_point;
    let stays = screens.iter().any(|screen| {
        let seen = screen.intersect(window);
        let title_seen = window.top() >= screen.top() - 1.0 && window.top() + title <= screen.bottom();
        seen.is_positive() && seen.width() >= wanted.x && seen.height() >= wanted.y && title_seen
    });
    // One that is larger than the screen begins in its corner.
    let room = (primary.size() - window.size()).max(Vec2::ZERO);
    (!stays).then(|| (primary.min + room / 2.0).round())
}

#[cfg(test)]
mod tests {
    use super::*;

    const LEFT: Rect = Rect { min: pos2(0.0, 0.0), max: pos2(1920.0, 1080.0) };
    const RIGHT: Rect = Rect { min: pos2(1920.0, 0.0), max: pos2(5760.0, 2160.0) };

    #[track_caller]
    fn check(at: (f32, f32), size: (f32, f32), scale: f32, screens: &[Rect], expected: Option<(f32, f32)>) {
        let window = Rect::from_min_size(at.into(), size.into());
        let found = reachable_at(window, scale, screens);
        assert_eq!(found, expected.map(Pos2::from), "{window:?} at {scale}");
        if let Some(to) = found {
            let moved = Rect::from_min_size(to, window.size());
            assert_eq!(reachable_at(moved, scale, screens), None, "it stays where it was brought");
        }
    }

    #[test]
    fn a_window_on_a_screen_that_is_gone_comes_to_the_middle_of_the_first() {
        let usual = (1280.0, 800.0);
        check((-5000.0, 100.0), usual, 1.0, &[LEFT], Some((320.0, 140.0)));
        check((2500.0, 300.0), usual, 1.0, &[LEFT], Some((320.0, 140.0)));
        check((2500.0, 300.0), usual, 1.0, &[LEFT, RIGHT], None);
        check((100.0, 5000.0), usual, 1.5, &[LEFT, RIGHT], Some((320.0, 140.0)));
    }

    #[test]
    fn title_bar_and_a_hands_breadth_must_be_seen() {
        let usual = (1280.0, 800.0);
        check((1720.0, 900.0), usual, 1.0, &[LEFT], None);
        check((1721.0, 900.0), usual, 1.0, &[LEFT], Some((320.0, 140.0)));
        check((1720.0, 900.0), usual, 1.5, &[LEFT], Some((320.0, 140.0)));
        check((1620.0, 855.0), usual, 1.5, &[LEFT], None);
        check((100.0, -20.0), usual, 1.0, &[LEFT], Some((320.0, 140.0)));
        check((-1000.0, 0.0), usual, 1.0, &[LEFT], None);
        // Half on one screen, half on the other, and enough on each.
        check((1700.0, 100.0), usual, 1.0, &[LEFT, RIGHT], None);
    }

    #[test]
    fn a_window_as_large_as_its_screen_or_tiny_stays() {
        check((0.0, 0.0), (1920.0, 1080.0), 1.0, &[LEFT], None);
        check((100.0, 100.0), (64.0, 64.0), 2.0, &[LEFT], None);
        check((3000.0, 0.0), (2400.0, 1400.0), 1.0, &[LEFT], Some((0.0, 0.0)));
        check((-5000.0, 0.0), (800.0, 600.0), 1.0, &[], None);
    }

    #[test]
    fn each_screen_keeps_its_own_size_of_letters() {
        let (mut screens, mut zooms) = (Screens::default(), BTreeMap::new());
        assert_eq!(screens.zoom_wanted("laptop", 1.0, &mut zooms), None);
        assert_eq!(screens.zoom_wanted("laptop", 1.3, &mut zooms), None, "set by hand");
        assert_eq!(screens.zoom_wanted("wall", 1.3, &mut zooms), None, "unknown there: as it is");
        assert_eq!(screens.zoom_wanted("wall", 0.8, &mut zooms), None);
        assert_eq!(screens.zoom_wanted("laptop", 0.8, &mut zooms), Some(1.3));
        assert_eq!(screens.zoom_wanted("laptop", 1.3, &mut zooms), None);
        assert_eq!(screens.zoom_wanted("wall", 1.3, &mut zooms), Some(0.8));
        assert_eq!(zooms, BTreeMap::from([("laptop".to_owned(), 1.3), ("wall".to_owned(), 0.8)]));
    }
}
