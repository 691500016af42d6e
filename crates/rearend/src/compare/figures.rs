//! What every row reads off a setup's answers.

use super::Better::{Least, Most, Neither};
use super::{Better, Compared, Kind, Row, Value};
use crate::answers::Solved;
use crate::bind::Bind;
use crate::clearance::Fault;
use crate::findings::{self, Finding, Grade};
use crate::hand::Hand;
use crate::mechanism::Part;
use crate::setup::Setup;
use crate::travel;
use crate::tyres::{Place, tightest};

/// A setup that is solved.
struct Read<'a> {
    setup: &'a Setup,
    solved: &'a Solved,
    findings: &'a [Finding],
    ride: travel::Row,
}

/// When a row has a figure.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Over {
    /// Wherever the setup is solved.
    AsItIs,
    /// Where the axle is held: at ride height.
    Ride,
    /// Where the axle is held: over the travel, as far as it is reached.
    Travel,
}

/// A row: its label, what its figures are, which way is better, when there is one, and how it is read.
type Question = (&'static str, Kind, Better, Over, fn(&Read) -> Value);

/// In the order that they are read.
const QUESTIONS: [Question; 13] = [
    ("Largest sideways shift", Kind::Sideways, Least, Over::Travel, shift),
    (
        "Largest change of pinion angle",
        Kind::Nose,
        Least,
        Over::Travel,
        pinion_change,
    ),
    ("Fore-aft travel", Kind::Movement, Least, Over::Travel, fore_aft),
    ("Anti-squat at ride", Kind::Share, Neither, Over::Ride, anti_squat),
    ("Roll centre at ride", Kind::Height, Neither, Over::Ride, roll_centre),
    ("Roll steer at ride", Kind::SteerPerRoll, Least, Over::Ride, roll_steer),
    (
        "Axle steer as it rides up and down",
        Kind::Heading,
        Least,
        Over::Travel,
        ride_steer,
    ),
    ("Tightest clearance", Kind::Room, Most, Over::Travel, clearance),
    ("Longest bar", Kind::Bar, Neither, Over::AsItIs, longest),
    ("Shortest bar", Kind::Bar, Neither, Over::AsItIs, shortest),
    (
        "One wheel up before it binds",
        Kind::WheelUp,
        Neither,
        Over::Ride,
        one_wheel_up,
    ),
    ("Won't work", Kind::Count, Least, Over::AsItIs, |read| {
        count(read, Grade::WontWork)
    }),
    // Of an axle that is not held only that is told: what else there is to look at is not known.
    ("To check", Kind::Count, Least, Over::Ride, |read| {
        count(read, Grade::Check)
    }),
];

/// All rows.
pub(super) fn rows(of: &[Compared<'_>]) -> Vec<Row> {
    let read: Vec<Option<Read>> = of.iter().map(Read::of).collect();
    let row = |(label, kind, better, over, figure): Question| Row {
        label,
        kind,
        better,
        values: read.iter().map(|read| value(read.as_ref(), over, figure)).collect(),
    };
    QUESTIONS.map(row).into()
}

fn value(read: Option<&Read>, over: Over, figure: fn(&Read) -> Value) -> Value {
    let Some(read) = read else { return Value::NotSolved };
    if over != Over::AsItIs && !read.solved.freedom.free.is_empty() {
        return Value::NotHeld;
    }
    match figure(read) {
        Value::Figure(f) if !f.is_finite() => Value::Words("no figure"),
        Value::Figure(f) if over == Over::Travel && read.ends_early() => Value::Reached(f),
        other => other,
    }
}

impl<'a> Read<'a> {
    fn of(of: &Compared<'a>) -> Option<Self> {
        let solved = of.answers.solved.as_ref().ok()?;
        Some(Self {
            setup: of.setup,
            solved,
            findings: &of.answers.findings,
            ride: travel::Row::at_ride(of.setup, &solved.rear_end),
        })
    }

    fn ends_early(&self) -> bool {
        let level = &self.solved.level;
        level.low_end.is_some() || level.high_end.is_some()
    }

    /// The largest of a quantity over the travel, in size, with its sign.
    fn largest(&self, quantity: impl Fn(&travel::Row) -> f64) -> Value {
        let row = self.solved.level.largest(&quantity);
        row.map_or(NOWHERE, |row| Value::Figure(quantity(row)))
    }
}

/// A travel without a pose.
const NOWHERE: Value = Value::Words("no travel");

fn shift(read: &Read) -> Value {
    read.largest(|row| row.shift_m)
}

fn pinion_change(read: &Read) -> Value {
    read.largest(|row| row.pinion_to_frame_rad - read.ride.pinion_to_frame_rad)
}

/// From the most forward to the farthest back, ride height among them.
fn fore_aft(read: &Read) -> Value {
    let rows = read.solved.level.rows.iter();
    let (back, forward) = rows.fold((0.0, 0.0), |(back, forward): (f64, f64), row| {
        (back.min(row.fore_aft_m), forward.max(row.fore_aft_m))
    });
    Value::Figure(forward - back)
}

fn anti_squat(read: &Read) -> Value {
    let share = read.ride.first.anti_squat;
    share.map_or(Value::Words("needs the balance"), Value::Figure)
}

fn roll_centre(read: &Read) -> Value {
    Value::Figure(read.ride.first.roll_centre_m)
}

fn roll_steer(read: &Read) -> Value {
    Value::Figure(read.ride.first.roll_steer)
}

/// From where it heads at ride height: bars as built may have it stand askew there.
fn ride_steer(read: &Read) -> Value {
    read.largest(|row| row.steer_rad - read.ride.steer_rad)
}

/// Of all that was looked at; around the tyres of a truck whose body is described, what their own findings go by.
fn clearance(read: &Read) -> Value {
    let found = read.findings.iter().filter_map(|finding| match &finding.kind {
        findings::Kind::Clearance(
            Fault::Touches(near) | Fault::Tight(near) | Fault::Notch(near, _) | Fault::Clear(near),
        ) => Some(near.gap_m),
        _ => None,
    });
    let body = read.setup.body.iter();
    let around = body.flat_map(|_| Place::ALL).flat_map(|place| {
        let room = move |side| tightest(read.setup, read.solved.all_rows(), place, side);
        [Hand::Left, Hand::Right]
            .into_iter()
            .filter_map(room)
            .map(|tightest| tightest.room_m)
    });
    let least = found.chain(around).min_by(f64::total_cmp);
    least.map_or(Value::Words("nothing near"), Value::Figure)
}

fn longest(read: &Read) -> Value {
    bar(read, |a, b| a > b)
}

fn shortest(read: &Read) -> Value {
    bar(read, |a, b| a < b)
}

/// The first of those that no other goes before.
fn bar(read: &Read, goes_before: fn(f64, f64) -> bool) -> Value {
    let first = read
        .solved
        .rear_end
        .lengths_m()
        .reduce(|best, other| if goes_before(other.1, best.1) { other } else { best });
    first.map_or(Value::Words("no bars"), |(part, length_m)| {
        Value::Of(length_m, name(read.setup, part))
    })
}

/// Of a mirrored pair both sides are as long.
fn name(setup: &Setup, part: Part) -> String {
    let Part::Bar(id, _) = part else {
        return part.name(setup);
    };
    setup.bar(id).map_or_else(|| part.name(setup), |bar| bar.name.clone())
}

/// The least that one wheel goes up over the other, at any height that was looked at, before a limit is passed or the bars cannot follow.
fn one_wheel_up(read: &Read) -> Value {
    let limits = read.solved.bind.iter().filter_map(|bind| bind.limit_roll_rad);
    let ends = read.solved.rolls.iter().flat_map(|s| [s.right_end, s.left_end]);
    let rolls = limits.chain(ends.flatten().map(|end| end.roll_rad));
    let least = rolls.map(f64::abs).min_by(f64::total_cmp);
    if let Some(roll_rad) = least {
        return Value::Figure(Bind::wheel_rise_m(read.setup, roll_rad));
    }
    let gives = read.solved.bind.iter().map(|bind| bind.misfit.gap_m.abs());
    let most = gives.max_by(f64::total_cmp);
    most.map_or(Value::Words("nothing binds"), Value::Gives)
}

#[expect(clippy::cast_precision_loss, reason = "a handful")]
fn count(read: &Read, grade: Grade) -> Value {
    let found = read.findings.iter().filter(|f| f.grade == grade).count();
    Value::Figure(found as f64)
}
