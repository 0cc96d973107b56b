"""Calls that take long: Ctrl-C ends them at once and leaves nothing behind, another thread goes on meanwhile, and a search ends when its
seconds are over.

The figures are printed where pytest is run with `-s`; `cargo xtask oracle` sends many more signals.
"""

import gc
import random
import signal
import subprocess
import sys
import threading
import time

import long_calls
import pytest
import tenside as td

# On an idle machine it is a fiftieth of a second.
SOON = 1.0
SENDER = """
import os, signal, sys, time
for line in sys.stdin:
    time.sleep(float(line))
    at = time.monotonic()
    os.kill(os.getppid(), signal.SIGINT)
    print(at, flush=True)
"""


class Keyboard:
    """Another process that presses Ctrl-C when it is told to, and what came of it."""

    def __init__(self):
        self.process = subprocess.Popen(
            [sys.executable, "-c", SENDER], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
        )
        self.took = []
        self.waited = []
        self.late = 0

    def interrupt(self, call, after):
        """Makes a call that is interrupted so seconds from now; gives how long it went on after the signal, or None if it had ended."""
        stop, waits = threading.Event(), [0.0]

        def beat():
            last = time.monotonic()
            while not stop.wait(0.005):
                waits[0] = max(waits[0], time.monotonic() - last)
                last = time.monotonic()

        other = threading.Thread(target=beat)
        other.start()
        self.process.stdin.write(f"{after}\n")
        self.process.stdin.flush()
        ended = False
        # Python drops what is raised in a destructor, so none of what earlier tests left may run meanwhile.
        gc.disable()
        try:
            call()
            ended = True
            time.sleep(60)
            raise AssertionError("no signal came")
        except KeyboardInterrupt:
            at = time.monotonic()
        finally:
            gc.enable()
        stop.set()
        other.join()
        took = at - float(self.process.stdout.readline())
        if ended:
            self.late += 1
            return None
        self.took.append(took)
        self.waited.append(waits[0])
        return took


@pytest.fixture(scope="module")
def keyboard():
    keyboard = Keyboard()
    yield keyboard
    keyboard.process.stdin.close()
    keyboard.process.wait()
    if keyboard.took:
        longest, waited = max(keyboard.took), max(keyboard.waited)
        print(
            f"\n{len(keyboard.took)} calls interrupted, {keyboard.late} had ended before; longest {longest:.3f} s after the signal,",
            end=" ",
        )
        print(f"the longest wait of another thread {waited:.3f} s")


def same(left, right):
    if isinstance(left, td.sweep.SweepTable):
        return left.columns == right.columns and all(left.column(name) == right.column(name) for name in left.columns)
    return left == right


def interrupted_and_again(keyboard, name, rounds, draw):
    """The small call, interrupted at random moments of it, gives what it gave before."""
    call = long_calls.CALLS[name].ready(long_calls.CALLS[name].small)
    start = time.monotonic()
    before = call()
    whole = time.monotonic() - start
    for _ in range(rounds):
        took = keyboard.interrupt(call, draw.uniform(0, whole * 0.9))
        assert took is None or took < SOON
        assert same(call(), before)


@pytest.mark.parametrize("name", long_calls.CALLS)
def test_a_call_that_was_interrupted_gives_what_it_gave_before(name, keyboard):
    interrupted_and_again(keyboard, name, 1, random.Random(name))


LARGE = [
    "try_choose without limit",
    "try_solve_rounded",
    "least squares",
    "solve without objective",
    "limit_ranges",
    "candidates",
    "design",
    "I-optimal design",
    "best_on",
    "most_desirable",
    "read a choice",
]


@pytest.mark.parametrize("name", LARGE)
def test_ctrl_c_ends_a_large_call(name, keyboard):
    took = keyboard.interrupt(long_calls.CALLS[name].ready(long_calls.CALLS[name].large), 0.3)
    assert took is not None and took < SOON
    assert keyboard.waited[-1] < SOON


def test_ctrl_c_ends_a_check(tmp_path):
    path = tmp_path / "stranger.json"
    path.write_text(long_calls.stated(60), encoding="utf-8")
    with subprocess.Popen([sys.executable, "-m", "tenside", "check", path], stderr=subprocess.PIPE) as check:
        time.sleep(2)
        assert check.poll() is None
        check.send_signal(signal.SIGINT)
        at = time.monotonic()
        _, error = check.communicate(timeout=30)
    assert time.monotonic() - at < SOON
    assert b"KeyboardInterrupt" in error


@pytest.mark.oracle
@pytest.mark.parametrize("name", long_calls.CALLS)
def test_many_signals_at_random_moments(name, keyboard, oracle_cases):
    draw = random.Random(name)
    rounds = max(1, oracle_cases // 500)
    interrupted_and_again(keyboard, name, rounds, draw)
    call = long_calls.CALLS[name].ready(long_calls.CALLS[name].large)
    for _ in range(rounds):
        took = keyboard.interrupt(call, draw.uniform(0.02, 1.5))
        assert took is None or took < SOON
        assert keyboard.waited[-1] < SOON


def test_a_search_ends_when_its_seconds_are_over():
    brief = long_calls.choosing(60, 6)
    start = time.monotonic()
    tried = brief.try_choose(nodes=10**9, seconds=0.3)
    assert 0.2 < time.monotonic() - start < 5
    assert tried.nodes > 1
    if isinstance(tried, td.solve.Chosen):
        assert tried.gap > 0 and tried.verify()
    else:
        assert not tried.is_proved and "there may be one" in tried.sentence
    unmet = long_calls.stepping(40).try_solve_rounded(td.solve.Steps(1, nodes=10**9), seconds="0.3")
    assert not unmet.is_proved and unmet.nodes > 1
    with pytest.raises(td.errors.NoFormula, match="there may be one"):
        long_calls.stepping(40).solve_rounded(td.solve.Steps(1, nodes=10**9), seconds=0)
    with pytest.raises(
        td.errors.OutOfRange, match="time limit of a search out of range .found -1.; allowed: 0 to 1000000000 s"
    ):
        brief.try_choose(seconds=-1)


def test_enough_seconds_change_nothing():
    brief = td.Brief("One of two", td.Catalogue.starter()).between("sci-powder", 20, 60).qs("kaolin")
    brief = brief.absent_or_between("capb-30", 10, 20).at_least(td.measure.active_matter, 40).minimise(td.measure.water)
    assert brief.choose(seconds=1000) == brief.choose()
    assert brief.solve_rounded(0.5, seconds=1000) == brief.solve_rounded(0.5)
