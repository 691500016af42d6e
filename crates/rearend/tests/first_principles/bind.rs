//! Bars that do not fit: springs against each other, worked out by hand.

use linkage::{ClosureId, Configuration, Drive};
use rearend::answers::{Answers, Solved};
use rearend::bind::Bind;
use rearend::findings::{Grade, Kind};
use rearend::mechanism::{Part, RearEnd};
use rearend::setup::{AsBuilt, BarId, Ends, Joint, JointKind, Length, Role, Setup, Side};
use rearend::travel::{Travel, pose};

use crate::drawings::{add, add_pair, at_ride, bare, compile};
use crate::near;
use crate::support::demo;

fn solved(setup: &Setup) -> Solved {
    Answers::of(setup).solved.expect("it compiles")
}

/// What a bar gives and carries at ride height, + longer, + pulled.
fn strain(setup: &Setup, part: Part) -> (f64, f64) {
    let rear_end = compile(setup);
    let link = ClosureId::Link(rear_end.link(part).expect("the bar is there"));
    let strains = rear_end.mechanism.strains(&rear_end.ride);
    let found = strains.into_iter().find(|s| s.closure == link).expect("it is strained");
    (found.gap_m, found.force_n)
}

fn with_stiffness(stiffness_n_per_m: f64) -> Joint {
    Joint {
        stiffness_n_per_m: Some(stiffness_n_per_m),
        ..Joint::of(JointKind::Rubber)
    }
}

/// Tube and both ends, one behind the other: steel of 207 GPa.
fn by_hand(tube_m: f64, wall_m: f64, length_m: f64, ends: [f64; 2]) -> f64 {
    let area = std::f64::consts::PI * wall_m * (tube_m - wall_m);
    1.0 / (length_m / (2.07e11 * area) + 1.0 / ends[0] + 1.0 / ends[1])
}

/// A three-link with two left bars on the same mounts, the second `d` longer than there is room for, and softer.
fn twins(d: f64) -> Setup {
    let mut setup = bare();
    for name in ["left bar", "second left bar"] {
        add(&mut setup, name, Role::Lower, [0.6, 0.45, 0.0], [0.0, 0.45, 0.0]);
    }
    add(
        &mut setup,
        "right bar",
        Role::Lower,
        [0.6, -0.45, 0.0],
        [0.0, -0.45, 0.0],
    );
    add(&mut setup, "upper bar", Role::Upper, [0.5, 0.0, 0.16], [0.0, 0.0, 0.16]);
    add(
        &mut setup,
        "panhard bar",
        Role::Sideways,
        [-0.2, 0.4, 0.05],
        [-0.2, -0.4, 0.05],
    );
    for (bar, ends) in [(0, [3e7, 5e7]), (1, [4e6, 9e6])] {
        setup.bars[bar].frame_joint = Some(with_stiffness(ends[0]));
        setup.bars[bar].axle_joint = Some(with_stiffness(ends[1]));
    }
    (setup.bars[1].tube_m, setup.bars[1].wall_m) = (0.032, 0.003);
    setup.bars[1].length = Length::AsBuilt(AsBuilt::of_length(0.6 + d));
    setup
}

/// Two springs end to end between the same mounts: they take the difference up in series, one pulled as the other is pushed, and nothing else
/// is loaded.
#[test]
fn two_bars_on_one_pair_of_mounts_share_their_difference_as_springs_in_series() {
    let stiff = [
        by_hand(0.0445, 0.0048, 0.6, [3e7, 5e7]),
        by_hand(0.032, 0.003, 0.6, [4e6, 9e6]),
    ];
    for d in [0.001, -0.002, 0.008] {
        let setup = twins(d);
        let force = d / (1.0 / stiff[0] + 1.0 / stiff[1]);
        for (bar, sense) in [(0, 1.0), (1, -1.0)] {
            let (gap_m, force_n) = strain(&setup, Part::Bar(BarId(bar), Side::Drawn));
            near(gap_m, sense * force / stiff[bar], 1e-10);
            near(force_n, sense * force, 1e-6 * force.abs());
        }
        for bar in [2, 3, 4] {
            let (gap_m, _) = strain(&setup, Part::Bar(BarId(bar), Side::Drawn));
            near(gap_m, 0.0, 1e-10);
        }
        let found = Answers::of(&setup).findings;
        let preload = found
            .iter()
            .find(|f| matches!(f.kind, Kind::Preload { .. }))
            .expect("it is found");
        let Kind::Preload { misfit_m, force_n } = preload.kind else {
            panic!("a preload was asked for")
        };
        near(misfit_m, force.abs() / stiff[1], 1e-10);
        near(force_n, force.abs(), 1e-6 * force.abs());
        assert_eq!(
            preload.part,
            Some(Part::Bar(BarId(1), Side::Drawn)),
            "the one that is not as drawn"
        );
        let fine = misfit_m <= setup.limits.misfit_m && force_n <= setup.limits.bind_n;
        assert_eq!(preload.grade == Grade::Fine, fine);
    }
}

/// Four level bars at the corners of a rectangle seen from behind, and a level bar across.
fn four_level_bars(ends: Ends) -> Setup {
    let mut setup = bare();
    for (name, y, z) in [
        ("lower left", 0.45, -0.08),
        ("lower right", -0.45, -0.08),
        ("upper left", 0.45, 0.1),
        ("upper right", -0.45, 0.1),
    ] {
        add(&mut setup, name, Role::Lower, [0.6, y, z], [0.0, y, z]);
    }
    add(
        &mut setup,
        "panhard bar",
        Role::Sideways,
        [-0.2, 0.4, 0.01],
        [-0.2, -0.4, 0.01],
    );
    for bar in &mut setup.bars[..4] {
        bar.ends = ends;
    }
    setup.bars[3].tube_m = 0.032;
    setup
}

/// One of the four too long by `d`. Level pulls of a rectangle's corners balance only as +, -, -, + of one size: four springs in series. What
/// turns and shifts the axle is of the first order in `d`, what that does to the lengths of the second: `d^2` over the shortest distance
/// between bars, against `d`.
#[test]
fn one_bar_of_four_too_long_is_shared_by_all_four_in_series() {
    for ends in [Ends::RodEnds, Ends::Bushes, Ends::Polyurethane] {
        let joint = match ends {
            Ends::RodEnds => 8e7,
            Ends::Bushes => 8e6,
            Ends::Polyurethane => 2.5e7,
        };
        let stiff: Vec<_> = [0.0445, 0.0445, 0.0445, 0.032]
            .map(|tube| by_hand(tube, 0.0048, 0.6, [joint, joint]))
            .into();
        let give: f64 = stiff.iter().map(|k| 1.0 / k).sum();
        for (long, d) in [(0, 2e-4), (1, 4e-4), (3, -2e-4)] {
            let mut setup = four_level_bars(ends);
            setup.bars[long].length = Length::AsBuilt(AsBuilt::of_length(0.6 + d));
            let second_order = d.abs() / 0.18;
            // Lower left and upper right push together, the others pull; and the other way round.
            let diagonal = |bar: usize| bar == 0 || bar == 3;
            for (bar, stiffness) in stiff.iter().enumerate() {
                let sense = if diagonal(bar) == diagonal(long) { -1.0 } else { 1.0 };
                let (gap_m, force_n) = strain(&setup, Part::Bar(BarId(bar), Side::Drawn));
                let force = sense * d / give;
                near(force_n, force, second_order * force.abs());
                near(gap_m, force / stiffness, second_order * (force / stiffness).abs());
            }
            let (gap_m, _) = strain(&setup, Part::Bar(BarId(4), Side::Drawn));
            near(gap_m, 0.0, 1e-9);
        }
    }
}

const HALF_WIDE_M: f64 = 0.45;
const HALF_HIGH_M: f64 = 0.08;
const AHEAD_M: f64 = 0.6;

/// Four equal parallel bars that fall by `fall` to the front, and a level panhard bar that holds the axle on the centre plane, `above` the
/// tube's axis.
fn parallel(fall: f64, above: f64) -> Setup {
    let mut setup = bare();
    for (name, z) in [("lower bar", -HALF_HIGH_M), ("upper bar", HALF_HIGH_M)] {
        add_pair(
            &mut setup,
            name,
            Role::Lower,
            [AHEAD_M, HALF_WIDE_M, z - fall],
            [0.0, HALF_WIDE_M, z],
        );
    }
    add(
        &mut setup,
        "panhard bar",
        Role::Sideways,
        [0.0, 0.8, above],
        [0.0, 0.0, above],
    );
    setup
}

fn misfit_m(setup: &Setup, roll_rad: f64) -> f64 {
    let rear_end = compile(setup);
    let near_ride = Travel {
        rows: vec![at_ride(setup)],
        ..Travel::default()
    };
    let row = pose(setup, &rear_end, &near_ride, setup.travel.ride_m, roll_rad).expect("it rolls");
    row.misfit_m
}

/// Joints on the axle at `p` = (0, +-y, +-h) go from their bars' frame mounts by `w + (R - 1) p`, `w` being what all bars share. With `R` a turn
/// by `a` about `n` along `w` the two parts are square to each other, and the square of a length is `w^2 + 2 (1 - cos a) (p^2 - (n.p)^2)`: alike
/// at all four corners but for `-4 (1 - cos a) n_y n_z (+-y)(+-h)`. So corners differ in pairs, and no shift or turn of the axle takes that up:
/// what each bar has to give is a half over the length of it. To leading order `a` is the roll over
/// the cosine of the slope, `n_z` is the bars' slope, and `n_y` is the shift
/// that the panhard bar gives a rolled axle, roll times its height, over the length.
#[test]
fn equal_parallel_bars_misfit_in_roll_by_the_closed_form() {
    for (fall, above) in [(0.1, 0.2), (0.05, 0.25), (-0.08, 0.15), (0.1, -0.2)] {
        let setup = parallel(fall, above);
        let length = f64::hypot(AHEAD_M, fall);
        for roll in [0.03, 0.06, -0.06] {
            let turn = roll * length / AHEAD_M;
            let leading = turn * turn * (roll * above) * fall * HALF_WIDE_M * HALF_HIGH_M / length.powi(3);
            // What is left out goes with the squares of roll, of slope and of shift over length.
            let relative = roll * roll + (fall / length).powi(2) + (roll * above / length).powi(2);
            near(misfit_m(&setup, roll), leading.abs(), relative * leading.abs() + 2e-11);
        }
    }
}

/// The same closed form where nothing slopes, or nothing shifts: they fit to the last bit.
#[test]
fn equal_parallel_bars_fit_in_any_roll_where_they_are_level() {
    for above in [0.2, -0.1, 0.05] {
        for roll in [0.03, 0.1, -0.2] {
            near(misfit_m(&parallel(0.0, above), roll), 0.0, 2e-11);
        }
    }
    assert!(
        misfit_m(&parallel(0.1, 0.2), 0.1) > 1e-6,
        "where they slope they do not"
    );
}

/// How much of its limits a pose uses up.
fn used(setup: &Setup, rear_end: &RearEnd, at: &Configuration) -> f64 {
    let strains = rear_end.mechanism.strains(at);
    strains
        .map(|s| (s.force_n.abs() / setup.limits.bind_n).max(s.gap_m.abs() / setup.limits.misfit_m))
        .fold(0.0, f64::max)
}

/// The smallest roll either way at which a scan in steps of a two-hundredth of a degree first passes a limit.
fn scanned(setup: &Setup, rear_end: &RearEnd, height_m: f64) -> Option<f64> {
    let step = 0.005f64.to_radians();
    let mut now = [rear_end
        .mechanism
        .walk_to(&rear_end.ride, drive(setup, height_m, 0.0))
        .ok()?
        .at; 2];
    for i in 1..=2000 {
        let roll = step * f64::from(i);
        if roll > setup.travel.one_wheel_up_rad {
            return None;
        }
        for (at, sense) in now.iter_mut().zip([1.0, -1.0]) {
            *at = rear_end
                .mechanism
                .walk_to(at, drive(setup, height_m, sense * roll))
                .ok()?
                .at;
            if used(setup, rear_end, at) > 1.0 {
                return Some(roll);
            }
        }
    }
    None
}

fn drive(setup: &Setup, height_m: f64, roll_rad: f64) -> Drive {
    Drive {
        z_m: setup.axle_z_m(height_m),
        roll_rad,
    }
}

/// The limit is read off straight lines between poses a tenth of the roll apart. Misfit grows with a power of the roll between the first and
/// the third: a straight line is off by at most a quarter of the spacing's square over the roll.
#[test]
fn the_limit_roll_is_the_one_that_a_fine_scan_finds() {
    let mut found = 0;
    for (down_m, ends) in [(0.09, Ends::RodEnds), (0.05, Ends::Bushes), (0.14, Ends::Polyurethane)] {
        let mut setup = demo(0);
        setup.bars[1].mount_in_frame.z -= down_m;
        for bar in &mut setup.bars {
            bar.ends = ends;
        }
        setup.travel.one_wheel_up_rad = 5f64.to_radians();
        let unlimited = solved(&setup).bind;
        let (least, most) = unlimited
            .iter()
            .map(|b| b.force.force_n.abs())
            .fold((f64::MAX, 0.0), |(a, b), f| (f.min(a), f.max(b)));
        assert!(least < most && least > 0.0);
        for bind_n in [0.2 * least, 0.7 * least, 0.9 * most] {
            setup.limits.bind_n = bind_n;
            setup.limits.misfit_m = 1.0;
            let solved = solved(&setup);
            let rear_end = &solved.rear_end;
            for bind in &solved.bind {
                let scan = scanned(&setup, rear_end, bind.height_m);
                assert_eq!(bind.limit_roll_rad.is_some(), scan.is_some(), "{bind:?}");
                if let (Some(limit), Some(scan)) = (bind.limit_roll_rad, scan) {
                    let spacing = setup.travel.one_wheel_up_rad / 10.0;
                    let straight = (spacing * spacing / (4.0 * scan)).min(spacing);
                    near(limit.abs(), scan, straight + 0.005f64.to_radians());
                    found += 1;
                }
            }
        }
    }
    assert!(found >= 10, "only {found} limits were found");
}

/// The misfit counts as the force does.
#[test]
fn the_limit_on_the_misfit_is_found_as_that_on_the_force_is() {
    let mut setup = demo(0);
    setup.bars[1].mount_in_frame.z -= 0.09;
    setup.limits.bind_n = 1e12;
    let free = solved(&setup).bind;
    assert!(
        free.iter().all(|b| b.limit_roll_rad.is_none()) && !free.is_empty(),
        "{free:?}"
    );
    setup.limits.misfit_m = 0.3 * free[0].misfit.gap_m.abs();
    let solved = solved(&setup);
    for bind in solved.bind.iter().filter(|b| b.limit_roll_rad.is_some()) {
        let scan = scanned(&setup, &solved.rear_end, bind.height_m).expect("the scan finds it too");
        let spacing = setup.travel.one_wheel_up_rad / 10.0;
        near(
            bind.limit_roll_rad.map_or(0.0, f64::abs),
            scan,
            (spacing * spacing / (4.0 * scan)).min(spacing) + 1e-4,
        );
    }
    assert!(solved.bind[0].limit_roll_rad.is_some());
}

/// With both wheels level the bars hold what one of them is too long for, at ride height as worked out above; one wheel up adds to it.
#[test]
fn the_force_with_both_wheels_level_is_the_preload() {
    let d = 2e-3;
    let mut setup = four_level_bars(Ends::Bushes);
    setup.bars[0].length = Length::AsBuilt(AsBuilt::of_length(0.6 + d));
    // A bar across that stands high and slopes, so that rolling binds too.
    setup.bars[4].mount_in_frame.z += 0.2;
    let give: f64 = [0.0445, 0.0445, 0.0445, 0.032]
        .map(|tube| 1.0 / by_hand(tube, 0.0048, 0.6, [8e6, 8e6]))
        .iter()
        .sum();
    let solved = solved(&setup);
    let at_ride = solved
        .bind
        .iter()
        .find(|b| (b.height_m - setup.travel.ride_m).abs() < 1e-9)
        .expect("it binds at ride height");
    let force = d / give;
    near(at_ride.level[0].force_n.abs(), force, 0.02 * force);
    assert!(at_ride.force.force_n.abs() >= at_ride.level[0].force_n.abs());
    for bind in &solved.bind {
        let level = compile(&setup);
        let at = level.mechanism.walk_to(&level.ride, drive(&setup, bind.height_m, 0.0));
        let at = at.expect("it is reached").at;
        let most = level
            .mechanism
            .strains(&at)
            .map(|s| s.force_n.abs())
            .fold(0.0, f64::max);
        near(bind.level[0].force_n.abs(), most, 1e-6 * most + 1e-2);
    }
}

/// One wheel higher than the other by the track's rise, whichever it is. Track by hand from the first demo: 1524 + 235 - 2 * 115.
#[test]
fn one_wheel_stands_higher_by_the_rise_of_the_track() {
    let setup = demo(0);
    for roll in [0.05f64, -0.05] {
        near(Bind::wheel_rise_m(&setup, roll), 1.529 * 0.05f64.sin(), 1e-12);
    }
}
