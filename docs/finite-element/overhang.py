"""Bars held by four jaws, solved as elastic solids in three dimensions, to stand beside the program's springs and beam.

A bar lies along z, its end at -bite; each jaw presses on a patch as wide as it bears and as deep as the bite, on which
it is an elastic foundation: stiffness of the jaw spread evenly over the patch, in the normal and both tangents. Beyond
the jaw fronts (z = 0) the bar is free. On its end face act, one after the other:
  side   a force along x, spread evenly;
  tilt   a moment about y, as axial stress that grows with x;
  push   a force against z, spread evenly.
Read at the end face: mean movement along x, mean turn about y (least squares of the axial movement over the face), mean
movement along z. Hexahedra of second degree, quadratic geometry on the round. mm, N, MPa.
"""

import platform
import sys
import time

import numpy as np
import scipy
import scipy.sparse.linalg
import skfem
from skfem import Basis, ElementHex2, ElementVector, FacetBasis, MeshHex, MeshHex2, asm
from skfem.helpers import dot
from skfem.models.elasticity import lame_parameters, linear_elasticity

E, NU = 205000.0, 0.29
JAW, RATIO = 50000.0, 0.82
SIDE_N, TILT_NMM, PUSH_N = 500.0, 10000.0, 500.0


def quads_of_square(size, patch, n):
    """Corners at the patch's edges: the jaws bear on the middle of each side."""
    half, edge = size / 2, patch / 2
    inner = np.linspace(-edge, edge, n + 1)
    outer = np.linspace(edge, half, max(2, n // 2) + 1)[1:] if half > edge + 1e-9 else np.array([])
    line = np.concatenate([-outer[::-1], inner, outer])
    x, y = np.meshgrid(line, line, indexing="ij")
    m = len(line)
    at = np.arange(m * m).reshape(m, m)
    quads = np.stack([at[:-1, :-1], at[1:, :-1], at[1:, 1:], at[:-1, 1:]]).reshape(4, -1)
    return np.stack([x.ravel(), y.ravel()]), quads


def quads_of_round(size, patch, n):
    """A square core and four blocks round it; rays at the patch's edges."""
    radius, core = size / 2, 0.45 * size / 2
    half_angle = np.arcsin(patch / 2 / radius)
    tail = np.linspace(half_angle, np.pi / 4, n)
    angles = np.concatenate([-tail[::-1], np.linspace(-half_angle, half_angle, 3)[1:-1], tail])
    share = np.linspace(0, 1, n + 1)
    points, quads = [], []

    def block(corner):
        rows, cols = corner.shape[:2]
        base = sum(len(p) for p in points)
        points.append(corner.reshape(-1, 2))
        at = base + np.arange(rows * cols).reshape(rows, cols)
        quads.append(np.stack([at[:-1, :-1], at[1:, :-1], at[1:, 1:], at[:-1, 1:]]).reshape(4, -1))

    places = core * np.tan(angles)
    x, y = np.meshgrid(places, places, indexing="ij")
    block(np.stack([x, y], axis=-1))
    for quarter in range(4):
        c, s = np.cos(quarter * np.pi / 2), np.sin(quarter * np.pi / 2)
        inner = np.stack([np.full_like(places, core), places], axis=-1)
        outer = radius * np.stack([np.cos(angles), np.sin(angles)], axis=-1)
        corner = (1 - share)[:, None, None] * inner[None] + share[:, None, None] * outer[None]
        block(corner @ np.array([[c, s], [-s, c]]))
    points, quads = np.concatenate(points), np.concatenate(quads, axis=1)
    _, first, back = np.unique(np.round(points, 7), axis=0, return_index=True, return_inverse=True)
    return points[first].T, back.ravel()[quads]


def extruded(points, quads, heights):
    m = points.shape[1]
    p = np.concatenate([np.vstack([points, np.full(m, z)]) for z in heights], axis=1)
    t = np.concatenate([np.concatenate([quads + k * m, quads + (k + 1) * m]) for k in range(len(heights) - 1)], axis=1)
    # The order of corners of the library's hexahedron, by place: 000 001 010 100 011 101 110 111 as (x, y, z).
    order = [0, 4, 3, 1, 7, 5, 2, 6]
    return MeshHex(p, t[order])


def mesh_of(case, fine):
    heights = np.concatenate([
        np.linspace(-case["bite"], 0, 2 * fine + 1),
        np.linspace(0, case["out"], max(2 * fine, int(np.ceil(case["out"] / case["size"] * 2 * fine))) + 1)[1:],
    ])
    if case["form"] == "square":
        return MeshHex2.from_mesh(extruded(*quads_of_square(case["size"], case["patch"], 2 * fine), heights))
    flat = extruded(*quads_of_round(case["size"], case["patch"], fine + 1), heights)
    mesh = MeshHex2.from_mesh(flat)
    # Middles of outer edges and faces go out onto the round.
    radius = case["size"] / 2
    x, y = mesh.doflocs[0].copy(), mesh.doflocs[1].copy()
    rim = np.all(abs(np.hypot(*flat.p[:2])[flat.facets] - radius) < 1e-6, axis=0)
    outer = np.unique(Basis(flat, ElementHex2()).get_dofs(np.nonzero(rim)[0]).flatten())
    scalar = Basis(flat, ElementHex2())
    places = scalar.doflocs[:, outer]
    near = {tuple(np.round(place, 6)) for place in places.T}
    on_rim = np.array([tuple(np.round(place, 6)) in near for place in mesh.doflocs.T])
    r = np.hypot(x, y)
    locations = mesh.doflocs.copy()
    locations[0, on_rim], locations[1, on_rim] = x[on_rim] / r[on_rim] * radius, y[on_rim] / r[on_rim] * radius
    return MeshHex2(locations, mesh.t)


def patch_facets(mesh, case, quarter):
    c, s = np.cos(quarter * np.pi / 2), np.sin(quarter * np.pi / 2)
    half = case["patch"] / 2 + 1e-6

    def on(q):
        out, along = c * q[0] + s * q[1], -s * q[0] + c * q[1]
        return (q[2] < 0) & (abs(along) < half) & (out > 0.6 * case["size"] / 2)

    inside = mesh.facets_satisfying(on, boundaries_only=True)
    middles = mesh.p[:, mesh.facets[:, inside]].mean(axis=1)
    return inside[abs(middles[2] + case["bite"]) > 1e-6]


def solved(case, fine):
    mesh = mesh_of(case, fine)
    basis = Basis(mesh, ElementVector(ElementHex2()), intorder=4)
    lam, mu = lame_parameters(E, NU)
    stiffness = asm(linear_elasticity(lam, mu), basis)
    areas = []
    for quarter in range(4):
        facets = FacetBasis(mesh, ElementVector(ElementHex2()), facets=patch_facets(mesh, case, quarter), intorder=6)
        area = float(np.sum(facets.dx))
        areas.append(area)
        c, s = np.cos(quarter * np.pi / 2), np.sin(quarter * np.pi / 2)
        k_n, k_t = case["jaw"] / area, RATIO * case["jaw"] / area

        # On the round the patch is narrow: the jaw's own directions stand for normal and tangents.
        @skfem.BilinearForm
        def foundation(u, v, w, c=c, s=s, k_n=k_n, k_t=k_t):
            un, vn = c * u[0] + s * u[1], c * v[0] + s * v[1]
            return k_t * dot(u, v) + (k_n - k_t) * un * vn

        stiffness = stiffness + asm(foundation, facets)
    end = FacetBasis(mesh, ElementVector(ElementHex2()), intorder=6,
                     facets=mesh.facets_satisfying(lambda q: q[2] > case["out"] - 1e-6, boundaries_only=True))
    x = end.global_coordinates().value
    area, second = float(np.sum(end.dx)), float(np.sum(x[0] ** 2 * end.dx))

    @skfem.LinearForm
    def side(v, w):
        return SIDE_N / area * v[0]

    @skfem.LinearForm
    def tilt(v, w):
        return -TILT_NMM / second * w.x[0] * v[2]

    @skfem.LinearForm
    def push(v, w):
        return -PUSH_N / area * v[2]

    loads = np.stack([asm(form, end) for form in (side, tilt, push)], axis=1)
    solve = scipy.sparse.linalg.splu(
        stiffness.tocsc(), permc_spec="MMD_AT_PLUS_A", diag_pivot_thresh=0.0, options={"SymmetricMode": True})
    found = {}
    for name, load in zip(("side", "tilt", "push"), loads.T):
        moved = end.interpolate(solve.solve(load)).value
        found[name] = (
            1000 * float(np.sum(moved[0] * end.dx)) / area,
            -1e6 * float(np.sum(moved[2] * x[0] * end.dx)) / second,
            1000 * float(np.sum(moved[2] * end.dx)) / area,
        )
    return found, dict(dofs=stiffness.shape[0], elements=mesh.t.shape[1], area=area, second=second, patch_area=areas[0])


def case(name, form, size, patch, bite, out, jaw=JAW):
    return dict(name=name, form=form, size=size, patch=patch, bite=bite, out=out, jaw=jaw)


CASES = [
    case("S1", "square", 40.0, 22.0, 25.0, 20.0),
    case("S2", "square", 40.0, 22.0, 25.0, 60.0),
    case("S3", "square", 40.0, 22.0, 25.0, 120.0),
    case("S4", "square", 40.0, 22.0, 25.0, 60.0, 4 * JAW),
    case("R1", "round", 40.0, 4.0, 25.0, 20.0),
    case("R2", "round", 40.0, 4.0, 25.0, 60.0),
    case("R3", "round", 40.0, 4.0, 25.0, 120.0),
    case("R4", "round", 40.0, 4.0, 25.0, 60.0, 4 * JAW),
]


def main(path):
    lines = [
        "# Bars in four jaws as elastic solids", "",
        "Written by `docs/finite-element/run`; what is solved stands at the head of `overhang.py`. E 205 000 MPa, nu 0.29;",
        f"tangential stiffness of a jaw {RATIO} of its normal one, both spread over its patch; side force {SIDE_N:.0f} N,",
        f"moment {TILT_NMM / 1000:.0f} N m, push {PUSH_N:.0f} N. scikit-fem {skfem.__version__}, numpy {np.__version__},",
        f"scipy {scipy.__version__}, Python {platform.python_version()}; hexahedra of second degree.", "",
        "| bar | form | across, mm | bearing, mm | bite, mm | stands out, mm | jaw, N/um | mesh | elements | side: along x, um | side: turn, urad | tilt: along x, um | tilt: turn, urad | push: along z, um |",
        "|" + "---|" * 14,
    ]
    for each in CASES:
        for fine in (1, 2):
            began = time.time()
            found, about = solved(each, fine)
            side, tilt, push = found["side"], found["tilt"], found["push"]
            lines.append(
                f"| {each['name']} | {each['form']} | {each['size']:g} | {each['patch']:g} | {each['bite']:g} | {each['out']:g} | {each['jaw'] / 1000:g} |"
                f" {'coarse' if fine == 1 else 'fine'} | {about['elements']} | {side[0]:.3f} | {side[1]:.2f} | {tilt[0]:.4f} | {tilt[1]:.3f} | {push[2]:.4f} |")
            print(lines[-1], about, f"{time.time() - began:.1f} s", flush=True)
    with open(path, "w") as file:
        file.write("\n".join(lines) + "\n")


if __name__ == "__main__":
    main(sys.argv[1])
