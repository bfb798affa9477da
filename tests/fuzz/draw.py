"""Random jobs: the same number of the same seed is the same job on every machine."""

from __future__ import annotations

import json
import random
import tomllib
from collections.abc import Iterator

from scadgen.hinge.family import Bounds, all_families, bounds
from scadgen.jobs.job import job_keys, new_job
from scadgen.jobs.keys import DUTY, FLEET, LAYERS, MATERIAL, SECTIONS
from scadgen.proof.fleet.population import POPULATIONS
from scadgen.proof.heights import LAYER
from scadgen.strength.duty import QUANTITIES
from scadgen.strength.materials import materials
from scadgen.tables.reading import flat

#: Facets of the jobs that OpenSCAD draws too: few keep its exact arithmetic quick.
FEW_FACETS = 16

_TEXTS = ("", "lid", "Tea box", "\"\\\n*/ // '''", "ä\u2028\u202e\x7f")
_ODD = ("true", '""', "[]", "{}", "nan", "-inf", "1e999", "0x10", "1979-05-27", "9" * 30)


def job_text(seed: int, number: int, *, few_facets: bool = False) -> str:
    """A job of any family: some keys have values anywhere in their range, few have odd ones."""
    rng = random_of(seed, number)
    cls = rng.choice([*all_families().values()])
    share = rng.choice((0.1, 0.3, 0.6, 1))
    values = {
        key: _number(rng, bounds(cls)[name])
        for name, key in job_keys(cls).items()
        if rng.random() < share
    }
    values |= dict(_others(rng))
    if rng.random() < 0.05:
        values[rng.choice([*job_keys(cls).values(), "name", "size", "height"])] = rng.choice(_ODD)
    if few_facets:
        values[job_keys(cls)["facets"]] = str(FEW_FACETS)
    return f'family = "{cls.family}"\n' + "".join(f"{key} = {v}\n" for key, v in values.items())


def job_bytes(seed: int, number: int) -> bytes:
    """Bytes that are hardly a job: noise, or a whole job with some of its bytes changed."""
    rng = random_of(seed, number)
    if rng.random() < 0.3:
        return rng.randbytes(rng.randrange(200))
    return hurt(rng, new_job(rng.choice([*all_families()])).encode())


def hurt(rng: random.Random, whole: bytes) -> bytes:
    """``whole`` with some of its bytes changed, gone or more."""
    data = bytearray(whole)
    for _ in range(rng.randrange(1, 5)):
        at = rng.randrange(len(data))
        data[at : at + rng.randrange(3)] = rng.randbytes(rng.randrange(3))
    return bytes(data)


def with_changes(text: str, changes: dict[str, str]) -> str:
    """A job that can be read, with some keys set anew; sections become dots in its keys."""
    kept = {key: _literal(value) for key, value in flat(tomllib.loads(text), SECTIONS).items()}
    return "".join(f"{key} = {value}\n" for key, value in (kept | changes).items())


def _literal(value: object) -> str:
    """A text, a number or a list of them as TOML writes it."""
    if isinstance(value, list):
        return f"[{', '.join(map(_literal, value))}]"
    if isinstance(value, float):
        return repr(value)
    return json.dumps(value, default=str).replace("\x7f", "\\u007f")


def random_of(seed: int, number: int) -> random.Random:
    """The numbers of one case of a seed."""
    return random.Random(f"{seed} {number}")


def _number(rng: random.Random, limits: Bounds) -> str:
    """A value that the bounds accept, an end of the range one time in ten, or a 0 that is open."""
    if limits.automatic and rng.random() < 0.3:
        return "0"
    if rng.random() < 0.1:
        return repr(rng.choice((limits.low, limits.high)))
    value = rng.uniform(limits.low, limits.high)
    stepped = limits.whole or rng.random() < 0.5
    return repr(limits.on_step(value) if stepped else value)


def _others(rng: random.Random) -> Iterator[tuple[str, str]]:
    """Free texts, printers, plastic and duty."""
    for key in ("title", "note"):
        if rng.random() < 0.3:
            yield key, _literal(rng.choice(_TEXTS))
    if rng.random() < 0.3:
        heights = [float(_number(rng, LAYER)) for _ in range(rng.randrange(1, 4))]
        yield LAYERS, repr(heights)
    if rng.random() < 0.2:
        yield FLEET, json.dumps(rng.choice([*POPULATIONS]))
    asked = [(key, name) for key, name in DUTY.items() if rng.random() < 0.1]
    if asked or rng.random() < 0.3:
        yield MATERIAL, json.dumps(rng.choice(materials()))
    for key, name in asked:
        limits = QUANTITIES[name]
        drawn = rng.uniform(limits.low, limits.high) ** rng.choice((0.5, 1))
        yield key, repr(round(max(drawn, limits.low), 2))
