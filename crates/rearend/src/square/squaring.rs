//! Squaring the axle: by how much to turn which adjusters so that it stands square, central and with its pinion as drawn.
//!
//! Least squares over all adjusters at once: what is off, each in the measure of what counts as right, is brought down by Newton's steps
//! on the table of turns, which is worked out again at every step. A rod end is clamped where its hex is, so turns end at quarters; the
//! nearest quarters are then tried one up and one down until none does better.

use nalgebra::{DMatrix, DVector};

use super::{CENTRAL_M, SQUARE_M, Stance};
use crate::mechanism::{Part, RearEnd};
use crate::setup::{AsBuilt, BarId, Length, Setup, Side};
use crate::travel::Row;

/// Off by this the pinion counts as much as an axle that is just not square any more: a quarter of a degree, finer than common practice
/// asks of working angles.
const PINION_RAD: f64 = 0.25 * std::f64::consts::PI / 180.0;

/// Lengthwise a quarter of an inch is as much: wheels in their openings forgive it.
const FORWARD_M: f64 = 0.006_35;

/// What one turn costs by itself, so that of several ways the one with the smallest turns is taken, and none is turned for nothing.
const A_TURN: f64 = 0.02;

/// Turns end at this part of a turn.
const STEP: f64 = 0.25;

/// As far as adjusters go, turns.
const MOST_TURNS: f64 = 60.0;

/// No step of the way is longer than this many turns: farther away the table of turns tells nothing.
const LONGEST_STEP: f64 = 8.0;

/// A step this small ends the way: far below a quarter of a turn.
const SETTLED: f64 = 1e-3;

/// Steps of the way; each takes four fifths of what is left or more.
const MOST_STEPS: usize = 12;

/// What has to be won, in squares of what counts as right, for another quarter to be better: a thirtieth of that, which no tape tells.
const WORTH: f64 = 1e-3;

/// Quarters tried one after the other.
const MOST_TRIES: usize = 40;

/// One adjuster that is to be turned.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Turned {
    /// Its bar; of a mirrored one both sides turn alike.
    pub part: Part,
    /// Turns from where it is now, + longer. It ends at a whole number of quarter turns from where it was delivered.
    pub by: f64,
    /// The bar afterwards.
    pub to: AsBuilt,
}

/// What turning the adjusters can do for the axle at ride height.
#[derive(Clone, Debug, PartialEq)]
pub struct Squaring {
    /// What to turn; empty where no quarter turn does any better.
    pub turns: Vec<Turned>,
    /// How the axle stands afterwards.
    pub stance: Stance,
}

impl Squaring {
    /// Of a setup as it is; `None` where no bar has an adjuster, or where the bars cannot be bolted in. Takes some milliseconds.
    #[must_use]
    pub fn of(setup: &Setup) -> Option<Self> {
        let adjusters = Adjusters::of(setup);
        let start = adjusters.counts();
        if start.is_empty() {
            return None;
        }
        let mut at = (start.clone(), adjusters.cost(&start)?);
        for _ in 0..MOST_STEPS {
            let next = adjusters.best_near(&at.0).map(|best| in_quarters(&at.0, &best));
            let next = next.and_then(|counts| adjusters.polished(counts));
            match next.filter(|(_, cost)| *cost < at.1 - WORTH) {
                Some(better) => at = better,
                None => break,
            }
        }
        let turned = adjusters.turned(&at.0);
        let rear_end = RearEnd::compile(&turned).ok()?;
        Some(Self {
            turns: adjusters.differences(&start, &at.0),
            stance: Stance::of(&turned, &Row::at_ride(&turned, &rear_end)),
        })
    }
}

/// Everything that can be turned, in the order of the table of turns; counts of turns are in the same order.
struct Adjusters<'a> {
    setup: &'a Setup,
    bars: Vec<(Part, AsBuilt)>,
}

impl<'a> Adjusters<'a> {
    fn of(setup: &'a Setup) -> Self {
        let bars = (0..setup.bars.len()).map(|i| Part::Bar(BarId(i), Side::Drawn));
        let parts = bars.chain([Part::WattLeft, Part::WattRight]);
        let built = |part| match setup.length(part)? {
            Length::AsBuilt(bar) => Some((part, bar)),
            Length::CutToSuit => None,
        };
        Self {
            setup,
            bars: parts.filter_map(built).collect(),
        }
    }

    fn counts(&self) -> DVector<f64> {
        DVector::from_iterator(self.bars.len(), self.bars.iter().map(|(_, bar)| bar.turns))
    }

    fn turned(&self, counts: &DVector<f64>) -> Setup {
        let mut setup = self.setup.clone();
        for ((part, bar), &turns) in self.bars.iter().zip(counts) {
            setup.set_length(*part, Length::AsBuilt(AsBuilt { turns, ..*bar }));
        }
        setup
    }

    fn differences(&self, from: &DVector<f64>, to: &DVector<f64>) -> Vec<Turned> {
        let each = self.bars.iter().zip(from.iter().zip(to));
        each.filter(|(_, (from, to))| from != to)
            .map(|((part, bar), (&from, &turns))| Turned {
                part: *part,
                by: turns - from,
                to: AsBuilt { turns, ..*bar },
            })
            .collect()
    }

    /// What is off, each by what counts as right: squareness, middle, pinion, lengthwise, and how far every bar has to give to be bolted in,
    /// so that no bar is squared against another. `None` where the bars cannot be bolted in.
    fn misses(&self, counts: &DVector<f64>) -> Option<DVector<f64>> {
        let setup = self.turned(counts);
        let rear_end = RearEnd::compile(&setup).ok()?;
        let stance = Stance::of(&setup, &Row::at_ride(&setup, &rear_end));
        // Where bars were cut to suit with the axle turned, the drawing went with it.
        let drawn_rad = setup.axle.pinion_angle_rad + setup.placement.nose_up_rad;
        let axle = [
            stance.out_of_square_m / SQUARE_M,
            stance.left_m / CENTRAL_M,
            (stance.pinion_rad - drawn_rad) / PINION_RAD,
            stance.forward_m / FORWARD_M,
        ];
        let gives = rear_end.mechanism.strains(&rear_end.ride).map(|s| s.gap_m);
        let gives = gives.map(|gap_m| gap_m / setup.limits.misfit_m);
        Some(DVector::from_vec(axle.into_iter().chain(gives).collect()))
    }

    fn cost(&self, counts: &DVector<f64>) -> Option<f64> {
        self.misses(counts).map(|miss| miss.norm_squared())
    }

    /// What a turn of each does to what is off, a column each.
    fn effects(&self, counts: &DVector<f64>, misses: &DVector<f64>) -> Option<DMatrix<f64>> {
        let column = |which: usize| {
            let mut one_more = counts.clone();
            one_more[which] += 1.0;
            Some(self.misses(&one_more)? - misses)
        };
        let columns: Option<Vec<_>> = (0..self.bars.len()).map(column).collect();
        Some(DMatrix::from_columns(&columns?))
    }

    /// The counts that put the axle best, any part of a turn allowed.
    fn best_near(&self, start: &DVector<f64>) -> Option<DVector<f64>> {
        let each_turn = A_TURN * A_TURN;
        let mut at = start.clone();
        for _ in 0..MOST_STEPS {
            let misses = self.misses(&at)?;
            let effects = self.effects(&at, &misses)?;
            let bars = self.bars.len();
            let normal = effects.tr_mul(&effects) + DMatrix::identity(bars, bars) * each_turn;
            let pull = effects.tr_mul(&misses) + (&at - start) * each_turn;
            let mut step = normal.cholesky()?.solve(&-pull);
            step *= (LONGEST_STEP / step.amax()).min(1.0);
            at += &step;
            at.apply(|turns| *turns = turns.clamp(-MOST_TURNS, MOST_TURNS));
            if step.amax() < SETTLED {
                break;
            }
        }
        Some(at)
    }

    /// One quarter up or down at a time, the one that wins most first, until none does; with what it costs. `None` where the bars cannot be
    /// bolted in.
    fn polished(&self, counts: DVector<f64>) -> Option<(DVector<f64>, f64)> {
        let cost = self.cost(&counts)?;
        let mut at = (counts, cost);
        for _ in 0..MOST_TRIES {
            let tries = (0..self.bars.len()).flat_map(|which| [-1.0, 1.0].map(|way| next_quarter(&at.0, which, way)));
            let priced = tries.filter_map(|counts| Some((self.cost(&counts)?, counts)));
            match priced.min_by(|a, b| a.0.total_cmp(&b.0)) {
                Some((cost, counts)) if cost < at.1 - WORTH => at = (counts, cost),
                _ => break,
            }
        }
        Some(at)
    }
}

/// To the nearest quarters; what hardly moves stays where it is.
fn in_quarters(from: &DVector<f64>, to: &DVector<f64>) -> DVector<f64> {
    from.zip_map(to, |from, to| {
        if (to - from).abs() < STEP / 2.0 {
            from
        } else {
            (to / STEP).round() * STEP
        }
    })
}

/// One adjuster on at its next quarter, either way.
fn next_quarter(counts: &DVector<f64>, which: usize, way: f64) -> DVector<f64> {
    let mut next = counts.clone();
    let ahead = (counts[which] * way / STEP + 1e-9).floor() + 1.0;
    next[which] = (ahead * STEP * way).clamp(-MOST_TURNS, MOST_TURNS);
    next
}

/// Turns as they are said: "1 1/2 turns longer", "1/4 turn shorter", "0.1 turns longer"; + longer. None is "as delivered" for a count.
#[must_use]
pub fn turns_in_words(turns: f64) -> Option<String> {
    let size = turns.abs();
    let (whole, rest) = (size.floor(), size.fract());
    let in_words = [(0.25, "1/4"), (0.5, "1/2"), (0.75, "3/4")];
    let part = in_words.iter().find(|(part, _)| (rest - part).abs() < 1e-6);
    let number = match part {
        Some((_, part)) if whole == 0.0 => (*part).to_owned(),
        Some((_, part)) => format!("{whole} {part}"),
        None => {
            let text = format!("{size:.3}");
            text.trim_end_matches('0').trim_end_matches('.').to_owned()
        }
    };
    if number == "0" {
        return None;
    }
    let noun = if size <= 1.0 + 1e-6 && (part.is_some() || number == "1") {
        "turn"
    } else {
        "turns"
    };
    let way = if turns < 0.0 { "shorter" } else { "longer" };
    Some(format!("{number} {noun} {way}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn turns_are_said_in_quarters_where_they_are_quarters() {
        for (turns, words) in [
            (-1.5, "1 1/2 turns shorter"),
            (0.25, "1/4 turn longer"),
            (1.0, "1 turn longer"),
            (1.25, "1 1/4 turns longer"),
            (-3.0, "3 turns shorter"),
            (0.1, "0.1 turns longer"),
            (-2.372, "2.372 turns shorter"),
        ] {
            assert_eq!(turns_in_words(turns).as_deref(), Some(words));
        }
        assert_eq!(turns_in_words(0.0), None);
        assert_eq!(turns_in_words(-0.0001), None);
    }

    #[test]
    fn the_next_quarter_is_on_the_grid_and_never_the_same() {
        for (turns, down, up) in [
            (0.0, -0.25, 0.25),
            (0.1, 0.0, 0.25),
            (-1.5, -1.75, -1.25),
            (-0.3, -0.5, -0.25),
        ] {
            let counts = DVector::from_vec(vec![turns]);
            assert_eq!(next_quarter(&counts, 0, -1.0)[0], down);
            assert_eq!(next_quarter(&counts, 0, 1.0)[0], up);
        }
    }

    #[test]
    fn what_hardly_moves_is_not_turned() {
        let vector = |values: [f64; 4]| DVector::from_vec(values.to_vec());
        let rounded = in_quarters(&vector([0.0, 2.37, 2.37, -1.0]), &vector([-1.53, 2.40, 2.55, -1.2]));
        assert_eq!(rounded, vector([-1.5, 2.37, 2.5, -1.25]));
    }
}
