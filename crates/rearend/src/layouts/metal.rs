//! Where a truck has metal for a proposal's mounts: brackets stand on rails and on the straight parts of crossmembers, with room for the
//! bolt's steel.

use nalgebra::Point3;

use crate::brackets::crank_room_m;
use crate::rail_line::crossmember_m;
use crate::setup::{Rails, Steel};

/// Over what a bracket needs: what a torch and a tape lose.
const SPARE_M: f64 = 0.016;

/// A crossmember farther than this from where a mount is wanted is not moved to.
const NEAR_M: f64 = 0.25;

/// How much higher than usual a bar may stand to pass over a crossmember, the least first.
const RISES_M: [f64; 4] = [0.0, 0.02, 0.04, 0.06];

/// A pivot whose bolt points at a crossmember is no nearer to its height: a pad plate lies between.
const LEVEL_M: f64 = 0.03;

/// Room between a bar and the crossmember that it passes: half an inch, common practice.
const PASSES_M: f64 = 0.013;

/// How much more beside the middle, where the axle rolls: half of the sine of four degrees.
const ROLLS: f64 = 0.035;

/// Steel of a bracket beside what it stands on, m.
#[derive(Clone, Copy)]
#[expect(clippy::struct_field_names, reason = "each says its unit")]
pub(super) struct Reach {
    /// From the middle of the bolt to the edge of its plate, and no more.
    pub edge_m: f64,
    /// From the middle of the bolt to a face or a tube that the bolt lies along.
    pub straight_m: f64,
    /// To a face that the bolt points at aslant: the corners of its plates come nearer.
    pub aslant_m: f64,
    /// To a tube that the bolt points at: a pad plate and what carries it lie between. Without spare.
    pub over_m: f64,
    /// To a centre section that a bracket passes over.
    pub bridge_m: f64,
    /// From the middle of a crank to what it is carried by.
    pub crank_m: f64,
    /// Thickness of a plate.
    pub plate_m: f64,
    /// Half the width of a bracket along its bolt.
    pub half_m: f64,
}

impl Reach {
    /// Half the width of a bracket along its bolt with the pad that it stands on.
    pub fn wide_m(&self) -> f64 {
        self.half_m + 1.5 * self.plate_m
    }

    pub fn of(steel: &Steel) -> Self {
        let (edge_m, room_m) = (steel.edge_m(), 1.25 * steel.edge_m().max(steel.bush_eye_m / 2.0));
        Self {
            edge_m,
            straight_m: edge_m + SPARE_M,
            aslant_m: 2.0 * edge_m + 0.028,
            over_m: room_m + 3.0 * steel.plate_m,
            bridge_m: room_m + steel.plate_m + 0.004,
            crank_m: crank_room_m(steel),
            plate_m: steel.plate_m,
            half_m: steel.gap_m / 2.0 + steel.plate_m,
        }
    }
}

/// A crossmember where it is straight: its axis over a place, seen from the side.
#[derive(Clone, Copy)]
#[expect(clippy::struct_field_names, reason = "each says its unit")]
pub(super) struct Member {
    pub x_m: f64,
    pub z_m: f64,
    pub radius_m: f64,
}

impl Member {
    /// The crossmember at a station, if it is straight and level at least so far to either side of `y_m`.
    fn at(rails: &Rails, x_m: f64, y_m: f64, half_m: f64) -> Option<Self> {
        let (bends, radius_m) = crossmember_m(rails, x_m);
        let is_under = |run: &&[Point3<f64>]| y_m - half_m >= run[1].y && y_m + half_m <= run[0].y;
        let run = bends.windows(2).find(is_under)?;
        let is_level = (run[0].z - run[1].z).abs() < 1e-9;
        is_level.then_some(Self {
            x_m,
            z_m: run[0].z,
            radius_m,
        })
    }

    /// Straight behind it at a height, so far from its face.
    fn behind_m(&self, z_m: f64, off_m: f64) -> f64 {
        let (far_m, up_m) = (self.radius_m + off_m, z_m - self.z_m);
        self.x_m - (far_m * far_m - up_m * up_m).max(0.0).sqrt()
    }
}

/// A bar that is to be hung from a crossmember, seen from the side.
pub(super) struct Wanted {
    /// The mount that suits best.
    pub at: Point3<f64>,
    /// No shorter than this.
    pub least_x_m: f64,
    pub bar_radius_m: f64,
    /// The bar's axle end at the three heights, its frame end's coordinates.
    pub axle_z_m: [f64; 3],
}

impl Wanted {
    /// Where the bracket fits on a crossmember that is near: where it is wanted, if the bar comes clear of the crossmember there, else
    /// behind the crossmember.
    pub fn on(&self, rails: &Rails, reach: &Reach) -> Option<Point3<f64>> {
        let near = near(rails, self.at.x);
        near.into_iter().find_map(|x_m| {
            let member = Member::at(rails, x_m, self.at.y, reach.half_m)?;
            let far_m = (self.at.x - member.x_m).hypot(self.at.z - member.z_m);
            if far_m >= member.radius_m + reach.straight_m && self.passes(&member) {
                return Some(self.at);
            }
            let behind_m = member.behind_m(self.at.z, reach.straight_m);
            (behind_m >= self.least_x_m).then(|| Point3::new(behind_m, self.at.y, self.at.z))
        })
    }

    /// The same for a bolt that points at the crossmember aslant: behind it, and above or below its middle.
    pub fn aslant(&self, rails: &Rails, reach: &Reach) -> Point3<f64> {
        let near = near(rails, self.at.x);
        let fits = near.into_iter().find_map(|x_m| self.aslant_on(rails, reach, x_m));
        fits.unwrap_or(self.at)
    }

    fn aslant_on(&self, rails: &Rails, reach: &Reach, x_m: f64) -> Option<Point3<f64>> {
        let member = Member::at(rails, x_m, self.at.y, reach.half_m)?;
        let up_m = self.at.z - member.z_m;
        let z_m = member.z_m
            + if up_m < 0.0 {
                up_m.min(-LEVEL_M)
            } else {
                up_m.max(LEVEL_M)
            };
        let behind_m = (member.x_m - member.radius_m - reach.over_m - SPARE_M).min(self.at.x);
        (behind_m >= self.least_x_m).then(|| Point3::new(behind_m, self.at.y, z_m))
    }

    /// The station of a crossmember that such a mount lacks.
    pub fn lacks_aslant(&self, rails: &Rails, reach: &Reach) -> Option<f64> {
        let has = |x_m: f64| self.aslant_on(rails, reach, x_m).is_some();
        let (_, radius_m) = crossmember_m(rails, self.at.x);
        let ahead_m = self.at.x + radius_m + reach.over_m + SPARE_M;
        let lacks = !near(rails, self.at.x).into_iter().any(has);
        lacks.then(|| ahead_m.min(rails.front_x_m - radius_m).max(rails.rear_x_m + radius_m))
    }

    /// The station of a crossmember that the mount lacks: just ahead of it, where the bar comes from behind.
    pub fn lacks(&self, rails: &Rails, reach: &Reach) -> Option<f64> {
        if self.on(rails, reach).is_some() {
            return None;
        }
        let (_, radius_m) = crossmember_m(rails, self.at.x);
        let ahead_m = self.at.x + radius_m + reach.straight_m;
        Some(ahead_m.min(rails.front_x_m - radius_m).max(rails.rear_x_m + radius_m))
    }

    /// A mount that a rail carries, and the bar beside no crossmember: over those in its way, if it need not rise far, else ending behind
    /// them. `x` of the mount, and how far the bar's axle end stands over the axle.
    pub fn past(mut self, rails: &Rails, reach: &Reach, frame_z_m: f64, over_m: f64) -> [f64; 2] {
        let y_m = self.at.y;
        let axle_z_m = self.axle_z_m;
        let members = || {
            let all = rails.crossmembers_x_m.iter();
            all.filter_map(|x_m| Member::at(rails, *x_m, y_m, reach.half_m))
                .filter(|m| m.x_m > 0.0)
        };
        for rise_m in RISES_M {
            self.at.z = frame_z_m + over_m + rise_m;
            self.axle_z_m = axle_z_m.map(|z_m| z_m + rise_m);
            let is_clear = |m: Member| {
                let far_m = (self.at.x - m.x_m).hypot(self.at.z - m.z_m);
                self.passes(&m) && far_m > m.radius_m + reach.straight_m
            };
            if members().all(is_clear) {
                return [self.at.x, over_m + rise_m];
            }
        }
        let z_m = frame_z_m + over_m;
        let behind_m = members().map(|m| m.behind_m(z_m, reach.straight_m));
        [behind_m.fold(self.at.x, f64::min).max(self.least_x_m), over_m]
    }

    fn passes(&self, member: &Member) -> bool {
        let room_m = member.radius_m + self.bar_radius_m + PASSES_M + ROLLS * self.at.y.abs();
        member.x_m > self.at.x
            || self.axle_z_m.iter().all(|axle_z_m| {
                let there_m = axle_z_m + (self.at.z - axle_z_m) * member.x_m / self.at.x;
                (there_m - member.z_m).abs() > room_m
            })
    }
}

/// The station of a crossmember that a pivot in the middle lacks, its bolt front to back: behind it, where links and crank pass.
pub(super) fn lacks_beside(rails: &Rails, x_m: f64, reach: &Reach) -> Option<f64> {
    let (_, radius_m) = crossmember_m(rails, x_m);
    let beside_m = x_m - radius_m - (reach.over_m + SPARE_M).max(reach.crank_m);
    near(rails, x_m)
        .is_empty()
        .then(|| beside_m.max(rails.rear_x_m + radius_m))
}

/// A height for that pivot, the one that is wanted or as near to it as its crossmember allows.
pub(super) fn off_level_m(rails: &Rails, x_m: f64, wanted_m: f64, reach: &Reach) -> f64 {
    let nearest = near(rails, x_m).first().copied();
    let Some(member) = nearest.and_then(|station| Member::at(rails, station, 0.0, 0.0)) else {
        return wanted_m;
    };
    let over_m = member.radius_m + reach.over_m;
    let is_beside = (member.x_m - x_m).abs() > over_m;
    let least_m = if is_beside { LEVEL_M } else { over_m };
    let up_m = wanted_m - member.z_m;
    member.z_m
        + if up_m > 0.0 {
            up_m.max(least_m)
        } else {
            up_m.min(-least_m)
        }
}

/// A station for a bracket on a rail, as near to the one wanted as crossmembers in its way allow: behind one that is, or ahead of it where
/// that makes the bar too short.
pub(super) fn off_crossmembers_m(rails: &Rails, reach: &Reach, wanted: Point3<f64>) -> f64 {
    let members = rails.crossmembers_x_m.iter();
    let mut in_the_way = members.filter_map(|x_m| {
        let member = Member::at(rails, *x_m, wanted.y, reach.half_m)?;
        let along_m = member.radius_m + 3.0 * reach.edge_m;
        let is_in_the_way =
            (wanted.x - x_m).abs() < along_m && (wanted.z - member.z_m).abs() < member.radius_m + 3.0 * reach.edge_m;
        is_in_the_way.then_some((*x_m, along_m))
    });
    in_the_way.next().map_or(wanted.x, |(x_m, along_m)| {
        let behind_m = x_m - along_m;
        if behind_m > 0.5 { behind_m } else { x_m + along_m }
    })
}

/// Stations of crossmembers, the nearest first.
fn near(rails: &Rails, x_m: f64) -> Vec<f64> {
    let far = |x: &f64| (x - x_m).abs();
    let mut near: Vec<_> = rails
        .crossmembers_x_m
        .iter()
        .copied()
        .filter(|x| far(x) < NEAR_M)
        .collect();
    near.sort_by(|a, b| far(a).total_cmp(&far(b)));
    near
}
