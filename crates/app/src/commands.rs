//! The commands that need no window.

use std::io::Write;
use std::path::Path;
use std::process::ExitCode;

use rearend::answers::{Answers, Solved};
use rearend::findings::{Finding, Grade};
use rearend::setup::Setup;
use rearend::tape::Units;
use rearend::travel::Travel;
use shop::journal::{self, Entry};
use shop::{Bench, Command, Stand, Surveyed, disk};
use stage::caption::Caption;
use stage::picture::{self, Request};
use stage::view::{View, subject};
use stage::{Shown, caption};

use crate::cli::{FindingsArgs, PictureArgs, ReplayArgs, TravelArgs};

fn load(path: &Path) -> Result<Setup, String> {
    disk::load(path).map_err(|e| e.to_string())
}

fn solved(answers: &Answers) -> Result<&Solved, String> {
    answers.solved.as_ref().map_err(ToString::to_string)
}

/// `axlewright travel`.
pub fn travel(args: &TravelArgs) -> Result<ExitCode, String> {
    let setup = load(&args.setup)?;
    let answers = Answers::of(&setup);
    let rear_end = &solved(&answers)?.rear_end;
    let travel = Travel::sweep(&setup, rear_end, args.roll.to_radians(), args.steps);
    let table = sheets::travel_csv(&setup, rear_end, &travel).map_err(|e| e.to_string())?;
    match &args.out {
        Some(path) => disk::write(path, &table).map_err(|e| e.to_string())?,
        None => print(&table)?,
    }
    if travel.rows.len() < args.steps {
        eprintln!(
            "axlewright: the travel ends early, at {} of {} poses; the findings say where and why",
            travel.rows.len(),
            args.steps
        );
    }
    Ok(ExitCode::SUCCESS)
}

/// A reader that has seen enough, such as `head`, is no error.
fn print(bytes: &[u8]) -> Result<(), String> {
    match std::io::stdout().write_all(bytes) {
        Err(error) if error.kind() != std::io::ErrorKind::BrokenPipe => {
            Err(format!("standard output cannot be written: {error}"))
        }
        _ => Ok(()),
    }
}

/// `axlewright findings`.
pub fn findings(args: &FindingsArgs) -> Result<ExitCode, String> {
    let setup = load(&args.setup)?;
    let answers = Answers::of(&setup);
    let findings = Surveyed::of(&setup, &answers).map_or_else(|| answers.findings.clone(), |s| s.findings);
    let text = if args.json {
        as_json(&setup, &findings)?
    } else {
        as_lines(&setup, &findings)
    };
    print(text.as_bytes())?;
    let fails = findings.iter().any(|f| f.grade == Grade::WontWork);
    Ok(if fails { ExitCode::from(1) } else { ExitCode::SUCCESS })
}

fn as_lines(setup: &Setup, findings: &[Finding]) -> String {
    let line = |f: &Finding| format!("{}: {}\n", f.grade.word(), f.sentence(setup, Units::Millimetres));
    let lines: String = findings.iter().map(line).collect();
    format!("{lines}{}\n", rearend::figures::CAUTION)
}

fn as_json(setup: &Setup, findings: &[Finding]) -> Result<String, String> {
    let finding = |f: &Finding| {
        serde_json::json!({
            "grade": f.grade.word(),
            "sentence": f.sentence(setup, Units::Millimetres),
            "height_mm": f.height_m.map(|h| (h * 1e9).round() / 1e6),
            "part": f.part.map(|p| p.name(setup)),
        })
    };
    let findings: Vec<_> = findings.iter().map(finding).collect();
    let all = serde_json::json!({ "name": setup.name, "findings": findings, "caution": rearend::figures::CAUTION });
    serde_json::to_string_pretty(&all)
        .map(|text| text + "\n")
        .map_err(|e| e.to_string())
}

/// `axlewright replay`: every step of a journal with what is found after it.
pub fn replay(args: &ReplayArgs) -> Result<ExitCode, String> {
    let entries = journal::entries(&args.journal).map_err(|e| e.to_string())?;
    let last = entries
        .last()
        .ok_or_else(|| format!("{} holds no step of a journal", args.journal.display()))?;
    let line = |(place, entry): (usize, &Entry)| {
        let findings = Answers::of(&entry.setup).findings;
        let count = |grade: Grade| findings.iter().filter(|f| f.grade == grade).count();
        let [wont_work, check] = [Grade::WontWork, Grade::Check].map(|g| format!("{} {}", count(g), g.word()));
        format!("{}. {}: {wont_work}, {check}\n", place + 1, entry.step)
    };
    print(entries.iter().enumerate().map(line).collect::<String>().as_bytes())?;
    if let Some(path) = &args.out {
        disk::save(path, &last.setup).map_err(|e| e.to_string())?;
    }
    Ok(ExitCode::SUCCESS)
}

/// `axlewright picture`.
pub fn picture(args: &PictureArgs) -> Result<ExitCode, String> {
    let setup = load(&args.setup)?;
    let mut bench = Bench::new(setup, None);
    bench.run(Command::SetUnits(Units::Millimetres));
    solved(bench.document().answers())?;
    stand(&mut bench, args)?;
    let mut shown = Shown::of(&bench)
        .ok_or("nothing of this setup can be solved, so there is nothing to show; see its findings")?;
    shown.ghosts = [None; 2];
    let (width, height) = args.size;
    let stage_height = height - caption::height(width, height);
    let (focus, span) = subject(bench.setup());
    let pane = nalgebra::Vector2::new(f64::from(width), f64::from(stage_height));
    let view = View::standard(args.view.standard(), focus, span, pane);
    let caption = Caption::of(
        bench.setup(),
        bench.document().answers(),
        &shown.row,
        Units::Millimetres,
    );
    let request = Request {
        path: args.out.clone(),
        size: (width, height).into(),
        view,
        caption,
    };
    picture::take(shown, request).map_err(|e| e.to_string())?;
    Ok(ExitCode::SUCCESS)
}

fn stand(bench: &mut Bench, args: &PictureArgs) -> Result<(), String> {
    let travel = bench.setup().travel;
    let height_m = args.height.map_or(travel.ride_m, |mm| mm / 1e3);
    if !(travel.laid_out_m - 1e-9..=travel.full_lift_m + 1e-9).contains(&height_m) {
        let (low, high) = (travel.laid_out_m * 1e3, travel.full_lift_m * 1e3);
        return Err(format!(
            "a height from {low} to {high} mm is expected, from laid out to full lift"
        ));
    }
    let roll_rad = args.roll.to_radians();
    bench.run(Command::StandAt(Stand { height_m, roll_rad }));
    if (bench.stand().roll_rad - roll_rad).abs() > 1e-9 {
        let most = travel.one_wheel_up_rad.to_degrees();
        return Err(format!(
            "the setup rolls up to {most} degrees; change one_wheel_up_deg in its travel for more"
        ));
    }
    match bench.now() {
        Ok(_) => Ok(()),
        Err(_) => {
            Err("the bars do not reach that height and roll; the findings say where the travel ends and why".to_owned())
        }
    }
}
