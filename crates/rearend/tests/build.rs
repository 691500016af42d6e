//! The numbers of a build sheet against closed forms, and its words against the answers.

#![expect(
    clippy::expect_used,
    reason = "a test stops at the first thing that is not as it should be"
)]

mod support;

#[path = "build/common.rs"]
mod common;
#[path = "build/cut.rs"]
mod cut;
#[path = "build/every.rs"]
mod every;
#[path = "build/mounts.rs"]
mod mounts;
#[path = "build/order.rs"]
mod order;
#[path = "build/parts.rs"]
mod parts;
#[path = "build/stands.rs"]
mod stands;
#[path = "build/steel.rs"]
mod steel;
#[path = "build/tables.rs"]
mod tables;
