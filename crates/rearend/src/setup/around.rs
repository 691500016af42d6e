//! What has to hold for the truck around the axle: shaft, springs, body.

use crate::measure::Measure;

use super::{AirSpring, Body, Coilover, Driveline, KeepClear, KeepClearShape, Setup, SetupError, SpringKind, Springs};

/// Points nearer than this are on one spot.
const SAME_SPOT_M: f64 = 1e-3;

/// More things in the way than anybody lists.
const MOST_KEEP_CLEAR: usize = 64;

/// More holes, bends or lines than a part has.
const MOST_POINTS: usize = 64;

fn refuse(what: impl Into<String>, keys: &'static str) -> Result<(), SetupError> {
    Err(SetupError::DoesNotFit {
        what: what.into(),
        keys,
    })
}

impl Setup {
    pub(super) fn check_around(&self) -> Result<(), SetupError> {
        self.driveline.as_ref().map_or(Ok(()), |d| self.check_driveline(d))?;
        self.springs.as_ref().map_or(Ok(()), check_springs)?;
        self.body.as_ref().map_or(Ok(()), |b| self.check_body(b))?;
        if self.keep_clear.len() > MOST_KEEP_CLEAR {
            return refuse(
                format!(
                    "{} things to keep clear of are described; up to {MOST_KEEP_CLEAR} can be checked",
                    self.keep_clear.len()
                ),
                "",
            );
        }
        self.keep_clear.iter().try_for_each(check_keep_clear)?;
        match self.measured.iter().find(|key| Measure::by_key(key).is_none()) {
            Some(key) => refuse(
                format!("\"{key}\" in measured is not on the tape sheet: take it out of the list"),
                "",
            ),
            None => Ok(()),
        }
    }

    /// The shaft runs rearward from joint to joint.
    fn check_driveline(&self, driveline: &Driveline) -> Result<(), SetupError> {
        let pinion = self.drawn().to_ground(self.pinion_joint_in_axle());
        let output = driveline.output;
        if pinion.x > output.x - SAME_SPOT_M {
            return refuse(
                "the pinion's joint lies ahead of the transmission's",
                "output_mm (X forward of the axle) and pinion_length_mm",
            );
        }
        match driveline.carrier {
            Some(carrier) if carrier.x > output.x - SAME_SPOT_M || carrier.x < pinion.x + SAME_SPOT_M => refuse(
                "the carrier bearing's joint has to lie between the transmission's and the pinion's",
                "carrier_mm",
            ),
            _ => Ok(()),
        }
    }

    fn check_body(&self, body: &Body) -> Result<(), SetupError> {
        if body.lip_to_lip_m <= self.rails.spacing_m {
            return refuse(
                "the fender lips lie inside the rails",
                "lip_to_lip_mm and the rails' spacing_mm",
            );
        }
        if body.tub_to_tub_m.is_some_and(|tub_m| tub_m >= body.lip_to_lip_m) {
            return refuse(
                "the wheel tubs lie outside the fender lips",
                "tub_to_tub_mm and lip_to_lip_mm",
            );
        }
        Ok(())
    }
}

fn check_springs(springs: &Springs) -> Result<(), SetupError> {
    let holes = springs.holes_in_axle.len();
    if holes == 0 || holes > MOST_POINTS {
        return refuse("the springs need a hole to be bolted to on the axle", "axle_holes_mm");
    }
    if springs.hole >= holes {
        return refuse(
            format!(
                "the springs are in hole {}, but there are {holes}: holes count from 0",
                springs.hole
            ),
            "",
        );
    }
    match &springs.kind {
        SpringKind::Coilover(coilover) => check_coilover(coilover),
        SpringKind::Air(air) => check_air(air),
    }
}

fn check_coilover(coilover: &Coilover) -> Result<(), SetupError> {
    if coilover.extended_m <= coilover.collapsed_m {
        return refuse(
            "the coilover is shorter extended than collapsed",
            "extended_mm and collapsed_mm",
        );
    }
    if coilover.preload_m >= coilover.free_length_m {
        return refuse(
            "the coilover's preload takes up the whole coil",
            "preload_mm and free_length_mm",
        );
    }
    Ok(())
}

fn check_air(air: &AirSpring) -> Result<(), SetupError> {
    if air.longest_m <= air.shortest_m {
        return refuse(
            "the air spring's longest height is less than its shortest",
            "longest_mm and shortest_mm",
        );
    }
    if air.chart.len() < 2 || air.chart.len() > MOST_POINTS {
        return refuse(
            "the air spring's chart needs two lines at least: height, load and volume",
            "",
        );
    }
    for (line, pair) in air.chart.windows(2).enumerate() {
        let [lower, upper] = pair else { continue };
        if upper.height_m <= lower.height_m {
            return refuse(
                format!(
                    "line {} of the air spring's chart is not higher than the line before: put the shortest first",
                    line + 2
                ),
                "",
            );
        }
        if upper.volume_m3 <= lower.volume_m3 {
            return refuse(
                format!(
                    "line {} of the air spring's chart holds no more air than the line before, though the spring is longer",
                    line + 2
                ),
                "",
            );
        }
    }
    Ok(())
}

fn check_keep_clear(thing: &KeepClear) -> Result<(), SetupError> {
    let name = &thing.name;
    match &thing.shape {
        KeepClearShape::Box { from, to } => {
            if (from - to).iter().any(|side| side.abs() < SAME_SPOT_M) {
                return refuse(
                    format!("the box \"{name}\" has no thickness: its two corners have to differ forward, left and up"),
                    "from_mm and to_mm",
                );
            }
        }
        KeepClearShape::Tube { along, .. } => {
            if along.len() < 2 || along.len() > MOST_POINTS {
                return refuse(format!("the tube \"{name}\" needs two points at least"), "along_mm");
            }
            if along.windows(2).any(|run| (run[0] - run[1]).norm() < SAME_SPOT_M) {
                return refuse(
                    format!("the tube \"{name}\" has two bends on one spot: take one of them out"),
                    "",
                );
            }
        }
    }
    Ok(())
}
