//! Taking the last frost from a weather record. Files are read off the window's thread.

use std::path::PathBuf;
use std::sync::mpsc::{Receiver, TryRecvError, sync_channel};
use std::thread;

use egui::{Context, Id, Label, RichText, Ui};

use crate::forecast::frost_near;
use crate::season::{FrostMethod, Settings};
use crate::store::{RealDisk, Record, RecordFrost, WeatherAsk, WeatherUnit, frost_of_record, load_weather};
use crate::trade::{FrostWish, Half, risk_taken};
use crate::words;

use super::{put_frost, title_ui};
use crate::window::action::{Action, File};
use crate::window::kit::old_fields::text_ui;
use crate::window::kit::{FIELD_PT, WIDE_PT, button_ui, choice_ui, reason_ui, row_ui};
use crate::window::scene::Scene;
use crate::window::theme::Palette;

const UNITS: [(Option<WeatherUnit>, &str); 4] = [
    (None, "as the file tells"),
    (Some(WeatherUnit::Fahrenheit), "°F"),
    (Some(WeatherUnit::Celsius), "°C"),
    (Some(WeatherUnit::TenthsCelsius), "tenths of °C"),
];
const METHODS: [(FrostMethod, &str); 2] =
    [(FrostMethod::NormalLaw, "by the normal law"), (FrostMethod::Empirical, "off the springs in order")];

pub(super) struct RecordForm {
    path: String,
    station: String,
    unit: Option<WeatherUnit>,
    method: FrostMethod,
    reading: Option<Receiver<Result<(PathBuf, Record), String>>>,
    /// What was odd about the record taken last.
    told: Vec<String>,
    refused: Option<String>,
}

impl Default for RecordForm {
    fn default() -> Self {
        Self {
            path: String::new(),
            station: String::new(),
            unit: None,
            // as published tables are made
            method: FrostMethod::NormalLaw,
            reading: None,
            told: Vec::new(),
            refused: None,
        }
    }
}

impl RecordForm {
    pub(super) fn read(&mut self, path: PathBuf, ctx: &Context) {
        self.path = path.display().to_string();
        (self.told, self.refused) = (Vec::new(), None);
        let station = Some(self.station.trim().to_owned()).filter(|station| !station.is_empty());
        let ask = WeatherAsk { unit: self.unit, station };
        let (sender, answer) = sync_channel(1);
        let wake = ctx.clone();
        let work = move || {
            let read = load_weather(&RealDisk, &path, &ask).map_err(|why| why.to_string());
            sender.send(read.map(|record| (path, record))).ok(); // nobody listens once another file was chosen
            wake.request_repaint();
        };
        match thread::Builder::new().name("weather record".to_owned()).spawn(work) {
            Ok(_) => self.reading = Some(answer),
            Err(why) => self.refused = Some(format!("The record could not be read: {why}")),
        }
    }

    /// Takes in what was read.
    fn poll(&mut self, scene: &Scene<'_>, actions: &mut Vec<Action>) {
        let Some(reading) = &self.reading else { return };
        let read = match reading.try_recv() {
            Ok(read) => read,
            Err(TryRecvError::Empty) => return,
            Err(TryRecvError::Disconnected) => Err("The record could not be read".to_owned()),
        };
        self.reading = None;
        let taken = read.and_then(|(path, record)| {
            let frost = scene.season.settings().frost.as_ref();
            let (at, later_in_ten) = risk_taken(frost);
            let wish = FrostWish {
                at,
                later_in_ten,
                method: self.method,
                near: frost_near(scene.season).unwrap_or_else(|| scene.near()),
            };
            frost_of_record(&record, &path, &wish).map_err(|why| format!("{}: {why}", path.display()))
        });
        match taken.and_then(|found| Ok((put_frost(scene, Some(found.frost.clone()))?, found))) {
            Ok((action, found)) => {
                self.told = told(&found);
                actions.push(action);
            }
            Err(why) => self.refused = Some(why),
        }
    }
}

fn told(found: &RecordFrost) -> Vec<String> {
    let mut told = found.odd.clone();
    if found.half == Half::South {
        told.push("A southern station: its spring runs from 24 July to 23 January".to_owned());
    }
    told.extend(found.refused.iter().map(words::refused_spring));
    told
}

pub(super) fn record_ui(ui: &mut Ui, scene: &Scene<'_>, form: &mut RecordForm, actions: &mut Vec<Action>) {
    let palette = Palette::of(ui);
    form.poll(scene, actions);
    title_ui(ui, "From a weather record");
    let said = "Daily lows of a station near you, as GHCN-Daily gives them out: .csv or .dly. Twenty springs or more say \
                enough";
    ui.add(Label::new(RichText::new(said).color(palette.soft_ink)).wrap());
    row_ui(ui, "File", |ui, label| {
        let id = Id::unique("path of the weather record");
        text_ui(ui, &mut form.path, id, "/home/me/station.csv", WIDE_PT).labelled_by(label.id);
        if button_ui(ui, "Choose…") {
            actions.push(Action::File(File::ChooseWeather));
        }
    });
    row_ui(ui, "Station, if several", |ui, label| {
        let id = Id::unique("station of the weather record");
        text_ui(ui, &mut form.station, id, "", FIELD_PT).labelled_by(label.id);
    });
    form.unit = choice_ui(ui, "Lows are in", form.unit, &UNITS).unwrap_or(form.unit);
    form.method = choice_ui(ui, "Dates are had", form.method, &METHODS).unwrap_or(form.method);
    row_ui(ui, "", |ui, _| {
        let ready = !form.path.trim().is_empty() && form.reading.is_none();
        ui.add_enabled_ui(ready, |ui| {
            if button_ui(ui, "Read the record") {
                let path = PathBuf::from(form.path.trim());
                form.read(path, ui.ctx());
            }
        });
        if form.reading.is_some() {
            ui.label("Reading…");
        }
    });
    if let Some(why) = &form.refused {
        reason_ui(ui, why);
    }
    for told in &form.told {
        ui.add(Label::new(told).wrap());
    }
    note_ui(ui, scene.season.settings());
}

/// Which risk a record would be read for.
fn note_ui(ui: &mut Ui, settings: &Settings) {
    if settings.frost.is_none() {
        let said = "Read for 1 year in 10 with a later frost of 0 °C; choose another risk afterwards";
        ui.label(RichText::new(said).color(Palette::of(ui).soft_ink));
    }
}
