//! The program's own picture: a plug tray, some of its cells green.

use egui::{Color32, IconData};

use super::theme::{LIGHT, Palette};

const SIDE: u32 = 64;

/// Painted, not stored: a tray of four by three cells on paper.
pub(super) fn icon() -> IconData {
    let rgba = (0..SIDE * SIDE).flat_map(|at| colour_at(&LIGHT, at % SIDE, at / SIDE).to_array()).collect();
    IconData { rgba, width: SIDE, height: SIDE }
}

fn colour_at(palette: &Palette, x: u32, y: u32) -> Color32 {
    // The tray lies from (4, 11) to (60, 53), its rim 3 wide, a cell every 13.
    let on_tray = (4..60).contains(&x) && (11..53).contains(&y);
    let inside = (7..57).contains(&x) && (14..50).contains(&y);
    if !on_tray {
        return Color32::TRANSPARENT;
    }
    if !inside {
        return palette.ink;
    }
    let (across, down) = (x - 7, y - 14);
    let in_cell = (2..11).contains(&(across % 13)) && (2..11).contains(&(down % 12));
    let (column, row) = (across / 13, down / 12);
    match (in_cell && column < 4, column + row) {
        (false, _) => palette.shelf,
        (true, 0..=2) => palette.pots,
        (true, _) => palette.plugs,
    }
}
