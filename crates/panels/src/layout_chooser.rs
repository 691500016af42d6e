//! Choosing how the axle hangs: a card for every layout, drawn on the user's own truck.

use std::sync::Arc;

use egui::text::{LayoutJob, TextFormat};
use egui::{FontId, Galley, Id, Pos2, Rect, Response, RichText, Sense, Stroke, StrokeKind, Ui, Vec2, pos2};
use rearend::layouts::Layout;
use rearend::setup::Setup;
use shop::{Bench, Change, Command};

use crate::actions::Act;
use crate::layout_picture::paint_layout;
use crate::layout_words::layout_words;
use crate::theme::{Inks, semi_bold};

/// Narrower, a picture would be hard to read.
const NARROWEST: f32 = 290.0;
const GAP: f32 = 10.0;
const MARGIN: f32 = 8.0;

/// Draws the cards over the whole of `ui`, which brings the heading and a way out. Choosing one hangs the axle that way and closes the dialog.
pub fn layout_chooser_ui(ui: &mut Ui, bench: &Bench) -> Vec<Act> {
    let mut acts = Vec::new();
    let now = bench.setup().layout_name();
    let told = format!(
        "It hangs on: {now}. Choosing another way puts new bars and mounts on this truck; everything else stays, and Undo takes it back."
    );
    ui.add(egui::Label::new(RichText::new(told).color(Inks::of(ui).soft)).wrap());
    egui::ScrollArea::vertical()
        .auto_shrink(false)
        .show(ui, |ui| acts.extend(cards(ui, bench)));
    acts
}

fn cards(ui: &mut Ui, bench: &Bench) -> Vec<Act> {
    let mut chosen = None;
    let (columns, wide) = columns(ui.available_width());
    for row in Layout::ALL.chunks(columns) {
        let faces: Vec<Face> = row.iter().map(|layout| Face::new(ui, *layout, wide)).collect();
        let high = faces.iter().map(Face::height).fold(0.0, f32::max);
        ui.horizontal(|ui| {
            ui.spacing_mut().item_spacing.x = GAP;
            for face in &faces {
                if card(ui, bench, face, Vec2::new(wide, high)).clicked() {
                    chosen = Some(face.layout);
                }
            }
        });
        ui.add_space(GAP - ui.spacing().item_spacing.y);
    }
    chosen
        .map(|layout| vec![Act::Do(Command::Apply(Change::Hang(layout))), Act::CloseDialog])
        .unwrap_or_default()
}

/// How many cards fit beside each other, and how wide each is.
fn columns(room: f32) -> (usize, f32) {
    let mut columns = 1_u8;
    let wide = |columns: u8| (room + GAP) / f32::from(columns) - GAP;
    while columns < 5 && wide(columns + 1) >= NARROWEST {
        columns += 1;
    }
    (usize::from(columns), wide(columns).max(1.0))
}

/// What stands on a card.
struct Face {
    layout: Layout,
    picture: Vec2,
    texts: [Arc<Galley>; 3],
}

impl Face {
    fn new(ui: &Ui, layout: Layout, wide: f32) -> Self {
        let inside = (wide - 2.0 * MARGIN).max(1.0);
        let words = layout_words(layout);
        Self {
            layout,
            picture: Vec2::new(inside, inside * 0.52),
            texts: [
                galley(ui, inside, layout.title(), 14.0, ""),
                galley(ui, inside, "Good: ", 12.5, words.good),
                galley(ui, inside, "Costs: ", 12.5, words.costs),
            ],
        }
    }

    fn height(&self) -> f32 {
        let texts: f32 = self.texts.iter().map(|g| g.size().y + 5.0).sum();
        2.0 * MARGIN + self.picture.y + texts
    }
}

/// A heading with its text behind it, wrapped.
fn galley(ui: &Ui, wide: f32, head: &str, size: f32, text: &str) -> Arc<Galley> {
    let ink = Inks::of(ui).ink;
    let mut job = LayoutJob::default();
    job.wrap.max_width = wide;
    job.append(head, 0.0, TextFormat::simple(FontId::new(size, semi_bold()), ink));
    job.append(text, 0.0, TextFormat::simple(FontId::proportional(size), ink));
    ui.fonts_mut(|fonts| fonts.layout_job(job))
}

fn card(ui: &mut Ui, bench: &Bench, face: &Face, size: Vec2) -> Response {
    let (place, _) = ui.allocate_exact_size(size, Sense::hover());
    let response = ui.interact(place, Id::new(("layout card", face.layout)), Sense::click());
    if response.gained_focus() {
        response.scroll_to_me(None);
    }
    if ui.is_rect_visible(place) {
        paint(ui, bench, face, place, &response);
    }
    let title = face.layout.title();
    response.widget_info(|| egui::WidgetInfo::labeled(egui::WidgetType::Button, true, title));
    let words = layout_words(face.layout);
    ui.ctx().accesskit_node_builder(response.id, |node| {
        node.set_description(format!("Good: {} Costs: {}", words.good, words.costs));
    });
    response
}

/// A truck, and the same hung another way. Kept from frame to frame while the truck stays the same: some ways try where their brackets fit.
fn hung(ui: &Ui, truck: &Setup, layout: Layout) -> Arc<(Setup, Setup)> {
    let id = Id::new(("hung", layout));
    let kept = ui.data(|data| data.get_temp::<Arc<(Setup, Setup)>>(id));
    if let Some(kept) = kept.filter(|kept| kept.0 == *truck) {
        return kept;
    }
    let made = Arc::new((truck.clone(), layout.hang(truck)));
    ui.data_mut(|data| data.insert_temp(id, made.clone()));
    made
}

fn paint(ui: &Ui, bench: &Bench, face: &Face, place: Rect, response: &Response) {
    let visuals = ui.visuals();
    let ground = if response.is_pointer_button_down_on() {
        visuals.widgets.active.weak_bg_fill
    } else if response.hovered() {
        visuals.widgets.hovered.weak_bg_fill
    } else {
        visuals.panel_fill
    };
    let edge = if response.has_focus() {
        Stroke::new(2.0, Inks::of(ui).now)
    } else {
        Stroke::new(1.0, Inks::of(ui).line)
    };
    ui.painter().rect(place, 6.0, ground, edge, StrokeKind::Inside);
    let mut at: Pos2 = place.left_top() + Vec2::splat(MARGIN);
    let kept = hung(ui, bench.setup(), face.layout);
    paint_layout(ui, Rect::from_min_size(at, face.picture), &kept.1);
    at.y += face.picture.y + 4.0;
    for galley in &face.texts {
        ui.painter().galley(pos2(at.x, at.y), galley.clone(), Inks::of(ui).ink);
        at.y += galley.size().y + 5.0;
    }
}
