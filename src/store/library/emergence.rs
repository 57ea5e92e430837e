use std::collections::BTreeMap;

use serde::Deserialize;

use crate::season::{ComesUp, EmergenceRow, Sourced};

use super::forms::{Cited, Figure, TemperatureForm};
use super::read::{LibraryError, LibraryFault, read};
use super::sources::Sources;

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename = "Emergence")]
struct EmergenceFile {
    #[serde(default)]
    sources: Sources,
    rows: BTreeMap<String, Figure<RowForm>>,
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

pub(super) fn rows(file: &'static str, text: &str) -> Result<BTreeMap<String, Sourced<EmergenceRow>>, LibraryError> {
    let EmergenceFile { sources, rows } = read(file, text)?;
    let wrong = |why| LibraryError { file, at: None, why };
    let mut all = BTreeMap::new();
    for (key, row) in rows {
        let cited = Cited { sources: &sources, of: "row", key: &key };
        let row: Sourced<EmergenceRow> = cited.figure(row).map_err(|why| wrong(LibraryFault::NoSuchSource(why)))?;
        let days =
            |(_, comes_up): &(_, ComesUp)| !matches!(comes_up, ComesUp::After(days) if !(0.1..=1_000.0).contains(days));
        if !row.value.is_sorted_by(|a, b| a.0 < b.0) || !row.value.iter().all(days) {
            return Err(wrong(LibraryFault::Row(key)));
        }
        all.insert(key, row);
    }
    Ok(all)
}
