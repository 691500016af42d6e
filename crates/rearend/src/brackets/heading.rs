//! Which way round a plate goes on the truck, and which of its holes is which: what is written on it, so that nobody welds it on the wrong
//! way up or bolts into another hole than the table says.

use nalgebra::{Unit, Vector2, Vector3};

use super::{Plate, Stand};

/// A direction that lies closer to square to a plate than this is not shown on it: sine of thirty degrees.
const SHOWN: f64 = 0.5;

/// Arrows closer to one line than this say the same: cosine of twenty-five degrees.
const ONE_LINE: f64 = 0.9;

/// A plate is seen from a side that its face turns to by more than this: sine of twenty-two and a half degrees.
const SEEN: f64 = 0.38;

/// Two plates alike that stand closer to the middle of the truck than this are those of one bracket, m.
const MIDDLE_M: f64 = 0.06;

/// Stands nearer than this are one, m and parts of one.
const SAME: f64 = 1e-9;

/// A direction of the truck in a plate.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Arrow {
    /// Where it points, plate coordinates.
    pub along: Unit<Vector2<f64>>,
    /// What lies there: "up", "forward", "left" or "outboard".
    pub word: &'static str,
}

/// Which way round a plate goes.
#[derive(Clone, Debug, PartialEq)]
pub struct Heading {
    /// The two directions that lie in it best, the better one first: they hold for every one of its stands.
    pub arrows: Vec<Arrow>,
    /// From where it is seen as it is drawn, and which side of the truck has it turned over: a sentence.
    pub words: String,
}

/// A hole of a row.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NumberedHole {
    /// Its number in the row, from 1, as the table of mounts counts.
    pub number: usize,
    /// True for the one that the mount is bolted to.
    pub in_use: bool,
}

impl Stand {
    /// The two directions of the truck that lie best in a plate that stands so. What lies across the truck is told from the middle outwards
    /// where `outboard`, else to the left. Of the axle's plates they are meant with its pinion at the angle it is drawn with.
    #[must_use]
    pub fn arrows(&self, outboard: bool) -> Vec<Arrow> {
        let across = match (outboard, self.origin.y < 0.0) {
            (true, true) => (-Vector3::y(), "outboard"),
            (true, false) => (Vector3::y(), "outboard"),
            (false, _) => (Vector3::y(), "left"),
        };
        let ways = [(Vector3::z(), "up"), (Vector3::x(), "forward"), across];
        let seen = ways.into_iter().filter_map(|(way, word)| {
            let flat = Vector2::new(way.dot(&self.x), way.dot(&self.y));
            let along = Unit::try_new(flat, SHOWN)?;
            Some((flat.norm(), Arrow { along, word }))
        });
        let mut seen: Vec<_> = seen.collect();
        // To the tenth: of those that lie in it as well, up comes first.
        seen.sort_by(|(a, _), (b, _)| (b * 10.0).round().total_cmp(&(a * 10.0).round()));
        let arrows: Vec<_> = seen.into_iter().map(|(_, arrow)| arrow).collect();
        let Some(first) = arrows.first().copied() else {
            return Vec::new();
        };
        let differs = |arrow: &&Arrow| arrow.along.dot(&first.along).abs() < ONE_LINE;
        let second = arrows[1..].iter().find(differs);
        std::iter::once(first).chain(second.copied()).collect()
    }

    /// From where a plate that stands so is seen as it is drawn: "the left", "ahead and above".
    #[must_use]
    pub fn seen_from(&self) -> String {
        let out = self.x.cross(&self.y);
        let name = |part: f64, plus, minus| (part.abs(), if part < 0.0 { minus } else { plus });
        let mut sides = [
            name(out.y, "the left", "the right"),
            name(out.x, "ahead", "behind"),
            name(out.z, "above", "below"),
        ];
        sides.sort_by(|a, b| b.0.total_cmp(&a.0));
        let seen = sides.iter().filter(|(part, _)| *part > SEEN).take(2);
        seen.map(|(_, side)| *side).collect::<Vec<_>>().join(" and ")
    }
}

impl Plate {
    /// Which way round it goes; none where it stands nowhere.
    #[must_use]
    pub fn heading(&self) -> Option<Heading> {
        let first = self.stands.first()?;
        let seen = first.seen_from();
        let is_pair = self.is_on_both_sides();
        let words = if is_pair {
            let (own, other) = if first.origin.y < 0.0 {
                ("Right", "left")
            } else {
                ("Left", "right")
            };
            format!("{own} side as drawn, seen from {seen}; {other} side turned over: the arrows hold for both.")
        } else {
            format!("Drawn as seen from {seen}.")
        };
        Some(Heading {
            arrows: first.arrows(is_pair),
            words,
        })
    }

    /// True where the second half of its stands mirrors the first one across the middle of the truck.
    fn is_on_both_sides(&self) -> bool {
        let half = self.stands.len() / 2;
        if half == 0 || !self.stands.len().is_multiple_of(2) {
            return false;
        }
        let (own, other) = self.stands.split_at(half);
        let far_m = own.iter().map(|s| s.origin.y.abs()).fold(f64::INFINITY, f64::min);
        let is_mirror = |(a, b): (&Stand, &Stand)| {
            let a = a.mirrored();
            let off = (a.origin - b.origin).norm();
            off + (a.x.into_inner() - b.x.into_inner()).norm() + (a.y.into_inner() - b.y.into_inner()).norm() < SAME
        };
        own.iter().zip(other).all(is_mirror) && (half > 1 || far_m > MIDDLE_M)
    }

    /// The numbers of its holes, in their order, as the table of mounts counts them; empty where they are no row: a single hole, or those of
    /// a crank, which has lines from hole to hole.
    #[must_use]
    pub fn numbered_holes(&self) -> Vec<NumberedHole> {
        let is_arm = |to: nalgebra::Point2<f64>| {
            let other = self.holes.iter().find(|hole| (hole.at - to).norm() < SAME);
            other.is_some_and(|hole| hole.at.coords.norm() > SAME)
        };
        if self.holes.len() < 2 || self.scribes.iter().any(|scribe| is_arm(scribe.to)) {
            return Vec::new();
        }
        let holes = self.holes.iter().enumerate();
        holes
            .map(|(i, hole)| NumberedHole {
                number: i + 1,
                // A plate is drawn about the hole in use.
                in_use: hole.at.coords.norm() < SAME,
            })
            .collect()
    }

    /// What the numbers at its holes mean, a sentence; none where there are none.
    #[must_use]
    pub fn numbers_in_words(&self) -> Option<String> {
        let numbers = self.numbered_holes();
        let last = numbers.last()?.number;
        let used = numbers.iter().find(|hole| hole.in_use);
        let used = used.map_or_else(String::new, |hole| {
            format!("; number {} of {last}, with the star, is in use", hole.number)
        });
        Some(format!("Holes are numbered as in the table of mounts{used}."))
    }
}

#[cfg(test)]
mod tests {
    use nalgebra::{Point2, Point3};

    use super::*;
    use crate::answers::Answers;
    use crate::brackets::{self, Bracket};
    use crate::build::mounts::places;
    use crate::setup::{Carrier, HoleRow, Setup};
    use crate::tape::Units;

    const DEMOS: [&str; 4] = [
        include_str!("../../../../demo-scenes/01-parallel-panhard.ron"),
        include_str!("../../../../demo-scenes/02-parallel-watt.ron"),
        include_str!("../../../../demo-scenes/03-triangulated.ron"),
        include_str!("../../../../demo-scenes/07-ladder-bars.ron"),
    ];

    fn demos() -> impl Iterator<Item = Setup> {
        DEMOS.into_iter().map(|text| crate::file::read(text).expect("it reads"))
    }

    fn drawn(setup: &Setup) -> Vec<Bracket> {
        let answers = Answers::of(setup);
        let all = brackets::of(setup, answers.solved.as_ref().ok(), Units::Millimetres);
        all.into_iter().flatten().collect()
    }

    fn stand(y_m: f64, x: Vector3<f64>, y: Vector3<f64>) -> Stand {
        Stand {
            carrier: Carrier::Frame,
            origin: Point3::new(0.0, y_m, 0.0),
            x: Unit::new_normalize(x),
            y: Unit::new_normalize(y),
        }
    }

    fn plate_with(stands: Vec<Stand>) -> Plate {
        let setup = demos().next().expect("there is one");
        let mut plate = drawn(&setup).remove(0).plates.remove(0);
        plate.stands = stands;
        plate
    }

    fn says(stand: &Stand, outboard: bool) -> Vec<(&'static str, [f64; 2])> {
        let arrows = stand.arrows(outboard).into_iter();
        arrows
            .map(|a| (a.word, [a.along.x, a.along.y].map(|v| (v * 1e6).round() / 1e6)))
            .collect()
    }

    /// Seen from the left of a truck its front is to the left.
    #[test]
    fn from_the_left_forward_is_to_the_left_and_up_is_up() {
        let seen = stand(0.4, -Vector3::x(), Vector3::z());
        assert_eq!(says(&seen, true), [("up", [0.0, 1.0]), ("forward", [-1.0, 0.0])]);
        assert_eq!(seen.seen_from(), "the left");
    }

    /// Whoever stands ahead of a truck and looks at it has its left at the right hand.
    #[test]
    fn from_ahead_left_is_to_the_right_and_from_above_forward_is_up_the_page() {
        let ahead = stand(-0.4, Vector3::y(), Vector3::z());
        assert_eq!(says(&ahead, false), [("up", [0.0, 1.0]), ("left", [1.0, 0.0])]);
        assert_eq!(says(&ahead, true), [("up", [0.0, 1.0]), ("outboard", [-1.0, 0.0])]);
        assert_eq!(ahead.seen_from(), "ahead");
        let above = stand(0.4, -Vector3::y(), Vector3::x());
        assert_eq!(says(&above, false), [("forward", [0.0, 1.0]), ("left", [-1.0, 0.0])]);
        assert_eq!(above.seen_from(), "above");
    }

    #[test]
    fn a_plate_on_both_sides_says_which_one_is_turned_over_and_one_in_the_middle_does_not() {
        let left = stand(0.4, Vector3::y(), Vector3::z());
        let words = |stands: Vec<Stand>| plate_with(stands).heading().expect("it stands").words;
        assert_eq!(
            words(vec![left, left.mirrored()]),
            "Left side as drawn, seen from ahead; right side turned over: the arrows hold for both."
        );
        assert_eq!(words(vec![left]), "Drawn as seen from ahead.");
        // Two side plates about the middle of the truck mirror each other, and are one bracket's.
        let near = stand(0.025, -Vector3::x(), Vector3::z());
        assert_eq!(words(vec![near, near.mirrored()]), "Drawn as seen from the left.");
        assert_eq!(plate_with(Vec::new()).heading(), None);
    }

    /// Along every arrow of every plate, at every stand, one goes where its word says.
    #[test]
    fn arrows_hold_wherever_a_plate_stands() {
        let mut turned_over = 0;
        for setup in demos() {
            for plate in drawn(&setup).iter().flat_map(|b| &b.plates) {
                let heading = plate.heading().expect("it stands");
                assert_eq!(heading.arrows.len(), 2, "{}", plate.name);
                turned_over += usize::from(heading.words.contains("turned over"));
                for (stand, arrow) in plate
                    .stands
                    .iter()
                    .flat_map(|s| heading.arrows.iter().map(move |a| (s, a)))
                {
                    let went = stand.place(Point2::from(arrow.along.into_inner())) - stand.place(Point2::origin());
                    let part = match arrow.word {
                        "up" => went.z,
                        "forward" => went.x,
                        "left" => went.y,
                        _ => went.y * stand.origin.y.signum(),
                    };
                    assert!(part >= SHOWN, "{}: {} goes {went:?}", plate.name, arrow.word);
                }
            }
        }
        assert!(turned_over > 10, "{turned_over}");
    }

    #[test]
    fn holes_have_the_numbers_of_the_table_of_mounts() {
        let mut rows = 0;
        for mut setup in demos() {
            for mount in setup.mounts() {
                // The mount in the second of four, the row across the plate as it hangs.
                let (Some(drawn), true) = (setup.mount(mount), setup.has_bracket(mount)) else {
                    continue;
                };
                let step = Vector3::new(0.0, 0.0, 0.03);
                let first = drawn.point - step;
                setup.set_hole_row(mount, Some(HoleRow { first, step, count: 4 }));
            }
            let places = places(&setup);
            for bracket in drawn(&setup) {
                let Some(of) = places.iter().find(|p| p.name == bracket.name).and_then(|p| p.hole) else {
                    continue;
                };
                for plate in bracket.plates.iter().filter(|p| !p.holes.is_empty()) {
                    let numbers = plate.numbered_holes();
                    let used: Vec<_> = numbers.iter().filter(|h| h.in_use).map(|h| h.number).collect();
                    assert_eq!((used, numbers.len()), (vec![of.number], of.of), "{}", plate.name);
                    let words = plate.numbers_in_words().expect("it has a row");
                    assert!(words.contains(&format!("number {} of {}", of.number, of.of)), "{words}");
                    rows += 1;
                }
            }
        }
        assert!(rows > 8, "{rows} rows");
    }

    #[test]
    fn a_single_hole_and_the_holes_of_a_crank_have_no_numbers() {
        let watts = demos().nth(1).expect("there is one");
        let all = drawn(&watts);
        let crank = all.iter().find(|b| b.name == "Watt's crank").expect("it is drawn");
        assert_eq!(crank.plates[0].holes.len(), 3);
        assert!(crank.plates[0].numbered_holes().is_empty() && crank.plates[0].numbers_in_words().is_none());
        let single = all.iter().flat_map(|b| &b.plates).find(|p| p.holes.len() == 1);
        assert!(single.expect("there is one").numbered_holes().is_empty());
    }
}
