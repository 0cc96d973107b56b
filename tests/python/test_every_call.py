"""Every public callable, called rightly, and with each argument in turn replaced by what nobody means.

Whatever is passed, a call gives a result or says in words of bounded length what is wrong, within seconds, and the
interpreter lives. The figures are printed if pytest is run with `-s`. Several wrong arguments at once are drawn by
`cargo xtask oracle`.
"""

import collections
import contextlib
import random
import reprlib
import time
from decimal import Decimal
from fractions import Fraction

import face
import matplotlib.pyplot as plt
import pytest
import tenside as td

FACE = face.face()
# The callables of each class and module, and each function of the package.
OWNERS = {
    owner: [public for name, public in FACE.items() if name.partition(".")[0] == owner]
    for owner in dict.fromkeys(name.partition(".")[0] for name in FACE)
}
REFUSALS = (td.TensideError, TypeError, ValueError, OverflowError, MemoryError)
# What else a call may raise, and why.
ALSO = {
    "Table.__getitem__": (IndexError,),
    "SweepTable.write_csv": (OSError,),
    "SweepTable.write_parquet": (OSError,),
    **{name: (OSError,) for name in FACE if name.startswith("read_") or name == "write"},
}
# Long lists that are work and no fault.
WORK = {
    "Sweep.pick.rows": "every row is solved",
    "axis.values": "ten million points are gone through",
    "Formula.dough.trials": "every trial is measured",
}
# Arguments that are not ours to judge, and why.
NOT_OURS = {"ax": "handed to matplotlib as it is", "memo": "protocol of copy"}
LONGEST_MESSAGE = 4000
# Of many faults at once a hundred are told, a line each.
LONGEST_LINE = 600
# Of the processor. A call takes milliseconds; the rest is for what is a hundred thousand long.
SECONDS = 10
LONG = 100_000


class Lying:
    """Says that it is longer than any memory, and gives one thing."""

    def __len__(self):
        return 2**62

    def __getitem__(self, index):
        if index:
            raise IndexError(index)
        return "kaolin"


TEXTS = [
    "", " ", "no such thing", "x" * LONG, "a\0b", "a\nb", "\u200fkaolin", "\u202ekaolin", "\ud800",
    "<b>&", "nan", "1e999", "9" * 5000, "-1", "1/0",
]  # fmt: skip
NUMBERS = [
    0, -1, 3, 10**18, 2**70, -(2**70), 10**5000, float("nan"), float("inf"), -float("inf"), 1e-300, -0.0,
    Decimal("NaN"), Decimal("1e999999"),
    Fraction(1, 3), True,
]  # fmt: skip
OTHERS = [
    None,
    object(),
    b"x",
    bytearray(b"kaolin"),
    1j,
    int,
    {1},
    [None],
    [[]],
    (),
    {},
    [],
    Lying(),
    range(10**11),
    td,
    face.BRIEF,
]


def wrong(right, short=False):
    """What stands in the place of a right value: things of all kinds, and the value itself with something wrong in it."""
    yield from TEXTS
    yield from NUMBERS
    yield from OTHERS
    if short:
        return
    if isinstance(right, dict) and right:
        (name, value), *_ = right.items()
        yield {f"{name} {index}": value for index in range(LONG)}
        yield from ({name: each} for each in (*TEXTS, *NUMBERS, *OTHERS))
        yield from ({each: value} for each in TEXTS)
    elif isinstance(right, (list, tuple)):
        yield list(right) * LONG
        for index in range(len(right)):
            yield from (
                type(right)((*right[:index], each, *right[index + 1 :])) for each in (*TEXTS, *NUMBERS, *OTHERS)
            )
        if isinstance(right[0], tuple):
            first = right[0]
            for index in range(len(first)):
                yield from ([(*first[:index], each, *first[index + 1 :])] for each in (*TEXTS, *NUMBERS, *OTHERS))
    else:
        yield [right] * LONG


def is_picture(public):
    """Drawn by matplotlib, which is slow."""
    return public.name.startswith("plot.") or public.name in (
        "SweepTable.bands",
        "SweepTable.plot",
        "SweepTable.ternary",
    )


class Figures:
    """How the calls ended, and which took longest."""

    def __init__(self):
        self.outcomes = collections.Counter()
        self.reached = set()
        self.longest = (0.0, "none")

    def call(self, public, arguments, what):
        """Makes one call and says what is wrong with how it ended, or nothing."""
        start = time.process_time()
        fault = None
        try:
            public.call(arguments)
            outcome = "a result"
        except (*REFUSALS, *ALSO.get(public.name, ())) as error:
            outcome = type(error).__name__
            told = min(len(getattr(error, "faults", ())), 101)
            if len(str(error)) >= max(LONGEST_MESSAGE, told * LONGEST_LINE) and not isinstance(error, OSError):
                fault = f"a message of {len(str(error))} characters: {str(error)[:200]}"
        except BaseException as error:  # noqa: BLE001
            outcome = type(error).__name__
            fault = f"{outcome}: {str(error)[:300]}"
        took = time.process_time() - start
        self.outcomes[outcome] += 1
        self.longest = max(self.longest, (took, f"{public.name}, {what}"))
        if took > SECONDS:
            fault = f"{took:.1f} s"
        return [f"{public.name}, {what}: {fault}"] if fault else []


@pytest.fixture(scope="module")
def figures():
    kept = Figures()
    yield kept
    took, what = kept.longest
    print(f"\n{len(kept.reached)} callables, {sum(kept.outcomes.values())} calls; longest {took:.2f} s ({what})")
    print(", ".join(f"{count} {outcome}" for outcome, count in kept.outcomes.most_common()))


@pytest.fixture(autouse=True, scope="module")
def elsewhere(tmp_path_factory):
    """Files are written into a folder of the tests' own."""
    with contextlib.chdir(tmp_path_factory.mktemp("files")):
        yield


def test_there_is_a_face():
    assert len(FACE) > 700 and {
        "Brief.solve",
        "Brief.lines",
        "linspace",
        "measure.substance",
        "plot.ternary",
        "write",
    } <= set(FACE)


@pytest.mark.parametrize("owner", OWNERS)
def test_every_call_is_made_rightly(owner, figures):
    for public in OWNERS[owner]:
        for parameter in (None, *public.parameters):
            if parameter is None or parameter.name not in NOT_OURS:
                public.call(public.right(parameter))
        figures.reached.add(public.name)
    plt.close("all")


def shown(value):
    try:
        return f"{reprlib.repr(value)} ({type(value).__name__})"
    except Exception:  # noqa: BLE001
        return type(value).__name__


def wrongly(public, parameter):
    """Each call of it with something wrong in the place of one argument: the arguments, and what was put there."""
    arguments = public.right(parameter)
    several = parameter.kind is parameter.kind.VAR_POSITIONAL
    for value in wrong(arguments[parameter.name], is_picture(public)):
        if isinstance(value, (list, range)) and len(value) > 1000 and f"{public.name}.{parameter.name}" in WORK:
            continue
        given = value if several and isinstance(value, (list, tuple)) else (value,) if several else value
        yield {**arguments, parameter.name: given}, f"{parameter.name}={shown(value)}"


@pytest.mark.parametrize(
    "owner", [owner for owner, calls in OWNERS.items() if any(public.parameters for public in calls)]
)
def test_wrong_arguments_are_refused_in_words(owner, figures):
    faults = []
    for public in OWNERS[owner]:
        for parameter in public.parameters:
            if parameter.name not in NOT_OURS:
                for arguments, told in wrongly(public, parameter):
                    faults += figures.call(public, arguments, told)
                plt.close("all")
    assert not faults, "\n".join(faults)


@pytest.mark.oracle
def test_several_wrong_arguments_at_once(figures, oracle_cases):
    draw = random.Random(20261129)
    several = [public for public in FACE.values() if len(public.parameters) > 1 and not is_picture(public)]
    faults = []
    for _ in range(oracle_cases):
        public = draw.choice(several)
        arguments, told = public.right(), []
        for parameter in draw.sample(public.parameters, draw.randint(2, min(4, len(public.parameters)))):
            if parameter.name not in NOT_OURS and parameter.kind is not parameter.kind.VAR_POSITIONAL:
                arguments[parameter.name] = draw.choice(list(wrong(public.value(parameter))))
                told.append(f"{parameter.name}={shown(arguments[parameter.name])}")
        faults += figures.call(public, arguments, ", ".join(told))
    assert not faults, "\n".join(faults)
