//! Edits of a setup, each a plain value.

use nalgebra::Point3;
use rearend::answers::Answers;
use rearend::file::{self, FileError};
use rearend::findings::Remedy;
use rearend::setup::{Bar, BarId, Limits, Mount, Setup, SetupError, Travel};
use thiserror::Error;

/// One edit.
#[derive(Clone, Debug, PartialEq)]
pub enum Change {
    /// Put a mount at a point of its carrier's coordinates, m.
    MoveMount {
        /// Which.
        mount: Mount,
        /// Where to.
        to: Point3<f64>,
    },
    /// Let a bar stand for two, or for one.
    SetMirrored {
        /// Which bar.
        bar: BarId,
        /// True for two.
        mirrored: bool,
    },
    /// Other heights.
    SetTravel(Travel),
    /// Other limits.
    SetLimits(Limits),
    /// Another name.
    Rename(String),
    /// What a finding offers.
    Take(Remedy),
}

/// Why an edit was refused; the setup is as it was.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum ChangeError {
    /// The setup would make no sense.
    #[error(transparent)]
    Setup(#[from] SetupError),
    /// There is no such part any more, or the value is not a usable number.
    #[error("that part cannot be moved there")]
    NoSuchMount,
    /// A value that no file would take back.
    #[error("{0}")]
    Unusable(String),
    /// The height that a remedy needs is not reached.
    #[error("that height is not reached, so nothing can be levelled there")]
    NotReached,
}

impl Change {
    /// What undo calls it.
    #[must_use]
    pub fn name(&self, setup: &Setup) -> String {
        match self {
            Self::MoveMount { mount, .. } => format!("move {}", setup.mount_name(*mount)),
            Self::SetMirrored { bar, mirrored } => {
                let name = setup.bar(*bar).map_or("bar", |b| &b.name);
                if *mirrored {
                    format!("mirror the {name}")
                } else {
                    format!("unlink the {name}")
                }
            }
            Self::SetTravel(_) => "change the heights".to_owned(),
            Self::SetLimits(_) => "change the limits".to_owned(),
            Self::Rename(_) => "rename".to_owned(),
            Self::Take(remedy) => remedy.label().to_owned(),
        }
    }

    /// The setup after the edit.
    ///
    /// # Errors
    /// When the result would make no sense.
    pub(crate) fn applied(&self, setup: &Setup, answers: &Answers) -> Result<Setup, ChangeError> {
        let mut next = setup.clone();
        match self {
            Self::MoveMount { mount, to } => move_mount(&mut next, *mount, *to)?,
            Self::SetMirrored { bar, mirrored } => set_mirrored(&mut next, *bar, *mirrored)?,
            Self::SetTravel(travel) => next.travel = *travel,
            Self::SetLimits(limits) => next.limits = *limits,
            Self::Rename(name) => next.name.clone_from(name),
            Self::Take(remedy) => {
                let solved = answers.solved.as_ref().map_err(|_| ChangeError::NotReached)?;
                let (mount, to) = remedy.moves(setup, solved).ok_or(ChangeError::NotReached)?;
                move_mount(&mut next, mount, to)?;
            }
        }
        match self {
            // Mounts move at file resolution and within what a file takes; a drag is too quick to be written out at every step.
            Self::MoveMount { .. } | Self::SetMirrored { .. } | Self::Take(_) => next.validate()?,
            Self::SetTravel(_) | Self::SetLimits(_) | Self::Rename(_) => next = filed(&next)?,
        }
        Ok(next)
    }
}

/// The setup as its file gives it back, refused where it would not.
fn filed(setup: &Setup) -> Result<Setup, ChangeError> {
    setup.validate()?;
    file::read(&file::write(setup)).map_err(|error| match error {
        FileError::Setup(error) => error.into(),
        FileError::Text { expected, .. } => ChangeError::Unusable(expected),
        FileError::TooLarge { .. } => ChangeError::Unusable(error.to_string()),
    })
}

fn move_mount(setup: &mut Setup, mount: Mount, to: Point3<f64>) -> Result<(), ChangeError> {
    if setup.move_mount(mount, to) {
        Ok(())
    } else {
        Err(ChangeError::NoSuchMount)
    }
}

fn set_mirrored(setup: &mut Setup, id: BarId, mirrored: bool) -> Result<(), ChangeError> {
    let bar = setup.bars.get(id.0).ok_or(ChangeError::NoSuchMount)?;
    match (bar.mirrored, mirrored) {
        (true, false) => unlink(setup, id),
        (false, true) => link(setup, id),
        _ => {}
    }
    Ok(())
}

const SIDES: [&str; 2] = ["left ", "right "];

/// Leaves two bars of their own, so that nothing on the stage jumps.
fn unlink(setup: &mut Setup, id: BarId) {
    let bar = &mut setup.bars[id.0];
    bar.mirrored = false;
    let mut other = bar.clone();
    let [mine, theirs] = if side(bar) > 0.0 { SIDES } else { [SIDES[1], SIDES[0]] };
    other.name = format!("{theirs}{}", bar.name);
    bar.name = format!("{mine}{}", bar.name);
    other.mount_in_frame.y *= -1.0;
    other.mount_in_axle.y *= -1.0;
    setup.bars.insert(id.0 + 1, other);
}

/// Makes one bar stand for two; the bar that stood on the other side makes way.
fn link(setup: &mut Setup, id: BarId) {
    let bar = setup.bars[id.0].clone();
    let plain = |name: &str| {
        SIDES
            .iter()
            .find_map(|s| name.strip_prefix(s))
            .unwrap_or(name)
            .to_owned()
    };
    let is_twin = |(i, b): &(usize, &Bar)| {
        *i != id.0
            && !b.mirrored
            && b.role == bar.role
            && side(b) * side(&bar) < 0.0
            && plain(&b.name) == plain(&bar.name)
    };
    let twin = setup.bars.iter().enumerate().find(is_twin).map(|(i, _)| i);
    let linked = &mut setup.bars[id.0];
    linked.mirrored = true;
    linked.name = plain(&bar.name);
    if let Some(twin) = twin {
        setup.bars.remove(twin);
    }
}

/// Positive for a bar left of the middle.
fn side(bar: &Bar) -> f64 {
    bar.mount_in_frame.y + bar.mount_in_axle.y
}
