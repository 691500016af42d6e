//! Every joint of a setup that wants a bracket.

use linkage::Configuration;
use nalgebra::{Point3, Vector3};

use super::error::BracketError;
use super::joint::{Joint, Shop};
use super::{spring, watt};
use crate::mechanism::{Part, RearEnd};
use crate::setup::{Arm, ArmId, ArmKind, Bar, BarEnd, BarId, Carrier, Length, Mount, Setup, Side};

/// A joint, or the name of one whose bolt has no direction.
pub(super) type Wanted = Result<Joint, BracketError>;

/// What is known of where everything is.
struct Drawn<'a> {
    setup: &'a Setup,
    shop: Shop<'a>,
    rear_end: &'a RearEnd,
    ride: Configuration,
}

/// Every joint, those of a pair as one where they are alike.
///
/// # Errors
/// Where the setup makes no truck.
pub(super) fn joints(setup: &Setup, compiled: Option<&RearEnd>, shop: Shop) -> Result<Vec<Wanted>, BracketError> {
    let own;
    let rear_end = if let Some(compiled) = compiled {
        compiled
    } else {
        own = as_drawn(setup)?;
        &own
    };
    let drawn = Drawn {
        setup,
        shop,
        rear_end,
        ride: rear_end.ride,
    };
    let mut all = Vec::new();
    for (i, bar) in setup.bars.iter().enumerate() {
        for end in [BarEnd::Frame, BarEnd::Axle] {
            all.extend(drawn.bar(BarId(i), bar, end));
        }
    }
    for (i, arm) in setup.arms.iter().enumerate() {
        all.extend(drawn.arm(ArmId(i), arm));
    }
    all.extend(drawn.watt());
    all.extend(spring::joints(setup, &shop).into_iter().map(Ok));
    know_each_other(&mut all);
    Ok(all)
}

/// Joints nearer to each other than this stand beside each other, m.
const BESIDE_M: f64 = 0.3;

/// Two on one bolt are one, m.
const ONE_BOLT_M: f64 = 1e-3;

fn know_each_other(all: &mut [Wanted]) {
    let places: Vec<_> = all.iter().flatten().map(|joint| (joint.carrier, joint.at)).collect();
    for joint in all.iter_mut().flatten() {
        let (carrier, at) = (joint.carrier, joint.at);
        let is_beside = |p: &Point3<f64>| (ONE_BOLT_M..BESIDE_M).contains(&(p - at).norm());
        let own = places.iter().filter(|(on, p)| *on == carrier && is_beside(p));
        joint.beside = own.map(|(_, p)| *p).collect();
    }
}

/// Where bars are too long or too short to be bolted in, their brackets are drawn all the same.
fn as_drawn(setup: &Setup) -> Result<RearEnd, BracketError> {
    let mut suited = setup.clone();
    for bar in &mut suited.bars {
        bar.length = Length::CutToSuit;
    }
    if let Some(watt) = &mut suited.watt {
        (watt.left_length, watt.right_length) = (Length::CutToSuit, Length::CutToSuit);
    }
    RearEnd::compile(&suited).map_err(|why| BracketError::NoTruck { why: why.to_string() })
}

impl Drawn<'_> {
    /// A direction of the frame's coordinates at ride height, in those of a carrier.
    fn seen_from(&self, carrier: Carrier, direction: Vector3<f64>) -> Vector3<f64> {
        match carrier {
            Carrier::Frame => direction,
            Carrier::Axle => self.ride.ground_from_platform().transpose() * direction,
        }
    }

    /// From one end of a part to the other at ride height, carrier coordinates.
    fn along(&self, part: Part, end: BarEnd) -> Option<Vector3<f64>> {
        let [frame, axle] = self.rear_end.ends_in_frame(self.setup, part, &self.ride)?;
        let along = match end {
            BarEnd::Frame => axle - frame,
            BarEnd::Axle => frame - axle,
        };
        Some(self.seen_from(end.carrier(), along))
    }

    fn bar(&self, id: BarId, bar: &Bar, end: BarEnd) -> Vec<Wanted> {
        let one = |side: Side| {
            let mount = Mount::Bar { bar: id, end, side };
            let mut joint = self.joint(mount, self.bar_bolt(id, bar, end, side)?)?;
            let along = self.along(Part::Bar(id, side), end);
            joint.towards = along.map(|d| (d, "bar at ride height".to_owned()));
            Some(joint)
        };
        let drawn = one(Side::Drawn);
        if end == BarEnd::Axle && bar.joined {
            // One joint in the middle, between two bars: neither direction is its own.
            let joint = drawn.map(|joint| Joint { towards: None, ..joint });
            return vec![joint.ok_or_else(|| no_bolt(bar.name.clone(), end.carrier()))];
        }
        let mirrored = bar.mirrored.then(|| one(Side::Mirrored));
        pair(
            &bar.name,
            end.carrier(),
            std::iter::once(drawn).chain(mirrored).collect(),
        )
    }

    /// Of a wishbone's apex the middle between the bolts of its two bars.
    fn bar_bolt(&self, id: BarId, bar: &Bar, end: BarEnd, side: Side) -> Option<Vector3<f64>> {
        let which = usize::from(end == BarEnd::Axle);
        let of = |side| {
            let link = self.rear_end.link(Part::Bar(id, side))?;
            Some(self.rear_end.bolts.get(link.0)?[which].direction)
        };
        let own = of(side)?;
        if !(bar.joined && end == BarEnd::Axle) {
            return Some(own);
        }
        let other = of(Side::Mirrored)?;
        Some(own + if own.dot(&other) < 0.0 { -other } else { other })
    }

    fn arm(&self, id: ArmId, arm: &Arm) -> Vec<Wanted> {
        let eye = |side: Side| {
            let part = Part::Arm(id, side);
            let at = self.rear_end.eyes.iter().position(|p| *p == part)?;
            let bolt = self
                .rear_end
                .mechanism
                .joints()
                .get(at)?
                .directions
                .column(0)
                .into_owned();
            let mount = Mount::Arm {
                arm: id,
                end: BarEnd::Frame,
                side,
            };
            let mut joint = self.joint(mount, bolt)?;
            let along = self.along(part, BarEnd::Frame);
            joint.towards = along.map(|d| (d, "arm at ride height".to_owned()));
            Some(joint)
        };
        let sides = || [Side::Drawn, Side::Mirrored].into_iter().take(arm.count());
        let mut all = pair(&arm.name, Carrier::Frame, sides().map(eye).collect());
        for (which, up_m) in arm_bolts_m(arm) {
            let at_axle = sides().map(|side| self.arm_on_axle(id, side, which, up_m));
            all.extend(pair(&arm.name, Carrier::Axle, at_axle.collect()));
        }
        all
    }

    /// The bolt lies across the truck, along the tube: common practice.
    fn arm_on_axle(&self, id: ArmId, side: Side, which: &str, up_m: f64) -> Option<Joint> {
        let end = BarEnd::Axle;
        let mut joint = self.joint(Mount::Arm { arm: id, end, side }, Vector3::y())?;
        let up = Vector3::z() * up_m;
        joint.at += up;
        joint.holes.iter_mut().for_each(|hole| *hole += up);
        if !which.is_empty() {
            joint.name = format!("{}, {which} bolt", joint.name);
        }
        let towards = self.along(Part::Arm(id, side), end)? - up;
        joint.towards = Some((towards, "arm at ride height".to_owned()));
        Some(joint)
    }

    fn watt(&self) -> Vec<Wanted> {
        let Some(watt) = &self.setup.watt else {
            return Vec::new();
        };
        let (on, to) = (watt.crank_on, watt.links_to());
        let pivot = Joint::new(
            format!("Watt's crank pivot, on the {}", on.name()),
            on,
            watt.pivot,
            watt.pivot_axis(),
            watt::pivot_gap_m(&self.shop),
        );
        let parts = [Part::WattLeft, Part::WattRight];
        let ends = parts.map(|part| self.rear_end.ends_in_frame(self.setup, part, &self.ride));
        let links = ends.map(|ends| {
            let along = ends.map_or_else(Vector3::zeros, |[from, crank]| crank - from);
            self.seen_from(to, along)
        });
        let pivot = pivot.map(|mut joint| {
            joint.mounts = vec![Mount::WattPivot];
            joint.sweep_m = watt::sweep_m(watt, &self.shop);
            let link = ends[0].map_or_else(Vector3::zeros, |[from, crank]| from - crank);
            joint.open = Some(watt::open_way(watt, self.seen_from(on, link)));
            joint.notes = vec![format!(
                "The crank of two plates turns in it: {} clear, a washer on either side of the crank, and a spacer {} long between it and the near \
                 side plate, past which the nuts of the links' bolts swing.",
                self.shop.says(joint.gap_m),
                self.shop.says(watt::crank_spacer_m(self.shop.steel))
            )];
            joint
        });
        let bolt = self
            .rear_end
            .link(Part::WattLeft)
            .and_then(|l| self.rear_end.bolts.get(l.0));
        let axis = bolt.map_or_else(|| watt.pivot_axis(), |bolts| bolts[0].direction);
        let ends = watt::ends(watt, &self.shop, axis, links);
        let wanted =
            |(joint, on): (Option<Joint>, Carrier)| joint.ok_or_else(|| no_bolt("Watt's linkage".to_owned(), on));
        std::iter::once((pivot, on))
            .chain(ends.into_iter().map(|end| (end, to)))
            .map(wanted)
            .collect()
    }

    /// A mount with its row of holes, by its own name.
    fn joint(&self, mount: Mount, bolt: Vector3<f64>) -> Option<Joint> {
        let at = self.setup.mount(mount)?;
        let name = self.setup.mount_name(mount);
        let mut joint = Joint::new(name, at.carrier, at.point, bolt, self.shop.steel.gap_m)?;
        if let Some(row) = self.setup.hole_row(mount) {
            let holes: Vec<Point3<f64>> = row.holes().collect();
            joint = joint.in_row(holes);
        }
        joint.mounts = vec![mount];
        Some(joint)
    }
}

/// A ladder bar has a bolt above and one below the tube. A truck arm is clamped under it, and has a bolt only where it has holes.
fn arm_bolts_m(arm: &Arm) -> Vec<(&'static str, f64)> {
    match arm.kind {
        ArmKind::LadderBar => vec![("upper", arm.spread_m / 2.0), ("lower", -arm.spread_m / 2.0)],
        ArmKind::TruckArm if arm.axle_holes.is_some() => vec![("", 0.0)],
        ArmKind::TruckArm => Vec::new(),
    }
}

/// The two of a pair as one where they are alike, else each by its own name.
fn pair(plain: &str, carrier: Carrier, both: Vec<Option<Joint>>) -> Vec<Wanted> {
    if let [Some(drawn), Some(mirrored)] = &both[..]
        && mirrored.is_mirror_of(drawn)
    {
        let mut one = drawn.clone();
        // Without "left" or "right".
        if let Some((_, rest)) = drawn.name.split_once(plain) {
            one.name = format!("{plain}{rest}");
        }
        one.mounts.extend(&mirrored.mounts);
        one.on_both_sides = true;
        return vec![Ok(one)];
    }
    let no_bolt = || no_bolt(format!("{plain}, on the {}", carrier.name()), carrier);
    both.into_iter().map(|joint| joint.ok_or_else(no_bolt)).collect()
}

fn no_bolt(name: String, carrier: Carrier) -> BracketError {
    BracketError::Bolt {
        name,
        what: format!("the {}", carrier.name()),
    }
}
