//! A logger's file: comma, semicolon or tab separated, decimal point or comma, with or without a header. Times are
//! RFC 3339, or `YYYY-MM-DD HH:MM[:SS]` read in the zone the computer shows now. Rows are gathered by the minute.

use super::instant;
use super::reading::Columns;
use crate::wire::{WireError, shown};
use glue::unit::{AirTemperature, Humidity, UnitError};
use logbook::entry::Id;
use logbook::store::{Block, Minute};
use sha2::{Digest, Sha256};
use std::collections::BTreeMap;
use std::io::Read;

/// Largest file read, bytes.
const LARGEST: u64 = 64 << 20;
/// Rows looked at to find the header.
const HEADER_WITHIN: usize = 40;
const HOUR_MS: i64 = 3_600_000;
const MINUTE_MS: i64 = 60_000;

/// What a file says, by the minute.
#[derive(Debug)]
pub(super) struct File {
    /// Its name, without a folder.
    pub name: String,
    /// Digest of its bytes, hex.
    pub sha256: String,
    /// Minutes with a reading, rising.
    pub minutes: Vec<Minute>,
    /// Lines after the header that were no readings.
    pub skipped: u64,
}

impl File {
    /// Reads a file whole. Impossible rows refuse it by their line; lines that are no readings are counted.
    pub fn read(path: &str, columns: Option<&Columns>, zone_min: i32, latest_ms: i64) -> Result<File, WireError> {
        let bytes = load(path)?;
        let text = decoded(path, &bytes)?;
        let table = Table::open(&text, path, columns)?;
        let mut minutes: BTreeMap<i64, Gathered> = BTreeMap::new();
        let mut skipped = 0;
        for (line, row) in table.rows {
            match table.found.reading(&row, zone_min) {
                Ok(None) => skipped += 1,
                Ok(Some(reading)) => {
                    plausible(path, line, reading.at_ms, latest_ms)?;
                    minutes.entry(reading.at_ms.div_euclid(MINUTE_MS) * MINUTE_MS).or_default().take(&reading);
                }
                Err((what, value, range)) => return Err(impossible(path, line, what, &value, range)),
            }
        }
        if minutes.is_empty() {
            let sentence =
                format!("body.path is \"{}\", in which no line gives a time and a temperature.", shown(path));
            let error = WireError::new("out-of-range", sentence, "Name its columns.");
            return Err(error.field("body.path").value(path).range("a file with at least one reading"));
        }
        let name = std::path::Path::new(path).file_name().unwrap_or_default().to_string_lossy();
        let minutes = minutes.into_iter().map(|(at_ms, minute)| minute.mean(at_ms)).collect();
        Ok(File { name: shown(&name), sha256: hex::encode(Sha256::digest(&bytes)), minutes, skipped })
    }

    /// One block an hour.
    pub fn blocks(&self, place: &Id, source: &str) -> Vec<Block> {
        let mut hours: BTreeMap<i64, Vec<Minute>> = BTreeMap::new();
        for minute in &self.minutes {
            hours.entry(minute.at_ms.div_euclid(HOUR_MS) * HOUR_MS).or_default().push(*minute);
        }
        let block = |(hour_ms, minutes)| Block { place: place.clone(), source: source.to_owned(), hour_ms, minutes };
        hours.into_iter().map(block).collect()
    }
}

fn load(path: &str) -> Result<Vec<u8>, WireError> {
    let wrong = |why: String| {
        let sentence = format!("body.path is \"{}\", which cannot be read: {why}.", shown(path));
        WireError::new("not-found", sentence, "Check the path.")
            .field("body.path")
            .value(path)
            .range("a file on this machine")
    };
    if path.len() > 4_096 || path.contains('\0') {
        return Err(wrong("that is no path".to_owned()));
    }
    let about = std::fs::metadata(path).map_err(|error| wrong(in_words(&error)))?;
    if !about.is_file() {
        return Err(wrong("it is no file".to_owned()));
    }
    let mut bytes = Vec::new();
    let file = std::fs::File::open(path).map_err(|error| wrong(in_words(&error)))?;
    // Some files hold more than they say.
    file.take(LARGEST + 1).read_to_end(&mut bytes).map_err(|error| wrong(error.to_string()))?;
    if bytes.len() as u64 > LARGEST {
        let sentence = format!("body.path is \"{}\", a file of more than 64 MB; it takes at most 64 MB.", shown(path));
        let error = WireError::new("out-of-range", sentence, "Split the file.").field("body.path");
        return Err(error.value(path).range("at most 64 MB"));
    }
    Ok(bytes)
}

fn in_words(error: &std::io::Error) -> String {
    match error.kind() {
        std::io::ErrorKind::NotFound => "there is no such file".to_owned(),
        std::io::ErrorKind::PermissionDenied => "this computer does not let it be read".to_owned(),
        _ => error.to_string(),
    }
}

/// UTF-8, or one byte a letter as older loggers write their degree sign.
fn decoded(path: &str, bytes: &[u8]) -> Result<String, WireError> {
    if bytes.starts_with(&[0xFF, 0xFE]) || bytes.starts_with(&[0xFE, 0xFF]) {
        let sentence = format!("body.path is \"{}\", which is written in UTF-16; it takes UTF-8.", shown(path));
        let error = WireError::new("out-of-range", sentence, "Save it as UTF-8.").field("body.path");
        return Err(error.value(path).range("UTF-8"));
    }
    let bytes = bytes.strip_prefix(&[0xEF, 0xBB, 0xBF]).unwrap_or(bytes);
    Ok(match std::str::from_utf8(bytes) {
        Ok(text) => text.to_owned(),
        Err(_) => bytes.iter().copied().map(char::from).collect(),
    })
}

/// Rows after the header, with their line numbers, and where the columns are.
struct Table {
    found: Found,
    rows: Vec<(u64, csv::StringRecord)>,
}

impl Table {
    fn open(text: &str, path: &str, columns: Option<&Columns>) -> Result<Table, WireError> {
        let delimiter = sniff(text);
        let mut reader = csv::ReaderBuilder::new();
        let reader = reader.delimiter(delimiter).has_headers(false).flexible(true).from_reader(text.as_bytes());
        let mut rows: Vec<(u64, csv::StringRecord)> = Vec::new();
        for row in reader.into_records().flatten() {
            let line = row.position().map_or(0, csv::Position::line);
            rows.push((line, row));
        }
        let comma = delimiter != b',';
        let header = rows.iter().take(HEADER_WITHIN).enumerate();
        let header = header.filter_map(|(at, (_, row))| Found::of(row, columns, comma).map(|found| (at, found))).next();
        match header {
            Some((at, found)) => Ok(Table { found, rows: rows.split_off(at + 1) }),
            None if columns.is_none() => Ok(Table { found: Found::plain(comma), rows }),
            None => {
                let sentence = format!("body.columns names headers that \"{}\" does not have.", shown(path));
                let error = WireError::new("not-found", sentence, "Write the headers as in the file's first lines.");
                Err(error.field("body.columns").range("headers of the file"))
            }
        }
    }
}

/// The sign that parts the columns: the one met most often in the first lines, semicolon and tab before comma.
fn sniff(text: &str) -> u8 {
    let lines: Vec<&str> = text.lines().filter(|line| !line.trim().is_empty()).take(HEADER_WITHIN).collect();
    let met = |sign: char| lines.iter().filter(|line| line.contains(sign)).count();
    let most = lines.len().div_ceil(2);
    if met(';') >= most.max(1) {
        b';'
    } else if met('\t') >= most.max(1) {
        b'\t'
    } else {
        b','
    }
}

/// Where the columns are.
struct Found {
    day: Option<usize>,
    time: usize,
    temperature: usize,
    humidity: Option<usize>,
    unit: &'static str,
    comma: bool,
}

/// One row.
struct Row {
    at_ms: i64,
    mk: i64,
    humidity_ppm: Option<i64>,
}

/// A column, what it held, and its range.
type Impossible = (&'static str, String, &'static str);

impl Found {
    /// Time, temperature and humidity in the first three columns.
    fn plain(comma: bool) -> Found {
        Found { day: None, time: 0, temperature: 1, humidity: Some(2), unit: "C", comma }
    }

    /// The columns of a header row; None: it is no header.
    fn of(row: &csv::StringRecord, columns: Option<&Columns>, comma: bool) -> Option<Found> {
        let heads: Vec<String> = row.iter().map(|head| head.trim().to_lowercase()).collect();
        let named = |name: &Option<String>| {
            let name = name.as_ref()?.trim().to_lowercase();
            heads.iter().position(|head| *head == name)
        };
        let guess = |words: &[&str]| words.iter().find_map(|word| heads.iter().position(|head| head.contains(word)));
        let asked = |name: fn(&Columns) -> &Option<String>| columns.map(name).filter(|name| name.is_some());
        let column = |name: fn(&Columns) -> &Option<String>, words: &[&str]| match asked(name) {
            Some(name) => named(name),
            None => guess(words),
        };
        let temperature = column(|it| &it.temperature, &["temp", "°c", "°f"])?;
        let time = column(|it| &it.time, &["time", "uhrzeit", "zeit", "date", "datum"])?;
        let dated = heads.iter().position(|head| head == "date" || head == "datum");
        let day = dated.filter(|day| asked(|it| &it.time).is_none() && *day != time);
        let humidity = column(|it| &it.humidity, &["humid", "rh", "feuchte"]).filter(|at| *at != temperature);
        let head = heads.get(temperature)?;
        let unit = ["°f", "(f)", "[f]", "fahrenheit"].iter().any(|mark| head.contains(mark)).then_some("F");
        let kelvin = ["(k)", "[k]", "kelvin"].iter().any(|mark| head.contains(mark)).then_some("K");
        let unit = unit.or(kelvin).unwrap_or("C");
        (time != temperature).then_some(Found { day, time, temperature, humidity, unit, comma })
    }

    /// A row's reading; None: it holds none.
    fn reading(&self, row: &csv::StringRecord, zone_min: i32) -> Result<Option<Row>, Impossible> {
        let cell = |at: usize| row.get(at).unwrap_or("").trim();
        let time = match self.day {
            Some(day) => format!("{} {}", cell(day), cell(self.time)),
            None => cell(self.time).to_owned(),
        };
        let Some(at_ms) = instant::logged(&time, zone_min) else {
            return Ok(None);
        };
        let text = self.number(cell(self.temperature));
        let mk = match AirTemperature::parse_in(&text, self.unit) {
            Ok(read) => read.value.mk(),
            Err(UnitError::OutOfRange { range }) => return Err(("temperature", text, range)),
            Err(_) => return Ok(None),
        };
        let text = self.number(self.humidity.map_or("", cell));
        let humidity_ppm = match Humidity::parse_in(&text, "%") {
            Ok(read) => Some(read.value.ppm()),
            Err(UnitError::OutOfRange { range }) => return Err(("humidity", text, range)),
            Err(_) => None,
        };
        Ok(Some(Row { at_ms, mk, humidity_ppm }))
    }

    /// A cell with a decimal point and at most six decimals: a logger's further digits say nothing.
    fn number(&self, cell: &str) -> String {
        let text = if self.comma { cell.replacen(',', ".", 1) } else { cell.to_owned() };
        let Some(point) = text.find('.') else { return text };
        let (whole, tail) = text.split_at(point + 1);
        let digits = tail.bytes().take_while(u8::is_ascii_digit).count();
        format!("{whole}{}{}", &tail[..digits.min(6)], &tail[digits..])
    }
}

/// What one minute holds.
struct Gathered {
    low: i64,
    high: i64,
    sum: i64,
    count: i64,
    humidity: (i64, i64),
}

impl Default for Gathered {
    fn default() -> Gathered {
        Gathered { low: i64::MAX, high: i64::MIN, sum: 0, count: 0, humidity: (0, 0) }
    }
}

impl Gathered {
    fn take(&mut self, row: &Row) {
        self.low = self.low.min(row.mk);
        self.high = self.high.max(row.mk);
        self.sum += row.mk;
        self.count += 1;
        if let Some(ppm) = row.humidity_ppm {
            self.humidity = (self.humidity.0 + ppm, self.humidity.1 + 1);
        }
    }

    fn mean(self, at_ms: i64) -> Minute {
        let mean = |sum: i64, count: i64| (2 * sum + count).div_euclid(2 * count.max(1));
        let (humidity, humid) = self.humidity;
        Minute {
            at_ms,
            low_mk: self.low,
            mean_mk: mean(self.sum, self.count),
            high_mk: self.high,
            humidity_ppm: (humid > 0).then(|| mean(humidity, humid)),
        }
    }
}

fn plausible(path: &str, line: u64, at_ms: i64, latest_ms: i64) -> Result<(), WireError> {
    let at = instant::written(at_ms);
    if instant::implausible(at_ms) {
        return Err(impossible(path, line, "time", &at, "1990-01-01 to now"));
    }
    if at_ms > latest_ms + instant::LEEWAY_MS {
        let mut error = impossible(path, line, "time", &at, "1990-01-01 to now");
        error.code = "future";
        return Err(error);
    }
    Ok(())
}

fn impossible(path: &str, line: u64, what: &str, value: &str, range: &str) -> WireError {
    let sentence = format!(
        "body.path is \"{}\": line {line} has the {what} \"{}\", which is outside {range}.",
        shown(path),
        shown(value)
    );
    let advice = "Correct or remove that line; nothing of the file was taken.";
    WireError::new("out-of-range", sentence, advice).field("body.path").value(value).range(range)
}
