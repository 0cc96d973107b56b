"""Sizes: what says it is longer than any memory is refused in words, a table that memory cannot hold raises MemoryError, and the interpreter lives."""

import subprocess
import sys
import time

import pytest
import tenside as td
from tenside import measure as m

CATALOGUE = td.Catalogue.starter()


class Lying:
    """Says that it is longer than any memory, and gives one thing."""

    def __init__(self, thing):
        self.thing = thing

    def __len__(self):
        return 2**62

    def __getitem__(self, index):
        if index:
            raise IndexError(index)
        return self.thing


def brief():
    split = td.Brief("Wash", CATALOGUE).split({"sci-powder": 14, "capb-30": 1}, by="active", name="wash").qs("kaolin")
    return split.target(m.active_matter, 50)


def sweep():
    return td.Sweep(brief(), td.axis("wash.capb-30", [1, 2, 3]), measures=[m.water])


def test_a_length_is_not_believed():
    assert len(sweep().pick(Lying(2))) == 1
    assert td.ph.Acid("x", 1, Lying(3.5)) == td.ph.Acid("x", 1, [3.5])
    assert len(td.axis("panthenol", Lying(2))) == 1
    line = td.Formula("Clay", {"kaolin": 100}, CATALOGUE).lines[0]
    assert list(td.Formula("x", Lying(line)).percentages) == ["kaolin"]


def test_too_many_are_refused_in_words():
    with pytest.raises(
        td.errors.OutOfRange,
        match="number of rows picked out of range .found more than 10000000.; allowed: 0 to 10000000 rows",
    ):
        td.Sweep(brief(), td.lattice("wash", 10_000)).pick([0] * 10_000_001)
    with pytest.raises(td.errors.OutOfRange, match="number of entries out of range .found more than 1000000."):
        brief().group("g", ("x" for _ in range(10**7)))
    with pytest.raises(td.errors.OutOfRange, match="number of points on an axis"):
        td.axis("material.kaolin", ("kaolin" for _ in range(10**8)))


@pytest.mark.parametrize("text", ["12", b"12", bytearray(b"12"), "kaolin"])
def test_text_is_one_value(text):
    for subject in ("panthenol", "material.kaolin"):
        with pytest.raises(TypeError, match="text is one value"):
            td.axis(subject, text)
    with pytest.raises(TypeError, match="text is one value"):
        sweep().pick(text)
    with pytest.raises(TypeError, match="text is one value"):
        td.Draft("x", text)


def test_anything_that_gives_things_one_by_one_is_taken():
    assert sweep().pick(iter([2, 0])).rows == [2, 0]
    assert td.ph.Acid("x", 1, (pka for pka in [3.5])) == td.ph.Acid("x", 1, [3.5])
    assert td.axis("panthenol", {1: "one", 2: "two"}.keys()) == td.axis("panthenol", [1, 2])


def test_what_is_raised_while_reading_numbers_is_not_kept():
    class Interrupting(int):
        def __str__(self):
            raise KeyboardInterrupt

    class Failing:
        numerator = 1

        @property
        def denominator(self):
            raise RuntimeError("mine")

    for number in (Interrupting(5), [Interrupting(5)]):
        with pytest.raises(KeyboardInterrupt):
            td.axis("panthenol", number if isinstance(number, list) else [number])
    with pytest.raises(KeyboardInterrupt):
        td.Brief("x", CATALOGUE).fix("corn-starch", Interrupting(5))
    with pytest.raises(KeyboardInterrupt):
        td.label.ScentDeclaration("lavender-oil", "supplier", {"LINALOOL": (Interrupting(5), 6)})
    with pytest.raises(RuntimeError, match="mine"):
        td.Brief("x", CATALOGUE).fix("corn-starch", Failing())
    with pytest.raises(RuntimeError, match="mine"):
        td.Formula("x", {"kaolin": Failing()}, CATALOGUE)
    with pytest.raises(td.errors.NotANumber, match="longer than 4096"):
        td.Brief("x", CATALOGUE).fix("corn-starch", 10**5000)


LIMITED = """
import resource, tenside as td
brief = td.Brief("Bar", td.Catalogue.starter()).between("sci-powder", 20, 60).free("corn-starch").qs("kaolin").at_least(td.measure.active_matter, 30)
axes = td.axis("at-least.active-matter", td.linspace(20, 40, 8000)), td.axis("highest.sci-powder", td.linspace(50, 90, 8000))
sweep = td.Sweep(brief, *axes)
small = td.Sweep(brief, td.axis("highest.sci-powder", [50, 60]))
resource.setrlimit(resource.RLIMIT_AS, (1_500_000_000, 1_500_000_000))
assert 2_000_000_000 < sweep.size_in_bytes < 8 << 30 and len(small.table()) == 2
for call in (lambda: sweep.table(), lambda: sweep.table(max_gib=64), lambda: sweep.parts(1)[0].table()):
    try:
        call()
    except td.errors.NoMemory as error:
        assert isinstance(error, MemoryError) and "stream it" in str(error), error
    else:
        raise AssertionError("there was memory")
assert len(small.table()) == 2
print("alive")
"""


def test_a_table_that_memory_cannot_hold_raises():
    done = subprocess.run([sys.executable, "-c", LIMITED], capture_output=True, text=True, timeout=120, check=False)
    assert (done.returncode, done.stdout) == (0, "alive\n"), done.stderr[-2000:]


def test_documents_past_the_greatest_are_refused():
    text = "# " + "x" * 32_000_000
    for read in (
        td.Catalogue.from_toml,
        td.Catalogue.from_json,
        td.Brief.from_toml,
        td.Formula.from_json,
        td.Draft.from_toml,
        td.review.RuleList.from_toml,
    ):
        with pytest.raises(
            td.errors.OutOfRange,
            match="length of a document out of range .found 3200000[0-9].; allowed: 0 to 32000000 bytes; split it",
        ):
            read(text)
    with pytest.raises(td.errors.OutOfRange, match="length of a document"):
        td.Catalogue.from_csv("id;name\n" + text, "material;constituent\n")


def test_requirements_are_read_in_time_and_bounded():
    one = '[[requirement]]\nat_most = 9\nmeasure = "water"\n'
    text = td.Brief("Many", CATALOGUE).qs("kaolin").at_most(m.water, 9).to_toml()

    def many(count):
        return text.replace(one, "\n".join(one.replace("9", f"{9 + index / 10000:.4f}") for index in range(count)))

    start = time.monotonic()
    read = td.Brief.from_toml(many(10_000))
    assert len(read.requirements) == 10_000
    # Some seconds less than a minute, which it took; the test profile is not the release.
    assert time.monotonic() - start < 15
    with pytest.raises(
        td.errors.OutOfRange, match="number of requirements out of range .found 10001.; allowed: 0 to 10000 requirements"
    ):
        td.Brief.from_toml(many(10_001))
    with pytest.raises(td.errors.Duplicate, match="two requirements have the same name"):
        td.Brief.from_toml(text.replace(one, one + "\n" + one))


def test_messages_are_short():
    long = "a" * 1_000_000
    number = "9" * 4000
    for call in (
        lambda: CATALOGUE.merge(CATALOGUE, winner=long),
        lambda: td.Reading(7, dilution=long),
        lambda: td.Catalogue.from_toml(f'tenside = "{long}"\n'),
        lambda: td.Brief("x", CATALOGUE).fix("kaolin", number),
        lambda: td.Formula("Clay", {"kaolin": 100}, CATALOGUE).label(
            market="EU", on="2026-11-24", nano=["x" * 190 + str(index) for index in range(50_000)]
        ),
        lambda: td.Product(market=long, use="shampoo-bar", on="2026-11-24"),
        lambda: td.Product(market="EU", use="shampoo-bar", on=long),
        lambda: m.score(long, {"kaolin": 1}),
        lambda: brief().with_parameter("moisture", number),
    ):
        with pytest.raises(td.TensideError) as raised:
            call()
        # A hundred faults of a line each.
        assert len(str(raised.value)) < 20_000


def test_a_front_of_everything_is_found_in_time():
    three = (
        td.Brief("Three", CATALOGUE)
        .split({"sci-powder": 1, "kaolin": 1, "corn-starch": 1}, by="weight", name="three")
        .fix("panthenol", 1)
    )
    table = three.sweep(td.lattice("three", 565))
    start = time.monotonic()
    front = table.pareto(minimise=["line.sci-powder", "line.kaolin", "line.corn-starch"])
    assert len(front) == len(table) > 159_000
    assert time.monotonic() - start < 10


FORKED = """
import multiprocessing, sys, tenside as td
from tenside import measure as m
brief = td.Brief("Wash", td.Catalogue.starter()).split({"sci-powder": 14, "capb-30": 1}, by="active", name="wash").qs("kaolin")
sweep = td.Sweep(brief.target(m.active_matter, 50), td.axis("wash.capb-30", range(1, 200)), measures=[m.water])
def work(times):
    if times > 1:
        with multiprocessing.get_context("fork").Pool(1) as pool:
            return pool.map(work, [times - 1])[0]
    parts = [part.stream(best=(3, m.water)) for part in sweep.parts(3)]
    return [len(sweep.table()), sweep.stream(best=(3, m.water)).rows, sweep.join(parts).rows, len(brief.samples(5, seed=1).lines)]
if __name__ == "__main__":
    work(1)
    with multiprocessing.get_context("fork").Pool(2) as pool:
        print(pool.map(work, [1, 1, 1]))
    print(work(2) == work(1))
"""


@pytest.mark.skipif(sys.platform != "linux", reason="fork")
def test_a_forked_child_sweeps_after_its_parent(tmp_path):
    (tmp_path / "forked.py").write_text(FORKED)
    done = subprocess.run(
        [sys.executable, "-W", "ignore", str(tmp_path / "forked.py")],
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )
    assert done.returncode == 0, done.stderr[-2000:]
    assert done.stdout == f"{[[199, 199, 199, 3]] * 3}\nTrue\n"
