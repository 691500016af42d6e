//! Parts that exist: from the lengths that fit the drawing to those the links have, and so to where the platform stands.

use thiserror::Error;

use crate::closure::ClosureId;
use crate::configuration::Configuration;
use crate::link::LinkId;
use crate::mechanism::Mechanism;
use crate::solve::Solved;
use crate::tolerance;

/// Why links of given lengths cannot be put together.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum Unfit {
    /// A length is not a usable number.
    #[error("the length of link {} is not usable", .0.0)]
    UnusableLength(LinkId),
    /// They do not close; names the part that is farthest from fitting.
    #[error("the links do not close at the drawn height")]
    DoesNotClose(Option<ClosureId>),
}

impl Mechanism {
    /// Gives links other lengths (m, `None` keeps the drawn one) and puts them together at the drawn height and roll.
    ///
    /// The lengths change in steps of at most [`tolerance::STEP_M`], so that the pose is the one that continues from the drawing. What
    /// the mechanism can do afterwards starts from the pose found.
    ///
    /// # Errors
    /// Where the links do not close on the way there.
    pub fn fit(&mut self, lengths_m: &[Option<f64>]) -> Result<Solved, Unfit> {
        let drawn: Vec<f64> = self.links.iter().map(|l| l.length_m).collect();
        let wanted: Vec<f64> = (0..drawn.len())
            .map(|i| lengths_m.get(i).copied().flatten().unwrap_or(drawn[i]))
            .collect();
        if let Some(i) = wanted
            .iter()
            .position(|l| !l.is_finite() || *l < crate::mechanism::COINCIDENT_M)
        {
            return Err(Unfit::UnusableLength(LinkId(i)));
        }
        let changes = drawn.iter().zip(&wanted).map(|(d, w)| (w - d).abs());
        let largest = changes.fold(0.0, f64::max);
        let mut at = Solved {
            at: self.drawn,
            misfit_m: 0.0,
        };
        let steps = steps(largest);
        for step in 1..=steps {
            let part = f64::from(step) / f64::from(steps);
            // To the last bit what was asked for in the end.
            let mixed = |(d, w): (&f64, &f64)| if step == steps { *w } else { d + (w - d) * part };
            self.set_lengths(drawn.iter().zip(&wanted).map(mixed));
            at = self.next(&at.at)?;
        }
        self.method = self.method_at(&at.at);
        Ok(at)
    }

    fn next(&self, from: &Configuration) -> Result<Solved, Unfit> {
        let stuck = || Unfit::DoesNotClose(self.tightest(from));
        let solved = self.assemble(from).map_err(|_| stuck())?;
        let moved = self.size_of(&crate::walk::difference(&solved.at, from));
        // A few millimetres of bar move the platform by centimetres at most, unless it snapped over.
        if self.gives_too_much(&solved) || moved > tolerance::LEAP * self.scale_m {
            return Err(stuck());
        }
        Ok(solved)
    }
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "bounded just before"
)]
fn steps(largest_m: f64) -> u32 {
    (largest_m / tolerance::STEP_M).ceil().clamp(1.0, 200.0) as u32
}
