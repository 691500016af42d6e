#!/usr/bin/env python3
"""Reference angles and slip of random shafts: writes `driveline.json` beside this file.

A shaft of one piece, or of two with a carrier bearing, runs from a transmission's
output to the pinion of an axle that stands anywhere near its place at ride height.

Angles: twice the arcsin of half the chord between unit vectors.
Unevenness: the joints are turned. The pins of a driving yoke are carried round
their shaft, the driven yoke's pins are what is square to them and to the next
shaft, and the speeds follow from pins that stay square (p.q = 0, differentiated).
The fastest and the slowest the pinion turns, for an output that turns evenly, are
found by SciPy from the largest and smallest of 36 turns. No angle, phase or
formula of a joint enters.

Second solve: the pinion's turn itself, by atan2 of its yoke's pins, differenced
over a thousandth of a radian to fourth order, at random turns. The script fails
unless both agree to 1e-9.

Conventions: metres and radians; X forward, Y left, Z up. The axle stands at
(x, y, z) with frame_from_axle = Rz(yaw) Rx(roll) Ry(pitch). The output's axis,
taken forward, has an elevation (nose up) and a heading (left). The pinion's axis
has an elevation in the axle; its joint stands `length` along that axis and `drop`
square below it, `offset` left. `phase` turns the rear piece's rear yoke against
its front yoke, by the right-hand rule about the shaft taken forward.

Run by `cargo xtask reference`. Needs numpy and scipy. The seed is fixed.
"""

import json
import math
import sys
from pathlib import Path

import numpy as np
from scipy.optimize import minimize_scalar
from scipy.spatial.transform import Rotation

SEED = 20250614
CASES = 240
POSES = 3
TURNS = 36
MAX_DIFFERENCE = 1e-9

ALONG = np.array([1.0, 0.0, 0.0])


# --- Setups ------------------------------------------------------------------


def draw_setup(rng, number):
    """Every third one has two pieces, every fourth its yokes out of line, every second an output that heads straight."""
    def within(low, high, digits=4):
        return round(rng.uniform(low, high), digits)

    two_pieces, out_of_line, heads_off = number % 3 == 0, number % 4 == 1, number % 2 == 1
    length = within(0.9, 1.8)
    output = [within(0.35, 0.4) + length, within(-0.06, 0.06), within(-0.05, 0.15)]
    carrier = None
    if two_pieces:
        carrier = [
            round(0.3 + length * rng.uniform(0.45, 0.6), 4),
            within(-0.06, 0.06),
            within(-0.02, 0.15),
        ]
    return {
        "output": output,
        "output_nose_up": within(-0.15, 0.15),
        "output_left": within(-0.08, 0.08) if heads_off else 0.0,
        "carrier": carrier,
        "phase": within(-0.7, 0.7) if out_of_line else 0.0,
        "pinion_angle": within(-0.15, 0.2),
        "pinion_length": within(0.2, 0.35),
        "pinion_drop": within(0.0, 0.05) if number % 5 else 0.0,
        "pinion_offset": within(-0.08, 0.08) if number % 2 else 0.0,
    }


def draw_pose(rng, spread):
    low = np.array([-0.02, -0.02, -0.12, -0.03, -0.07, -0.12]) * spread
    place = [round(v, 4) for v in rng.uniform(low, -low)]
    return dict(zip(("x", "y", "z", "yaw", "roll", "pitch"), place)) | {"z": round(place[2] + 0.16, 4)}


# --- Geometry ----------------------------------------------------------------


def raised(angle):
    """Takes X to the elevation `angle`: about Y, the other way round."""
    return Rotation.from_rotvec([0.0, -angle, 0.0])


def shaft_lines(setup, pose):
    """Unit vectors from the output to the pinion, taken forward, and the rear piece's length."""
    axle = Rotation.from_euler("ZXY", [pose["yaw"], pose["roll"], pose["pitch"]])
    pinion = raised(setup["pinion_angle"])
    joint = pinion.apply([setup["pinion_length"], 0.0, -setup["pinion_drop"]])
    joint = axle.apply(joint + [0.0, setup["pinion_offset"], 0.0]) + [pose["x"], pose["y"], pose["z"]]
    heading = Rotation.from_rotvec([0.0, 0.0, setup["output_left"]])
    points = [np.array(p) for p in (setup["output"], setup["carrier"], joint.tolist()) if p]
    runs = [a - b for a, b in zip(points, points[1:])]
    lines = [heading.apply(raised(setup["output_nose_up"]).apply(ALONG)), *runs, axle.apply(pinion.apply(ALONG))]
    return [v / np.linalg.norm(v) for v in lines], float(np.linalg.norm(runs[-1]))


def angle_between(a, b):
    return 2.0 * math.asin(float(np.linalg.norm(a - b)) / 2.0)


# --- Turning -----------------------------------------------------------------


def turned(lines, phase, turn):
    """Pins of the pinion's yoke, and its speed over the output's, with the output turned by `turn`."""
    square = np.cross(lines[0], [0.3, 0.5, 0.8])
    pins = Rotation.from_rotvec(turn * lines[0]).apply(square / np.linalg.norm(square))
    speed = 1.0
    for number, (here, after) in enumerate(zip(lines, lines[1:])):
        driven = np.cross(after, pins)
        driven /= np.linalg.norm(driven)
        # Square pins stay square: speed (here x p).q + next_speed p.(after x q) = 0.
        speed *= -np.dot(np.cross(here, pins), driven) / np.dot(pins, np.cross(after, driven))
        # The last shaft is the pinion, the one before it the rear piece.
        is_rear = number == len(lines) - 3
        pins = Rotation.from_rotvec((phase if is_rear else 0.0) * after).apply(driven)
    return pins, speed


def extremes(lines, phase):
    step = math.pi / TURNS
    speeds = [turned(lines, phase, i * step)[1] for i in range(TURNS)]

    def polished(best, sign):
        found = minimize_scalar(
            lambda turn: sign * turned(lines, phase, turn)[1],
            bounds=((best - 1) * step, (best + 1) * step),
            method="bounded",
            options={"xatol": 1e-12},
        )
        return sign * float(found.fun)

    return polished(int(np.argmin(speeds)), 1.0), polished(int(np.argmax(speeds)), -1.0)


def check_speeds(rng, lines, phase):
    """Largest difference between the speed by statement and the speed by differences."""
    first = np.cross(lines[-1], [0.3, 0.5, 0.8])
    first /= np.linalg.norm(first)
    second = np.cross(lines[-1], first)
    worst = 0.0
    for turn in rng.uniform(0.0, 2.0 * math.pi, 4):
        h = 1e-3
        at = [turned(lines, phase, turn + k * h)[0] for k in (-2, -1, 1, 2)]
        a = np.unwrap([math.atan2(p @ second, p @ first) for p in at])
        slope = (a[0] - 8.0 * a[1] + 8.0 * a[2] - a[3]) / (12.0 * h)
        worst = max(worst, abs(slope - turned(lines, phase, turn)[1]))
    return worst


# --- File --------------------------------------------------------------------


def pose_record(rng, setup, pose, ride_length):
    lines, length = shaft_lines(setup, pose)
    difference = check_speeds(rng, lines, setup["phase"])
    if not difference < MAX_DIFFERENCE:
        raise SystemExit(f"speeds differ by {difference:.3g} in {setup} at {pose}")
    slowest, fastest = extremes(lines, setup["phase"])
    angles = [angle_between(a, b) for a, b in zip(lines, lines[1:])]
    result = {"angles": angles, "length": length, "slip": length - ride_length}
    return pose | result | {"slowest": slowest, "fastest": fastest}, difference


def main():
    rng = np.random.default_rng(SEED)
    cases, worst = [], 0.0
    for number in range(CASES):
        setup, ride = draw_setup(rng, number), draw_pose(rng, 0.2)
        ride_length = shaft_lines(setup, ride)[1]
        poses = []
        for _ in range(POSES):
            record, difference = pose_record(rng, setup, draw_pose(rng, 1.0), ride_length)
            poses.append(record)
            worst = max(worst, difference)
        cases.append(setup | {"ride": ride, "poses": poses})
    comment = (
        "Made by tests/reference/driveline.py (cargo xtask reference); do not edit. Metres, radians. "
        f"Speeds of the pinion over the output's; largest difference between the two solves {worst:.2g}."
    )
    lines = ",\n".join(json.dumps(case, separators=(",", ":")) for case in cases)
    path = Path(__file__).with_suffix(".json")
    path.write_text(f'{{"comment":{json.dumps(comment)},\n"cases":[\n{lines}\n]}}\n')
    print(f"{len(cases)} shafts, speeds differ by {worst:.2g}")


if __name__ == "__main__":
    sys.exit(main())
