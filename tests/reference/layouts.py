#!/usr/bin/env python3
"""Reference poses of an axle located by links and joints: writes `layouts.json` beside this file.

The sibling of `poses.py` for the other layouts: cranks on either body about any
axis, bars whose lengths do not fit the drawing, joints, and layouts that share
or bind and give elastically. Random setups are moved through ride and roll.

Mechanism: the ground is fixed. The platform stands at (x, y, z) with
ground_from_platform = Rz(yaw) Rx(roll) Ry(pitch); z and roll are imposed; x, y,
yaw, pitch and the angle of a crank hinged to either body are solved. Closures:
a link holds two points of different bodies at a length (residual: distance less
length); a joint makes a ground and a platform point coincide (residuals: platform
point less ground point along three axes given in ground coordinates).
As many residuals as unknowns: the residuals are zero. More of them: the energy,
half the sum of stiffness times squared residual, is at a minimum.

First solve:  scipy.optimize.root(method="hybr", tol=1e-14), after a walk outwards
              in small steps. Elastic layouts: on the energy's gradient, with its
              derivatives by complex steps, after scipy.optimize.least_squares.
Second solve: CasADi's Newton root finder on a separate statement of the same
              closures (quaternions, automatic derivatives of the energy), walking
              straight to each recorded pose.
Both follow the branch from the drawing: x = y = 0, z = z_ride, all angles zero.
As-built setups are closed there first, by changing the lengths from those that
fit the drawing to the given ones in small steps. The script fails unless both
agree to 1e-10 m and 1e-10 rad at every pose, 1e-9 where elastic.

Metres, radians, N/m, J; X forward, Y left, Z up. Crank points are in the
coordinates of the body that carries the crank, at crank angle zero.

Run with `python3 tests/reference/layouts.py`. Needs numpy, scipy and casadi. The
seed is fixed; other versions of these packages may change last digits.
"""

import json
import math
import sys
from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path

import casadi as ca
import numpy as np
from poses import (
    BRIEF,
    MAX_CHANGE,
    MIN_SINGULAR,
    MIN_SINGULAR_RATIO,
    NEWTON,
    PLATFORM_SCALE,
    STEP_ROLL,
    STEP_Z,
    TOL_HYBR,
    TOL_WALK,
    UNKNOWNS,
    BranchEnds,
    angled_upper_bar,
    both_sides,
    draw_three_link,
    draw_triangulated,
    draw_z_ride,
    in_ball,
    lower_bar,
    mirrored,
    panhard_bar,
    point,
    product,
    quaternion,
    rotated,
    skew,
    upper_bar,
    watt,
)
from poses import Link as Bar
from scipy.optimize import least_squares, root

SEED = 20250317
CASES_PER_LAYOUT = 200
DETAILED_CASES = 40  # the first cases of a layout record seven poses, the others four
MAX_DRAWS = 4 * CASES_PER_LAYOUT

LINK_STIFFNESS = (5e6, 5e7)  # N/m
RADIAL_STIFFNESS = (3e6, 2e7)
BOLT_STIFFNESS = (3e5, 3e6)
AS_BUILT_CHANGE = 0.0119  # m, of a length from what fits the drawing
MAX_TILT = math.radians(25)  # of a crank's axis
MAX_BOLT_TURN = math.radians(10)

# First solve. Gradients are of energy over the softest stiffness: m or m^2.
STEP_LENGTH = 0.001  # m, closing as-built bars
MAX_WALK_RESIDUAL = 1e-8
MAX_RESIDUAL = 1e-15  # m
MAX_GRADIENT = 1e-12
COMPLEX_STEP = 1e-30

# Second solve.
CHECK_STEPS_CLOSING = 20
CHECK_STEP_Z = 0.005  # m
CHECK_STEP_ROLL = math.radians(0.25)
NEWTON_ELASTIC = NEWTON | {"abstolStep": 1e-12}  # stiffness contrast costs digits
MAX_DIFFERENCE = {"exact": 1e-10, "elastic": 1e-9}  # m and rad


# --- Setups ------------------------------------------------------------------


@dataclass
class Mount:
    on: str  # "ground", "platform" or "crank"
    point: np.ndarray


@dataclass
class Link:
    start: Mount
    end: Mount
    length: float
    stiffness: float


@dataclass
class Joint:
    ground: np.ndarray
    platform: np.ndarray
    axes: np.ndarray  # rows, in ground coordinates
    stiffness: np.ndarray  # per axis


@dataclass
class Crank:
    on: str  # "ground" or "platform"
    pivot: np.ndarray
    axis: np.ndarray  # unit


@dataclass
class Setup:
    layout: str
    symmetric: bool  # bars and joints are mirrored; panhard bar, diagonal and crank are not
    z_ride: float
    links: list
    crank: Crank | None = None
    joints: list = field(default_factory=list)

    def __post_init__(self):
        """Arrays for the first solve: link starts, link ends and joint points in one list."""
        count = len(self.links)
        mounts = [one.start for one in self.links] + [one.end for one in self.links]
        mounts += [Mount("platform", one.platform) for one in self.joints]
        self.starts, self.ends = slice(0, count), slice(count, 2 * count)
        self.joined = slice(2 * count, None)
        self.points = np.array([mount.point for mount in mounts])
        carriers = [carrier(mount, self.crank) for mount in mounts]
        self.on_platform = np.array([[on == "platform"] for on in carriers])
        self.on_crank = np.array([[mount.on == "crank"] for mount in mounts])
        self.lengths = np.array([one.length for one in self.links])
        stiffness = [one.stiffness for one in self.links]
        stiffness += [k for one in self.joints for k in one.stiffness]
        self.stiffness = np.array(stiffness)
        self.softest = self.stiffness.min()
        self.drawn_lengths = drawn_lengths(self.links, self.crank, self.z_ride)

    @property
    def unknowns(self):
        return 5 if self.crank else 4

    @property
    def elastic(self):
        return len(self.stiffness) > self.unknowns

    @property
    def as_built(self):
        return self.layout.endswith("_as_built")


def carrier(mount, crank):
    """The body in whose coordinates the mount is given."""
    return crank.on if mount.on == "crank" else mount.on


def drawn_lengths(links, crank, z_ride):
    """Lengths of the links as they lie in the drawing."""
    lift = {"ground": np.zeros(3), "platform": np.array([0.0, 0.0, z_ride])}

    def drawn(mount):
        return mount.point + lift[carrier(mount, crank)]

    return np.array([np.linalg.norm(drawn(one.end) - drawn(one.start)) for one in links])


def draw_stiffness(rng, limits):
    """Spread evenly over the decades, three digits."""
    return float(f"{math.exp(rng.uniform(*np.log(limits))):.3g}")


def link(rng, start, end):
    """A link whose length is still to be cut."""
    return Link(start, end, math.nan, draw_stiffness(rng, LINK_STIFFNESS))


def links_of(rng, bars):
    """Links of bars drawn with ground and moving mounts; mirrored pairs share a stiffness."""
    links = []
    for bar in bars:
        moving = Mount("crank" if bar.on_crank else "platform", bar.moving)
        links.append(link(rng, Mount("ground", bar.ground), moving))
    for left, right in mirrored_pairs(bars):
        links[right].stiffness = links[left].stiffness
    return links


def mirrored_pairs(bars):
    """Indices of each left bar and its mirror image, which comes next."""
    for left in range(len(bars) - 1):
        image, bar = mirrored(bars[left]), bars[left + 1]
        if (image.ground == bar.ground).all() and (image.moving == bar.moving).all():
            yield left, left + 1


def cut_to_suit(layout, symmetric, z_ride, links, crank=None, joints=()):
    for one, length in zip(links, drawn_lengths(links, crank, z_ride)):
        one.length = float(length)
    return Setup(layout, symmetric, z_ride, links, crank, list(joints))


def as_built(rng, layout, drawing):
    """The drawing's bars with other lengths, alike in each mirrored pair."""
    links = links_of(rng, drawing.links)
    changes = rng.uniform(-AS_BUILT_CHANGE, AS_BUILT_CHANGE, len(links))
    for left, right in mirrored_pairs(drawing.links):
        changes[right] = changes[left]
    drawn = drawn_lengths(links, None, drawing.z_ride)
    for one, length in zip(links, drawn + changes):
        one.length = round(float(length), 4)
    return Setup(layout, drawing.symmetric, drawing.z_ride, links)


# --- Parts -------------------------------------------------------------------


def angled_lower_bar(rng, z_ride):
    """Left lower bar angled in plan; the pair converges at the axle or at the frame."""
    angle, length = math.radians(rng.uniform(20, 40)), rng.uniform(0.45, 0.7)
    dx, dy = length * math.cos(angle), length * math.sin(angle)
    near, x = rng.uniform(0.05, 0.15), rng.uniform(-0.05, 0.05)
    z, rise = rng.uniform(-0.12, -0.03), rng.uniform(-0.07, 0.07)
    ground_y, moving_y = (near + dy, near) if rng.integers(2) else (near, near + dy)
    return Bar(point(x + dx, ground_y, z_ride + z + rise), point(x, moving_y, z))


def in_vertical_plane(bar):
    """The bar turned in plan to lie along X."""
    return Bar(point(bar.ground[0], bar.moving[1], bar.ground[2]), bar.moving)


def aimed(bar, ahead, above, z_ride):
    """The bar turned to lie along X and in line with a point `ahead` of and `above` the axle."""
    x, y, z = bar.moving
    rise = (bar.ground[0] - x) * (above - z) / (ahead - x)
    return Bar(point(bar.ground[0], y, z_ride + z + rise), bar.moving)


def converging_bars(rng, symmetric, z_ride):
    """Lower and upper pairs along X whose lines meet ahead of the axle, or else behind it."""
    ahead = rng.uniform(1.2, 3.0) if rng.integers(4) else -rng.uniform(2.0, 4.0)
    above = rng.uniform(-0.05, 0.15)
    bars = []
    for draw in (lower_bar, upper_bar):
        left = aimed(draw(rng, z_ride), ahead, above, z_ride)
        bars += both_sides(rng, left, symmetric, z_ride)
    return bars


def diagonal_bar(rng, z_ride):
    """From the front of the frame on one side to the axle on the other."""
    side, half = rng.choice([-1.0, 1.0]), rng.uniform(0.28, 0.42)
    x, z = rng.uniform(-0.05, 0.05), rng.uniform(-0.1, 0.1)
    run, rise = rng.uniform(0.4, 0.75), rng.uniform(-0.06, 0.06)
    narrower = rng.uniform(0.0, 0.08)
    ground = point(x + run, side * half, z_ride + z + rise)
    return Bar(ground, point(x, side * (narrower - half), z))


def wishbone_bars(rng, symmetric, z_ride):
    """Two upper bars with one platform point."""
    x, y = rng.uniform(-0.05, 0.05), 0.0 if symmetric else rng.uniform(-0.12, 0.12)
    apex = point(x, y, rng.uniform(0.1, 0.22))
    run, half, rise = rng.uniform(0.35, 0.6), rng.uniform(0.22, 0.42), rng.uniform(-0.07, 0.07)
    bars = []
    for side in (1.0, -1.0):
        ground = np.array([x + run, side * half, z_ride + apex[2] + rise])
        if not symmetric:
            ground += in_ball(rng, 0.06)
        bars.append(Bar(point(*ground), apex))
    return bars


def in_cone(rng, axis, angle):
    """Unit vector up to `angle` from one of the axes X, Y, Z."""
    away, about = rng.uniform(0.0, angle), rng.uniform(0.0, 2 * math.pi)
    first, second = np.roll(axis, 1), np.roll(axis, 2)
    across = math.cos(about) * first + math.sin(about) * second
    return math.cos(away) * axis + math.sin(away) * across


def even_watt(rng, symmetric, z_ride):
    """Crank on the platform; arms and links are equal if symmetric."""
    bars, crank = watt(rng, symmetric, z_ride)
    return links_of(rng, bars), Crank("platform", crank.pivot, crank.axis)


def uneven_watt(rng, symmetric, z_ride, on):
    """Crank on `on` about any axis near X or Z, with unequal arms and links."""
    x_axis, y_axis, z_axis = np.eye(3)
    base, arm = (x_axis, z_axis) if rng.integers(2) else (z_axis, x_axis)
    axis = in_cone(rng, base, MAX_TILT)
    arm = arm - axis * (axis @ arm)
    arm *= rng.choice([-1.0, 1.0]) / np.linalg.norm(arm)
    short = rng.uniform(0.05, 0.085)
    reaches = rng.permutation([short, short * rng.uniform(1.15, 1.5)])
    off_centre = 0.0 if symmetric else rng.uniform(-0.08, 0.08)
    pivot = [rng.choice([-1, 1]) * rng.uniform(0.1, 0.25), off_centre, rng.uniform(-0.06, 0.06)]
    # Drawn in platform coordinates, then lifted where the body is the ground.
    lift = {"ground": np.array([0.0, 0.0, z_ride]), "platform": np.zeros(3)}
    links = []
    for side, reach in zip((1.0, -1.0), reaches):
        tip = pivot + side * reach * arm + in_ball(rng, 0.008)
        far = tip + side * rng.uniform(0.33, 0.52) * y_axis + in_ball(rng, 0.03)
        other = "ground" if on == "platform" else "platform"
        ends = [Mount(other, point(*(far + lift[other]))), Mount("crank", point(*(tip + lift[on])))]
        links.append(link(rng, *(ends if on == "platform" else reversed(ends))))
    return links, Crank(on, point(*(pivot + lift[on])), axis)


def joint_pair(rng, symmetric, z_ride, ahead, aside):
    """Left and right front joints of arms rigid with the platform."""
    left = np.array([ahead, aside, 0.1 + rng.uniform(-0.04, 0.04)])
    right = left * [1.0, -1.0, 1.0]
    turn, stiffness = draw_bolt(rng)
    pair = [joint(left, turn, stiffness, z_ride)]
    if symmetric:
        return [*pair, joint(right, -turn, stiffness, z_ride)]
    return [*pair, joint(right + in_ball(rng, 0.05), *draw_bolt(rng), z_ride)]


def draw_bolt(rng):
    """Turn about Z, and stiffness fore and aft, along the bolt, up and down."""
    limits = RADIAL_STIFFNESS, BOLT_STIFFNESS, RADIAL_STIFFNESS
    stiffness = np.array([draw_stiffness(rng, pair) for pair in limits])
    return rng.uniform(-MAX_BOLT_TURN, MAX_BOLT_TURN), stiffness


def joint(place, turn, stiffness, z_ride):
    """Joint at `place`, ground coordinates, its bolt along Y turned about Z."""
    c, s = math.cos(turn), math.sin(turn)
    axes = np.array([[c, s, 0.0], [-s, c, 0.0], [0.0, 0.0, 1.0]])
    return Joint(point(*place), point(*(place - [0.0, 0.0, z_ride])), axes, stiffness)


# --- Layouts -----------------------------------------------------------------


def three_links(rng, symmetric):
    """Ride height and three bars, the upper one off centre unless symmetric."""
    drawing = draw_three_link(rng, symmetric, 0)
    return drawing.z_ride, links_of(rng, drawing.links[:3])


def draw_three_link_watt(rng, symmetric, layout):
    z_ride, links = three_links(rng, symmetric)
    across, crank = even_watt(rng, symmetric, z_ride)
    return cut_to_suit(layout, symmetric, z_ride, links + across, crank)


def draw_three_link_uneven_watt(on):
    def draw(rng, symmetric, layout):
        z_ride, links = three_links(rng, symmetric)
        across, crank = uneven_watt(rng, symmetric, z_ride, on)
        return cut_to_suit(layout, symmetric, z_ride, links + across, crank)

    return draw


def draw_two_pairs(draw_lower, draw_upper):
    def draw(rng, symmetric, layout):
        z_ride = draw_z_ride(rng)
        bars = both_sides(rng, draw_lower(rng, z_ride), symmetric, z_ride)
        bars += both_sides(rng, draw_upper(rng, z_ride), symmetric, z_ride)
        return cut_to_suit(layout, symmetric, z_ride, links_of(rng, bars))

    return draw


def draw_wishbone(rng, symmetric, layout):
    z_ride = draw_z_ride(rng)
    bars = both_sides(rng, lower_bar(rng, z_ride), symmetric, z_ride)
    bars += wishbone_bars(rng, symmetric, z_ride)
    return cut_to_suit(layout, symmetric, z_ride, links_of(rng, bars))


def draw_three_link_panhard_as_built(rng, symmetric, layout):
    return as_built(rng, layout, draw_three_link(rng, symmetric, 0))


def draw_triangulated_as_built(rng, symmetric, layout):
    return as_built(rng, layout, draw_triangulated(rng, symmetric, 0))


def draw_parallel_diagonal(rng, symmetric, layout):
    z_ride = draw_z_ride(rng)
    bars = [diagonal_bar(rng, z_ride)]
    for draw in (lower_bar, upper_bar):
        left = in_vertical_plane(draw(rng, z_ride))
        bars += both_sides(rng, left, symmetric, z_ride)
    return cut_to_suit(layout, symmetric, z_ride, links_of(rng, bars))


def draw_parallel_binding(rng, symmetric, layout):
    z_ride = draw_z_ride(rng)
    bars = converging_bars(rng, symmetric, z_ride) + [panhard_bar(rng, z_ride)]
    return cut_to_suit(layout, symmetric, z_ride, links_of(rng, bars))


def draw_truck_arms_panhard(rng, symmetric, layout):
    z_ride = draw_z_ride(rng)
    joints = joint_pair(rng, symmetric, z_ride, rng.uniform(1.1, 1.3), rng.uniform(0.1, 0.25))
    links = links_of(rng, [panhard_bar(rng, z_ride)])
    return cut_to_suit(layout, symmetric, z_ride, links, joints=joints)


def ladder_joints(rng, symmetric, z_ride):
    return joint_pair(rng, symmetric, z_ride, rng.uniform(0.65, 0.85), rng.uniform(0.4, 0.5))


def draw_ladder_bars(draw_bar):
    def draw(rng, symmetric, layout):
        z_ride = draw_z_ride(rng)
        joints = ladder_joints(rng, symmetric, z_ride)
        links = links_of(rng, [draw_bar(rng, z_ride)])
        return cut_to_suit(layout, symmetric, z_ride, links, joints=joints)

    return draw


def draw_ladder_bars_watt(rng, symmetric, layout):
    z_ride = draw_z_ride(rng)
    joints = ladder_joints(rng, symmetric, z_ride)
    links, crank = even_watt(rng, symmetric, z_ride)
    return cut_to_suit(layout, symmetric, z_ride, links, crank, joints)


DRAW = {
    "three_link_watt": draw_three_link_watt,
    "lower_triangulated": draw_two_pairs(angled_lower_bar, upper_bar),
    "both_triangulated": draw_two_pairs(angled_lower_bar, angled_upper_bar),
    "wishbone": draw_wishbone,
    "three_link_panhard_as_built": draw_three_link_panhard_as_built,
    "triangulated_as_built": draw_triangulated_as_built,
    "three_link_watt_on_ground": draw_three_link_uneven_watt("ground"),
    "three_link_watt_tilted": draw_three_link_uneven_watt("platform"),
    "parallel_diagonal": draw_parallel_diagonal,
    "parallel_binding": draw_parallel_binding,
    "truck_arms_panhard": draw_truck_arms_panhard,
    "ladder_bars_panhard": draw_ladder_bars(panhard_bar),
    "ladder_bars_diagonal": draw_ladder_bars(diagonal_bar),
    "ladder_bars_watt": draw_ladder_bars_watt,
}


# --- Travel ------------------------------------------------------------------

# (height as a fraction of the travel from ride, direction of roll)
DETAILED = [(-1, 0), (-0.7, 1), (-0.3, -1), (0, 1), (0.4, 0), (0.7, -1), (1, 1)]
DETAILED_AS_BUILT = [(0, 0), *DETAILED[:4], *DETAILED[5:]]
BRIEF_AS_BUILT = [(0, 0), *BRIEF[:1], *BRIEF[2:]]


def draw_targets(rng, setup, detailed):
    """(z, roll) pairs; as-built setups are recorded at ride height too."""
    if setup.as_built:
        wanted = DETAILED_AS_BUILT if detailed else BRIEF_AS_BUILT
    else:
        wanted = DETAILED if detailed else BRIEF
    binds = setup.joints or setup.layout == "parallel_binding"
    travel, mirror = rng.uniform(0.06, 0.11), rng.choice([-1.0, 1.0])
    targets = []
    for fraction, direction in wanted:
        roll = mirror * direction * math.radians(rng.uniform(0.5, 3.0 if binds else 4.0))
        targets.append((round(setup.z_ride + fraction * travel, 4), round(roll, 6) + 0.0))
    return targets


# --- First solve: explicit matrices, SciPy ------------------------------------

SKEW_X, SKEW_Y, SKEW_Z = (skew(axis) for axis in np.eye(3))


def rotation(k, angle):
    """About the axis whose cross product matrix is `k`; the angle may be complex."""
    return np.eye(3) + np.sin(angle) * k + (1.0 - np.cos(angle)) * (k @ k)


def positions_and_rates(setup, z, roll, u):
    """Points in ground coordinates, and their derivatives by each unknown."""
    heading = rotation(SKEW_Z, u[2]) @ rotation(SKEW_X, roll)
    ground_from_platform = heading @ rotation(SKEW_Y, u[3])
    local, on_platform = setup.points, setup.on_platform
    if setup.crank:
        k = skew(setup.crank.axis)
        arms = (local - setup.crank.pivot) @ rotation(k, u[4]).T
        local = np.where(setup.on_crank, setup.crank.pivot + arms, local)
    levers = local @ ground_from_platform.T
    positions = np.where(on_platform, levers + np.array([u[0], u[1], z]), local)
    rates = [on_platform * axis for axis in np.eye(3)[:2]]
    rates += [on_platform * (levers @ SKEW_Z.T), on_platform * (levers @ skew(heading[:, 1]).T)]
    if setup.crank:
        turning = setup.on_crank * (arms @ k.T)
        rates.append(np.where(on_platform, turning @ ground_from_platform.T, turning))
    return positions, np.array(rates)


def errors_and_jacobian(setup, z, roll, u, lengths=None):
    """Residuals of the links, then of the joints; derivatives, a row per residual."""
    positions, rates = positions_and_rates(setup, z, roll, u)
    lines = positions[setup.ends] - positions[setup.starts]
    distances = np.sqrt((lines * lines).sum(axis=1))
    directions = lines / distances[:, None]
    errors = [distances - (setup.lengths if lengths is None else lengths)]
    rows = [(directions * (rates[:, setup.ends] - rates[:, setup.starts])).sum(axis=2).T]
    joint_positions, joint_rates = positions[setup.joined], rates[:, setup.joined]
    for i, one in enumerate(setup.joints):
        errors.append(one.axes @ (joint_positions[i] - one.ground))
        rows.append(one.axes @ joint_rates[:, i].T)
    return np.concatenate(errors), np.concatenate(rows)


def gradient(setup, z, roll, u):
    """Of the energy over the softest stiffness."""
    errors, jacobian = errors_and_jacobian(setup, z, roll, u)
    return jacobian.T @ (setup.stiffness / setup.softest * errors)


def hessian(setup, z, roll, u):
    steps = 1j * COMPLEX_STEP * np.eye(len(u))
    columns = [gradient(setup, z, roll, u + step).imag / COMPLEX_STEP for step in steps]
    return np.array(columns).T


def solve_exact(setup, z, roll, start, tol, max_residual, lengths=None):
    """hybr may call it no progress at full accuracy: judge the residual."""

    def equations(u):
        return errors_and_jacobian(setup, z, roll, u, lengths)

    found = root(equations, start, jac=True, method="hybr", tol=tol)
    if abs(found.fun).max() > max_residual:
        raise BranchEnds("no solution")
    return found.x


def solve_elastic(setup, z, roll, start, tol, max_gradient):
    found = root(
        lambda u: gradient(setup, z, roll, u),
        start,
        jac=lambda u: hessian(setup, z, roll, u),
        method="hybr",
        tol=tol,
    )
    if abs(found.fun).max() > max_gradient:
        raise BranchEnds("no solution")
    return found.x


def walk_solve(setup, z, roll, start):
    solve = solve_elastic if setup.elastic else solve_exact
    return solve(setup, z, roll, start, TOL_WALK, MAX_WALK_RESIDUAL)


def final_solve(setup, z, roll, start):
    """The pose to record; elastic layouts are fitted by least squares first."""
    if not setup.elastic:
        return solve_exact(setup, z, roll, start, TOL_HYBR, MAX_RESIDUAL)
    fitted = least_squares_fit(setup, z, roll, start)
    return solve_elastic(setup, z, roll, fitted, TOL_HYBR, MAX_GRADIENT)


def least_squares_fit(setup, z, roll, start):
    weights = np.sqrt(setup.stiffness / setup.softest)
    return least_squares(
        lambda u: weights * errors_and_jacobian(setup, z, roll, u)[0],
        start,
        jac=lambda u: weights[:, None] * errors_and_jacobian(setup, z, roll, u)[1],
        xtol=1e-15,
        ftol=1e-15,
        gtol=1e-15,
    ).x


def hold(setup, z, roll, u):
    """How well the platform is located: smallest singular value of the scaled Jacobian.

    Elastic layouts: square root of the scaled Hessian's smallest eigenvalue over
    the softest stiffness; zero where the energy is no minimum.
    """
    scale = np.array([1.0, 1.0, PLATFORM_SCALE, PLATFORM_SCALE])
    if setup.crank:
        arms = (setup.points - setup.crank.pivot)[setup.on_crank[:, 0]]
        scale = np.append(scale, np.linalg.norm(arms, axis=1).mean())
    if setup.elastic:
        scaled = hessian(setup, z, roll, u) / np.outer(scale, scale)
        return math.sqrt(max(0.0, np.linalg.eigvalsh(scaled)[0]))
    jacobian = errors_and_jacobian(setup, z, roll, u)[1]
    return np.linalg.svd(jacobian / scale, compute_uv=False)[-1]


class Walk:
    """Continuation from the drawing, checked at every step."""

    def __init__(self, setup):
        self.setup, self.floor = setup, MIN_SINGULAR
        self.ride = self.closed()
        located = hold(setup, setup.z_ride, 0.0, self.ride)
        self.floor = max(MIN_SINGULAR, MIN_SINGULAR_RATIO * located)
        if located < self.floor:
            raise BranchEnds("poorly located at ride height")

    def closed(self):
        """Pose at ride height, from the drawing by changing the lengths to those given."""
        setup, u = self.setup, np.zeros(self.setup.unknowns)
        if not setup.as_built:
            return u
        changes = setup.lengths - setup.drawn_lengths
        steps = math.ceil(abs(changes).max() / STEP_LENGTH)
        for step in range(1, steps + 1):
            lengths = setup.drawn_lengths + changes * (step / steps)
            place = setup.z_ride, 0.0
            after = solve_exact(setup, *place, u, TOL_WALK, MAX_WALK_RESIDUAL, lengths)
            u = self.checked(*place, u, after)
        return u

    def checked(self, z, roll, before, after):
        if (abs(after - before) > MAX_CHANGE[: len(after)]).any():
            raise BranchEnds("moves too fast")
        if hold(self.setup, z, roll, after) < self.floor:
            raise BranchEnds("poorly located")
        return after

    def go(self, here, there, u):
        """Pose at `there`, both (z, roll), from `u` at `here`; predicts by the last change."""
        here, there = np.array(here), np.array(there)
        steps = math.ceil(max(abs(there - here) / [STEP_Z, STEP_ROLL]))
        before = u
        for step in range(1, steps + 1):
            z, roll = here + (there - here) * (step / steps)
            after = walk_solve(self.setup, z, roll, u + (u - before))
            before, u = u, self.checked(z, roll, u, after)
        return u

    def poses(self, targets):
        """Pose at each target: outwards in height at roll zero, then in roll."""
        z_ride, solved = self.setup.z_ride, {}
        for side in ([t for t in targets if t[0] >= z_ride], [t for t in targets if t[0] < z_ride]):
            level, u = (z_ride, 0.0), self.ride
            for target in sorted(side, key=lambda t: abs(t[0] - z_ride)):
                u = self.go(level, (target[0], 0.0), u)
                level = (target[0], 0.0)
                rolled = self.go(level, target, u)
                solved[target] = final_solve(self.setup, *target, rolled)
        return [solved[target] for target in targets]


# --- Second solve: quaternions, CasADi ----------------------------------------


class Symbols:
    """A setup's unknowns and parameters as CasADi symbols, for one layout."""

    def __init__(self, setup):
        links, joints = len(setup.links), len(setup.joints)
        self.u = ca.SX.sym("u", setup.unknowns)
        self.drive = ca.SX.sym("drive", 2)  # z and roll
        self.z_ride = ca.SX.sym("z_ride")
        self.closing = ca.SX.sym("closing")  # 0: lengths that fit the drawing, 1: given
        self.starts, self.ends = ca.SX.sym("starts", 3, links), ca.SX.sym("ends", 3, links)
        self.lengths = ca.SX.sym("lengths", links)
        self.ground = ca.SX.sym("ground", 3, joints)
        self.platform = ca.SX.sym("platform", 3, joints)
        self.axes = [ca.SX.sym("axes", 3, 3) for _ in range(joints)]  # columns
        self.stiffness = ca.SX.sym("stiffness", links + 3 * joints)
        self.pivot, self.axis = ca.SX.sym("pivot", 3), ca.SX.sym("axis", 3)

    def parameters(self):
        matrices = [self.starts, self.ends, self.ground, self.platform, *self.axes]
        vectors = [self.lengths, self.stiffness, self.pivot, self.axis]
        packed = [ca.vec(matrix) for matrix in matrices]
        return ca.vertcat(self.drive, self.z_ride, self.closing, *packed, *vectors)


def parameters(setup, z, roll, closing):
    """Numbers in the order of `Symbols.parameters`."""
    ends = [one.start.point for one in setup.links] + [one.end.point for one in setup.links]
    joined = [one.ground for one in setup.joints] + [one.platform for one in setup.joints]
    axes = [one.axes.ravel() for one in setup.joints]
    hinge = [setup.crank.pivot, setup.crank.axis] if setup.crank else [np.zeros(3)] * 2
    stiffness = setup.stiffness / setup.softest
    head = [z, roll, setup.z_ride, closing]
    return np.concatenate([head, *ends, *joined, *axes, setup.lengths, stiffness, *hinge])


def on_platform(place, pose):
    """A platform point in ground coordinates; a pose is z, roll and the unknowns."""
    z, roll, u = pose
    x_axis, y_axis, z_axis = (ca.SX(axis) for axis in np.eye(3))
    about_xy = product(quaternion(x_axis, roll), quaternion(y_axis, u[3]))
    turn = product(quaternion(z_axis, u[2]), about_xy)
    return ca.vertcat(u[0], u[1], z) + rotated(turn, place)


def symbolic_position(setup, symbols, on, place, pose):
    """A link's mount in ground coordinates."""
    if on == "crank":
        turn = quaternion(symbols.axis, pose[2][4])
        place, on = symbols.pivot + rotated(turn, place - symbols.pivot), setup.crank.on
    return on_platform(place, pose) if on == "platform" else place


def symbolic_equations(setup, symbols):
    """Exact layouts: squared distance less squared length, over twice the length.

    Elastic layouts: gradient of the energy over the softest stiffness.
    """
    drawing = symbols.z_ride, 0, ca.SX.zeros(setup.unknowns)
    here = symbols.drive[0], symbols.drive[1], symbols.u
    drawn = ca.sqrt(squared_distances(setup, symbols, drawing))
    lengths = drawn + symbols.closing * (symbols.lengths - drawn)
    squares = squared_distances(setup, symbols, here)
    if not setup.elastic:
        return (squares - lengths**2) / (2 * lengths)
    errors = ca.vertcat(ca.sqrt(squares) - lengths, *joint_errors(symbols, here))
    return ca.gradient(ca.dot(symbols.stiffness, errors**2) / 2, symbols.u)


def squared_distances(setup, symbols, pose):
    squares = []
    for i, one in enumerate(setup.links):
        start = symbolic_position(setup, symbols, one.start.on, symbols.starts[:, i], pose)
        end = symbolic_position(setup, symbols, one.end.on, symbols.ends[:, i], pose)
        squares.append(ca.sumsqr(end - start))
    return ca.vertcat(*squares)


def joint_errors(symbols, pose):
    return [
        axes.T @ (on_platform(symbols.platform[:, i], pose) - symbols.ground[:, i])
        for i, axes in enumerate(symbols.axes)
    ]


class SecondSolve:
    """CasADi's Newton iteration for one layout, with the setup as parameters."""

    def __init__(self, setup):
        symbols = Symbols(setup)
        given, equations = symbols.parameters(), symbolic_equations(setup, symbols)
        problem = {"x": symbols.u, "p": given, "g": equations}
        options = NEWTON_ELASTIC if setup.elastic else NEWTON
        self.newton = ca.rootfinder("newton", "newton", problem, options)
        self.slope = ca.Function("slope", [symbols.u, given], [ca.jacobian(equations, symbols.u)])

    def closed(self, setup):
        u = np.zeros(setup.unknowns)
        for step in range(1, CHECK_STEPS_CLOSING + 1 if setup.as_built else 1):
            part = step / CHECK_STEPS_CLOSING
            u = self.newton(u, parameters(setup, setup.z_ride, 0.0, part))
        return u

    def pose(self, setup, ride, z, roll):
        """Pose by a straight walk in height and roll together from the pose `ride`."""
        dz = z - setup.z_ride
        steps = math.ceil(max(abs(dz) / CHECK_STEP_Z, abs(roll) / CHECK_STEP_ROLL, 1))
        u = ride
        for step in range(1, steps + 1):
            part = step / steps
            u = self.newton(u, parameters(setup, setup.z_ride + part * dz, part * roll, 1.0))
        if setup.elastic:
            self.require_minimum(setup, z, roll, u)
        return np.array(u).ravel()

    def require_minimum(self, setup, z, roll, u):
        slope = np.array(self.slope(u, parameters(setup, z, roll, 1.0)))
        if np.linalg.eigvalsh(slope)[0] <= 0.0:
            raise SystemExit(f"{setup.layout}: stationary but no minimum at z {z}, roll {roll}")


def largest_difference(setup, second, targets, poses):
    """Over all poses, m or rad; fails the script where the two solves disagree."""
    limit = MAX_DIFFERENCE["elastic" if setup.elastic else "exact"]
    worst, ride = 0.0, second.closed(setup)
    for target, u in zip(targets, poses):
        difference = abs(second.pose(setup, ride, *target) - u).max()
        if not difference < limit:
            place = f"z {target[0]}, roll {target[1]}"
            raise SystemExit(f"{setup.layout}: solves differ by {difference:.3g} at {place}")
        worst = max(worst, difference)
    return worst


# --- File --------------------------------------------------------------------


def mount_record(mount):
    return {"on": mount.on, "point": mount.point.tolist()}


def link_record(one):
    ends = {"from": mount_record(one.start), "to": mount_record(one.end)}
    return ends | {"length": one.length, "stiffness": one.stiffness}


def joint_record(one):
    return {
        "ground": one.ground.tolist(),
        "platform": one.platform.tolist(),
        "axes": one.axes.tolist(),
        "stiffness": one.stiffness.tolist(),
    }


def crank_record(crank):
    return {"on": crank.on, "pivot": crank.pivot.tolist(), "axis": crank.axis.tolist()}


def pose_record(setup, target, u):
    errors = errors_and_jacobian(setup, *target, u)[0]
    energy = setup.stiffness @ errors**2 / 2 if setup.elastic else 0.0
    record = {"z": target[0], "roll": target[1]} | dict.fromkeys(UNKNOWNS, 0.0)
    record |= {name: float(value) for name, value in zip(UNKNOWNS, u)}
    return record | {"misfit": float(abs(errors).max()), "energy": float(energy)}


def case_record(setup, targets, poses):
    return {
        "layout": setup.layout,
        "symmetric": setup.symmetric,
        "z_ride": setup.z_ride,
        "crank": setup.crank and crank_record(setup.crank),
        "links": [link_record(one) for one in setup.links],
        "joints": [joint_record(one) for one in setup.joints],
        "poses": [pose_record(setup, target, u) for target, u in zip(targets, poses)],
    }


@dataclass
class Quality:
    """What one layout's solves achieved."""

    discarded: Counter = field(default_factory=Counter)
    difference: float = 0.0  # largest between the two solves, m or rad


def layout_cases(layout, rng):
    """Records of one layout; setups whose branch ends within the travel are drawn again."""
    records, quality, second = [], Quality(), None
    for _ in range(MAX_DRAWS):
        index = len(records)
        if index == CASES_PER_LAYOUT:
            return records, quality
        setup = DRAW[layout](rng, index % 2 == 1, layout)
        targets = draw_targets(rng, setup, index < DETAILED_CASES)
        try:
            poses = Walk(setup).poses(targets)
        except BranchEnds as reason:
            quality.discarded[str(reason)] += 1
            continue
        second = second or SecondSolve(setup)
        difference = largest_difference(setup, second, targets, poses)
        quality.difference = max(quality.difference, difference)
        records.append(case_record(setup, targets, poses))
    raise SystemExit(f"{layout}: only {len(records)} cases in {MAX_DRAWS} draws")


MADE_BY = (
    "tests/reference/layouts.py; do not edit. Metres, radians, N/m, J. x, y, yaw, pitch and crank "
    "are solved for the given z and roll by SciPy root (hybr, tol 1e-14), checked against CasADi "
    "Newton to 1e-10 (elastic layouts: 1e-9). Layouts with more residuals than unknowns minimise "
    "the energy. misfit: largest |residual|."
)


def write(path, cases):
    """One line per case, so that changes can be read."""
    lines = ",\n".join(json.dumps(case, separators=(",", ":")) for case in cases)
    path.write_text(f'{{"made_by":{json.dumps(MADE_BY)},\n"cases":[\n{lines}\n]}}\n')


def print_table(rows):
    print(f"{'layout':28} {'cases':>5} {'discarded':>9} {'difference':>10}")
    for layout, cases, quality in rows:
        total, reasons = quality.discarded.total(), dict(quality.discarded) or ""
        print(f"{layout:28} {cases:5} {total:9} {quality.difference:10.1e} {reasons}")


def main():
    cases, rows = [], []
    for number, layout in enumerate(DRAW):
        records, quality = layout_cases(layout, np.random.default_rng([SEED, number]))
        cases += records
        rows.append((layout, len(records), quality))
    write(Path(__file__).with_suffix(".json"), cases)
    print_table(rows)


if __name__ == "__main__":
    sys.exit(main())
