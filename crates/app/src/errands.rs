//! What only bevy can do for the desk.

use bevy::prelude::*;
use bevy::winit::EventLoopProxyWrapper;
use stage::Quality;
use stage::caption::Caption;
use stage::picture::{Darkroom, Request};

use crate::desk::{Desk, Errand};
use crate::egui_host::Host;
use crate::file_dialog::Picked;
use crate::look::Look;

/// Size of pictures saved from the window, pixels.
const PICTURE: UVec2 = UVec2::new(1920, 1360);

pub fn run(
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
                let solved = desk.bench.document().answers().solved.is_ok();
                let Some(row) = desk.bench.shown().filter(|_| solved) else {
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

pub fn put_on(host: &mut Host, look: Look) {
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
