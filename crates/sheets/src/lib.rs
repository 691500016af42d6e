//! What leaves the program on paper and in files. Reads results, computes none.

mod compare_csv;
pub mod drawing;
mod dxf;
mod lettering;
mod sheet;
mod template;
mod travel_csv;
pub mod typeset;

pub use self::dxf::{DxfError, DxfUnit, DxfVersion, dxf, dxf_file_name};
pub use compare_csv::{CompareError, compare_csv};
pub use sheet::{Logo, PictureKind, SHEET_TEMPLATE, SheetError, SheetJob, sheet, sheet_of};
pub use template::{TemplateError, templates};
pub use travel_csv::{CsvError, travel_csv};
pub use typeset::{Date, Paper};
