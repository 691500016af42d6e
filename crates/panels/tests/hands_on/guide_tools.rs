//! The guide's pages on single tools, its list of keys, and its pictures of the user's own truck.

use egui::accesskit::Role;
use egui::{Context, Shape, vec2};
use egui_kittest::kittest::Queryable;
use panels::{Act, Action, GuidePage, Task};
use rearend::figures::CAUTION;
use rearend::layouts::Layout;
use rearend::setup::Setup;
use rearend::tape::Units;
use shop::demo;

use crate::support::{Window, acts, bench, click, painted, says, settle, window};

/// So tall that nothing of it scrolls away.
fn guide_of(mut page: GuidePage, truck: Setup, on: &'static [Action]) -> Window {
    window(bench(0), vec2(1100.0, 2400.0), move |ui, _| {
        page.show(ui, &truck, &|action| on.contains(&action))
    })
}

fn guide(task: Task, on: &'static [Action]) -> Window {
    guide_of(GuidePage::Task(task), own_truck(), on)
}

fn own_truck() -> Setup {
    demo::ALL[0].setup().expect("a demo scene reads")
}

/// All that a page says in its passages.
fn told(task: Task) -> String {
    task.passages().iter().map(|(_, text)| *text).collect()
}

#[test]
fn a_tool_with_a_key_is_told_with_its_key() {
    for (task, action) in [
        (Task::Between, Action::Measure),
        (Task::Dimensions, Action::Dimensions),
        (Task::Parts, Action::Parts),
        (Task::Copy, Action::Copy),
        (Task::AsBuilt, Action::AsBuilt),
        (Task::Drag, Action::Undo),
        (Task::TakeUp, Action::Save),
        (Task::Beside, Action::Beside),
        (Task::Pictures, Action::Picture),
        (Task::Pictures, Action::CopyPicture),
        (Task::Sheet, Action::Sheet),
        (Task::Brackets, Action::Brackets),
        (Task::Tables, Action::TravelTable),
    ] {
        let shortcut = action.shortcut().expect("it has a key");
        let key = Context::default().format_shortcut(&shortcut);
        let words = told(task);
        let is_told = words
            .split(|c: char| !c.is_alphanumeric() && c != '+')
            .any(|word| word == key);
        assert!(is_told, "{task:?} does not say {key}: {words}");
    }
}

#[test]
fn what_a_page_calls_a_menu_entry_is_what_the_menu_says() {
    for (task, action) in [
        (Task::Dimensions, Action::Dimensions),
        (Task::Copy, Action::Copy),
        (Task::AsBuilt, Action::AsBuilt),
        (Task::Beside, Action::OpenBeside),
        (Task::Pictures, Action::PictureOfHeights),
        (Task::Pictures, Action::PictureBeside),
        (Task::Pictures, Action::PictureMeasures),
        (Task::Pictures, Action::Shop),
        (Task::Tables, Action::CompareTable),
    ] {
        let quoted = format!("\"{}\"", action.text());
        assert!(told(task).contains(&quoted), "{task:?} does not name {quoted}");
    }
}

/// The arithmetic beside each is done here once more, in inches.
#[test]
fn every_way_to_type_a_length_that_the_guide_shows_is_read_as_it_says() {
    let page = told(Task::Type) + &told(Task::Measure);
    for (text, inches) in [
        ("19 1/4", 19.25),
        ("19-1/4", 19.25),
        ("19.25", 19.25),
        ("489 mm", 489.0 / 25.4),
        ("48.9 cm", 489.0 / 25.4),
        ("19 1/4\"", 19.25),
        ("3 ft", 36.0),
        ("4' 3 1/2\"", 51.5),
        ("34/2 - 1 1/8", 15.875),
        ("19 - 1/4", 18.75),
    ] {
        assert!(page.contains(text), "the guide does not show {text}");
        let read_m = Units::Sixteenths.read(text).expect("it reads");
        assert!((read_m - inches * 0.0254).abs() < 1e-9, "{text}: {read_m} m");
    }
}

#[test]
fn what_a_page_leads_to_is_opened_and_never_closed() {
    const ALL_ON: &[Action] = &[
        Action::TapeSheet,
        Action::Parts,
        Action::Measure,
        Action::Dimensions,
        Action::Beside,
    ];
    for (task, action, off, on) in [
        (
            Task::Measure,
            Action::TapeSheet,
            "Open the tape sheet",
            "Back to the tape sheet",
        ),
        (
            Task::Parts,
            Action::Parts,
            "Open the parts drawer",
            "Back to the parts drawer",
        ),
        (Task::Between, Action::Measure, "Start measuring", "Go on measuring"),
        (Task::Beside, Action::Beside, "Open the table", "Back to the table"),
        (
            Task::Dimensions,
            Action::Dimensions,
            "Show the lines",
            "Back to the truck, the lines are on",
        ),
    ] {
        let mut closed = guide(task, &[]);
        click(&mut closed, Role::Button, off);
        assert_eq!(acts(&mut closed), [Act::CloseDialog, Act::Choose(action)], "{task:?}");
        let mut open = guide(task, ALL_ON);
        assert!(!says(&open, off), "{task:?}");
        click(&mut open, Role::Button, on);
        assert_eq!(acts(&mut open), [Act::CloseDialog], "{task:?}");
    }
    let mut start = guide_of(GuidePage::Start, own_truck(), ALL_ON);
    click(&mut start, Role::Button, "Back to the tape sheet");
    assert_eq!(acts(&mut start), [Act::CloseDialog]);
    for (task, action, does) in [
        (Task::Copy, Action::Copy, "Go on with a copy"),
        (Task::Pictures, Action::Picture, "Save a picture"),
        (Task::Pictures, Action::Shop, "Name, logo and paper"),
        (Task::Sheet, Action::Sheet, "Make a build sheet"),
        (Task::Sheet, Action::Shop, "Name, logo and paper"),
        (Task::Brackets, Action::Brackets, "Draw the brackets"),
        (Task::Tables, Action::TravelTable, "Write the travel"),
        (Task::Tables, Action::CompareTable, "Write the comparison"),
    ] {
        let mut page = guide(task, ALL_ON);
        click(&mut page, Role::Button, does);
        assert_eq!(acts(&mut page), [Act::CloseDialog, Act::Choose(action)], "{task:?}");
    }
}

#[test]
fn what_is_built_and_cut_from_is_told_with_the_caution() {
    for task in [Task::Sheet, Task::Brackets] {
        assert!(says(&guide(task, &[]), CAUTION), "{task:?}");
    }
}

/// What a page draws as its picture.
fn picture(layout: Layout, truck: &Setup) -> (Vec<String>, Window) {
    let window = guide_of(GuidePage::Layout(layout), truck.clone(), &[]);
    let area = window.get_by_label_contains("Picture: ").rect();
    let inside = |clipped: &&egui::epaint::ClippedShape| area.contains_rect(clipped.clip_rect);
    let shapes = window.output().shapes.iter().filter(inside);
    let drawn = shapes.map(|clipped| format!("{:?}", clipped.shape)).collect();
    (drawn, window)
}

#[test]
fn a_layout_is_drawn_on_the_users_own_truck() {
    let own = own_truck();
    let mut wider = own.clone();
    wider.axle.flange_to_flange_m += 0.2;
    for layout in [Layout::ParallelPanhard, Layout::UppersTriangulated, Layout::LadderWatt] {
        let (drawn, window) = picture(layout, &own);
        assert!(drawn.len() > 20, "{layout:?}: {drawn:?}");
        assert!(says(&window, "Drawn on your truck, at ride height."), "{layout:?}");
        assert_ne!(drawn, picture(layout, &wider).0, "{layout:?}");
    }
}

#[test]
fn a_truck_that_the_layout_does_not_fit_gives_way_to_a_usual_one() {
    let mut impossible = own_truck();
    impossible.travel.laid_out_m = impossible.travel.full_lift_m + 0.1;
    assert!(impossible.validate().is_err());
    let usual = demo::new_truck().expect("it reads");
    for layout in Layout::ALL {
        let (drawn, window) = picture(layout, &impossible);
        assert!(window.query_by_label_contains("a usual truck is drawn").is_some());
        assert_eq!(drawn, picture(layout, &usual).0, "{layout:?}");
    }
}

/// Texts that stick out of what is shown of them to the left or right.
fn cut_texts(window: &Window) -> Vec<String> {
    let shapes = window.output().shapes.iter();
    shapes
        .filter_map(|clipped| match &clipped.shape {
            Shape::Text(text) => {
                let (words, seen) = (text.visual_bounding_rect(), clipped.clip_rect);
                let is_cut = words.left() < seen.left() - 1.0 || words.right() > seen.right() + 1.0;
                is_cut.then(|| text.galley.text().to_owned())
            }
            _ => None,
        })
        .collect()
}

#[test]
fn every_key_can_be_read_in_a_low_window_and_a_narrow_one() {
    // What a dialog leaves of a window of 1280 by 720, and of the smallest.
    for size in [vec2(960.0, 560.0), vec2(640.0, 360.0)] {
        let mut page = GuidePage::Task(Task::Keys);
        let mut window = window(bench(0), size, move |ui, bench| {
            page.show(ui, bench.setup(), &|_| false)
        });
        assert_eq!(cut_texts(&window), Vec::<String>::new(), "{size:?}");
        let keys: Vec<_> = Action::ALL
            .into_iter()
            .filter(|action| action.shortcut().is_some())
            .collect();
        for action in keys {
            window.get_by_label(action.tip()).scroll_to_me();
            window.run_steps(60);
            let row = window.get_by_label(action.tip()).rect();
            assert!(
                row.top() >= 0.0 && row.bottom() <= size.y,
                "{action:?} at {row:?} of {size:?}"
            );
            assert!(
                row.left() >= 0.0 && row.right() <= size.x,
                "{action:?} at {row:?} of {size:?}"
            );
        }
        settle(&mut window);
        assert!(
            painted(&window).iter().any(|text| text == Action::Keys.tip()),
            "{size:?}"
        );
    }
}
