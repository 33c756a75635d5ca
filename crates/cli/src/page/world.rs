//! Everything the typesetter can see: the template, the page, the colours, the squares and the fonts, all from memory
//! under fixed names. There is no disk, no clock and no package behind it.

use super::{Paper, drawn};
use serde_json::Value;
use typst::diag::{FileError, FileResult};
use typst::foundations::{Bytes, Datetime, Duration};
use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;
use typst::{Library, LibraryExt, World};

const TEMPLATE: &str = include_str!("part.typ");
const TOKENS: &str = include_str!("../../../../assets/tokens.json");
const FONTS: [&[u8]; 4] = [
    include_bytes!("../../../../assets/fonts/AtkinsonHyperlegibleNext-Regular.ttf"),
    include_bytes!("../../../../assets/fonts/AtkinsonHyperlegibleNext-Bold.ttf"),
    include_bytes!("../../../../assets/fonts/AtkinsonHyperlegibleMono-Regular.ttf"),
    include_bytes!("../../../../assets/fonts/AtkinsonHyperlegibleMono-Bold.ttf"),
];

/// The typesetter's desk.
pub struct Desk {
    library: LazyHash<Library>,
    book: LazyHash<FontBook>,
    fonts: Vec<Font>,
    template: Source,
    files: Vec<(FileId, Bytes)>,
}

impl Desk {
    /// Lays everything ready for one page.
    pub fn new(page: &Value, paper: Paper) -> Result<Desk, String> {
        let fonts: Vec<Font> = FONTS.iter().flat_map(|data| Font::iter(Bytes::new(*data))).collect();
        let has = |letter: char| fonts.iter().all(|font| font.info().coverage.contains(u32::from(letter)));
        let shown = drawn::page(page, paper.name(), has);
        let files = vec![
            (file("page.json")?, Bytes::from_string(format!("{page}\n"))),
            (file("drawn.json")?, Bytes::from_string(shown.to_string())),
            (file("tokens.json")?, Bytes::from_string(TOKENS)),
            (file("squares.svg")?, Bytes::from_string(drawn::squares(page)?)),
        ];
        Ok(Desk {
            library: LazyHash::new(Library::builder().build()),
            book: LazyHash::new(FontBook::from_fonts(&fonts)),
            fonts,
            template: Source::new(file("part.typ")?, TEMPLATE.to_owned()),
            files,
        })
    }
}

fn file(name: &str) -> Result<FileId, String> {
    let path = VirtualPath::new(name).map_err(|_| format!("{name} is no name for a file"))?;
    Ok(RootedPath::new(VirtualRoot::Project, path).intern())
}

impl World for Desk {
    fn library(&self) -> &LazyHash<Library> {
        &self.library
    }

    fn book(&self) -> &LazyHash<FontBook> {
        &self.book
    }

    fn main(&self) -> FileId {
        self.template.id()
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        if id == self.template.id() { Ok(self.template.clone()) } else { Err(FileError::AccessDenied) }
    }

    fn file(&self, id: FileId) -> FileResult<Bytes> {
        let found = self.files.iter().find(|(known, _)| *known == id);
        found.map(|(_, bytes)| bytes.clone()).ok_or(FileError::AccessDenied)
    }

    fn font(&self, index: usize) -> Option<Font> {
        self.fonts.get(index).cloned()
    }

    fn today(&self, _offset: Option<Duration>) -> Option<Datetime> {
        None
    }
}
