//! A page for every way to hang an axle.

use egui::{Ui, Vec2};
use rearend::layouts::Layout;
use rearend::setup::{Role, Setup};
use shop::{Change, Command};

use super::{Around, GuidePage, NEW_TRUCK, link, paragraph, passage};
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
            "Axle shift: a bar that is level at half travel brings the axle to the same place laid out and at full lift. One that is level at ride height moves it least while you drive.",
            &[Q::Shift, Q::Pinion, Q::RollCentre],
        ),
        Layout::ParallelWatt => (
            "Two bars a side, and behind the axle a Watt's linkage: a crank that turns on a bolt on the centre section, with a link from each of its ends to a rail.",
            "Axle shift, with its full scale. At half travel the links should be level and the crank upright.",
            &[Q::Shift, Q::RollCentre, Q::Misfit],
        ),
        Layout::ParallelWattOnFrame => (
            "Two bars a side, and behind the axle a Watt's linkage: a crank that turns on a bolt on a crossmember, with a link from each of its ends to one end of the axle.",
            "Roll centre through the travel, then clearance in the findings: the links rise with the axle, close beside the rails.",
            &[Q::RollCentre, Q::Shift, Q::Misfit],
        ),
        Layout::ParallelDiagonal => (
            "Two bars a side, and between them one bar that runs from a rail ahead to the other side of the axle.",
            "Axle shift and fore-aft together: when the other bars move the axle forward or back, the diagonal bar pulls it sideways.",
            &[Q::Shift, Q::ForeAft, Q::Steer],
        ),
        Layout::UppersTriangulated => (
            "Two lower bars straight ahead, and two upper bars that spread from the top of the centre section to the rails ahead.",
            "Pinion angle: make the uppers longer until they act as long as the lowers; the findings tell you how long each acts. Then look at the angle of the upper bars from above.",
            &[Q::Pinion, Q::RollCentre, Q::AntiSquat],
        ),
        Layout::LowersTriangulated => (
            "Two upper bars beside the rails, and two lower bars that run together towards the middle of the truck ahead.",
            "Room between the lower mounts and shaft and ground when laid out, then roll steer: angled lower bars change it a lot.",
            &[Q::RollSteer, Q::RollCentre, Q::Pinion],
        ),
        Layout::BothTriangulated => (
            "Upper bars that spread forward from the centre section, and lower bars that run together towards the middle ahead.",
            "Pinion angle, as both pairs act shorter than they are. Then roll centre and roll steer: every one of the mounts moves them.",
            &[Q::Pinion, Q::RollCentre, Q::RollSteer],
        ),
        Layout::ThreeLinkPanhard => (
            "Two lower bars, one upper bar over the centre section in the middle, and a panhard bar across.",
            "Anti-squat and centre ahead: height and slope of the single upper bar set both. Then the panhard bar's arc in axle shift.",
            &[Q::AntiSquat, Q::CentreAhead, Q::Shift],
        ),
        Layout::ThreeLinkOffset => (
            "Two lower bars, one upper bar to the right of the middle, and a panhard bar across.",
            "Axle steer and anti-squat: move the upper bar sideways and check that the axle still points straight ahead as it rises.",
            &[Q::Steer, Q::AntiSquat, Q::Shift],
        ),
        Layout::ThreeLinkWatt => (
            "Two lower bars, one upper bar in the middle, and behind the axle a Watt's linkage: a crank with two links.",
            "Anti-squat, which the upper bar's slope sets. Then that crank, links and upper bar have room through the whole travel.",
            &[Q::AntiSquat, Q::Shift, Q::Pinion],
        ),
        Layout::Wishbone => (
            "Two lower bars, and above them a wishbone: two legs on the rails that meet in one joint on top of the axle.",
            "How far the joint on the axle swings at full lift and with one wheel up, as it takes all of the swing. Then pinion angle.",
            &[Q::Pinion, Q::RollCentre, Q::AntiSquat],
        ),
        Layout::TruckArmsPanhard => (
            "Two long beams, fixed solid to the axle, run forward to eyes near the middle of the truck. A panhard bar runs across.",
            "Pinion angle and the shaft's joints, as the axle turns about the eyes when it rises. Then Misfit with one wheel up.",
            &[Q::Pinion, Q::RearJoint, Q::Misfit],
        ),
        Layout::LadderPanhard => (
            "On each side a ladder bar: two tubes, fixed solid to the axle above and below, that meet in one eye on the frame ahead. A panhard bar runs across.",
            "Misfit with one wheel up, before anything else. Then pinion angle through the travel.",
            &[Q::Misfit, Q::Pinion, Q::Shift],
        ),
        Layout::LadderDiagonal => (
            "A ladder bar on each side, fixed solid to the axle, with one eye on the frame ahead. Between them a diagonal bar from frame to axle.",
            "Misfit with one wheel up, then axle shift: the diagonal bar pulls the axle sideways as the truck goes up and as it goes down.",
            &[Q::Misfit, Q::Shift, Q::ForeAft],
        ),
        Layout::LadderWatt => (
            "A ladder bar on each side, fixed solid to the axle, with one eye on the frame ahead. Behind the axle a Watt's linkage: a crank with two links.",
            "Misfit with one wheel up, then how much the pinion turns. Sideways movement is the least of the worries here.",
            &[Q::Misfit, Q::Pinion, Q::RollCentre],
        ),
    };
    LayoutGuide { what, look, strips }
}

const LEGEND: [(Role, &str); 3] = [
    (Role::Upper, "upper bars: thin"),
    (Role::Lower, "lower bars and arms: thick"),
    (Role::Sideways, "sideways: dashed"),
];

pub(super) fn layout_ui(ui: &mut Ui, layout: Layout, (page, around): (&mut GuidePage, &Around), acts: &mut Vec<Act>) {
    let (words, guide) = (layout_words(layout), layout_guide(layout));
    picture_ui(ui, layout, around.truck);
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
        "Your truck's measurements stay as they are; a crossmember is added where a mount has none to stand on. Undo takes it back.",
    );
}

/// The layout under the user's truck. Where what is proposed does not fit that one, under a usual truck, and then it says so.
fn picture_ui(ui: &mut Ui, layout: Layout, truck: &Setup) {
    let own = Some(layout.hang(truck)).filter(|hung| hung.validate().is_ok());
    let told = if own.is_some() {
        "Drawn on your truck, at ride height."
    } else {
        "What is proposed for this layout does not fit your truck's measurements, so a usual truck is drawn."
    };
    let Some(hung) = own.or_else(|| NEW_TRUCK.as_ref().map(|truck| layout.hang(truck))) else {
        return;
    };
    let wide = ui.available_width().clamp(100.0, 620.0);
    layout_picture(ui, &hung, Vec2::new(wide, wide * 0.5));
    ui.add(egui::Label::new(egui::RichText::new(told).size(12.0).color(Inks::of(ui).soft)).wrap());
    legend(ui);
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
