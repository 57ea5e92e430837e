//! Where the words of the last frost stand: close to its line, clear of the pill of the day shown.

use egui::Rangef;

const GAP_PT: f32 = 3.0;

/// The left end of the words, and whether they stand in one line; `widths` are theirs in one line and in two.
/// Right of the frost's line, else left of it, where neither the pill covers them nor the axis ends.
pub(super) fn beside(line: f32, widths: [f32; 2], pill: Rangef, axis: Rangef) -> (f32, bool) {
    let [whole, in_two] = widths;
    let fits = |left: f32, width: f32| {
        let right = left + width;
        let covered = left < pill.max && right > pill.min;
        !covered && left >= axis.min && right <= axis.max
    };
    for (width, is_whole) in [(whole, true), (in_two, false)] {
        for left in [line + GAP_PT, line - GAP_PT - width] {
            if fits(left, width) {
                return (left, is_whole);
            }
        }
    }
    // the pill stands on the line: beside the pill, where there is more room
    let right = (pill.max + GAP_PT, pill.max + GAP_PT + whole <= axis.max);
    if right.1 { (right.0, true) } else { ((pill.min - GAP_PT - whole).max(axis.min), true) }
}

#[cfg(test)]
mod tests {
    use super::*;

    const AXIS: Rangef = Rangef { min: 150.0, max: 660.0 };

    #[track_caller]
    fn check(line: f32, hand: f32, expected: (f32, bool)) {
        let found = beside(line, [163.0, 100.0], Rangef::new(hand - 50.0, hand + 50.0), AXIS);
        assert_eq!(found, expected, "line {line}, hand {hand}");
    }

    /// In a window of 900 × 600, with the hand in the week before, the words stood a hundred points from their line.
    #[test]
    fn the_words_of_the_frost_stand_at_its_line() {
        check(400.0, 170.0, (403.0, true));
        check(502.0, 170.0, (336.0, true));
        check(502.0, 445.0, (505.0, false));
        check(640.0, 200.0, (474.0, true));
        check(640.0, 570.0, (354.0, true));
    }

    #[test]
    fn beside_the_pill_where_that_stands_on_the_line() {
        check(502.0, 500.0, (284.0, true));
        check(300.0, 300.0, (353.0, true));
    }
}
