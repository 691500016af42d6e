#!/usr/bin/env python3
"""Reference poses of an axle located by links: writes `poses.json` beside this file.

Random setups of four layouts are moved through ride and roll, and the solved
poses are recorded for tests that read the file without Python.

First solve:  scipy.optimize.root(method="hybr", tol=1e-14), after a walk
              outwards from the design pose in small steps. As many links as unknowns: the residuals
              (distance - length) are zero. One link more than unknowns:
              J^T e = 0, the minimum of half the sum of squared residuals,
              polished first by scipy.optimize.least_squares.
Second solve: CasADi's Newton root finder on a separate statement of the same
              closures (quaternions, automatic derivatives, its own lengths),
              walking straight from the design pose to each recorded pose.
The script fails unless both agree to 1e-10 m and 1e-10 rad at every pose.

Conventions: metres and radians; X forward, Y left, Z up. The platform stands
at (x, y, z) with ground_from_platform = Rz(yaw) Rx(roll) Ry(pitch). z and roll
are imposed; x, y, yaw, pitch and the crank angle are solved. Lengths are cut to
suit the design pose: x = y = 0, z = z_ride, all angles zero.

Rerun with `cargo xtask reference`, which runs `python3 tests/reference/poses.py`.
Needs numpy, scipy and casadi. The seed is fixed; other versions of these
packages may change last digits.
"""

import json
import math
import sys
from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path

import casadi as ca
import numpy as np
from scipy.optimize import least_squares, root

SEED = 20240611
CASES_PER_LAYOUT = 200
DETAILED_CASES = 60  # the first cases of a layout record nine poses, the others four
MAX_DRAWS = 4 * CASES_PER_LAYOUT
UNKNOWNS = ("x", "y", "yaw", "pitch", "crank")

# First solve.
STEP_Z = 0.003  # m
STEP_ROLL = math.radians(0.15)
TOL_WALK = 1e-8  # between recorded poses
MAX_WALK_RESIDUAL = 1e-8  # m; for redundant layouts of J^T e, m or m^2
TOL_HYBR = 1e-14
MAX_RESIDUAL = 1e-15
MAX_CHANGE = np.array([0.01, 0.01, 0.02, 0.02, 0.08])  # per step, m and rad

# Conditioning: singular values with angles scaled by these lengths.
PLATFORM_SCALE = 0.5  # m
MIN_SINGULAR = 0.08
MIN_SINGULAR_RATIO = 0.3  # to the design pose

# Second solve.
CHECK_STEP_Z = 0.005  # m
CHECK_STEP_ROLL = math.radians(0.25)
NEWTON = {"abstol": 1e-15, "abstolStep": 1e-13, "max_iter": 30, "error_on_fail": True}
MAX_DIFFERENCE = 1e-10  # m and rad


class BranchEnds(Exception):
    """The branch from the design pose does not reach the wanted pose."""


# --- Setups ------------------------------------------------------------------


@dataclass
class Link:
    ground: np.ndarray  # point in ground coordinates
    moving: np.ndarray  # point in platform coordinates, crank angle zero
    on_crank: bool = False


@dataclass
class Crank:
    pivot: np.ndarray  # platform coordinates
    axis: np.ndarray  # unit, platform coordinates


@dataclass
class Setup:
    layout: str
    symmetric: bool  # bars are mirrored left and right; panhard bar and crank are not
    z_ride: float
    links: list
    crank: Crank | None = None
    ground: np.ndarray = field(init=False)
    moving: np.ndarray = field(init=False)
    on_crank: np.ndarray = field(init=False)
    lengths: np.ndarray = field(init=False)

    def __post_init__(self):
        self.ground = np.array([link.ground for link in self.links])
        self.moving = np.array([link.moving for link in self.links])
        self.on_crank = np.array([link.on_crank for link in self.links])
        design = self.moving + np.array([0.0, 0.0, self.z_ride])
        self.lengths = np.linalg.norm(design - self.ground, axis=1)

    @property
    def unknowns(self):
        return 5 if self.crank else 4

    @property
    def redundant(self):
        return len(self.links) > self.unknowns


def point(*coordinates):
    """Mounts lie on a grid of 0.1 mm, which keeps the file short and exact."""
    return np.round(np.array(coordinates), 4)


def mirrored(link):
    flip = np.array([1.0, -1.0, 1.0])
    return Link(link.ground * flip, link.moving * flip, link.on_crank)


def in_ball(rng, radius):
    direction = rng.normal(size=3)
    return direction / np.linalg.norm(direction) * radius * rng.uniform() ** (1 / 3)


def disturbed(rng, link, radius=0.04):
    """The link with each mount moved by up to `radius`."""
    return Link(
        point(*(link.ground + in_ball(rng, radius))),
        point(*(link.moving + in_ball(rng, radius))),
        link.on_crank,
    )


def stretched(link, factor, z_ride):
    """The link with its ground mount moved along the bar."""
    design = link.moving + np.array([0.0, 0.0, z_ride])
    return Link(point(*(design + factor * (link.ground - design))), link.moving)


def both_sides(rng, left, symmetric, z_ride):
    """A bar and its mirror image; if not symmetric, disturbed, one of them longer."""
    pair = [left, mirrored(left)]
    if symmetric:
        return pair
    pair = [disturbed(rng, link) for link in pair]
    longer = rng.integers(2)
    pair[longer] = stretched(pair[longer], rng.uniform(1.05, 1.25), z_ride)
    return pair


def draw_z_ride(rng):
    return round(rng.uniform(0.08, 0.26), 4)


def lower_bar(rng, z_ride):
    """Left lower bar, roughly along X."""
    x, y, z = rng.uniform(-0.05, 0.05), rng.uniform(0.35, 0.45), rng.uniform(-0.12, -0.03)
    length, splay, rise = rng.uniform(0.4, 0.8), rng.uniform(-0.06, 0.06), rng.uniform(-0.08, 0.08)
    return Link(point(x + length, y + splay, z_ride + z + rise), point(x, y, z))


def upper_bar(rng, z_ride):
    """Left upper bar, roughly along X."""
    x, y, z = rng.uniform(-0.05, 0.05), rng.uniform(0.25, 0.42), rng.uniform(0.08, 0.18)
    length, splay, rise = rng.uniform(0.4, 0.8), rng.uniform(-0.05, 0.05), rng.uniform(-0.08, 0.08)
    return Link(point(x + length, y + splay, z_ride + z + rise), point(x, y, z))


def angled_upper_bar(rng, z_ride):
    """Left upper bar angled in plan; the pair converges at the axle or at the frame."""
    angle, length = math.radians(rng.uniform(25, 45)), rng.uniform(0.4, 0.65)
    dx, dy = length * math.cos(angle), length * math.sin(angle)
    near, x = rng.uniform(0.03, 0.12), rng.uniform(-0.05, 0.05)
    z, rise = rng.uniform(0.08, 0.2), rng.uniform(-0.07, 0.07)
    ground_y, moving_y = (near + dy, near) if rng.integers(2) else (near, near + dy)
    return Link(point(x + dx, ground_y, z_ride + z + rise), point(x, moving_y, z))


def panhard_bar(rng, z_ride):
    side, span = rng.choice([-1.0, 1.0]), rng.uniform(0.7, 1.0)
    middle, slope = rng.uniform(-0.06, 0.06), rng.uniform(-0.06, 0.06)
    x, z = rng.choice([-1.0, 1.0]) * rng.uniform(0.08, 0.2), rng.uniform(-0.05, 0.12)
    x_ground = x + rng.uniform(-0.05, 0.05)
    ground = point(x_ground, middle + side * span / 2, z_ride + z + slope)
    return Link(ground, point(x, middle - side * span / 2, z))


def parallel_bars(rng, symmetric, index, z_ride):
    """Lower and upper pairs; every other symmetric setup has four equal bars."""
    if symmetric and index % 2 == 0:
        return equal_bars(rng, z_ride)
    lowers = both_sides(rng, lower_bar(rng, z_ride), symmetric, z_ride)
    uppers = both_sides(rng, upper_bar(rng, z_ride), symmetric, z_ride)
    return lowers + uppers


def equal_bars(rng, z_ride):
    """Four equal parallel bars in vertical planes: consistent in ride, redundant."""
    lower, upper = lower_bar(rng, z_ride), upper_bar(rng, z_ride)
    vector = lower.ground - lower.moving
    vector[1] = 0.0
    left = [Link(point(*(bar.moving + vector)), bar.moving) for bar in (lower, upper)]
    return left + [mirrored(bar) for bar in left]


def tilted(rng, axis):
    """Half of the axes are tilted by up to about 6 deg."""
    if rng.integers(2):
        axis = axis + in_ball(rng, 0.1)
    return axis / np.linalg.norm(axis)


def watt(rng, symmetric, z_ride):
    """Crank on the platform, with arms up and down or fore and aft, and two links across."""
    upright = bool(rng.integers(2))
    pivot = point(rng.choice([-1, 1]) * rng.uniform(0.1, 0.25), 0.0, rng.uniform(-0.06, 0.06))
    half, turn = rng.uniform(0.06, 0.1), rng.choice([-1.0, 1.0])
    arm = np.array([0.0, 0.0, half]) if upright else np.array([half, 0.0, 0.0])
    axis = tilted(rng, np.array([1.0, 0.0, 0.0]) if upright else np.array([0.0, 0.0, 1.0]))
    length = rng.uniform(0.35, 0.5)
    links = [crank_link(pivot + side * turn * arm, side * length, z_ride) for side in (1, -1)]
    if not symmetric:
        links = [disturbed(rng, link, 0.02) for link in links]
        pivot = point(*(pivot + in_ball(rng, 0.01)))
    return links, Crank(pivot, axis)


def crank_link(arm, across, z_ride):
    ground = arm + np.array([0.0, across, z_ride])
    return Link(point(*ground), point(*arm), on_crank=True)


def draw_triangulated(rng, symmetric, _index):
    z_ride = draw_z_ride(rng)
    lowers = both_sides(rng, lower_bar(rng, z_ride), symmetric, z_ride)
    uppers = both_sides(rng, angled_upper_bar(rng, z_ride), symmetric, z_ride)
    return Setup("triangulated", symmetric, z_ride, lowers + uppers)


def draw_parallel_panhard(rng, symmetric, index):
    z_ride = draw_z_ride(rng)
    bars = parallel_bars(rng, symmetric, index, z_ride)
    return Setup("parallel_panhard", symmetric, z_ride, bars + [panhard_bar(rng, z_ride)])


def draw_parallel_watt(rng, symmetric, index):
    z_ride = draw_z_ride(rng)
    bars = parallel_bars(rng, symmetric, index, z_ride)
    links, crank = watt(rng, symmetric, z_ride)
    return Setup("parallel_watt", symmetric, z_ride, bars + links, crank)


def draw_three_link(rng, symmetric, _index):
    """The upper bar is off centre unless symmetric."""
    z_ride = draw_z_ride(rng)
    lowers = both_sides(rng, lower_bar(rng, z_ride), symmetric, z_ride)
    upper = upper_bar(rng, z_ride)
    offset = 0.0 if symmetric else rng.uniform(-0.25, 0.25)
    upper.ground[1] = upper.moving[1] = round(offset, 4)
    if not symmetric:
        upper = disturbed(rng, upper)
    return Setup("three_link", symmetric, z_ride, lowers + [upper, panhard_bar(rng, z_ride)])


DRAW = {
    "triangulated": draw_triangulated,
    "parallel_panhard": draw_parallel_panhard,
    "parallel_watt": draw_parallel_watt,
    "three_link": draw_three_link,
}


# --- Travel ------------------------------------------------------------------

# (height as a fraction of the travel from ride, direction of roll)
DETAILED = [(-1, 0), (-1, 1), (-0.6, -1), (-0.3, 0), (0, 1), (0.3, -1), (0.6, 1), (1, 0), (1, -1)]
BRIEF = [(-1, 1), (-0.5, 0), (0.5, -1), (1, 0)]


def draw_targets(rng, z_ride, detailed):
    """(z, roll) pairs: roll zero, 2 deg or drawn up to 4 deg, either way."""
    travel, mirror = rng.uniform(0.06, 0.15), rng.choice([-1.0, 1.0])
    targets = []
    for fraction, direction in DETAILED if detailed else BRIEF:
        roll_deg = 2.0 if rng.integers(2) else rng.uniform(0.5, 4.0)
        roll = 0.0 if direction == 0 else round(mirror * direction * math.radians(roll_deg), 6)
        targets.append((round(z_ride + fraction * travel, 4), roll))
    return targets


# --- First solve: explicit matrices, SciPy ------------------------------------


def rot_x(angle):
    c, s = math.cos(angle), math.sin(angle)
    return np.array([[1.0, 0.0, 0.0], [0.0, c, -s], [0.0, s, c]])


def rot_y(angle):
    c, s = math.cos(angle), math.sin(angle)
    return np.array([[c, 0.0, s], [0.0, 1.0, 0.0], [-s, 0.0, c]])


def rot_z(angle):
    c, s = math.cos(angle), math.sin(angle)
    return np.array([[c, -s, 0.0], [s, c, 0.0], [0.0, 0.0, 1.0]])


def skew(v):
    return np.array([[0.0, -v[2], v[1]], [v[2], 0.0, -v[0]], [-v[1], v[0], 0.0]])


SKEW_Z = skew([0.0, 0.0, 1.0])


def moving_points(setup, u):
    """Moving mounts in platform coordinates, and their rates of crank angle."""
    if setup.crank is None:
        return setup.moving, None
    pivot, k = setup.crank.pivot, skew(setup.crank.axis)
    turn = np.eye(3) + math.sin(u[4]) * k + (1.0 - math.cos(u[4])) * (k @ k)
    arms = (setup.moving - pivot) @ turn.T
    on_crank = setup.on_crank[:, None]
    return np.where(on_crank, pivot + arms, setup.moving), np.where(on_crank, arms @ k.T, 0.0)


def errors_and_jacobian(setup, z, roll, u):
    """Residuals (distance - length) and their derivatives, a row per link."""
    heading = rot_z(u[2]) @ rot_x(roll)
    ground_from_platform = heading @ rot_y(u[3])
    points, crank_rates = moving_points(setup, u)
    levers = points @ ground_from_platform.T
    lines = levers + np.array([u[0], u[1], z]) - setup.ground
    distances = np.sqrt((lines * lines).sum(axis=1))
    directions = lines / distances[:, None]
    turns = [levers @ SKEW_Z.T, levers @ skew(heading[:, 1]).T]  # yaw about Z, then pitch
    if crank_rates is not None:
        turns.append(crank_rates @ ground_from_platform.T)
    rates = [(directions * velocities).sum(axis=1) for velocities in turns]
    return distances - setup.lengths, np.array([directions[:, 0], directions[:, 1], *rates]).T


def equations(setup, z, roll):
    """Function for `root`: the equations and their Jacobian.

    For redundant layouts the Jacobian leaves out the curvature times the
    residual, which slows hybr a little and does not move its answer.
    """

    def exact(u):
        return errors_and_jacobian(setup, z, roll, u)

    def stationary(u):
        e, jacobian = exact(u)
        return jacobian.T @ e, jacobian.T @ jacobian

    return stationary if setup.redundant else exact


def solve(setup, z, roll, start, tol, max_residual):
    """Pose near `start`. hybr may call it no progress at full accuracy: judge the residual."""
    found = root(equations(setup, z, roll), start, jac=True, method="hybr", tol=tol)
    if abs(found.fun).max() > max_residual:
        raise BranchEnds("no solution")
    return found.x


def final_solve(setup, z, roll, start):
    """The pose to record; redundant layouts are polished by least squares first."""
    if setup.redundant:
        start = least_squares_fit(setup, z, roll, start)
    return solve(setup, z, roll, start, TOL_HYBR, MAX_RESIDUAL)


def least_squares_fit(setup, z, roll, start):
    return least_squares(
        lambda v: errors_and_jacobian(setup, z, roll, v)[0],
        start,
        jac=lambda v: errors_and_jacobian(setup, z, roll, v)[1],
        xtol=1e-15,
        ftol=1e-15,
        gtol=1e-15,
    ).x


def smallest_singular(setup, z, roll, u):
    scale = [1.0, 1.0, PLATFORM_SCALE, PLATFORM_SCALE]
    if setup.crank:
        arms = (setup.moving - setup.crank.pivot)[setup.on_crank]
        scale.append(np.linalg.norm(arms, axis=1).mean())
    jacobian = errors_and_jacobian(setup, z, roll, u)[1]
    return np.linalg.svd(jacobian / scale, compute_uv=False)[-1]


class Walk:
    """Continuation from the design pose, checked at every step."""

    def __init__(self, setup):
        self.setup = setup
        self.design = np.zeros(setup.unknowns)
        ride = smallest_singular(setup, setup.z_ride, 0.0, self.design)
        self.floor = max(MIN_SINGULAR, MIN_SINGULAR_RATIO * ride)
        if ride < self.floor:
            raise BranchEnds("poorly located at the design pose")

    def go(self, here, there, u):
        """Pose at `there`, both (z, roll), starting from the pose `u` at `here`."""
        here, there = np.array(here), np.array(there)
        steps = math.ceil(max(abs(there - here) / [STEP_Z, STEP_ROLL]))
        before = u
        for step in range(1, steps + 1):
            z, roll = here + (there - here) * (step / steps)
            before, u = u, self.step(z, roll, before, u)
        return u

    def step(self, z, roll, before, u):
        """Next pose, predicted by the last change."""
        after = solve(self.setup, z, roll, u + (u - before), TOL_WALK, MAX_WALK_RESIDUAL)
        if (abs(after - u) > MAX_CHANGE[: len(u)]).any():
            raise BranchEnds("moves too fast")
        if smallest_singular(self.setup, z, roll, after) < self.floor:
            raise BranchEnds("poorly located")
        return after

    def poses(self, targets):
        """Pose at each target: outwards in height at roll zero, then in roll."""
        z_ride, solved = self.setup.z_ride, {}
        for side in ([t for t in targets if t[0] >= z_ride], [t for t in targets if t[0] < z_ride]):
            level, u = (z_ride, 0.0), self.design
            for target in sorted(side, key=lambda t: (abs(t[0] - z_ride), abs(t[1]))):
                u = self.go(level, (target[0], 0.0), u)
                level = (target[0], 0.0)
                rolled = self.go(level, target, u)
                solved[target] = final_solve(self.setup, *target, rolled)
        return [solved[target] for target in targets]


# --- Second solve: quaternions, CasADi ----------------------------------------


def quaternion(axis, angle):
    return ca.vertcat(ca.cos(angle / 2), ca.sin(angle / 2) * axis)


def product(p, q):
    scalar = p[0] * q[0] - ca.dot(p[1:], q[1:])
    return ca.vertcat(scalar, p[0] * q[1:] + q[0] * p[1:] + ca.cross(p[1:], q[1:]))


def rotated(q, v):
    conjugate = ca.vertcat(q[0], -q[1:])
    return product(product(q, ca.vertcat(0, v)), conjugate)[1:]


def symbolic_misfit(link_count, crank_links, u, z_ride, ground, moving, pivot, axis, drive):
    """Squared distance less squared length of each link, and the lengths."""
    x_axis, y_axis, z_axis = (ca.SX(e) for e in np.eye(3))
    stand = ca.vertcat(u[0], u[1], drive[0])
    about_xy = product(quaternion(x_axis, drive[1]), quaternion(y_axis, u[3]))
    turn = product(quaternion(z_axis, u[2]), about_xy)
    squares, lengths = [], []
    for i in range(link_count):
        a, b = ground[:, i], moving[:, i]
        lengths.append(ca.norm_2(b + ca.vertcat(0, 0, z_ride) - a))
        if i in crank_links:
            b = pivot + rotated(quaternion(axis, u[4]), b - pivot)
        line = stand + rotated(turn, b) - a
        squares.append(ca.sumsqr(line) - lengths[i] ** 2)
    return ca.vertcat(*squares), ca.vertcat(*lengths)


class SecondSolve:
    """CasADi's Newton iteration for one layout, with the setup as parameters."""

    def __init__(self, setup):
        count = len(setup.links)
        crank_links = {i for i in range(count) if setup.on_crank[i]}
        u, z_ride = ca.SX.sym("u", setup.unknowns), ca.SX.sym("z_ride")
        drive = ca.SX.sym("drive", 2)  # z and roll
        ground, moving = ca.SX.sym("ground", 3, count), ca.SX.sym("moving", 3, count)
        pivot, axis = ca.SX.sym("pivot", 3), ca.SX.sym("axis", 3)
        squares, lengths = symbolic_misfit(
            count, crank_links, u, z_ride, ground, moving, pivot, axis, drive
        )
        parameters = ca.vertcat(z_ride, ca.vec(ground), ca.vec(moving), pivot, axis, drive)
        if setup.redundant:
            e = ca.sqrt(squares + lengths**2) - lengths
            equations_ = ca.gradient(ca.sumsqr(e) / 2, u)
        else:
            equations_ = squares / (2 * lengths)
        problem = {"x": u, "p": parameters, "g": equations_}
        self.newton = ca.rootfinder("newton", "newton", problem, NEWTON)
        self.slope = ca.Function("slope", [u, parameters], [ca.jacobian(equations_, u)])

    @staticmethod
    def parameters(setup, z, roll):
        pivot = setup.crank.pivot if setup.crank else np.zeros(3)
        axis = setup.crank.axis if setup.crank else np.zeros(3)
        points = [setup.ground.ravel(), setup.moving.ravel(), pivot, axis]
        return np.concatenate([[setup.z_ride], *points, [z, roll]])

    def pose(self, setup, z, roll):
        """Pose by a straight walk in height and roll together from the design pose."""
        dz = z - setup.z_ride
        steps = math.ceil(max(abs(dz) / CHECK_STEP_Z, abs(roll) / CHECK_STEP_ROLL, 1))
        u = np.zeros(setup.unknowns)
        for step in range(1, steps + 1):
            part = step / steps
            u = self.newton(u, self.parameters(setup, setup.z_ride + part * dz, part * roll))
        if setup.redundant:
            self.require_minimum(setup, z, roll, u)
        return np.array(u).ravel()

    def require_minimum(self, setup, z, roll, u):
        hessian = np.array(self.slope(u, self.parameters(setup, z, roll)))
        if np.linalg.eigvalsh(hessian)[0] <= 0.0:
            raise SystemExit(f"{setup.layout}: stationary but no minimum at z {z}, roll {roll}")


def largest_difference(setup, second, targets, poses):
    """Over all poses, m or rad; fails the script where the two solves disagree."""
    worst = 0.0
    for target, u in zip(targets, poses):
        difference = abs(second.pose(setup, *target) - u).max()
        if not difference < MAX_DIFFERENCE:
            place = f"z {target[0]}, roll {target[1]}"
            raise SystemExit(f"{setup.layout}: solves differ by {difference:.3g} at {place}")
        worst = max(worst, difference)
    return worst


# --- File --------------------------------------------------------------------


def pose_record(setup, target, u):
    errors = errors_and_jacobian(setup, *target, u)[0]
    record = {"z": target[0], "roll": target[1]} | dict.fromkeys(UNKNOWNS, 0.0)
    record |= {name: float(value) for name, value in zip(UNKNOWNS, u)}
    return record | {"misfit": float(abs(errors).max())}


def link_record(link):
    on = "crank" if link.on_crank else "platform"
    return {"ground": link.ground.tolist(), "moving": link.moving.tolist(), "on": on}


def case_record(setup, targets, poses):
    crank = setup.crank and {
        "pivot": setup.crank.pivot.tolist(),
        "axis": setup.crank.axis.tolist(),
    }
    return {
        "layout": setup.layout,
        "symmetric": setup.symmetric,
        "z_ride": setup.z_ride,
        "crank": crank,
        "links": [link_record(link) for link in setup.links],
        "poses": [pose_record(setup, target, u) for target, u in zip(targets, poses)],
    }


@dataclass
class Quality:
    """What one layout's solves achieved, written into the file."""

    cases: int = 0
    poses: int = 0
    redrawn: Counter = field(default_factory=Counter)
    residual: float = 0.0  # largest of the equations solved
    difference: float = 0.0  # largest between the two solves, m or rad

    def add(self, setup, targets, poses, difference):
        self.cases += 1
        self.poses += len(poses)
        for target, u in zip(targets, poses):
            residual = abs(equations(setup, *target)(u)[0]).max()
            self.residual = max(self.residual, float(residual))
        self.difference = max(self.difference, float(difference))

    def record(self):
        return {
            "cases": self.cases,
            "poses": self.poses,
            "redrawn": dict(self.redrawn),
            "residual": float(f"{self.residual:.2g}"),
            "difference": float(f"{self.difference:.2g}"),
        }


def layout_cases(layout, rng):
    """Records of one layout; setups whose branch ends within the travel are drawn again."""
    records, quality, second = [], Quality(), None
    for _ in range(MAX_DRAWS):
        index = len(records)
        if index == CASES_PER_LAYOUT:
            return records, quality
        symmetric = index % 5 in (1, 2)
        setup = DRAW[layout](rng, symmetric, index)
        targets = draw_targets(rng, setup.z_ride, index < DETAILED_CASES)
        try:
            poses = Walk(setup).poses(targets)
        except BranchEnds as reason:
            quality.redrawn[str(reason)] += 1
            continue
        second = second or SecondSolve(setup)
        quality.add(setup, targets, poses, largest_difference(setup, second, targets, poses))
        records.append(case_record(setup, targets, poses))
    raise SystemExit(f"{layout}: only {len(records)} cases in {MAX_DRAWS} draws")


COMMENT = (
    "Made by tests/reference/poses.py (cargo xtask reference); do not edit. Metres, radians. "
    "x, y, yaw, pitch and crank are solved for the given z and roll by SciPy root (hybr, tol "
    "1e-14), checked against CasADi Newton; layouts with more links than unknowns minimise half "
    "the sum of squared (distance - length). misfit: largest |distance - length| over the links. "
    "quality: residual is the largest |distance - length| of exact layouts, the largest component "
    "of J^T e of redundant ones; difference is the largest between the two solves."
)


def write(path, cases, qualities):
    """One line per case, so that changes can be read."""
    lines = ",\n".join(json.dumps(case, separators=(",", ":")) for case in cases)
    quality = json.dumps({name: q.record() for name, q in qualities.items()})
    head = f'"comment":{json.dumps(COMMENT)},\n"quality":{quality},\n'
    path.write_text(f'{{{head}"cases":[\n{lines}\n]}}\n')


def main():
    cases, qualities = [], {}
    for number, layout in enumerate(DRAW):
        records, qualities[layout] = layout_cases(layout, np.random.default_rng([SEED, number]))
        cases += records
        print(layout, qualities[layout].record())
    write(Path(__file__).with_suffix(".json"), cases, qualities)


if __name__ == "__main__":
    sys.exit(main())
