//! A proposal's mounts moved along the rail to where their brackets can be drawn, where curve, flanges or crossmembers are in the way.

use crate::brackets;
use crate::setup::Setup;
use crate::tape::Units;

/// How far a frame mount may be moved ahead or back, the least first, m.
const MOVES_M: [f64; 16] = [
    0.02, -0.02, 0.04, -0.04, 0.06, -0.06, 0.08, -0.08, 0.11, -0.11, 0.14, -0.14, 0.18, -0.18, 0.24, 0.3,
];

/// No bar gets shorter than this, seen from the side.
const SHORTEST_M: f64 = 0.3;

/// The same with every frame mount of a bar moved by the least that lets more brackets be drawn.
pub(super) fn settled(setup: Setup) -> Setup {
    let mut best = setup;
    let mut refused = refusals(&best);
    for bar in 0..best.bars.len() {
        if refused == 0 {
            break;
        }
        let tried = MOVES_M.into_iter().filter_map(|move_m| {
            let mut moved = best.clone();
            moved.bars[bar].mount_in_frame.x += move_m;
            (moved.bars[bar].mount_in_frame.x >= SHORTEST_M).then(|| (refusals(&moved), moved))
        });
        if let Some((fewer, moved)) = tried.into_iter().find(|(count, _)| *count < refused) {
            (refused, best) = (fewer, moved);
        }
    }
    best
}

fn refusals(setup: &Setup) -> usize {
    brackets::of(setup, None, Units::Millimetres)
        .iter()
        .filter(|b| b.is_err())
        .count()
}
