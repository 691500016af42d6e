//! The sections of the file round a drawing: as little as R12 and R2000 want.

use super::drawing::{Drawing, Layer};
use super::entities::entity;
use super::pairs::{Handle, Pairs};
use super::{DxfUnit, DxfVersion};

/// Handles that others refer to before they are written.
const NOBODY: Handle = 0;
const ROOT: Handle = 1;
const GROUPS: Handle = 2;
/// The space that everything drawn is in.
pub(super) const MODEL: Handle = 3;
const PAPER: Handle = 4;
/// The first handle after those.
const FREE: Handle = 0x10;

/// Width to height of a screen, for the view that the file opens with.
const SCREEN: f64 = 1.5;

/// The whole file.
pub(super) fn written(drawing: &Drawing, version: DxfVersion, unit: DxfUnit) -> Vec<u8> {
    let mut body = Pairs::new(version, FREE);
    if version == DxfVersion::R2000 {
        body.section("CLASSES", |_| {});
    }
    body.section("TABLES", |p| tables(p, drawing));
    body.section("BLOCKS", blocks);
    body.section("ENTITIES", |p| {
        for (layer, shape) in &drawing.shapes {
            entity(p, *layer, shape);
        }
    });
    if version == DxfVersion::R2000 {
        body.section("OBJECTS", objects);
    }
    body.put(0, "EOF");
    // The header says which handle is free after all others, so it is written last.
    let mut head = Pairs::new(version, body.free);
    head.section("HEADER", |p| header(p, drawing, unit));
    (head.into_string() + &body.into_string()).into_bytes()
}

fn header(p: &mut Pairs, drawing: &Drawing, unit: DxfUnit) {
    let (release, is_2000) = match p.version {
        DxfVersion::R2000 => ("AC1015", true),
        DxfVersion::R12 => ("AC1009", false),
    };
    p.put(9, "$ACADVER");
    p.put(1, release);
    p.put(9, "$EXTMIN");
    p.point(10, drawing.extent[0]);
    p.put(9, "$EXTMAX");
    p.point(10, drawing.extent[1]);
    if is_2000 {
        let (insert, measurement) = match unit {
            DxfUnit::Millimetres => (4, 1),
            DxfUnit::Inches => (1, 0),
        };
        p.put(9, "$DWGCODEPAGE");
        p.put(3, "ANSI_1252");
        p.put(9, "$INSUNITS");
        p.put(70, insert);
        p.put(9, "$MEASUREMENT");
        p.put(70, measurement);
        p.put(9, "$HANDSEED");
        p.handle(5, p.free);
    }
}

fn tables(p: &mut Pairs, drawing: &Drawing) {
    let is_2000 = p.version == DxfVersion::R2000;
    table(p, "VPORT", &["*ACTIVE"], |p, _| view(p, drawing.extent));
    let lines: &[&str] = if is_2000 {
        &["BYBLOCK", "BYLAYER", "CONTINUOUS"]
    } else {
        &["CONTINUOUS"]
    };
    table(p, "LTYPE", lines, |p, _| {
        p.put(3, "");
        p.put(72, 65);
        p.put(73, 0);
        p.real(40, 0.0);
    });
    let layers = ["0"].into_iter().chain(Layer::ALL.map(Layer::name));
    table(p, "LAYER", &layers.collect::<Vec<_>>(), |p, name| {
        let ours = Layer::ALL.into_iter().find(|l| l.name() == name);
        p.put(62, ours.map_or(7, Layer::colour));
        p.put(6, "CONTINUOUS");
    });
    table(p, "STYLE", &["STANDARD"], |p, _| {
        p.real(40, 0.0);
        p.real(41, 1.0);
        p.real(50, 0.0);
        p.put(71, 0);
        p.real(42, 1.0);
        p.put(3, "txt");
        p.put(4, "");
    });
    table(p, "VIEW", &[], |_, _| {});
    table(p, "UCS", &[], |_, _| {});
    table(p, "APPID", &["ACAD"], |_, _| {});
    if is_2000 {
        table(p, "DIMSTYLE", &["STANDARD"], |_, _| {});
        table(p, "BLOCK_RECORD", &["*MODEL_SPACE", "*PAPER_SPACE"], |_, _| {});
    }
}

/// A table with an entry a name; `rest` writes what an entry has besides its name and flags.
fn table(p: &mut Pairs, kind: &str, names: &[&str], rest: impl Fn(&mut Pairs, &str)) {
    p.put(0, "TABLE");
    p.put(2, kind);
    let own = p.owned(NOBODY);
    p.class("AcDbSymbolTable");
    p.put(70, names.len());
    if kind == "DIMSTYLE" {
        p.class("AcDbDimStyleTable");
    }
    for name in names {
        p.put(0, kind);
        let (code, handle) = match (kind, *name) {
            (_, "*MODEL_SPACE") => (5, MODEL),
            (_, "*PAPER_SPACE") => (5, PAPER),
            // The one entry whose handle has another code: 5 is taken by an arrow's name.
            ("DIMSTYLE", _) => (105, p.take()),
            _ => (5, p.take()),
        };
        p.known(code, handle, own);
        p.class("AcDbSymbolTableRecord");
        p.class(record(kind));
        p.put(2, name);
        p.put(70, 0);
        rest(p, name);
    }
    p.put(0, "ENDTAB");
}

/// The class of a table's entries.
fn record(kind: &str) -> &'static str {
    match kind {
        "VPORT" => "AcDbViewportTableRecord",
        "LTYPE" => "AcDbLinetypeTableRecord",
        "LAYER" => "AcDbLayerTableRecord",
        "STYLE" => "AcDbTextStyleTableRecord",
        "APPID" => "AcDbRegAppTableRecord",
        "DIMSTYLE" => "AcDbDimStyleTableRecord",
        _ => "AcDbBlockTableRecord",
    }
}

/// Looking at all of it from above, so that the file opens with the plate in sight.
fn view(p: &mut Pairs, [low, high]: [[f64; 2]; 2]) {
    let middle = [f64::midpoint(low[0], high[0]), f64::midpoint(low[1], high[1])];
    let height = (high[1] - low[1]).max((high[0] - low[0]) / SCREEN) * 1.1;
    p.flat(10, [0.0, 0.0]);
    p.flat(11, [1.0, 1.0]);
    p.flat(12, middle);
    p.flat(13, [0.0, 0.0]);
    p.flat(14, [1.0, 1.0]);
    p.flat(15, [1.0, 1.0]);
    p.flat(16, [0.0, 0.0]);
    p.real(36, 1.0);
    p.point(17, [0.0, 0.0]);
    p.real(40, height);
    p.real(41, SCREEN);
    p.real(42, 50.0);
    for code in [43, 44, 50, 51] {
        p.real(code, 0.0);
    }
    for (code, value) in [
        (71, 0),
        (72, 1000),
        (73, 1),
        (74, 3),
        (75, 0),
        (76, 0),
        (77, 0),
        (78, 0),
    ] {
        p.put(code, value);
    }
}

/// The two spaces that R2000 has; in R12 there are none to write.
fn blocks(p: &mut Pairs) {
    if p.version == DxfVersion::R12 {
        return;
    }
    for (name, owner) in [("*MODEL_SPACE", MODEL), ("*PAPER_SPACE", PAPER)] {
        p.put(0, "BLOCK");
        p.owned(owner);
        p.class("AcDbEntity");
        p.put(8, "0");
        p.class("AcDbBlockBegin");
        p.put(2, name);
        p.put(70, 0);
        p.point(10, [0.0, 0.0]);
        p.put(3, name);
        p.put(1, "");
        p.put(0, "ENDBLK");
        p.owned(owner);
        p.class("AcDbEntity");
        p.put(8, "0");
        p.class("AcDbBlockEnd");
    }
}

/// The root of all objects with the one entry it must have.
fn objects(p: &mut Pairs) {
    p.put(0, "DICTIONARY");
    p.known(5, ROOT, NOBODY);
    p.class("AcDbDictionary");
    p.put(3, "ACAD_GROUP");
    p.handle(350, GROUPS);
    p.put(0, "DICTIONARY");
    p.known(5, GROUPS, ROOT);
    p.class("AcDbDictionary");
}
