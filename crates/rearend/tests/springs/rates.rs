use std::f64::consts::TAU;

use rearend::setup::{AirPoint, SpringKind};
use rearend::springs::{
    ATMOSPHERE_PA, AirShape, Coil, EXPONENT, Reach, frequency_hz, in_series_n_per_m, maker_rate_n_per_m, wheel_hop_hz,
};

use crate::near;
use crate::trucks::{bag, coilover, on_bags, on_coilovers, pose, side, swept};

/// Between laid out and full lift, both springs give what the wheels take: work of the wheel forces over the rise, by Simpson's rule, against
/// the energy of two linear coils. The rule's error over 60 steps of 2.3 mm is below a millionth.
#[test]
fn what_the_wheels_put_in_is_in_the_coils() {
    for which in 0..3 {
        for roll_rad in [0.0, -0.03] {
            let mut setup = on_coilovers(which);
            let mut coil = coilover();
            (coil.collapsed_m, coil.extended_m, coil.preload_m) = (0.1, 0.55, 0.02);
            setup.springs.as_mut().expect("springs").kind = SpringKind::Coilover(coil);
            let (_, travel) = swept(&setup, roll_rad);
            let forces: Vec<f64> = travel
                .rows
                .iter()
                .map(|row| {
                    pose(row)
                        .sides()
                        .iter()
                        .map(|s| s.load.expect("it carries").wheel_force_n)
                        .sum()
                })
                .collect();
            let step = travel.rows[1].height_m - travel.rows[0].height_m;
            let work: f64 = forces
                .chunks(2)
                .zip(forces[2..].chunks(2))
                .map(|(a, b)| (a[0] + 4.0 * a[1] + b[0]) * step / 3.0)
                .sum();
            let energy = |row: &rearend::travel::Row| -> f64 {
                let stored = |s: &rearend::springs::SideSpring| {
                    0.5 * coil.rate_n_per_m * (coil.extended_m + coil.preload_m - s.length_m).powi(2)
                };
                pose(row).sides().iter().map(|s| stored(s)).sum()
            };
            let stored = energy(&travel.rows[0]) - energy(&travel.rows[60]);
            near(work / stored, 1.0, 1e-7);
        }
    }
}

#[test]
fn a_coil_presses_by_what_it_is_shortened_and_hangs_loose_beyond() {
    let c = coilover();
    let extended = Coil::at(&c, c.extended_m);
    near(extended.force_n, 45_000.0 * 0.012, 1e-9);
    near(extended.length_m, 0.288, 1e-12);
    let pressed = Coil::at(&c, 0.350);
    near(pressed.force_n, 45_000.0 * 0.112, 1e-9);
    near(pressed.length_m, 0.188, 1e-12);
    let loose = Coil::at(&c, c.extended_m + 0.02);
    assert_eq!((loose.force_n, loose.rate_n_per_m, loose.length_m), (0.0, 0.0, 0.300));
}

/// A cylinder with a piston: area and volume as straight as they are, the rate of a column of gas is n p A / h (adiabatic compression of a
/// gas, in any textbook of thermodynamics, with this exponent).
#[test]
fn a_piston_is_a_column_of_gas() {
    let mut air = bag();
    let area = 0.015;
    let line = |height_m: f64| AirPoint {
        height_m,
        load_n: air.chart_pa * area,
        volume_m3: area * height_m,
    };
    air.chart = vec![line(0.07), line(0.11), line(0.19), line(0.25)];
    for (height_m, gauge_pa) in [(0.08, 300e3), (0.15, 500e3), (0.24, 0.0)] {
        let shape = AirShape::at(&air, height_m).expect("on the chart");
        near(shape.area_m2, area, 1e-12);
        let expected = EXPONENT * (gauge_pa + ATMOSPHERE_PA) * area / height_m;
        near(shape.rate_n_per_m(gauge_pa) / expected, 1.0, 1e-9);
    }
}

/// The analytic rate against the force of the same shut-in air a hair up and down, and against the maker's formula over a span that shrinks.
#[test]
fn the_rate_of_shut_in_air_is_the_slope_of_its_force_and_the_limit_of_the_makers_formula() {
    let air = bag();
    let at = |h: f64| AirShape::at(&air, h).expect("on the chart");
    let gauge_pa = 520e3;
    for height_m in [0.075, 0.1, 0.115, 0.13, 0.16, 0.2, 0.24] {
        let shape = at(height_m);
        let rate = shape.rate_n_per_m(gauge_pa);
        let force = |h: f64| at(h).area_m2 * shape.shut_in_pa(gauge_pa, &at(h));
        let hair = 1e-6;
        near(
            rate / ((force(height_m - hair) - force(height_m + hair)) / (2.0 * hair)),
            1.0,
            2e-4,
        );
        let maker = |apart_m: f64| {
            let ends = [at(height_m - apart_m / 2.0), at(height_m + apart_m / 2.0)].map(|s| (s.area_m2, s.volume_m3));
            maker_rate_n_per_m(gauge_pa, ATMOSPHERE_PA, ends[0], shape.volume_m3, ends[1], apart_m)
        };
        near(maker(2e-6) / rate, 1.0, 2e-4);
    }
}

#[test]
fn an_air_spring_carries_the_corner_at_every_height() {
    for which in 0..3 {
        let mut setup = on_bags(which);
        setup.springs.as_mut().expect("springs").tyre_n_per_m = Some(250e3);
        let (_, travel) = swept(&setup, 0.0);
        let mut carried = 0;
        for row in &travel.rows {
            for spring in pose(row).sides() {
                let Some(load) = spring.load else {
                    assert_ne!(spring.reach, Reach::Within);
                    continue;
                };
                carried += 1;
                near(load.wheel_force_n, 420.0 * 9.806_65, 1e-6);
                let shape = AirShape::at(&bag(), spring.length_m).expect("on the chart");
                near(load.pressure_pa.expect("air") * shape.area_m2, load.force_n, 1e-6);
                let rate = load.wheel_rate_n_per_m;
                let both = 1.0 / (1.0 / rate + 1.0 / 250e3);
                near(
                    load.frequency_hz.expect("it bounces"),
                    (both / 420.0).sqrt() / TAU,
                    1e-9,
                );
            }
        }
        assert!(carried > 60, "{carried} of 122");
    }
}

/// The wheel rate of air is that of the air shut in at this height: wheel force of the same air at poses beside it.
#[test]
fn an_air_springs_wheel_rate_is_that_of_the_air_that_is_in_it() {
    let setup = on_bags(0);
    let (rear_end, travel) = swept(&setup, 0.0);
    let row = rearend::travel::Row::at_ride(&setup, &rear_end);
    let here = side(&row, true);
    let load = here.load.expect("it carries");
    let shape = |m: f64| AirShape::at(&bag(), m).expect("on the chart");
    let wheel_force = |rise_m: f64| {
        let beside = rearend::travel::pose(&setup, &rear_end, &travel, row.height_m - rise_m, 0.0).expect("reached");
        let spring = side(&beside, true);
        let there = shape(spring.length_m);
        shape(here.length_m).shut_in_pa(load.pressure_pa.expect("air"), &there) * there.area_m2 * spring.motion_ratio
    };
    let step = 1e-4;
    let slope = (wheel_force(step) - wheel_force(-step)) / (2.0 * step);
    near(load.wheel_rate_n_per_m / slope, 1.0, 1e-5);
}

#[test]
fn masses_without_anything_that_pulls_them_back_do_not_bounce() {
    assert_eq!(frequency_hz(0.0, 300.0), None);
    assert_eq!(frequency_hz(-1.0, 300.0), None);
    assert_eq!(frequency_hz(1e5, 0.0), None);
    assert_eq!(frequency_hz(f64::NAN, 300.0), None);
    near(frequency_hz(TAU * TAU * 300.0, 300.0).expect("bounces"), 1.0, 1e-12);
    assert_eq!(in_series_n_per_m(5e4, None), 5e4);
    near(in_series_n_per_m(5e4, Some(5e4)), 2.5e4, 1e-9);
    near(
        wheel_hop_hz(4e4, 2.1e5, 63.0).expect("hops"),
        (2.5e5f64 / 63.0).sqrt() / TAU,
        1e-9,
    );
}
