//! What each way to hang an axle is good at, and what it costs.

use rearend::layouts::Layout;

/// One sentence for, one against.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LayoutWords {
    /// What it is good at.
    pub good: &'static str,
    /// What it costs.
    pub costs: &'static str,
}

/// What there is to say of a layout before it is chosen.
#[must_use]
pub fn layout_words(layout: Layout) -> LayoutWords {
    let (good, costs) = words(layout);
    LayoutWords { good, costs }
}

fn words(layout: Layout) -> (&'static str, &'static str) {
    match layout {
        Layout::ParallelPanhard => (
            "The plainest to measure and to build: equal bars keep the pinion angle through the whole travel, and one bar across does the rest.",
            "The panhard bar swings on an arc and takes the axle sideways with it; and there is one bar more than is needed, so bushings have to give a little with one wheel up.",
        ),
        Layout::ParallelWatt => (
            "The axle follows a very flat S instead of an arc, so it stays near the middle through a long travel; equal bars keep the pinion angle.",
            "A crank, its pivot bolt and two links to build and to keep tight, and room for them behind the axle; the four bars still need bushings that give.",
        ),
        Layout::ParallelWattOnFrame => (
            "Nearly straight up and down as well, with the crank and its bolt on the frame, so that the axle carries less weight.",
            "The pivot needs a stout crossmember behind the axle, the links sweep up beside the rails, and the roll centre goes up and down with the truck; bushings have to give here too.",
        ),
        Layout::ParallelDiagonal => (
            "One bar holds the axle sideways and lies ahead of it, so that nothing is in the way behind, where tank, cover or exhaust are.",
            "It swings on an arc as any bar across does, and because it runs partly forward it pushes and pulls on the other bars in a turn and turns fore-and-aft movement into sideways movement.",
        ),
        Layout::UppersTriangulated => (
            "The angled uppers hold the axle sideways by themselves: no bar across, straight up and down, and no bind with one wheel up.",
            "The angled bars and their joints carry the cornering loads too, they take up floor over the axle, and they act shorter than they are, so they have to be longer than the lowers to keep the pinion angle.",
        ),
        Layout::LowersTriangulated => (
            "The angled lowers hold the axle sideways without a bar across, straight up and down, and leave the floor above the axle free.",
            "They run to the middle of the truck where shaft and exhaust pass, hang low, carry the cornering loads as well as the drive, and put the roll centre low.",
        ),
        Layout::BothTriangulated => (
            "Both pairs share the sideways load, so the axle sits firmer than with one angled pair, and one wheel up still binds nothing.",
            "Angled bars above and below leave little room for shaft, exhaust and floor, and every mount moves both pinion angle and roll centre, so all eight have to be right.",
        ),
        Layout::ThreeLinkPanhard => (
            "Three bars and a bar across hold the axle exactly once: nothing binds with one wheel up, whatever the joints are.",
            "One upper bar takes all the twist of driving, so it needs a strong mount over the centre section and a way through the floor; the panhard bar still takes the axle sideways.",
        ),
        Layout::ThreeLinkOffset => (
            "As free of bind as a plain three-link, leaves the middle of the floor alone, and the upper bar beside the middle can even out what the shaft's twist lifts off one tyre.",
            "A pull beside the middle tries to turn the axle, so that one lower bar carries more than the other; the panhard bar still swings on its arc.",
        ),
        Layout::ThreeLinkWatt => (
            "Free of bind with one wheel up, and nearly straight up and down: of them all the one that moves most freely.",
            "The most pieces to build: a strong single mount over the centre section, and a crank with pivot and two links behind the axle.",
        ),
        Layout::Wishbone => (
            "One joint on top of the axle holds it sideways and keeps it from twisting: no bar across, no bind, straight up and down.",
            "That joint carries everything that the lower bars do not, so it and its bracket have to be large, and the wishbone takes up the floor over the axle.",
        ),
        Layout::TruckArmsPanhard => (
            "Two long arms and a bar across: few joints, mounts close to the middle of the truck, and slow, even movement because the arms are long.",
            "The arms are fast to the axle, so with one wheel up arms and rubber eyes have to twist; the pinion turns with the arms, they hang low, and the panhard bar swings on its arc.",
        ),
        Layout::LadderPanhard => (
            "One eye a side on the frame, simple to set up, and firm when the truck pulls away hard.",
            "With one wheel up two bars that are fast to the axle bind until eyes or steel give; the pinion turns with them, and the panhard bar swings on its arc.",
        ),
        Layout::LadderDiagonal => (
            "Everything lies ahead of the axle: one eye a side, and a diagonal bar between the ladder bars.",
            "It binds with one wheel up as ladder bars do and turns the pinion, and the diagonal bar swings on an arc and loads the ladder bars fore and aft in a turn.",
        ),
        Layout::LadderWatt => (
            "Ladder bars that stay near the middle: the linkage draws a flat S instead of an arc.",
            "The linkage mends the sideways arc and nothing else: one wheel up binds as before, the pinion turns with the bars, and crank and links have to be built behind the axle.",
        ),
    }
}
