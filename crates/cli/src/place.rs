//! Where the shop's book lies when nobody says so.

use std::path::{Path, PathBuf};

/// The book: `--book`, else `$GLUEWRIGHT_BOOK`, else `gluewright/shop.book` in the person's data folder.
pub fn book(given: Option<&Path>) -> PathBuf {
    choose(given, &|name| std::env::var_os(name).map(PathBuf::from).filter(|value| !value.as_os_str().is_empty()))
}

fn choose(given: Option<&Path>, variable: &dyn Fn(&str) -> Option<PathBuf>) -> PathBuf {
    if let Some(path) = given {
        return path.to_owned();
    }
    if let Some(path) = variable("GLUEWRIGHT_BOOK") {
        return path;
    }
    // The base-directory convention asks for a relative value to be ignored.
    let data = variable("XDG_DATA_HOME").filter(|folder| folder.is_absolute());
    let data = data.or_else(|| variable("HOME").map(|home| home.join(".local/share")));
    data.unwrap_or_default().join("gluewright/shop.book")
}

/// Makes the folder of the default book, for its owner's eyes only. A folder named by the person is theirs to make.
pub fn make_folder(book: &Path, given: bool) -> std::io::Result<()> {
    use std::os::unix::fs::DirBuilderExt;
    match book.parent() {
        Some(folder) if !given && !folder.is_dir() => {
            std::fs::DirBuilder::new().recursive(true).mode(0o700).create(folder)
        }
        _ => Ok(()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn with(pairs: &'static [(&str, &str)]) -> PathBuf {
        choose(None, &|name| pairs.iter().find(|(n, _)| *n == name).map(|(_, value)| PathBuf::from(value)))
    }

    #[test]
    fn the_book_is_looked_for_in_the_stated_order() {
        assert_eq!(choose(Some(Path::new("a.book")), &|_| None), Path::new("a.book"));
        assert_eq!(with(&[("GLUEWRIGHT_BOOK", "b.book"), ("XDG_DATA_HOME", "/x")]), Path::new("b.book"));
        assert_eq!(with(&[("XDG_DATA_HOME", "/x"), ("HOME", "/h")]), Path::new("/x/gluewright/shop.book"));
        assert_eq!(with(&[("XDG_DATA_HOME", "x"), ("HOME", "/h")]), Path::new("/h/.local/share/gluewright/shop.book"));
    }
}
