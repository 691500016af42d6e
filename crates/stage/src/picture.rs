//! The picture: the stage rendered offscreen, in the running window or without one, with its caption below.

use std::path::PathBuf;
use std::sync::{Arc, Mutex, PoisonError};

use bevy::app::{PluginsState, TerminalCtrlCHandlerPlugin};
use bevy::asset::RenderAssetUsages;
use bevy::camera::{RenderTarget, Viewport};
use bevy::ecs::system::SystemParam;
use bevy::log::LogPlugin;
use bevy::prelude::*;
use bevy::render::pipelined_rendering::PipelinedRenderingPlugin;
use bevy::render::render_resource::{Extent3d, PipelineCache, TextureDimension, TextureFormat, TextureUsages};
use bevy::render::renderer::initialize_renderer;
use bevy::render::settings::{RenderCreation, WgpuSettings};
use bevy::render::view::screenshot::{Screenshot, ScreenshotCaptured};
use bevy::render::{ExtractSchedule, MainWorld, RenderApp, RenderPlugin};
use bevy::window::{ExitCondition, RequestRedraw};
use bevy::winit::WinitPlugin;
use image::RgbImage;
use nalgebra::Point3;
use thiserror::Error;

use crate::caption::{self, Caption};
use crate::light::{self, KeyLight, Quality};
use crate::montage;
pub use crate::montage::{fitted, tile};
use crate::scene::{Shown, StagePlugin, StageSystems, aim};
use crate::view::View;

/// Largest side of a picture, pixels.
pub const LARGEST: u32 = 4096;
/// Smallest side.
pub const SMALLEST: u32 = 320;

/// One look at a truck: a picture may be made of several.
#[derive(Clone, Debug)]
pub struct Shot {
    /// The truck, and where it stands.
    pub shown: Shown,
    /// Seen from where.
    pub view: View,
    /// What tells it from the others; empty where there are none.
    pub words: String,
    /// Lines drawn over it, world coordinates, with what they measure.
    pub measures: Vec<Measure>,
}

/// A dimension line.
#[derive(Clone, Debug, PartialEq)]
pub struct Measure {
    /// Its ends, world coordinates.
    pub ends: [Point3<f64>; 2],
    /// How far it is.
    pub words: String,
}

/// A picture to take.
#[derive(Clone, Debug)]
pub struct Request {
    /// The PNG file, where it is to be in one.
    pub path: Option<PathBuf>,
    /// Width and height of the whole picture, caption included.
    pub size: UVec2,
    /// What is seen; up to six, side by side.
    pub shots: Vec<Shot>,
    /// How much wider than high the truck is, as it is seen.
    pub shape: f64,
    /// What stands below it.
    pub caption: Caption,
}

/// A picture that was taken.
#[derive(Clone, Debug)]
pub struct Taken {
    /// The file that it is in, if it was to be in one.
    pub path: Option<PathBuf>,
    /// What it shows.
    pub pixels: RgbImage,
}

/// Why there is no picture.
#[derive(Debug, Error)]
pub enum PictureError {
    /// Nothing to render with.
    #[error(
        "no graphics adapter was found, and a picture needs one: install a graphics driver (on Debian or Ubuntu: mesa-vulkan-drivers). The commands travel and findings work without"
    )]
    NoAdapter,
    /// The renderer never answered.
    #[error("the graphics adapter did not deliver a picture; try a smaller size")]
    NoAnswer,
    /// The file cannot be written.
    #[error(transparent)]
    Disk(#[from] shop::disk::DiskError),
    /// The pixels cannot be encoded.
    #[error("the picture cannot be encoded: {0}")]
    Encode(#[from] image::ImageError),
}

/// Where pictures are taken: one at a time.
#[derive(Resource, Default)]
pub struct Darkroom {
    wanted: Option<Request>,
    work: Option<Exposure>,
    done: Option<Result<Taken, PictureError>>,
}

impl Darkroom {
    /// Asks for a picture; it replaces one that was asked for but not begun.
    pub fn take(&mut self, request: Request) {
        self.wanted = Some(request);
    }

    /// The outcome of the last picture, once.
    pub fn outcome(&mut self) -> Option<Result<Taken, PictureError>> {
        self.done.take()
    }

    /// True while a picture is being taken.
    #[must_use]
    pub fn is_busy(&self) -> bool {
        self.wanted.is_some() || self.work.is_some()
    }
}

/// A picture on its way.
struct Exposure {
    request: Request,
    /// The shots that are taken.
    taken: Vec<RgbImage>,
    /// What was shown before.
    before: Option<Shown>,
    camera: Entity,
    target: Handle<Image>,
    frames: u32,
    calm: u32,
    shot: bool,
    developed: Arc<Mutex<Option<Image>>>,
}

/// Frames with nothing left to compile before the shutter opens: assets of the first frame arrive in the second.
const CALM_FRAMES: u32 = 3;
/// Frames after which the adapter is given up.
const MOST_FRAMES: u32 = 600;

/// More looks at a truck than anybody puts into one picture.
const MOST_SHOTS: u32 = 6;

/// True when the renderer has nothing left to compile.
#[derive(Resource, Default)]
struct PipelinesReady(bool);

pub(crate) fn plugin(app: &mut App) {
    app.init_resource::<Darkroom>()
        .init_resource::<PipelinesReady>()
        // What it puts on the stage is built and posed in the same frame.
        .add_systems(Update, develop.before(StageSystems));
    if let Some(render) = app.get_sub_app_mut(RenderApp) {
        render.add_systems(
            ExtractSchedule,
            |mut main: ResMut<MainWorld>, cache: Res<PipelineCache>| {
                if let Some(mut ready) = main.get_resource_mut::<PipelinesReady>() {
                    ready.0 = cache.waiting_pipelines().next().is_none() && cache.pipelines().next().is_some();
                }
            },
        );
    }
}

/// What taking a picture needs of the world.
#[derive(SystemParam)]
struct Studio<'w, 's> {
    commands: Commands<'w, 's>,
    images: ResMut<'w, Assets<Image>>,
    cameras: Query<'w, 's, &'static mut Camera>,
    key_light: Query<'w, 's, &'static mut DirectionalLight, With<KeyLight>>,
    quality: Res<'w, Quality>,
    shown: Option<Res<'w, Shown>>,
}

/// Runs before bevy lays out shadow cascades for the frame's cameras and lights, which it expects to find when it renders them.
fn develop(
    mut room: ResMut<Darkroom>,
    mut studio: Studio,
    ready: Res<PipelinesReady>,
    mut redraw: MessageWriter<RequestRedraw>,
) {
    if !room.is_busy() {
        return;
    }
    redraw.write(RequestRedraw);
    let Some(mut work) = room.work.take() else {
        room.work = room.wanted.take().and_then(|request| {
            let before = studio.shown.as_deref().cloned();
            studio.expose(request, Vec::new(), before)
        });
        return;
    };
    match studio.advance(&mut work, ready.0) {
        None => room.work = Some(work),
        Some(outcome) => {
            studio.clear_up(&work);
            match outcome {
                Ok(pixels) => {
                    work.taken.push(pixels);
                    if work.taken.len() < work.request.shots.len() {
                        room.work = studio.expose(work.request, work.taken, work.before);
                    } else {
                        studio.put_back(&work);
                        room.done = Some(finish(&work.request, &work.taken));
                    }
                }
                Err(error) => {
                    studio.put_back(&work);
                    room.done = Some(Err(error));
                }
            }
        }
    }
}

impl Studio<'_, '_> {
    /// Sets up the next shot; `None` where there is none to take.
    fn expose(&mut self, request: Request, taken: Vec<RgbImage>, before: Option<Shown>) -> Option<Exposure> {
        let shot = request.shots.get(taken.len())?;
        if !self.shown.as_deref().is_some_and(|shown| shown.looks_like(&shot.shown)) {
            self.commands.insert_resource(shot.shown.clone());
        }
        // A picture has shadows, whatever the window is drawn with.
        self.light(Quality::High);
        let size = tile(request.size, request.shots.len(), request.shape);
        let target = self.images.add(blank(size));
        let (mut transform, mut projection) = (Transform::default(), Projection::default());
        aim(&shot.view, &mut transform, &mut projection);
        let camera = Camera {
            order: -1,
            viewport: Some(peephole()),
            ..default()
        };
        let camera = (
            light::camera_parts(&mut self.images),
            camera,
            RenderTarget::Image(target.clone().into()),
            Quality::High.msaa(),
            transform,
            projection,
        );
        Some(Exposure {
            camera: self.commands.spawn(camera).id(),
            request,
            taken,
            before,
            target,
            frames: 0,
            calm: 0,
            shot: false,
            developed: Arc::default(),
        })
    }

    /// Shows what was shown before, if that was something else.
    fn put_back(&mut self, work: &Exposure) {
        if let Some(before) = &work.before
            && !self.shown.as_deref().is_some_and(|shown| shown.looks_like(before))
        {
            self.commands.insert_resource(before.clone());
        }
    }

    /// One frame on; the outcome once there is one.
    fn advance(&mut self, work: &mut Exposure, ready: bool) -> Option<Result<RgbImage, PictureError>> {
        work.frames += 1;
        work.calm = if ready { work.calm + 1 } else { 0 };
        if let Ok(mut camera) = self.cameras.get_mut(work.camera) {
            if work.shot {
                // What it saw is on its way; seeing it again would cost seconds in software.
                camera.is_active = false;
            } else if work.calm >= CALM_FRAMES {
                // The projection follows the viewport in the next frame.
                camera.viewport = None;
            }
        }
        if !work.shot && work.calm > CALM_FRAMES {
            work.shot = true;
            self.shoot(work);
        }
        let developed = work.developed.lock().unwrap_or_else(PoisonError::into_inner).take();
        match developed {
            Some(image) => Some(pixels(image)),
            None => (work.frames > MOST_FRAMES).then_some(Err(PictureError::NoAnswer)),
        }
    }

    fn shoot(&mut self, work: &Exposure) {
        let into = Arc::clone(&work.developed);
        let screenshot = self.commands.spawn(Screenshot::image(work.target.clone())).id();
        self.commands
            .entity(screenshot)
            .observe(move |shot: On<ScreenshotCaptured>| {
                *into.lock().unwrap_or_else(PoisonError::into_inner) = Some(shot.image.clone());
            });
    }

    fn clear_up(&mut self, work: &Exposure) {
        self.commands.entity(work.camera).despawn();
        self.light(*self.quality);
    }

    fn light(&mut self, quality: Quality) {
        light::shadows(quality, &mut self.key_light, &mut self.commands);
    }
}

/// While shaders compile, a corner of the picture is enough to ask for them: the whole would cost seconds a frame in software.
fn peephole() -> Viewport {
    Viewport {
        physical_position: UVec2::ZERO,
        physical_size: UVec2::splat(64),
        ..default()
    }
}

fn blank(size: UVec2) -> Image {
    let extent = Extent3d {
        width: size.x,
        height: size.y,
        depth_or_array_layers: 1,
    };
    let mut image = Image::new_uninit(
        extent,
        TextureDimension::D2,
        TextureFormat::Rgba8UnormSrgb,
        RenderAssetUsages::RENDER_WORLD,
    );
    image.texture_descriptor.usage |= TextureUsages::RENDER_ATTACHMENT;
    image
}

fn pixels(image: Image) -> Result<RgbImage, PictureError> {
    let image = image.try_into_dynamic().map_err(|_| PictureError::NoAnswer)?;
    Ok(image.to_rgb8())
}

fn finish(request: &Request, shots: &[RgbImage]) -> Result<Taken, PictureError> {
    let above = montage::side_by_side(request, shots);
    let pixels = caption::below(&above, request.size.y, &request.caption);
    if let Some(path) = &request.path {
        let mut png = std::io::Cursor::new(Vec::new());
        RgbImage::write_to(&pixels, &mut png, image::ImageFormat::Png)?;
        shop::disk::write(path, &png.into_inner())?;
    }
    Ok(Taken {
        path: request.path.clone(),
        pixels,
    })
}

/// The renderer, or `None` where there is no adapter. Asking first turns bevy's panic into a sentence.
#[must_use]
pub fn renderer() -> Option<RenderCreation> {
    let settings = WgpuSettings::default();
    let backends = settings.backends?;
    let hook = std::panic::take_hook();
    std::panic::set_hook(Box::new(|_| {}));
    let ask = || bevy::tasks::block_on(initialize_renderer(backends, None, &settings));
    let found = std::panic::catch_unwind(std::panic::AssertUnwindSafe(ask));
    std::panic::set_hook(hook);
    found.ok().map(RenderCreation::Manual)
}

/// Takes a picture without a window.
///
/// # Errors
/// Without an adapter, or when the file cannot be written.
pub fn take(request: Request) -> Result<Taken, PictureError> {
    let render_creation = renderer().ok_or(PictureError::NoAdapter)?;
    let mut app = App::new();
    app.add_plugins(
        DefaultPlugins
            .set(WindowPlugin {
                primary_window: None,
                exit_condition: ExitCondition::DontExit,
                ..default()
            })
            .set(RenderPlugin {
                render_creation,
                synchronous_pipeline_compilation: true,
                ..default()
            })
            .disable::<WinitPlugin>()
            .disable::<PipelinedRenderingPlugin>()
            .disable::<TerminalCtrlCHandlerPlugin>()
            .disable::<LogPlugin>(),
    )
    .add_plugins(StagePlugin)
    .insert_resource(Quality::High);
    if let Some(shot) = request.shots.first() {
        app.insert_resource(shot.shown.clone());
    }
    while app.plugins_state() == PluginsState::Adding {
        bevy::tasks::tick_global_task_pools_on_main_thread();
    }
    app.finish();
    app.cleanup();
    app.world_mut().resource_mut::<Darkroom>().take(request);
    for _ in 0..=2 * MOST_FRAMES * MOST_SHOTS {
        app.update();
        if let Some(outcome) = app.world_mut().resource_mut::<Darkroom>().outcome() {
            return outcome;
        }
        // Shaders load on a thread of their own.
        std::thread::sleep(std::time::Duration::from_millis(2));
    }
    Err(PictureError::NoAnswer)
}
