//! `axlewright findings`.

use std::process::ExitCode;

use rearend::answers::Answers;
use rearend::findings::{Finding, Grade};
use rearend::setup::Setup;
use rearend::tape::Units;
use shop::Surveyed;

use super::{load, print};
use crate::cli::FindingsArgs;

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
