"""The same million formulas by tenside, numpy, polars and plain Python, each in a process of its own; and what handing over costs.

Run by `cargo xtask bench sweep`, which builds and installs the wheel first. Prices are invented.
"""

import os
import resource
import subprocess
import sys
import time

import optimal

COUNT = 1000
PRICES = {
    "sci-powder": 5.2,
    "scs-needles": 3.8,
    "capb-30": 1.9,
    "kaolin": 1.1,
    "cetyl-alcohol": 4.1,
    "panthenol": 23.0,
    "citric-acid-50": 3.0,
}
FIXED = {"panthenol": 1.5, "cetyl-alcohol": 4.0, "citric-acid-50": 0.3}
TARGET, LIMIT = 55.0, 12.0
SHOWN = [
    "axis.wash.scs-needles",
    "axis.wash.capb-30",
    *(f"line.{line}" for line in PRICES),
    "water",
    "cost",
    "feasible",
]


def brief():
    import tenside as td
    from tenside import measure as m

    made = td.Brief("Bar", td.Catalogue.starter(), prices=PRICES, currency="EUR")
    made = made.split({"sci-powder": 14, "scs-needles": 5, "capb-30": 1}, by="active", name="wash")
    for line, percent in FIXED.items():
        made = made.fix(line, percent)
    return made.qs("kaolin").target(m.active_matter, 55).at_most(m.water, 12).minimise(m.cost)


def shares():
    """What each raw material has of active matter and water, as a script would have them: numbers."""
    import tenside as td
    from tenside import measure as m

    alone = {line: td.Formula(line, {line: 100}, td.Catalogue.starter()) for line in PRICES}
    return {
        line: (float(formula.measure(m.active_matter)) / 100, float(formula.measure(m.water)) / 100)
        for line, formula in alone.items()
    }


def axes():
    import numpy as np

    return np.linspace(2, 8, COUNT).round(4), np.linspace(1, 6, COUNT).round(4)


def by_tenside():
    import tenside as td

    needles, betaine = axes()
    sweep = td.Sweep(brief(), td.axis("wash.scs-needles", needles), td.axis("wash.capb-30", betaine), columns=SHOWN)
    return lambda: sweep.table()


def by_numpy():
    import numpy as np

    of = shares()
    needles, betaine = axes()

    def work():
        second, third = (part.ravel() for part in np.meshgrid(needles, betaine, indexing="ij"))
        size = TARGET / (14.0 + second + third)
        columns = {"axis.wash.scs-needles": second, "axis.wash.capb-30": third}
        for line, part in [("sci-powder", 14.0), ("scs-needles", second), ("capb-30", third)]:
            columns[f"line.{line}"] = np.round(size * part / of[line][0], 4)
        for line, percent in FIXED.items():
            columns[f"line.{line}"] = np.full_like(second, percent)
        known = [line for line in PRICES if line != "kaolin"]
        columns["line.kaolin"] = 100 - sum(columns[f"line.{line}"] for line in known)
        columns["water"] = sum(columns[f"line.{line}"] * of[line][1] for line in PRICES)
        columns["cost"] = sum(columns[f"line.{line}"] * (price / 100) for line, price in PRICES.items())
        columns["feasible"] = (columns["line.kaolin"] >= 0) & (columns["water"] <= LIMIT)
        return columns

    return work


def by_polars():
    import polars as pl

    of = shares()
    needles, betaine = axes()
    grid = (
        pl.DataFrame({"axis.wash.scs-needles": needles})
        .join(pl.DataFrame({"axis.wash.capb-30": betaine}), how="cross")
        .lazy()
    )

    def work():
        second, third = pl.col("axis.wash.scs-needles"), pl.col("axis.wash.capb-30")
        size = TARGET / (14.0 + second + third)
        lines = [
            (size * part / of[line][0]).round(4).alias(f"line.{line}")
            for line, part in [("sci-powder", 14.0), ("scs-needles", second), ("capb-30", third)]
        ]
        lines += [pl.lit(percent).alias(f"line.{line}") for line, percent in FIXED.items()]
        known = [pl.col(f"line.{line}") for line in PRICES if line != "kaolin"]
        frame = grid.with_columns(lines).with_columns((100 - sum(known)).alias("line.kaolin"))
        frame = frame.with_columns(
            sum(pl.col(f"line.{line}") * of[line][1] for line in PRICES).alias("water"),
            sum(pl.col(f"line.{line}") * (price / 100) for line, price in PRICES.items()).alias("cost"),
        )
        return frame.with_columns(
            ((pl.col("line.kaolin") >= 0) & (pl.col("water") <= LIMIT)).alias("feasible")
        ).collect()

    return work


def by_python():
    of = shares()
    needles, betaine = (values.tolist()[::10] for values in axes())

    def work():
        rows = []
        for second in needles:
            for third in betaine:
                size = TARGET / (14.0 + second + third)
                parts = [("sci-powder", 14.0), ("scs-needles", second), ("capb-30", third)]
                row = {line: round(size * part / of[line][0], 4) for line, part in parts} | FIXED
                row["kaolin"] = 100 - sum(row.values())
                water = sum(percent * of[line][1] for line, percent in row.items())
                cost = sum(percent * PRICES[line] / 100 for line, percent in row.items())
                rows.append((second, third, row, water, cost, row["kaolin"] >= 0 and water <= LIMIT))
        return rows

    return work


def by_tenside_anew():
    import tenside as td

    needles, betaine = (values.tolist() for values in axes())
    made = brief()
    return lambda: made.sweep(td.axis("wash.scs-needles", needles), td.axis("wash.capb-30", betaine), columns=SHOWN)


WAYS = {
    "tenside": by_tenside,
    "anew": by_tenside_anew,
    "numpy": by_numpy,
    "polars": by_polars,
    "python": by_python,
    "optimal": optimal.all_columns,
    "optimal-16": optimal.sixteen_columns,
}


def peak():
    """The most memory this process has had, in kB. What `getrusage` says takes over what the process that started this one had."""
    try:
        with open("/proc/self/status", encoding="ascii") as status:
            return next(int(line.split()[1]) for line in status if line.startswith("VmHWM"))
    except OSError:
        return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss


def measure(way):
    work = WAYS[way]()
    before = peak()
    times = []
    for _ in range(3 if way == "python" else 9):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    print(min(times) * 1e3 * (100 if way == "python" else 1), (peak() - before) / 1024)


def timed(way, threads):
    environment = {
        **os.environ,
        "RAYON_NUM_THREADS": str(threads),
        "POLARS_MAX_THREADS": str(threads),
        "OMP_NUM_THREADS": str(threads),
    }
    text = subprocess.run(
        [sys.executable, __file__, way], env=environment, capture_output=True, text=True, check=True
    ).stdout
    return [float(word) for word in text.split()]


def hand_over():
    import pandas
    import polars
    import pyarrow

    table = by_tenside()()
    arrow = pyarrow.table(table)
    chunk = arrow["axis.wash.capb-30"].chunk(0)
    address = chunk.buffers()[1].address
    in_polars = polars.DataFrame(table)["axis.wash.capb-30"].to_numpy(allow_copy=False).__array_interface__["data"][0]
    print(
        f"  one record batch: {arrow['line.kaolin'].num_chunks == 1}; the same address in pyarrow and polars: {address == in_polars}"
    )
    for name, take in [
        ("pyarrow", lambda: pyarrow.table(table)),
        ("polars", lambda: polars.DataFrame(table)),
        ("pandas, Arrow-backed", lambda: pyarrow.table(table).to_pandas(types_mapper=pandas.ArrowDtype)),
    ]:
        times = []
        for _ in range(50):
            start = time.perf_counter()
            take()
            times.append(time.perf_counter() - start)
        print(f"  {name:<22} {min(times) * 1e3:.3f} ms")


def main():
    optimal.report(timed)
    print(
        "\na million determined formulas of twelve columns, each way in a process of its own (least of several runs; peak memory beyond what was there)"
    )
    found = {}
    for way, threads in [
        ("tenside", 1),
        ("tenside", 2),
        ("anew", 1),
        ("anew", 2),
        ("numpy", 1),
        ("polars", 1),
        ("polars", 2),
        ("python", 1),
    ]:
        found[way, threads] = timed(way, threads)
        note = " (a hundredth of it, times a hundred)" if way == "python" else ""
        print(
            f"  {way:<8} {threads} thread(s) {found[way, threads][0]:>9.1f} ms  {found[way, threads][1]:>7.0f} MB{note}"
        )
    print(
        "  (tenside: a sweep that is kept, its last table no longer needed; anew: axes, sweep and memory made each time)"
    )
    print(
        f"  one thread: {found['numpy', 1][0] / found['tenside', 1][0]:.1f} x numpy (aim 7); two threads: {found['polars', 2][0] / found['tenside', 2][0]:.1f} x polars (aim 10)"
    )
    print("\nhanding it over")
    hand_over()


if __name__ == "__main__":
    if len(sys.argv) > 1:
        measure(sys.argv[1])
    else:
        main()
