//! How wide an axle has to be: from the fender lips and the gaps wanted to where the flanges go and what to cut off, or the other way round.
//!
//! With a tape on the truck at ride height, the axle straight: what shifts and leans through the travel is [`super::Tightest`]'s.

use super::Hand;
use crate::setup::{Body, Setup};

/// One end of an axle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AxleEnd {
    /// Middle of the frame out to the wheel's mounting face.
    pub flange_m: f64,
    /// The pinion's axis out to the wheel's mounting face: what is left of this side of the housing.
    pub from_pinion_m: f64,
    /// To cut off this side of the housing as described; less than nothing where it has to grow.
    pub cut_m: f64,
    /// Tyre to fender lip.
    pub lip_gap_m: f64,
    /// Tyre to rail, or to the tub where that is nearer.
    pub inner_gap_m: f64,
}

/// Both ends of an axle, with the pinion where it is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AxleWidth {
    /// The left end.
    pub left: AxleEnd,
    /// The right end.
    pub right: AxleEnd,
}

impl AxleWidth {
    /// The axle as described: which gaps its width leaves. `None` where no body is described.
    #[must_use]
    pub fn described(setup: &Setup) -> Option<Self> {
        let body = setup.body.as_ref()?;
        let end = |side| AxleEnd::new(setup, body, side, flange_m(setup, side));
        Some(Self {
            left: end(Hand::Left),
            right: end(Hand::Right),
        })
    }

    /// The axle that leaves these gaps between tyres and lips, left and right. `None` where no body is described, or where there would be
    /// no housing left on a side of the pinion.
    #[must_use]
    pub fn for_lip_gaps(setup: &Setup, left_gap_m: f64, right_gap_m: f64) -> Option<Self> {
        let body = setup.body.as_ref()?;
        let end = |side, gap_m| {
            let to_face = setup.wheels.outset_m() + setup.wheels.tyre_width_m / 2.0;
            AxleEnd::new(setup, body, side, side.lip_m(body) - gap_m - to_face)
        };
        let width = Self {
            left: end(Hand::Left, left_gap_m),
            right: end(Hand::Right, right_gap_m),
        };
        let is_housing = |end: AxleEnd| end.from_pinion_m > 0.0;
        (is_housing(width.left) && is_housing(width.right)).then_some(width)
    }

    /// The axle with the gap that the body wants, on both sides.
    #[must_use]
    pub fn wanted(setup: &Setup) -> Option<Self> {
        let gap_m = setup.body.as_ref()?.lip_gap_m;
        Self::for_lip_gaps(setup, gap_m, gap_m)
    }

    /// Wheel mounting face to wheel mounting face.
    #[must_use]
    pub fn flange_to_flange_m(&self) -> f64 {
        self.left.flange_m + self.right.flange_m
    }

    /// The end on a side.
    #[must_use]
    pub fn end(&self, side: Hand) -> &AxleEnd {
        match side {
            Hand::Left => &self.left,
            Hand::Right => &self.right,
        }
    }
}

impl AxleEnd {
    fn new(setup: &Setup, body: &Body, side: Hand, flange_m: f64) -> Self {
        let middle_m = flange_m + setup.wheels.outset_m();
        let half_m = setup.wheels.tyre_width_m / 2.0;
        let pinion_m = setup.placement.left_m + setup.axle.pinion_offset_m;
        let rail_m = setup.rails.spacing_m / 2.0;
        let inside_m = side.tub_m(body).map_or(rail_m, |tub_m| tub_m.max(rail_m));
        Self {
            flange_m,
            from_pinion_m: flange_m - side.sign() * pinion_m,
            cut_m: self::flange_m(setup, side) - flange_m,
            lip_gap_m: side.lip_m(body) - middle_m - half_m,
            inner_gap_m: middle_m - half_m - inside_m,
        }
    }
}

fn flange_m(setup: &Setup, side: Hand) -> f64 {
    setup.axle.flange_to_flange_m / 2.0 + side.sign() * setup.placement.left_m
}

/// The backspacing that leaves a gap between a side's tyre and its lip on the axle as it is. `None` where no body is described, or where
/// such a rim would not reach its own mounting face.
#[must_use]
pub fn backspacing_for_lip_gap_m(setup: &Setup, side: Hand, gap_m: f64) -> Option<f64> {
    let now = AxleWidth::described(setup)?;
    let outward_m = now.end(side).lip_gap_m - gap_m;
    backspacing_moved_m(setup, outward_m)
}

/// The backspacing that puts the tyre farther out by this.
pub(super) fn backspacing_moved_m(setup: &Setup, outward_m: f64) -> Option<f64> {
    let wheels = &setup.wheels;
    let over_edges_m = 2.0 * (wheels.outset_m() - wheels.spacer_m + wheels.backspacing_m);
    let backspacing_m = wheels.backspacing_m - outward_m;
    (backspacing_m > 0.0 && backspacing_m < over_edges_m).then_some(backspacing_m)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::file;

    /// The first demo truck with a body that sits 10 mm to the left, and a pinion 40 mm to the right.
    fn truck() -> Setup {
        let mut setup = file::read(include_str!("../../../../demo-scenes/01-parallel-panhard.ron")).expect("it reads");
        setup.axle.pinion_offset_m = -0.040;
        setup.wheels.rim_width_m = Some(0.2032);
        setup.body = Some(Body {
            lip_to_lip_m: 1.800,
            lips_left_m: 0.010,
            lip_z_m: 0.3,
            opening_m: 0.8,
            opening_x_m: 0.0,
            tub_to_tub_m: None,
            bed_floor_z_m: None,
            lip_gap_m: 0.0127,
            inner_gap_m: 0.0254,
        });
        setup
    }

    #[track_caller]
    fn close(found: f64, expected: f64) {
        assert!((found - expected).abs() < 1e-12, "{found}, expected {expected}");
    }

    /// By hand. Rim 203.2 + 25.4 over its edges, half of it 114.3, less 115 of backspacing: the tyre's middle 0.7 inside the flange.
    /// Left: 910 - 12.7 - 117.5 + 0.7 = 780.5 from the middle, 820.5 from the pinion; right: 890 - 12.7 - 117.5 + 0.7 = 760.5 and 720.5.
    #[test]
    fn the_gaps_wanted_say_where_to_cut() {
        let width = AxleWidth::wanted(&truck()).expect("there is a body");
        close(width.left.flange_m, 0.7805);
        close(width.left.from_pinion_m, 0.8205);
        close(width.left.cut_m, 0.762 - 0.7805);
        close(width.right.flange_m, 0.7605);
        close(width.right.from_pinion_m, 0.7205);
        close(width.right.cut_m, 0.0015);
        close(width.flange_to_flange_m(), 1.541);
        // 780.5 - 0.7 - 117.5 - 432.
        close(width.left.inner_gap_m, 0.2303);
    }

    #[test]
    fn the_axle_as_described_leaves_gaps_that_ask_for_itself() {
        let setup = truck();
        let now = AxleWidth::described(&setup).expect("there is a body");
        close(now.left.lip_gap_m, 0.910 - (0.762 - 0.0007 + 0.1175));
        close(now.left.lip_gap_m - now.right.lip_gap_m, 0.020);
        let again = AxleWidth::for_lip_gaps(&setup, now.left.lip_gap_m, now.right.lip_gap_m);
        let again = again.expect("it is the same axle");
        close(again.left.cut_m, 0.0);
        close(again.right.cut_m, 0.0);
        close(again.flange_to_flange_m(), setup.axle.flange_to_flange_m);
    }

    #[test]
    fn a_wheel_with_the_backspacing_told_leaves_the_gap() {
        let mut setup = truck();
        for side in Hand::BOTH {
            let backspacing_m = backspacing_for_lip_gap_m(&setup, side, 0.0127).expect("there is one");
            setup.wheels.backspacing_m = backspacing_m;
            let now = AxleWidth::described(&setup).expect("there is a body");
            close(now.end(side).lip_gap_m, 0.0127);
        }
        assert_eq!(backspacing_for_lip_gap_m(&setup, Hand::Left, 0.5), None);
        assert_eq!(backspacing_for_lip_gap_m(&setup, Hand::Left, -0.5), None);
    }

    #[test]
    fn what_is_not_described_or_cannot_be_built_has_no_width() {
        let mut setup = truck();
        assert_eq!(AxleWidth::for_lip_gaps(&setup, 0.85, 0.01), None);
        if let Some(body) = &mut setup.body {
            body.tub_to_tub_m = Some(1.2);
        }
        let now = AxleWidth::described(&setup).expect("there is a body");
        // The tubs sit with the body: 600 + 10 on the left, outside the rail's 432.
        close(now.left.inner_gap_m, 0.762 - 0.0007 - 0.1175 - 0.610);
        setup.body = None;
        assert_eq!(AxleWidth::described(&setup), None);
        assert_eq!(AxleWidth::wanted(&setup), None);
    }
}
