//! What is set on this computer: never in a book. One file for its owner's eyes, written whole or not at all.

use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};
use std::fs::{DirBuilder, File, OpenOptions};
use std::io::Write;
use std::os::unix::fs::{DirBuilderExt, OpenOptionsExt};
use std::path::{Path, PathBuf};
use workshop::reader::{Degrees, Measure, Reader};
use workshop::wire::WireError;

/// A screen's CSS pixel lies in this range, mm: from a dense telephone to a television seen close (common practice, no
/// source).
const MM_PER_PX: std::ops::RangeInclusive<f64> = 0.05..=2.0;

/// The settings that a person sees and changes.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Settings {
    /// Look.
    pub theme: Theme,
    /// Unit of temperatures.
    pub temperature: Degrees,
    /// Other units.
    pub measure: Measure,
    /// Paper of pages.
    pub paper: Paper,
    /// Quiet notices at night (22 to 6 o'clock) too.
    pub night: bool,
    /// Start hidden with the session.
    pub autostart: bool,
    /// Keep the screen awake while a must-not-exceed clock runs.
    pub awake: bool,
    /// Size of a CSS pixel as measured against a card, mm; null: not measured.
    pub mm_per_css_px: Option<f64>,
}

macro_rules! choice {
    ($($name:ident: $doc:literal { $first:ident $word:literal $(, $more:ident $words:literal)* })*) => {$(
        #[doc = $doc]
        #[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
        pub enum $name {
            #[default]
            #[doc = $word]
            #[serde(rename = $word)]
            $first,
            $(#[doc = $words] #[serde(rename = $words)] $more,)*
        }
    )*};
}

choice! {
    Theme: "Look of the window." { System "system", Light "light", Dark "dark", Contrast "contrast" }
    Paper: "Paper of pages." { A4 "a4", Letter "letter" }
}

impl Default for Settings {
    fn default() -> Settings {
        Settings {
            theme: Theme::default(),
            temperature: Degrees::default(),
            measure: Measure::default(),
            paper: Paper::default(),
            night: false,
            autostart: false,
            awake: true,
            mm_per_css_px: None,
        }
    }
}

impl Settings {
    /// In which units sentences are said.
    pub fn reader(&self) -> Reader {
        Reader { temperature: self.temperature, measure: self.measure }
    }

    /// These with the given ones in their place. Errors: `unknown-field` or `out-of-range`, and nothing changes.
    pub fn with(&self, given: &Map<String, Value>) -> Result<Settings, WireError> {
        let mut all = serde_json::to_value(self).unwrap_or_default();
        for (name, value) in given {
            let known = all.get(name).is_some();
            if !known {
                let error = WireError::new("unknown-field", format!("There is no setting \"{name}\"."), "");
                return Err(error.field(format!("settings.{name}")));
            }
            all[name] = value.clone();
            let read: Result<Settings, _> = serde_json::from_value(all.clone());
            let fits = read.is_ok_and(|read| read.mm_per_css_px.is_none_or(|mm| MM_PER_PX.contains(&mm)));
            if !fits {
                let sentence = format!("The setting {name} cannot be {value}.");
                let error = WireError::new("out-of-range", sentence, "It stays as it was.");
                return Err(error.field(format!("settings.{name}")).value(&value.to_string()));
            }
        }
        serde_json::from_value(all).map_err(|why| WireError::new("fault", format!("The settings: {why}."), ""))
    }
}

/// What stands in the file: the settings and the book used last.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct Kept {
    /// The settings.
    pub settings: Settings,
    /// The book used last.
    pub book: Option<PathBuf>,
}

/// Reads the file. One that cannot be understood counts as none; its sentence says so.
pub fn read(file: &Path) -> (Kept, Option<String>) {
    let text = match std::fs::read_to_string(file) {
        Ok(text) => text,
        Err(why) if why.kind() == std::io::ErrorKind::NotFound => return (Kept::default(), None),
        Err(why) => return (Kept::default(), Some(format!("The settings of this computer cannot be read: {why}."))),
    };
    let kept: Result<Kept, _> = serde_json::from_str(&text);
    match kept {
        Ok(kept) if kept.settings.with(&Map::new()).is_ok() => (kept, None),
        _ => (Kept::default(), Some("The settings of this computer are not understood: the usual ones hold.".into())),
    }
}

/// Writes the file beside its place and moves it there, so that it is whole or as before.
pub fn write(file: &Path, kept: &Kept) -> std::io::Result<()> {
    let folder = file.parent().unwrap_or(Path::new("."));
    DirBuilder::new().recursive(true).mode(0o700).create(folder)?;
    let draft = file.with_extension(format!("new-{}", std::process::id()));
    let written = (|| {
        let mut out = OpenOptions::new().write(true).create(true).truncate(true).mode(0o600).open(&draft)?;
        out.write_all(&serde_json::to_vec_pretty(kept)?)?;
        out.sync_all()?;
        std::fs::rename(&draft, file)?;
        File::open(folder)?.sync_all()
    })();
    if written.is_err() {
        let _ = std::fs::remove_file(&draft);
    }
    written
}
