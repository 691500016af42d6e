//! What meets the ground first, and how high things stand over it with the frame raked.

/// What may be wrong.
#[derive(Clone, Debug, PartialEq)]
pub enum Fault {}
