//! What only bevy can do for the desk.

use bevy::prelude::*;
use bevy::winit::{EventLoopProxyWrapper, WinitUserEvent};
use stage::Quality;
use stage::picture::Darkroom;

use crate::desk::{Desk, Errand};
use crate::egui_host::Host;
use crate::file_dialog::Picked;
use crate::look::Look;
use crate::making::Making;

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
            Errand::Make(order) => {
                let proxy = proxy.as_ref().map(|proxy| (***proxy).clone());
                desk.making = Some(Making::begin(*order, move || {
                    if let Some(proxy) = &proxy {
                        let _ = proxy.send_event(WinitUserEvent::WakeUp);
                    }
                }));
            }
            Errand::Picture(of, path) => match desk.request(of, path, PICTURE) {
                Ok(request) => darkroom.take(request),
                Err(sentence) => desk.told_picture(Err(sentence)),
            },
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
