//! What each thing on the truck looks like in a drawing.

use std::f64::consts::FRAC_PI_2;

use nalgebra::{Point3, Vector3};
use rearend::rail_line::{crossmember_m, stations_m, top_z_m, underside_z_m};
use rearend::setup::{Rails, Section, SpringKind};

use super::board::Board;
use super::plane::{Flat, View, along, apart, hull, ring, way};
use super::truck::{Rod, Truck};
use super::{Circle, Fill, Weight};

/// A stretch along the truck, rear first, m.
pub(super) type Stretch = [f64; 2];

/// A tube of three inches, for which the proportions of the centre section are common practice.
const USUAL_TUBE_M: f64 = 0.0762;

/// Turns of a coil as it is drawn.
const COILS: u32 = 7;

/// Steps of a rounded shoulder.
const SHOULDER: u32 = 5;

/// How thick a crank is drawn about its joints, m.
const CRANK_M: f64 = 0.02;

impl Board {
    /// The ground under all that is drawn so far, a little longer.
    pub fn ground(&mut self) {
        let extent = self.extent();
        let out = 0.04;
        self.line(
            vec![[extent.low[0] - out, 0.0], [extent.high[0] + out, 0.0]],
            Weight::Outline,
        );
    }

    pub fn rails(&mut self, truck: &Truck, stretch: Stretch) {
        match self.view {
            View::Side => self.rail_side(truck, stretch),
            View::Rear => self.rails_ahead(truck, stretch),
            View::Top => self.rails_from_above(truck, stretch),
        }
    }

    fn rail_side(&mut self, truck: &Truck, stretch: Stretch) {
        let rails = &truck.setup.rails;
        let stations = stations(rails, stretch);
        let at = |x: f64, z: f64| self.view.flat(truck.raised(Point3::new(x, 0.0, z)));
        let low = stations
            .iter()
            .map(|x| at(*x, underside_z_m(rails, *x).min(top_z_m(rails, *x))));
        let high = stations.iter().rev().map(|x| at(*x, top_z_m(rails, *x)));
        let outline = low.chain(high).collect();
        self.shape(outline, Weight::Thin, Fill::Tint);
        for x in &rails.crossmembers_x_m {
            if (stretch[0]..=stretch[1]).contains(x) {
                let (axis, radius_m) = crossmember_m(rails, *x);
                let end = axis.first().map(|p| truck.raised(*p));
                let ends = end.map(|p| [p, p]).into_iter();
                ends.for_each(|ends| self.capsule(ends, radius_m, Weight::Hidden, Fill::None));
            }
        }
    }

    /// All of the rails' height, seen along them.
    fn rails_ahead(&mut self, truck: &Truck, stretch: Stretch) {
        let rails = &truck.setup.rails;
        let stations = stations(rails, stretch);
        let low = stations
            .iter()
            .map(|x| underside_z_m(rails, *x))
            .fold(f64::INFINITY, f64::min);
        let high = stations.iter().map(|x| top_z_m(rails, *x)).fold(0.0, f64::max);
        for sign in [1.0, -1.0] {
            let outside = sign * rails.spacing_m / 2.0;
            let inside = outside - sign * rails.flange_m;
            let corners = [(outside, low), (inside, low), (inside, high), (outside, high)];
            let flat = |(y, z)| self.view.flat(truck.raised(Point3::new(0.0, y, z)));
            self.shape(corners.map(flat).into(), Weight::Thin, Fill::Tint);
        }
    }

    /// What a saw would show of the rails over the axle.
    pub fn rail_sections(&mut self, truck: &Truck) {
        let rails = &truck.setup.rails;
        let x = truck.axle.origin.x;
        let (under, top) = (underside_z_m(rails, x), top_z_m(rails, x));
        // A notch that cuts it through leaves none.
        if top - under < 1e-3 {
            return;
        }
        for sign in [1.0, -1.0] {
            let flat = |(y, z)| self.view.flat(truck.raised(Point3::new(x, y, z)));
            let corners = section(rails, sign, [under, top]).into_iter().map(flat).collect();
            self.shape(corners, Weight::Outline, Fill::Paper);
        }
    }

    fn rails_from_above(&mut self, truck: &Truck, [rear, front]: Stretch) {
        let rails = &truck.setup.rails;
        for sign in [1.0, -1.0] {
            let outside = sign * rails.spacing_m / 2.0;
            let inside = outside - sign * rails.flange_m;
            let corners = [[-outside, rear], [-outside, front], [-inside, front], [-inside, rear]];
            self.shape(corners.into(), Weight::Thin, Fill::None);
            let web = -(outside - sign * rails.wall_m);
            self.line(vec![[web, rear], [web, front]], Weight::Hidden);
        }
        for x in rails.crossmembers_x_m.iter().filter(|x| (rear..=front).contains(x)) {
            let (axis, radius_m) = crossmember_m(rails, *x);
            if let [first, .., last] = axis[..] {
                self.cylinder([first, last], radius_m, Weight::Hidden, Fill::None);
            }
        }
    }

    pub fn tyres(&mut self, truck: &Truck) {
        let wheels = &truck.setup.wheels;
        let (radius_m, half_m) = (wheels.tyre_m / 2.0, wheels.tyre_width_m / 2.0);
        let fill = if self.view == View::Side {
            Fill::None
        } else {
            Fill::Tint
        };
        for sign in [1.0, -1.0] {
            let middle = sign * truck.setup.track_m() / 2.0;
            let ends = [half_m, -half_m].map(|out| truck.axle.to_frame(Point3::new(0.0, middle + out, 0.0)));
            let mut points = self.barrel(ends, radius_m, half_m / 2.0);
            // It is flat where it stands.
            if self.view != View::Top {
                for point in &mut points {
                    point[1] = point[1].max(0.0);
                }
            }
            self.shape(hull(points), Weight::Thin, fill);
            if self.view == View::Side {
                let rim = truck.about_tube(middle, wheels.rim_m / 2.0);
                self.shape(
                    rim.into_iter().map(|p| View::Side.flat(p)).collect(),
                    Weight::Thin,
                    Fill::None,
                );
            }
        }
    }

    /// Tubes, centre section and the snout of the pinion, in proportion to the tube.
    pub fn axle(&mut self, truck: &Truck) {
        let axle = &truck.setup.axle;
        let half_m = axle.flange_to_flange_m / 2.0;
        let tube = [half_m, -half_m].map(|y| truck.axle.to_frame(Point3::new(0.0, y, 0.0)));
        self.cylinder(tube, axle.tube_m / 2.0, Weight::Outline, Fill::Paper);
        let scale = axle.tube_m / USUAL_TUBE_M;
        let (sin, cos) = axle.pinion_angle_rad.sin_cos();
        let forward = Vector3::new(cos, 0.0, sin);
        let middle = Point3::new(0.0, axle.pinion_offset_m, 0.0);
        let joint = truck.setup.pinion_joint_in_axle();
        let to_frame = |p| truck.axle.to_frame(p);
        let snout = [middle, joint].map(to_frame);
        let bowl = [middle - forward * (0.14 * scale), middle + forward * (0.05 * scale)].map(to_frame);
        self.cylinder(snout, 0.05 * scale, Weight::Thin, Fill::Paper);
        let bowl = self.barrel(bowl, 0.13 * scale, 0.05 * scale);
        self.shape(hull(bowl), Weight::Thin, Fill::Paper);
    }

    /// The shaft ahead of the pinion as far as the drawing goes.
    pub fn shaft(&mut self, truck: &Truck, [_, front]: Stretch) {
        let Some(driveline) = &truck.setup.driveline else {
            return;
        };
        let joint = truck.axle.to_frame(truck.setup.pinion_joint_in_axle());
        let to = truck.raised(driveline.carrier.unwrap_or(driveline.output));
        let part = ((front - joint.x) / (to.x - joint.x)).clamp(0.0, 1.0);
        if part.is_finite() && part > 0.0 {
            let end = joint + (to - joint) * part;
            self.cylinder([joint, end], driveline.tube_m / 2.0, Weight::Thin, Fill::Paper);
            let middle = [joint, end].map(|p| self.view.flat(p)).into();
            self.line(middle, Weight::Centre);
        }
    }

    /// Points about a cylinder whose ends are rounded off.
    fn barrel(&self, ends: [Point3<f64>; 2], radius_m: f64, round_m: f64) -> Vec<Flat> {
        let along = ends[1] - ends[0];
        let round_m = round_m.min(along.norm() / 2.0).min(radius_m);
        let axis = along.try_normalize(1e-9).unwrap_or_else(Vector3::z);
        let ring_at = |(end, inwards): (Point3<f64>, f64), step: u32| {
            let (sin, cos) = (FRAC_PI_2 * f64::from(step) / f64::from(SHOULDER)).sin_cos();
            let centre = end + axis * (inwards * round_m * (1.0 - sin));
            ring(centre, axis, radius_m - round_m * (1.0 - cos))
        };
        let ends = [(ends[0], 1.0), (ends[1], -1.0)].into_iter();
        let rings = ends.flat_map(|end| (0..=SHOULDER).flat_map(move |step| ring_at(end, step)));
        rings.map(|p| self.view.flat(p)).collect()
    }

    pub fn springs(&mut self, truck: &Truck) {
        let Some(springs) = &truck.setup.springs else { return };
        for ends in &truck.springs {
            let flat = ends.map(|p| self.view.flat(p));
            match &springs.kind {
                SpringKind::Coilover(coil) if apart(flat[0], flat[1]) > coil.coil_m => {
                    self.line(zigzag(flat, coil.coil_m / 2.0), Weight::Thin);
                }
                SpringKind::Coilover(coil) => self.cylinder(*ends, coil.coil_m / 2.0, Weight::Thin, Fill::None),
                SpringKind::Air(air) => {
                    let bag = self.barrel(*ends, air.bag_m / 2.0, air.bag_m / 6.0);
                    self.shape(hull(bag), Weight::Thin, Fill::None);
                }
            }
            self.line(flat.into(), Weight::Centre);
        }
    }

    pub fn rods(&mut self, truck: &Truck) {
        for rod in &truck.rods {
            self.rod(rod);
        }
        if let Some([pivot, left, right]) = truck.crank {
            for end in [left, right] {
                self.capsule([pivot, end], CRANK_M, Weight::Outline, Fill::Paper);
            }
        }
    }

    fn rod(&mut self, rod: &Rod) {
        for tube in &rod.tubes {
            self.capsule(*tube, rod.tube_m / 2.0, Weight::Outline, Fill::Paper);
        }
        for tube in &rod.tubes {
            let middle = tube.map(|p| self.view.flat(p)).into();
            self.line(middle, Weight::Centre);
        }
    }

    pub fn pegs(&mut self, truck: &Truck) {
        let radius_m = truck.setup.steel.bolt_m / 2.0;
        for peg in &truck.pegs {
            let at = self.view.flat(peg.at);
            self.circles.push(Circle { at, radius_m });
        }
    }
}

impl Truck<'_> {
    /// A circle about the axle tube, `y_m` to the left of its middle.
    fn about_tube(&self, y_m: f64, radius_m: f64) -> Vec<Point3<f64>> {
        let centre = self.axle.to_frame(Point3::new(0.0, y_m, 0.0));
        ring(centre, self.axle.tube_axis(), radius_m)
    }

    /// What is worth drawing of the truck's length: wheels and mounts, and a hand's breadth more.
    pub fn stretch(&self) -> Stretch {
        let radius_m = self.setup.wheels.tyre_m / 2.0;
        let wheels = [self.axle.origin.x - radius_m, self.axle.origin.x + radius_m];
        let all = self.pegs.iter().map(|p| p.at.x).chain(wheels);
        let [low, high] = all.fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], x| {
            [low.min(x), high.max(x)]
        });
        let rails = &self.setup.rails;
        [(low - 0.1).max(rails.rear_x_m), (high + 0.2).min(rails.front_x_m)]
    }
}

fn stations(rails: &Rails, [rear, front]: Stretch) -> Vec<f64> {
    let within = stations_m(rails).into_iter().filter(|x| *x > rear && *x < front);
    std::iter::once(rear).chain(within).chain([front]).collect()
}

/// Corners of a rail's section, y and z in the frame.
fn section(rails: &Rails, sign: f64, [low, high]: [f64; 2]) -> Vec<(f64, f64)> {
    let wall_m = rails.wall_m;
    let outside = sign * rails.spacing_m / 2.0;
    let inside = outside - sign * rails.flange_m;
    let web = outside - sign * wall_m;
    match rails.section {
        Section::Box => vec![(outside, low), (inside, low), (inside, high), (outside, high)],
        Section::Channel => vec![
            (outside, low),
            (inside, low),
            (inside, low + wall_m),
            (web, low + wall_m),
            (web, high - wall_m),
            (inside, high - wall_m),
            (inside, high),
            (outside, high),
        ],
    }
}

/// From end to end, out to both sides by `half_m`.
fn zigzag([from, to]: [Flat; 2], half_m: f64) -> Vec<Flat> {
    let [x, y] = way(from, to);
    let length = x.hypot(y).max(1e-9);
    let across = [-y / length * half_m, x / length * half_m];
    let turns = 2 * COILS;
    let at = |i: u32| {
        let side = if i.is_multiple_of(2) { 1.0 } else { -1.0 };
        let [x, y] = along(from, to, (f64::from(i) + 0.5) / f64::from(turns));
        [x + side * across[0], y + side * across[1]]
    };
    std::iter::once(from).chain((0..turns).map(at)).chain([to]).collect()
}
