//! Pictures of the plan as files that the template reads.

use drawing::{Dress, Figure};
use serde_json::{Value, json};

use crate::letters::{self, Lacking};
use crate::press::Files;

/// Pictures gathered while a sheet is put together.
#[derive(Default)]
pub(crate) struct Album {
    files: Files,
    /// Letters that the fonts lack.
    pub lacking: Lacking,
}

impl Album {
    /// Takes a picture in; what the template needs to place it.
    pub fn take(&mut self, figure: &Figure) -> Value {
        let name = format!("figure-{}.svg", self.files.len());
        let svg = letters::fit_picture(&drawing::svg(figure, Dress::Paper), &mut self.lacking);
        self.files.insert(name.clone(), svg.into_bytes());
        json!({
            "file": name,
            "width": figure.size_mm[0],
            "height": figure.size_mm[1],
            "scale": figure.scale.ratio(),
            "title": figure.title,
            "says": alternative(figure),
        })
    }

    /// The files.
    pub fn close(self) -> (Files, Lacking) {
        (self.files, self.lacking)
    }
}

/// The picture in words; never empty, since a reader without eyes is told at least what is there.
fn alternative(figure: &Figure) -> String {
    let words = [figure.title.as_str(), figure.says.as_str()];
    let words: Vec<&str> = words.into_iter().filter(|words| !words.trim().is_empty()).collect();
    if words.is_empty() { "Picture".to_string() } else { words.join(". ") }
}
