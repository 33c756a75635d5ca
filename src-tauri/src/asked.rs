//! What was asked for on the command line of the window.

use std::ffi::OsString;
use std::path::PathBuf;

/// The words after the program's name.
#[derive(Debug, Default, PartialEq, Eq)]
pub struct Asked {
    /// The book to open, whatever was open last.
    pub book: Option<PathBuf>,
    /// Start without a window: for the alarms alone.
    pub hidden: bool,
}

impl Asked {
    /// Reads the words; an unknown one is refused in one sentence.
    pub fn read(words: impl Iterator<Item = OsString>) -> Result<Asked, String> {
        let mut asked = Asked::default();
        let mut words = words;
        while let Some(word) = words.next() {
            match word.to_str() {
                Some("--hidden") => asked.hidden = true,
                Some("--book") => {
                    let path = words.next().map(PathBuf::from).ok_or("--book needs the path of a book.")?;
                    asked.book = Some(std::path::absolute(path).map_err(|why| format!("--book: {why}."))?);
                }
                _ => {
                    let word = workshop::wire::shown(&word.to_string_lossy());
                    return Err(format!("\"{word}\" is not understood; there are --book FILE and --hidden."));
                }
            }
        }
        Ok(asked)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(words: &[&str]) -> Result<Asked, String> {
        Asked::read(words.iter().map(OsString::from))
    }

    #[test]
    fn words_are_read_and_unknown_ones_refused() {
        assert_eq!(read(&[]), Ok(Asked::default()));
        let both = read(&["--hidden", "--book", "/shop/a.book"]);
        assert_eq!(both, Ok(Asked { book: Some(PathBuf::from("/shop/a.book")), hidden: true }));
        assert!(read(&["--book"]).is_err());
        assert!(read(&["--bok\u{7}"]).is_err_and(|why| why.contains("--bokU+0007")));
    }
}
