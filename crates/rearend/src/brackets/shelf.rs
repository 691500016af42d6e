//! Brackets on a rail that their bolt points at: side plates on a pad plate, and the pad on its edge on the rail, as a shelf.

use nalgebra::{Point2, Point3, Unit, Vector3};

use super::error::BracketError;
use super::flat::inside_strip;
use super::ground::{ENDLESS_M, Face, Fit, ON_CORNER};
use super::joint::{Joint, Shop};
use super::pad::{LAND_IN_PLATES, MOST_LEAN, Taken, lowest, runs_into};
use super::plane::Plane;
use super::sides::{self, SQUARE_RAD, Sides};
use super::{Plate, ends};

/// A bolt that leans by less from along the pad lies along it.
const HARDLY: f64 = 0.02;

/// Of two ways that are as good to within this, m, the pad above the bolt is taken: on both sides of a truck the same.
const MATTERS_M: f64 = 1e-3;

/// A pad is tried so much farther from the bolt each time, m, and where it is hardly moved, half as much.
const STEP_M: f64 = 0.01;

/// A way that is worse than another by more than this, m, is taken where nothing else is.
const POOR_M: f64 = 1.0;

/// A pad that is farther than this from where it would like to be, m, is one for want of a better place.
const MAKESHIFT_M: f64 = 0.01;

/// A pad is set so much farther from its bolt, m, rather than
/// fitted to a rounded corner,
const GRINDING_M: f64 = 0.02;
/// pulled on square to its flat,
const PULLED_SQUARE_M: f64 = 0.05;
/// put between two bolts,
const BETWEEN_BOLTS_M: f64 = 0.03;
/// or put where a bar runs into it, or another bolt's plates.
const IN_THE_WAY_M: f64 = 100.0;

/// A bolt whose joint is no farther than this from a line lies on it, m.
const ON_LINE_M: f64 = 0.1;

/// A foot that is moved from under its bolt is worse than a bolt that stands higher: so many times.
const MOVED: f64 = 2.0;

/// No more places than this are tried one after the other.
const MOST_TRIES: usize = 40;

/// How far a pad may be from where it would like to be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Effort {
    /// Hardly at all: one place each way.
    Hardly,
    /// Moved as far as it takes: the best place.
    Moved,
    /// The same: every place.
    Anywhere,
}

impl Effort {
    pub const ALL: [Self; 3] = [Self::Hardly, Self::Moved, Self::Anywhere];
}

/// Where on a face the pad of a joint may stand on its edge, best first.
pub(super) fn places(joint: &Joint, face: &Face, shop: &Shop, effort: Effort) -> Vec<Place> {
    let ways = [face.across(), -face.across(), face.along, -face.along].into_iter();
    let mut ways: Vec<_> = ways.filter_map(|way| Way::of(joint, face, shop, way, effort)).collect();
    ways.sort_by(|a, b| a.worse_m.total_cmp(&b.worse_m));
    let mut all: Vec<Place> = Vec::new();
    for way in &ways {
        match effort {
            Effort::Hardly => all.extend(way.near_by(face, shop)),
            Effort::Moved => {
                let better = way.best(face, shop, all.first().map(|place| place.worth_m));
                if let Some(better) = better {
                    all = vec![better];
                }
            }
            Effort::Anywhere => all.extend(way.all(face, shop)),
        }
    }
    all.sort_by(|a, b| a.worth_m.total_cmp(&b.worth_m));
    all.truncate(MOST_TRIES);
    all
}

/// Why there is no place for a pad.
pub(super) fn off_steel(joint: &Joint, face: &Face, shop: &Shop) -> BracketError {
    BracketError::OffSteel {
        name: joint.name.clone(),
        what: face.what.clone(),
        needed: shop.says(least_m(shop)),
    }
}

/// What a pad has beyond the feet on it.
fn land_m(shop: &Shop) -> f64 {
    LAND_IN_PLATES * shop.steel.plate_m
}

/// The shortest edge of a pad.
fn least_m(shop: &Shop) -> f64 {
    shop.least_weld_m() + 2.0 * land_m(shop)
}

/// A way for a joint before a face to stand over a pad.
struct Way {
    /// From the pad to the joint.
    up: Unit<Vector3<f64>>,
    /// The joint square to the face.
    foot: Point3<f64>,
    /// Along the pad's edge.
    x: Unit<Vector3<f64>>,
    /// How much longer a length along `up` is on the face, and where on the face a pad at the joint would be.
    stretch: f64,
    shift_m: f64,
    /// Least distance of the pad, and from where on it is in another bolt's way.
    least_m: f64,
    free_m: f64,
    /// Every hole along the feet of the side plates, and its height over the joint.
    holes: Vec<(f64, f64)>,
    /// A foot's part along `x`, and how far the two are apart along that.
    along: f64,
    apart_m: f64,
    /// As much worse than its places are as such.
    worse_m: f64,
}

/// A place for a pad.
#[derive(Clone, Copy, Debug)]
pub(super) struct Place {
    up: Unit<Vector3<f64>>,
    /// From the joint to its near side.
    off_m: f64,
    /// From where to where its edge finds steel, along it from the joint.
    on_m: [f64; 2],
    is_on_corner: bool,
    /// How far it is, with how far its foot is moved and how much is cut off that.
    worth_m: f64,
}

impl Way {
    fn of(joint: &Joint, face: &Face, shop: &Shop, way: Vector3<f64>, effort: Effort) -> Option<Self> {
        let leans = joint.bolt.dot(&way);
        let up = Unit::try_new(way - joint.bolt.into_inner() * leans, 0.1)?;
        let lean = up.dot(&face.normal);
        if lean.abs() > MOST_LEAN {
            return None;
        }
        let high_m = (joint.at - face.point).dot(&face.normal);
        let stretch = 1.0 / (1.0 - lean * lean).sqrt();
        let x = Unit::try_new(face.normal.cross(&up), 1e-6)?;
        let apart = joint.bolt.dot(&x);
        let along = (1.0 - apart * apart).sqrt();
        let feet = joint.bolt.cross(&up);
        let hole = |hole: &Point3<f64>| {
            let from = hole - joint.at;
            (from.dot(&feet) * feet.dot(&x).signum(), from.dot(&up))
        };
        Some(Self {
            up,
            foot: joint.at - face.normal * high_m,
            x,
            stretch,
            shift_m: -high_m * lean * stretch,
            least_m: joint.room_m(shop) - lowest(joint, &up),
            free_m: beneath_m(joint, &up) - shop.steel.edge_m() - shop.steel.plate_m,
            holes: joint.holes.iter().map(hole).collect(),
            along,
            apart_m: apart.abs() * (joint.gap_m + shop.steel.plate_m),
            worse_m: worse_m(joint, &up, effort) + 10.0 * (leans.abs() - HARDLY).max(0.0),
        })
    }

    /// The best of the distances that are hardly more than the least, clear of rounded corners; none where the way as such is a makeshift.
    fn near_by(&self, face: &Face, shop: &Shop) -> Option<Place> {
        if self.worse_m > MAKESHIFT_M {
            return None;
        }
        let seen = self.seen(face).next()?;
        let [nearest_m, farthest_m] = self.offs_m(&seen, shop);
        let most_m = nearest_m + MAKESHIFT_M;
        offs_m([nearest_m, farthest_m.min(most_m)], STEP_M / 2.0)
            .filter_map(|off_m| self.at(&seen, shop, off_m))
            .filter(|place| place.worth_m - self.worse_m <= most_m)
            .min_by(|a, b| a.worth_m.total_cmp(&b.worth_m))
    }

    /// The best of all distances, if it is worth less than that; none where the way as such is poor.
    fn best(&self, face: &Face, shop: &Shop, than_m: Option<f64>) -> Option<Place> {
        let mut best = None;
        let mut least_m = than_m.unwrap_or(f64::INFINITY);
        if self.worse_m > POOR_M || self.least_m + self.worse_m >= least_m {
            return None;
        }
        for seen in self.seen(face) {
            for off_m in offs_m(self.offs_m(&seen, shop), STEP_M) {
                if off_m + self.worse_m + seen.worse_m() >= least_m {
                    break;
                }
                let place = self.at(&seen, shop, off_m);
                if let Some(place) = place.filter(|place| place.worth_m < least_m) {
                    least_m = place.worth_m;
                    best = Some(place);
                }
            }
        }
        best
    }

    fn all(&self, face: &Face, shop: &Shop) -> Vec<Place> {
        let all = self.seen(face).flat_map(|seen| {
            let offs_m = offs_m(self.offs_m(&seen, shop), STEP_M);
            offs_m
                .filter_map(|off_m| self.at(&seen, shop, off_m))
                .collect::<Vec<_>>()
        });
        all.collect()
    }

    fn seen<'a>(&'a self, face: &'a Face) -> impl Iterator<Item = Seen> + 'a {
        face.figures().map(|(figure, is_on_corner)| Seen {
            figure: face.seen_along(figure, self.foot, self.x.into_inner()),
            is_on_corner,
        })
    }

    /// From the nearest to the farthest that a pad can be and find something of a figure.
    fn offs_m(&self, seen: &Seen, shop: &Shop) -> [f64; 2] {
        let ends = seen
            .figure
            .iter()
            .fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], p| {
                [low.min(p.y), high.max(p.y)]
            });
        let [from_m, to_m] = ends.map(|m| (m - self.shift_m) / self.stretch);
        [from_m.max(self.least_m), to_m - shop.steel.plate_m]
    }

    /// A pad so far from the joint.
    fn at(&self, seen: &Seen, shop: &Shop, off_m: f64) -> Option<Place> {
        let down_m = off_m * self.stretch + self.shift_m;
        let there_m = inside_strip(&seen.figure, [down_m, down_m + shop.steel.plate_m * self.stretch]);
        let more_m = land_m(shop) + self.apart_m / 2.0;
        let least_m = shop.least_weld_m() * self.along + 2.0 * more_m;
        if there_m.iter().all(|[from, to]| to - from < least_m) {
            return None;
        }
        let holes = self.holes.iter().map(|(along_m, up_m)| (*along_m, off_m + up_m));
        let [from, to] = sides::spread(holes, shop).map(|m| m * self.along);
        let wanted_m = [from - more_m, to + more_m];
        let fit = Fit::of(wanted_m, &there_m, least_m)?;
        let cut_m = wanted_m[1] - wanted_m[0] - fit.long_m();
        let worse_m = self.worse_m + seen.worse_m() + if off_m > self.free_m { IN_THE_WAY_M } else { 0.0 };
        Some(Place {
            up: self.up,
            off_m,
            on_m: fit.on_m,
            is_on_corner: seen.is_on_corner,
            worth_m: off_m + worse_m + MOVED * fit.moved_m(wanted_m) + cut_m,
        })
    }
}

/// A figure of a face, x along a pad's edge from the joint and y away from it.
struct Seen {
    figure: Vec<Point2<f64>>,
    /// True where it takes in rounded corners.
    is_on_corner: bool,
}

impl Seen {
    fn worse_m(&self) -> f64 {
        if self.is_on_corner { GRINDING_M } else { 0.0 }
    }
}

fn offs_m([nearest_m, farthest_m]: [f64; 2], step_m: f64) -> impl Iterator<Item = f64> {
    std::iter::successors(Some(nearest_m), move |off_m| Some(off_m + step_m))
        .take_while(move |off_m| *off_m <= farthest_m)
}

/// How much worse than another way to stand over a pad one is as such. Where a pad is hardly moved it lies above its bolt, if that is as good.
fn worse_m(joint: &Joint, up: &Unit<Vector3<f64>>, effort: Effort) -> f64 {
    let mut worse_m = if up.z > 0.0 { MATTERS_M } else { 0.0 };
    if runs_into(joint, up) {
        worse_m += IN_THE_WAY_M;
    }
    if effort == Effort::Hardly {
        return worse_m;
    }
    if beneath_m(joint, up).is_finite() {
        worse_m += BETWEEN_BOLTS_M;
    }
    let bar = joint.towards.as_ref().and_then(|(d, _)| d.try_normalize(1e-9));
    worse_m + PULLED_SQUARE_M * bar.map_or(0.0, |d| d.dot(up).abs())
}

/// How far below a joint the nearest other one is.
fn beneath_m(joint: &Joint, up: &Vector3<f64>) -> f64 {
    let beneath = joint.beside.iter().filter_map(|other| {
        let to = other - joint.at;
        let down_m = -to.dot(up);
        (down_m > 0.0 && (to + up * down_m).norm() < ON_LINE_M).then_some(down_m)
    });
    beneath.fold(f64::INFINITY, f64::min)
}

/// Side plates on a pad that stands out from a face on its edge.
///
/// # Errors
/// What keeps them from standing there.
pub(super) fn on_face(
    joint: &Joint,
    face: &Face,
    shop: &Shop,
    place: &Place,
) -> Result<(Sides, Vec<Plate>), BracketError> {
    let up = place.up;
    let point = joint.at - up.into_inner() * place.off_m;
    let out = Unit::new_normalize(face.normal - up.into_inner() * up.dot(&face.normal));
    let x = Unit::new_normalize(out.cross(&up));
    let [from, to] = place.on_m;
    let ends_m = [from + land_m(shop), to - land_m(shop)];
    let high_m = (point - face.point).dot(&face.normal) - face.tongue_m;
    let stand = |from_m: f64| {
        let frame = (point, up.into_inner(), x.into_inner());
        let pad = Face::part("the pad plate".to_owned(), frame, ends_m, [from_m, ENDLESS_M]);
        sides::on_face(joint, &pad, shop)
    };
    // Askew on the pad, a foot that is cut short keeps out of the face.
    let sides = stand(-high_m / out.dot(&face.normal)).or_else(|_| stand(-ENDLESS_M));
    let sides = sides.map_err(|why| match why {
        BracketError::OffSteel { .. } => off_steel(joint, face, shop),
        other => other,
    })?;
    clear(joint, face, shop, &sides)?;
    // The pad's edge lies at y = 0, on the face.
    let to_face_m = (point - face.point).dot(&face.normal) / out.dot(&face.normal);
    let edge = point - out.into_inner() * to_face_m;
    let mut taken = Taken::by(&sides, Plane::of(edge, x, out), shop);
    taken.low.y = 0.0;
    let mut pad = taken.plate(joint, shop, &sides, &face.what)?;
    pad.notes.push(format!(
        "Stands out from {}: weld its edge there, {} long, on both sides.",
        face.what,
        shop.says(taken.high.x - taken.low.x)
    ));
    let lean_rad = up.dot(&face.normal).asin().abs();
    if lean_rad > SQUARE_RAD {
        pad.notes.push(format!(
            "It leans {:.0} degrees from square to {}: bevel that edge.",
            lean_rad.to_degrees(),
            face.what
        ));
    }
    if place.is_on_corner {
        pad.notes.push(ON_CORNER.to_owned());
    }
    pad.notes.extend(face.notes.iter().cloned());
    pad.scribes.extend(ends::mark(&pad));
    Ok((sides, vec![pad]))
}

/// The side plates stay out of the face that the pad is welded to.
fn clear(joint: &Joint, face: &Face, shop: &Shop, sides: &Sides) -> Result<(), BracketError> {
    let half_m = shop.steel.plate_m / 2.0 * joint.bolt.dot(&face.normal).abs();
    let from_face = |p: Point3<f64>| (p - face.point).dot(&face.normal) - half_m;
    let own = sides.plates.iter().flat_map(|plate| {
        let described = plate.stands.len() / joint.count();
        let stands = plate.stands.iter().take(described);
        stands.flat_map(|stand| plate.outline.pieces().map(|(at, _)| stand.place(at)))
    });
    let least_m = own.map(from_face).fold(f64::INFINITY, f64::min) - face.tongue_m;
    if least_m >= 0.0 {
        return Ok(());
    }
    let there_m = (joint.at - face.point).dot(&face.normal) - face.tongue_m;
    Err(BracketError::TooNear {
        name: joint.name.clone(),
        what: face.what.clone(),
        there: shop.says(there_m.max(0.0)),
        needed: shop.says(there_m - least_m),
        more: shop.says(-least_m),
    })
}
