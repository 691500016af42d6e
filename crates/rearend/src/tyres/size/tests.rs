use super::*;

fn read(text: &str) -> TyreSize {
    TyreSize::read(text).unwrap_or_else(|e| panic!("{text}: {e}"))
}

#[track_caller]
fn measures(text: &str, outside_mm: f64, width_mm: f64, rim_mm: f64) {
    let size = read(text);
    let found = [size.outside_m, size.width_m, size.rim_m].map(|m| m * 1e3);
    for (found, expected) in found.into_iter().zip([outside_mm, width_mm, rim_mm]) {
        assert!((found - expected).abs() < 1e-9, "{text}: {found}, expected {expected}");
    }
}

/// Size formula: rim x 25.4 + 2 width x aspect / 100, by hand. 225/45R17 is printed as 634.4 in places; the formula gives 634.3.
#[test]
fn a_metric_size_follows_the_size_formula() {
    measures("225/45R17", 634.3, 225.0, 431.8);
    measures("255/70R16", 763.4, 255.0, 406.4);
    // Seen in print as 34.06 in; 17 + 2 x 315 x 0.7 / 25.4 is 34.36.
    measures("315/70R17", 872.8, 315.0, 431.8);
    measures("245/75R16.5", 786.6, 245.0, 419.1);
}

#[test]
fn a_flotation_size_starts_with_the_diameter() {
    measures("33x12.50R15LT", 838.2, 317.5, 381.0);
    measures("31X10.5R15", 787.4, 266.7, 381.0);
    measures("33 × 12,50 - 15", 838.2, 317.5, 381.0);
}

#[test]
fn sizes_are_read_as_people_type_them() {
    let plain = read("225/45R17");
    for text in [
        "225/45 R 17",
        " 225 / 45r17 ",
        "225/45ZR17 94W",
        "225/45/17",
        "225/45R17 XL",
    ] {
        assert_eq!(read(text), plain, "{text}");
    }
    assert_eq!(read("P225/45R17").service, Service::Passenger);
    for text in [
        "LT255/70R16",
        "lt 255/70 R16 115/112Q",
        "LT255/70R16/E",
        "255/70R16C 8PR M+S",
    ] {
        assert_eq!(read(text).service, Service::LightTruck, "{text}");
    }
    assert_eq!(read("33x12.50-15LT").carcass, Carcass::Bias);
}

#[test]
fn what_is_shown_reads_back() {
    for text in [
        "225/45R17",
        "LT255/70R16",
        "33x12.50R15LT",
        "245/75R16.5",
        "P235/75-15",
        "ST205/75R14",
    ] {
        assert_eq!(read(text).to_string(), text);
    }
    let measured = TyreSize::read_measured("7.50-16", 0.81).expect("it reads");
    assert_eq!(measured.to_string(), "7.50-16");
    assert!((measured.width_m - 0.1905).abs() < 1e-12 && (measured.outside_m - 0.81).abs() < 1e-12);
}

#[test]
fn a_size_without_its_diameter_asks_for_the_tape() {
    for text in ["7.50-16", "7.50R16", "195R14C"] {
        let error = TyreSize::read(text).expect_err("the diameter is not in it");
        assert!(matches!(error, TyreSizeError::NoDiameter { .. }), "{text}: {error}");
        assert!(error.to_string().contains("measure across the tyre"), "{error}");
    }
    for outside_m in [0.3, 0.0, -1.0, f64::NAN, f64::INFINITY, 3.0] {
        assert!(TyreSize::read_measured("7.50-16", outside_m).is_err(), "{outside_m}");
    }
}

#[test]
fn nonsense_is_answered_with_what_was_expected() {
    let says = |text: &str| TyreSize::read(text).expect_err(text).to_string();
    assert!(says("  ").starts_with("a tyre size is expected"));
    assert!(says("big ones").starts_with("\"BIG\" stands where the width or the diameter is expected"));
    assert!(says("255/").starts_with("nothing stands where the height of the section"));
    assert!(says("255/70").starts_with("nothing stands where R or a dash"));
    assert!(says("255/70R").starts_with("nothing stands where the rim's diameter"));
    assert!(says("255/70R16 chrome").starts_with("\"CHROME\" stands where the end of the size is expected"));
    assert!(says("25/70R16").contains("100 to 500 mm"));
    assert!(says("255/170R16").contains("20 to 100 %"));
    assert!(says("255/70R160").contains("8 to 30 in"));
    assert!(says("15x7R16").starts_with("a diameter of 15 is not made"));
    assert!(says("16x7R16").contains("larger than that across"));
    for text in [
        "1.2.3/70R16",
        "255//70R16",
        "ſ255/70R16",
        "255/70R16\u{0}",
        "x",
        "/",
        "....",
        "9e99x12R15",
    ] {
        assert!(TyreSize::read(text).is_err(), "{text:?}");
    }
    assert!(TyreSize::read(&"9".repeat(10_000)).is_err());
    assert!(TyreSize::read(&format!("255/70R16 {}", "94W ".repeat(100))).is_err());
}

#[test]
fn a_fitted_tyre_brings_its_measures_along() {
    let setup = crate::file::read(include_str!("../../../../../demo-scenes/01-parallel-panhard.ron"));
    let wheels = setup.expect("it reads").wheels;
    let fitted = read("255/70R16").fitted(&wheels);
    assert_eq!(fitted.size.as_deref(), Some("255/70R16"));
    assert!((fitted.tyre_m - 0.7634).abs() < 1e-12);
    assert!((fitted.backspacing_m - wheels.backspacing_m).abs() < 1e-15);
    // Common practice: 0.96 to 0.97 of half the diameter.
    let part = fitted.loaded_radius_m / (fitted.tyre_m / 2.0);
    assert!((0.96..=0.97).contains(&part), "{part}");
}
