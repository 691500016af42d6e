//! The steel that a carrier is made of, for a plate to run into: rails with their walls, crossmembers, axle tube and centre section.
//!
//! A rail is looked at wall by wall, since an open channel has room between its flanges. Walls follow kick-up and notch.

use nalgebra::Point3;

use super::convex::{Bounds, Convex};
use crate::clearance::{Solid, centre_section};
use crate::hand::Hand;
use crate::rail_line::{crossmember_m, stations_m, top_z_m, underside_z_m};
use crate::setup::{Axle, Carrier, Rails, Section, Setup};

/// A wall of a rail.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Wall {
    Bottom,
    Top,
    /// The outer one: of a channel its web.
    Outer,
    /// Of a box only.
    Inner,
}

/// A piece of a carrier's steel.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Member {
    Wall(Hand, Wall),
    /// A straight run of a crossmember, by the crossmember's place in the setup and its own from the left.
    Crossmember(usize, usize),
    Tube,
    CentreSection,
}

/// What a bracket is welded to, and so may touch.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Own {
    /// A rail's plane side: nothing of the rail stands out from it.
    Rail(Hand),
    /// One wall of a rail.
    Wall(Hand, Wall),
    /// Nothing of it.
    Nothing,
    /// A round tube: plates that are saddled on it.
    Pipe(Member),
}

/// Station, underside and top of the rails.
type At = [f64; 3];

/// All of it.
pub(super) struct Steel<'a> {
    setup: &'a Setup,
    stations: Vec<At>,
    crossmembers: Vec<(Member, Convex)>,
    axle: Vec<(Member, Convex)>,
}

impl Member {
    /// What it is called; of a pair of rails one stands for both.
    pub fn name(self, setup: &Setup, units: crate::tape::Units, is_both: bool) -> String {
        match self {
            Self::Wall(hand, wall) => {
                let side = if is_both {
                    String::new()
                } else {
                    format!("{} ", hand.word())
                };
                format!("the {side}rail's {}", wall.word(setup.rails.section))
            }
            Self::Crossmember(i, _) => Solid::Crossmember(i).name(setup, units),
            Self::Tube => Solid::AxleTube.name(setup, units),
            Self::CentreSection => Solid::CentreSection.name(setup, units),
        }
    }
}

impl Wall {
    fn word(self, section: Section) -> &'static str {
        match (self, section) {
            (Self::Bottom, Section::Channel) => "bottom flange",
            (Self::Top, Section::Channel) => "top flange",
            (Self::Outer, Section::Channel) => "web",
            (Self::Bottom, Section::Box) => "bottom wall",
            (Self::Top, Section::Box) => "top wall",
            (Self::Outer, Section::Box) => "outer wall",
            (Self::Inner, _) => "inner wall",
        }
    }

    fn all(section: Section) -> &'static [Self] {
        match section {
            Section::Channel => &[Self::Bottom, Self::Top, Self::Outer],
            Section::Box => &[Self::Bottom, Self::Top, Self::Outer, Self::Inner],
        }
    }

    /// Its section at a station, if there is any of it: from and to across, by distance from the middle of the truck, and the two heights.
    fn section(self, rails: &Rails, [_, low, top]: At) -> ([f64; 2], [f64; 2]) {
        let (outer, inner) = (rails.spacing_m / 2.0, rails.spacing_m / 2.0 - rails.flange_m);
        let wall = rails.wall_m.min((top - low) / 2.0).max(0.0);
        match self {
            Self::Bottom => ([inner, outer], [low, low + wall]),
            Self::Top => ([inner, outer], [top - wall, top]),
            Self::Outer => ([outer - rails.wall_m, outer], [low + wall, top - wall]),
            Self::Inner => ([inner, inner + rails.wall_m], [low + wall, top - wall]),
        }
    }
}

impl Own {
    /// True where a bracket on it may touch a member; `is_saddled` where it is a plate that is cut out round a tube.
    pub fn has(self, member: Member, is_saddled: bool) -> bool {
        match (self, member) {
            (Self::Rail(own), Member::Wall(hand, _)) => own == hand,
            (Self::Wall(own, own_wall), Member::Wall(hand, wall)) => own == hand && own_wall == wall,
            (Self::Pipe(own), member) => own == member && is_saddled,
            _ => false,
        }
    }

    /// True where a member is another run of the crossmember that a bracket is on.
    pub fn bends_into(self, member: Member) -> bool {
        match (self, member) {
            (Self::Pipe(Member::Crossmember(own, own_run)), Member::Crossmember(which, run)) => {
                own == which && own_run != run
            }
            _ => false,
        }
    }
}

impl<'a> Steel<'a> {
    pub fn of(setup: &'a Setup) -> Self {
        let rails = &setup.rails;
        let at = |x_m: f64| {
            let top = top_z_m(rails, x_m);
            [x_m, underside_z_m(rails, x_m).min(top), top]
        };
        Self {
            setup,
            stations: stations_m(rails).into_iter().map(at).collect(),
            crossmembers: crossmembers(rails),
            axle: axle(setup, &setup.axle),
        }
    }

    /// True where one side of a carrier is as the other.
    pub fn is_symmetric(&self, carrier: Carrier) -> bool {
        carrier == Carrier::Frame || self.setup.axle.pinion_offset_m == 0.0
    }

    /// Looks at what of a carrier's steel is near a box, piece by piece, but for some of its members.
    pub fn near(
        &self,
        carrier: Carrier,
        to: &Bounds,
        but: impl Fn(Member) -> bool,
        mut look: impl FnMut(Member, &Convex),
    ) {
        let tubes = match carrier {
            Carrier::Frame => {
                self.walls(to, &but, &mut look);
                &self.crossmembers
            }
            Carrier::Axle => &self.axle,
        };
        let near = tubes
            .iter()
            .filter(|(member, solid)| solid.bounds.meets(to) && !but(*member));
        near.for_each(|(member, solid)| look(*member, solid));
    }

    fn walls(&self, near: &Bounds, but: impl Fn(Member) -> bool, mut look: impl FnMut(Member, &Convex)) {
        let rails = &self.setup.rails;
        let (outer, inner) = (rails.spacing_m / 2.0, rails.spacing_m / 2.0 - rails.flange_m);
        let is_beside = |hand: &Hand| {
            let (a, b) = (hand.sign() * outer, hand.sign() * inner);
            a.min(b) < near.high.y && a.max(b) > near.low.y
        };
        let is_near = |pair: &&[At]| {
            let [a, b] = [pair[0], pair[1]];
            a[0] < near.high.x && b[0] > near.low.x && a[1].min(b[1]) < near.high.z && a[2].max(b[2]) > near.low.z
        };
        for hand in Hand::BOTH.into_iter().filter(is_beside) {
            let walls = Wall::all(rails.section).iter();
            for wall in walls.filter(|wall| !but(Member::Wall(hand, **wall))) {
                let lengths = self.stations.windows(2).filter(is_near);
                let near = lengths.filter_map(|pair| length(rails, hand, *wall, pair, near));
                near.for_each(|solid| look(Member::Wall(hand, *wall), &solid));
            }
        }
    }
}

/// A wall between two stations; `None` where the rail is cut through, or the wall is not near.
fn length(rails: &Rails, hand: Hand, wall: Wall, pair: &[At], near: &Bounds) -> Option<Convex> {
    const CUT_THROUGH_M: f64 = 1e-6;
    let sections = [pair[0], pair[1]].map(|at| {
        let ([from, to], [low, high]) = wall.section(rails, at);
        let corner = |y: f64, z: f64| Point3::new(at[0], hand.sign() * y, z);
        let is_there = high - low > CUT_THROUGH_M;
        (
            is_there,
            [corner(from, low), corner(to, low), corner(to, high), corner(from, high)],
        )
    });
    let is_near = || Bounds::of(sections.iter().flat_map(|(_, corners)| *corners)).meets(near);
    let is_there = sections.iter().any(|(is_there, _)| *is_there);
    (is_there && is_near()).then(|| Convex::length(sections.map(|(_, corners)| corners)))
}

/// A shorter run has no direction.
const SHORTEST_RUN_M: f64 = 1e-3;

fn crossmembers(rails: &Rails) -> Vec<(Member, Convex)> {
    let mut all = Vec::new();
    for (i, x_m) in rails.crossmembers_x_m.iter().enumerate() {
        let (bends, radius_m) = crossmember_m(rails, *x_m);
        let runs = bends.windows(2).enumerate();
        let runs = runs.filter(|(_, run)| (run[1] - run[0]).norm() > SHORTEST_RUN_M);
        all.extend(runs.map(|(j, run)| (Member::Crossmember(i, j), Convex::tube([run[0], run[1]], radius_m))));
    }
    all
}

/// The tube from flange to flange, and the centre section as it is drawn.
fn axle(setup: &Setup, axle: &Axle) -> Vec<(Member, Convex)> {
    let half_m = axle.flange_to_flange_m / 2.0;
    let ends = [half_m, -half_m].map(|y| Point3::new(0.0, y, 0.0));
    let tube = (Member::Tube, Convex::tube(ends, axle.tube_m / 2.0));
    let housing = centre_section(setup).map(|round| (Member::CentreSection, Convex::round(&round)));
    std::iter::once(tube).chain(housing).collect()
}
