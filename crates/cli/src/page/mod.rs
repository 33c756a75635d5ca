//! The page on paper: a part's page as PDF/A-3a with tags (PDF/UA-1) and the page's JSON attached. It draws the value
//! it is given and adds nothing to it. The same page and paper give the same bytes.

mod drawn;
mod keep;
#[cfg(test)]
mod sample;
#[cfg(test)]
mod tests;
mod world;

pub use keep::write;

use chrono::{DateTime, Datelike, Timelike};
use serde_json::Value;
use typst::diag::SourceDiagnostic;
use typst::foundations::{Datetime, Smart};
use typst_layout::PagedDocument;
use typst_pdf::{PdfOptions, PdfStandard, PdfStandards, Timestamp};
use world::Desk;

/// Sheet sizes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, clap::ValueEnum)]
pub enum Paper {
    /// 210 mm by 297 mm.
    #[default]
    A4,
    /// 8.5 in by 11 in.
    Letter,
}

impl Paper {
    /// Name of the size for the typesetter.
    fn name(self) -> &'static str {
        match self {
            Paper::A4 => "a4",
            Paper::Letter => "us-letter",
        }
    }
}

/// Typesets a page; `step` is told how far it is, in millionths, and what is being done. The error is a sentence for
/// people: it can only be a fault of the template.
pub fn pdf(page: &Value, paper: Paper, mut step: impl FnMut(u32, &str)) -> Result<Vec<u8>, String> {
    step(100_000, "Setting out the page");
    let desk = Desk::new(page, paper)?;
    step(200_000, "Laying out the lines");
    let document: PagedDocument = typst::compile(&desk).output.map_err(|errors| told(&errors))?;
    step(600_000, &format!("Drawing {} pages", document.pages().len()));
    let bytes = typst_pdf::pdf(&document, &options(page)?).map_err(|errors| told(&errors))?;
    step(900_000, "Writing the file");
    Ok(bytes)
}

fn options(page: &Value) -> Result<PdfOptions, String> {
    let standards = PdfStandards::new(&[PdfStandard::A_3a, PdfStandard::Ua_1]).map_err(|why| format!("{why:?}"))?;
    Ok(PdfOptions {
        ident: Smart::Custom(format!("{} {}", page["part"]["id"], page["issued"]["entry"])),
        creator: Smart::Custom(Some("Gluewright".to_owned())),
        timestamp: issue_instant(page),
        standards,
        ..PdfOptions::default()
    })
}

/// The instant of issue as the file's date: the file says when the page was handed out, not when it was drawn.
fn issue_instant(page: &Value) -> Option<Timestamp> {
    let at = DateTime::parse_from_rfc3339(page["issued"]["at"].as_str()?).ok()?.to_utc();
    let small = |value: u32| u8::try_from(value).ok();
    let (month, day) = (small(at.month())?, small(at.day())?);
    let (hour, minute, second) = (small(at.hour())?, small(at.minute())?, small(at.second())?);
    Some(Timestamp::new_utc(Datetime::from_ymd_hms(at.year(), month, day, hour, minute, second)?))
}

fn told(errors: &[SourceDiagnostic]) -> String {
    let lines: Vec<String> = errors
        .iter()
        .map(|error| {
            let hints: Vec<String> = error.hints.iter().map(|hint| format!(" ({})", hint.v)).collect();
            format!("{}{}", error.message, hints.concat())
        })
        .collect();
    lines.join("; ")
}
