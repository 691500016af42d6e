//! The places on the frame that a bracket may be welded to, the one that suits a mount best first.

use nalgebra::{Point3, Vector3};

use super::error::BracketError;
use super::ground::{Face, Ground, Pipe};
use super::joint::{Joint, Shop};
use super::steel::{Member, Own, Wall};
use crate::hand::Hand;
use crate::rail_line::{crossmember_m, top_z_m, underside_z_m};
use crate::setup::{Rails, Section};

/// A crossmember farther than this along the truck is no help.
const NEAR_M: f64 = 0.25;

/// How much of a rail to either side of a mount a bracket may take.
const BESIDE_M: f64 = 0.4;

/// A weld edge that a rail's curve leaves by more than this is fitted by hand: an eighth of an inch, more than a weld fills.
const CURVED_M: f64 = 0.003;

/// The rail beside a mount: its section there.
struct Beside<'a> {
    rails: &'a Rails,
    /// "the left rail", or where one stands for both, "the rail".
    rail: String,
    hand: Hand,
    x_m: f64,
    under_m: f64,
    top_m: f64,
    outer_m: f64,
    inner_m: f64,
}

/// Where on the frame a joint's bracket may stand.
///
/// # Errors
/// Where there is nothing near, or the mount lies in the steel.
pub(super) fn grounds(joint: &Joint, rails: &Rails, shop: &Shop) -> Result<Vec<Ground>, BracketError> {
    let at = joint.at;
    let member = crossmember(joint, rails, shop);
    let is_central = at.y.abs() < rails.spacing_m / 4.0;
    if is_central {
        return member.map(|pipe| vec![Ground::Pipe(pipe)]);
    }
    let Some(beside) = Beside::of(rails, joint) else {
        return member.map(|pipe| vec![Ground::Pipe(pipe)]);
    };
    let reach = at.y.abs();
    let is_level = at.z > beside.under_m && at.z < beside.top_m;
    let faces = if reach > beside.outer_m || reach < beside.inner_m {
        let side = beside.side(reach > beside.outer_m);
        let ends = if at.z > f64::midpoint(beside.under_m, beside.top_m) {
            beside.top(shop)
        } else {
            beside.underside(shop)
        };
        if is_level { vec![side, ends] } else { vec![ends, side] }
    } else if at.z >= beside.top_m {
        vec![beside.top(shop)]
    } else if at.z <= beside.under_m {
        vec![beside.underside(shop)]
    } else {
        return Err(BracketError::Inside {
            name: joint.name.clone(),
            what: beside.rail.clone(),
            needed: shop.says(shop.steel.edge_m()),
        });
    };
    Ok(faces
        .into_iter()
        .map(Ground::Face)
        .chain(member.ok().map(Ground::Pipe))
        .collect())
}

impl<'a> Beside<'a> {
    fn of(rails: &'a Rails, joint: &Joint) -> Option<Self> {
        let at = joint.at;
        let is_along = (rails.rear_x_m..=rails.front_x_m).contains(&at.x);
        let (under_m, top_m) = (underside_z_m(rails, at.x), top_z_m(rails, at.x));
        let outer_m = rails.spacing_m / 2.0;
        let hand = if at.y < 0.0 { Hand::Right } else { Hand::Left };
        let rail = || {
            if joint.on_both_sides {
                "the rail".to_owned()
            } else {
                format!("the {} rail", hand.word())
            }
        };
        (is_along && top_m - under_m > 2.0 * rails.wall_m).then(|| Self {
            rails,
            rail: rail(),
            hand,
            x_m: at.x,
            under_m,
            top_m,
            outer_m,
            inner_m: outer_m - rails.flange_m,
        })
    }

    fn along_m(&self) -> [f64; 2] {
        [
            (self.rails.rear_x_m - self.x_m).max(-BESIDE_M),
            (self.rails.front_x_m - self.x_m).min(BESIDE_M),
        ]
    }

    /// Its outer side, or the one that faces the middle of the truck: of an open channel the web, between the flanges.
    fn side(&self, is_outer: bool) -> Face {
        let rails = self.rails;
        let is_open = !is_outer && rails.section == Section::Channel;
        let (outward, y) = match (is_outer, is_open) {
            (true, _) => (1.0, self.outer_m),
            (false, false) => (-1.0, self.inner_m),
            (false, true) => (-1.0, self.outer_m - rails.wall_m),
        };
        // A millimetre to slide it in.
        let wall_m = if is_open { rails.wall_m + 1e-3 } else { 0.0 };
        let half_m = (self.top_m - self.under_m) / 2.0 - wall_m;
        let which = match (is_outer, is_open) {
            (true, _) => "outside",
            (false, false) => "inner side",
            (false, true) => "web between its flanges",
        };
        // Nothing of the rail stands out from its plane sides; of a channel's open one the flanges do.
        let own = if is_open {
            Own::Wall(self.hand, Wall::Outer)
        } else {
            Own::Rail(self.hand)
        };
        let notes = if is_open {
            vec!["Goes into the open channel: weld it to the web and to both flanges.".to_owned()]
        } else {
            Vec::new()
        };
        Face {
            what: format!("{}'s {which}", self.rail),
            point: Point3::new(self.x_m, self.hand.sign() * y, f64::midpoint(self.under_m, self.top_m)),
            normal: Vector3::y() * (self.hand.sign() * outward),
            along: Vector3::x(),
            along_m: self.along_m(),
            across_m: [-half_m, half_m],
            own,
            tongue_m: if is_open { rails.flange_m - rails.wall_m } else { 0.0 },
            notes,
        }
    }

    fn underside(&self, shop: &Shop) -> Face {
        self.flange("underside", Wall::Bottom, self.under_m, underside_z_m, shop)
    }

    fn top(&self, shop: &Shop) -> Face {
        self.flange("top", Wall::Top, self.top_m, top_z_m, shop)
    }

    fn flange(&self, which: &str, wall: Wall, z_m: f64, line: impl Fn(&Rails, f64) -> f64, shop: &Shop) -> Face {
        const STEP_M: f64 = 0.01;
        let up = if wall == Wall::Top { 1.0 } else { -1.0 };
        let climb = line(self.rails, self.x_m + STEP_M) - line(self.rails, self.x_m - STEP_M);
        let along = Vector3::new(2.0 * STEP_M, 0.0, climb).normalize();
        let half_m = self.rails.flange_m / 2.0;
        let sag = |x_m: f64| (line(self.rails, self.x_m + x_m) - z_m - climb / (2.0 * STEP_M) * x_m).abs();
        let beside_m = shop.least_weld_m();
        let curve_m = sag(beside_m).max(sag(-beside_m));
        let curved = || {
            format!(
                "The rail curves here, {} within {}: leave the weld edge long and fit it to the rail.",
                shop.says(curve_m),
                shop.says(beside_m)
            )
        };
        Face {
            what: format!("{}'s {which}", self.rail),
            point: Point3::new(
                self.x_m,
                self.hand.sign() * f64::midpoint(self.outer_m, self.inner_m),
                z_m,
            ),
            normal: Vector3::new(-along.z, 0.0, along.x) * up,
            along,
            along_m: self.along_m(),
            across_m: [-half_m, half_m],
            tongue_m: 0.0,
            own: Own::Wall(self.hand, wall),
            notes: (curve_m > CURVED_M).then(curved).into_iter().collect(),
        }
    }
}

/// The straight part of the nearest crossmember, as it is drawn.
fn crossmember(joint: &Joint, rails: &Rails, shop: &Shop) -> Result<Pipe, BracketError> {
    let at = joint.at;
    let far = |x: f64| (x - at.x).abs();
    let stations = rails.crossmembers_x_m.iter().copied().enumerate();
    let (which, x_m) = stations
        .filter(|(_, x)| far(*x) < NEAR_M)
        .min_by(|(_, a), (_, b)| far(*a).total_cmp(&far(*b)))
        .ok_or_else(|| BracketError::NothingNear {
            name: joint.name.clone(),
            reach: shop.says(NEAR_M),
        })?;
    let (bends, radius_m) = crossmember_m(rails, x_m);
    let half_m = joint.gap_m / 2.0 + shop.steel.plate_m;
    // Bends run from left to right.
    let is_under = |(_, run): &(usize, &[Point3<f64>])| at.y - half_m >= run[1].y && at.y + half_m <= run[0].y;
    let (part, run) = bends
        .windows(2)
        .enumerate()
        .find(is_under)
        .ok_or_else(|| BracketError::Bent {
            name: joint.name.clone(),
        })?;
    let along = run[0] - run[1];
    let axis = along.try_normalize(1e-6).unwrap_or_else(Vector3::y);
    Ok(Pipe {
        what: "the crossmember".to_owned(),
        point: run[1],
        axis,
        ends_m: [0.0, along.norm()],
        radius_m,
        member: Member::Crossmember(which, part),
        lump_m: None,
        notes: vec![format!(
            "The crossmember is taken as a tube of {}, as it is drawn: measure yours before this is cut.",
            shop.says(2.0 * radius_m)
        )],
    })
}
