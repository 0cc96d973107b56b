"""Calls that take long, each in two sizes: a large one that takes seconds, and a small one to be made again and again.

Run as a program it prints how long each takes undisturbed:

    python tests/python/long_calls.py
"""

from __future__ import annotations

import dataclasses
import json
import random
import time
from collections.abc import Callable
from fractions import Fraction
from typing import Any

import tenside as td
from tenside import measure as m
from tenside.words import DesignKind


def powders(count: int, seed: int = 1) -> td.Catalogue:
    """Invented raw materials of some active matter, water and filler."""
    draw = random.Random(seed)
    texts = ['tenside = "catalogue/1"\n']
    for index in range(count):
        active, water = draw.randint(100, 9000), draw.randint(10, 900)
        texts.append(
            f'[[material]]\nid = "p{index}"\nname = "powder {index}"\nform = "powder"\nphase = "powder"\n'
            'source = "invented"\n'
            + "constituents = [\n"
            + f'{{ inci = "SODIUM COCOYL ISETHIONATE", typical = {active / 100}, low = {active / 120:.2f}, '
            f'high = {active / 99:.2f}, declared = "declared" }},\n'
            + f'{{ inci = "WATER", typical = {water / 100}, declared = "declared" }},\n'
            + f'{{ inci = "KAOLIN", typical = {(10000 - active - water) / 100}, declared = "declared" }},\n]\n'
        )
    return td.Catalogue.from_toml("".join(texts))


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
        brief = brief.within(
            m.score(f"s{place}", {f"p{index}": value for index, value in enumerate(score)}),
            middle,
            middle + Fraction(1, 50),
        )
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
    return td.Formula(
        "Spread", {f"p{index}": f"{part / 10000:.4f}" for index, part in enumerate(parts)}, powders(count)
    )


def swept(rows: int) -> td.Sweep:
    brief = td.Brief(
        "Bar",
        td.Catalogue.starter(),
        prices={"sci-powder": 5, "kaolin": 1, "cetyl-alcohol": 4, "capb-30": 2, "corn-starch": 1},
    )
    brief = (
        brief.between("sci-powder", 20, 60)
        .between("cetyl-alcohol", 3, 6)
        .between("capb-30", 1, 20)
        .free("corn-starch")
        .qs("kaolin")
    )
    brief = brief.at_least(m.active_matter, 30).at_most(m.water, 9).minimise(m.cost)
    return td.Sweep(
        brief,
        td.axis("at-least.active-matter", td.linspace(20, 50, rows)),
        td.axis("price.sci-powder", td.linspace(1, 50, 1000)),
    )


def front(steps: int) -> td.sweep.SweepTable:
    three = {"sci-powder": 1, "kaolin": 1, "corn-starch": 1}
    brief = td.Brief("Three", td.Catalogue.starter()).split(three, by="weight", name="three")
    return brief.fix("panthenol", 1).sweep(td.lattice("three", steps))


def document(megabytes: int) -> str:
    """A catalogue of many invented raw materials, as text."""
    head, _, materials = powders(1000).to_toml().partition("[[material]]")
    entry = "[[material]]" + materials
    named = [
        entry.replace('id = "p', f'id = "c{copy}p').replace('name = "powder', f'name = "{copy} powder')
        for copy in range(megabytes * 1_000_000 // len(entry))
    ]
    return head + "".join(named)


def requirements(count: int) -> str:
    """A brief of many limits, as text."""
    text = td.Brief("Many", td.Catalogue.starter()).qs("kaolin").at_most(m.water, 9).to_toml()
    one = '[[requirement]]\nat_most = 9\nmeasure = "water"\n'
    assert one in text
    return text.replace(one, "\n".join(one.replace("9", f"{9 + index / 10000:.4f}") for index in range(count)))


def pressed(count: int) -> td.Brief:
    """As many lines as a trial varies."""
    brief = td.Brief("Pressed", powders(count))
    for index in range(count):
        brief = brief.between(f"p{index}", 2, round(100 / count + 12, 4))
    return brief


def fitted(count: int) -> tuple[td.Brief, list[td.trial.FittedModel]]:
    """That with models of two invented properties, quadratic in every line."""
    brief, draw = pressed(count), random.Random(8)
    samples = brief.samples(count * (count + 1), seed=3)
    runs = []
    for place in range(count * (count + 1)):
        parts = [round(samples.lines[f"p{index}"][place] * 10_000) for index in range(count)]
        parts[-1] += 1_000_000 - sum(parts)
        lines = {f"p{index}": Fraction(part, 10_000) for index, part in enumerate(parts)}
        runs.append(td.trial.TrialRun(str(place), lines, {"foam": draw.uniform(10, 30), "hardness": draw.uniform(20, 60)}))
    log = td.trial.TrialLog("Pressed", {"foam": "cm", "hardness": "N"}, runs)
    names = [f"p{index}" for index in range(count)]
    return brief, [log.fit(name, components=names) for name in ("foam", "hardness")]


def desirable(brief: td.Brief, models: list[td.trial.FittedModel]) -> td.trial.MostDesirable:
    wanted = [(model, td.trial.Desirability("larger", -1000, 1000)) for model in models]
    return brief.most_desirable(wanted, tolerance=1e-9, boxes=10 ** (len(brief.lines) - 2))


def designed(brief: td.Brief, kind: DesignKind) -> td.trial.Design:
    count = len(brief.lines)
    return brief.design(kind, model="quadratic", runs=3 * count * count // 4, seed=1, starts=10 ** (count - 4))


def stated(count: int) -> str:
    """A choice as a document: a true one of few lines; of many lines one that a stranger could send, whose search has no end."""
    if count < 50:
        return choosing(count, 2).choose().to_json(materials=True)
    brief = json.loads(choosing(count, 6).to_json(materials=True))
    return json.dumps({"tenside": "chosen/1", "brief": brief, "node_limit": 10**9})


@dataclasses.dataclass(frozen=True)
class Long:
    """A call: what it is made on, of a size, and what is asked of that."""

    made: Callable[[int], Any]
    ask: Callable[[Any], Any]
    small: int
    large: int

    def ready(self, size: int) -> Callable[[], Any]:
        """The call, ready to be made."""
        made = self.made(size)
        return lambda: self.ask(made)


def priced(count: int) -> td.Brief:
    return wide(count).minimise(m.cost)


def answered(count: int) -> td.solve.Answer:
    return priced(count).solve()


def tied(count: int) -> td.solve.Answer:
    """Of many best formulas one, so that every range takes programs."""
    alike = {f"p{index}": 5 for index in range(count)}
    return wide(count).with_prices(alike, currency="EUR").minimise(m.cost).solve()


CATALOGUE = td.Catalogue.starter()
COLUMNS = ["line.sci-powder", "line.kaolin", "line.corn-starch"]
KEPT = [m.active_matter, m.water]
CALLS: dict[str, Long] = {
    "try_choose": Long(lambda count: choosing(count, 6 if count > 50 else 2), lambda brief: brief.try_choose(), 30, 60),
    "try_choose without limit": Long(
        lambda count: choosing(count, 6 if count > 50 else 2), lambda brief: brief.try_choose(nodes=10**9), 30, 60
    ),
    "try_solve_rounded": Long(
        stepping,
        lambda brief: brief.try_solve_rounded(td.solve.Steps(1, nodes=10**9 if len(brief.lines) > 30 else 60)),
        30,
        40,
    ),
    "least squares": Long(far, lambda brief: brief.solve(), 40, 300),
    "solve without objective": Long(wide, lambda brief: brief.solve(), 60, 350),
    "solve for cost": Long(priced, lambda brief: brief.solve(), 150, 350),
    "limit_ranges": Long(tied, lambda answer: answer.limit_ranges(), 60, 300),
    "price_ranges": Long(answered, lambda answer: answer.price_ranges(), 50, 200),
    "line_ranges_within": Long(priced, lambda brief: brief.line_ranges_within(1), 50, 300),
    "relaxations": Long(
        lambda count: wide(count).at_least(m.water, 60), lambda brief: brief.try_solve().relaxations(), 60, 200
    ),
    "candidates": Long(spread, lambda made: made.candidates("p7", KEPT, powders(len(made.lines) + 53)), 20, 300),
    "pareto": Long(front, lambda table: table.pareto(minimise=COLUMNS), 250, 565),
    "table": Long(swept, lambda sweep: sweep.table(), 300, 3000),
    "stream": Long(swept, lambda sweep: sweep.stream(minimise=["cost"], maximise=["active matter"]), 300, 3000),
    "table of many lines": Long(
        lambda count: td.Sweep(priced(count), td.axis("price.p1", range(1, 40))), lambda sweep: sweep.table(), 60, 200
    ),
    "samples": Long(wide, lambda brief: brief.samples(1_000_000 // len(brief.lines) ** 2, seed=1), 20, 40),
    "samples of many lines": Long(wide, lambda brief: brief.samples(10, seed=1), 40, 200),
    "corners": Long(wide, lambda brief: brief.corners(100_000 if len(brief.lines) > 20 else 2000), 20, 26),
    "design": Long(pressed, lambda brief: designed(brief, "d-optimal"), 4, 7),
    "I-optimal design": Long(pressed, lambda brief: designed(brief, "i-optimal"), 4, 7),
    "best_on": Long(
        fitted, lambda made: made[0].best_on(made[1][0], tolerance=1e-9, boxes=10 ** (len(made[0].lines) - 2)), 4, 8
    ),
    "most_desirable": Long(fitted, lambda made: desirable(*made), 4, 8),
    "axis": Long(lambda count: range(count), lambda values: td.axis("panthenol", values), 400_000, 9_000_000),
    "read a catalogue": Long(document, td.Catalogue.from_toml, 2, 30),
    "read a choice": Long(stated, td.read, 30, 60),
    "read requirements": Long(requirements, lambda text: td.Brief.from_toml(text, CATALOGUE), 3000, 10_000),
}


def main() -> None:
    for name, call in CALLS.items():
        for size in (call.small, call.large):
            made, start = call.ready(size), time.monotonic()
            if size == call.small or not any(word in name for word in ("choose", "rounded", "choice")):
                made()
                print(f"{name} of size {size}: {time.monotonic() - start:.3f} s", flush=True)


if __name__ == "__main__":
    main()
