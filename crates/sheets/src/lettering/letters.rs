//! Lines to scribe, each with a letter beside it: what the letters mean stands where there is room for words.

use serde::Serialize;

use super::{At, Lie, Room, Word};

/// From a line to the middle of its letter, in heights of letters.
const BESIDE: f64 = 1.0;

/// A letter, and what the lines that bear it mark.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub(crate) struct Meaning {
    pub letter: char,
    pub what: String,
}

/// A letter for every line, and what they mean: lines that mark the same share one.
pub(super) fn letters(lie: &Lie, room: &mut Room) -> (Vec<Word>, Vec<Meaning>) {
    let mut meanings: Vec<Meaning> = Vec::new();
    let mut letters = Vec::new();
    for scribe in &lie.plate.scribes {
        let known = meanings.iter().find(|m| m.what == scribe.what).map(|m| m.letter);
        let letter = known.unwrap_or_else(|| {
            let letter = ('a'..='z').nth(meanings.len()).unwrap_or('z');
            let what = scribe.what.clone();
            meanings.push(Meaning { letter, what });
            letter
        });
        let line = [scribe.from, scribe.to].map(|p| (lie.place)(p));
        let places = places(line, lie.letter).into_iter().map(|at| Word {
            at,
            text: letter.to_string(),
        });
        if let Some(word) = lie.best(room, places) {
            room.rects.push(lie.room_of(&word));
            letters.push(word);
        }
    }
    (letters, meanings)
}

/// Beside a line near either end or between, then beyond its ends.
fn places([from, to]: [At; 2], letter: f64) -> Vec<At> {
    let [x, y] = [to[0] - from[0], to[1] - from[1]];
    let length = x.hypot(y).max(1e-9);
    let (along, across) = ([x / length, y / length], [-y / length, x / length]);
    let near = (letter / length).min(0.5);
    let parts = [1.0 - near, near, 0.75, 0.25, 0.5];
    let beside = [1.0, 1.4].into_iter().flat_map(|far| {
        parts.into_iter().flat_map(move |part| {
            [1.0, -1.0].map(move |side| {
                let off = side * far * BESIDE * letter;
                [0, 1].map(|i| from[i] + (to[i] - from[i]) * part + across[i] * off)
            })
        })
    });
    let beyond = [(to, 1.0), (from, -1.0)]
        .into_iter()
        .flat_map(|(end, way)| [1.0, 1.8].map(move |far| [0, 1].map(|i| end[i] + way * far * letter * along[i])));
    beside.chain(beyond).collect()
}
