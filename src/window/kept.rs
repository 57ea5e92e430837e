//! What the toolkit keeps between starts, looked at before it is used: a size of nothing or of no
//! number would give a window that shows nothing, or none.

use std::collections::BTreeMap;
use std::path::Path;

use super::screens::is_a_zoom;

/// What the folder for it is called.
pub(super) const APP_ID: &str = "flatwright";

/// Drops what is damaged; all else stays. A file that can't be read or written is the toolkit's to
/// pass over.
pub(super) fn mend() {
    if let Some(folder) = eframe::storage_dir(APP_ID) {
        mend_in(&folder.join("app.ron"));
    }
}

fn mend_in(path: &Path) {
    let Ok(text) = std::fs::read_to_string(path) else { return };
    let Ok(kept) = ron::from_str::<BTreeMap<String, String>>(&text) else { return };
    let sound: BTreeMap<&String, &String> = kept.iter().filter(|(key, part)| is_sound(key, part)).collect();
    if sound.len() < kept.len()
        && let Ok(text) = ron::to_string(&sound)
    {
        std::fs::write(path, text).ok(); // as it was: the window then comes up as it can
    }
}

/// The toolkit's own parts hold lengths, places and the size of letters. Ours is looked at when it is
/// taken.
fn is_sound(key: &str, part: &str) -> bool {
    if key == eframe::APP_KEY {
        return true;
    }
    let mut words = part.split(|c: char| !(c.is_alphanumeric() || matches!(c, '_' | '.' | '-' | '+')));
    let whole = !words.any(|word| matches!(word.trim_start_matches(['-', '+']), "NaN" | "inf"));
    let zoom = part.split_once("zoom_factor:").map(|(_, rest)| rest.split([',', ')']).next().unwrap_or(""));
    whole && zoom.is_none_or(|zoom| zoom.trim().parse().is_ok_and(is_a_zoom))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(parts: &[(&str, &str)], left: &[&str]) {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("app.ron");
        let parts: BTreeMap<&str, &str> = parts.iter().copied().collect();
        std::fs::write(&path, ron::to_string(&parts).unwrap()).unwrap();
        mend_in(&path);
        let kept: BTreeMap<String, String> = ron::from_str(&std::fs::read_to_string(&path).unwrap()).unwrap();
        assert_eq!(kept.keys().collect::<Vec<_>>(), left);
    }

    #[test]
    fn damaged_sizes_are_dropped_and_all_else_stays() {
        let (app, window) =
            (("app", "(hint_hidden:true)"), ("window", "(normal_geometry:(inner_size_points:(x:900.0,y:600.0)))"));
        check(&[app, window, ("egui", "(options:(zoom_factor:1.2))")], &["app", "egui", "window"]);
        for zoom in ["0.0", "NaN", "inf", "-1", "0.01", "1e9", "wide"] {
            let egui = format!("(options:(zoom_factor:{zoom},other:1))");
            check(&[app, window, ("egui", &egui)], &["app", "window"]);
        }
        check(&[app, ("window", "(inner_size_points:(x:NaN,y:600.0))")], &["app"]);
        check(&[("app", "(zooms:{\"a\":NaN})")], &["app"]);
    }

    #[test]
    fn what_is_no_such_file_is_left_alone() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("app.ron");
        mend_in(&path);
        assert!(!path.exists());
        std::fs::write(&path, "neither map nor anything").unwrap();
        mend_in(&path);
        assert_eq!(std::fs::read_to_string(&path).unwrap(), "neither map nor anything");
    }
}
