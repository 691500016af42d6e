//! The places on the frame that a bracket may be welded to, the one that suits a mount best first.

use std::cell::OnceCell;

use nalgebra::{Point2, Point3, Vector3};

use super::error::BracketError;
use super::ground::{Face, Ground, Pipe, rectangle};
use super::joint::{Joint, Shop};
use super::rail_side::{CORNER_IN_WALLS, RailSide};
use super::steel::{Member, Own, Wall};
use crate::hand::Hand;
use crate::rail_line::{bends_m, crossmember_m, top_z_m, underside_z_m};
use crate::setup::{Rails, Section};

/// A crossmember farther than this along the truck is no help.
const NEAR_M: f64 = 0.25;

/// How much of a rail to either side of a mount a bracket may take.
const BESIDE_M: f64 = 0.25;

/// A weld edge that a rail's curve leaves by more than this is fitted by hand: an eighth of an inch, more than a weld fills.
const CURVED_M: f64 = 0.003;

/// One that it leaves by more than this stands on nothing: half an inch.
const FITTED_M: f64 = 0.0127;

/// The corners inside a channel are rounded, too.
const INTO_CHANNEL: &str = "Goes into the open channel: clip its corners to clear the radius inside, and weld it to the web and to both flanges.";

/// The rails, with what is worked out of them only once.
pub(super) struct Frame<'a> {
    rails: &'a Rails,
    side: OnceCell<RailSide>,
}

impl<'a> Frame<'a> {
    pub fn of(rails: &'a Rails) -> Self {
        Self {
            rails,
            side: OnceCell::new(),
        }
    }
}

/// The rail beside a mount: its section there.
struct Beside<'a> {
    frame: &'a Frame<'a>,
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

/// How a rail's underside or top runs on from a mount.
struct Tangent {
    /// Up over along the truck.
    slope: f64,
    /// From and to along the truck that it follows that.
    along_m: [f64; 2],
    /// How far it leaves it there.
    curve_m: f64,
}

/// Where on the frame a joint's bracket may stand.
///
/// # Errors
/// Where there is nothing near, or the mount lies in the steel.
pub(super) fn grounds(joint: &Joint, frame: &Frame, shop: &Shop) -> Result<Vec<Ground>, BracketError> {
    let (at, rails) = (joint.at, frame.rails);
    let member = crossmember(joint, rails, shop);
    let is_central = at.y.abs() < rails.spacing_m / 4.0;
    if is_central {
        return member.map(|pipe| vec![Ground::Pipe(pipe)]);
    }
    let Some(beside) = Beside::of(frame, joint) else {
        return member.map(|pipe| vec![Ground::Pipe(pipe)]);
    };
    let reach = at.y.abs();
    let is_level = at.z > beside.under_m && at.z < beside.top_m;
    let faces = if reach > beside.outer_m || reach < beside.inner_m {
        let side = beside.side(reach > beside.outer_m);
        let ends = if at.z > f64::midpoint(beside.under_m, beside.top_m) {
            beside.top(joint, shop)
        } else {
            beside.underside(joint, shop)
        };
        if is_level { vec![side, ends] } else { vec![ends, side] }
    } else if at.z >= beside.top_m {
        vec![beside.top(joint, shop)]
    } else if at.z <= beside.under_m {
        vec![beside.underside(joint, shop)]
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
    fn of(frame: &'a Frame, joint: &Joint) -> Option<Self> {
        let (at, rails) = (joint.at, frame.rails);
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
            frame,
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

    /// From and to along the truck.
    fn along_m(&self) -> [f64; 2] {
        [
            (self.rails.rear_x_m - self.x_m).max(-BESIDE_M),
            (self.rails.front_x_m - self.x_m).min(BESIDE_M),
        ]
    }

    /// The same along the underside: up to where a notch begins or ends, which is a corner.
    fn beside_notch_m(&self) -> [f64; 2] {
        let [from_m, to_m] = self.along_m();
        let Some(notch) = self.rails.notch else {
            return [from_m, to_m];
        };
        let [rear_m, front_m] = [-notch.half_length_m - self.x_m, notch.half_length_m - self.x_m];
        if rear_m >= 0.0 {
            [from_m, to_m.min(rear_m)]
        } else if front_m <= 0.0 {
            [from_m.max(front_m), to_m]
        } else {
            [from_m.max(rear_m), to_m.min(front_m)]
        }
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
            vec![INTO_CHANNEL.to_owned()]
        } else {
            Vec::new()
        };
        let mut face = Face {
            what: format!("{}'s {which}", self.rail),
            point: Point3::new(self.x_m, self.hand.sign() * y, f64::midpoint(self.under_m, self.top_m)),
            normal: Vector3::y() * (self.hand.sign() * outward),
            along: Vector3::x(),
            whole: Vec::new(),
            flat: None,
            own,
            tongue_m: if is_open { rails.flange_m - rails.wall_m } else { 0.0 },
            notes,
        };
        let length_m = self.along_m().map(|m| self.x_m + m);
        let seen = self.frame.side.get_or_init(|| RailSide::of(rails));
        let less = |inset_m: f64| {
            let corners = seen.outline(length_m, inset_m).into_iter();
            let placed = corners.map(|p| face.seen(Point3::new(p.x, face.point.y, p.y)));
            placed.collect::<Vec<Point2<f64>>>()
        };
        (face.whole, face.flat) = if is_open {
            // A millimetre to slide it in.
            (less(rails.wall_m + 1e-3), None)
        } else {
            (less(0.0), Some(less(self.corner_m())))
        };
        face
    }

    /// True where a bend or the notch begins or ends near it.
    fn bends_within(&self, [from_m, to_m]: [f64; 2]) -> bool {
        let meets = |[a, b]: [f64; 2]| a.min(b) < self.x_m + to_m && a.max(b) > self.x_m + from_m;
        let bends = self.rails.kick_up.as_ref().map(bends_m);
        let notch = self.rails.notch.map(|n| [-n.half_length_m, n.half_length_m]);
        bends.into_iter().flatten().chain(notch).any(meets)
    }

    /// Radius of its rounded corners.
    fn corner_m(&self) -> f64 {
        CORNER_IN_WALLS * self.rails.wall_m
    }

    fn underside(&self, joint: &Joint, shop: &Shop) -> Face {
        self.flange("underside", Wall::Bottom, self.under_m, underside_z_m, (joint, shop))
    }

    fn top(&self, joint: &Joint, shop: &Shop) -> Face {
        self.flange("top", Wall::Top, self.top_m, top_z_m, (joint, shop))
    }

    fn flange(
        &self,
        which: &str,
        wall: Wall,
        z_m: f64,
        line: impl Fn(&Rails, f64) -> f64,
        (joint, shop): (&Joint, &Shop),
    ) -> Face {
        let up = if wall == Wall::Top { 1.0 } else { -1.0 };
        let beside_m = shop.least_weld_m().max(joint.gap_m / 2.0 + shop.steel.plate_m);
        let rise_m = |x_m: f64| line(self.rails, self.x_m + x_m) - z_m;
        let Tangent {
            slope,
            along_m,
            curve_m,
        } = self.tangent(wall, rise_m, beside_m);
        let along = Vector3::new(1.0, 0.0, slope).normalize();
        let curved = || {
            format!(
                "The rail curves here, {} within {}: leave the weld edge long and fit it to the rail.",
                shop.says(curve_m),
                shop.says(beside_m)
            )
        };
        let along_m = along_m.map(|x_m| x_m / along.x);
        let normal = Vector3::new(-along.z, 0.0, along.x) * up;
        let outwards = normal.cross(&along).y * self.hand.sign();
        let across = |less_m: f64| self.across_m(outwards, less_m);
        Face {
            what: format!("{}'s {which}", self.rail),
            point: Point3::new(
                self.x_m,
                self.hand.sign() * (self.outer_m - self.rails.flange_m / 2.0),
                z_m,
            ),
            normal,
            along,
            whole: rectangle(along_m, across(0.0)),
            flat: Some(rectangle(along_m, across(self.corner_m()))),
            tongue_m: 0.0,
            own: Own::Wall(self.hand, wall),
            notes: (curve_m > CURVED_M).then(curved).into_iter().collect(),
        }
    }

    /// Along the underside or the top at a mount, by how much it rises from there.
    fn tangent(&self, wall: Wall, rise_m: impl Fn(f64) -> f64, beside_m: f64) -> Tangent {
        const STEP_M: f64 = 0.01;
        const NO_LENGTH_M: f64 = 1e-6;
        let along_m = if wall == Wall::Top {
            self.along_m()
        } else {
            self.beside_notch_m()
        };
        // No chord over a notch's corner.
        let [back_m, on_m] = [along_m[0].max(-STEP_M), along_m[1].min(STEP_M)];
        let slope = (rise_m(on_m) - rise_m(back_m)) / (on_m - back_m).max(NO_LENGTH_M);
        let sag = |x_m: f64| (rise_m(x_m) - slope * x_m).abs();
        let (along_m, curve_m) = if self.bends_within(along_m) {
            followed_m(along_m, beside_m, sag)
        } else {
            (along_m, 0.0)
        };
        Tangent {
            slope,
            along_m,
            curve_m,
        }
    }

    /// A flange from side to side, about its middle, less its rounded corners; a channel's has none at its lip. `outwards` is positive
    /// where the face's coordinate grows away from the middle of the truck.
    fn across_m(&self, outwards: f64, corner_m: f64) -> [f64; 2] {
        let half_m = self.rails.flange_m / 2.0;
        let outer_m = (half_m - corner_m).max(0.0);
        let inner_m = match self.rails.section {
            Section::Box => outer_m,
            Section::Channel => half_m,
        };
        if outwards > 0.0 {
            [-inner_m, outer_m]
        } else {
            [-outer_m, inner_m]
        }
    }
}

/// How far a rail follows its tangent at a mount, from and to along the truck, and by how much it leaves that there: beside the mount as much
/// as can be fitted, farther off no more than a weld fills.
fn followed_m([from_m, to_m]: [f64; 2], beside_m: f64, sag: impl Fn(f64) -> f64) -> ([f64; 2], f64) {
    const STEP_M: f64 = 0.01;
    let mut curve_m: f64 = 0.0;
    let mut reach = |way: f64, most_m: f64| {
        let mut far_m = 0.0;
        while far_m < most_m {
            // A step ends where more may be fitted no longer, too.
            let end_m = if far_m < beside_m { beside_m.min(most_m) } else { most_m };
            let next_m = (far_m + STEP_M).min(end_m);
            let leaves_m = sag(way * next_m);
            let limit_m = if next_m > beside_m { CURVED_M } else { FITTED_M };
            if leaves_m > limit_m {
                break;
            }
            curve_m = curve_m.max(leaves_m);
            far_m = next_m;
        }
        far_m
    };
    let along_m = [-reach(-1.0, -from_m), reach(1.0, to_m)];
    (along_m, curve_m)
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
