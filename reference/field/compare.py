"""Solves the problems that main.go prints with a general-purpose finite-element
library: first-order elements on the same cells, enthalpy form with lumped heat
capacity, backward Euler by Newton's method. One step against two of half gives the error
of a step, held to the same tolerance, and the extrapolated result, of second order in time.
Differences are against the library on cells halved across and through (in 3-D on the same cells), times on the same cells.
Reads JSON from stdin, writes the rows of results.csv to stdout."""
import csv
import json
import sys
import time

import numpy as np
from scipy.sparse import diags
from scipy.sparse.linalg import splu
from skfem import (Basis, BilinearForm, ElementHex1, ElementQuad1, FacetBasis,
                   LinearForm, MeshHex, MeshQuad)
from skfem.helpers import dot, grad


def heat(t):
    """Enthalpy [J/kg], heat capacity and conductivity of the comparison's steel."""
    c = t - 273.15
    return 500 * c + 0.0665 * c * c, 500 + 0.133 * c, 15 + 0.0135 * c


class Law:
    def __init__(self, table):
        self.x = table["from"] + table["step"] * np.arange(len(table["q"]))
        self.q = np.array(table["q"])
        self.slope = np.diff(self.q) / table["step"]
        self.start, self.step = table["from"], table["step"]

    def __call__(self, t):
        i = np.clip(((t - self.start) / self.step).astype(int), 0, len(self.slope) - 1)
        return self.q[i] + self.slope[i] * (t - self.x[i]), self.slope[i]


def halved(pts, axis):
    """The corners with one more between any two along an axis."""
    pts = np.moveaxis(pts, axis, 0)
    fine = np.empty((2 * pts.shape[0] - 1,) + pts.shape[1:])
    fine[::2] = pts
    fine[1::2] = (pts[1:] + pts[:-1]) / 2
    return np.moveaxis(fine, 0, axis)


def mesh_of(p, halvings):
    pts = np.array(p["corners"]).reshape(*(n + 1 for n in p["cells"]), 3)
    for _ in range(halvings):
        for axis in (1, 2) if p["flat"] else (0, 1, 2):
            pts = halved(pts, axis)
    ni, nj, nk = (n - 1 for n in pts.shape[:3])
    if p["flat"]:
        xy = pts[0, :, :, 1:].reshape(-1, 2).T
        j, k = np.meshgrid(np.arange(nj), np.arange(nk), indexing="ij")
        at = lambda a, b: ((j + a) * (nk + 1) + k + b).ravel()
        quads = np.array([at(0, 0), at(1, 0), at(1, 1), at(0, 1)])
        mesh = MeshQuad(xy, quads)
        index = np.arange((nj + 1) * (nk + 1)).reshape(nj + 1, nk + 1)
        sides = {"spine": index[0, :], "edge": index[-1, :], "back": index[:, 0], "front": index[:, -1]}
        return mesh, ElementQuad1(), sides
    xyz = pts.reshape(-1, 3).T
    i, j, k = np.meshgrid(np.arange(ni), np.arange(nj), np.arange(nk), indexing="ij")
    at = lambda a, b, c: (((i + a) * (nj + 1) + j + b) * (nk + 1) + k + c).ravel()
    hexes = np.array([at(0, 0, 0), at(0, 0, 1), at(0, 1, 0), at(1, 0, 0),
                      at(0, 1, 1), at(1, 0, 1), at(1, 1, 0), at(1, 1, 1)])
    mesh = MeshHex(xyz, hexes)
    index = np.arange(xyz.shape[1]).reshape(ni + 1, nj + 1, nk + 1)
    sides = {"start": index[0], "end": index[-1], "spine": index[:, 0], "edge": index[:, -1],
             "back": index[:, :, 0], "front": index[:, :, -1]}
    return mesh, ElementHex1(), {k: v.ravel() for k, v in sides.items()}


class Body:
    def __init__(self, p, halvings=0):
        self.mesh, element, sides = mesh_of(p, halvings)
        self.basis = Basis(self.mesh, element)
        self.rho = p["density"]
        boundary = self.mesh.boundary_facets()
        self.walls = []
        for name, law in p["laws"].items():
            on = np.isin(self.mesh.facets[:, boundary], sides[name]).all(axis=0)
            self.walls.append((FacetBasis(self.mesh, element, facets=boundary[on]), Law(law)))
        ones = LinearForm(lambda v, w: 1.0 * v).assemble(self.basis)
        self.volume = ones  # lumped

        @BilinearForm
        def stiffness(u, v, w):
            return (15 + 0.0135 * (w.t - 273.15)) * dot(grad(u), grad(v))

        @BilinearForm
        def film(u, v, w):
            return w.slope * u * v

        @LinearForm
        def loss(v, w):
            return w.flux * v

        self.stiffness, self.film, self.loss = stiffness, film, loss

    def euler(self, t0, dt):
        """One backward Euler step by Newton's method, to 1e-3 K."""
        t = t0.copy()
        h0 = heat(t0)[0]
        for _ in range(20):
            h, cp, _ = heat(t)
            k = self.stiffness.assemble(self.basis, t=self.basis.interpolate(t))
            out = k @ t
            slope = k
            for basis, law in self.walls:
                q, dq = law(np.asarray(basis.interpolate(t)))
                out = out + self.loss.assemble(basis, flux=q)
                slope = slope + self.film.assemble(basis, slope=dq)
            r = self.rho * self.volume * (h - h0) / dt + out
            a = diags(self.rho * self.volume * cp / dt) + slope
            d = splu(a.tocsc()).solve(-r)
            t = t + d
            if np.abs(d).max() < 1e-3:
                break
        return t

    def march(self, t, duration, dt, tolerance):
        at, steps = 0.0, 0
        while at < duration * (1 - 1e-12):
            dt_now = min(dt, duration - at)
            one = self.euler(t, dt_now)
            two = self.euler(self.euler(t, dt_now / 2), dt_now / 2)
            err = np.abs(two - one).max()
            steps += 1
            grow = min(4.0, max(0.1, 0.85 * np.sqrt(tolerance / max(err, 1e-12))))
            if err <= tolerance:
                t, at = 2 * two - one, at + dt_now
            dt = dt_now * grow
        return t, dt, steps


def run(p, halvings):
    """Temperatures at the middles of our cells at each time, steps and seconds."""
    body = Body(p, halvings)
    middles = np.array(p["middles"]).T
    probe = body.basis.probes(middles[1:] if p["flat"] else middles)
    t = np.full(body.mesh.p.shape[1], p["start"])
    begin = time.process_time()
    at, dt, steps, found = 0.0, 1e-3, 0, []
    for until in p["times"]:
        t, dt, n = body.march(t, until - at, dt, p["tolerance"])
        at, steps = until, steps + n
        found.append(probe @ t)
    return found, steps, time.process_time() - begin, body


def main():
    out = csv.writer(sys.stdout, lineterminator="\n")
    out.writerow(["problem", "time_s", "span_K", "worst_K", "worst_percent_of_span", "mean_K", "worst_same_mesh_K",
                  "library_steps", "our_steps", "library_over_our_time"])
    for p in json.load(sys.stdin):
        same, steps, seconds, body = run(p, 0)
        fine = run(p, 1)[0] if p["flat"] else same
        ends = [law.x[np.argmin(np.abs(law.q))] for _, law in body.walls]
        span = max(abs(p["start"] - e) for e in ends)
        for until, a, c, b in zip(p["times"], fine, same, p["ours"]):
            d = np.abs(a - np.array(b))
            e = np.abs(c - np.array(b))
            out.writerow([p["name"], until, f"{span:.0f}", f"{d.max():.2f}", f"{100 * d.max() / span:.2f}",
                          f"{d.mean():.2f}", f"{e.max():.2f}", steps, p["steps"], f"{seconds / p['seconds']:.0f}"])
        sys.stdout.flush()


main()
