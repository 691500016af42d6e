//! How near parts come to each other through travel and roll.

/// What may be wrong.
#[derive(Clone, Debug, PartialEq)]
pub enum Fault {}
