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

/// The size of a window that nobody sized yet, in points.
pub(super) const USUAL_PT: [f32; 2] = [1280.0, 800.0];
/// Less is too little for the pages.
pub(super) const LEAST_PT: [f32; 2] = [880.0, 560.0];
/// About what a title bar and the system's own bar take of a screen's height, and frames of its width.
const BARS_PT: Vec2 = vec2(16.0, 72.0);

/// What letters can be read at.
pub(super) fn is_a_zoom(zoom: f32) -> bool {
    (0.5..=3.0).contains(&zoom)
}

/// The screen that the window was last seen on, and its letters there.
#[derive(Clone, Debug, Default)]
pub(super) struct Screens {
    now: Option<(String, f32)>,
    /// Where it was is known from last time.
    pub(super) was_open_before: bool,
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
        let Some(screen) = window.current_monitor().or_else(|| window.primary_monitor()) else { return };
        let size = screen.size();
        let on_screen = vec2(size.width as f32, size.height as f32);
        if self.now.is_none() && on_screen.min_elem() > 0.0 {
            self.fit_first(frame, on_screen, ctx, zooms);
        }
        let name = format!("{} x {} at {}", size.width, size.height, screen.scale_factor());
        if let Some(zoom) = self.zoom_wanted(&name, ctx.zoom_factor(), zooms) {
            ctx.set_zoom_factor(zoom);
        }
    }

    /// The first time on a screen the window lies on it whole, at letters at which its pages have room.
    fn fit_first(&self, frame: &eframe::Frame, screen: Vec2, ctx: &Context, zooms: &BTreeMap<String, f32>) {
        let Some(window) = frame.winit_window() else { return };
        let scale = window.scale_factor() as f32;
        let known = !zooms.is_empty() || differ(ctx.zoom_factor(), 1.0);
        let zoom = if known { ctx.zoom_factor() } else { zoom_on(screen / scale) };
        if differ(zoom, ctx.zoom_factor()) {
            ctx.set_zoom_factor(zoom);
        }
        let mut size = window.inner_size();
        let inner = vec2(size.width as f32, size.height as f32);
        let outer = vec2(window.outer_size().width as f32, window.outer_size().height as f32);
        let room = screen - BARS_PT * scale;
        let least = (Vec2::from(LEAST_PT) * zoom * scale).min(room);
        (size.width, size.height) = (least.x as u32, least.y as u32);
        window.set_min_inner_size(Some(size));
        if let Some(fitting) = fitting(inner, outer, screen, scale * zoom, self.was_open_before)
            && !window.is_maximized()
            && window.fullscreen().is_none()
        {
            // what it is then is told by the system
            (size.width, size.height) = (fitting.x as u32, fitting.y as u32);
            let _asked = window.request_inner_size(size);
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
                let known = zooms.get(screen).copied().filter(|known| is_a_zoom(*known));
                *now = Some((screen.to_owned(), known.unwrap_or(zoom)));
                known.filter(|known| differ(*known, zoom))
            }
        }
    }
}

fn differ(one: f32, other: f32) -> bool {
    (one - other).abs() > 0.001
}

/// How large letters are on a screen of that many points, so that the smallest window lies on it.
fn zoom_on(screen_pt: Vec2) -> f32 {
    let room = (screen_pt - BARS_PT) / Vec2::from(LEAST_PT);
    // whole tenths, as the menu gives them
    ((room.min_elem() * 10.0).floor() / 10.0).clamp(0.5, 1.0)
}

/// The size, in pixels, of a window that is larger than its screen, or that nobody could use; `None`
/// where it may stay. One that was open before may fill the screen to its edges.
fn fitting(inner: Vec2, outer: Vec2, screen: Vec2, pixels_per_point: f32, was_open: bool) -> Option<Vec2> {
    let room = screen - BARS_PT * pixels_per_point;
    let most = if was_open { screen } else { room };
    let least = (Vec2::from(LEAST_PT) * pixels_per_point).min(room);
    let (too_large, too_small) = (outer.x > most.x || outer.y > most.y, inner.x < least.x || inner.y < least.y);
    (too_large || too_small).then(|| (Vec2::from(USUAL_PT) * pixels_per_point).min(room).max(Vec2::splat(1.0)))
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

    #[track_caller]
    fn fits(size: (f32, f32), screen: (f32, f32), scale: f32, was_open: bool, expected: Option<(f32, f32)>) {
        let size = Vec2::from(size);
        let found = fitting(size, size, screen.into(), scale, was_open);
        assert_eq!(found, expected.map(Vec2::from), "{size} on {screen:?} at {scale}");
    }

    #[test]
    fn the_first_window_lies_on_its_screen_with_its_title_and_foot() {
        fits((1280.0, 800.0), (1920.0, 1080.0), 1.0, false, None);
        fits((1280.0, 800.0), (1280.0, 800.0), 1.0, false, Some((1264.0, 728.0)));
        fits((1280.0, 800.0), (1366.0, 768.0), 1.0, false, Some((1280.0, 696.0)));
        fits((2560.0, 1600.0), (2560.0, 1600.0), 2.0, false, Some((2528.0, 1456.0)));
        // sized by hand up to the edges, it stays so
        fits((1366.0, 768.0), (1366.0, 768.0), 1.0, true, None);
        fits((1400.0, 768.0), (1366.0, 768.0), 1.0, true, Some((1280.0, 696.0)));
        // damaged to nothing
        fits((64.0, 64.0), (1920.0, 1080.0), 1.0, true, Some((1280.0, 800.0)));
    }

    #[test]
    fn on_a_small_screen_letters_are_as_small_as_the_pages_need() {
        for (screen, zoom) in
            [((1280.0, 800.0), 1.0), ((1024.0, 600.0), 0.9), ((640.0, 400.0), 0.5), ((800.0, 480.0), 0.7)]
        {
            assert!((zoom_on(screen.into()) - zoom).abs() < 0.001, "{screen:?}: {}", zoom_on(screen.into()));
        }
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
