//! Nothing is lost between a season and its file, nor between a season and its history.

use std::path::Path;

use flatwright::season::{History, LotId, Op, ShelfId, Spot, SpotFrom, StepId, TrayKey};
use flatwright::store::{load, parse, sample, to_text};
use flatwright::units::Length;
use proptest::collection::vec;
use proptest::prelude::*;

use crate::edits::{edit, season, start};

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn a_season_comes_back_from_its_file_as_it_was(season in season()) {
        let text = to_text(&season);
        let back = parse(&text, Path::new("t.ron")).map_err(|why| TestCaseError::fail(format!("{why}\n{text}")))?;
        prop_assert_eq!(&back, &season, "{}", text);
        prop_assert_eq!(to_text(&back), text);
    }

    #[test]
    fn a_file_cut_off_anywhere_is_refused(season in season(), at in any::<prop::sample::Index>()) {
        let text = to_text(&season);
        let at = at.index(text.trim_end().len());
        prop_assume!(text.is_char_boundary(at));
        prop_assert!(parse(&text[..at], Path::new("t.ron")).is_err());
    }

    #[test]
    fn rubbish_is_refused_and_nothing_worse(season in season(), at in any::<prop::sample::Index>(), rubbish: String) {
        let mut text = to_text(&season);
        let at = at.index(text.len());
        prop_assume!(text.is_char_boundary(at));
        text.insert_str(at, &rubbish);
        if let Err(why) = parse(&text, Path::new("t.ron")) {
            prop_assert!(why.to_string().starts_with("t.ron:"));
        }
    }

    #[test]
    fn undoing_all_gives_the_start_and_doing_all_again_the_end(edits in vec(edit(), 0..40)) {
        let start = start();
        let mut history = History::new(start.clone());
        for edit in &edits {
            let (before, revision) = (history.season().clone(), history.revision());
            let label = history.undo_label().cloned();
            if history.commit(edit).is_err() {
                prop_assert_eq!(history.season(), &before, "a refused edit leaves no trace: {:?}", edit);
                prop_assert_eq!((history.revision(), history.undo_label().cloned()), (revision, label));
            }
        }
        let end = history.season().clone();
        while history.undo() {}
        prop_assert_eq!(history.season(), &start);
        while history.redo() {}
        prop_assert_eq!(history.season(), &end);
    }
}

#[test]
fn the_newest_version_comes_back_as_it_is_written() {
    let path = Path::new("tests/files/v2-rich.ron");
    let season = load(path).unwrap();
    assert_eq!(to_text(&season), std::fs::read_to_string(path).unwrap());
}

#[test]
fn every_example_comes_back_from_its_file_as_it_was() {
    let mut seen = 0;
    for entry in std::fs::read_dir("examples").unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_some_and(|ending| ending == "ron") {
            let season = load(&path).unwrap_or_else(|why| panic!("{why}"));
            assert_eq!(parse(&to_text(&season), &path).unwrap(), season, "{}", path.display());
            seen += 1;
        }
    }
    assert!(seen > 0);
}

#[test]
fn thousands_of_trays_and_edits_go_through_a_file() {
    let mut history = History::new(sample());
    let sowing = history.season().sowings().next().unwrap().clone();
    let (lot, step) = (sowing.lots[0].id, sowing.steps[0].id);
    let shelves: Vec<ShelfId> = history.season().shelves().map(|shelf| shelf.id).collect();
    let spot = |n: u32, x: i64| Spot {
        tray: TrayKey::Own { lot: LotId(lot.0), step: StepId(step.0), n },
        from: SpotFrom::Start,
        until: None,
        shelf: shelves[n as usize % shelves.len()],
        x: Length::from_units(x),
        y: Length::ZERO,
        quarter_turns: 0,
        pinned: false,
    };
    history.commit(&Op::SetLayout((1..=5_000).map(|n| spot(n, 0)).collect()).into()).unwrap();
    for n in 0..2_000 {
        history.commit(&Op::PutSpot(spot(n % 500 + 1, i64::from(n) + 1)).into()).unwrap();
    }
    assert_eq!(history.revision(), 2_001);
    assert_eq!(parse(&to_text(history.season()), Path::new("t.ron")).unwrap(), *history.season());
}
