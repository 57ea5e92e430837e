use std::collections::BTreeMap;

use serde::Deserialize;

use crate::season::{ComesUp, EmergenceRow, GerminationRow, Sourced};

use super::forms::{Cited, Figure, Percent, TemperatureForm};
use super::read::{LibraryError, LibraryFault, read};
use super::sources::Sources;

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename = "Emergence")]
struct EmergenceFile {
    #[serde(default)]
    sources: Sources,
    rows: BTreeMap<String, Figure<RowForm>>,
    normal_seedlings: BTreeMap<String, Figure<SeedlingsForm>>,
}

#[derive(Deserialize)]
#[serde(transparent)]
struct SeedlingsForm(Vec<(TemperatureForm, Percent)>);

impl From<SeedlingsForm> for GerminationRow {
    fn from(form: SeedlingsForm) -> Self {
        form.0.into_iter().map(|(at, percent)| (at.0, percent.into())).collect()
    }
}

#[derive(Deserialize)]
#[serde(transparent)]
struct RowForm(Vec<(TemperatureForm, ComesUpForm)>);

#[derive(Deserialize)]
enum ComesUpForm {
    After(f64),
    Never,
    NotTried,
}

impl From<RowForm> for EmergenceRow {
    fn from(form: RowForm) -> Self {
        let one = |(at, comes_up): (TemperatureForm, ComesUpForm)| {
            let comes_up = match comes_up {
                ComesUpForm::After(days) => ComesUp::After(days),
                ComesUpForm::Never => ComesUp::Never,
                ComesUpForm::NotTried => ComesUp::NotTried,
            };
            (at.0, comes_up)
        };
        form.0.into_iter().map(one).collect()
    }
}

/// What the file holds: days to emergence, and per cent of normal seedlings.
pub(super) struct Rows {
    pub(super) emergence: BTreeMap<String, Sourced<EmergenceRow>>,
    pub(super) germination: BTreeMap<String, Sourced<GerminationRow>>,
}

pub(super) fn rows(file: &'static str, text: &str) -> Result<Rows, LibraryError> {
    let EmergenceFile { sources, rows, normal_seedlings } = read(file, text)?;
    let wrong = |why| LibraryError { file, at: None, why };
    let unknown = |why| wrong(LibraryFault::NoSuchSource(why));
    let mut emergence = BTreeMap::new();
    for (key, row) in rows {
        let cited = Cited { sources: &sources, of: "row", key: &key };
        let row: Sourced<EmergenceRow> = cited.figure(row).map_err(unknown)?;
        let days =
            |(_, comes_up): &(_, ComesUp)| !matches!(comes_up, ComesUp::After(days) if !(0.1..=1_000.0).contains(days));
        if !row.value.is_sorted_by(|a, b| a.0 < b.0) || !row.value.iter().all(days) {
            return Err(wrong(LibraryFault::Row(key)));
        }
        emergence.insert(key, row);
    }
    let mut germination = BTreeMap::new();
    for (key, row) in normal_seedlings {
        let cited = Cited { sources: &sources, of: "row", key: &key };
        let row: Sourced<GerminationRow> = cited.figure(row).map_err(unknown)?;
        if !row.value.is_sorted_by(|a, b| a.0 < b.0) {
            return Err(wrong(LibraryFault::Row(key)));
        }
        germination.insert(key, row);
    }
    Ok(Rows { emergence, germination })
}
