//! Bars and their ends.
//!
//! The frame of an end: origin where the bolt passes through, bolt axis Y, the bar leaving along +X.

use super::{Axis, SMOOTH, Solid, Soup, basis, circle, held, hex_prism, lathe, sweep, tube, weld_ring};
use bevy::math::{Vec2, Vec3};

/// The pieces of a spherical rod end.
#[derive(Clone, Default, Debug)]
pub struct RodEnd {
    /// Eye, neck and threaded shank.
    pub body: Solid,
    /// The ball and the misalignment spacers on both sides of it.
    pub ball: Solid,
    /// The jam nut at the end of the shank.
    pub nut: Solid,
}

/// The pieces of a rubber bushed eye.
#[derive(Clone, Default, Debug)]
pub struct BushedEye {
    /// The outer sleeve and the stub that the bar is welded to.
    pub sleeve: Solid,
    /// The rubber, bulging at both sides.
    pub rubber: Solid,
    /// The steel tube that the bolt clamps.
    pub inner: Solid,
}

/// The outside radius of the eye of a rod end for a bolt of `bolt_diameter`, metres.
#[must_use]
pub fn rod_end_eye_radius(bolt_diameter: f32) -> f32 {
    held(bolt_diameter, 0.004, 0.08) * 1.36
}

/// A rod end for a bolt of `bolt_diameter`, `width` wide over its spacers, its shank reaching `shank_length` from the
/// ball's centre along +X. All in metres; the jam nut ends flush with the shank, where the bar begins.
#[must_use]
pub fn rod_end(bolt_diameter: f32, width: f32, shank_length: f32, shank_radius: f32) -> RodEnd {
    let bolt = held(bolt_diameter, 0.004, 0.08);
    let eye = rod_end_eye_radius(bolt);
    let radius = held(shank_radius, bolt * 0.3, eye * 0.8);
    let neck_end = eye * 1.5;
    let length = held(shank_length, neck_end + radius, 2.0);
    let nut_start = length - (radius * 0.9).min(length - neck_end);
    let body = Solid::merged(&[
        eye_ring(bolt, eye),
        neck(bolt, eye, radius, neck_end),
        thread(neck_end, length, radius),
    ]);
    let lay = basis(Vec3::ZERO, Vec3::Z, Vec3::X);
    RodEnd {
        body,
        ball: ball(bolt, width),
        nut: hex_prism(nut_start, length, radius * 3.1).transformed(lay),
    }
}

fn eye_ring(bolt: f32, eye: f32) -> Solid {
    let (race, half) = (bolt * 0.93, bolt * 0.56);
    let mut profile = vec![
        Vec2::new(half, eye * 0.94),
        Vec2::new(half * 0.72, eye),
        Vec2::new(-half * 0.72, eye),
        Vec2::new(-half, eye * 0.94),
    ];
    let side = (half / race).asin();
    let inside = (0..=4).map(|step| Vec2::from_angle(side * (step as f32 / 2.0 - 1.0)) * race);
    profile.extend(inside.map(|p| Vec2::new(p.y, p.x)));
    lathe(&profile, 20, Axis::Y)
}

/// The forged neck: a flat section at the eye that turns into a round one at the shank.
fn neck(bolt: f32, eye: f32, radius: f32, end: f32) -> Solid {
    let from = bolt * 1.05;
    let ring = |step: usize| {
        let share = step as f32 / 4.0;
        let ease = share * share * (3.0 - 2.0 * share);
        let wide = (eye * 0.82) * (1.0 - ease) + radius * ease;
        let deep = (bolt * 0.54) * (1.0 - ease) + radius * ease;
        let square = 0.55 + 0.45 * ease;
        let bent = |value: f32| value.signum() * value.abs().powf(square);
        let at = |p: Vec2| Vec3::new(from + (end - from) * share, bent(p.x) * deep, bent(p.y) * wide);
        circle(Vec2::ZERO, 1.0, 12).into_iter().map(at).collect::<Vec<_>>()
    };
    let mut soup = Soup::default();
    soup.loft(&(0..=4).map(ring).collect::<Vec<_>>());
    soup.outward().solid(SMOOTH)
}

/// A threaded shank; the thread is a row of rings.
fn thread(from: f32, to: f32, radius: f32) -> Solid {
    let count = (((to - from) / 0.0025) as usize).clamp(2, 7);
    let pitch = (to - from) / count as f32;
    let mut profile = vec![Vec2::new(from - pitch, 0.0), Vec2::new(from - pitch, radius * 0.9)];
    for turn in 0..count {
        let start = from + pitch * turn as f32;
        profile.push(Vec2::new(start, radius * 0.88));
        profile.push(Vec2::new(start + pitch * 0.5, radius));
    }
    profile.extend([Vec2::new(to, radius * 0.88), Vec2::new(to, 0.0)]);
    lathe(&profile, 10, Axis::X)
}

fn ball(bolt: f32, width: f32) -> Solid {
    let (radius, half) = (bolt * 0.92, bolt * 0.7);
    let bore = bolt * 0.5;
    let side = (half / radius).asin();
    let mut profile: Vec<Vec2> = (0..=4)
        .map(|step| Vec2::from_angle(side * (step as f32 / 2.0 - 1.0)) * radius)
        .collect();
    for p in &mut profile {
        *p = Vec2::new(p.y, p.x);
    }
    profile.extend([Vec2::new(half, bore), Vec2::new(-half, bore)]);
    let end = held(width, bolt * 1.7, 0.6) / 2.0;
    let cone = [
        Vec2::new(half * 0.98, bore),
        Vec2::new(half * 0.98, bolt * 0.62),
        Vec2::new(end - bolt * 0.12, bolt * 0.82),
        Vec2::new(end, bolt * 0.78),
        Vec2::new(end, bore),
    ];
    let spacer = lathe(&cone, 14, Axis::Y);
    Solid::merged(&[lathe(&profile, 16, Axis::Y), spacer.mirrored_y(), spacer])
}

/// A bushed eye `width` wide with an outer sleeve of `outer_radius`, for a bolt of `bolt_diameter`; a stub of
/// `neck_radius` reaches `neck_length` from the eye's centre along +X; none where that ends within the sleeve. All in metres.
#[must_use]
pub fn bushed_eye(outer_radius: f32, width: f32, bolt_diameter: f32, neck_length: f32, neck_radius: f32) -> BushedEye {
    let bolt = held(bolt_diameter, 0.004, 0.08);
    let outer = held(outer_radius, bolt * 1.15, 0.3);
    let half = held(width, bolt * 0.8, 0.5) / 2.0;
    let wall = outer * 0.14;
    let across = |half: f32| (Vec3::Y * -half, Vec3::Y * half);
    let (from, to) = across(half * 0.84);
    let ring = tube(from, to, outer, outer - wall, 24);
    let neck = held(neck_radius, 0.003, outer);
    let stub = stub(outer, wall, neck, held(neck_length, 0.0, 3.0));
    let (from, to) = across(half);
    let inner = tube(from, to, bolt * 0.72, bolt * 0.5, 16);
    let lip = outer - wall * 0.4;
    let bulge = [
        Vec2::new(half * 0.80, bolt * 0.70),
        Vec2::new(half * 0.96, bolt * 0.76),
        Vec2::new(half * 0.98, (bolt * 0.72 + lip) * 0.5),
        Vec2::new(half * 0.92, lip * 0.97),
        Vec2::new(half * 0.82, lip),
    ];
    let rubber_half = lathe(&bulge, 16, Axis::Y);
    let rubber = Solid::merged(&[rubber_half.mirrored_y(), rubber_half]);
    BushedEye {
        sleeve: Solid::merged(&[ring, stub]),
        rubber,
        inner,
    }
}

/// What an eye hangs on where it is not welded to a tube, with its bead.
fn stub(outer: f32, wall: f32, neck: f32, reach: f32) -> Solid {
    if reach <= outer {
        return Solid::default();
    }
    let stub = tube(Vec3::X * (outer - wall), Vec3::X * reach, neck, neck * 0.7, 16);
    let bead = weld_ring(
        outer * 0.97 + neck * neck / outer * 0.12,
        neck,
        (neck * 0.12).min(0.004),
    );
    Solid::merged(&[stub, bead])
}

/// The end of a tube of `radius` along X that is coped to an eye of `eye_radius` about Y at the origin, as far as X =
/// `to`, where the plain tube goes on, with its weld. All in metres.
#[must_use]
pub fn coped_end(radius: f32, eye_radius: f32, to: f32) -> Solid {
    let radius = held(radius, 0.002, 0.3);
    let eye = held(eye_radius, 0.002, 0.3);
    let to = held(to, eye + 0.001, 3.0);
    let wall = radius * 0.2;
    let around = |r: f32| circle(Vec2::ZERO, r, 28);
    // A point of the tube's surface beside the eye's axis by `across` meets the eye there.
    let meets = |across: f32| (eye * eye - across * across).max(0.0).sqrt() * 0.995;
    let cope = |r: f32| -> Vec<Vec3> { around(r).iter().map(|p| Vec3::new(meets(p.y), p.x, p.y)).collect() };
    let straight = |r: f32| -> Vec<Vec3> { around(r).iter().map(|p| Vec3::new(to, p.x, p.y)).collect() };
    let mut soup = Soup::default();
    let rings = [
        cope(radius),
        straight(radius),
        straight(radius - wall),
        cope(radius - wall),
    ];
    for (here, ring) in rings.iter().enumerate() {
        soup.bridge(ring, &rings[(here + 1) % rings.len()]);
    }
    let weld = sweep(
        &circle(Vec2::ZERO, (radius * 0.13).min(0.0032), 6),
        &closed(cope(radius)),
        Vec3::X,
    );
    Solid::merged(&[soup.outward().solid(50.0), weld])
}

fn closed(mut ring: Vec<Vec3>) -> Vec<Vec3> {
    ring.extend(ring.first().copied());
    ring
}

/// A spacer tube `length` long about a bolt of `bolt_diameter` along Y, metres.
#[must_use]
pub fn spacer(bolt_diameter: f32, length: f32) -> Solid {
    let bolt = held(bolt_diameter, 0.004, 0.08);
    let half = held(length, 0.001, 0.6) / 2.0;
    tube(Vec3::Y * -half, Vec3::Y * half, bolt * 0.72, bolt * 0.5, 20)
}

/// The plain part of a bar: a tube of `radius` along X from 0 to 1, to be scaled along X to its length.
#[must_use]
pub fn bar_tube(radius: f32) -> Solid {
    let radius = held(radius, 0.002, 0.3);
    lathe(
        &[
            Vec2::ZERO,
            Vec2::new(0.0, radius),
            Vec2::new(1.0, radius),
            Vec2::new(1.0, 0.0),
        ],
        24,
        Axis::X,
    )
}

/// The threaded bung at the end of a bar. The tube ends at the origin and runs on along +X; the bung's collar stands
/// out to `length` along -X, tapers towards a thread of `thread_radius` and is welded round the tube.
#[must_use]
pub fn bar_insert(radius: f32, thread_radius: f32, length: f32) -> Solid {
    let radius = held(radius, 0.002, 0.3);
    let thread = held(thread_radius, 0.001, radius * 0.9);
    let length = held(length, 0.002, 0.5);
    let nose = (thread * 1.4).min(radius * 0.97);
    let profile = [
        Vec2::new(-length, thread * 0.9),
        Vec2::new(-length, nose - 0.0008),
        Vec2::new(-length + 0.0008, nose),
        Vec2::new(-length * 0.45, radius * 0.985),
        Vec2::new(0.004, radius * 0.985),
        Vec2::new(0.004, thread * 0.9),
    ];
    Solid::merged(&[
        lathe(&profile, 20, Axis::X),
        weld_ring(0.0, radius * 0.985, (radius * 0.13).min(0.0035)),
    ])
}

#[cfg(test)]
mod tests {
    use super::super::solid::check;
    use super::*;

    #[test]
    fn a_rod_end_is_closed_and_as_long_as_asked() {
        let end = rod_end(0.016, 0.0432, 0.09, 0.011);
        [&end.body, &end.ball, &end.nut].into_iter().for_each(check::closed);
        let (low, high) = end.body.bounds();
        assert!((low.x + rod_end_eye_radius(0.016)).abs() < 1e-4);
        assert!((high.x - 0.09).abs() < 1e-5);
        assert!((end.ball.bounds().1.y * 2.0 - 0.0432).abs() < 1e-5);
    }

    #[test]
    fn a_bushed_eye_is_closed() {
        let eye = bushed_eye(0.032, 0.06, 0.016, 0.06, 0.022);
        [&eye.sleeve, &eye.rubber, &eye.inner]
            .into_iter()
            .for_each(check::closed);
        check::boxed(
            &eye.inner,
            Vec3::new(-0.01152, -0.03, -0.01152),
            Vec3::new(0.01152, 0.03, 0.01152),
            1e-4,
        );
    }

    #[test]
    fn bars_are_closed() {
        check::closed(&bar_tube(0.02));
        check::boxed(
            &bar_tube(0.02),
            Vec3::new(0.0, -0.02, -0.02),
            Vec3::new(1.0, 0.02, 0.02),
            1e-5,
        );
        check::closed(&bar_insert(0.022, 0.011, 0.02));
        check::closed(&spacer(0.019, 0.044));
    }

    #[test]
    fn a_coped_end_meets_the_eye_all_round() {
        let (radius, eye) = (0.02, 0.0254);
        let end = coped_end(radius, eye, 0.03);
        check::sound(&end);
        let (low, high) = end.bounds();
        // The longest edge lies at sqrt(R² - r²), give or take its weld.
        let edge = (eye * eye - radius * radius).sqrt();
        assert!((low.x - edge).abs() < 0.0032, "{}", low.x);
        assert!((high.x - 0.03).abs() < 1e-5);
    }

    #[test]
    fn silly_sizes_do_no_harm() {
        for size in [0.0, -1.0, 1e9, f32::MIN_POSITIVE] {
            let end = rod_end(size, size, size, size);
            [&end.body, &end.ball, &end.nut].into_iter().for_each(check::sound);
            let eye = bushed_eye(size, size, size, size, size);
            [&eye.sleeve, &eye.rubber, &eye.inner]
                .into_iter()
                .for_each(check::sound);
            [
                bar_tube(size),
                bar_insert(size, size, size),
                coped_end(size, size, size),
                spacer(size, size),
            ]
            .iter()
            .for_each(check::sound);
        }
    }
}
