//! The guide.

use egui::accesskit::Role;
use egui::{Key, vec2};
use egui_kittest::kittest::Queryable;
use panels::{Act, Action, GuidePage, Quantity, Task, layout_guide, layout_words, quantity_words};
use rearend::figures::CAUTION;
use rearend::layouts::Layout;
use shop::{Change, Command};

use crate::support::{Window, acts, bench, click, key, painted, says, settle, window};

/// So tall that nothing of it scrolls away.
fn guide(mut page: GuidePage) -> Window {
    window(bench(0), vec2(1100.0, 2400.0), move |ui, bench| {
        page.show(ui, bench.setup(), &|_| false)
    })
}

/// Opens a page from the list.
#[track_caller]
fn open(window: &mut Window, page: GuidePage) {
    click(window, Role::Button, page.title());
}

/// Everything that the page of a layout or a strip says.
fn texts(page: GuidePage) -> Vec<&'static str> {
    match page {
        GuidePage::Start => vec!["1. Measure the truck", CAUTION],
        GuidePage::Task(Task::Keys) => Action::ALL
            .into_iter()
            .filter(|action| action.shortcut().is_some())
            .map(Action::tip)
            .collect(),
        GuidePage::Task(task) => task.passages().iter().flat_map(|(head, text)| [*head, *text]).collect(),
        GuidePage::Layout(layout) => {
            let (words, guide) = (layout_words(layout), layout_guide(layout));
            vec![guide.what, words.good, words.costs, guide.look]
        }
        GuidePage::Quantity(quantity) => {
            let words = quantity_words(quantity);
            vec![words.what, words.good, words.moves, words.source]
        }
    }
}

#[test]
fn every_page_is_reached_from_the_list_and_says_what_it_has_to() {
    let mut window = guide(GuidePage::Start);
    for page in GuidePage::all() {
        open(&mut window, page);
        // A heading besides the entry of the list.
        assert!(window.query_all_by_label(page.title()).count() > 1, "{page:?}");
        let texts = texts(page);
        assert!(!texts.is_empty());
        for text in texts {
            assert!(!text.is_empty() && says(&window, text), "{page:?}: {text}");
        }
    }
}

#[test]
fn there_is_a_page_for_every_layout_and_every_strip_and_no_two_say_the_same() {
    let pages: Vec<_> = GuidePage::all().collect();
    for layout in Layout::ALL {
        assert!(pages.contains(&GuidePage::Layout(layout)));
    }
    for quantity in Quantity::ALL {
        assert!(pages.contains(&GuidePage::Quantity(quantity)));
    }
    for (place, page) in pages.iter().enumerate() {
        for other in &pages[place + 1..] {
            assert_ne!(page.title(), other.title());
            assert_ne!(texts(*page), texts(*other), "{page:?} and {other:?}");
        }
    }
}

#[test]
fn a_page_of_a_strip_or_a_tool_has_a_sketch_of_its_own() {
    let mut window = guide(GuidePage::Start);
    let mut seen: Vec<(GuidePage, String)> = Vec::new();
    let tools = [
        Task::Type,
        Task::Several,
        Task::Lock,
        Task::Holes,
        Task::Dimensions,
        Task::Between,
    ];
    let strips = Quantity::ALL.into_iter().map(GuidePage::Quantity);
    for page in strips.chain(tools.into_iter().map(GuidePage::Task)) {
        open(&mut window, page);
        let name = format!("Sketch: {}", page.title());
        let area = window.get_by_role_and_label(Role::Image, &name).rect();
        let is_inside = |clipped: &&egui::epaint::ClippedShape| area.contains_rect(clipped.clip_rect);
        let inside = window.output().shapes.iter().filter(is_inside);
        let shapes: Vec<_> = inside.map(|clipped| format!("{:?}", clipped.shape)).collect();
        assert!(shapes.len() > 5, "{page:?}: {shapes:?}");
        let drawn = shapes.concat();
        for (other, theirs) in &seen {
            assert_ne!(*theirs, drawn, "{page:?} and {other:?}");
        }
        seen.push((page, drawn));
    }
}

#[test]
fn a_layouts_page_shows_it_leads_on_and_hangs_it() {
    for layout in Layout::ALL {
        let mut window = guide(GuidePage::Layout(layout));
        assert!(window.query_by_label_contains("Picture: ").is_some());
        click(&mut window, Role::Button, "Hang my truck this way");
        let wanted = [Act::Do(Command::Apply(Change::Hang(layout))), Act::CloseDialog];
        assert_eq!(acts(&mut window), wanted);
        let strip = layout_guide(layout).strips[0];
        click(&mut window, Role::Button, &format!("Go to {}", strip.title()));
        assert!(says(&window, quantity_words(strip).what), "{layout:?}");
    }
}

#[test]
fn the_first_page_leads_to_the_tape_sheet_the_layouts_and_on() {
    let mut window = guide(GuidePage::default());
    assert!(window.query_by_label_contains("kills").is_some());
    for (button, action) in [
        ("Open the tape sheet", Action::TapeSheet),
        ("Choose for my truck", Action::Layouts),
    ] {
        click(&mut window, Role::Button, button);
        assert_eq!(acts(&mut window), [Act::CloseDialog, Act::Choose(action)]);
    }
    click(&mut window, Role::Button, "Go to Choosing a layout");
    assert!(says(&window, "Two questions"));
}

#[test]
fn the_keyboard_turns_the_pages() {
    let mut window = guide(GuidePage::Start);
    let title = GuidePage::Quantity(Quantity::RollCentre).title();
    for _ in 0..60 {
        if window.get_by_role_and_label(Role::Button, title).is_focused() {
            break;
        }
        key(&mut window, Key::Tab);
    }
    key(&mut window, Key::Enter);
    assert!(says(&window, quantity_words(Quantity::RollCentre).what));
}

#[test]
fn the_entry_with_the_keyboard_is_in_sight_in_a_small_window() {
    let mut page = GuidePage::Start;
    let high = 420.0;
    let mut window = window(bench(0), vec2(760.0, high), move |ui, bench| {
        page.show(ui, bench.setup(), &|_| false)
    });
    for _ in GuidePage::all() {
        key(&mut window, Key::Tab);
        window.run_steps(30);
        let entries = GuidePage::all().flat_map(|page| window.query_all_by_role_and_label(Role::Button, page.title()));
        for entry in entries.filter(egui_kittest::Node::is_focused) {
            let rect = entry.rect();
            assert!(rect.top() >= 0.0 && rect.bottom() <= high, "{rect:?}");
        }
    }
    settle(&mut window);
    assert!(painted(&window).iter().any(|text| text == "Three steps to begin with"));
}
