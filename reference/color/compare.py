"""Holds package color against a general-purpose color-science library and a
general-purpose thin-film library. Reads our rows from stdin, writes the library's
value and the difference beside each to stdout."""
import csv
import sys
import warnings

warnings.filterwarnings("ignore")
import colour  # noqa: E402
import numpy as np  # noqa: E402
import tmm  # noqa: E402

SHAPE = colour.SpectralShape(380, 780, 5)
CMFS = colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"].copy().align(SHAPE)
D65 = colour.SDS_ILLUMINANTS["D65"].copy().align(SHAPE)
WHITE = np.array([0.3127, 0.3290])
HEMATITE = 0.25  # outer share of the film


def planck(t):
    sd = colour.sd_blackbody(t, SHAPE)
    xyz = colour.sd_to_XYZ(sd, CMFS, method="Integration")
    return colour.XYZ_to_xy(xyz)


def film(row):
    nm, wave = float(row["case"]), float(row["wavelength_nm"])
    n = [complex(float(row[f"n{i}"]), float(row[f"k{i}"])) for i in (1, 2, 3)]
    d = [np.inf, HEMATITE * nm, (1 - HEMATITE) * nm, np.inf]
    return tmm.coh_tmm("s", [1, *n], d, 0, wave)["R"]


def main():
    out = csv.writer(sys.stdout, lineterminator="\n")
    out.writerow(["quantity", "case", "wavelength_nm", "ours", "library", "difference"])
    bradford_white = np.array([0.95047, 1, 1.08883])
    for row in csv.DictReader(sys.stdin):
        q, case = row["quantity"], row["case"]
        if q.startswith("planck"):
            x, y = planck(float(case))
            value = x if q.endswith("x") else y
        elif q == "d65":
            value = float(D65[float(case)])
        elif q.startswith("lab"):
            lab = colour.XYZ_to_Lab(np.array([float(v) for v in case.split()]), colour.XYZ_to_xy(bradford_white))
            value = lab["Lab".index(q[-1])]
        elif q.startswith("srgb"):
            rgb = colour.XYZ_to_sRGB(np.array([float(v) for v in case.split()]))
            value = rgb["rgb".index(q[-1])]
        else:
            value = film(row)
        ours = float(row["ours"])
        out.writerow([q, case, row["wavelength_nm"], row["ours"], f"{value:.12g}", f"{ours - value:.2e}"])


main()
