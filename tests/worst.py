"""Proves random sound hinges and prints those that took longest: ``python -m tests.worst 1000``.

It is a script and no test: times vary from machine to machine. Values lie anywhere in the range of
each field, facets too, and are mended as the error says where they are refused. The same number is
the same hinge in every run, so ``--first 700 --families rod_loops`` looks at some again.
"""

from __future__ import annotations

import argparse
import multiprocessing
import random
import resource
import signal
import sys
import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from multiprocessing.connection import Connection

from scadgen import check
from scadgen.hinge.family import Hinge, all_families, bounds
from tests.fuzz.draw import random_of
from tests.support import mended

#: Shares of the fields that have a value of their own.
SHARES = (0.1, 0.3, 0.6, 1.0)
#: Processor time, seconds, after which a proof is given up.
LIMIT = 120
#: How many are told of.
TOLD = 10


@dataclass
class Proof:
    """What became of one hinge.

    seconds: of processor time. phases: the same of each measure. memory: most at once, MB.
    """

    number: int
    family: str
    values: dict[str, float]
    verdict: str = "given up"
    seconds: float = float(LIMIT)
    memory: float = 0.0
    phases: dict[str, float] = field(default_factory=dict)

    def __str__(self) -> str:
        """A line of the table."""
        given = ", ".join(f"{name}={value:g}" for name, value in self.values.items())
        longest = sorted(self.phases.items(), key=lambda one: -one[1])[:3]
        where = ", ".join(f"{phase} {seconds:.2g}" for phase, seconds in longest)
        head = f"{self.number:5d} {self.seconds:7.2f} s {self.memory:5.0f} MB"
        return f"{head}  {self.family}: {self.verdict} ({where})\n      {given}"


def drawn(number: int, families: Sequence[str]) -> Hinge:
    """The sound hinge of that number, of one of the families."""
    rng = random_of(0, number)
    cls = all_families()[rng.choice(families)]
    share = rng.choice(SHARES)
    given = {n: _value(rng, n, cls) for n in bounds(cls) if rng.random() < share}
    return mended(cls, given)


def _value(rng: random.Random, name: str, cls: type[Hinge]) -> float:
    limits = bounds(cls)[name]
    value = rng.uniform(limits.low, limits.high)
    return limits.on_step(value) if limits.whole or rng.random() < 0.5 else value


def timed(work: Callable[[Callable[[str], None]], bool]) -> tuple[bool, float, dict[str, float]]:
    """What the work gives, the processor time it takes, and that of each phase that it tells."""
    phases: dict[str, float] = {}
    start = last = time.process_time()
    now = "start"

    def tell(phase: str) -> None:
        nonlocal last, now
        at = time.process_time()
        phases[now] = phases.get(now, 0.0) + at - last
        last, now = at, phase

    good = work(tell)
    tell("end")
    return good, last - start, phases


def _prove(hinge: Hinge, pipe: Connection) -> None:
    resource.setrlimit(resource.RLIMIT_CPU, (LIMIT, LIMIT + 1))
    found = timed(lambda tell: check(hinge, progress=tell).passed)
    pipe.send((*found, resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024))


def proof(number: int, families: Sequence[str]) -> Proof:
    """Prove one in a process of its own, which may take long and be stopped."""
    hinge = drawn(number, families)
    usual = bounds(type(hinge)).items()
    own = {name: getattr(hinge, name) for name, limits in usual}
    values = {name: own[name] for name, limits in usual if own[name] != limits.default}
    told = Proof(number, hinge.family, values)
    ours, theirs = multiprocessing.Pipe(duplex=False)
    child = multiprocessing.get_context("fork").Process(target=_prove, args=(hinge, theirs))
    child.start()
    theirs.close()
    try:
        good, told.seconds, told.phases, told.memory = ours.recv()
        told.verdict, ended = "passed" if good else "not passed", True
    except EOFError:
        ended = False
    child.join()
    if not ended and child.exitcode not in (-signal.SIGXCPU, -signal.SIGKILL):
        told.verdict, told.seconds = "broke", 0.0
    return told


def proofs(numbers: range, families: Sequence[str]) -> Iterator[Proof]:
    """Each in turn."""
    for number in numbers:
        yield proof(number, families)


def main(argv: Sequence[str] | None = None) -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.worst")
    parser.add_argument("count", type=int, nargs="?", default=1000)
    parser.add_argument("--first", type=int, default=0, help="the number of the first")
    parser.add_argument("--families", nargs="+", default=[*all_families()], choices=all_families())
    options = parser.parse_args(argv)
    check(all_families()[options.families[0]]())  # what is imported only once counts for none
    found: list[Proof] = []
    for one in proofs(range(options.first, options.first + options.count), options.families):
        found.append(one)
        if one.seconds > 5 or len(found) % 100 == 0:
            print(one, file=sys.stderr, flush=True)
    broke = sum(one.verdict == "broke" for one in found)
    found.sort(key=lambda one: -one.seconds)
    times = [one.seconds for one in found]
    print(f"{len(found)} hinges, {broke} broke; median {times[len(times) // 2]:.2f} s; the worst:")
    print(*found[:TOLD], sep="\n")
    return 0


if __name__ == "__main__":
    sys.exit(main())
