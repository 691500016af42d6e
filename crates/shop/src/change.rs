//! Edits of a setup, each a plain value.

use nalgebra::Point3;
use rearend::answers::Answers;
use rearend::file::{self, FileError};
use rearend::findings::Remedy;
use rearend::layouts::Layout;
use rearend::measure::{self, Described, Measure, MeasureError};
use rearend::mechanism::Part;
use rearend::setup::{
    AsBuilt, Balance, BarEnd, BarId, Ends, HoleRow, Joint, KeepClear, Length, Limits, Mount, Role, Setup, SetupError,
    Springs, Steel, Travel,
};
use rearend::tape::Units;
use rearend::tyres::TyreSize;
use thiserror::Error;

use crate::{holes, mirror, part_edits, parts};

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
    /// Give a mount a row of bracket holes that it is in one of, or none.
    SetHoles {
        /// Which.
        mount: Mount,
        /// The row, carrier's coordinates.
        row: Option<HoleRow>,
    },
    /// Keep a mount where it is, or let it be moved again.
    SetLocked {
        /// Which.
        mount: Mount,
        /// True to keep it.
        locked: bool,
    },
    /// Put several mounts each at a point.
    MoveMounts(Vec<(Mount, Point3<f64>)>),
    /// Let a bar stand for two, or for one.
    SetMirrored {
        /// Which bar.
        bar: BarId,
        /// True for two.
        mirrored: bool,
    },
    /// Cut a bar to suit, or take it as built; nothing on the stage moves.
    SetLength {
        /// Which.
        part: Part,
        /// Its length from now on.
        length: Length,
    },
    /// Turn several adjusters so that the axle comes straight.
    TurnAll(Vec<(Part, AsBuilt)>),
    /// Hang the axle another way, with proposed mounts.
    Hang(Layout),
    /// Another bar.
    AddBar(Role),
    /// One bar, arm or Watt's linkage less.
    Remove(Part),
    /// The same bar again, a little higher.
    Duplicate(BarId),
    /// Another name for a bar or an arm.
    RenamePart {
        /// Which; either of a mirrored pair stands for both.
        part: Part,
        /// Its name from now on.
        name: String,
    },
    /// Another tube, or height of a beam.
    SetTube {
        /// Which.
        part: Part,
        /// Outside diameter, m.
        tube_m: f64,
    },
    /// Another wall of a tube.
    SetWall {
        /// Of which bar, or of the links of the Watt's linkage.
        part: Part,
        /// Its wall, m.
        wall_m: f64,
    },
    /// A bar is there for something else.
    SetRole {
        /// Which.
        bar: BarId,
        /// What for.
        role: Role,
    },
    /// Other ends, both at once.
    SetEnds {
        /// Of which part.
        part: Part,
        /// What they are from now on.
        ends: Ends,
    },
    /// Another joint at one end of a bar.
    SetJoint {
        /// Which bar.
        bar: BarId,
        /// Which end.
        end: BarEnd,
        /// The joint.
        joint: Joint,
    },
    /// Where the weight is, or that nobody knows.
    SetBalance(Option<Balance>),
    /// Other heights.
    SetTravel(Travel),
    /// Other limits.
    SetLimits(Limits),
    /// What the tape says of one measure of the tape sheet, SI and radians.
    Measure(&'static Measure, f64),
    /// A part of the truck is there, or is not.
    Describe(Described, bool),
    /// The tyre that this size means.
    SetTyre(TyreSize),
    /// Other springs.
    SetSprings(Box<Springs>),
    /// Other things to keep clear of.
    SetKeepClear(Vec<KeepClear>),
    /// Other plate, bolts, rod ends or whatever else the shop builds with.
    SetSteel(Steel),
    /// Another name.
    Rename(String),
    /// Another note.
    SetNote(String),
    /// What a finding offers.
    Take(Remedy),
}

/// Why an edit was refused; the setup is as it was.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum ChangeError {
    /// The setup would make no sense.
    #[error(transparent)]
    Setup(#[from] SetupError),
    /// What was measured means nothing here.
    #[error(transparent)]
    Measure(#[from] MeasureError),
    /// There is no such part any more, or the value is not a usable number.
    #[error("that part cannot be moved there")]
    NoSuchMount,
    /// It was removed meanwhile.
    #[error("there is no such part any more")]
    NoSuchPart,
    /// The mount is to stay where it is.
    #[error("the {name} mount is locked; unlock it on its card first")]
    Locked {
        /// Which.
        name: String,
    },
    /// A crank is bolted to its pivot, and to nothing else.
    #[error("only the ends of bars, arms and links can have bracket holes or be locked")]
    NoBracket,
    /// A value that no file would take back.
    #[error("{0}")]
    Unusable(String),
    /// The height that a remedy needs is not reached.
    #[error("that height is not reached, so nothing can be set right there")]
    NotReached,
}

impl ChangeError {
    /// As it is said on the screen, lengths in the user's units.
    #[must_use]
    pub fn told(&self, units: Units) -> String {
        match self {
            Self::Setup(error) => error.told(units),
            other => other.to_string(),
        }
    }
}

impl Change {
    /// The setup after the edit.
    ///
    /// # Errors
    /// When the result would make no sense.
    pub(crate) fn applied(&self, setup: &Setup, answers: &Answers) -> Result<Setup, ChangeError> {
        let mut next = setup.clone();
        match self {
            Self::MoveMount { mount, to } => move_mount(&mut next, *mount, *to)?,
            Self::MoveMounts(moves) => {
                for (mount, to) in moves {
                    move_mount(&mut next, *mount, *to)?;
                }
            }
            Self::SetHoles { mount, row } => holes::set_row(&mut next, *mount, *row)?,
            Self::SetLocked { mount, locked } => holes::set_locked(&mut next, *mount, *locked)?,
            Self::SetMirrored { bar, mirrored } => mirror::set_mirrored(&mut next, *bar, *mirrored)?,
            Self::SetLength { part, length } => parts::set_length(&mut next, answers, *part, *length)?,
            Self::TurnAll(bars) => {
                for (part, bar) in bars {
                    parts::set_length(&mut next, answers, *part, Length::AsBuilt(*bar))?;
                }
            }
            Self::Hang(layout) => {
                holes::may_go(setup, setup.mounts())?;
                next = layout.hang(setup);
            }
            Self::AddBar(role) => parts::add_bar(&mut next, *role),
            Self::Remove(part) => {
                holes::may_go(setup, holes::mounts_of(setup, *part))?;
                parts::remove(&mut next, *part)?;
            }
            Self::Duplicate(bar) => part_edits::duplicate(&mut next, *bar)?,
            Self::RenamePart { part, name } => part_edits::rename(&mut next, *part, name)?,
            Self::SetTube { part, tube_m } => part_edits::set_tube(&mut next, *part, *tube_m)?,
            Self::SetWall { part, wall_m } => part_edits::set_wall(&mut next, *part, *wall_m)?,
            Self::SetRole { bar, role } => part_edits::set_role(&mut next, *bar, *role)?,
            Self::SetEnds { part, ends } => part_edits::set_ends(&mut next, *part, *ends)?,
            Self::SetJoint { bar, end, joint } => parts::set_joint(&mut next, *bar, *end, *joint)?,
            Self::SetBalance(balance) => next.balance = *balance,
            Self::SetTravel(travel) => next.travel = *travel,
            Self::SetLimits(limits) => next.limits = *limits,
            Self::Measure(measure, value) => next = measure.taken(setup, *value)?,
            Self::Describe(part, there) => next = part.put(setup, *there),
            Self::SetTyre(size) => measure::fit_tyre(&mut next, size),
            Self::SetSprings(springs) => next.springs = Some(springs.as_ref().clone()),
            Self::SetKeepClear(things) => next.keep_clear.clone_from(things),
            Self::SetSteel(steel) => next.steel = *steel,
            Self::Rename(name) => next.name.clone_from(name),
            Self::SetNote(note) => next.note = part_edits::usable_note(note)?,
            Self::Take(remedy) => {
                holes::may_take(setup, *remedy)?;
                let solved = answers.solved.as_ref().map_err(|_| ChangeError::NotReached)?;
                next = remedy.apply(setup, solved).ok_or(ChangeError::NotReached)?;
                holes::has_helped(setup, &next, *remedy)?;
            }
        }
        match self {
            // Mounts move at file resolution and within what a file takes; a drag is too quick to be written out at every step.
            Self::MoveMount { .. } | Self::MoveMounts(_) | Self::SetMirrored { .. } => next.validate()?,
            _ => next = filed(&next)?,
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
    holes::may_move(setup, mount)?;
    if setup.move_mount(mount, to) {
        Ok(())
    } else {
        Err(ChangeError::NoSuchMount)
    }
}
