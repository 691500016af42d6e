//! What a typst source can see: the files it is given, our fonts, a date. No disk, no network, no packages.

use std::collections::{BTreeMap, HashMap};
use std::sync::LazyLock;

use typst::diag::{FileError, FileResult};
use typst::foundations::{Bytes, Datetime, Duration};
use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;
use typst::{Library, LibraryExt, World};
use typst_kit::fonts::FontStore;

use super::Date;

/// Files by their names, without a leading slash.
pub type Files = BTreeMap<String, Vec<u8>>;

const REGULAR: &[u8] = include_bytes!("../../../../assets/fonts/AxlewrightSans-Regular.ttf");
const SEMI_BOLD: &[u8] = include_bytes!("../../../../assets/fonts/AxlewrightSans-SemiBold.ttf");

/// Ours first, so that they are found before those that come with the typesetter.
static FONTS: LazyLock<FontStore> = LazyLock::new(|| {
    let mut store = FontStore::new();
    for data in [REGULAR, SEMI_BOLD] {
        store.extend(Font::iter(Bytes::new(data)).map(|font| {
            let info = font.info().clone();
            (font, info)
        }));
    }
    store.extend(typst_kit::fonts::embedded());
    store
});

static LIBRARY: LazyLock<LazyHash<Library>> = LazyLock::new(|| LazyHash::new(Library::default()));

/// The files of one document.
pub(super) struct Desk {
    main: FileId,
    sources: HashMap<FileId, Source>,
    files: HashMap<FileId, Bytes>,
    date: Option<Date>,
}

impl Desk {
    /// With `main` as the source that is typeset. `None` where a name is no name of a file.
    pub fn new(main: &str, files: &Files, date: Option<Date>) -> Option<Self> {
        let mut desk = Self {
            main: id(main)?,
            sources: HashMap::new(),
            files: HashMap::new(),
            date,
        };
        for (name, data) in files {
            let id = id(name)?;
            if id.get().vpath().extension() == Some("typ") {
                let text = String::from_utf8_lossy(data).into_owned();
                desk.sources.insert(id, Source::new(id, text));
            }
            desk.files.insert(id, Bytes::new(data.clone()));
        }
        Some(desk)
    }
}

fn id(name: &str) -> Option<FileId> {
    let path = VirtualPath::new(name).ok()?;
    Some(RootedPath::new(VirtualRoot::Project, path).intern())
}

fn missing(id: FileId) -> FileError {
    FileError::NotFound(id.get().vpath().get_without_slash().into())
}

impl World for Desk {
    fn library(&self) -> &LazyHash<Library> {
        &LIBRARY
    }

    fn book(&self) -> &LazyHash<FontBook> {
        FONTS.book()
    }

    fn main(&self) -> FileId {
        self.main
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        self.sources.get(&id).cloned().ok_or_else(|| missing(id))
    }

    fn file(&self, id: FileId) -> FileResult<Bytes> {
        self.files.get(&id).cloned().ok_or_else(|| missing(id))
    }

    fn font(&self, index: usize) -> Option<Font> {
        FONTS.font(index)
    }

    fn today(&self, _offset: Option<Duration>) -> Option<Datetime> {
        self.date.and_then(Date::typst)
    }
}
