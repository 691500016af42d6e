//! What moves by itself: the run of the travel, and the swim of an axle that is not held.

use rearend::travel::Row;
use shop::{Command, Notice, Stand};

use super::Desk;

/// How far and how slowly the axle swims where nothing holds it.
const SWIM_M: f64 = 0.05;
const SWIM_S: f64 = 2.5;

/// Seconds for the way from laid out to full lift and back.
const RUN_S: f64 = 5.0;

impl Desk {
    pub(super) fn swim_or_stop(&mut self) {
        let free = self
            .bench
            .document()
            .answers()
            .solved
            .as_ref()
            .map(|s| !s.freedom.free.is_empty());
        match (self.swimming, free) {
            (Some(_), _) => self.swimming = None,
            (None, Ok(true)) => self.swimming = Some(0.0),
            (None, _) => self.bench.tell(Notice::Done(
                "Nothing is free: the bars hold the axle every way.".to_owned(),
            )),
        }
    }

    /// Moves the swim on; true while it goes on. It ends where nothing is free any more.
    pub fn swim(&mut self, seconds: f64) -> bool {
        let Some(at) = self.swimming else { return false };
        self.swimming = self.swum(at + seconds).map(|_| at + seconds);
        true
    }

    /// The pose to draw: as the bench shows it, or swimming along what is free.
    pub fn shown_row(&self) -> Option<Row> {
        self.swimming
            .and_then(|at| self.swum(at))
            .or_else(|| self.bench.shown())
    }

    pub(super) fn swum(&self, seconds: f64) -> Option<Row> {
        let mut row = self.bench.shown()?;
        let solved = self.bench.document().answers().solved.as_ref().ok()?;
        let motion = solved.freedom.free.first()?;
        let amount_m = SWIM_M * (seconds / SWIM_S * std::f64::consts::TAU).sin();
        row.at = solved.rear_end.mechanism.swum(&row.at, motion, amount_m)?;
        Some(row)
    }

    /// The second of the run at which the truck stands where it does now.
    pub(super) fn play_from(&self) -> f64 {
        let travel = &self.bench.setup().travel;
        let part = (self.bench.stand().height_m - travel.laid_out_m) / (travel.full_lift_m - travel.laid_out_m);
        (1.0 - 2.0 * part.clamp(0.0, 1.0)).acos() / std::f64::consts::TAU * RUN_S
    }

    /// Moves the run of the travel on; true while it runs.
    pub fn play(&mut self, seconds: f64) -> bool {
        let Some(at) = &mut self.playing else { return false };
        *at += seconds;
        let part = 0.5 - 0.5 * (*at / RUN_S * std::f64::consts::TAU).cos();
        let travel = &self.bench.setup().travel;
        let height_m = travel.laid_out_m + (travel.full_lift_m - travel.laid_out_m) * part;
        self.bench.run(Command::StandAt(Stand {
            height_m,
            ..self.bench.stand()
        }));
        true
    }
}
