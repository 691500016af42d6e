//! `axlewright picture`.

use std::process::ExitCode;

use bevy::math::UVec2;

use shop::{Bench, Command, Stand};
use stage::Shown;
use stage::caption::Caption;
use stage::framing::{common_view, measures, shape};
use stage::picture::{self, Request, Shot};

use super::{few_enough, load, solved};
use crate::cli::PictureArgs;
use crate::outputs::{logo_picture, may_write};

/// `axlewright picture`: of one setup or several, at one height or at three.
pub fn picture(args: &PictureArgs) -> Result<ExitCode, String> {
    few_enough(&args.setups)?;
    may_write(&args.out, args.force)?;
    let logo = args.logo.as_deref().map(logo_picture).transpose()?;
    let units = args.units.units();
    let mut benches = Vec::new();
    for path in &args.setups {
        let mut bench = Bench::new(load(path)?, None);
        bench.run(Command::SetUnits(units));
        solved(bench.document().answers())?;
        benches.push(bench);
    }
    let mut looks = Vec::new();
    for bench in &mut benches {
        let travel = bench.setup().travel;
        let heights = if args.strip {
            vec![travel.laid_out_m, travel.ride_m, travel.full_lift_m]
        } else {
            vec![args.height.map_or(travel.ride_m, |mm| mm / 1e3)]
        };
        for height_m in heights {
            stand(bench, height_m, args.roll.to_radians())?;
            looks.push((look(bench)?, words(bench, args)));
        }
    }
    if looks.len() > MOST_LOOKS {
        return Err(format!(
            "that would be {} looks in one picture; up to {MOST_LOOKS} are drawn side by side",
            looks.len()
        ));
    }
    let mut caption = if let [bench] = benches.as_slice() {
        let shown = &looks.last().ok_or("nothing is to be shown")?.0;
        let row = if args.strip { at_ride(bench)? } else { shown.row };
        Caption::of(bench.setup(), bench.document().answers(), &row, units)
    } else {
        let of: Vec<_> = benches.iter().map(|b| (b.setup(), b.document().answers())).collect();
        Caption::of_several(&of, units)
    };
    caption.shop = args.shop.clone().unwrap_or_default();
    caption.logo = logo;
    let which = args.view.standard();
    let shown: Vec<_> = looks.iter().map(|(shown, _)| shown).collect();
    let shape = shape(which, &shown);
    let size = size(args, looks.len(), shape);
    let request = Request {
        path: Some(args.out.clone()),
        size,
        shots: shots(looks, args, size, shape),
        shape,
        caption,
    };
    picture::take(request).map_err(|e| e.to_string())?;
    Ok(ExitCode::SUCCESS)
}

/// One look has room around it; several fill their picture.
fn size(args: &PictureArgs, looks: usize, shape: f64) -> UVec2 {
    let own = match looks {
        1 => UVec2::new(1600, 1200),
        looks => picture::fitted(2400, looks, shape),
    };
    args.size.map_or(own, UVec2::from)
}

/// More than this are too small to see.
const MOST_LOOKS: usize = 6;

fn look(bench: &Bench) -> Result<Shown, String> {
    let mut shown =
        Shown::of(bench).ok_or("nothing of this setup can be solved, so there is nothing to show; see its findings")?;
    shown.ghosts = [None; 2];
    Ok(shown)
}

/// One scale for all of them, so that they can be compared.
fn shots(looks: Vec<(Shown, String)>, args: &PictureArgs, size: UVec2, shape: f64) -> Vec<Shot> {
    let which = args.view.standard();
    let tile = picture::tile(size, looks.len(), shape);
    let shown: Vec<_> = looks.iter().map(|(shown, _)| shown).collect();
    let view = common_view(which, &shown, tile);
    let shot = |(shown, words): (Shown, String)| Shot {
        view,
        measures: if args.dimensions {
            measures(which, &shown.setup, &shown.row, args.units.units())
        } else {
            Vec::new()
        },
        words,
        shown,
    };
    looks.into_iter().map(shot).collect()
}

/// What tells one look from the others.
fn words(bench: &Bench, args: &PictureArgs) -> String {
    let name = (args.setups.len() > 1).then(|| bench.setup().name.clone());
    let travel = &bench.setup().travel;
    let height_m = bench.stand().height_m;
    let is_at = |other_m: f64| (height_m - other_m).abs() < 1e-6;
    let height = args.strip.then(|| {
        let place = if is_at(travel.laid_out_m) {
            "laid out"
        } else if is_at(travel.ride_m) {
            "ride height"
        } else {
            "full lift"
        };
        format!("{place}, rails at {}", bench.units().length(height_m))
    });
    name.into_iter().chain(height).collect::<Vec<_>>().join(": ")
}

fn at_ride(bench: &Bench) -> Result<rearend::travel::Row, String> {
    let answers = bench.document().answers();
    let ride_m = bench.setup().travel.ride_m;
    answers
        .pose(bench.setup(), ride_m, 0.0)
        .map_err(|_| "ride height is not reached; the findings say why".to_owned())
}

fn stand(bench: &mut Bench, height_m: f64, roll_rad: f64) -> Result<(), String> {
    let travel = bench.setup().travel;
    if !(travel.laid_out_m - 1e-9..=travel.full_lift_m + 1e-9).contains(&height_m) {
        let (low, high) = (travel.laid_out_m * 1e3, travel.full_lift_m * 1e3);
        return Err(format!(
            "a height from {low} to {high} mm is expected, from laid out to full lift"
        ));
    }
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
