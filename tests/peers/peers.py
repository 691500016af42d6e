#!/usr/bin/env python3
"""The benches' travels by general solvers: microseconds a pose, and the residual they reach.

Two demo scenes, 02 (parallel four-link with a Watt's linkage: one link more
than unknowns, so the energy is least) and 03 (triangulated four-link: every
link closes), through 61 heights from laid out to full lift at roll zero, each
pose started from the one before. Compare with "poses, warm travel of a demo
scene" of `cargo bench -p tests --bench poses`, run next to it on the same
machine.

SciPy:            root(method="hybr") with the analytic Jacobian (redundant:
                  the energy's gradient and Hessian) of `../reference/layouts.py`.
CasADi, newton:   its rootfinder "newton"; the closures and their derivatives
                  compiled from generated C. The whole travel is one call
                  (mapaccum), so that Python is not in the time.
CasADi, C:        its rootfinder "fast_newton", the one that generates code,
                  compiled whole with a C loop over the travel.
The C is compiled by gcc -O2 with the scene's numbers in it, which helps it.

Needs numpy, scipy, casadi and gcc. Prints medians; writes nothing but
temporary files.
"""

import math
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import casadi as ca
import numpy as np
from scipy.optimize import root

sys.path.insert(0, str(Path(__file__).resolve().parent.parent / "reference"))
import layouts  # noqa: E402

POSES = 61
TOLERANCE = 1e-11  # m; redundant: of the gradient over the softest stiffness
SCIPY_TOLERANCE = 1e-10  # relative, on the unknowns; what is reached is printed
BATCHES = 41
TRAVELS_A_BATCH = {"scipy": 1, "casadi": 20, "c": 200}
GCC = ["gcc", "-O2"]

STEEL = 2.07e11  # N/m^2
ROD_END, RUBBER = 8e7, 8e6  # N/m, each end
WALL = 0.0048  # m


def axial_stiffness(tube, length, end):
    """A tube between two ends: three springs in series, N/m."""
    area = math.pi / 4 * (tube**2 - (tube - 2 * WALL) ** 2)
    return 1 / (length / (STEEL * area) + 2 / end)


def bar(ground, moving, on, drawn_end, tube, end):
    """A link cut to suit `drawn_end`, where its moving end is drawn. Millimetres."""
    ground, moving, drawn_end = (np.array(p) / 1000 for p in (ground, moving, drawn_end))
    length = float(np.linalg.norm(drawn_end - ground))
    mounts = layouts.Mount("ground", ground), layouts.Mount(on, moving)
    return layouts.Link(*mounts, length, axial_stiffness(tube / 1000, length, end))


def pair(ground, axle, z_ride, tube, end):
    """A mirrored pair of bars."""
    sides = [np.array([1, side, 1]) for side in (1, -1)]
    drawn = np.array(axle) + [0, 0, z_ride]
    return [bar(ground * s, axle * s, "platform", drawn * s, tube, end) for s in sides]


def triangulated():
    """Demo scene 03, and its heights. Millimetres in frame coordinates; ride height 130."""
    z_ride = 340.0 - 130.0
    links = pair((590, 495, 110), (0, 495, -85), z_ride, 44.5, ROD_END)
    links += pair((430, 325, 375), (-15, 95, 195), z_ride, 41.3, ROD_END)
    setup = layouts.Setup("triangulated", True, z_ride / 1000, links)
    return setup, heights(340, 40, 225)


def parallel_watt():
    """Demo scene 02, and its heights. Ride height 110."""
    z_ride = 334.0 - 110.0
    links = pair((570, 475, 130), (0, 475, -85), z_ride, 41.3, RUBBER)
    links += pair((570, 475, 295), (0, 475, 80), z_ride, 41.3, RUBBER)
    for side in (1, -1):
        ground, tip = (-285, side * 330.2, 240 + side * 86), (-285, 0, 20 + side * 86)
        drawn = np.array(tip) + [0, 0, z_ride]
        links.append(bar(ground, tip, "crank", drawn, 31.8, ROD_END))
    crank = layouts.Crank("platform", np.array([-0.285, 0, 0.02]), np.array([1.0, 0, 0]))
    setup = layouts.Setup("parallel with Watt's linkage", True, z_ride / 1000, links, crank)
    return setup, heights(334, 0, 230)


def heights(loaded_radius, laid_out, full_lift):
    """Of the axle in frame coordinates, lowest rail first."""
    rail = np.linspace(laid_out, full_lift, POSES)
    return (loaded_radius - rail) / 1000


def lowest(setup, drives):
    """The pose the travels start from, walked to from the drawing."""
    u = np.zeros(setup.unknowns)
    for z in np.linspace(setup.z_ride, drives[0], 50):
        u = scipy_pose(setup, z, u)
    return u


# --- SciPy -------------------------------------------------------------------


def scipy_pose(setup, z, u):
    if setup.elastic:
        closures = lambda v: layouts.gradient(setup, z, 0.0, v)  # noqa: E731
        slopes = lambda v: layouts.hessian(setup, z, 0.0, v)  # noqa: E731
    else:
        closures, slopes = lambda v: layouts.errors_and_jacobian(setup, z, 0.0, v), True
    return root(closures, u, jac=slopes, method="hybr", tol=SCIPY_TOLERANCE).x


def scipy_travel(setup, drives, u):
    poses = []
    for z in drives:
        u = scipy_pose(setup, z, u)
        poses.append(u)
    return np.array(poses)


# --- CasADi ------------------------------------------------------------------


def closures(setup):
    """What shall be zero, of the unknowns and the height; the scene's numbers are in it."""
    u, z = ca.SX.sym("u", setup.unknowns), ca.SX.sym("z")
    turn = [[ca.cos(u[2]), -ca.sin(u[2]), 0], [ca.sin(u[2]), ca.cos(u[2]), 0], [0, 0, 1]]
    pitch = [[ca.cos(u[3]), 0, ca.sin(u[3])], [0, 1, 0], [-ca.sin(u[3]), 0, ca.cos(u[3])]]
    turn = matrix(turn) @ matrix(pitch)  # roll is zero
    gaps = [gap(setup, one, u, z, turn) for one in setup.links]
    wanted = ca.vertcat(*gaps)
    if setup.elastic:
        energy = ca.dot(setup.stiffness / setup.softest, wanted**2) / 2
        wanted = ca.gradient(energy, u)
    return ca.Function("closures", [u, z], [wanted], ["x", "p"], ["g"])


def matrix(rows):
    return ca.vertcat(*[ca.horzcat(*row) for row in rows])


def gap(setup, one, u, z, turn):
    place = one.end.point
    if one.end.on == "crank":
        pivot, axis = setup.crank.pivot, setup.crank.axis
        arm, c, s = place - pivot, ca.cos(u[4]), ca.sin(u[4])
        place = pivot + arm * c + np.cross(axis, arm) * s + axis * (axis @ arm) * (1 - c)
    end = ca.vertcat(u[0], u[1], z) + turn @ place
    return ca.norm_2(end - one.start.point) - one.length


def compiled(functions, folder):
    """The functions from a shared library of generated C."""
    generator = ca.CodeGenerator("closures.c")
    for function in functions:
        generator.add(function)
    generator.generate(f"{folder}/")
    library = f"{folder}/closures.so"
    subprocess.run([*GCC, "-fPIC", "-shared", "closures.c", "-o", library], cwd=folder, check=True)
    return ca.external("closures", library)


def newton_travel(closed, drives, start, folder):
    """A call that walks the travel, all in CasADi: the pose before is the next one's guess."""
    outside = compiled([closed, closed.jacobian()], folder)
    options = {"abstol": TOLERANCE, "line_search": False, "error_on_fail": True}
    newton = ca.rootfinder("pose", "newton", outside, options)
    walk = newton.mapaccum(len(drives))
    buffer, trigger = walk.buffer()
    poses = np.zeros(len(start) * len(drives))
    buffer.set_arg(0, memoryview(start))
    buffer.set_arg(1, memoryview(drives))
    buffer.set_res(0, memoryview(poses))

    def travel(_alive=buffer):  # the trigger does not keep it
        trigger()
        return poses.reshape(len(drives), len(start))

    return travel


LOOP = """
#include <stdio.h>
#include <time.h>
#include "pose.c"
static const double heights[POSES] = {HEIGHTS};
static const double start[UNKNOWNS] = {START};
static double poses[POSES][UNKNOWNS];
static void travel(casadi_int *iw, double *w, const double **arg, double **res) {
  const double *from = start;
  for (int i = 0; i < POSES; i++) {
    arg[0] = from; arg[1] = &heights[i]; res[0] = poses[i];
    if (pose(arg, res, iw, w, 0)) { puts("no pose"); }
    from = poses[i];
  }
}
int main(void) {
  casadi_int sz_arg, sz_res, sz_iw, sz_w;
  pose_work(&sz_arg, &sz_res, &sz_iw, &sz_w);
  const double *arg[sz_arg + 2]; double *res[sz_res + 2]; casadi_int iw[sz_iw + 1]; double w[sz_w + 1];
  for (int b = 0; b < BATCHES; b++) {
    struct timespec t0, t1;
    clock_gettime(CLOCK_MONOTONIC, &t0);
    for (int i = 0; i < TRAVELS; i++) travel(iw, w, arg, res);
    clock_gettime(CLOCK_MONOTONIC, &t1);
    printf("%.6f\\n", ((t1.tv_sec - t0.tv_sec) * 1e6 + (t1.tv_nsec - t0.tv_nsec) * 1e-3) / TRAVELS / POSES);
  }
  for (int i = 0; i < POSES; i++) for (int k = 0; k < UNKNOWNS; k++) printf("%.17g\\n", poses[i][k]);
}
"""


def c_travel(closed, drives, start, folder):
    """Median microseconds a pose and the poses, from a compiled program."""
    options = {"abstol": TOLERANCE}
    pose = ca.rootfinder("pose", "fast_newton", closed, options)
    generator = ca.CodeGenerator("pose.c")
    generator.add(pose)
    generator.generate(f"{folder}/")
    numbers = {
        "HEIGHTS": ",".join(f"{z:.17g}" for z in drives),
        "START": ",".join(f"{v:.17g}" for v in start),
        "POSES": len(drives),
        "UNKNOWNS": len(start),
        "BATCHES": BATCHES,
        "TRAVELS": TRAVELS_A_BATCH["c"],
    }
    text = LOOP
    for name, number in numbers.items():
        text = text.replace(name, str(number))
    Path(folder, "loop.c").write_text(text)
    subprocess.run([*GCC, "loop.c", "-o", "loop", "-lm"], cwd=folder, check=True)
    printed = subprocess.run(["./loop"], cwd=folder, check=True, capture_output=True, text=True)
    values = [float(line) for line in printed.stdout.split()]
    return statistics.median(values[:BATCHES]), np.reshape(values[BATCHES:], (-1, len(start)))


# --- Table -------------------------------------------------------------------


def timed(travel, repeat):
    """Median microseconds a pose, and the poses."""
    times = []
    for _ in range(BATCHES):
        begin = time.perf_counter()
        for _ in range(repeat):
            poses = travel()
        times.append((time.perf_counter() - begin) / repeat / POSES * 1e6)
    return statistics.median(times), poses


def residual(setup, drives, poses):
    """The largest, at any pose: of a gap, m; redundant: of the gradient."""
    if setup.elastic:
        left = [layouts.gradient(setup, z, 0.0, u) for z, u in zip(drives, poses)]
    else:
        left = [layouts.errors_and_jacobian(setup, z, 0.0, u)[0] for z, u in zip(drives, poses)]
    return abs(np.array(left)).max()


def main():
    print(f"{'scene':30} {'by':16} {'us a pose':>10} {'residual':>9}  at full lift: x, y, yaw, pitch, crank")
    for setup, drives in (parallel_watt(), triangulated()):
        start, closed = lowest(setup, drives), closures(setup)
        with tempfile.TemporaryDirectory() as folder:
            newton = newton_travel(closed, drives, start, folder)
            rows = {
                "SciPy hybr": timed(lambda: scipy_travel(setup, drives, start), TRAVELS_A_BATCH["scipy"]),
                "CasADi, newton": timed(newton, TRAVELS_A_BATCH["casadi"]),
                "CasADi, C": c_travel(closed, drives, start, folder),
            }
        for name, (microseconds, poses) in rows.items():
            last = " ".join(f"{v:.9f}" for v in poses[-1])
            left = residual(setup, drives, poses)
            print(f"{setup.layout:30} {name:16} {microseconds:10.3f} {left:9.1e}  {last}")


if __name__ == "__main__":
    sys.exit(main())
