//! What two seasons differ in, as one line.

use crate::season::{Difference, Part};

/// `3 sowings added, 1 shelf changed, 12 spots differ`; empty where nothing does.
pub fn differences(all: &[Difference]) -> String {
    let said: Vec<String> = all.iter().flat_map(difference).collect();
    said.join(", ")
}

fn difference(difference: &Difference) -> Vec<String> {
    let (one, many) = match difference.part {
        Part::Name => return vec!["another name".to_owned()],
        Part::Note => return vec!["another note".to_owned()],
        Part::Settings => return vec!["other settings".to_owned()],
        // A layout found anew adds and takes away by the dozen: only how many is of use.
        Part::Spots => {
            let count = difference.count();
            return vec![if count == 1 { "1 spot differs".to_owned() } else { format!("{count} spots differ") }];
        }
        Part::DaysAway => ("absence", "absences"),
        Part::Crops => ("crop", "crops"),
        Part::Containers => ("container", "containers"),
        Part::Places => ("place", "places"),
        Part::Racks => ("rack", "racks"),
        Part::Shelves => ("shelf", "shelves"),
        Part::Sowings => ("sowing", "sowings"),
        Part::Guests => ("group of other plants", "groups of other plants"),
        Part::TrayNotes => ("tray note", "tray notes"),
    };
    let counted = [(difference.added, "added"), (difference.changed, "changed"), (difference.gone, "removed")];
    let some = counted.into_iter().filter(|(count, _)| *count > 0);
    some.map(|(count, how)| format!("{count} {} {how}", if count == 1 { one } else { many })).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(part: Part, [added, changed, gone]: [usize; 3], expected: &str) {
        assert_eq!(differences(&[Difference { part, added, changed, gone }]), expected);
    }

    #[test]
    fn every_kind_is_counted_in_words() {
        check(Part::Sowings, [3, 0, 0], "3 sowings added");
        check(Part::Shelves, [1, 2, 1], "1 shelf added, 2 shelves changed, 1 shelf removed");
        check(Part::Spots, [5, 6, 1], "12 spots differ");
        check(Part::Spots, [0, 1, 0], "1 spot differs");
        check(Part::Name, [0, 1, 0], "another name");
        assert_eq!(differences(&[]), "");
    }
}
