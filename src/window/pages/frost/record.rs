//! Taking the last frost from a weather record. Files are read off the window's thread.

use std::path::PathBuf;
use std::sync::mpsc::{Receiver, TryRecvError, sync_channel};
use std::thread;

use egui::{Context, Ui};

use crate::forecast::frost_near;
use crate::season::FrostMethod;
use crate::store::{RealDisk, Record, RecordFrost, WeatherAsk, WeatherUnit, frost_of_record, load_weather};
use crate::trade::{FrostWish, Half, risk_taken};
use crate::words::{self, fields, frost as said};

use crate::window::action::{Action, File};
use crate::window::kit::{
    Drafts, Field, FieldFaults, Form, Owner, WIDE_PT, able_button_ui, button, button_ui, choice_ui, part_title_ui,
    reason_ui, row_ui, soft_ui, wrapped_ui,
};
use crate::window::last_frost::put_frost;
use crate::window::scene::Scene;

const UNITS: [(Option<WeatherUnit>, &str); 4] = [
    (None, said::AS_THE_FILE_TELLS),
    (Some(WeatherUnit::Fahrenheit), said::FAHRENHEIT),
    (Some(WeatherUnit::Celsius), said::CELSIUS),
    (Some(WeatherUnit::TenthsCelsius), said::TENTHS),
];

pub(super) struct RecordForm {
    unit: Option<WeatherUnit>,
    method: FrostMethod,
    reading: Option<Receiver<Result<(PathBuf, Record), String>>>,
    /// What was odd about the record taken last.
    told: Vec<String>,
    refused: Option<String>,
}

impl Default for RecordForm {
    fn default() -> Self {
        // as published tables are made
        let method = FrostMethod::NormalLaw;
        Self { unit: None, method, reading: None, told: Vec::new(), refused: None }
    }
}

/// Which file, and which station in it; nothing reads them before the record is read.
fn form_fields() -> Form<'static> {
    let file = Field::new(said::FILE, "").hint(said::FILE_HINT).width(WIDE_PT);
    Form::new(Owner::Form("frost_record"), [file, Field::new(said::STATION, "")])
}

impl RecordForm {
    pub(super) fn read(&mut self, path: PathBuf, drafts: &mut Drafts, ctx: &Context) {
        let fields = form_fields();
        fields.set(drafts, said::FILE, path.display().to_string());
        (self.told, self.refused) = (Vec::new(), None);
        let station = Some(fields.text(drafts, said::STATION).to_owned()).filter(|station| !station.is_empty());
        let ask = WeatherAsk { unit: self.unit, station };
        let (sender, answer) = sync_channel(1);
        let wake = ctx.clone();
        let work = move || {
            let read = load_weather(&RealDisk, &path, &ask).map_err(|why| why.to_string());
            sender.send(read.map(|record| (path, record))).ok(); // nobody listens once another file was chosen
            wake.request_repaint();
        };
        match thread::Builder::new().name("weather_record".to_owned()).spawn(work) {
            Ok(_) => self.reading = Some(answer),
            Err(why) => self.refused = Some(said::not_read(&why.to_string())),
        }
    }

    /// Takes in what was read.
    fn poll(&mut self, scene: &Scene<'_>, actions: &mut Vec<Action>) {
        let Some(reading) = &self.reading else { return };
        let read = match reading.try_recv() {
            Ok(read) => read,
            Err(TryRecvError::Empty) => return,
            Err(TryRecvError::Disconnected) => Err(said::NOT_READ.to_owned()),
        };
        self.reading = None;
        let taken = read.and_then(|(path, record)| {
            let (at, later_in_ten) = risk_taken(scene.season.settings().frost.as_ref());
            let near = frost_near(scene.season).unwrap_or_else(|| scene.near());
            let wish = FrostWish { at, later_in_ten, method: self.method, near };
            let of_path = |why: String| said::at_path(&path.display().to_string(), &why);
            frost_of_record(&record, &path, &wish).map_err(|why| of_path(why.to_string()))
        });
        let put = |found: RecordFrost| match put_frost(scene, Some(found.frost.clone())) {
            Ok(action) => Ok((action, found)),
            Err(why) => Err(why.into_text()),
        };
        match taken.and_then(put) {
            Ok((action, found)) => {
                self.told = told(&found);
                actions.push(action);
            }
            Err(why) => self.refused = Some(why),
        }
    }
}

fn told(found: &RecordFrost) -> Vec<String> {
    let mut told: Vec<String> = found.odd.iter().map(ToString::to_string).collect();
    if found.half == Half::South {
        told.push(said::SOUTHERN.to_owned());
    }
    told.extend(found.refused.iter().map(words::refused_spring));
    told
}

pub(super) fn record_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    form: &mut RecordForm,
    drafts: &mut Drafts,
    actions: &mut Vec<Action>,
) {
    form.poll(scene, actions);
    part_title_ui(ui, said::FROM_RECORD);
    soft_ui(ui, said::WHAT_RECORD);
    let (of_record, faults) = (form_fields(), FieldFaults::default());
    of_record.line_ui(ui, drafts, &faults, said::FILE, |ui| {
        if button_ui(ui, said::CHOOSE_FILE) {
            actions.push(Action::File(File::ChooseWeather));
        }
    });
    of_record.line_ui(ui, drafts, &faults, said::STATION, |_| ());
    form.unit = choice_ui(ui, said::LOWS, form.unit, &UNITS).unwrap_or(form.unit);
    form.method = choice_ui(ui, said::HAD, form.method, &said::METHODS).unwrap_or(form.method);
    let path = of_record.text(drafts, said::FILE).to_owned();
    row_ui(ui, "", |ui, _| {
        let why_not = match &form.reading {
            Some(_) => Some(said::READING),
            None => path.is_empty().then_some(fields::FILE_FIRST),
        };
        if able_button_ui(ui, button(said::READ_RECORD), why_not) {
            form.read(PathBuf::from(path), drafts, ui.ctx());
        }
    });
    if let Some(why) = &form.refused {
        reason_ui(ui, why);
    }
    for told in &form.told {
        wrapped_ui(ui, told);
    }
    // which risk a record would be read for
    if scene.season.settings().frost.is_none() {
        soft_ui(ui, &said::read_for(scene.unit));
    }
}
