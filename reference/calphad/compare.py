"""Holds package calphad against pycalphad on the same parameters. Reads our
equilibria as JSON from stdin, solves each with the library, and writes one line
for every quantity of every point: ours, the library's, the difference."""
import csv
import json
import re
import statistics
import sys
import time
import warnings

warnings.filterwarnings("ignore")
from pycalphad import Database, equilibrium, variables as v  # noqa: E402
from pycalphad.codegen.phase_record_factory import PhaseRecordFactory  # noqa: E402
from pycalphad.core.utils import instantiate_models  # noqa: E402

PHASES = "LIQUID FCC_A1 BCC_A2 HCP_A3 CEMENTITE M7C3 M23C6 M6C MC_SHP MC_ETA KSI_CARBIDE".split()
R_OURS, R_LIBRARY = 8.31451, float(v.R)


def masses(path):
    text = open(path).read()
    return {m[1]: float(m[2]) for m in re.finditer(r"^ELEMENT (\w+)\s+\S+\s+([\d.]+)", text, re.M) if float(m[2]) > 0}


def solve(db, mass, points):
    """Equilibria of one steel: models are built once, outside of the time taken."""
    wt = points[0]["wt_percent"]
    moles = {e: x / mass[e] for e, x in wt.items()}
    total = sum(moles.values())
    x = {e: n / total for e, n in moles.items()}
    comps = sorted(wt) + ["VA"]
    base = {v.X(e): n for e, n in x.items() if e != "FE"} | {v.P: 101325, v.N: 1}
    present = [p for p in PHASES if all({e.name for e in s} & set(comps) for s in db.phases[p].constituents)]
    models = instantiate_models(db, comps, present)
    records = PhaseRecordFactory(db, comps, base | {v.T: 1000}, models)
    kg = sum(n * mass[e] for e, n in x.items()) / 1000
    answers = []
    for p in points:
        conditions = base | {v.T: p["temperature_c"] + 273.15}
        best = None
        for _ in range(3):
            start = time.perf_counter()
            eq = equilibrium(db, comps, present, conditions, model=models, phase_records=records)
            took = time.perf_counter() - start
            best = took if best is None else min(best, took)
        names = eq.Phase.values.squeeze(axis=tuple(range(eq.Phase.ndim - 1)))
        amount = eq.NP.values.squeeze(axis=tuple(range(eq.NP.ndim - 1)))
        frac = eq.X.values.reshape(-1, eq.X.shape[-1])
        elements = list(eq.component.values)
        phases = []
        for i, name in enumerate(names):
            if not name or not amount[i] > 1e-9:
                continue
            m = {e: frac[i][k] * mass[e] for k, e in enumerate(elements)}
            whole = sum(m.values())
            phases.append({"model": str(name), "mass_fraction": float(amount[i]) * whole / 1000 / kg,
                           "wt_percent": {e: 100 * g / whole for e, g in m.items()}})
        answers.append({"gibbs": float(eq.GM.values.squeeze()) / kg, "phases": phases, "seconds": best})
    return answers


def pair(ours, theirs):
    """Match composition sets of the same model by their carbon."""
    left = list(theirs)
    for a in ours:
        same = [b for b in left if b["model"] == a["model"]]
        b = min(same, key=lambda b: abs(b["wt_percent"].get("C", 0) - a["wt_percent"].get("C", 0)), default=None)
        if b is not None:
            left.remove(b)
        yield a, b
    for b in left:
        yield None, b


def main():
    path = sys.argv[1]
    db, mass = Database(path), masses(path)
    points = json.load(sys.stdin)
    out = csv.writer(sys.stdout, lineterminator="\n")
    out.writerow(["steel", "temperature_c", "quantity", "ours", "pycalphad", "difference"])
    cold, warm, library = [], [], []
    local = 0
    for name in dict.fromkeys(p["steel"] for p in points):
        group = [p for p in points if p["steel"] == name]
        for p, q in zip(group, solve(db, mass, group)):
            def row(quantity, a, b, digits):
                out.writerow([name, p["temperature_c"], quantity, f"{a:.{digits}g}", f"{b:.{digits}g}", f"{a - b:.2e}"])
            row("gibbs_j_per_kg", p["gibbs_j_per_kg"], q["gibbs"], 10)
            # where the library ends higher, it has stopped in a local minimum
            higher = q["gibbs"] - p["gibbs_j_per_kg"] > 0.2
            local += higher
            mark = "local_minimum_" if higher else ""
            for a, b in pair(p["phases"], q["phases"]):
                model = (a or b)["model"]
                row(f"{mark}mass_fraction {model}", a["mass_fraction"] if a else 0, b["mass_fraction"] if b else 0, 6)
                if a and b and model == "FCC_A1" and a["wt_percent"].get("C", 0) < 3:
                    for e in sorted(a["wt_percent"]):
                        row(f"{mark}austenite_wt_percent {e}", a["wt_percent"][e], b["wt_percent"].get(e, 0), 6)
            out.writerow([name, p["temperature_c"], "cold_s", f"{p['cold_s']:.3g}", f"{q['seconds']:.3g}", f"x{q['seconds'] / p['cold_s']:.0f}"])
            out.writerow([name, p["temperature_c"], "warm_s", f"{p['warm_s']:.3g}", f"{q['seconds']:.3g}", f"x{q['seconds'] / p['warm_s']:.0f}"])
            cold.append(p["cold_s"]), warm.append(p["warm_s"]), library.append(q["seconds"])
    for what, ours in (("cold_s", cold), ("warm_s", warm)):
        a, b = statistics.median(ours), statistics.median(library)
        out.writerow(["all", "", f"median {what}", f"{a:.3g}", f"{b:.3g}", f"x{b / a:.0f}"])
    out.writerow(["all", "", "points where pycalphad ends in a local minimum", 0, local, f"of {len(warm)}"])
    out.writerow(["all", "", "longest warm_s", f"{max(warm):.3g}", f"{max(library):.3g}", ""])


main()
