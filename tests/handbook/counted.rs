//! How many figures of the library have a published source; `--nocapture` prints it.

use std::collections::BTreeMap;

use crate::check;

const FILES: [(&str, &str); 3] = [
    ("crops", include_str!("../../assets/crops.ron")),
    ("containers", include_str!("../../assets/containers.ron")),
    ("emergence", include_str!("../../assets/emergence.ron")),
];

/// Figures without a mark of their own, whose comment says where they come from.
const BARE: [&str; 4] = ["light_to_germinate:", "hardiness:", "transplants:", "seeds_per_gram:"];
/// Trade habit throughout, as the head of the file says.
const HABIT: [&str; 3] = ["usual_moves:", "usual_cells:", "before_sowing:"];

fn count(text: &str) -> BTreeMap<&str, u32> {
    let mut all = BTreeMap::new();
    for line in text.lines().map(str::trim).filter(|line| !line.starts_with("//")) {
        let starts = |names: &[&str]| names.iter().any(|name| line.starts_with(name));
        let remembered = line.contains("memory") || line.contains("no source");
        let mark = match line.split("trust: ").nth(1) {
            Some(rest) => rest.split([',', ')']).next().unwrap_or_default(),
            None if starts(&BARE) => {
                if remembered {
                    "FromMemory"
                } else {
                    "Published"
                }
            }
            None if line.starts_with("germination_legal_percent:") => "Published",
            None if starts(&HABIT) => "CommonPractice",
            None => continue,
        };
        *all.entry(mark).or_insert(0) += 1;
    }
    all
}

#[test]
fn figures_are_counted_by_where_they_come_from() {
    let mut sum: BTreeMap<&str, u32> = BTreeMap::new();
    for (name, text) in FILES {
        let counted = count(text);
        check(name, &format!("{counted:?}"));
        for (mark, number) in counted {
            *sum.entry(mark).or_insert(0) += number;
        }
    }
    check("in all", &format!("{sum:?}"));
    let known = ["CommonPractice", "Derived", "FromMemory", "Published"];
    assert_eq!(sum.keys().copied().collect::<Vec<_>>(), known);
    // it may rise, as sources are found
    assert!(sum["Published"] >= PUBLISHED, "{sum:?}");
}

const PUBLISHED: u32 = 445;
