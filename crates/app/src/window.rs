//! The window: bevy, the panels' layout, and the stage in the middle.

use std::path::PathBuf;
use std::process::ExitCode;
use std::time::Duration;

use bevy::log::{Level, LogPlugin};
use bevy::prelude::*;
use bevy::render::RenderPlugin;
use bevy::render::renderer::RenderAdapterInfo;
use bevy::render::settings::RenderCreation;
use bevy::window::{PrimaryWindow, WindowCloseRequested, WindowResizeConstraints, WindowResolution};
use bevy::winit::{EventLoopProxyWrapper, UpdateMode, WinitSettings, WinitUserEvent};
use panels::Act;
use rearend::clearance::Progress;
use shop::Bench;
use stage::picture::{self, Darkroom};
use stage::scene::{aim, spawn_camera};
use stage::{Quality, Shown, StageCamera, StagePlugin};

use crate::desk::Desk;
use crate::egui_host::{self, Host, Redraw};
use crate::file_dialog::Picked;
use crate::keeping::Keeping;
use crate::picture_clipboard::PictureClipboard;
use crate::trace::{self, Trace};
use crate::{areas, errands, stage_area};

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
    let mut app = App::new();
    if !quietly(|| {
        app.add_plugins(plugins(render_creation));
    }) {
        return Err(
            "the display that DISPLAY or WAYLAND_DISPLAY names does not answer, so no window can open; the commands travel, findings \
             and picture work without one"
                .to_owned(),
        );
    }
    app.insert_resource(Desk::new(bench, Keeping::begin()));
    add_systems(&mut app);
    if let Some(path) = trace {
        app.insert_resource(Trace::to(&path)?).add_systems(Last, trace::write);
    }
    Ok(if app.run().is_success() {
        ExitCode::SUCCESS
    } else {
        ExitCode::FAILURE
    })
}

fn plugins(render_creation: RenderCreation) -> impl PluginGroup {
    DefaultPlugins
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
        })
}

fn add_systems(app: &mut App) {
    // Nothing to draw until something happens. Long, but finite: winit spins on an endless wait that follows a finite one.
    let calm = UpdateMode::reactive_low_power(Duration::from_hours(1));
    app.insert_resource(WinitSettings {
        focused_mode: calm,
        unfocused_mode: calm,
    })
    .add_plugins((StagePlugin, egui_host::plugin))
    .init_resource::<Picked>()
    .init_non_send::<PictureClipboard>()
    .add_systems(PreStartup, choose_quality)
    .add_systems(Startup, spawn_camera)
    .add_systems(PreUpdate, (listen, move_on, survey).chain())
    .add_systems(
        Update,
        (dress, draw, errands::run, keep, show)
            .chain()
            .before(stage::scene::StageSystems),
    )
    .add_systems(Last, title);
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
    mut clipboard: NonSendMut<PictureClipboard>,
    mut redraw: ResMut<Redraw>,
) {
    if closing.read().count() > 0 {
        desk.closing();
        redraw.0 = 3;
    }
    if desk.bypass_change_detection().attend_making() {
        redraw.0 = 3;
    }
    while let Some((purpose, path)) = picked.next() {
        desk.act(Act::Path(purpose, path));
        redraw.0 = 3;
    }
    if darkroom.is_changed()
        && let Some(outcome) = darkroom.outcome()
    {
        let outcome = outcome.map_err(|error| error.to_string());
        desk.told_picture(outcome.and_then(|taken| match taken.path {
            Some(path) => Ok(Some(path)),
            None => clipboard.put(&taken.pixels).map(|()| None),
        }));
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
        errands::put_on(&mut host, desk.look());
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
        // A box that loses the keyboard before it is drawn enters what was typed into it.
        if !desk.put_off.is_empty() {
            ui.ctx().memory_mut(egui::Memory::stop_text_input);
        }
        acts.extend(areas::panels_ui(ui, desk, *quality));
        pane = ui.available_rect_before_wrap();
        did |= stage_area::stage_ui(ui, desk, pane, &mut acts);
        if desk.dialog.is_none() {
            acts.extend(panels::shortcuts(ui.ctx()));
        }
    });
    let Some((ctx, new_glyphs)) = ctx else { return };
    // What was put off comes after what was typed.
    acts.extend(std::mem::take(&mut desk.put_off));
    if ctx.text_edit_focused() && acts.iter().any(Desk::waits_for_typing) {
        let (later, now) = acts.into_iter().partition(Desk::waits_for_typing);
        (desk.put_off, acts) = (later, now);
        did = true;
    }
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
