//! What is selected: one mount that leads, and others that go along with it.

use nalgebra::{Point3, Vector3};
use rearend::setup::{Mount, Setup};

/// The selected mounts.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Selection {
    lead: Option<Mount>,
    with: Vec<Mount>,
}

impl Selection {
    /// The mount whose card is shown.
    #[must_use]
    pub fn lead(&self) -> Option<Mount> {
        self.lead
    }

    /// All of them, the one that leads first.
    pub fn all(&self) -> impl Iterator<Item = Mount> + '_ {
        let others = self.with.iter().copied().filter(|m| Some(*m) != self.lead);
        self.lead.into_iter().chain(others)
    }

    /// Selects one and nothing else, or nothing.
    pub fn only(&mut self, mount: Option<Mount>) {
        self.lead = mount;
        self.with.clear();
    }

    /// Lets another one lead; those that were chosen to go along still do.
    pub fn lead_by(&mut self, mount: Mount) {
        self.lead = Some(mount);
    }

    /// Chooses one to go along, or no longer.
    pub fn toggle(&mut self, mount: Mount) {
        if self.with.is_empty() {
            self.with.extend(self.lead);
        }
        match self.with.iter().position(|m| *m == mount) {
            Some(place) if self.with.len() > 1 || self.lead != Some(mount) => {
                self.with.remove(place);
                self.lead = self.with.last().copied();
            }
            Some(_) => {}
            None => {
                self.with.push(mount);
                self.lead = Some(mount);
            }
        }
    }

    /// Keeps those that are still there, under the names they have now.
    pub fn keep(&mut self, still: impl Fn(Mount) -> Option<Mount>) {
        self.lead = self.lead.and_then(&still);
        self.with = self.with.iter().filter_map(|m| still(*m)).collect();
    }

    /// Where everything selected goes when the one that leads goes by this much. Of two that are each other's mirror image only the first
    /// is moved: the other follows by itself.
    #[must_use]
    pub(crate) fn moves(&self, setup: &Setup, by: Vector3<f64>) -> Vec<(Mount, Point3<f64>)> {
        let mut moves: Vec<(Mount, Point3<f64>)> = Vec::new();
        for mount in self.all() {
            let Some(at) = setup.mount(mount) else { continue };
            if !moves.iter().any(|(other, _)| are_twins(*other, mount)) {
                moves.push((mount, at.point + by));
            }
        }
        // A crank's arms go along with its pivot, and are where they should be then.
        moves.sort_by_key(|(mount, _)| *mount != Mount::WattPivot);
        moves
    }
}

/// The same end of both bars, or arms, of a pair.
fn are_twins(a: Mount, b: Mount) -> bool {
    match (a, b) {
        (
            Mount::Bar { bar, end, .. },
            Mount::Bar {
                bar: other, end: at, ..
            },
        ) => (bar, end) == (other, at),
        (
            Mount::Arm { arm, end, .. },
            Mount::Arm {
                arm: other, end: at, ..
            },
        ) => (arm, end) == (other, at),
        (a, b) => a == b,
    }
}
