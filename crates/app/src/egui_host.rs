//! egui in bevy's window: its camera, its input, the part of the window it leaves to the stage.

use bevy::camera::visibility::RenderLayers;
use bevy::camera::{CameraOutputMode, Viewport};
use bevy::input::keyboard::Key;
use bevy::platform::time::Instant;
use bevy::prelude::*;
use bevy::render::render_resource::BlendState;
use bevy::time::{TimeSystems, TimeUpdateStrategy};
use bevy::window::{RequestRedraw, WindowEvent};
use bevy_egui::{
    EguiContext, EguiContextSettings, EguiFullOutput, EguiGlobalSettings, EguiInput, EguiPlugin, EguiPreUpdateSet,
    PrimaryEguiContext,
};

/// Frames still to draw although nothing happens: egui settles its layout in the second, pictures and glides need more.
#[derive(Resource, Default)]
pub struct Redraw(pub u8);

pub fn plugin(app: &mut App) {
    app.insert_resource(EguiGlobalSettings {
        auto_create_primary_context: false,
        ..default()
    })
    .add_plugins(EguiPlugin {
        bindless_mode_array_size: None,
    })
    .init_resource::<Redraw>()
    .add_systems(First, keep_time.before(TimeSystems))
    .add_systems(Startup, spawn_camera)
    .add_systems(
        PreUpdate,
        (drop_stale_modifiers, right_modifiers)
            .chain()
            .after(EguiPreUpdateSet::ProcessInput)
            .before(EguiPreUpdateSet::BeginPass),
    )
    .add_systems(Last, redraw);
}

/// Bevy's clock is one frame old after an idle hour, and egui would take a click for a long press.
fn keep_time(mut strategy: ResMut<TimeUpdateStrategy>) {
    *strategy = TimeUpdateStrategy::ManualInstant(Instant::now());
}

/// bevy_egui tells egui of the modifiers every frame, and egui repaints on any event: an idle window would never idle.
fn drop_stale_modifiers(mut contexts: Query<(&mut EguiContext, &mut EguiInput)>) {
    for (mut context, mut input) in &mut contexts {
        let known = context.get_mut().input(|i| i.modifiers);
        input
            .events
            .retain(|e| !matches!(e, egui::Event::ModifiersChanged(m) if *m == known));
    }
}

/// bevy_egui gives every key and button of a frame the modifiers that were held at its end: in a slow frame a quick Ctrl+O would be an O.
/// This gives each those that were held when it was struck.
fn right_modifiers(
    mut happened: MessageReader<WindowEvent>,
    mut held: Local<egui::Modifiers>,
    mut inputs: Query<&mut EguiInput>,
) {
    let (mut at_each_key, mut at_each_button) = (Vec::new(), Vec::new());
    for event in happened.read() {
        match event {
            WindowEvent::KeyboardInput(struck) => {
                let down = struck.state.is_pressed();
                match struck.logical_key {
                    Key::Control => (held.ctrl, held.command) = (down, down),
                    Key::Shift => held.shift = down,
                    Key::Alt => held.alt = down,
                    _ => at_each_key.push(*held),
                }
            }
            WindowEvent::MouseButtonInput(_) => at_each_button.push(*held),
            _ => {}
        }
    }
    for mut input in &mut inputs {
        set(&mut input.events, &at_each_key, |event| match event {
            egui::Event::Key { modifiers, .. } => Some(modifiers),
            _ => None,
        });
        set(&mut input.events, &at_each_button, |event| match event {
            egui::Event::PointerButton { modifiers, .. } => Some(modifiers),
            _ => None,
        });
    }
}

/// Gives the events of one sort their modifiers; as many as there are events, or none.
fn set(
    events: &mut [egui::Event],
    right: &[egui::Modifiers],
    of: impl Fn(&mut egui::Event) -> Option<&mut egui::Modifiers>,
) {
    if events.iter_mut().filter_map(&of).count() != right.len() {
        return;
    }
    for (modifiers, right) in events.iter_mut().filter_map(&of).zip(right) {
        *modifiers = *right;
    }
}

fn spawn_camera(mut commands: Commands) {
    commands.spawn((
        PrimaryEguiContext,
        EguiContextSettings {
            run_manually: true,
            ..default()
        },
        Camera2d,
        Msaa::Off,
        RenderLayers::none(),
        Camera {
            order: 1,
            clear_color: ClearColorConfig::Custom(Color::NONE),
            output_mode: CameraOutputMode::Write {
                blend_state: Some(BlendState::PREMULTIPLIED_ALPHA_BLENDING),
                clear_color: ClearColorConfig::None,
            },
            ..default()
        },
    ));
}

fn redraw(mut left: ResMut<Redraw>, mut out: MessageWriter<RequestRedraw>) {
    if left.0 > 0 {
        left.0 -= 1;
        out.write(RequestRedraw);
    }
}

/// The query that runs egui.
pub type Host<'w, 's> = Query<
    'w,
    's,
    (
        &'static mut EguiContext,
        &'static mut EguiInput,
        &'static mut EguiFullOutput,
    ),
    With<PrimaryEguiContext>,
>;

/// Runs one egui pass; `None` before the window is there. Says too whether egui has glyphs or images to upload.
pub fn run(host: &mut Host, mut draw: impl FnMut(&mut egui::Ui)) -> Option<(egui::Context, bool)> {
    let (mut context, mut input, mut output) = host.single_mut().ok()?;
    let ctx = context.get_mut().clone();
    let full = ctx.run_ui(input.take(), |ui| draw(ui));
    let uploads = !full.textures_delta.is_empty();
    **output = Some(full);
    Some((ctx, uploads))
}

/// A part of the window, given in egui's points, as a camera's viewport.
pub fn viewport(part: egui::Rect, pixels_per_point: f32) -> Option<Viewport> {
    if !part.is_positive() {
        return None;
    }
    let pixels = |p: egui::Pos2| (Vec2::new(p.x, p.y) * pixels_per_point).round().as_uvec2();
    let (min, max) = (pixels(part.min), pixels(part.max));
    let physical_size = max.saturating_sub(min).max(UVec2::ONE);
    Some(Viewport {
        physical_position: min,
        physical_size,
        ..default()
    })
}
