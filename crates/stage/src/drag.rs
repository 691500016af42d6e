//! Where a dragged pointer puts a mount.

use nalgebra::{Isometry3, Point2, Point3, UnitQuaternion, Vector3};
use rearend::setup::{Carrier, Mount, Setup};
use rearend::tape::Units;
use rearend::travel::Row;

use crate::view::{Pane, Sight, View, world_from_frame};

/// An axis held during a drag.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Axis {
    /// Forward.
    X,
    /// Left.
    Y,
    /// Up.
    Z,
}

impl Axis {
    fn unit(self) -> Vector3<f64> {
        match self {
            Self::X => Vector3::x(),
            Self::Y => Vector3::y(),
            Self::Z => Vector3::z(),
        }
    }
}

/// A mount taken hold of.
#[derive(Clone, Copy, Debug)]
pub struct Grab {
    /// Which mount.
    pub mount: Mount,
    /// Its place in its carrier's coordinates when it was taken.
    start: Point3<f64>,
    world_from_carrier: Isometry3<f64>,
    /// From the pointer to where the mount appeared, so that it does not jump.
    offset: nalgebra::Vector2<f64>,
}

/// How a carrier stands in the world at a pose.
#[must_use]
pub fn world_from_carrier(setup: &Setup, row: &Row, carrier: Carrier) -> Isometry3<f64> {
    let world_from_frame = world_from_frame(setup, row);
    match carrier {
        Carrier::Frame => world_from_frame,
        Carrier::Axle => {
            let turn = UnitQuaternion::from_matrix(&row.at.ground_from_platform());
            world_from_frame * Isometry3::from_parts(row.at.origin_in_ground.into(), turn)
        }
    }
}

/// Where a mount is in the world.
#[must_use]
pub fn mount_in_world(setup: &Setup, row: &Row, mount: Mount) -> Option<Point3<f64>> {
    let at = setup.mount(mount)?;
    if matches!(mount, Mount::WattLeftArm | Mount::WattRightArm) {
        let watt = setup.watt.as_ref()?;
        let crank = linkage::Crank::on_platform(watt.pivot, watt.pivot_axis());
        let turned = crank.turned(at.point, row.at.crank_rad[0]);
        return Some(world_from_carrier(setup, row, watt.crank_on) * turned);
    }
    Some(world_from_carrier(setup, row, at.carrier) * at.point)
}

impl Grab {
    /// Takes hold of a mount at the pointer.
    #[must_use]
    pub fn take(
        setup: &Setup,
        row: &Row,
        mount: Mount,
        pointer: Point2<f64>,
        view: &View,
        pane: &Pane,
    ) -> Option<Self> {
        let at = setup.mount(mount)?;
        let world_from_carrier = world_from_carrier(setup, row, at.carrier);
        let seen = view.project(world_from_carrier * at.point, pane)?;
        Some(Self {
            mount,
            start: at.point,
            world_from_carrier,
            offset: seen - pointer,
        })
    }

    /// Where the mount goes for a pointer, in its carrier's coordinates: in the plane that faces the viewer (in rear, side and top view
    /// that is the view's own plane), or along one axis of the carrier if one is held. Snapped to the unit's step unless freed.
    #[must_use]
    pub fn to(
        &self,
        pointer: Point2<f64>,
        view: &View,
        pane: &Pane,
        hold: Option<Axis>,
        snap: Option<Units>,
    ) -> Option<Point3<f64>> {
        let sight = view.through(pointer + self.offset, pane);
        let start = self.world_from_carrier * self.start;
        let world = match hold {
            None => meet_plane(&sight, start, view.sight())?,
            Some(axis) => nearest_on_line(&sight, start, self.world_from_carrier * axis.unit())?,
        };
        let to = self.world_from_carrier.inverse() * world;
        Some(snap.map_or(to, |units| self.snapped(to, units)))
    }

    /// Coordinates that the drag moves go to whole steps; those it leaves keep what they were, however odd.
    fn snapped(&self, to: Point3<f64>, units: Units) -> Point3<f64> {
        let step = units.step_m();
        let snap = |v: f64, was: f64| {
            if (v - was).abs() < 1e-6 {
                was
            } else {
                (v / step).round() * step
            }
        };
        Point3::new(
            snap(to.x, self.start.x),
            snap(to.y, self.start.y),
            snap(to.z, self.start.z),
        )
    }
}

fn meet_plane(sight: &Sight, on: Point3<f64>, normal: Vector3<f64>) -> Option<Point3<f64>> {
    let slant = sight.along.dot(&normal);
    (slant.abs() > 1e-6).then(|| sight.from + sight.along * ((on - sight.from).dot(&normal) / slant))
}

/// The point of a line nearest to a sight; `None` where the sight runs along the line.
fn nearest_on_line(sight: &Sight, on: Point3<f64>, along: Vector3<f64>) -> Option<Point3<f64>> {
    let between = on - sight.from;
    let cos = along.dot(&sight.along);
    let slant = 1.0 - cos * cos;
    (slant > 1e-3).then(|| on + along * ((between.dot(&sight.along) * cos - between.dot(&along)) / slant))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::view::Standard;
    use nalgebra::Vector2;
    use rearend::answers::Answers;
    use rearend::setup::{BarEnd, BarId, Side};

    const PANE: Pane = Pane {
        corner: Point2::new(150.0, 30.0),
        size: Vector2::new(900.0, 600.0),
    };
    const PANHARD: Mount = Mount::Bar {
        bar: BarId(2),
        end: BarEnd::Frame,
        side: Side::Drawn,
    };

    fn scene(height_m: f64) -> (Setup, Row) {
        let setup = shop::demo::ALL[0].setup().expect("a demo reads");
        let row = Answers::of(&setup).pose(&setup, height_m, 0.0).expect("reached");
        (setup, row)
    }

    fn view(which: Standard) -> View {
        View::standard(which, Point3::new(0.0, 0.0, 0.3), 2.0, PANE.size)
    }

    #[test]
    fn a_drag_in_rear_view_stays_in_its_plane_and_follows_the_pointer() {
        let (setup, row) = scene(0.2);
        let view = view(Standard::Rear);
        let start = mount_in_world(&setup, &row, PANHARD).expect("there is one");
        let pointer = view.project(start, &PANE).expect("seen") + Vector2::new(3.0, -2.0);
        let grab = Grab::take(&setup, &row, PANHARD, pointer, &view, &PANE).expect("taken");
        let was = setup.mount(PANHARD).expect("there").point;
        let still = grab.to(pointer, &view, &PANE, None, None).expect("moves");
        assert!((still - was).norm() < 1e-12, "taking hold moves nothing");
        let scale = PANE.size.y / 2.0 / view.half_height_m();
        let moved = grab
            .to(pointer + Vector2::new(-0.05, -0.1) * scale, &view, &PANE, None, None)
            .expect("moves");
        assert!(
            (moved - (was + Vector3::new(0.0, 0.05, 0.1))).norm() < 1e-9,
            "{was} went to {moved}"
        );
    }

    #[test]
    fn a_held_axis_moves_nothing_else() {
        let (setup, row) = scene(0.15);
        let view = view(Standard::Corner);
        let pointer = view
            .project(mount_in_world(&setup, &row, PANHARD).expect("there"), &PANE)
            .expect("seen");
        let grab = Grab::take(&setup, &row, PANHARD, pointer, &view, &PANE).expect("taken");
        let was = setup.mount(PANHARD).expect("there").point;
        let moved = grab
            .to(pointer + Vector2::new(20.0, -60.0), &view, &PANE, Some(Axis::Z), None)
            .expect("moves");
        assert!((moved.x - was.x).abs() < 1e-12 && (moved.y - was.y).abs() < 1e-12 && moved.z > was.z);
    }

    #[test]
    fn snapping_leaves_untouched_coordinates_as_odd_as_they_were() {
        let (mut setup, _) = scene(0.15);
        let odd = Point3::new(-0.205_123_4, 0.35, 0.255);
        assert!(setup.move_mount(PANHARD, odd));
        let row = Answers::of(&setup).pose(&setup, 0.15, 0.0).expect("reached");
        let view = view(Standard::Rear);
        let pointer = view
            .project(mount_in_world(&setup, &row, PANHARD).expect("there"), &PANE)
            .expect("seen");
        let grab = Grab::take(&setup, &row, PANHARD, pointer, &view, &PANE).expect("taken");
        let moved = grab
            .to(
                pointer + Vector2::new(0.0, -31.7),
                &view,
                &PANE,
                None,
                Some(Units::Sixteenths),
            )
            .expect("moves");
        assert!((moved.x - odd.x).abs() < 1e-12);
        let steps = moved.z / Units::Sixteenths.step_m();
        assert!((steps - steps.round()).abs() < 1e-9, "{steps} sixteenths");
    }

    #[test]
    fn a_sight_along_the_held_axis_moves_nothing() {
        let (setup, row) = scene(0.15);
        let view = view(Standard::Rear);
        let pointer = view
            .project(mount_in_world(&setup, &row, PANHARD).expect("there"), &PANE)
            .expect("seen");
        let grab = Grab::take(&setup, &row, PANHARD, pointer, &view, &PANE).expect("taken");
        assert!(
            grab.to(pointer + Vector2::new(9.0, 9.0), &view, &PANE, Some(Axis::X), None)
                .is_none()
        );
    }
}
