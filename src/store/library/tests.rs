use std::collections::BTreeSet;
use std::sync::Arc;

use proptest::prelude::*;
use ron::ser::PrettyConfig;

use serde::Serialize;

use super::forms::{DaysForm, FrostWeeksForm, GrowthForm, LightForm, Percent, WeeksForm, temperature_text};
use super::shipped::containers;
use super::*;
use crate::season::{Container, ContainerKey, ContainerKind, Crop, CropKey, Flat, Library, Plug, Pot, Sourced, Trust};
use crate::units::Temperature;

fn library() -> Library {
    shipped().expect("the shipped library reads")
}

fn written<T: Serialize>(file: &T) -> String {
    ron::ser::to_string_pretty(file, PrettyConfig::new().depth_limit(2)).expect("it can be written")
}

fn mark<T>(figure: &Sourced<T>) -> (Trust, Arc<str>) {
    (figure.trust, Arc::clone(&figure.source))
}

fn marks(crop: &Crop) -> Vec<(Trust, Arc<str>)> {
    let mut marks = vec![
        mark(&crop.germination_percent),
        mark(&crop.emergence),
        mark(&crop.moving_on),
        mark(&crop.latest),
        mark(&crop.weeks_to_planting_out),
        mark(&crop.come_in),
        mark(&crop.hardening),
        mark(&crop.depth),
        mark(&crop.heights),
        mark(&crop.spreads),
    ];
    marks.extend(crop.germination_temperatures.as_ref().map(mark));
    marks.extend(crop.planting_out_after_frost.as_ref().map(mark));
    marks.extend(crop.bolts.as_ref().map(mark));
    marks.extend(crop.light.as_ref().map(mark));
    marks.extend(crop.weeks_to_sale.as_ref().map(mark));
    marks.extend(crop.emergence_warmth.as_ref().map(mark));
    marks.extend(crop.leaf_warmth.as_ref().map(mark));
    marks
}

fn container_marks(container: &Container) -> Vec<(Trust, Arc<str>)> {
    match &container.kind {
        ContainerKind::Flat(Flat { outer, floor, .. }) => {
            [mark(outer)].into_iter().chain(floor.as_ref().map(mark)).collect()
        }
        ContainerKind::Plug(Plug { outer, cell_volume, .. }) => {
            [mark(outer)].into_iter().chain(cell_volume.as_ref().map(mark)).collect()
        }
        ContainerKind::Pot(Pot { top, bottom, volume, brim, .. }) => {
            let volumes = [volume, brim].into_iter().flatten().map(mark);
            [mark(top)].into_iter().chain(bottom.as_ref().map(mark)).chain(volumes).collect()
        }
        ContainerKind::Class { source, .. } => vec![mark(source)],
    }
}

#[test]
fn every_crop_and_container_of_the_tables_is_there() {
    let library = library();
    assert_eq!((library.crops.len(), library.containers.len()), (58, 83));
}

#[test]
fn every_figure_says_where_it_comes_from() {
    let library = library();
    let crops = library.crops.iter().map(|(key, crop)| (key.to_string(), marks(crop)));
    let containers = library.containers.iter().map(|(key, container)| (key.to_string(), container_marks(container)));
    for (key, marks) in crops.chain(containers) {
        assert!(!marks.is_empty(), "{key}");
        for (trust, source) in marks {
            assert_ne!(trust, Trust::Own, "{key}: nothing shipped is the grower's own");
            assert!(!source.trim().is_empty(), "{key}");
            let remembered = source.contains("from memory") && !source.contains("author");
            assert!(trust != Trust::Published || !remembered, "{key}: {source}");
        }
    }
}

#[test]
fn marks_of_crops_are_two_latin_letters_and_differ_even_in_lower_case() {
    let mut seen = BTreeSet::new();
    for crop in library().crops.values() {
        assert!(crop.mark.len() == 2 && crop.mark.bytes().all(|b| b.is_ascii_alphabetic()), "{}", crop.key);
        assert!(seen.insert(crop.mark.to_lowercase()), "{} is used twice", crop.mark);
    }
}

#[test]
fn what_is_written_reads_back_the_same() {
    let library = library();
    for crop in library.crops.values() {
        let text = written(&CropFile::from(crop));
        let back: CropFile = ron::from_str(&text).unwrap_or_else(|why| panic!("{}: {why}\n{text}", crop.key));
        assert_eq!(Crop::try_from(back).as_ref(), Ok(crop));
    }
    for container in library.containers.values() {
        let text = written(&ContainerFile::from(container));
        let back: ContainerFile = ron::from_str(&text).unwrap_or_else(|why| panic!("{}: {why}\n{text}", container.key));
        assert_eq!(Container::try_from(back).as_ref(), Ok(container));
    }
}

#[test]
fn optional_fields_stand_bare_with_and_without_implicit_some() {
    let library = library();
    let tomato = &library.crops[&CropKey::new("tomato")];
    let text = written(&CropFile::from(tomato));
    assert!(!text.contains("Some(") && !text.contains("None"), "{text}");
    let back: CropFile = ron::from_str(&format!("#![enable(implicit_some)]\n{text}")).unwrap();
    assert_eq!(Crop::try_from(back).as_ref(), Ok(tomato));
}

#[test]
fn the_growers_own_figures_need_no_source() {
    let own = r#"(key: "cup", name: "3.2 in cup", height: "10 cm",
        kind: Pot(rim: Round, top: (value: "3.2 in", trust: Own)))"#;
    let cup = Container::try_from(ron::from_str::<ContainerFile>(own).unwrap()).unwrap();
    let ContainerKind::Pot(pot) = &cup.kind else { panic!("{cup:?}") };
    assert_eq!((pot.top.trust, pot.top.value.typed()), (Trust::Own, "3.2 in"));
    let text = written(&ContainerFile::from(&cup));
    assert!(!text.contains("source") && !text.contains("see"), "{text}");
}

#[test]
fn a_source_can_be_cited_and_added_to() {
    let flat = |see: &str| {
        format!(
            r#"(sources: {{"bench": "measured at the bench"}}, containers: [(key: "a", name: "a",
                kind: Flat(outer: (value: "5 x 6 in", trust: Published, see: "{see}", source: "rim only")))])"#
        )
    };
    let read = containers("t", &flat("bench")).unwrap();
    let ContainerKind::Flat(a) = &read[&ContainerKey::new("a")].kind else { panic!("{read:?}") };
    assert_eq!(a.outer.source.as_ref(), "measured at the bench; rim only");
    let refused = containers("t", &flat("shed")).unwrap_err();
    assert_eq!(
        refused.to_string(),
        r#"t: container "a" names the source "shed", which is not in the table of sources"#
    );
}

#[track_caller]
fn refused(kind: &str, expected: &str) {
    let text = format!("(\n containers: [\n  (key: \"a\", name: \"a\",\n   kind: {kind}),\n ],\n)");
    assert_eq!(containers("c.ron", &text).unwrap_err().to_string(), expected);
}

#[test]
fn what_is_wrong_is_refused_with_line_and_column() {
    refused(
        r#"Flat(outer: (value: "wide", trust: Own))"#,
        r#"c.ron:4:31: found "wide"; write a size such as 48 x 18 in"#,
    );
    refused(
        r#"Flat(outer: (value: "5 x 6 in", trust: Own), colour: 3)"#,
        "c.ron:4:55: Unexpected field named `colour` in `Flat`, expected one of `outer`, `floor`, or `pockets` instead",
    );
    refused(
        r#"Flat(outer: (value: "5 x 0 in", trust: Own))"#,
        r#"c.ron:4:31: found "5 x 0 in"; it must be more than nothing"#,
    );
    refused(
        r#"Flat(outer: (value: "5 x 6", trust: Own))"#,
        r#"c.ron:4:31: found "5" without a unit; add one of mm, cm, m, in, ft"#,
    );
    refused(
        r#"Plug(outer: (value: "5 x 6 in", trust: Own), cells: 72, grid: (6, 10))"#,
        "c.ron:4:79: 6 by 10 cells are not 72; leave the grid out for offset cells",
    );
    refused(
        r#"Class(low: "3 l", high: "2 l", trust: Own)"#,
        "c.ron:4:51: low must not be above high, found 3 l and 2 l",
    );
    refused("Flat(", "c.ron:4:15: Unexpected missing field named `outer` in `Flat`");
}

#[test]
fn figures_that_nothing_can_be_computed_with_are_refused() {
    for text in ["(7, 6, 8)", "(6, 9, 8)", "(6, 7)", "(-1, 7, 8)"] {
        assert!(ron::from_str::<DaysForm>(text).is_err(), "{text}");
    }
    for text in ["[(4, 10), (2, 20)]", "[(2, 10), (2, 20)]", "[(NaN, 10)]", "[(2, NaN)]", "[(2, -1)]", "[(2, inf)]"] {
        assert!(ron::from_str::<GrowthForm>(text).is_err(), "{text}");
    }
    for text in ["(8, inf)", "(NaN, 9)", "(9, 8)", "(-1, 8)"] {
        assert!(ron::from_str::<LightForm>(text).is_err(), "{text}");
    }
    assert!(ron::from_str::<Percent>("101").is_err());
    assert!(ron::from_str::<WeeksForm>("(7, 5)").is_err());
    assert!(ron::from_str::<FrostWeeksForm>("(-4, -2)").is_ok());
}

#[test]
fn a_key_used_twice_is_refused() {
    let flat = r#"(key: "a", name: "a", kind: Flat(outer: (value: "5 x 6 in", trust: Own)))"#;
    let refused = containers("t", &format!("(containers: [{flat}, {flat}])")).unwrap_err();
    assert_eq!(refused.to_string(), r#"t: two entries have the key "a""#);
}

proptest! {
    #[test]
    fn any_temperature_reads_back_exactly(hundredths in -9_000_i32..13_500, fahrenheit: bool) {
        let text = format!("{} °{}", f64::from(hundredths) / 100.0, if fahrenheit { 'F' } else { 'C' });
        let temperature = Temperature::parse(&text).unwrap();
        prop_assert_eq!(Temperature::parse(&temperature_text(temperature)), Ok(temperature));
    }
}
