//! The truck around the axle, on the tape sheet: a shaft set right, and an exhaust in the way.

use crate::driver::Window;

/// Opens the tape sheet, and one of its parts instead of the first.
fn open_part(window: &mut Window, title: &str) {
    window.hands.key("t");
    window.click("First ten: enough to start");
    window.settle();
    window.scroll_to(title, SHEET);
    window.click(title);
    window.settle();
}

/// A place on the sheet, below its picture.
const SHEET: [i32; 2] = [400, 420];

pub fn enter(window: &mut Window, name: &str, text: &str) {
    window.scroll_to(name, SHEET);
    window.click(name);
    window.settle();
    window.hands.enter(text);
}

/// Working angles of a shaft in the truck's middle plane between parallel axes: how steep the axes are, less how steep the shaft is.
fn steepness_deg(setup: &rearend::setup::Setup) -> f64 {
    let driveline = setup.driveline.as_ref().expect("the demo has a shaft");
    let pinion = setup.drawn().to_ground(setup.pinion_joint_in_axle());
    let along = driveline.output - pinion;
    assert!(along.y.abs() < 1e-9, "in one plane");
    along.z.atan2(along.x).to_degrees()
}

#[test]
fn a_raised_transmission_opens_the_joints_and_the_remedy_evens_them() {
    let mut setup = shop::demo::ALL[0].setup().expect("a demo reads");
    let mut window = Window::open_file(&tests::demo_scene("01"));
    let before = window.now();
    let pinion_deg = setup.axle.pinion_angle_rad.to_degrees();
    let expected = (pinion_deg - steepness_deg(&setup)).abs();
    for joint in before.joints_at_ride_deg.expect("the demo has a shaft") {
        assert!((joint - expected).abs() < 1e-6, "{joint} instead of {expected}");
    }

    open_part(&mut window, "Driveshaft");
    enter(&mut window, "Transmission, nose up", "6.5");
    let raised = window.wait_for("a tilted transmission", |shown| shown.undo.is_some());
    let [front, rear] = raised.joints_at_ride_deg.expect("a shaft");
    let driveline = setup.driveline.as_mut().expect("a shaft");
    driveline.output_nose_up_rad = 6.5_f64.to_radians();
    assert!((front - (6.5 - steepness_deg(&setup))).abs() < 1e-6, "{front}");
    assert!((rear - expected).abs() < 1e-6, "the pinion stands as it stood: {rear}");
    let rule = "both within 1° of each other";
    assert!(window.says(rule), "{:?}", window.findings());

    window.click("match the pinion at ride height");
    let matched = window.wait_for("a pinion to match", |shown| {
        shown
            .joints_at_ride_deg
            .is_some_and(|[front, rear]| (front - rear).abs() < 0.01)
    });
    assert_eq!(matched.undo.as_deref(), Some("match the pinion at ride height"));
    assert!(!window.says(rule), "{:?}", window.findings());
}

#[test]
fn an_exhaust_through_the_panhards_path_is_found_where_it_touches() {
    let mut window = Window::open_file(&tests::demo_scene("01"));
    window.settle();
    assert!(!window.says("runs into the exhaust"), "{:?}", window.findings());
    open_part(&mut window, "In the way");
    // Its fourth bend so low that the run before it meets the bar: 248 mm up, 205 mm behind the axle line.
    enter(&mut window, "Point 4, up", "9");
    window.wait_for("the exhaust moved", |shown| shown.undo.is_some());
    window.settle();
    let findings = window.findings();
    let touches = |f: &&String| f.contains("panhard bar") && f.contains("exhaust") && f.contains("runs into");
    let found = findings.iter().find(touches).unwrap_or_else(|| panic!("{findings:?}"));

    // Following it goes to where it is, and lights both.
    window.click(found);
    let there = window.wait_for("both lit up", |shown| !shown.lit.is_empty());
    assert_eq!(there.lit, ["the panhard bar", "the exhaust"]);
    // Once the exhaust is back where it was, there is nothing to point at.
    window.hands.key("ctrl+z");
    window.wait_for("nothing lit any more", |shown| shown.lit.is_empty());
}
