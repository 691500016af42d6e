//! A page for every way to hang an axle.

use std::sync::LazyLock;

use egui::{Ui, Vec2};
use rearend::layouts::Layout;
use rearend::setup::{Role, Setup};
use shop::{Change, Command, demo};

use super::{GuidePage, link, paragraph, passage};
use crate::actions::Act;
use crate::layout_picture::{layout_picture, paint_piece, role_ink};
use crate::layout_words::layout_words;
use crate::quantity::Quantity;
use crate::theme::Inks;

/// What a page says besides good and costs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LayoutGuide {
    /// What it consists of.
    pub what: &'static str,
    /// What to look at first.
    pub look: &'static str,
    /// The strips that show it.
    pub strips: &'static [Quantity],
}

/// What the page of a layout says.
#[must_use]
pub fn layout_guide(layout: Layout) -> LayoutGuide {
    use Quantity as Q;
    let (what, look, strips): (_, _, &'static [Quantity]) = match layout {
        Layout::ParallelPanhard => (
            "Two bars a side, one above the other, from the rails to the axle. A panhard bar runs across from one rail to the other end of the axle.",
            "Axle shift: a bar that is level at half travel leaves the axle at the same place laid out and fully lifted, one that is level at ride height moves it least around ride.",
            &[Q::Shift, Q::Pinion, Q::RollCentre],
        ),
        Layout::ParallelWatt => (
            "Two bars a side, and behind the axle a crank that turns on the centre section, with a link to either rail.",
            "Axle shift with its full scale, and how far the crank turns: the links should be level at half travel and the crank upright.",
            &[Q::Shift, Q::RollCentre, Q::Misfit],
        ),
        Layout::ParallelWattOnFrame => (
            "Two bars a side, and behind the axle a crank that turns on a crossmember, with a link to either end of the axle.",
            "Roll centre through the travel, then clearance: the links rise with the axle, close beside the rails.",
            &[Q::RollCentre, Q::Shift, Q::Misfit],
        ),
        Layout::ParallelDiagonal => (
            "Two bars a side, and between them one bar that runs from a rail ahead to the other side of the axle.",
            "Axle shift and fore-aft together: what the bars do to the axle front to back, the diagonal bar turns into sideways movement.",
            &[Q::Shift, Q::ForeAft, Q::Steer],
        ),
        Layout::UppersTriangulated => (
            "Two lower bars straight ahead, and two upper bars that spread from the top of the centre section to the rails ahead.",
            "Pinion angle: make the uppers longer until they act as long as the lowers, which the findings tell you; then look at the angle of the upper bars in plan.",
            &[Q::Pinion, Q::RollCentre, Q::AntiSquat],
        ),
        Layout::LowersTriangulated => (
            "Two upper bars beside the rails, and two lower bars that run together towards the middle of the truck ahead.",
            "Clearance of the lower mounts to shaft and ground when laid out, then roll steer: bars that angle low have much to say in it.",
            &[Q::RollSteer, Q::RollCentre, Q::Pinion],
        ),
        Layout::BothTriangulated => (
            "Upper bars that spread forward from the centre section, and lower bars that run together towards the middle ahead.",
            "Pinion angle, as both pairs act shorter than they are; then roll centre and roll steer, which every one of the mounts moves.",
            &[Q::Pinion, Q::RollCentre, Q::RollSteer],
        ),
        Layout::ThreeLinkPanhard => (
            "Two lower bars, one upper bar over the centre section in the middle, and a panhard bar across.",
            "Anti-squat and where the centre ahead lies, as height and slope of the single upper bar set both; then the panhard bar's arc.",
            &[Q::AntiSquat, Q::CentreAhead, Q::Shift],
        ),
        Layout::ThreeLinkOffset => (
            "Two lower bars, one upper bar to the right of the middle, and a panhard bar across.",
            "Axle steer and anti-squat: move the upper bar sideways and see that the axle still goes up straight.",
            &[Q::Steer, Q::AntiSquat, Q::Shift],
        ),
        Layout::ThreeLinkWatt => (
            "Two lower bars, one upper bar in the middle, and a crank with two links behind the axle.",
            "Anti-squat from the upper bar's slope; then that crank, links and upper bar each have room through the whole travel.",
            &[Q::AntiSquat, Q::Shift, Q::Pinion],
        ),
        Layout::Wishbone => (
            "Two lower bars, and above them a wishbone: two legs on the rails that meet in one joint on top of the axle.",
            "How far the joint on the axle swings at full lift and with one wheel up, for it has to do all of it; then pinion angle.",
            &[Q::Pinion, Q::RollCentre, Q::AntiSquat],
        ),
        Layout::TruckArmsPanhard => (
            "Two beams fast to the axle that run forward to eyes near the middle of the truck, and a panhard bar across.",
            "Pinion angle and the shaft's joints: the axle turns about the eyes as it rises. Then Misfit with one wheel up.",
            &[Q::Pinion, Q::RearJoint, Q::Misfit],
        ),
        Layout::LadderPanhard => (
            "Two frames of two tubes each, fast to the axle above and below, with one eye a side on the frame ahead; a panhard bar across.",
            "Misfit with one wheel up, before anything else. Then pinion angle through the travel.",
            &[Q::Misfit, Q::Pinion, Q::Shift],
        ),
        Layout::LadderDiagonal => (
            "Two ladder bars with one eye a side ahead, and between them a diagonal bar from frame to axle.",
            "Misfit with one wheel up, then axle shift: the diagonal bar moves the axle sideways in both directions of travel.",
            &[Q::Misfit, Q::Shift, Q::ForeAft],
        ),
        Layout::LadderWatt => (
            "Two ladder bars with one eye a side ahead, and a crank with two links behind the axle.",
            "Misfit with one wheel up, then how much the pinion turns; the sideways movement is the least of it here.",
            &[Q::Misfit, Q::Pinion, Q::RollCentre],
        ),
    };
    LayoutGuide { what, look, strips }
}

/// The truck of the pictures: the one that a setup of one's own begins as. `None` never, as the tests of the demo scenes hold.
static TRUCK: LazyLock<Option<Setup>> = LazyLock::new(|| demo::new_truck().ok());

const LEGEND: [(Role, &str); 3] = [
    (Role::Upper, "upper bars: thin"),
    (Role::Lower, "lower bars and arms: thick"),
    (Role::Sideways, "sideways: dashed"),
];

pub(super) fn layout_ui(ui: &mut Ui, layout: Layout, page: &mut GuidePage, acts: &mut Vec<Act>) {
    let (words, guide) = (layout_words(layout), layout_guide(layout));
    if let Some(truck) = TRUCK.as_ref() {
        let wide = ui.available_width().clamp(100.0, 620.0);
        layout_picture(ui, &layout.hang(truck), Vec2::new(wide, wide * 0.5));
        legend(ui);
    }
    passage(ui, "What it is", guide.what);
    passage(ui, "What it is good at", words.good);
    passage(ui, "What it costs", words.costs);
    passage(ui, "What to look at first", guide.look);
    ui.horizontal_wrapped(|ui| {
        for strip in guide.strips {
            link(ui, GuidePage::Quantity(*strip), page);
        }
    });
    ui.add_space(8.0);
    if ui.button("Hang my truck this way").clicked() {
        acts.extend([Act::Do(Command::Apply(Change::Hang(layout))), Act::CloseDialog]);
    }
    paragraph(
        ui,
        "Your truck's measurements stay as they are, and Undo takes it back.",
    );
}

fn legend(ui: &mut Ui) {
    ui.horizontal_wrapped(|ui| {
        for (role, words) in LEGEND {
            let (line, _) = ui.allocate_exact_size(Vec2::new(30.0, 14.0), egui::Sense::hover());
            let ends = [line.left_center(), line.right_center()];
            paint_piece(ui.painter(), ends, role, role_ink(ui, role), 2.0);
            ui.label(egui::RichText::new(words).size(12.0).color(Inks::of(ui).soft));
        }
    });
}
