//! Two arrows from one spot that say which way round a plate goes: on it where there is room, else beside it.

use rearend::brackets::Arrow;

use super::room::is_inside;
use super::{ArrowAt, At, Lie, Rect, Room, WIDE, Word};

/// Length of an arrow, and how wide a head it has, in heights of letters.
const LONG: f64 = 3.6;
const HEAD: f64 = 1.0;

/// From place to place that is tried, in heights of letters.
const STEP: f64 = 1.2;

/// Beyond the plate's own middle by this much, in sizes of the plate, nothing on it is as far.
const BESIDE_IT: f64 = 1e3;

/// The arrows of a plate's heading where they hide nothing; none where it has no heading.
pub(super) fn arrows(lie: &Lie, room: &Room, rim: &[At]) -> Vec<ArrowAt> {
    let Some(heading) = lie.plate.heading() else {
        return Vec::new();
    };
    let ways: Vec<_> = heading
        .arrows
        .iter()
        .map(|arrow| (seen(lie, arrow), arrow.word))
        .collect();
    let mut best: Option<(usize, Vec<ArrowAt>)> = None;
    for at in spots(lie, rim) {
        let arrows: Vec<_> = ways.iter().map(|(way, word)| arrow(lie, at, *way, word)).collect();
        let rects: Vec<_> = arrows.iter().flat_map(|a| taken(lie, a)).collect();
        let on_one_page = |page: &[At; 2]| rects.iter().all(|r| r.is_within(*page));
        if !lie.pages.iter().any(on_one_page) {
            continue;
        }
        let hits: usize = rects.iter().map(|rect| room.hits(rect)).sum();
        if best.as_ref().is_none_or(|(least, _)| hits < *least) {
            best = Some((hits, arrows));
        }
        if hits == 0 {
            break;
        }
    }
    best.map(|(_, arrows)| arrows).unwrap_or_default()
}

/// Which way an arrow points where the plate is drawn.
fn seen(lie: &Lie, arrow: &Arrow) -> At {
    let [from, to] = [nalgebra::Point2::origin(), arrow.along.into_inner().into()].map(|p| (lie.place)(p));
    let [x, y] = [to[0] - from[0], to[1] - from[1]];
    let length = x.hypot(y).max(1e-12);
    [x / length, y / length]
}

fn arrow(lie: &Lie, from: At, way: At, word: &str) -> ArrowAt {
    let long = LONG * lie.letter;
    let letters: f64 = word.chars().map(|_| WIDE).sum();
    // The word's middle is as far beyond the tip as the word reaches back towards it.
    let reach = lie.letter * (way[0].abs() * letters / 2.0 + way[1].abs() / 2.0 + 0.6);
    let at = |far: f64| [0, 1].map(|i| from[i] + way[i] * far);
    ArrowAt {
        from,
        to: at(long),
        word: Word {
            at: at(long + reach),
            text: word.to_owned(),
        },
    }
}

/// What an arrow and its word take up.
fn taken(lie: &Lie, arrow: &ArrowAt) -> [Rect; 2] {
    let shaft = Rect::along([arrow.from, arrow.to], HEAD * lie.letter).grown(super::CLEAR * lie.letter);
    [shaft, lie.room_of(&arrow.word)]
}

/// Where the arrows may start: on the plate from its middle outwards, then beside it.
fn spots(lie: &Lie, rim: &[At]) -> Vec<At> {
    let nothing = [[f64::INFINITY; 2], [f64::NEG_INFINITY; 2]];
    let corners = lie.pages.iter().flatten();
    let [low, high] = corners.fold(nothing, |[low, high], c| {
        [[0, 1].map(|i| low[i].min(c[i])), [0, 1].map(|i| high[i].max(c[i]))]
    });
    let step = STEP * lie.letter;
    let count = |i: usize| {
        let steps = ((high[i] - low[i]) / step).floor();
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "a few hundred at most"
        )]
        let steps = steps.clamp(0.0, 400.0) as u32;
        steps
    };
    let middle = [0, 1].map(|i| rim.iter().map(|p| p[i]).fold(0.0, |sum, v| sum + v) / size(rim.len()));
    let (across, up) = (count(0), count(1));
    let all = (0..=across).flat_map(|i| (0..=up).map(move |k| [f64::from(i), f64::from(k)]));
    let mut spots: Vec<_> = all
        .map(|n| {
            let at = [0, 1].map(|i| low[i] + n[i] * step);
            let off = (at[0] - middle[0]).hypot(at[1] - middle[1]);
            let beside = if is_inside(rim, at) { 0.0 } else { BESIDE_IT };
            (off + beside * (high[0] - low[0]), at)
        })
        .collect();
    spots.sort_by(|a, b| a.0.total_cmp(&b.0));
    spots.into_iter().map(|(_, at)| at).collect()
}

#[expect(clippy::cast_precision_loss, reason = "the points of an outline")]
fn size(count: usize) -> f64 {
    count.max(1) as f64
}
