//! The body over the wheels as lines: lips of the wheel openings, edges of the bed's floor, tubs. Frame coordinates; the left side.

use super::{Solid, held, pipe, skin};
use bevy::math::{Vec2, Vec3};
use std::f32::consts::PI;

/// One side of a body, metres, frame coordinates; Y to the left is outwards.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BodySide {
    /// The lip.
    pub lip_y: f32,
    /// Underside of the lip at the top of the opening.
    pub lip_z: f32,
    /// Middle of the opening.
    pub opening_x: f32,
    /// Length of the opening.
    pub opening: f32,
    /// Inner wall of the tub, where there is one.
    pub tub_y: Option<f32>,
    /// The bed's floor, where there is one.
    pub floor_z: Option<f32>,
    /// Rear and front end of the bed.
    pub bed: [f32; 2],
    /// Underside of the tyre's lower half: no line is drawn lower.
    pub lowest_z: f32,
}

/// Radius of a line.
const LINE_M: f32 = 0.0026;
/// How much of the body's lower edge is drawn before and behind an opening.
const SILL_M: f32 = 0.16;
/// How far a tub stands clear of the opening.
const TUB_M: f32 = 0.045;

impl BodySide {
    fn sane(&self) -> BodySide {
        let opening = held(self.opening, 0.2, 3.0);
        let x = held(self.opening_x, -5.0, 5.0);
        let lip_z = held(self.lip_z, -3.0, 3.0);
        BodySide {
            lip_y: held(self.lip_y, -3.0, 3.0),
            lip_z,
            opening_x: x,
            opening,
            tub_y: self.tub_y.map(|y| held(y, -3.0, 3.0)),
            floor_z: self.floor_z.map(|z| held(z, -3.0, 3.0)),
            bed: [
                held(self.bed[0], -9.0, x - opening * 0.5),
                held(self.bed[1], x + opening * 0.5, 9.0),
            ],
            lowest_z: held(self.lowest_z, lip_z - 1.5, lip_z - 0.1),
        }
    }

    /// The arch of an opening grown by `by`, from its rear foot to its front one: (X, Z). Flatter than a circle at its top.
    fn arch(&self, by: f32) -> Vec<Vec2> {
        const STEPS: usize = 32;
        let tall = (self.opening * 0.44).min(self.lip_z - self.lowest_z);
        (0..=STEPS)
            .map(|step| {
                let (sin, cos) = (PI * step as f32 / STEPS as f32).sin_cos();
                let bow = |v: f32| v.signum() * v.abs().powf(0.84);
                Vec2::new(
                    self.opening_x - bow(cos) * (self.opening * 0.5 + by),
                    self.lip_z - tall + bow(sin) * (tall + by),
                )
            })
            .collect()
    }
}

/// The lip of the opening, its turned edge, and the lower edge of the body before and behind it.
#[must_use]
pub fn fender_lip(side: &BodySide) -> Solid {
    let side = side.sane();
    let at = |p: Vec2, y: f32| Vec3::new(p.x, y, p.y);
    let arch = side.arch(0.0);
    let (foot, toe) = (arch[0], arch[arch.len() - 1]);
    let inward = -0.022_f32.copysign(side.lip_y);
    let sill = |y: f32, by: f32| {
        let ends = [foot - Vec2::X * SILL_M, toe + Vec2::X * SILL_M];
        let run = side.arch(by).into_iter();
        let line = [ends[0]].into_iter().chain(run).chain([ends[1]]);
        line.map(|p| at(p, y)).collect::<Vec<_>>()
    };
    let outer = pipe(&sill(side.lip_y, 0.0), LINE_M * 1.3, 8);
    let inner = pipe(
        &arch.iter().map(|p| at(*p, side.lip_y + inward)).collect::<Vec<_>>(),
        LINE_M * 0.7,
        6,
    );
    Solid::merged(&[outer, inner])
}

/// The edges of half a bed's floor: along the fender, round the tub, across to the middle at `middle_y`.
#[must_use]
pub fn bed_floor(side: &BodySide, middle_y: f32) -> Solid {
    let side = side.sane();
    let Some(z) = side.floor_z else {
        return Solid::default();
    };
    let middle = held(middle_y, -3.0, 3.0);
    let edge = side.lip_y - 0.03_f32.copysign(side.lip_y);
    let half = side.opening * 0.5 + TUB_M;
    let (rear, front) = (side.opening_x - half, side.opening_x + half);
    let p = |x: f32, y: f32| Vec3::new(x, y, z);
    let [low, high] = side.bed;
    let mut line = vec![p(low, middle), p(low, edge)];
    if let Some(tub) = side.tub_y {
        line.extend([
            p(rear.max(low), edge),
            p(rear.max(low), tub),
            p(front.min(high), tub),
            p(front.min(high), edge),
        ]);
    }
    line.extend([p(high, edge), p(high, middle)]);
    let each = line.windows(2).map(|run| pipe(run, LINE_M, 8));
    Solid::merged(&each.collect::<Vec<_>>())
}

/// The tub over the wheel, as far as it stands above the floor: its sheet, to be painted faintly, and its edge.
#[must_use]
pub fn wheel_tub(side: &BodySide) -> (Solid, Solid) {
    let side = side.sane();
    let Some(inner) = side.tub_y else {
        return (Solid::default(), Solid::default());
    };
    let arch: Vec<Vec2> = side.arch(TUB_M);
    let floor = side.floor_z.unwrap_or(f32::MIN).max(arch[0].y);
    let above: Vec<Vec2> = arch.into_iter().filter(|p| p.y >= floor).collect();
    if above.len() < 3 {
        return (Solid::default(), Solid::default());
    }
    let outer = side.lip_y - 0.03_f32.copysign(side.lip_y);
    let at = |p: &Vec2, y: f32| Vec3::new(p.x, y, p.y);
    let thin = 0.0015;
    // A sheet with a thickness, so that it is closed: once round its section at each place along the arch.
    let roof = above.iter().map(|p| {
        let ring = [(outer, thin), (inner, thin), (inner, -thin), (outer, -thin)];
        ring.map(|(y, z)| at(&(*p + Vec2::Y * z), y)).to_vec()
    });
    let mut roof: Vec<Vec<Vec3>> = roof.collect();
    if outer < inner {
        for ring in &mut roof {
            ring.reverse();
        }
    }
    let edge: Vec<Vec3> = above.iter().map(|p| at(p, inner)).collect();
    (skin(&roof), pipe(&edge, LINE_M, 8))
}

/// The twelve edges of a box between two opposite corners.
#[must_use]
pub fn box_edges(from: Vec3, to: Vec3) -> Solid {
    let (a, b) = (from.min(to), from.max(to));
    let corner = |x: bool, y: bool, z: bool| {
        Vec3::new(
            if x { b.x } else { a.x },
            if y { b.y } else { a.y },
            if z { b.z } else { a.z },
        )
    };
    let mut all = Solid::default();
    for (one, two) in [(false, false), (false, true), (true, false), (true, true)] {
        for run in [
            [corner(false, one, two), corner(true, one, two)],
            [corner(one, false, two), corner(one, true, two)],
            [corner(one, two, false), corner(one, two, true)],
        ] {
            all.merge(&pipe(&run, LINE_M, 6));
        }
    }
    all
}

#[cfg(test)]
mod tests {
    use super::super::solid::check;
    use super::*;

    const SIDE: BodySide = BodySide {
        lip_y: 0.92,
        lip_z: 0.39,
        opening_x: 0.0,
        opening: 0.86,
        tub_y: Some(0.54),
        floor_z: Some(0.42),
        bed: [-0.95, 0.7],
        lowest_z: 0.0,
    };

    #[test]
    fn a_lip_is_where_it_is_said_to_be() {
        let lip = fender_lip(&SIDE);
        check::closed(&lip);
        let (low, high) = lip.bounds();
        assert!((high.y - 0.92).abs() < 0.005 && (high.z - 0.39).abs() < 0.005);
        assert!(low.x < -0.58 && high.x > 0.58);
    }

    #[test]
    fn floor_and_tub_are_closed_on_both_sides() {
        let right = BodySide {
            lip_y: -0.92,
            tub_y: Some(-0.54),
            ..SIDE
        };
        for side in [SIDE, right] {
            check::closed(&bed_floor(&side, 0.0));
            let (sheet, edge) = wheel_tub(&BodySide {
                floor_z: Some(0.2),
                ..side
            });
            check::closed(&sheet);
            check::closed(&edge);
            assert!(sheet.bounds().0.z >= 0.19);
        }
        let none = BodySide {
            tub_y: None,
            floor_z: None,
            ..SIDE
        };
        assert!(wheel_tub(&none).0.is_empty() && bed_floor(&none, 0.0).is_empty());
    }

    #[test]
    fn a_box_has_its_edges() {
        let edges = box_edges(Vec3::splat(0.3), Vec3::ZERO);
        check::closed(&edges);
        check::boxed(&edges, Vec3::ZERO, Vec3::splat(0.3), 0.004);
    }

    #[test]
    fn silly_bodies_do_no_harm() {
        for size in [0.0, -1.0, 1e9, f32::NAN] {
            let side = BodySide {
                lip_y: size,
                lip_z: size,
                opening_x: size,
                opening: size,
                tub_y: Some(size),
                floor_z: Some(size),
                bed: [size; 2],
                lowest_z: size,
            };
            check::sound(&fender_lip(&side));
            check::sound(&bed_floor(&side, size));
            check::sound(&wheel_tub(&side).0);
            check::sound(&box_edges(Vec3::splat(size), Vec3::ZERO));
        }
    }
}
