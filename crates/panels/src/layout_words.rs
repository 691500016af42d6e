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
            "The panhard bar swings on an arc and takes the axle sideways with it. There is one bar more than it takes, so bushings have to give a little with one wheel up.",
        ),
        Layout::ParallelWatt => (
            "The axle goes up and down in a very flat S, not an arc, so it stays near the middle through a long travel. Equal bars keep the pinion angle.",
            "A crank, its pivot bolt and two links to build and to keep tight, and they need room behind the axle. The four bars still need bushings that give.",
        ),
        Layout::ParallelWattOnFrame => (
            "Nearly straight up and down too. Crank and pivot bolt sit on the frame, so the axle carries less weight.",
            "The pivot needs a stout crossmember behind the axle, and the links sweep up beside the rails. The roll centre, the point that the truck leans about, goes up and down with the frame. Bushings have to give here too.",
        ),
        Layout::ParallelDiagonal => (
            "One bar holds the axle sideways and lies ahead of it, so nothing is in the way behind, where tank, diff cover or exhaust are.",
            "It swings on an arc as any bar across does. As it runs partly forward, it pushes and pulls on the other bars in a turn, and when the axle moves forward or back it pulls it sideways.",
        ),
        Layout::UppersTriangulated => (
            "The angled uppers hold the axle sideways by themselves. No bar across, straight up and down, and nothing binds with one wheel up.",
            "The angled bars and their joints carry the cornering loads too, and they take up floor over the axle. They act shorter than they are, so they have to be longer than the lowers to keep the pinion angle.",
        ),
        Layout::LowersTriangulated => (
            "The angled lowers hold the axle sideways without a bar across. It goes straight up and down, and the floor above the axle stays free.",
            "They run to the middle of the truck, where shaft and exhaust pass, and hang low. They carry the cornering loads as well as the drive. The roll centre, the point that the truck leans about, is low.",
        ),
        Layout::BothTriangulated => (
            "Both pairs share the sideways load, so the axle sits firmer than with one angled pair. Nothing binds with one wheel up.",
            "Angled bars above and below leave little room for shaft, exhaust and floor. Every mount changes both the pinion angle and the point that the truck leans about, so all eight have to be right.",
        ),
        Layout::ThreeLinkPanhard => (
            "Three bars and a bar across hold the axle, with none too many: nothing binds with one wheel up, whatever the joints are.",
            "One upper bar takes all the twist of driving, so it needs a strong mount over the centre section, and room in the floor. The panhard bar still takes the axle sideways on its arc.",
        ),
        Layout::ThreeLinkOffset => (
            "As free of bind as a plain three-link, and the middle of the floor stays free. Under power the shaft's twist takes load off one tyre; the upper bar beside the middle can even that out.",
            "A pull beside the middle tries to steer the axle, so one lower bar carries more than the other. The panhard bar still takes the axle sideways on its arc.",
        ),
        Layout::ThreeLinkWatt => (
            "Nothing binds with one wheel up, and it goes nearly straight up and down. Of all these it moves most freely.",
            "The most pieces to build: a strong single mount over the centre section, and a crank with pivot and two links behind the axle.",
        ),
        Layout::Wishbone => (
            "One joint on top of the axle holds it sideways and keeps it from twisting. No bar across, nothing binds, and it goes straight up and down.",
            "That joint carries everything that the lower bars do not, so joint and bracket have to be big. The wishbone takes up the floor over the axle.",
        ),
        Layout::TruckArmsPanhard => (
            "Two long arms and a bar across: few joints, and mounts close to the middle of the truck. As the arms are long, the axle moves slowly and evenly.",
            "The arms are fixed solid to the axle, so with one wheel up arms and rubber eyes have to twist. The pinion turns with the arms, the arms hang low, and the panhard bar takes the axle sideways on its arc.",
        ),
        Layout::LadderPanhard => (
            "One eye on each side of the frame, simple to set up, and firm when the truck pulls away hard.",
            "Both bars are fixed solid to the axle. With one wheel up they bind until eyes or steel give. The pinion turns with them, and the panhard bar takes the axle sideways on its arc.",
        ),
        Layout::LadderDiagonal => (
            "Everything lies ahead of the axle: one eye on each side, and a diagonal bar between the ladder bars.",
            "It binds with one wheel up as ladder bars do, and turns the pinion. The diagonal bar takes the axle sideways on an arc, and in a turn it pushes and pulls on the ladder bars.",
        ),
        Layout::LadderWatt => (
            "Ladder bars that stay near the middle: with the linkage the axle goes up and down in a very flat S, not an arc.",
            "The linkage cures the sideways arc and nothing else. With one wheel up the ladder bars bind all the same, the pinion turns with them, and crank and links have to be built behind the axle.",
        ),
    }
}
