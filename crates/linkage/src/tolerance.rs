//! Every tolerance of the solver, named, and how they hang together.
//!
//! Lengths are relative to the mechanism's characteristic length, so that a model in millimetres solves like one in metres.

/// Largest gap of a closed exact layout. Rounding of metre-sized coordinates is about 1e-15; the contract is 1e-11 m.
pub const CLOSED: f64 = 1e-12;

/// A least-squares step this small ends the iteration. Convergence is linear with a ratio of about misfit / length (0.01 is a lot),
/// so what is left is a hundredth of this.
pub const SETTLED: f64 = 1e-11;

/// Newton or Gauss-Newton iterations before a step is called unsolved. From a predicted pose one or two are usual.
pub const MAX_ITERATIONS: usize = 40;

/// Singular values below this fraction of the largest count as zero.
pub const RANK: f64 = 1e-7;

/// An equation is held by others too if they take more than this part of it.
pub const SHARED: f64 = 1e-6;

/// Damping of the normal equations as a fraction of their trace: above rounding, and far below any stiffness that matters.
pub const DAMPING: f64 = 1e-13;

/// Largest continuation step in driven height, metres.
pub const STEP_M: f64 = 0.006;

/// Largest continuation step in driven roll: a quarter of a degree.
pub const STEP_RAD: f64 = 0.25 * std::f64::consts::PI / 180.0;

/// A solved step may differ from the predicted one by this fraction of its size; more means another assembly, or a fold near by.
pub const STRAY: f64 = 0.3;

/// A step may move the platform by this part of the characteristic length; more has jumped a fold, wherever it was predicted to land.
pub const STRIDE: f64 = 0.1;

/// Largest continuation step in driven height as a part of the characteristic length, for mechanisms smaller than an axle.
pub const STEP_PART: f64 = 0.02;

/// Strays beyond this fraction of what is allowed have the Jacobian's sign checked as well.
pub const DOUBT: f64 = 0.05;

/// Strays below this fraction of the characteristic length are never held against a step.
pub const STRAY_FLOOR: f64 = 1e-6;

/// How often a failing step is halved before the travel is said to end: 6 mm becomes 0.05 mm.
pub const MAX_HALVINGS: u32 = 7;

/// A link that would have to give more than this fraction of its length has come to the end of its travel.
pub const MISFIT: f64 = 0.05;

/// A joint whose points would have to come apart by more than this fraction of the characteristic length has come to the end of its travel.
/// Joints stand for arms that bend and bushes that give, so this is far.
pub const APART: f64 = 0.2;

/// Links strained by more than this, in the pose that fits best, do not reach; by less, they reach another way.
pub const STRAINED: f64 = 1e-8;

/// Steepest roll that the coordinates are used for; yaw and pitch become one at a right angle.
pub const MAX_ROLL_RAD: f64 = 1.2;

/// A step of [`STEP_M`] in a link's length that moves the platform by more than this part of the characteristic length has snapped it over.
pub const LEAP: f64 = 0.3;
