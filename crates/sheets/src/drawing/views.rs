//! The three views: what is drawn, in which order, and which figures stand where.

use nalgebra::Point3;
use rearend::rail_line::underside_z_m;
use rearend::setup::Carrier;
use rearend::tape::Units;

use super::board::Board;
use super::ordinates::Edge;
use super::plane::{Flat, View};
use super::shapes::Stretch;
use super::truck::{Peg, Rod, Truck};
use super::{Drawing, Weight};

/// Room for figures beside and below a drawing on paper, m.
const BESIDE_M: f64 = 0.020;
const BELOW_M: f64 = 0.012;

/// How far beyond the drawing leads begin to bend on paper, m.
const CLEAR_M: f64 = 0.003;

/// Less than this is nothing on a tape, m.
const ZERO_M: f64 = 5e-5;

/// Frames that lean more than this against the ground are said to.
const LEANS_RAD: f64 = 1e-4;

/// One view, no larger on paper than `room_m`.
pub(super) fn drawing(truck: &Truck, view: View, units: Units, room_m: Flat) -> Drawing {
    let mut board = Board::new(view);
    let stretch = truck.stretch();
    board.things(truck, stretch);
    board.choose_scale(room_m, [BESIDE_M, BELOW_M]);
    let mut figures = Figures {
        board,
        truck,
        units,
        stretch,
    };
    match view {
        View::Side => figures.side(),
        View::Rear => figures.rear(),
        View::Top => figures.top(),
    }
    let title = match view {
        View::Side => "From the left",
        View::Rear => "From behind",
        View::Top => "From above",
    };
    let note = figures.note();
    figures.board.finish(title, note)
}

impl Board {
    /// The farthest first.
    fn things(&mut self, truck: &Truck, stretch: Stretch) {
        match self.view {
            View::Side => {
                self.rails(truck, stretch);
                self.shaft(truck, stretch);
                self.axle(truck);
                self.tyres(truck);
            }
            View::Rear => {
                self.rails(truck, stretch);
                self.tyres(truck);
                self.axle(truck);
                self.rail_sections(truck);
            }
            View::Top => {
                self.tyres(truck);
                self.shaft(truck, stretch);
                self.axle(truck);
                self.rails(truck, stretch);
            }
        }
        self.springs(truck);
        self.rods(truck);
        self.pegs(truck);
    }
}

/// A board that figures are put on.
struct Figures<'a> {
    board: Board,
    truck: &'a Truck<'a>,
    units: Units,
    stretch: Stretch,
}

impl Figures<'_> {
    fn note(&self) -> String {
        let unit = match self.units {
            Units::Sixteenths | Units::DecimalInches => "inches",
            Units::Millimetres => "millimetres",
        };
        let counted = match self.board.view {
            View::Side => "stations from the axle line, heights from the ground, bars from eye to eye",
            View::Rear => "heights from the ground, bars from eye to eye",
            View::Top => "counted from the middle of the truck",
        };
        let leans = self.truck.setup.travel.rake_rad(self.truck.setup.travel.ride_m).abs() > LEANS_RAD;
        let level = if leans && self.board.view != View::Top {
            " Drawn with the rails level: the ground line runs under the axle, along the rails."
        } else {
            ""
        };
        format!("At ride height, in {unit}; {counted}.{level}")
    }

    fn bare(&self, length_m: f64) -> String {
        if length_m.abs() < ZERO_M {
            return "0".to_owned();
        }
        let text = self.units.length(length_m);
        text.trim_end_matches(" mm").trim_end_matches(" in").to_owned()
    }

    fn height_of(&self, at: Point3<f64>) -> (Flat, String) {
        (self.board.view.flat(at), self.bare(at.z))
    }

    fn pegs(&self, wanted: impl Fn(&Peg) -> bool) -> Vec<Point3<f64>> {
        let pegs = self.truck.pegs.iter().filter(|p| wanted(p));
        pegs.map(|p| p.at).collect()
    }

    fn side(&mut self) {
        let extent = self.board.extent();
        self.board.ground();
        let clear = self.board.paper(CLEAR_M);
        let axle = self.truck.axle.origin;
        let heights = |on: Carrier| {
            self.pegs(|p| p.on == on && !p.is_across)
                .into_iter()
                .map(|p| self.height_of(p))
        };
        let (on_frame, mut on_axle): (Vec<_>, Vec<_>) =
            (heights(Carrier::Frame).collect(), heights(Carrier::Axle).collect());
        on_axle.push(self.height_of(axle));
        let station = |p: Point3<f64>| (View::Side.flat(p), self.bare((p.x - axle.x).abs()));
        let mut stations: Vec<_> = self.pegs(|_| true).into_iter().map(station).collect();
        stations.push(([-axle.x, axle.z], "0".to_owned()));
        self.board.ordinates(Edge::Left, extent.low[0] - clear, on_frame);
        self.board.ordinates(Edge::Right, extent.high[0] + clear, on_axle);
        self.board.ordinates(Edge::Bottom, -clear, stations);
        self.rails_off_ground();
        let units = self.units;
        let says = |rod: &Rod| (!rod.is_twin && !rod.is_across).then(|| named(rod, units));
        self.board.name_rods(self.truck, says);
    }

    /// Ahead of everything, where the rails are as low as they get.
    fn rails_off_ground(&mut self) {
        let x = self.stretch[1] - 0.03;
        let under = self
            .truck
            .raised(Point3::new(x, 0.0, underside_z_m(&self.truck.setup.rails, x)));
        if under.z > 0.0 {
            self.board.height(-x, [0.0, under.z], self.bare(under.z));
        }
    }

    fn rear(&mut self) {
        let extent = self.board.extent();
        self.board.ground();
        let clear = self.board.paper(CLEAR_M);
        let (setup, axle) = (self.truck.setup, self.truck.axle);
        let under_z = underside_z_m(&setup.rails, axle.origin.x);
        let outside = |sign: f64, z: f64| Point3::new(axle.origin.x, sign * setup.rails.spacing_m / 2.0, z);
        let under = self.truck.raised(outside(-1.0, under_z));
        let across = |is_left: bool| self.pegs(|p| p.is_across && (p.at.y > 0.0) == is_left);
        let heights = |points: Vec<Point3<f64>>| points.into_iter().map(|p| self.height_of(p)).collect::<Vec<_>>();
        let (left, mut right) = (heights(across(true)), heights(across(false)));
        right.extend([under, axle.to_frame(Point3::new(0.0, -setup.track_m() / 2.0, 0.0))].map(|p| self.height_of(p)));
        self.board.ordinates(Edge::Left, extent.low[0] - clear, left);
        self.board.ordinates(Edge::Right, extent.high[0] + clear, right);
        let half_m = setup.track_m() / 2.0;
        let ground = |half_m: f64| [[-axle.origin.y - half_m, 0.0], [-axle.origin.y + half_m, 0.0]];
        let track = format!("track {}", self.bare(setup.track_m()));
        let over_m = setup.track_m() + setup.wheels.tyre_width_m;
        let over = format!("over the tyres {}", self.bare(over_m));
        self.board.width(ground(half_m), 0.0, 1.0, track);
        self.board.width(ground(over_m / 2.0), 0.0, 2.0, over);
        let tops = [1.0, -1.0].map(|sign| View::Rear.flat(outside(sign, extent.high[1])));
        let spacing = format!("rails, outside {}", self.bare(setup.rails.spacing_m));
        self.board.width(tops, extent.high[1], -1.0, spacing);
        let middle = vec![[0.0, -clear], [0.0, extent.high[1]]];
        self.board.line(middle, Weight::Centre);
        let units = self.units;
        let says = |rod: &Rod| rod.is_across.then(|| named(rod, units));
        self.board.name_rods(self.truck, says);
    }

    fn top(&mut self) {
        let extent = self.board.extent();
        let clear = self.board.paper(CLEAR_M);
        let of = |on: Carrier| {
            let pegs = self.pegs(|p| p.on == on && !self.has_left_twin(p));
            let figure = |p: Point3<f64>| (View::Top.flat(p), self.bare(p.y.abs()));
            pegs.into_iter().map(figure).collect::<Vec<_>>()
        };
        let (mut ahead, behind) = (of(Carrier::Frame), of(Carrier::Axle));
        ahead.push(([0.0, extent.high[1]], "0".to_owned()));
        self.board.ordinates(Edge::Top, extent.high[1] + clear, ahead);
        self.board.ordinates(Edge::Bottom, extent.low[1] - clear, behind);
        self.board
            .line(vec![[0.0, extent.low[1]], [0.0, extent.high[1]]], Weight::Centre);
        let says = |rod: &Rod| (!rod.is_twin).then(|| rod.name.clone());
        self.board.name_rods(self.truck, says);
    }

    /// What is as far to the right as something is to the left needs no figure of its own.
    fn has_left_twin(&self, peg: &Peg) -> bool {
        let twin = Point3::new(peg.at.x, -peg.at.y, peg.at.z);
        peg.at.y < 0.0
            && self
                .truck
                .pegs
                .iter()
                .any(|p| p.on == peg.on && (p.at - twin).norm() < 1e-4)
    }
}

/// A rod with its length from eye to eye.
fn named(rod: &Rod, units: Units) -> String {
    let [a, b] = rod.ends;
    format!("{} {}", rod.name, units.length((a - b).norm()))
}
