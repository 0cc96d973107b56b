"""Calls that take long, each made ready by a function, and what they do when the user presses Ctrl-C.

Run as a program it sends SIGINT to each of them at random moments, each time to a fresh interpreter, and prints how long it went on, and for how
long another thread of it had to wait for the interpreter meanwhile:

    python tests/python/long_calls.py [--rounds N] [--seconds S] [--no-signal] [NAME ...]
"""

from __future__ import annotations

import argparse
import contextlib
import random
import signal
import subprocess
import sys
import threading
import time
from fractions import Fraction

import tenside as td
from tenside import measure as m


def powders(count: int, seed: int = 1) -> td.Catalogue:
    """Invented raw materials of some active matter, water and filler."""
    draw = random.Random(seed)
    texts = ['tenside = "catalogue/1"\n']
    for index in range(count):
        active, water = draw.randint(100, 9000), draw.randint(10, 900)
        texts.append(
            f'[[material]]\nid = "p{index}"\nname = "powder {index}"\nform = "powder"\nphase = "powder"\nsource = "invented"\n'
            + "constituents = [\n"
            + f'{{ inci = "SODIUM COCOYL ISETHIONATE", typical = {active / 100}, low = {active / 120:.2f}, high = {active / 99:.2f}, declared = "declared" }},\n'
            + f'{{ inci = "WATER", typical = {water / 100}, declared = "declared" }},\n'
            + f'{{ inci = "KAOLIN", typical = {(10000 - active - water) / 100}, declared = "declared" }},\n]\n'
        )
    return td.Catalogue.read_toml("".join(texts))


def prices(count: int, seed: int = 2) -> dict[str, str]:
    draw = random.Random(seed)
    return {f"p{index}": f"{draw.randint(50, 3000) / 100:.2f}" for index in range(count)}


def wide(count: int, seed: int = 3) -> td.Brief:
    """Many lines, each in a range of its own, and three limits."""
    draw = random.Random(seed)
    brief = td.Brief("Wide", powders(count), prices=prices(count), currency="EUR")
    for index in range(count):
        high = draw.randint(300, 900) / count
        brief = brief.between(f"p{index}", 0 if index % 3 else round(20 / count, 4), round(high, 4))
    return brief.at_least(m.active_matter, 40).at_most(m.active_matter, 45.5).at_most(m.water, "4.9")


def choosing(count: int, equations: int, seed: int = 4) -> td.Brief:
    draw = random.Random(seed)
    brief = td.Brief("Choice", powders(count), prices=prices(count), currency="EUR")
    for index in range(count):
        brief = brief.absent_or_between(f"p{index}", draw.randint(8, 9), draw.randint(11, 12))
    known = dict.fromkeys(draw.sample(range(count), 10), 10)
    for place in range(equations):
        score = [draw.randint(1, 999) for index in range(count)]
        reached = Fraction(sum(score[index] * part for index, part in known.items()), 100)
        brief = brief.target(m.score(f"s{place}", {f"p{index}": value for index, value in enumerate(score)}), reached)
    return brief.minimise(m.cost)


def stepping(count: int, seed: int = 5) -> td.Brief:
    draw = random.Random(seed)
    brief = td.Brief("Steps", powders(count), prices=prices(count), currency="EUR")
    for index in range(count):
        brief = brief.between(f"p{index}", 0, draw.randint(6, 12))
    for place in range(3):
        score = [draw.randint(1, 999) for index in range(count)]
        middle = Fraction(sum(score), count)
        brief = brief.within(m.score(f"s{place}", {f"p{index}": value for index, value in enumerate(score)}), middle, middle + Fraction(1, 50))
    return brief.minimise(m.cost)


def far(count: int) -> td.Brief:
    """The formula of many lines that is nearest to one of few."""
    draw = random.Random(7)
    brief = td.Brief("Far", powders(count)).at_least(m.active_matter, 44)
    for index in range(count):
        brief = brief.between(f"p{index}", 0, round(draw.uniform(75, 150) / count, 4))
    return brief.least_squares_from(td.Formula("Few", {"p1": 50, "p2": 50}, powders(count)))


def spread(count: int) -> td.Formula:
    parts = [1_000_000 // count] * count
    parts[0] += 1_000_000 - sum(parts)
    return td.Formula("Spread", {f"p{index}": f"{part / 10000:.4f}" for index, part in enumerate(parts)}, powders(count))


def swept(rows: int) -> td.Sweep:
    brief = td.Brief("Bar", td.Catalogue.starter(), prices={"sci-powder": 5, "kaolin": 1, "cetyl-alcohol": 4, "capb-30": 2, "corn-starch": 1})
    brief = brief.between("sci-powder", 20, 60).between("cetyl-alcohol", 3, 6).between("capb-30", 1, 20).free("corn-starch").qs("kaolin")
    brief = brief.at_least(m.active_matter, 30).at_most(m.water, 9).minimise(m.cost)
    return td.Sweep(brief, td.axis("at-least.active-matter", td.linspace(20, 50, rows)), td.axis("price.sci-powder", td.linspace(1, 50, 1000)))


def front() -> td.SweepTable:
    brief = td.Brief("Three", td.Catalogue.starter()).split({"sci-powder": 1, "kaolin": 1, "corn-starch": 1}, by="weight", name="three")
    return brief.fix("panthenol", 1).sweep(td.lattice("three", 565))


def calls() -> dict[str, object]:
    """By name, what makes the call ready and gives it."""

    def of(brief, ask):
        return lambda: (lambda made=brief(): lambda: ask(made))()

    def answered(count, ask):
        return lambda: (lambda answer=wide(count).minimise(m.cost).solve(): lambda: ask(answer))()

    def document(megabytes):
        head, _, materials = powders(1000).to_toml().partition("[[material]]")
        entry = "[[material]]" + materials
        copies = range(megabytes * 1_000_000 // len(entry))
        return head + "".join(entry.replace('id = "p', f'id = "c{copy}p').replace('name = "powder', f'name = "{copy} powder') for copy in copies)

    def requirements(count):
        text = td.Brief("Many", td.Catalogue.starter()).qs("kaolin").at_most(m.water, 9).to_toml()
        one = '[[requirement]]\nat_most = 9\nmeasure = "water"\n'
        assert one in text
        return text.replace(one, "\n".join(one.replace("9", f"{9 + index / 10000:.4f}") for index in range(count)))

    catalogue = td.Catalogue.starter()
    loose = lambda count: wide(count)  # noqa: E731
    return {
        "try_choose, 60 lines": of(lambda: choosing(60, 6), lambda brief: brief.try_choose()),
        "try_choose, 60 lines, no limit": of(lambda: choosing(60, 6), lambda brief: brief.try_choose(nodes=10**9)),
        "try_solve_rounded, 40 lines": of(lambda: stepping(40), lambda brief: brief.try_solve_rounded(td.Steps(1, nodes=10**9))),
        "least squares, 300 lines": of(lambda: far(300), lambda brief: brief.solve()),
        "solve, 350 lines, no objective": of(lambda: loose(350), lambda brief: brief.solve()),
        "solve, 350 lines, cost": of(lambda: loose(350).minimise(m.cost), lambda brief: brief.solve()),
        "limit_ranges, 300 lines": answered(300, lambda answer: answer.limit_ranges()),
        "price_ranges, 200 lines": answered(200, lambda answer: answer.price_ranges()),
        "line_ranges_within, 300 lines": of(lambda: loose(300).minimise(m.cost), lambda brief: brief.line_ranges_within(1)),
        "relaxations, 200 lines": of(lambda: loose(200).at_least(m.water, 60), lambda brief: brief.try_solve().relaxations()),
        "candidates, 300 lines": lambda: (
            lambda made=spread(300): lambda: made.candidates("p7", [m.active_matter, m.water], powders(353))
        )(),
        "table.pareto, 3 columns": lambda: (
            lambda table=front(): lambda: table.pareto(minimise=["line.sci-powder", "line.kaolin", "line.corn-starch"])
        )(),
        "sweep table": lambda: (lambda sweep=swept(3000): lambda: sweep.table())(),
        "sweep stream": lambda: (lambda sweep=swept(3000): lambda: sweep.stream(minimise=["cost"], maximise=["active matter"]))(),
        "sweep of 200 lines": lambda: (
            lambda sweep=td.Sweep(wide(200).minimise(m.cost), td.axis("price.p1", range(1, 40))): lambda: sweep.table()
        )(),
        "samples": of(lambda: wide(40), lambda brief: brief.samples(1_000_000, seed=1)),
        "samples, 200 lines": of(lambda: wide(200), lambda brief: brief.samples(10, seed=1)),
        "corners": of(lambda: wide(26), lambda brief: brief.corners(100_000)),
        "axis": lambda: lambda: td.axis("panthenol", range(9_000_000)),
        "read a catalogue of 30 MB": lambda: (lambda text=document(30): lambda: td.Catalogue.read_toml(text))(),
        "read 10 000 requirements": lambda: (lambda text=requirements(10_000): lambda: td.Brief.from_toml(text, catalogue))(),
    }


def child(name: str) -> None:
    """Makes the call, says when it is about to, and when it ends how."""
    call = calls()[name]()
    waits = [0.0]
    stop = threading.Event()

    def beat():
        last = time.monotonic()
        while not stop.is_set():
            time.sleep(0.005)
            now = time.monotonic()
            waits[0] = max(waits[0], now - last)
            last = now

    threading.Thread(target=beat, daemon=True).start()
    print("ready", flush=True)
    ended = "done"
    try:
        call()
    except KeyboardInterrupt:
        ended = "interrupted"
    except Exception as error:  # noqa: BLE001
        ended = type(error).__name__
    at = time.monotonic()
    stop.set()
    print(f"{ended} {at} {waits[0]}", flush=True)


def interrupted(name: str, after: float | None, patience: float = 60) -> tuple[str, float, float]:
    """How the call ended, how long after the signal (after its start, without one), and how long another thread had to wait."""
    process = subprocess.Popen([sys.executable, __file__, "--child", name], stdout=subprocess.PIPE, text=True)
    assert process.stdout.readline().strip() == "ready"
    start = time.monotonic()
    if after is not None:
        time.sleep(after)
        process.send_signal(signal.SIGINT)
    sent = time.monotonic() if after is not None else start
    timer = threading.Timer(patience, process.kill)
    timer.start()
    said = process.stdout.readline().split()
    process.wait()
    timer.cancel()
    if not said:
        return "killed", time.monotonic() - sent, float("nan")
    return said[0], float(said[1]) - sent, float(said[2])


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("names", nargs="*")
    parser.add_argument("--child")
    parser.add_argument("--rounds", type=int, default=5)
    parser.add_argument("--seconds", type=float, default=1.5, help="the latest moment of a signal")
    parser.add_argument("--no-signal", action="store_true", help="how long each takes undisturbed")
    given = parser.parse_args()
    if given.child:
        with contextlib.suppress(KeyboardInterrupt):
            child(given.child)
        return
    draw = random.Random(6)
    for name in given.names or list(calls()):
        rounds = [None] if given.no_signal else [draw.uniform(0.02, given.seconds) for _ in range(given.rounds)]
        for after in rounds:
            ended, took, waited = interrupted(name, after)
            print(f"{name} | signal after {'-' if after is None else f'{after:.2f} s'} | {ended} | {took:.3f} s | other thread waited {waited:.3f} s", flush=True)


if __name__ == "__main__":
    main()
