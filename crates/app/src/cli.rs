//! The command line.

use std::path::PathBuf;
use std::process::ExitCode;

use clap::{Args, Parser, Subcommand, ValueEnum};
use rearend::tape::Units;
use sheets::DxfVersion;
use shop::{Bench, demo, disk};
use stage::view::Standard;

use crate::{commands, window};

/// Lay out how a truck's rear axle hangs on links, and see what it does from the ground to full lift.
#[derive(Parser)]
#[command(name = "axlewright", version, args_conflicts_with_subcommands = true)]
struct Cli {
    /// The setup to open; a demo truck without one
    setup: Option<PathBuf>,
    /// Write what the window shows to this file, one line of JSON for every change: for tests and bug reports
    #[arg(long, hide = true)]
    trace: Option<PathBuf>,
    #[command(subcommand)]
    command: Option<Command>,
}

#[derive(Subcommand)]
enum Command {
    /// Write the sweep from laid out to full lift as CSV
    Travel(TravelArgs),
    /// List what is wrong, what to look at, what is fine; exit 1 if something won't work
    Findings(FindingsArgs),
    /// Render a picture with its caption; needs a graphics adapter, no display
    Picture(PictureArgs),
    /// Set setups on one truck side by side: a table of figures, the best of each marked
    Compare(CompareArgs),
    /// Make the build sheet, a PDF
    Sheet(SheetArgs),
    /// Draw the brackets 1:1: a DXF file a plate, and a PDF of paper templates
    Brackets(BracketsArgs),
    /// Go through a journal again, step by step: for bug reports
    Replay(ReplayArgs),
}

#[derive(Args)]
pub struct ReplayArgs {
    /// The journal's file
    pub journal: PathBuf,
    /// File to write the last setup to
    #[arg(long)]
    pub out: Option<PathBuf>,
    /// Write over files that are there
    #[arg(long)]
    pub force: bool,
}

#[derive(Args)]
pub struct CompareArgs {
    /// The setups' files, up to six
    #[arg(required = true)]
    pub setups: Vec<PathBuf>,
    /// CSV file to write; a table on standard output without it
    #[arg(long)]
    pub out: Option<PathBuf>,
    /// Units of the table
    #[arg(long, value_enum, default_value_t)]
    pub units: UnitsName,
    /// Write over a file that is there
    #[arg(long)]
    pub force: bool,
}

#[derive(Args)]
pub struct SheetArgs {
    /// The setup's file
    pub setup: PathBuf,
    /// The PDF file to write
    #[arg(long)]
    pub out: PathBuf,
    /// Size of the paper
    #[arg(long, value_enum, default_value_t)]
    pub paper: PaperName,
    /// Units of lengths
    #[arg(long, value_enum, default_value_t)]
    pub units: UnitsName,
    /// Name of the shop
    #[arg(long)]
    pub shop: Option<String>,
    /// Picture with the shop's logo: PNG, JPEG or SVG
    #[arg(long)]
    pub logo: Option<PathBuf>,
    /// A typst file to set the sheet with instead of the usual one
    #[arg(long)]
    pub template: Option<PathBuf>,
    /// Write over a file that is there
    #[arg(long)]
    pub force: bool,
}

#[derive(Args)]
pub struct BracketsArgs {
    /// The setup's file
    pub setup: PathBuf,
    /// The folder to write to; made where there is none
    #[arg(long)]
    pub out: PathBuf,
    /// Units of the files
    #[arg(long, value_enum, default_value_t)]
    pub units: UnitsName,
    /// Version of the DXF files
    #[arg(long, value_enum, default_value_t)]
    pub dxf: DxfName,
    /// Size of the paper for the templates
    #[arg(long, value_enum, default_value_t)]
    pub paper: PaperName,
    /// Write over files that are there
    #[arg(long)]
    pub force: bool,
}

#[derive(Clone, Copy, Default, ValueEnum)]
pub enum UnitsName {
    /// Inches in sixteenths
    Sixteenths,
    /// Decimal inches
    Inches,
    /// Millimetres
    #[default]
    Mm,
}

impl UnitsName {
    pub fn units(self) -> Units {
        match self {
            Self::Sixteenths => Units::Sixteenths,
            Self::Inches => Units::DecimalInches,
            Self::Mm => Units::Millimetres,
        }
    }
}

#[derive(Clone, Copy, Default, ValueEnum)]
pub enum PaperName {
    #[default]
    A4,
    Letter,
}

impl PaperName {
    pub fn is_letter(self) -> bool {
        matches!(self, Self::Letter)
    }
}

#[derive(Clone, Copy, Default, ValueEnum)]
pub enum DxfName {
    #[default]
    R2000,
    R12,
}

impl DxfName {
    pub fn version(self) -> DxfVersion {
        match self {
            Self::R2000 => DxfVersion::R2000,
            Self::R12 => DxfVersion::R12,
        }
    }
}

#[derive(Args)]
pub struct TravelArgs {
    /// The setup's file
    pub setup: PathBuf,
    /// Poses from laid out to full lift
    #[arg(long, default_value_t = rearend::travel::POSES, value_parser = poses)]
    pub steps: usize,
    /// Roll of the axle, degrees, + left side up
    #[arg(long, default_value_t = 0.0, allow_negative_numbers = true, value_parser = roll)]
    pub roll: f64,
    /// File to write; standard output without it
    #[arg(long)]
    pub out: Option<PathBuf>,
    /// Write over a file that is there
    #[arg(long)]
    pub force: bool,
}

#[derive(Args)]
pub struct FindingsArgs {
    /// The setup's file
    pub setup: PathBuf,
    /// As JSON
    #[arg(long)]
    pub json: bool,
}

#[derive(Args)]
pub struct PictureArgs {
    /// The setups' files: one, or several on the same truck
    #[arg(required = true)]
    pub setups: Vec<PathBuf>,
    /// The PNG file to write
    #[arg(long)]
    pub out: PathBuf,
    /// How high the rails stand, mm; at the setup's ride height without it
    #[arg(long, allow_negative_numbers = true)]
    pub height: Option<f64>,
    /// Laid out, at ride height and at full lift, side by side
    #[arg(long, conflicts_with = "height")]
    pub strip: bool,
    /// Roll of the axle, degrees, + left side up
    #[arg(long, default_value_t = 0.0, allow_negative_numbers = true, value_parser = roll)]
    pub roll: f64,
    /// Seen from where
    #[arg(long, value_enum, default_value_t = ViewName::Corner)]
    pub view: ViewName,
    /// Width and height, pixels; without it 1600x1200; of several looks 2400 wide and as high as they need
    #[arg(long, value_parser = size)]
    pub size: Option<(u32, u32)>,
    /// With dimension lines
    #[arg(long)]
    pub dimensions: bool,
    /// Units of lengths
    #[arg(long, value_enum, default_value_t)]
    pub units: UnitsName,
    /// Name of the shop
    #[arg(long)]
    pub shop: Option<String>,
    /// Picture with the shop's logo: PNG or JPEG
    #[arg(long)]
    pub logo: Option<PathBuf>,
    /// Write over a file that is there
    #[arg(long)]
    pub force: bool,
}

#[derive(Clone, Copy, ValueEnum)]
pub enum ViewName {
    Rear,
    Side,
    Top,
    Corner,
}

impl ViewName {
    pub fn standard(self) -> Standard {
        match self {
            Self::Rear => Standard::Rear,
            Self::Side => Standard::Side,
            Self::Top => Standard::Top,
            Self::Corner => Standard::Corner,
        }
    }
}

fn poses(text: &str) -> Result<usize, String> {
    text.parse()
        .ok()
        .filter(|n| (2..=100_000).contains(n))
        .ok_or_else(|| "2 to 100000 poses are expected".to_owned())
}

fn roll(text: &str) -> Result<f64, String> {
    text.parse()
        .ok()
        .filter(|deg: &f64| deg.abs() <= 30.0)
        .ok_or_else(|| "-30 to 30 degrees are expected".to_owned())
}

fn size(text: &str) -> Result<(u32, u32), String> {
    use stage::picture::{LARGEST, SMALLEST};
    let expected = || format!("width x height from {SMALLEST} to {LARGEST} pixels are expected, such as 1600x1200");
    let (width, height) = text.split_once(['x', 'X']).ok_or_else(expected)?;
    let side = |text: &str| text.trim().parse().ok().filter(|n| (SMALLEST..=LARGEST).contains(n));
    side(width).zip(side(height)).ok_or_else(expected)
}

/// Does what the command line asks. The error is a sentence for the user.
pub fn run() -> Result<ExitCode, String> {
    let cli = match Cli::try_parse() {
        Ok(cli) => cli,
        // Help and version are no errors; everything else is told in one sentence.
        Err(error) if !error.use_stderr() => {
            let _ = error.print();
            return Ok(ExitCode::SUCCESS);
        }
        Err(error) => return Err(first_sentence(&error.to_string())),
    };
    match cli.command {
        Some(Command::Travel(args)) => commands::travel(&args),
        Some(Command::Findings(args)) => commands::findings(&args),
        Some(Command::Picture(args)) => commands::picture(&args),
        Some(Command::Replay(args)) => commands::replay(&args),
        Some(Command::Compare(args)) => commands::compare(&args),
        Some(Command::Sheet(args)) => commands::sheet(&args),
        Some(Command::Brackets(args)) => commands::brackets(&args),
        None => open_window(cli.setup, cli.trace),
    }
}

fn open_window(path: Option<PathBuf>, trace: Option<PathBuf>) -> Result<ExitCode, String> {
    let setup = match &path {
        Some(path) => disk::load(path).map_err(|e| e.to_string())?,
        None => demo::ALL[0].setup().map_err(|e| e.to_string())?,
    };
    window::open(Bench::new(setup, path), trace)
}

/// The message's first sentence on one line: a colon is followed by what stands indented below it.
fn first_sentence(message: &str) -> String {
    let mut lines = message.lines();
    let first = lines.next().unwrap_or("the command line cannot be read");
    let first = first.strip_prefix("error: ").unwrap_or(first);
    let listed: Vec<_> = if first.ends_with(':') {
        lines
            .take_while(|line| !line.trim().is_empty())
            .map(str::trim)
            .collect()
    } else {
        Vec::new()
    };
    let sentence = format!("{first} {}", listed.join(", "));
    format!("{}; see axlewright --help", sentence.trim_end())
}
