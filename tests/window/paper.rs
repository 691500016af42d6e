//! What leaves the shop, from the real menu's keys: build sheet, brackets, and setups side by side.

use std::fs;

use crate::driver::Window;

#[test]
fn sheet_and_brackets_are_made_beside_the_window_and_a_copy_lies_beside_the_setup() {
    let mut window = Window::open_file(&tests::demo_scene("03"));
    let sheet = window.path("sheet.pdf");
    window.hands.key("ctrl+shift+p");
    window.wait_for("the box for a path", |shown| shown.dialog);
    window.settle();
    window.hands.enter(&sheet.display().to_string());
    let told = window.wait_for("the sheet", |shown| shown.notice.is_some());
    let notice = told.notice.unwrap_or_default();
    assert!(notice.starts_with("The build sheet is in"), "{notice}");
    let bytes = fs::read(&sheet).expect("the sheet is there");
    assert!(bytes.starts_with(b"%PDF"), "it is a PDF");
    window.settle();

    // A second one is asked about, and taken back.
    window.hands.key("ctrl+shift+p");
    window.wait_for("the box again", |shown| shown.dialog);
    window.settle();
    window.hands.enter(&sheet.display().to_string());
    window.settle();
    assert!(window.now().dialog, "whether to replace it is asked");
    window.hands.key("Escape");
    window.wait_for("the question taken back", |shown| !shown.dialog);
    window.settle();
    assert_eq!(fs::read(&sheet).expect("it is still there"), bytes);

    let plates = window.path("plates");
    window.hands.key("ctrl+shift+b");
    window.wait_for("the box for a folder", |shown| shown.dialog);
    window.settle();
    window.hands.enter(&plates.display().to_string());
    window.wait_for("the brackets", |shown| {
        shown.notice.as_deref().is_some_and(|n| n.contains("files of brackets"))
    });
    let files = fs::read_dir(&plates).expect("the folder was made").flatten();
    let names: Vec<_> = files
        .map(|file| file.file_name().to_string_lossy().into_owned())
        .collect();
    assert!(names.iter().any(|name| name == "templates.pdf"), "{names:?}");
    assert!(
        names.iter().filter(|name| name.contains("-side-plate-")).count() > 3,
        "{names:?}"
    );
    window.settle();

    let name = window.now().name;
    window.hands.key("s");
    window.click("Put a copy beside");
    window.wait_for_control(&format!("Onto the bench: {name}, copy 1"));
    assert!(!window.now().unsaved, "the open setup is as it was");

    // Leaving would lose the copy, so that is asked about.
    window.settle();
    window.hands.key("ctrl+q");
    let asked = window.wait_for("the question", |shown| shown.dialog);
    assert_eq!(asked.name, format!("{name}, copy 1"));
    assert!(asked.unsaved && window.runs());
}
