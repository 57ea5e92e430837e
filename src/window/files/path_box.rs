//! A field for a path, with what is in its folder: files without any dialog of the system.
//!
//! It stays until what was asked for is done or given up; a refusal stands beside the path.

use std::ffi::OsString;
use std::path::{MAIN_SEPARATOR, Path, PathBuf};

use egui::text::{CCursor, CCursorRange};
use egui::text_edit::TextEditState;
use egui::{Button, Key, Label, RichText, ScrollArea, TextEdit, Ui, vec2};

use crate::words::files as words;

use crate::window::action::{Action, File};
use crate::window::desktop::Purpose;
use crate::window::kit::{Named, State, Stop, able_button_ui, state_ui, stop_ui};
use crate::window::theme::{self, Palette};

use super::modal::modal;

/// More names than these are found faster by typing.
const MOST_LISTED: usize = 200;

#[derive(Debug)]
pub(super) struct PathBox {
    purpose: Purpose,
    text: String,
    /// Why it is here.
    why: Option<String>,
    refused: Option<String>,
    /// There is such a file, and its name has not been written again since that was said.
    replaces: Option<PathBuf>,
    listed: Option<Listed>,
    focused: bool,
}

/// What a folder holds that could be meant; read anew only for another folder.
#[derive(Debug)]
struct Listed {
    folder: PathBuf,
    folders: Vec<String>,
    /// Files that may be meant.
    files: Vec<String>,
}

impl PathBox {
    pub(super) fn new(purpose: Purpose, text: String, why: Option<String>) -> Self {
        Self { purpose, text, why, refused: None, replaces: None, listed: None, focused: false }
    }

    pub(super) fn refuse(&mut self, why: String) {
        self.refused = Some(why);
    }

    /// What the button would do, or nothing where it only leads on.
    fn pressed(&mut self, path: PathBuf, own: Option<&Path>) -> Option<Action> {
        self.refused = None;
        if path.is_dir() {
            self.go_to(&path);
            return None;
        }
        if self.purpose != Purpose::Save {
            return Some(path_action(self.purpose, path));
        }
        let path = with_ending(path);
        if path.exists() && own != Some(&path) && self.replaces.as_ref() != Some(&path) {
            self.refused = Some(words::there_already(&path));
            self.replaces = Some(path);
            return None;
        }
        Some(path_action(Purpose::Save, path))
    }

    fn go_to(&mut self, folder: &Path) {
        self.text = format!("{}{MAIN_SEPARATOR}", folder.display().to_string().trim_end_matches(MAIN_SEPARATOR));
        self.refused = None;
    }
}

impl Listed {
    fn of(folder: &Path, purpose: Purpose) -> Self {
        let mut listed = Self { folder: folder.to_owned(), folders: Vec::new(), files: Vec::new() };
        // A folder that can't be read has nothing to show; opening or saving there says why.
        for entry in std::fs::read_dir(folder).into_iter().flatten().filter_map(Result::ok) {
            let name = entry.file_name().to_string_lossy().into_owned();
            if name.starts_with('.') {
                continue;
            }
            if entry.path().is_dir() {
                listed.folders.push(name);
            } else if is_meant(Path::new(&name), purpose) {
                listed.files.push(name);
            }
        }
        for names in [&mut listed.folders, &mut listed.files] {
            names.sort_by_key(|name| name.to_lowercase());
            names.truncate(MOST_LISTED);
        }
        listed
    }
}

/// By its ending.
fn is_meant(path: &Path, purpose: Purpose) -> bool {
    let one_of = |endings: [&str; 3]| {
        path.extension().is_some_and(|ending| endings.iter().any(|one| ending.eq_ignore_ascii_case(one)))
    };
    match purpose {
        Purpose::Open | Purpose::Save => has_ending(path),
        Purpose::Weather => one_of(["csv", "dly", "txt"]),
        Purpose::SowingTable => one_of(["csv", "tsv", "txt"]),
    }
}

fn has_ending(path: &Path) -> bool {
    path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("ron"))
}

/// `spring` means `spring.ron`.
fn with_ending(path: PathBuf) -> PathBuf {
    if has_ending(&path) {
        return path;
    }
    let mut name: OsString = path.into_os_string();
    name.push(".ron");
    name.into()
}

/// A name that a dialog gave without an ending gets ours, unless that would write over another file.
pub(super) fn ended(path: PathBuf, exists: impl Fn(&Path) -> bool) -> PathBuf {
    let ours = if path.extension().is_none() { with_ending(path.clone()) } else { return path };
    if exists(&ours) || exists(&path) { path } else { ours }
}

/// What follows from a path that was chosen for it.
pub(super) fn path_action(purpose: Purpose, path: PathBuf) -> Action {
    match purpose {
        Purpose::Open => Action::File(File::OpenPath(path)),
        Purpose::Save => Action::File(File::SaveTo(path)),
        Purpose::Weather => Action::File(File::ReadWeather(path)),
        Purpose::SowingTable => Action::File(File::ReadTable(path)),
    }
}

/// What was written, from the home folder after `~/`, from `base` where it names no root.
fn typed_path(text: &str, base: Option<&Path>, home: Option<&Path>) -> PathBuf {
    let text = text.trim();
    let from_home = text.strip_prefix('~').filter(|rest| rest.is_empty() || rest.starts_with(['/', MAIN_SEPARATOR]));
    match (from_home, home, base) {
        (Some(rest), Some(home), _) => home.join(rest.trim_start_matches(['/', MAIN_SEPARATOR])),
        (_, _, Some(base)) => base.join(text),
        _ => PathBuf::from(text),
    }
}

/// Whether it was given up.
pub(super) fn path_box_ui(
    ui: &mut Ui,
    path_box: &mut Option<PathBox>,
    base: Option<&Path>,
    own: Option<&Path>,
    actions: &mut Vec<Action>,
) -> bool {
    let palette = Palette::of(ui);
    let Some(path_box) = path_box else { return false };
    let home = std::env::var_os("HOME").or_else(|| std::env::var_os("USERPROFILE")).map(PathBuf::from);
    let path = |text: &str| typed_path(text, base, home.as_deref());
    let (title, go) = match path_box.purpose {
        Purpose::Open => (words::OPEN_SEASON, words::OPEN),
        Purpose::Save if path_box.replaces.is_some() => (words::SAVE_SEASON, words::REPLACE),
        Purpose::Save => (words::SAVE_SEASON, words::SAVE),
        Purpose::Weather => (words::CHOOSE_WEATHER, words::READ),
        Purpose::SowingTable => (words::CHOOSE_TABLE, words::READ),
    };
    let mut given_up = false;
    let modal = modal(ui, "path_box").show(ui, |ui| {
        ui.set_width(560.0);
        ui.label(RichText::new(title).font(theme::strong(theme::HEAD_PT)));
        if let Some(why) = &path_box.why {
            ui.add(Label::new(RichText::new(why).color(palette.soft_ink)).wrap());
        }
        ui.add_space(6.0);
        let label = ui.label(words::PATH);
        let field = TextEdit::singleline(&mut path_box.text).desired_width(f32::INFINITY).min_size(vec2(0.0, 28.0));
        let response = ui.add(field).labelled_by(label.id);
        if response.changed() {
            (path_box.refused, path_box.replaces) = (None, None);
        }
        if !path_box.focused {
            response.request_focus();
            path_box.focused = true;
            // At the end of the path, whatever was written here before.
            let mut state = TextEditState::default();
            let end = CCursor::new(path_box.text.chars().count());
            state.cursor.set_char_range(Some(CCursorRange::one(end)));
            state.store(ui.ctx(), response.id);
        }
        let entered = response.lost_focus() && ui.input(|i| i.key_pressed(Key::Enter));
        if let Some(refused) = &path_box.refused {
            ui.add(Label::new(RichText::new(refused).color(palette.trouble)).wrap());
        }
        listed_ui(ui, path_box, &path, actions);
        ui.add_space(10.0);
        ui.horizontal(|ui| {
            let named = !path_box.text.trim().is_empty();
            let why_not = (!named).then_some(words::PATH_FIRST);
            let pressed = able_button_ui(ui, Button::new(go).min_size(vec2(96.0, 30.0)), why_not);
            // Enter only says what would be written over; to do it takes the button.
            if pressed || (entered && named && path_box.replaces.is_none()) {
                let path = path(&path_box.text);
                actions.extend(path_box.pressed(path, own));
            }
            if entered {
                response.request_focus();
            }
            if ui.add(Button::new(words::CANCEL).min_size(vec2(96.0, 30.0))).clicked() {
                given_up = true;
            }
        });
    });
    given_up || modal.should_close()
}

/// What is in the folder; one click opens a season, or takes over its name to save under.
fn listed_ui(ui: &mut Ui, path_box: &mut PathBox, path: &impl Fn(&str) -> PathBuf, actions: &mut Vec<Action>) {
    let written = path(&path_box.text);
    let in_folder = path_box.text.trim().is_empty() || path_box.text.ends_with(['/', MAIN_SEPARATOR]);
    let folder = if in_folder { Some(written.as_path()) } else { written.parent() };
    let Some(folder) = folder.map(Path::to_owned) else { return };
    if path_box.listed.as_ref().is_none_or(|listed| listed.folder != folder) {
        path_box.listed = Some(Listed::of(&folder, path_box.purpose));
    }
    let Some(listed) = path_box.listed.take() else { return };
    ui.add_space(8.0);
    let name = words::in_folder(&folder);
    ui.label(RichText::new(&name).font(theme::small()));
    ScrollArea::vertical().id_salt("in_the_folder").max_height(190.0).auto_shrink([false, true]).show(ui, |ui| {
        stop_ui(ui, "in_the_folder", &name, |ui, stop| {
            if let Some(above) = folder.parent()
                && row_ui(ui, stop, words::FOLDER_ABOVE)
            {
                path_box.go_to(above);
            }
            for name in &listed.folders {
                if row_ui(ui, stop, &format!("{name}{MAIN_SEPARATOR}")) {
                    path_box.go_to(&folder.join(name));
                }
            }
            for name in &listed.files {
                if row_ui(ui, stop, name) {
                    let chosen = folder.join(name);
                    path_box.text = chosen.display().to_string();
                    (path_box.refused, path_box.replaces) = (None, None);
                    if path_box.purpose != Purpose::Save {
                        actions.push(path_action(path_box.purpose, chosen));
                    }
                }
            }
        });
        if listed.files.is_empty() {
            let said = match path_box.purpose {
                Purpose::Weather => words::NO_WEATHER_HERE,
                Purpose::SowingTable => words::NO_TABLE_HERE,
                Purpose::Open | Purpose::Save => words::NO_SEASON_HERE,
            };
            state_ui(ui, State::Empty, said);
        }
    });
    path_box.listed = Some(listed);
}

fn row_ui(ui: &mut Ui, stop: &mut Stop, name: &str) -> bool {
    let button = Button::new(name).min_size(vec2(ui.available_width(), 26.0)).truncate();
    stop.row_ui(ui, button.frame_when_inactive(false).right_text(""), Named::new(name))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[cfg(unix)]
    #[test]
    fn a_path_may_start_at_home_or_in_the_folder_shown() {
        let (base, home) = (Some(Path::new("/plans")), Some(Path::new("/home/g")));
        for (text, expected) in [
            (" /a/b.ron ", "/a/b.ron"),
            ("b.ron", "/plans/b.ron"),
            ("~/b.ron", "/home/g/b.ron"),
            ("~", "/home/g"),
            ("~b.ron", "/plans/~b.ron"),
        ] {
            assert_eq!(typed_path(text, base, home), Path::new(expected), "{text:?}");
        }
        assert_eq!(typed_path("b.ron", None, None), Path::new("b.ron"));
    }

    #[test]
    fn a_name_without_an_ending_gets_ours() {
        for (name, expected) in [("spring", "spring.ron"), ("a.b", "a.b.ron"), ("x.RON", "x.RON")] {
            assert_eq!(with_ending(name.into()), Path::new(expected));
        }
    }

    #[test]
    fn a_name_from_a_dialog_gets_our_ending_only_where_nothing_is_written_over() {
        let check = |name: &str, there: &str, expected: &str| {
            assert_eq!(ended(name.into(), |path| path == Path::new(there)), Path::new(expected), "{name}, {there}");
        };
        check("spring", "", "spring.ron");
        check("spring", "spring.ron", "spring");
        check("spring", "spring", "spring");
        check("spring.txt", "", "spring.txt");
    }
}
