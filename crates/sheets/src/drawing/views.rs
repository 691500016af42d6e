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

/// Room for figures beside and below a drawing on paper, m: heights with the way they go, widths without.
const BESIDE_M: f64 = 0.029;
const BELOW_M: f64 = 0.012;

/// How far behind the foremost of the rails their underside is measured, m.
const AHEAD_M: f64 = 0.03;

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
    board.choose_scale(
        room_m,
        if view == View::Top {
            [BELOW_M; 2]
        } else {
            [BESIDE_M, BELOW_M]
        },
    );
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
            View::Side => {
                "as in the tables of mounts: the frame's from the straight rail's underside (figures on the left) and from the axle line, the axle's from the tube's centre (on the right); bars from eye to eye"
            }
            View::Rear => {
                "heights as in the tables of mounts: the frame's from the straight rail's underside (on the left), the axle's from the tube's centre (on the right); bars from eye to eye"
            }
            View::Top => {
                "as in the tables of mounts: the frame's from the middle of the truck (figures at the top), the axle's from the middle of its tube (below)"
            }
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
        bare(&self.units.length(length_m))
    }

    /// Without the unit.
    fn bare_height(&self, peg: &Peg) -> String {
        if peg.place.above_m().abs() < ZERO_M {
            return self.bare(0.0);
        }
        bare(&peg.place.height_words(self.units))
    }

    fn pegs(&self, on: Carrier) -> impl Iterator<Item = &Peg> {
        self.truck.pegs.iter().filter(move |peg| peg.place.carrier == on)
    }

    /// Heights of what a carrier has, with the zero that they are told from.
    fn heights(&self, on: Carrier, is_sideways: bool, zero: Point3<f64>) -> Vec<(Flat, String)> {
        let flat = |at| self.board.view.flat(at);
        let pegs = self.pegs(on).filter(|peg| peg.place.is_sideways == is_sideways);
        let heights = pegs.map(|peg| (flat(peg.at), self.bare_height(peg)));
        heights.chain([(flat(zero), self.bare(0.0))]).collect()
    }

    fn side(&mut self) {
        let extent = self.board.extent();
        self.board.ground();
        let clear = self.board.paper(CLEAR_M);
        let axle = self.truck.axle.origin;
        let straight = self.truck.raised(Point3::new(self.stretch[1] - AHEAD_M, 0.0, 0.0));
        let on_frame = self.heights(Carrier::Frame, false, straight);
        let on_axle = self.heights(Carrier::Axle, false, axle);
        let station = |peg: &Peg| (View::Side.flat(peg.at), self.bare(peg.place.ahead_m().abs()));
        let mut stations: Vec<_> = self.truck.pegs.iter().map(station).collect();
        stations.push(([0.0, axle.z], self.bare(0.0)));
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
        let x = self.stretch[1] - AHEAD_M;
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
        let outside = |sign: f64, z: f64| Point3::new(axle.origin.x, sign * setup.rails.spacing_m / 2.0, z);
        let mut left = self.heights(Carrier::Frame, true, self.truck.raised(outside(1.0, 0.0)));
        let under_z = underside_z_m(&setup.rails, axle.origin.x);
        if under_z.abs() > ZERO_M {
            let way = if under_z < 0.0 { "below" } else { "above" };
            let under = View::Rear.flat(self.truck.raised(outside(1.0, under_z)));
            left.push((under, format!("{} {way}", self.bare(under_z.abs()))));
        }
        let right_end = axle.to_frame(Point3::new(0.0, -setup.track_m() / 2.0, 0.0));
        let right = self.heights(Carrier::Axle, true, right_end);
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
            let pegs = self.pegs(on).filter(|peg| !self.has_left_twin(peg));
            let figure = |peg: &Peg| (View::Top.flat(peg.at), self.bare(peg.place.left_m().abs()));
            pegs.map(figure).collect::<Vec<_>>()
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
        let own = peg.place.at;
        let twin = Point3::new(own.x, -own.y, own.z);
        own.y < 0.0 && self.pegs(peg.place.carrier).any(|p| (p.place.at - twin).norm() < 1e-4)
    }
}

/// A figure without its unit, which the drawing's note has.
fn bare(told: &str) -> String {
    told.replace(" mm", "").replace(" in", "")
}

/// A rod with its length from eye to eye.
fn named(rod: &Rod, units: Units) -> String {
    let [a, b] = rod.ends;
    format!("{} {}", rod.name, units.length((a - b).norm()))
}
