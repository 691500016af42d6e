//! A coil spring that is wound anew for every length, and what holds it on its damper.

use super::{Axis, Solid, around, cuboid, held, lathe, skin};
use bevy::math::{Vec2, Vec3};
use std::f32::consts::TAU;

/// A coil, metres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Coil {
    /// Outside radius.
    pub outer: f32,
    /// Radius of the wire.
    pub wire: f32,
    /// Turns, the flat ones at both ends included.
    pub turns: f32,
}

/// Shear modulus of spring steel, N/m².
const STEEL_N_PER_M2: f32 = 79e9;

impl Coil {
    /// The coil with this outside radius and stiffness whose turns just do not touch at `shortest`: `k = G d^4 / (8 D^3 n)` with
    /// `n d = shortest`. Where that makes no spring, one that can be drawn.
    #[must_use]
    pub fn with_rate(outer: f32, rate_n_per_m: f32, shortest: f32) -> Coil {
        let outer = held(outer, 0.015, 0.3);
        let shortest = held(shortest, outer * 0.5, outer * 10.0) * 0.92;
        let across = outer * 2.0 * 0.87;
        let fifth = 8.0 * across.powi(3) * held(rate_n_per_m, 1e3, 1e7) * shortest / STEEL_N_PER_M2;
        let wire = held(fifth.powf(0.2), outer * 0.12, outer * 0.34);
        Coil {
            outer,
            wire: wire / 2.0,
            turns: held(shortest / wire, 3.5, 14.0),
        }
    }

    /// The radius of the room inside.
    #[must_use]
    pub fn inner(&self) -> f32 {
        self.outer - 2.0 * self.wire
    }

    /// The coil along +X from the origin, pressed to `length`.
    #[must_use]
    pub fn pressed(&self, length: f32) -> Solid {
        const A_TURN: f32 = 22.0;
        let turns = held(self.turns, 1.0, 20.0);
        let steps = (turns * A_TURN) as usize;
        let middle = self.outer - self.wire;
        let rings: Vec<Vec<Vec3>> = (0..=steps)
            .map(|step| {
                let turn = turns * step as f32 / steps as f32;
                let (sin, cos) = (turn * TAU).sin_cos();
                let out = Vec3::new(0.0, cos, sin);
                let climb = self.climb(turns, length);
                let tangent =
                    Vec3::new(climb.slope(turn), -sin * middle * TAU, cos * middle * TAU).normalize_or(Vec3::X);
                let rise = tangent.cross(out);
                let at = out * middle + Vec3::X * climb.height(turn);
                WIRE.map(|(x, y)| at + (out * x + rise * y) * self.wire).to_vec()
            })
            .collect();
        skin(&rings)
    }

    fn climb(&self, turns: f32, length: f32) -> Climb {
        let flat = 0.8_f32.min(turns * 0.3);
        let wire = self.wire * 2.0;
        let room = (held(length, wire * 1.5, 5.0) - wire).max(0.001);
        let end = (wire * flat).min(room * 0.3);
        Climb {
            turns,
            flat,
            end,
            start: self.wire,
            room,
        }
    }
}

/// How high the wire stands at each turn: wire on wire at both ends, evenly between.
struct Climb {
    turns: f32,
    flat: f32,
    end: f32,
    start: f32,
    room: f32,
}

impl Climb {
    fn slope(&self, turn: f32) -> f32 {
        if turn < self.flat || turn > self.turns - self.flat {
            self.end / self.flat
        } else {
            (self.room - 2.0 * self.end) / (self.turns - 2.0 * self.flat)
        }
    }

    fn height(&self, turn: f32) -> f32 {
        let middle = (turn.min(self.turns - self.flat) - self.flat).max(0.0);
        let ends = turn.min(self.flat) + (turn - self.turns + self.flat).max(0.0);
        let even = (self.room - 2.0 * self.end) / (self.turns - 2.0 * self.flat);
        self.start + ends * self.end / self.flat + middle * even
    }
}

/// The wire's section, counter-clockwise.
const WIRE: [(f32, f32); 10] = [
    (1.0, 0.0),
    (0.809, 0.588),
    (0.309, 0.951),
    (-0.309, 0.951),
    (-0.809, 0.588),
    (-1.0, 0.0),
    (-0.809, -0.588),
    (-0.309, -0.951),
    (0.309, -0.951),
    (0.809, -0.588),
];

/// The threaded collar that a coil of this outside radius stands on, along X, its seat at the origin and its nut towards -X.
#[must_use]
pub fn coil_collar(outer: f32, bore: f32) -> Solid {
    let outer = held(outer, 0.015, 0.3);
    let bore = held(bore, 0.004, outer * 0.8);
    let p = Vec2::new;
    let seat = [
        p(0.010, bore),
        p(0.010, outer * 0.68),
        p(0.0, outer * 0.70),
        p(0.0, outer * 1.01),
        p(-0.002, outer * 1.03),
        p(-0.008, outer * 1.03),
        p(-0.010, outer * 0.98),
        p(-0.016, outer * 0.80),
        p(-0.016, bore),
    ];
    let nut = [
        p(-0.018, bore),
        p(-0.018, outer * 0.76),
        p(-0.028, outer * 0.76),
        p(-0.029, outer * 0.74),
        p(-0.029, bore),
    ];
    let lug = cuboid(Vec3::new(0.009, 0.010, outer * 0.1), 0.001).translated(Vec3::new(-0.0235, 0.0, outer * 0.79));
    Solid::merged(&[
        lathe(&seat, 36, Axis::X),
        lathe(&nut, 28, Axis::X),
        lug.repeated(around(Axis::X, 8, 0.0)),
    ])
}

/// The cap that holds a coil at its damper's rod: the coil presses on the origin from -X.
#[must_use]
pub fn coil_cap(outer: f32) -> Solid {
    let outer = held(outer, 0.015, 0.3);
    let p = Vec2::new;
    let profile = [
        p(-0.009, 0.0),
        p(-0.009, outer * 0.66),
        p(0.0, outer * 0.69),
        p(0.0, outer * 1.01),
        p(0.002, outer * 1.03),
        p(0.006, outer * 1.02),
        p(0.010, outer * 0.84),
        p(0.018, outer * 0.44),
        p(0.026, outer * 0.36),
        p(0.026, 0.0),
    ];
    lathe(&profile, 36, Axis::X)
}

/// The thread on a damper's body: along X from 0 to 1, to be scaled to its length.
#[must_use]
pub fn damper_thread(radius: f32) -> Solid {
    let radius = held(radius, 0.004, 0.2);
    let count = 30;
    let mut profile = vec![Vec2::ZERO];
    for turn in 0..count {
        let at = |part: f32| (turn as f32 + part) / count as f32;
        profile.extend([Vec2::new(at(0.0), radius * 0.955), Vec2::new(at(0.5), radius)]);
    }
    profile.extend([Vec2::new(1.0, radius * 0.955), Vec2::new(1.0, 0.0)]);
    lathe(&profile, 24, Axis::X)
}

#[cfg(test)]
mod tests {
    use super::super::solid::check;
    use super::*;

    #[test]
    fn a_coil_is_closed_and_as_long_as_it_is_pressed() {
        let coil = Coil::with_rate(0.0475, 40e3, 0.09);
        for length in [0.10, 0.17, 0.25] {
            let wound = coil.pressed(length);
            check::closed(&wound);
            let (low, high) = wound.bounds();
            assert!((high.x - low.x - length).abs() < 1.5e-3, "{length}: {}", high.x - low.x);
            assert!(high.y <= 0.0476 && high.y > 0.0465);
        }
    }

    /// A wire of 11 mm wound seven times on 82 mm is a 40 N/mm spring by the formula of any handbook of springs.
    #[test]
    fn the_wire_suits_the_rate() {
        let coil = Coil::with_rate(0.0475, 40e3, 0.09);
        let (wire, across) = (coil.wire * 2.0, 2.0 * (coil.outer - coil.wire));
        let rate = STEEL_N_PER_M2 * wire.powi(4) / (8.0 * across.powi(3) * coil.turns);
        assert!((rate / 40e3 - 1.0).abs() < 0.1, "{rate}");
        assert!(coil.turns > 5.0 && coil.turns < 10.0 && wire > 0.009 && wire < 0.013);
    }

    #[test]
    fn what_holds_a_coil_is_closed() {
        check::closed(&coil_collar(0.05, 0.025));
        check::closed(&coil_cap(0.05));
        check::closed(&damper_thread(0.025));
    }

    #[test]
    fn silly_coils_do_no_harm() {
        for size in [0.0, -1.0, 1e9, f32::NAN] {
            check::sound(&Coil::with_rate(size, size, size).pressed(size));
            check::sound(&coil_collar(size, size));
            check::sound(&coil_cap(size));
            check::sound(&damper_thread(size));
        }
    }
}
