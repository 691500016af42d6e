//! What of the truck a finding is about.

use super::{Finding, Kind};
use crate::clearance::{self, Near, Solid};
use crate::ground::{self, Low};
use crate::hand::Hand;
use crate::tyres;

/// What is lit up on the stage.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Lit {
    /// What lights up.
    pub solids: Vec<Solid>,
    /// Where two of them come nearest to each other.
    pub near: Option<Near>,
}

impl Lit {
    /// True where there is nothing to see.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.solids.is_empty()
    }
}

impl Finding {
    /// What it is about; nothing where that is the truck as a whole.
    #[must_use]
    pub fn lit(&self) -> Lit {
        let near = match &self.kind {
            Kind::Clearance(fault) => Some(fault.near()),
            _ => None,
        };
        let solids = match (&self.kind, near) {
            (_, Some(near)) => vec![near.a, near.b],
            (Kind::Driveline(_), _) => vec![Solid::FrontShaft, Solid::Shaft],
            (Kind::Spring(_), _) => Hand::BOTH.map(Solid::Spring).to_vec(),
            (Kind::Tyre(fault), _) => of_tyres(fault),
            (Kind::Ground(fault), _) => of_ground(fault),
            (Kind::Shift { .. } | Kind::Free(_), _) => vec![Solid::AxleTube],
            (Kind::PinionChange { .. }, _) => vec![Solid::CentreSection],
            (Kind::Square(_), _) => vec![Solid::AxleTube, Solid::Tyre(Hand::Left), Solid::Tyre(Hand::Right)],
            _ => self.part.map(Solid::Part).into_iter().collect(),
        };
        Lit { solids, near }
    }
}

impl clearance::Fault {
    /// The two things it is about.
    #[must_use]
    pub fn near(&self) -> Near {
        match self {
            Self::Touches(near) | Self::Tight(near) | Self::Notch(near, _) | Self::Clear(near) => *near,
        }
    }
}

fn of_tyres(fault: &tyres::Fault) -> Vec<Solid> {
    let beside = |tight: &tyres::Tightest| {
        let place = match tight.place {
            tyres::Place::Lip => Solid::Lip(tight.side),
            tyres::Place::Rail => Solid::Rail(tight.side),
            tyres::Place::Tub => Solid::Tub(tight.side),
            tyres::Place::Floor => Solid::BedFloor,
        };
        vec![Solid::Tyre(tight.side), place]
    };
    match fault {
        tyres::Fault::Room(tight) => beside(tight),
        tyres::Fault::Clear(_) | tyres::Fault::Opening { .. } => Hand::BOTH.map(Solid::Tyre).to_vec(),
        tyres::Fault::Fit(_) => vec![Solid::AxleTube],
    }
}

fn of_ground(fault: &ground::Fault) -> Vec<Solid> {
    let lowest = match fault {
        ground::Fault::InGround { lowest, .. }
        | ground::Fault::Clear { lowest }
        | ground::Fault::BelowScrubLine { lowest, .. } => lowest,
        ground::Fault::Rests { on, .. } => on,
    };
    of_low(&lowest.what)
}

fn of_low(low: &Low) -> Vec<Solid> {
    match low {
        Low::Rails(_) => Hand::BOTH.map(Solid::Rail).to_vec(),
        Low::CentreSection => vec![Solid::CentreSection],
        Low::End(part, _) => vec![Solid::Part(*part)],
        Low::SpringMount(_) => Hand::BOTH.map(Solid::Spring).to_vec(),
        Low::Shaft => vec![Solid::Shaft],
    }
}
