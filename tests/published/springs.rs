//! Springs: published figures of wheel rate, ride frequency and the rate of an air spring.

use rearend::springs::{frequency_hz, in_series_n_per_m, maker_rate_n_per_m, wheel_rate_n_per_m};

use crate::near;

const INCH_M: f64 = 0.0254;

/// A pound a square inch, by the definition of the pound and standard gravity (NIST SP 811).
const PSI_PA: f64 = 0.453_592_37 * 9.806_65 / (INCH_M * INCH_M);

/// Source: worked figures published for a coil of 140101 N/m at a motion ratio of 0.7334, and for 312 kg on that and a tyre of 318030 N/m.
#[test]
fn a_wheel_rate_and_a_ride_frequency() {
    let rate = wheel_rate_n_per_m(140_101.0, 0.0, 0.7334, 0.0);
    near(rate, 75_357.0, 0.5);
    let on_tyre = in_series_n_per_m(rate, Some(318_030.0));
    near(frequency_hz(on_tyre, 312.0).expect("it bounces"), 2.224, 5e-4);
}

/// Source: an air spring maker's design guide, EMDG198, p. 22, exponent 1.38: 76.6 psi; areas 58.4 and 47.6 in² half an inch compressed and
/// extended; volumes 752, 782 and 809 in³ compressed, midway and extended. It prints 1321.9 lb/in, and takes the atmosphere as 14.7 psi.
#[test]
fn the_rate_of_an_air_spring() {
    let square = INCH_M * INCH_M;
    let cube = square * INCH_M;
    let rate = maker_rate_n_per_m(
        76.6 * PSI_PA,
        14.7 * PSI_PA,
        (58.4 * square, 752.0 * cube),
        782.0 * cube,
        (47.6 * square, 809.0 * cube),
        INCH_M,
    );
    near(rate / (PSI_PA * INCH_M), 1321.9, 0.05);
}
