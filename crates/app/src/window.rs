//! The window: bevy, the panels' layout, and the stage in the middle.

use std::path::PathBuf;
use std::process::ExitCode;
use std::time::Duration;

use bevy::log::{Level, LogPlugin};
use bevy::prelude::*;
use bevy::render::RenderPlugin;
use bevy::render::renderer::RenderAdapterInfo;
use bevy::window::{PrimaryWindow, WindowCloseRequested, WindowResizeConstraints, WindowResolution};
use bevy::winit::{EventLoopProxyWrapper, UpdateMode, WinitSettings, WinitUserEvent};
use panels::{Act, Action, MenuView};
use rearend::clearance::Progress;
use shop::Bench;
use stage::caption::Caption;
use stage::picture::{self, Darkroom, Request};
use stage::scene::{aim, spawn_camera};
use stage::{Quality, Shown, StageCamera, StagePlugin};

use crate::desk::{Beside, Card, Desk, Errand};
use crate::egui_host::{self, Host, Redraw};
use crate::file_dialog::Picked;
use crate::keeping::Keeping;
use crate::look::Look;
use crate::stage_pane::overlay;
use crate::trace::{self, Trace};
use crate::{marks, measuring};

/// Size of pictures saved from the window, pixels.
const PICTURE: UVec2 = UVec2::new(1920, 1360);

const HINT: &str = "Drag a mount   ·   drag the ride post down to lay it out   ·   Ctrl+P saves a picture";

const HINT_MEASURING: &str =
    "Click what to measure from, then what to; from behind, the side or above any place will do   ·   D ends measuring";

/// Opens the window and stays until it closes. The error is a sentence for the user.
pub fn open(bench: Bench, trace: Option<PathBuf>) -> Result<ExitCode, String> {
    let set = |name: &str| std::env::var_os(name).is_some_and(|v| !v.is_empty());
    if !["WAYLAND_DISPLAY", "WAYLAND_SOCKET", "DISPLAY"].into_iter().any(set) {
        return Err(
            "no display was found, so no window can open; the commands travel, findings and picture work without one"
                .to_owned(),
        );
    }
    let render_creation = picture::renderer().ok_or(
        "no graphics adapter was found, so no window can open: install a graphics driver (on Debian or Ubuntu: mesa-vulkan-drivers); \
         the commands travel and findings work without one",
    )?;
    // Nothing to draw until something happens. Long, but finite: winit spins on an endless wait that follows a finite one.
    let calm = UpdateMode::reactive_low_power(Duration::from_hours(1));
    let mut app = App::new();
    let plugins = DefaultPlugins
        .set(WindowPlugin {
            primary_window: Some(main_window()),
            close_when_requested: false,
            ..default()
        })
        .set(LogPlugin {
            level: Level::ERROR,
            filter: "wgpu=off,naga=off,bevy_egui=error".into(),
            ..default()
        })
        .set(RenderPlugin {
            render_creation,
            synchronous_pipeline_compilation: true,
            ..default()
        });
    if !quietly(|| {
        app.add_plugins(plugins);
    }) {
        return Err(
            "the display that DISPLAY or WAYLAND_DISPLAY names does not answer, so no window can open; the commands travel, findings \
             and picture work without one"
                .to_owned(),
        );
    }
    app.insert_resource(WinitSettings {
        focused_mode: calm,
        unfocused_mode: calm,
    })
    .add_plugins((StagePlugin, egui_host::plugin))
    .insert_resource(Desk::new(bench, Keeping::begin()))
    .init_resource::<Picked>()
    .add_systems(PreStartup, choose_quality)
    .add_systems(Startup, spawn_camera)
    .add_systems(PreUpdate, (listen, move_on, survey).chain())
    .add_systems(
        Update,
        (dress, draw, do_errands, keep, show)
            .chain()
            .before(stage::scene::StageSystems),
    )
    .add_systems(Last, title);
    if let Some(path) = trace {
        app.insert_resource(Trace::to(&path)?).add_systems(Last, trace::write);
    }
    Ok(if app.run().is_success() {
        ExitCode::SUCCESS
    } else {
        ExitCode::FAILURE
    })
}

/// Runs something that panics where the window system cannot be reached, which the library it lives in knows no other way to say. False
/// where it did; nothing is printed then.
fn quietly(run: impl FnOnce()) -> bool {
    let told = std::panic::take_hook();
    std::panic::set_hook(Box::new(|_| ()));
    let outcome = std::panic::catch_unwind(std::panic::AssertUnwindSafe(run));
    std::panic::set_hook(told);
    outcome.is_ok()
}

fn main_window() -> Window {
    Window {
        title: "Axlewright".into(),
        name: Some("axlewright".into()),
        resolution: WindowResolution::new(1280, 800),
        resize_constraints: WindowResizeConstraints {
            min_width: 960.0,
            min_height: 600.0,
            ..default()
        },
        ..default()
    }
}

fn choose_quality(adapter: Res<RenderAdapterInfo>, mut quality: ResMut<Quality>) {
    *quality = Quality::for_adapter(&format!("{:?}", adapter.device_type));
}

/// Answers from outside: the window's close button, file dialogs, pictures.
fn listen(
    mut desk: ResMut<Desk>,
    mut closing: MessageReader<WindowCloseRequested>,
    picked: Res<Picked>,
    mut darkroom: ResMut<Darkroom>,
    mut redraw: ResMut<Redraw>,
) {
    if closing.read().count() > 0 {
        desk.closing();
        redraw.0 = 3;
    }
    while let Some((purpose, path)) = picked.next() {
        desk.act(Act::Path(purpose, path));
        redraw.0 = 3;
    }
    if darkroom.is_changed()
        && let Some(outcome) = darkroom.outcome()
    {
        desk.told_picture(outcome.map_err(|e| e.to_string()));
        redraw.0 = 3;
    }
}

/// What moves by itself.
fn move_on(mut desk: ResMut<Desk>, time: Res<Time<Real>>, mut redraw: ResMut<Redraw>) {
    let desk = desk.bypass_change_detection();
    // After an idle hour the first step is not an hour long; on a slow adapter a glide takes one frame or two.
    let seconds = time.delta_secs_f64().min(0.5);
    if desk.play(seconds.min(0.1)) | desk.stage.glide(seconds) | desk.swim(seconds.min(0.3)) {
        redraw.0 = 2;
    }
}

/// The clearance survey goes on beside the window, and wakes it for what it has to tell.
fn survey(
    mut desk: ResMut<Desk>,
    proxy: Option<Res<EventLoopProxyWrapper>>,
    mut told: Local<(Option<Progress>, bool)>,
    mut redraw: ResMut<Redraw>,
) {
    let Desk { bench, surveyor, .. } = desk.bypass_change_detection();
    let proxy = proxy.map(|p| (**p).clone());
    surveyor.attend(bench, move || {
        if let Some(proxy) = &proxy {
            let _ = proxy.send_event(WinitUserEvent::WakeUp);
        }
    });
    let now = (surveyor.progress(), bench.surveyed().is_some());
    if *told != now {
        *told = now;
        redraw.0 = redraw.0.max(2);
    }
}

/// Fonts have to be there before the first word is drawn.
fn dress(mut host: Host, desk: Res<Desk>, mut frame: Local<u32>) {
    if *frame == 1 {
        put_on(&mut host, desk.look());
    }
    let Ok((mut context, _, _)) = host.single_mut() else {
        return;
    };
    match *frame {
        0 => panels::theme::dress(context.get_mut()),
        // The fonts are in force, and the scale of the screen is known.
        2 => panels::theme::warm(context.get_mut()),
        _ => {}
    }
    *frame = frame.saturating_add(1);
}

fn draw(
    mut host: Host,
    mut desk: ResMut<Desk>,
    mut camera: Single<(&mut Camera, &mut Transform, &mut Projection), With<StageCamera>>,
    quality: Res<Quality>,
    mut redraw: ResMut<Redraw>,
) {
    let desk = desk.bypass_change_detection();
    let mut acts = Vec::new();
    let mut pane = egui::Rect::NOTHING;
    let mut did = false;
    let ctx = egui_host::run(&mut host, |ui| {
        acts.extend(panels_ui(ui, desk, *quality));
        pane = ui.available_rect_before_wrap();
        did |= stage_ui(ui, desk, pane, &mut acts);
        if desk.dialog.is_none() {
            acts.extend(panels::shortcuts(ui.ctx()));
        }
    });
    let Some((ctx, new_glyphs)) = ctx else { return };
    // The pointer that rests on a finding lights its part once.
    acts.retain(|act| !matches!(act, Act::Light(lit) if *lit == desk.lit()));
    // What egui uploads is there one frame later.
    did |= new_glyphs || !acts.is_empty();
    for act in acts {
        desk.act(act);
    }
    if did {
        redraw.0 = redraw.0.max(3);
    }
    let (camera, transform, projection) = &mut *camera;
    if let Some(viewport) = egui_host::viewport(pane, ctx.pixels_per_point()) {
        camera.viewport = Some(viewport);
    }
    aim(&desk.stage.view, transform, projection);
}

/// Room for the tape sheet and the strips beside the stage, points.
const WIDE: f32 = 1500.0;

fn panels_ui(ui: &mut egui::Ui, desk: &mut Desk, quality: Quality) -> Vec<Act> {
    let mut acts = Vec::new();
    let place = Quality::ALL.iter().position(|q| *q == quality).unwrap_or(0);
    let names = Quality::ALL.map(Quality::label);
    let is_on = |action: Action| desk.is_on(action);
    let view = MenuView {
        is_on: &is_on,
        qualities: &names,
        quality: place,
        recent: &desk.recent(),
    };
    egui::Panel::top("menu").show(ui, |ui| acts.extend(panels::menu_ui(ui, &desk.bench, &view)));
    egui::Panel::bottom("findings")
        .resizable(true)
        .default_size(158.0)
        .size_range(70.0..=360.0)
        .show(ui, |ui| {
            acts.extend(panels::findings_ui(ui, &desk.bench, desk.surveyor.progress()));
        });
    egui::Panel::left("ride post")
        .resizable(false)
        .exact_size(136.0)
        .show(ui, |ui| {
            acts.extend(panels::ride_post_ui(ui, &desk.bench, desk.playing.is_some()));
        });
    if let Some(beside) = desk.beside {
        egui::Panel::left("tape sheet")
            .resizable(true)
            .default_size(430.0)
            .size_range(400.0..=560.0)
            .show(ui, |ui| {
                acts.extend(match beside {
                    Beside::TapeSheet => panels::tape_sheet_ui(ui, &desk.bench),
                    Beside::Parts => panels::parts_drawer_ui(ui, &desk.bench),
                });
            });
    }
    // With something on both sides too little of the stage would be left.
    if desk.beside.is_none() || ui.ctx().content_rect().width() >= WIDE {
        egui::Panel::right("strips")
            .resizable(true)
            .default_size(352.0)
            .size_range(270.0..=640.0)
            .show(ui, |ui| {
                acts.extend(panels::strips_ui(ui, &desk.bench, &desk.strips));
            });
    }
    acts
}

/// The stage's overlay, the cards that float on it, and dialogs; true if the pointer did something.
fn stage_ui(ui: &mut egui::Ui, desk: &mut Desk, pane: egui::Rect, acts: &mut Vec<Act>) -> bool {
    desk.stage.place(pane, desk.bench.setup());
    let row = desk.shown_row();
    let mut did = Vec::new();
    if let Some(row) = row {
        let handles = desk.stage.handles(&desk.bench, &row);
        let (path, path_words) = if desk.see.path {
            desk.stage.path(&desk.bench, &row)
        } else {
            (Vec::new(), String::new())
        };
        let view = [desk.stage.view_words(), path_words].join("\n");
        let hint = if desk.measuring.is_some() { HINT_MEASURING } else { HINT };
        let words = [hint, view.trim_end()];
        let mut marks = if desk.see.centres {
            marks::marks(&desk.stage, &desk.bench, &row)
        } else {
            Vec::new()
        };
        let near = desk.lit().near;
        marks.extend(near.and_then(|near| marks::tight_place(&desk.stage, &desk.bench, &row, &near)));
        let spots = desk.measuring.as_ref().map(|m| m.spots(&desk.stage, &desk.bench, &row));
        if let Some(measuring) = &desk.measuring {
            marks.extend(measuring.mark(&desk.stage, &desk.bench, &row));
        } else if desk.see.dimensions {
            marks.extend(measuring::dimensions(&desk.stage, &desk.bench, &row));
        }
        let with: Vec<_> = desk.bench.selection().all().collect();
        let over = overlay(
            &desk.stage,
            &desk.bench,
            &handles,
            &path,
            &marks,
            spots.as_deref(),
            &with,
            words,
        );
        let mut stage = ui.new_child(egui::UiBuilder::new().max_rect(pane).id_salt("stage"));
        stage.set_clip_rect(pane);
        did = panels::stage_overlay_ui(&mut stage, pane, &over);
    }
    cards(ui, desk, pane, acts);
    if let Some(mut dialog) = desk.dialog.take() {
        acts.extend(panels::dialog_ui(ui.ctx(), &desk.bench, &mut dialog));
        desk.dialog = Some(dialog);
    }
    let any = !did.is_empty();
    if did
        .iter()
        .any(|act| matches!(act, panels::StageAct::Grab(..) | panels::StageAct::Nudge(_)))
    {
        // Whoever takes hold of something takes hold of the axle as the bars have it.
        desk.swimming = None;
    }
    for act in did {
        match (act, &mut desk.measuring, row) {
            (panels::StageAct::Measure(at), Some(measuring), Some(row)) => {
                measuring.pick(at, &desk.stage, &desk.bench, &row);
            }
            (act, ..) => desk.stage.act(act, &mut desk.bench),
        }
    }
    any
}

fn cards(ui: &egui::Ui, desk: &mut Desk, pane: egui::Rect, acts: &mut Vec<Act>) {
    let card = |title: &str, at: egui::Pos2, pivot: egui::Align2| {
        egui::Window::new(title.to_owned())
            // Where another stage begins, so does another place for the card.
            .id(egui::Id::new((title, pane.left().to_bits(), pane.right().to_bits())))
            .title_bar(false)
            .resizable(false)
            .default_width(250.0)
            .max_width(270.0)
            .constrain_to(pane)
            .pivot(pivot)
            .default_pos(at)
    };
    if desk.bench.selected().is_some() && desk.stage.dragged().is_none() {
        let at = pane.right_top() + egui::vec2(-10.0, 10.0);
        card("mount", at, egui::Align2::RIGHT_TOP)
            .show(ui.ctx(), |ui| acts.extend(panels::mount_card_ui(ui, &desk.bench)));
    }
    let Some(open) = desk.card else { return };
    let (name, wide) = match open {
        Card::Truck => ("truck", 270.0),
        Card::AsBuilt => ("as built", 480.0),
    };
    let at = pane.left_top() + egui::vec2(10.0, 46.0);
    let mut closed = false;
    let shown = card(name, at, egui::Align2::LEFT_TOP)
        .default_width(wide)
        .max_width(wide);
    shown.show(ui.ctx(), |ui| {
        match open {
            Card::Truck => acts.extend(panels::truck_card_ui(ui, &desk.bench)),
            Card::AsBuilt => panels::built_card_ui(ui, &desk.bench),
        }
        closed = ui.button("Close").clicked();
    });
    if closed {
        desk.card = None;
    }
}

fn do_errands(
    mut desk: ResMut<Desk>,
    mut host: Host,
    mut exit: MessageWriter<AppExit>,
    picked: Res<Picked>,
    proxy: Option<Res<EventLoopProxyWrapper>>,
    mut darkroom: ResMut<Darkroom>,
    mut quality: ResMut<Quality>,
) {
    let desk = desk.bypass_change_detection();
    for errand in std::mem::take(&mut desk.errands) {
        match errand {
            Errand::Quit => {
                desk.leave();
                exit.write(AppExit::Success);
            }
            Errand::Browse(purpose) => picked.ask(purpose, proxy.as_deref()),
            Errand::Quality(wanted) => *quality = wanted,
            Errand::Look(look) => {
                desk.keep_look(look);
                put_on(&mut host, look);
            }
            Errand::Picture(path) => {
                let Some(row) = desk.bench.shown() else {
                    desk.told_picture(Err("nothing of this setup is solved; see the findings".to_owned()));
                    continue;
                };
                let (setup, answers) = (desk.bench.setup(), desk.bench.document().answers());
                let caption = Caption::of(setup, answers, &row, desk.bench.units());
                darkroom.take(Request {
                    path,
                    size: PICTURE,
                    view: desk.stage.view,
                    caption,
                });
            }
        }
    }
}

fn put_on(host: &mut Host, look: Look) {
    if let Ok((mut context, ..)) = host.single_mut() {
        let ctx = context.get_mut();
        ctx.set_theme(if look.light {
            egui::Theme::Light
        } else {
            egui::Theme::Dark
        });
        ctx.set_zoom_factor(look.scale);
        ctx.request_repaint();
    }
}

/// What the stage was last told.
#[derive(PartialEq)]
struct Told {
    revision: u64,
    name: String,
    stand: shop::Stand,
    lit: rearend::findings::Lit,
    see: crate::desk::See,
    swimming: Option<f64>,
    faint_wheels: bool,
}

/// Tells the stage what to show, when anything of it has changed.
fn show(desk: Res<Desk>, mut told: Local<Option<Told>>, mut commands: Commands) {
    let now = Told {
        revision: desk.bench.document().revision(),
        name: desk.bench.setup().name.clone(),
        stand: desk.bench.stand(),
        lit: desk.lit(),
        see: desk.see,
        swimming: desk.swimming,
        faint_wheels: desk.hides_wheels(),
    };
    if told.as_ref() == Some(&now) {
        return;
    }
    if let Some(mut shown) = Shown::of(&desk.bench) {
        shown.lit = desk.lit().solids;
        shown.wheels = desk.see.wheels;
        shown.body = desk.see.body;
        shown.faint_wheels = desk.hides_wheels();
        if let Some(row) = desk.swimming.and_then(|_| desk.shown_row()) {
            shown.row = row;
        }
        if !desk.see.ghosts {
            shown.ghosts = [None; 2];
        }
        commands.insert_resource(shown);
    }
    *told = Some(now);
}

/// At the end of every frame: what is finished then outlives the program.
fn keep(mut desk: ResMut<Desk>, mut redraw: ResMut<Redraw>) {
    if desk.bypass_change_detection().keep() {
        redraw.0 = redraw.0.max(2);
    }
}

fn title(desk: Res<Desk>, mut window: Single<&mut Window, With<PrimaryWindow>>) {
    let star = if desk.bench.document().is_unsaved() { "*" } else { "" };
    let title = format!("{star}{} – Axlewright", desk.bench.setup().name);
    if window.title != title {
        window.title = title;
    }
}
