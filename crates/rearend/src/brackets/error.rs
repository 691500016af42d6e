//! Why a bracket cannot be drawn.

use thiserror::Error;

/// Why a bracket cannot be drawn. Each sentence names the bracket and what to do; lengths are in the user's units.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum BracketError {
    /// A mount within what it should be welded to.
    #[error("the {name}, lies inside {what}: move it out, {needed} at least from its face to the middle of the bolt")]
    Inside {
        /// The bracket.
        name: String,
        /// What it lies in.
        what: String,
        /// Least distance.
        needed: String,
    },
    /// A hole too near to a weld or to the tube's saddle.
    #[error(
        "the {name}, has the middle of a bolt {there} from {what}, and its plate needs {needed} there: move it {more} farther away"
    )]
    TooNear {
        /// The bracket.
        name: String,
        /// What it is too near to.
        what: String,
        /// How far it is.
        there: String,
        /// How far it has to be.
        needed: String,
        /// The difference.
        more: String,
    },
    /// A hole too near to another edge of its plate.
    #[error(
        "the {name}, has hole {hole} {there} from the edge of its plate, and {needed} are needed: move its mount, or choose a smaller bolt"
    )]
    NearEdge {
        /// The bracket.
        name: String,
        /// Which hole, from 1.
        hole: usize,
        /// How far it is.
        there: String,
        /// How far it has to be.
        needed: String,
    },
    /// Holes that leave too little steel between them.
    #[error(
        "the {name}, has two holes {there} apart, and a bolt of this size needs {needed}: space its holes wider, or choose a smaller bolt"
    )]
    HolesTooClose {
        /// The bracket.
        name: String,
        /// From middle to middle.
        there: String,
        /// What it has to be.
        needed: String,
    },
    /// A row that no plate across the bolt can have.
    #[error(
        "the {name}, has a row of holes that runs along its bolt: no plate across the bolt can hold it; turn the bolt or the row"
    )]
    RowAlongBolt {
        /// The bracket.
        name: String,
    },
    /// A plate longer than any bracket.
    #[error("the {name}, would need a plate {long} long: move its mount nearer to {what}, or put a crossmember there")]
    TooLong {
        /// The bracket.
        name: String,
        /// How long.
        long: String,
        /// What it stands on.
        what: String,
    },
    /// A mount with nothing near to weld to.
    #[error(
        "the {name}, has nothing near to be welded to: put a crossmember within {reach} of it, or move it to a rail"
    )]
    NothingNear {
        /// The bracket.
        name: String,
        /// How near it has to be.
        reach: String,
    },
    /// A bend of a crossmember between the two plates.
    #[error(
        "the {name}, comes where the crossmember bends, and a plate fits its straight parts only: move the mount sideways, or change the hoop"
    )]
    Bent {
        /// The bracket.
        name: String,
    },
    /// A weld edge that finds no steel under it.
    #[error(
        "the {name}, would not stand on {what} over {needed} of its edge: move its mount along it, or use a wider one"
    )]
    OffSteel {
        /// The bracket.
        name: String,
        /// What it should stand on.
        what: String,
        /// How long the edge has to be.
        needed: String,
    },
    /// A round end that hangs over what its plate stands on.
    #[error(
        "the {name}, cannot stand on {what}: its round end hangs over the weld; move its mount away from there, or leave out a hole of its row"
    )]
    HangsOver {
        /// The bracket.
        name: String,
        /// What it stands on.
        what: String,
    },
    /// The two of a pair in one place.
    #[error(
        "the {name}, would run into the one of the other side: keep its mount {needed} from the middle of the truck"
    )]
    Overlap {
        /// The bracket.
        name: String,
        /// Least distance from the centre plane.
        needed: String,
    },
    /// Plates that stand in another piece of the steel that carries them.
    #[error("the {name}, runs into {what} by {deep}: move its mount clear of it{or_turn}")]
    RunsInto {
        /// The bracket.
        name: String,
        /// What it runs into.
        what: String,
        /// How far its plate would have to be moved to be out of it.
        deep: String,
        /// ", or turn its bolt", where that can be turned.
        or_turn: &'static str,
    },
    /// Plates that stand in those of another bracket.
    #[error(
        "the {name}, runs into the plates of the {other}, by {deep}: move one of the two mounts away from the other"
    )]
    RunsIntoBracket {
        /// The bracket.
        name: String,
        /// The other one.
        other: String,
        /// How far its plate would have to be moved to be out of the other's.
        deep: String,
    },
    /// A bolt that runs into what carries the mount in a way that no plate holds.
    #[error(
        "the {name}, has a bolt that no bracket on {what} can hold: turn the bolt straight across the truck, along it or upright"
    )]
    Bolt {
        /// The bracket.
        name: String,
        /// What it should stand on.
        what: String,
    },
    /// A setup that makes no truck: no bolt is known.
    #[error("no bracket can be drawn: {why}")]
    NoTruck {
        /// What is wrong with it.
        why: String,
    },
}
