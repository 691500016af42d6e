//! Dragging a mount, scrubbing the travel, undo, saving, the picture.

use std::fs;
use std::path::Path;

use rearend::file;
use rearend::setup::Setup;
use tests::parallelogram;

use crate::driver::Window;
use crate::look::assert_picture;
use crate::shown::Shown;

/// The mount that most tests move.
pub const PANHARD_ON_FRAME: &str = "panhard bar, on the frame";
const PANHARD_ON_AXLE: &str = "panhard bar, on the axle";

/// How well a pose is solved, mm.
const POSE_MM: f64 = 1e-5;
/// Places on the screen, which are single precision.
const PLACE_PX: f64 = 0.01;
/// The tape's step that a drag keeps to: a sixteenth of an inch.
const STEP_MM: f64 = 25.4 / 16.0;

impl Window {
    /// Looks from behind and waits until the view has stopped turning.
    pub fn look_from_behind(&mut self) -> Shown {
        self.hands.key("1");
        let shown = self.wait_for("the view from behind", Shown::is_from_behind);
        self.settle();
        shown
    }

    /// Takes hold of a mount seen from behind and pulls it upwards, without letting go. Gives back where the mouse began.
    pub fn pull_up(&mut self, mount: &str, pixels: i32) -> [i32; 2] {
        let before = self.now().handle(mount);
        let from = before.map(whole);
        let to = [from[0], from[1] - pixels];
        self.hands.point(from);
        self.hands.press();
        self.hands.glide(from, to);
        let wanted = before[1] - f64::from(pixels);
        let half_a_step = STEP_MM / 2.0 * pixels_per_mm(&self.now()) + PLACE_PX;
        self.wait_for("the mount in hand where the mouse is", |shown| {
            shown.dragging && (shown.handle(mount)[1] - wanted).abs() <= half_a_step
        });
        from
    }

    /// Lets go of the mount in hand.
    pub fn let_go(&mut self) -> Shown {
        self.hands.release();
        self.wait_for("the mount let go", |shown| !shown.dragging)
    }
}

/// The nearest pixel.
#[expect(clippy::cast_possible_truncation, reason = "a place on a screen")]
pub fn whole(pixels: f64) -> i32 {
    pixels.round() as i32
}

/// Scale of the view from behind, from the lower bars' mounts, whose distance is drawn.
pub fn pixels_per_mm(shown: &Shown) -> f64 {
    let [left, right] = ["left", "right"].map(|side| shown.handle(&format!("{side} lower bar, on the frame"))[0]);
    let lower = demo().bars[0].mount_in_frame.y * 2e3;
    (right - left) / lower
}

fn demo() -> Setup {
    shop::demo::ALL[0].setup().expect("a demo reads")
}

fn read(path: &Path) -> Setup {
    let text = fs::read_to_string(path).expect("the file is there");
    file::read(&text).unwrap_or_else(|error| panic!("{} does not read back: {error}\n{text}", path.display()))
}

/// The shift laid out by the closed form, mm.
pub fn expected_shift_mm(setup: &Setup) -> f64 {
    parallelogram::moved(setup, setup.travel.laid_out_m).y * 1e3
}

/// Asserts that the window shows the closed form's shift.
pub fn assert_shift(shown: &Shown, setup: &Setup) {
    let (is, expected) = (shown.shift_laid_out_mm, expected_shift_mm(setup));
    assert!(
        (is - expected).abs() < POSE_MM,
        "shift laid out: {is} mm, by the closed form {expected} mm"
    );
}

#[test]
fn drag_scrub_undo_picture_save() {
    let shelf = tempfile::tempdir().expect("a folder that outlasts the window");
    let saved = shelf.path().join("dragged.ron");
    let mut window = Window::open();
    let before = window.look_from_behind();
    assert_shift(&before, &demo());

    window.pull_up(PANHARD_ON_FRAME, 40);
    let dragged = window.let_go();
    assert_eq!(dragged.undo.as_deref(), Some("move panhard bar, on the frame"));
    assert!(dragged.unsaved);

    save(&mut window, &saved);
    let setup = read(&saved);
    assert_moved_by(&before, &setup, 40.0);
    assert_shift(&dragged, &setup);

    lay_out(&mut window, &setup);
    undo_and_redo(&mut window, [&before, &dragged]);
    picture(&mut window);
    assert_eq!(
        file::write(&setup),
        fs::read_to_string(&saved).expect("the file is there")
    );
    drop(window);

    let again = Window::open_file(&saved).now();
    assert!(!again.unsaved);
    assert_eq!(again.name, before.name);
    assert_shift(&again, &setup);
}

/// Saves to a path typed into the box that asks for one.
fn save(window: &mut Window, path: &Path) {
    window.hands.key("ctrl+s");
    window.wait_for("the box for a path", |shown| shown.dialog);
    window.settle();
    window.hands.enter(&path.display().to_string());
    window.wait_for("word that it is saved", |shown| {
        !shown.unsaved && !shown.dialog && shown.notice.as_ref().is_some_and(|n| n.starts_with("Saved to"))
    });
    window.settle();
}

/// The mount has moved straight up, as far as the mouse, to a step of the tape; nothing else has.
fn assert_moved_by(before: &Shown, setup: &Setup, pixels: f64) {
    let mut expected = demo();
    let up_mm = setup.bars[2].mount_in_frame.z * 1e3;
    let wanted_mm = expected.bars[2].mount_in_frame.z * 1e3 + pixels / pixels_per_mm(before);
    assert!(
        (up_mm - wanted_mm).abs() <= STEP_MM / 2.0 + 0.05,
        "{up_mm} mm, the mouse at {wanted_mm} mm"
    );
    let steps = up_mm / STEP_MM;
    assert!(
        (steps - steps.round()).abs() < 1e-6,
        "{up_mm} mm is no whole sixteenth of an inch"
    );
    expected.bars[2].mount_in_frame.z = setup.bars[2].mount_in_frame.z;
    assert_eq!(*setup, expected);
}

/// Drags the ride post's rider down to laid out. The frame sinks, the wheels stay on the ground, and the axle shifts.
fn lay_out(window: &mut Window, setup: &Setup) {
    let before = window.now();
    let [left, top, _, height] = before.pane;
    let on_post = |part: f64| [whole(left / 4.0), whole(top + height * part)];
    window.hands.point(on_post(0.4));
    window.hands.press();
    window.hands.glide(on_post(0.4), on_post(0.6));
    let (low, ride) = (setup.travel.laid_out_m * 1e3, setup.travel.ride_m * 1e3);
    window.wait_for("a height on the way", |shown| {
        shown.height_mm > low && shown.height_mm != ride
    });
    window.hands.glide(on_post(0.6), on_post(1.0));
    window.wait_for("laid out", |shown| (shown.height_mm - low).abs() < 1e-9);
    window.hands.release();
    window.settle();
    let shown = window.now();
    assert!((shown.height_mm - low).abs() < 1e-9, "let go at {} mm", shown.height_mm);
    let scale = pixels_per_mm(&shown);
    let went = |mount: &str| [0, 1].map(|axis| (shown.handle(mount)[axis] - before.handle(mount)[axis]) / scale);
    assert_near(went(PANHARD_ON_FRAME), [0.0, ride - low]);
    assert_near(went(PANHARD_ON_AXLE), [-expected_shift_mm(setup), 0.0]);
}

fn assert_near(is_mm: [f64; 2], expected_mm: [f64; 2]) {
    let near = is_mm
        .iter()
        .zip(expected_mm)
        .all(|(is, expected)| (is - expected).abs() < 0.02);
    assert!(near, "went {is_mm:?} mm on the screen, expected {expected_mm:?} mm");
}

/// The whole drag is one step back and one step forth.
fn undo_and_redo(window: &mut Window, [before, dragged]: [&Shown; 2]) {
    window.hands.key("ctrl+z");
    let undone = window.wait_for("the drag undone", |shown| shown.undo.is_none());
    assert_eq!(undone.shift_laid_out_mm, before.shift_laid_out_mm);
    assert!(undone.unsaved, "what is saved is the dragged setup");
    window.hands.key("ctrl+y");
    let redone = window.wait_for("the drag done again", |shown| shown.undo.is_some());
    assert_eq!(redone.shift_laid_out_mm, dragged.shift_laid_out_mm);
    assert!(!redone.unsaved, "this is what is saved");
}

/// Saves a picture and looks at it.
fn picture(window: &mut Window) {
    let path = window.path("picture.png");
    window.hands.key("ctrl+p");
    window.wait_for("the box for a path", |shown| shown.dialog);
    window.settle();
    window.hands.enter(&path.display().to_string());
    window.wait_for("word of the picture", |shown| {
        shown.notice.as_ref().is_some_and(|n| n.contains("picture.png"))
    });
    assert_picture(&path, (1920, 1360));
}

#[test]
fn esc_puts_a_drag_back() {
    let mut window = Window::open();
    window.look_from_behind();
    let before = window.now();
    let from = window.pull_up(PANHARD_ON_FRAME, 30);
    window.hands.key("Escape");
    window.wait_for("the drag put back", |shown| !shown.dragging);
    // The hand may go on moving for a while before it lets the button go.
    window
        .hands
        .glide([from[0], from[1] - 30], [from[0] + 40, from[1] - 60]);
    window.settle();
    window.hands.release();
    window.settle();
    let after = window.now();
    assert_eq!(
        after,
        Shown {
            selected: after.selected.clone(),
            ..before
        }
    );
}
