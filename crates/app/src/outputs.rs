//! What leaves the program, made in memory first and then written whole: by a command, or beside the window.

use std::fs;
use std::path::{Path, PathBuf};

use chrono::Datelike;
use panels::ShopStyle;
use rearend::answers::Answers;
use rearend::brackets::{self, Plate};
use rearend::findings::Finding;
use rearend::setup::Setup;
use rearend::tape::Units;
use sheets::{Date, DxfUnit, DxfVersion, Logo, Paper, PictureKind, SheetJob};
use shop::disk;

/// A file that is to be.
#[derive(Clone, Debug)]
pub struct File {
    pub path: PathBuf,
    pub bytes: Vec<u8>,
}

impl File {
    pub fn new(path: impl Into<PathBuf>, bytes: Vec<u8>) -> Self {
        Self {
            path: path.into(),
            bytes,
        }
    }
}

/// Refuses to write over what is there, unless that is meant.
pub fn may_write(path: &Path, force: bool) -> Result<(), String> {
    if force || !path.is_file() {
        return Ok(());
    }
    Err(format!(
        "{} is already there; say --force to write over it",
        path.display()
    ))
}

/// Writes all of them or none: one that fails takes those along that this has put where there was nothing.
pub fn write_all(files: &[File], force: bool) -> Result<(), String> {
    files.iter().try_for_each(|file| may_write(&file.path, force))?;
    let mut new: Vec<&Path> = Vec::new();
    for file in files {
        let was_there = file.path.exists();
        if let Err(error) = disk::write(&file.path, &file.bytes) {
            for path in new {
                let _ = fs::remove_file(path);
            }
            return Err(error.to_string());
        }
        if !was_there {
            new.push(&file.path);
        }
    }
    Ok(())
}

/// A logo's file, read. A sentence where there is none, or none that can be used.
pub fn logo(path: &Path) -> Result<(PictureKind, Vec<u8>), String> {
    let name = path.display().to_string();
    let kind = PictureKind::of_file(&name)
        .ok_or_else(|| format!("the logo {name} is no PNG, JPEG or SVG picture by its name; choose one that is"))?;
    let bytes = fs::read(path).map_err(|error| format!("the logo {name} cannot be read: {}", disk::plain(&error)))?;
    // A drawing is read by the typesetter, which says what is wrong with it.
    if kind != PictureKind::Svg {
        decoded(&name, &bytes)?;
    }
    Ok((kind, bytes))
}

/// True for an SVG, which only paper takes.
pub fn is_drawn(path: &Path) -> bool {
    PictureKind::of_file(&path.display().to_string()) == Some(PictureKind::Svg)
}

fn decoded(name: &str, bytes: &[u8]) -> Result<image::DynamicImage, String> {
    image::load_from_memory(bytes).map_err(|error| format!("the logo {name} is no picture that can be shown: {error}"))
}

fn today() -> Option<Date> {
    let now = chrono::Local::now();
    Some(Date {
        year: now.year(),
        month: u8::try_from(now.month()).ok()?,
        day: u8::try_from(now.day()).ok()?,
    })
}

/// The same as pixels, for a picture.
pub fn logo_picture(path: &Path) -> Result<image::RgbaImage, String> {
    let bytes = fs::read(path)
        .map_err(|error| format!("the logo {} cannot be read: {}", path.display(), disk::plain(&error)))?;
    Ok(decoded(&path.display().to_string(), &bytes)?.to_rgba8())
}

/// The build sheet as PDF.
pub fn sheet(
    setup: &Setup,
    answers: &Answers,
    findings: &[Finding],
    units: Units,
    style: &ShopStyle,
    template: Option<&str>,
) -> Result<Vec<u8>, String> {
    let logo = style.logo.as_deref().map(logo).transpose()?;
    let job = SheetJob {
        setup,
        answers,
        findings,
        units,
        paper: paper(style),
        shop: Some(style.name.as_str()).filter(|name| !name.is_empty()),
        logo: logo.as_ref().map(|(kind, bytes)| Logo {
            kind: *kind,
            data: bytes,
        }),
        date: today(),
        template,
    };
    sheets::sheet(&job).map_err(|error| error.to_string())
}

fn paper(style: &ShopStyle) -> Paper {
    if style.letter { Paper::Letter } else { Paper::A4 }
}

/// How brackets are written.
#[derive(Clone, Copy, Debug)]
pub struct CutStyle {
    pub units: Units,
    pub version: DxfVersion,
    pub letter: bool,
}

/// Every bracket's plates as DXF, and all of them on paper, in a folder. Besides, what cannot be drawn, a sentence each.
pub fn bracket_files(
    setup: &Setup,
    answers: &Answers,
    folder: &Path,
    style: CutStyle,
) -> Result<(Vec<File>, Vec<String>), String> {
    let mut plates: Vec<Plate> = Vec::new();
    let mut undrawn = Vec::new();
    for bracket in brackets::of(setup, answers.solved.as_ref().ok(), style.units) {
        match bracket {
            Ok(bracket) => plates.extend(bracket.plates),
            Err(error) => undrawn.push(error.to_string()),
        }
    }
    if plates.is_empty() {
        let why = undrawn.first().map_or("it has no mounts", String::as_str);
        return Err(format!("no bracket of this setup can be drawn: {why}"));
    }
    let unit = match style.units {
        Units::Millimetres => DxfUnit::Millimetres,
        Units::Sixteenths | Units::DecimalInches => DxfUnit::Inches,
    };
    let mut files = Vec::new();
    for plate in &plates {
        let bytes = sheets::dxf(plate, style.version, unit, &plate.notes).map_err(|error| error.to_string())?;
        files.push(File::new(
            folder.join(sheets::dxf_file_name(plate, unit, style.version)),
            bytes,
        ));
    }
    let paper = if style.letter { Paper::Letter } else { Paper::A4 };
    let templates = sheets::templates(&plates, style.units, paper).map_err(|error| error.to_string())?;
    files.push(File::new(folder.join("templates.pdf"), templates));
    Ok((files, undrawn))
}
