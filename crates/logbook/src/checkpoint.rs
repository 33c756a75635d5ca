//! A checkpoint: the size and root of a log, as three lines of text that somebody else keeps.

use crate::entry::Id;
use crate::entry::read::is_id;
use crate::tree::Hash;
use base64::Engine;
use base64::engine::general_purpose::STANDARD;

/// Size and root of a log at one moment.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Checkpoint {
    /// Log.
    pub log: Id,
    /// Entries.
    pub size: u64,
    /// RFC 6962 root.
    pub root: Hash,
}

/// Why a text is no checkpoint.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("this is not a checkpoint: {0}")]
pub struct NoCheckpoint(pub String);

/// Reads the three lines: the log's id, the size in decimal without leading zeros, the root in base64. Nothing may
/// stand before, between or after them; the last line break may be missing.
pub fn parse(text: &str) -> Result<Checkpoint, NoCheckpoint> {
    let no = |why: &str| NoCheckpoint(why.to_owned());
    let body = text.strip_suffix('\n').unwrap_or(text);
    let lines: Vec<&str> = body.split('\n').collect();
    let [log, size, root] = lines.as_slice() else { return Err(no("it does not have three lines")) };
    if !is_id(log) {
        return Err(no("the first line is not a log's id"));
    }
    let number: u64 = size.parse().map_err(|_| no("the second line is not a size"))?;
    if number.to_string() != *size || number > crate::canon::LARGEST as u64 {
        return Err(no("the second line is not a size"));
    }
    let bytes = STANDARD.decode(root).map_err(|_| no("the third line is not base64"))?;
    let root = bytes.try_into().map_err(|_| no("the third line is not a root of 32 bytes"))?;
    Ok(Checkpoint { log: (*log).to_owned(), size: number, root })
}

/// Writes the three lines, each with its line break.
pub fn write(checkpoint: &Checkpoint) -> String {
    format!("{}\n{}\n{}\n", checkpoint.log, checkpoint.size, root_text(&checkpoint.root))
}

/// A root as text: base64.
pub fn root_text(root: &Hash) -> String {
    STANDARD.encode(root)
}

#[cfg(test)]
mod tests {
    use super::*;

    const GOOD: &str = "0b54cf16-8a9a-4b3e-8f2b-6a5f0d4d6f01\n813\n47DEQpj8HBSa+/TImW+5JCeuQeRkm5NMpJWZG3hSuFU=\n";

    #[test]
    fn three_lines_come_back() {
        let checkpoint = parse(GOOD).unwrap();
        assert_eq!(checkpoint.size, 813);
        assert_eq!(checkpoint.root, crate::tree::empty());
        assert_eq!(write(&checkpoint), GOOD);
        assert_eq!(parse(GOOD.trim_end()).unwrap(), checkpoint);
    }

    #[test]
    fn anything_else_is_refused() {
        let spoiled = [
            String::new(),
            GOOD.replace("813", "0813"),
            GOOD.replace("813", "+813"),
            GOOD.replace("813", "-1"),
            GOOD.replace("813", "9007199254740992"),
            GOOD.replace('\n', "\r\n"),
            GOOD.replace("0b54", "0B54"),
            GOOD.replace("uFU=", "uFU"),
            GOOD.replace("uFU=", "uFV="),
            GOOD.replace("47DE", "4 DE"),
            format!("{GOOD}\n"),
            format!("{GOOD}more\n"),
            format!("\n{GOOD}"),
            format!(" {GOOD}"),
        ];
        for text in spoiled {
            assert!(parse(&text).is_err(), "{text:?}");
        }
    }
}
