//! A truck as its proportions hang on it, and the bars that run along it.

use nalgebra::Point3;

use super::Layout;
use super::metal::{self, Reach, Wanted};
use crate::brackets::{LUMP_IN_TUBES, crank_room_m};
use crate::rail_line::{crossmember_m, top_z_m, underside_z_m};
use crate::setup::{Bar, Ends, Role, Setup, SpringKind};

/// What the proportions hang on.
pub(super) struct Truck<'a> {
    pub(super) setup: &'a Setup,
    pub(super) reach: Reach,
    /// Axle centre at ride height and at half travel, frame coordinates.
    pub(super) axle_z_m: f64,
    pub(super) half_z_m: f64,
    /// The rails' inner sides; inside and outside of the rails with room for a bracket, and inside for one that stands there aslant.
    pub(super) inner_m: f64,
    pub(super) inside_m: f64,
    pub(super) aslant_m: f64,
    pub(super) outside_m: f64,
    /// Outside of the rails for a bracket on the axle that leans with it, a wheel up.
    pub(super) swung_m: f64,
}

/// Two feet: long enough to keep arcs flat, short enough to end ahead of most kick-ups.
pub(super) const LONG_M: f64 = 0.62;
/// A single upper bar: shorter, to end behind the crossmember that most trucks have under the cab.
const SINGLE_M: f64 = 0.52;
/// A bar shorter than this turns the pinion more than most shafts take.
const SHORT_M: f64 = 0.34;
/// How high it stands over the axle at least, and its tube.
const OVER_M: f64 = 0.16;
const SINGLE_TUBE_M: f64 = 0.0445;
/// 1 5/8 in: it turns between plates 1 3/4 in apart. Common practice.
const BUSHED_TUBE_M: f64 = 0.0413;
/// A truck arm's eye, how far it is clamped under the axle's middle, and its tube.
const ARM_M: f64 = 1.2;
pub(super) const ARM_UNDER_M: f64 = 0.075;
pub(super) const ARM_TUBE_M: f64 = 0.075;
/// A little below its joint on the axle at ride height, where a bar pushes forward as the axle rises.
pub(super) const FALL_M: f64 = 0.009;
/// Half a right angle less a third: a bracket whose bolt lies aslant fits no steeper rail.
pub(super) const STEEP: f64 = 1.1;
/// Behind the axle tube, clear of the cover.
const BEHIND_M: f64 = 0.225;
/// The cover behind the tube's axis over the tube's diameter, as it is drawn, and what clears it.
const COVER_IN_TUBES: f64 = 0.15 / 0.0762;
const COVER_ROOM_M: f64 = 0.045;

/// Between a bracket on the axle and what stands beside it: what the axle shifts, leans and swings by.
const SWAYS_M: f64 = 0.022;

/// What a single upper bar beside the middle hangs on.
enum Offset {
    AtRail(Wanted),
    OnCrossmember(Wanted),
}

impl<'a> Truck<'a> {
    pub(super) fn of(setup: &'a Setup) -> Self {
        let half_rails_m = setup.rails.spacing_m / 2.0;
        let inner_m = half_rails_m - setup.rails.flange_m;
        let reach = Reach::of(&setup.steel);
        Self {
            setup,
            reach,
            axle_z_m: setup.axle_z_m(setup.travel.ride_m),
            half_z_m: setup.axle_z_m(setup.travel.half_m()),
            inside_m: (inner_m - reach.straight_m).max(0.15),
            inner_m,
            aslant_m: (inner_m - reach.aslant_m).max(0.15),
            outside_m: half_rails_m + reach.half_m + 0.0274,
            swung_m: half_rails_m + reach.half_m + 0.036,
        }
    }

    /// A crossmember that the truck lacks for a layout's mounts in the middle.
    pub(super) fn wants_crossmember_at(&self, layout: Layout) -> Option<f64> {
        use Layout as L;
        let rails = &self.setup.rails;
        match layout {
            L::ThreeLinkPanhard | L::ThreeLinkWatt => self.single().lacks(rails, &self.reach),
            L::ThreeLinkOffset => match self.offset() {
                Offset::OnCrossmember(wanted) => wanted.lacks(rails, &self.reach),
                Offset::AtRail(_) => None,
            },
            L::TruckArmsPanhard => self.eye().lacks_aslant(rails, &self.reach),
            L::ParallelWattOnFrame => metal::lacks_beside(rails, self.behind_m(), &self.reach),
            _ => None,
        }
    }

    /// The station of what runs across behind the axle.
    pub(super) fn behind_m(&self) -> f64 {
        -(COVER_IN_TUBES * self.setup.axle.tube_m + COVER_ROOM_M).max(BEHIND_M)
    }

    /// The station of a crank on the axle, its cage and the nut of its pivot clear of the cover.
    pub(super) fn crank_behind_m(&self) -> f64 {
        let clear_m = COVER_IN_TUBES * self.setup.axle.tube_m + crank_room_m(&self.setup.steel);
        self.behind_m().min(-clear_m)
    }

    /// The middle of a bolt along the axle tube is at least so far above or below the tube's axis.
    pub(super) fn off_tube_m(&self, usual_m: f64) -> f64 {
        usual_m.max(self.setup.axle.tube_m / 2.0 + self.reach.edge_m + 0.005)
    }

    /// A bar from a frame mount at (x, y) to an axle mount at (0, y), its frame end lower by the usual fall.
    pub(super) fn bar(&self, name: &str, role: Role, frame: [f64; 2], axle: [f64; 2]) -> Bar {
        let ([x, y], [axle_y, z]) = (frame, axle);
        Bar::new(
            name,
            role,
            Point3::new(x, y, self.axle_z_m + z - FALL_M),
            Point3::new(0.0, axle_y, z),
        )
    }

    /// How high a joint stands over the axle whose bracket passes over the centre section.
    pub(super) fn over_m(&self) -> f64 {
        let bridge_m = LUMP_IN_TUBES * self.setup.axle.tube_m + self.reach.bridge_m;
        OVER_M.max(bridge_m)
    }

    /// A single upper bar in the middle, on a crossmember.
    pub(super) fn single(&self) -> Wanted {
        let over_m = self.over_m();
        let travel = &self.setup.travel;
        let heights_m = [travel.laid_out_m, travel.ride_m, travel.full_lift_m];
        Wanted {
            at: Point3::new(SINGLE_M, 0.0, self.axle_z_m + over_m - FALL_M),
            least_x_m: SHORT_M,
            bar_radius_m: SINGLE_TUBE_M / 2.0,
            axle_z_m: heights_m.map(|height_m| self.setup.axle_z_m(height_m) + over_m),
        }
    }

    /// A truck arm's eye, on a crossmember.
    pub(super) fn eye(&self) -> Wanted {
        let z_m = self.axle_z_m - ARM_UNDER_M - FALL_M;
        Wanted {
            at: Point3::new(ARM_M, 0.14, z_m),
            least_x_m: 0.8,
            bar_radius_m: ARM_TUBE_M / 2.0,
            axle_z_m: [z_m; 3],
        }
    }

    /// Where a single upper bar beside the middle stands: away from the pinion, and on bare tube beside the centre section, at a rail
    /// ahead, unless bags over the axle leave no room there.
    fn offset(&self) -> Offset {
        let setup = self.setup;
        let away = if setup.axle.pinion_offset_m < 0.0 { 1.0 } else { -1.0 };
        let lump_m = LUMP_IN_TUBES * setup.axle.tube_m + self.reach.half_m + 0.012;
        let y_m = lump_m.max(self.at_rail_m());
        let springs = setup.springs.as_ref();
        let bag_m = springs.and_then(|springs| match &springs.kind {
            SpringKind::Air(air) => Some(springs.mount_in_frame.y.abs() - air.bag_m / 2.0),
            SpringKind::Coilover(_) => None,
        });
        let is_free = bag_m.is_none_or(|bag_m| y_m + SINGLE_TUBE_M / 2.0 + 0.013 < bag_m);
        let mut wanted = self.single();
        wanted.at.y = if is_free {
            away * y_m
        } else {
            // Short of the bend, on whose inner side the next run begins before it.
            let bend_m = 0.75 * crossmember_m(&setup.rails, wanted.at.x).1;
            let flat_m = setup
                .rails
                .hoop
                .map_or(0.12, |hoop| hoop.half_width_m - self.reach.half_m - bend_m);
            away * flat_m.clamp(0.03, 0.12)
        };
        if is_free {
            Offset::AtRail(wanted)
        } else {
            Offset::OnCrossmember(wanted)
        }
    }

    /// As near to the middle as a bracket that a rail carries reaches.
    pub(super) fn at_rail_m(&self) -> f64 {
        self.setup.rails.spacing_m / 4.0 + 0.001
    }

    /// How far under the axle's middle the lower of two bars beside a rail ends, so that the upper one's bracket, down to the rail's top, stays
    /// above it.
    pub(super) fn under_upper_m(&self, usual_m: f64) -> f64 {
        let top_m = top_z_m(&self.setup.rails, LONG_M);
        let most_m = top_m - self.reach.edge_m - self.reach.plate_m - 0.004;
        usual_m.max(self.axle_z_m - FALL_M - most_m)
    }

    /// A station for a bracket inside the rails: no crossmember in its way, and its pad between the rail's flanges.
    pub(super) fn beside_crossmembers_m(&self, y_m: f64, over_axle_m: f64) -> f64 {
        let rails = &self.setup.rails;
        let z_m = self.axle_z_m + over_axle_m - FALL_M;
        let pad_m = z_m - self.reach.over_m + 2.0 * self.reach.plate_m;
        let low_m = |x_m: f64| underside_z_m(rails, x_m) + rails.wall_m;
        let is_on_flange = (low_m(LONG_M + 0.05) - 0.02..low_m(LONG_M - 0.1) + 0.01).contains(&pad_m);
        let ahead_m = rails
            .kick_up
            .map_or(LONG_M, |kick| (kick.start_x_m + 0.08).clamp(LONG_M, 0.88));
        let x_m = if is_on_flange { ahead_m } else { LONG_M };
        metal::off_crossmembers_m(rails, &self.reach, Point3::new(x_m, y_m, z_m))
    }

    /// How far from the middle a bracket beside the left coilover on the axle stands, outside of it; 0 where there is none.
    pub(super) fn past_coilover_m(&self) -> f64 {
        self.past_coils_m().map_or(0.0, |[_, outside_m]| outside_m)
    }

    /// The same inside and outside of it: past its coil, and past its own bracket.
    fn past_coils_m(&self) -> Option<[f64; 2]> {
        let springs = self.setup.springs.as_ref()?;
        let SpringKind::Coilover(coilover) = &springs.kind else {
            return None;
        };
        let (lower_m, upper_m) = (springs.mount_in_axle()?.y.abs(), springs.mount_in_frame.y.abs());
        let past_m = (coilover.coil_m / 2.0 + self.reach.wide_m() + SWAYS_M).max(3.0 * self.reach.half_m);
        Some([lower_m.min(upper_m) - past_m, lower_m.max(upper_m) + past_m])
    }

    /// How far from the middle a bracket behind the axle tube stands: between the rails where they come down beside it with a wheel up, and
    /// between the coils.
    pub(super) fn beside_coils_m(&self) -> f64 {
        let between_m = self.inner_m - self.reach.wide_m() - SWAYS_M;
        self.past_coils_m()
            .map_or(between_m, |[inside_m, _]| between_m.min(inside_m))
    }

    /// Where a truck arm is clamped under the axle tube: inside the rails, and past a coilover's bracket.
    pub(super) fn truck_arm_m(&self) -> f64 {
        let past_m = self.reach.half_m + ARM_TUBE_M / 2.0 + 0.01;
        self.coilover_y_m()
            .map_or(self.inside_m, |y_m| self.inside_m.min(y_m - past_m))
    }

    pub(super) fn coilover_y_m(&self) -> Option<f64> {
        let springs = self.setup.springs.as_ref()?;
        matches!(springs.kind, SpringKind::Coilover(_)).then_some(())?;
        Some(springs.mount_in_axle()?.y.abs())
    }

    pub(super) fn long_bars(&self, layout: Layout) -> Vec<Bar> {
        use Layout as L;
        let out = self.outside_m;
        let pair = |name: &str, role, frame, axle| self.bar(name, role, frame, axle).on_both_sides();
        let (low, high) = (-self.under_upper_m(self.off_tube_m(0.085)), self.off_tube_m(0.08));
        let lower = || pair("lower bar", Role::Lower, [LONG_M, out], [out, low]);
        let upper = || pair("upper bar", Role::Upper, [LONG_M, out], [out, high]);
        // Inside the rails ahead, beside the centre section behind.
        let over_m = self.over_m();
        let angled_upper = || {
            let frame = [self.beside_crossmembers_m(self.aslant_m, over_m), self.aslant_m];
            pair("upper bar", Role::Upper, frame, [0.1, over_m])
        };
        let under_m = -(self.setup.axle.tube_m / 2.0 + self.reach.over_m).max(0.085);
        let angled_lower = || {
            let frame = [self.beside_crossmembers_m(self.at_rail_m(), under_m), self.at_rail_m()];
            pair("lower bar", Role::Lower, frame, [out, under_m])
        };
        let on_crossmember = |wanted: &Wanted| {
            let at = wanted.on(&self.setup.rails, &self.reach).unwrap_or(wanted.at);
            self.bar("upper bar", Role::Upper, [at.x, at.y], [at.y, self.over_m()])
        };
        let offset = || match self.offset() {
            Offset::OnCrossmember(wanted) => on_crossmember(&wanted),
            Offset::AtRail(wanted) if wanted.on(&self.setup.rails, &self.reach).is_some() => on_crossmember(&wanted),
            Offset::AtRail(wanted) => {
                let y = wanted.at.y;
                let [x, over_m] = wanted.past(&self.setup.rails, &self.reach, self.axle_z_m - FALL_M, self.over_m());
                self.bar("upper bar", Role::Upper, [x, y], [y, over_m])
            }
        };
        let bushed = |mut bar: Bar| {
            bar.ends = Ends::Bushes;
            bar.tube_m = BUSHED_TUBE_M;
            bar
        };
        match layout {
            L::ParallelPanhard | L::ParallelWatt | L::ParallelWattOnFrame | L::ParallelDiagonal => {
                vec![bushed(lower()), bushed(upper())]
            }
            L::UppersTriangulated => vec![lower(), angled_upper()],
            L::LowersTriangulated => vec![angled_lower(), upper()],
            L::BothTriangulated => vec![angled_lower(), angled_upper()],
            L::ThreeLinkPanhard | L::ThreeLinkWatt => vec![lower(), on_crossmember(&self.single())],
            L::ThreeLinkOffset => vec![lower(), offset()],
            L::Wishbone => {
                let frame = [self.beside_crossmembers_m(self.aslant_m, over_m), self.aslant_m];
                let mut wishbone = pair("wishbone", Role::Upper, frame, [0.0, over_m]);
                wishbone.joined = true;
                vec![lower(), wishbone]
            }
            L::TruckArmsPanhard | L::LadderPanhard | L::LadderDiagonal | L::LadderWatt => Vec::new(),
        }
    }
}
