//! What a crank turns in: a cage of two cheeks across its pivot's bolt, one on the tube's side and one beyond, held apart by a cap at either
//! end and open where the links come out.
//!
//! The crank sweeps a circle round the pivot, and its links swing through most of what lies in its plane to either side. So nothing that carries
//! the cage may stand in that plane: the near cheek alone is carried, by ribs that are saddled on the tube and end at it, each with a brace
//! along the tube against the links' pull. The caps lie outside the circle where no link is. Past the near cheek swing the nuts of the bolts
//! through the crank's ends, for which a spacer leaves room; their heads swing past the far cheek on both sides of it, so that the bolts go in
//! from there.

use nalgebra::{Point2, Point3, Unit, Vector2, Vector3};

use super::error::BracketError;
use super::ground::Pipe;
use super::hull::{Disc, around, rectangle};
use super::joint::{Joint, Shop};
use super::plane::Plane;
use super::watt::{self, PIVOT_WASHER_M};
use super::{Hole, Outline, Plate, Scribe, check, marks, rib};

/// A bolt no farther from square to the tube has cheeks that lie along it: to a tenth of a millimetre across their width.
const SQUARE: f64 = 0.002;

/// Between the circle that the crank sweeps and a cap, and between a cheek and the tube: common practice.
const CLEAR_M: f64 = 0.005;

/// Middle of a rib beside what sits round the tube: it leaves the ribs of a pad that bridges the same, and their welds, their room.
const BESIDE_IN_PLATES: f64 = 3.5;

/// A cheek stands out beyond what is welded to it by this many plates: room for the weld.
const LAND_IN_PLATES: f64 = 1.5;

/// Where a brace meets the tube, no farther off its middle than this many radii: it still stands nearly square on it.
const BRACE_OFF: f64 = 0.7;

/// A brace is this much as long on the tube as on its rib: beside it, other brackets want the tube.
const BRACE_ON_TUBE: f64 = 0.5;

/// A joint with a crank in it, and the tube beside it, seen along the bolt.
struct Seen<'a> {
    joint: &'a Joint,
    pipe: &'a Pipe,
    shop: &'a Shop<'a>,
    /// Along the bolt, from the tube to the joint.
    away: Unit<Vector3<f64>>,
    /// Square to bolt and tube.
    aside: Unit<Vector3<f64>>,
    /// From the tube's point to the joint: along the tube, along `away`, along `aside`, m.
    along_m: f64,
    away_m: f64,
    aside_m: f64,
    /// Towards the caps: along the tube, and aside.
    open: Vector2<f64>,
}

/// What holds the ribs upright against the links' pull.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Bracing {
    /// A corner plate at either of them.
    Plates,
    /// What the fabricator finds room for.
    ToSuit,
}

/// Both cheeks, the two caps, the two ribs and their braces; `None` where no crank turns in the joint, or its bolt does not lie square to the
/// tube.
///
/// # Errors
/// What keeps it from standing there.
pub(super) fn on_pipe(
    joint: &Joint,
    pipe: &Pipe,
    shop: &Shop,
    bracing: Bracing,
) -> Option<Result<Vec<Plate>, BracketError>> {
    let seen = Seen::of(joint, pipe, shop)?;
    Some(seen.is_clear().and_then(|()| seen.plates(bracing)))
}

impl<'a> Seen<'a> {
    fn of(joint: &'a Joint, pipe: &'a Pipe, shop: &'a Shop) -> Option<Self> {
        if joint.sweep_m == 0.0 || joint.bolt.dot(&pipe.axis).abs() > SQUARE {
            return None;
        }
        let off = joint.at - pipe.point;
        let away = if off.dot(&joint.bolt) < 0.0 {
            -joint.bolt
        } else {
            joint.bolt
        };
        let aside = Unit::new_normalize(away.cross(&pipe.axis));
        let open = joint.open?;
        let open = Vector2::new(open.dot(&pipe.axis), open.dot(&aside)).try_normalize(1e-6)?;
        Some(Self {
            joint,
            pipe,
            shop,
            away,
            aside,
            along_m: off.dot(&pipe.axis),
            away_m: off.dot(&away),
            aside_m: off.dot(&aside),
            open,
        })
    }

    /// The near cheek clears the tube.
    fn is_clear(&self) -> Result<(), BracketError> {
        let there_m = self.near_face_m() - self.pipe.radius_m;
        if there_m >= CLEAR_M {
            return Ok(());
        }
        let shop = self.shop;
        let (from_tube_m, more_m) = (self.away_m - self.pipe.radius_m, CLEAR_M - there_m);
        Err(BracketError::TooNear {
            name: self.joint.name.clone(),
            what: self.pipe.what.clone(),
            there: shop.says(from_tube_m.max(0.0)),
            needed: shop.says(from_tube_m.max(0.0) + more_m),
            more: shop.says(more_m),
        })
    }

    /// The faces of the near and the far cheek towards the crank, along `away` from the middle of the crank.
    fn faces_m(&self) -> [f64; 2] {
        let half_m = watt::crank_half_m(self.shop.steel) + PIVOT_WASHER_M;
        [-half_m - watt::crank_spacer_m(self.shop.steel), half_m]
    }

    fn plate_m(&self) -> f64 {
        self.shop.steel.plate_m
    }

    fn edge_m(&self) -> f64 {
        self.shop.steel.edge_m()
    }

    /// The near cheek's face towards the tube, from the tube's middle.
    fn near_face_m(&self) -> f64 {
        self.away_m + self.faces_m()[0] - self.plate_m()
    }

    /// Half of what a cheek is long: past the caps, with the land for their welds.
    fn half_height_m(&self) -> f64 {
        self.cap_m() + (0.5 + LAND_IN_PLATES) * self.plate_m()
    }

    /// From the pivot to the middle of a cap.
    fn cap_m(&self) -> f64 {
        self.joint.sweep_m + CLEAR_M + self.plate_m() / 2.0
    }

    /// Half the width of the far cheek: the round end that its hole wants, or the shortest edge that is welded.
    fn half_width_m(&self) -> f64 {
        self.edge_m().max(self.shop.least_weld_m() / 2.0)
    }

    /// The same along the caps' way and square to it instead: so far along the tube, and aside.
    fn off(&self, open_m: f64, square_m: f64) -> (f64, f64) {
        let p = self.open * open_m + Vector2::new(-self.open.y, self.open.x) * square_m;
        (p.x, p.y)
    }

    /// A point from the joint: along the tube, away from it, and aside.
    fn at(&self, along_m: f64, away_m: f64, aside_m: f64) -> Point3<f64> {
        self.joint.at + self.pipe.axis * along_m + self.away.into_inner() * away_m + self.aside.into_inner() * aside_m
    }

    fn plates(&self, bracing: Bracing) -> Result<Vec<Plate>, BracketError> {
        let ribs_m = self.ribs_m()?;
        let [near, far] = self.cheeks(ribs_m)?;
        let mut ribs = self.ribs(ribs_m)?;
        let braces = match bracing {
            Bracing::Plates => self.braces(ribs_m, &ribs)?,
            Bracing::ToSuit => {
                ribs.notes.push(format!(
                    "Tie each rib to {} with a diagonal against the links' pull to the side, where there is room for it.",
                    self.pipe.what
                ));
                Vec::new()
            }
        };
        Ok([near, far, self.caps(), ribs].into_iter().chain(braces).collect())
    }

    /// Where the middles of the two ribs stand, along the tube from the pivot: as far out as the crank reaches, and beside what sits round the
    /// tube.
    fn ribs_m(&self) -> Result<[f64; 2], BracketError> {
        let plate_m = self.plate_m();
        let mut ends_m = [-self.joint.sweep_m, self.joint.sweep_m];
        if let Some([middle_m, half_m]) = self.pipe.lump_m {
            let middle_m = middle_m - self.along_m;
            let past_m = half_m + BESIDE_IN_PLATES * plate_m;
            if ends_m.iter().any(|m| (m - middle_m).abs() < past_m) {
                ends_m = [ends_m[0].min(middle_m - past_m), ends_m[1].max(middle_m + past_m)];
            }
        }
        let [low, high] = self.pipe.ends_m.map(|m| m - self.along_m);
        if ends_m[0] - plate_m / 2.0 < low || ends_m[1] + plate_m / 2.0 > high {
            return Err(BracketError::OffSteel {
                name: self.joint.name.clone(),
                what: self.pipe.what.clone(),
                needed: self.shop.says(ends_m[1] - ends_m[0] + plate_m),
            });
        }
        Ok(ends_m)
    }

    /// The near cheek, wide enough to take both ribs, and the far one, which only the caps hold.
    fn cheeks(&self, ribs_m: [f64; 2]) -> Result<[Plate; 2], BracketError> {
        let shop = self.shop;
        let half_plate_m = self.plate_m() / 2.0;
        let [near_m, far_m] = self.faces_m();
        // As they lie on the table: seen from the bolt's head.
        let plane = |away_m: f64| Plane::across(self.at(0.0, away_m, 0.0), self.joint.bolt);
        let (near, far) = (plane(near_m - half_plate_m), plane(far_m + half_plate_m));
        let land_m = (0.5 + LAND_IN_PLATES) * self.plate_m();
        let (half_m, high_m) = (self.half_width_m(), self.half_height_m());
        let low_m = self.edge_m() + self.plate_m();
        let upright = [
            (-high_m, -half_m),
            (high_m, -half_m),
            (high_m, half_m),
            (-high_m, half_m),
        ]
        .map(|(o, s)| self.off(o, s));
        let across = [
            (ribs_m[0] - land_m, -low_m),
            (ribs_m[1] + land_m, -low_m),
            (ribs_m[1] + land_m, low_m),
            (ribs_m[0] - land_m, low_m),
        ];
        let discs = |corners: &[(f64, f64)], plane: &Plane| -> Vec<Disc> {
            let flat = |(along, aside): &(f64, f64)| Disc::corner(plane.flat(self.at(*along, 0.0, *aside)));
            corners.iter().map(flat).collect()
        };
        let wide: Vec<_> = upright.iter().chain(&across).copied().collect();
        let mut near_cheek = self.cheek("near side plate", &near, &discs(&wide, &near))?;
        let mut far_cheek = self.cheek("far side plate", &far, &discs(&upright, &far))?;
        for along_m in ribs_m {
            let end = |aside_m: f64| near.flat(self.at(along_m, 0.0, aside_m));
            near_cheek.scribes.push(Scribe {
                from: end(-self.edge_m()),
                to: end(self.edge_m()),
                what: "middle of a rib".to_owned(),
            });
        }
        let gap = shop.says(self.joint.gap_m);
        near_cheek.notes.push(format!(
            "It stands on the two ribs, on the side of {}. Tack it and the far side plate to both caps, {gap} apart, with the pivot's bolt through \
             both and a spacer of that length between them. The pivot's bolt goes in from the far side plate; its nut is on this one.",
            self.pipe.what
        ));
        far_cheek.notes.push(
            "Only the two caps hold it, aslant between the crank's arms: the links come out to both sides, and the heads of the bolts at the crank's ends swing \
             past its edges. The crank goes in from the side."
                .to_owned(),
        );
        Ok([near_cheek, far_cheek])
    }

    fn cheek(&self, what: &str, plane: &Plane, discs: &[Disc]) -> Result<Plate, BracketError> {
        let (joint, shop) = (self.joint, self.shop);
        let outline = self.belt(discs)?;
        let holes = vec![Hole {
            at: plane.flat(joint.at),
            diameter_m: shop.steel.hole_m(),
        }];
        check::plate(joint, shop, &self.pipe.what, &outline, &holes)?;
        let mut plate = marks::plate(joint, shop, what, outline, vec![plane.stand(joint.carrier)]);
        plate.scribes = marks::at_hole(joint, shop, plane);
        plate.holes = holes;
        plate.notes.clone_from(&joint.notes);
        for cap_m in [-self.cap_m(), self.cap_m()] {
            let half_m = self.half_width_m();
            let end = |square_m: f64| {
                let (along_m, aside_m) = self.off(cap_m, square_m);
                plane.flat(self.at(along_m, 0.0, aside_m))
            };
            plate.scribes.push(Scribe {
                from: end(-half_m),
                to: end(half_m),
                what: "middle of a cap".to_owned(),
            });
        }
        Ok(plate)
    }

    fn belt(&self, discs: &[Disc]) -> Result<Outline, BracketError> {
        around(discs).ok_or_else(|| BracketError::NearEdge {
            name: self.joint.name.clone(),
            hole: 1,
            there: self.shop.says(0.0),
            needed: self.shop.says(self.edge_m()),
        })
    }

    /// Between the cheeks at either end, outside the circle that the crank sweeps.
    fn caps(&self) -> Plate {
        let (joint, shop) = (self.joint, self.shop);
        let [near_m, far_m] = self.faces_m();
        let middle_m = f64::midpoint(near_m, far_m);
        let square = self.off(0.0, 1.0);
        let x = Unit::new_normalize(self.pipe.axis * square.0 + self.aside.into_inner() * square.1);
        let planes = [-1.0, 1.0].map(|side| {
            let (along_m, aside_m) = self.off(side * self.cap_m(), 0.0);
            Plane::of(self.at(along_m, middle_m, aside_m), x, self.away)
        });
        let half = Point2::new(self.half_width_m(), joint.gap_m / 2.0);
        let outline = rectangle(-half, half);
        let stands = planes.iter().map(|p| p.stand(joint.carrier)).collect();
        let mut plate = marks::plate(joint, shop, "cap", outline, stands);
        let clear_m = self.joint.sweep_m + CLEAR_M;
        plate.notes.push(format!(
            "Between the two side plates, square to them, one at either end: its face towards the pivot {} from the middle of the bolt. Weld it \
             along both edges, outside first.",
            shop.says(clear_m)
        ));
        plate
    }

    /// From the tube to the near cheek.
    fn ribs(&self, ribs_m: [f64; 2]) -> Result<Plate, BracketError> {
        let (joint, shop, pipe) = (self.joint, self.shop, self.pipe);
        let face_m = self.near_face_m() - self.away_m;
        let tops = ribs_m.map(|m| [-1.0, 1.0].map(|side| self.at(m, face_m, side * self.edge_m())));
        let axis = Unit::new_unchecked(pipe.axis);
        let planes = tops.map(|top| Plane::across(pipe.beside(top[0]), axis));
        let mut plate = rib::ribs(joint, shop, pipe, planes, (tops[0], self.away, None))?;
        plate.notes.push(
            "The straight edge meets the near side plate: weld it on both sides. Nothing stands beyond it, where the links swing.".to_owned(),
        );
        let [mut right_m, mut left_m] = ribs_m.map(|m| m.abs() - self.plate_m() / 2.0);
        if pipe.axis.y < 0.0 {
            std::mem::swap(&mut left_m, &mut right_m);
        }
        plate.notes.push(format!(
            "The inner faces of the two ribs stand {} left and {} right of the pivot.",
            shop.says(left_m),
            shop.says(right_m)
        ));
        Ok(plate)
    }

    /// Against the links' pull along the tube: a corner in the angle of either rib and the tube, on the side away from the pivot. None where the
    /// ribs are too short to bend, or the tube ends.
    fn braces(&self, ribs_m: [f64; 2], ribs: &Plate) -> Result<Vec<Plate>, BracketError> {
        let (joint, shop, pipe) = (self.joint, self.shop, self.pipe);
        let plate_m = self.plate_m();
        let most_m = BRACE_OFF * pipe.radius_m;
        let off_m = self.aside_m.clamp(-most_m, most_m);
        // Where its face that comes nearest to the tube's middle meets the tube.
        let inner_m = (off_m.abs() - plate_m / 2.0).max(0.0);
        let tube_m = (pipe.radius_m * pipe.radius_m - inner_m * inner_m).max(0.0).sqrt();
        let far_m = self.rib_reaches_m(ribs, off_m).unwrap_or(0.0);
        // The rib's weld to the near cheek keeps its room.
        let long_m = far_m.min(self.near_face_m() - LAND_IN_PLATES * plate_m) - tube_m;
        let on_tube_m = BRACE_ON_TUBE * long_m;
        let out_m = plate_m / 2.0 + on_tube_m;
        let [low, high] = pipe.ends_m.map(|m| m - self.along_m);
        if long_m < self.edge_m() || ribs_m[0] - out_m < low || ribs_m[1] + out_m > high {
            return Ok(Vec::new());
        }
        let corners = [Point2::origin(), Point2::new(on_tube_m, 0.0), Point2::new(0.0, long_m)];
        let outline = self.belt(&corners.map(Disc::corner))?;
        check::length(joint, shop, &pipe.what, &outline)?;
        let note = format!(
            "In the corner of a rib and {}, outside the two ribs and square to both, {} {} the middle of the tube: its short edge on the tube, \
             the long one on the rib. It takes the links' pull along the tube.",
            pipe.what,
            shop.says(off_m.abs()),
            self.which_way(off_m)
        );
        let root = pipe.point + self.away.into_inner() * tube_m + self.aside.into_inner() * off_m;
        let axis = Unit::new_unchecked(pipe.axis);
        let brace = |(m, out): (f64, Unit<Vector3<f64>>)| {
            let foot = root + pipe.axis * (self.along_m + m) + out.into_inner() * (plate_m / 2.0);
            let plane = Plane::of(foot, out, self.away);
            let side = if out.y > 0.0 { "left" } else { "right" };
            let stands = vec![plane.stand(joint.carrier)];
            let mut plate = marks::plate(joint, shop, &format!("{side} brace"), outline.clone(), stands);
            plate.notes.push(note.clone());
            plate
        };
        Ok([(ribs_m[0], -axis), (ribs_m[1], axis)].map(brace).to_vec())
    }

    /// "above", "below", "ahead of" or "behind", for so much aside.
    fn which_way(&self, off_m: f64) -> &'static str {
        let way = self.aside.into_inner() * off_m;
        match (way.z.abs() > way.x.abs(), way.z > 0.0, way.x > 0.0) {
            (true, true, _) => "above",
            (true, false, _) => "below",
            (false, _, true) => "ahead of",
            (false, _, false) => "behind",
        }
    }

    /// How far from the tube's middle, along `away`, a rib reaches at so much aside; `None` where it does not.
    fn rib_reaches_m(&self, ribs: &Plate, off_m: f64) -> Option<f64> {
        let stand = ribs.stands.first()?;
        let seen = |p: Point2<f64>| {
            let off = stand.place(p) - self.pipe.point;
            Point2::new(off.dot(&self.away), off.dot(&self.aside))
        };
        let crossed = ribs.outline.pieces().filter_map(|(from, segment)| {
            let (a, b) = (seen(from), seen(segment.to()));
            let share = (off_m - a.y) / (b.y - a.y);
            (0.0..=1.0).contains(&share).then(|| a.x + (b.x - a.x) * share)
        });
        crossed.reduce(f64::max)
    }
}
