//! Checks the book by the logbook's own reading path, against a checkpoint where one is given.

use super::OnTheWay;
use super::answer::{HeadLine, VerifyAnswer, VerifyFound};
use super::question::Verify;
use crate::wire::WireError;
use logbook::checkpoint::{self, Checkpoint};
use logbook::verify::{Depth, Found, LogHead, Progress};
use serde::Serialize;
use std::path::Path;

/// Answers `verify`; tells now and then how far it is, and stops when it is told to: then the answer says so.
pub fn verify(path: &Path, asked: &Verify, way: OnTheWay) -> Result<VerifyAnswer, WireError> {
    let depth = depth(asked.depth.as_deref().unwrap_or("bytes"))?;
    let held = asked.checkpoint.as_deref().map(held).transpose()?;
    let mut telling = |at: Progress| {
        let done = at.done.saturating_mul(1_000_000) / at.of.max(1);
        way(u32::try_from(done).unwrap_or(1_000_000).min(1_000_000), &format!("{} of {} looked at", at.done, at.of))
    };
    let report = logbook::verify::verify(path, depth, held.as_ref(), &mut telling)?;
    Ok(VerifyAnswer {
        ok: report.ok,
        depth: word(&report.depth),
        logs: report.logs.into_iter().map(log).collect(),
        found: report.found.into_iter().map(found).collect(),
        cannot_show: report.cannot_show,
    })
}

fn depth(word: &str) -> Result<Depth, WireError> {
    match word {
        "bytes" => Ok(Depth::Bytes),
        "meaning" => Ok(Depth::Meaning),
        "rebuild" => Ok(Depth::Rebuild),
        _ => {
            let error =
                WireError::new("out-of-range", "body.depth is no depth of verify.", "Use bytes, meaning or rebuild.");
            Err(error.field("body.depth").value(word).range("bytes, meaning, rebuild"))
        }
    }
}

fn held(text: &str) -> Result<Checkpoint, WireError> {
    checkpoint::parse(text).map_err(|error| {
        let sentence = format!("body.checkpoint cannot be read: {error}.");
        let advice = "A checkpoint has three lines: the log, its size, its root in base64.";
        WireError::new("out-of-range", sentence, advice).field("body.checkpoint").value(text)
    })
}

fn log(head: LogHead) -> HeadLine {
    HeadLine { log: head.log, standing: head.standing, size: head.size, root: head.root }
}

fn found(one: Found) -> VerifyFound {
    VerifyFound { log: one.log, seq: one.seq, what: word(&one.what), sentence: one.sentence }
}

/// The word of a closed set as it stands on the wire.
fn word<T: Serialize>(of: &T) -> String {
    serde_json::to_value(of).ok().and_then(|value| value.as_str().map(str::to_owned)).unwrap_or_default()
}
