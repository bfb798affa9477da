"""Which unit was meant, where a value is out of range in the one that is asked for."""

from __future__ import annotations

from scadgen.text.numbers import shown

#: By unit, what people write instead, and its size in it. ``g`` and ``kg``: weights.
OTHERS = {
    "mm": {"cm": 10.0, "in": 25.4, "m": 1000.0, "um": 0.001},
    "deg": {"rad": 57.29578, "turns": 360.0},
    "N": {"g": 0.00980665, "mN": 0.001},
    "%": {"as a fraction": 100.0},
    "percent": dict.fromkeys(("as a fraction", "fraction", "mm_per_mm", "strain"), 100.0),
    "MPa": {"GPa": 1000.0, "kPa": 1e-3, "Pa": 1e-6, "psi": 6.894757e-3, "ksi": 6.894757},
    "g_per_cm3": {"kg_per_m3": 1e-3},
    "times": {"%": 0.01},
    "ratio": {"percent": 0.01},
}
#: Units of factors: a message gives the number alone.
_FACTORS = ("", "times", "ratio")
#: How the unit that is asked for compares with larger ones, for where no other fits.
_LARGE = {"N": "1 kN is 1000 N, and 1 kg weighs 9.81 N"}


def labelled(name: str) -> tuple[str, str]:
    """A figure's label and its unit, or "".

    >>> labelled("torque at the full bend (N mm)")
    ('torque at the full bend', 'N mm')
    """
    label, _, unit = name.removesuffix(")").partition(" (")
    return label, unit


def after(unit: str) -> str:
    """A unit as it follows a number in a message: " mm", or "" for a factor."""
    return "" if unit in _FACTORS else f" {unit}"


def meant(unit: str, value: float, low: float, high: float) -> str:
    """A sentence on the units in which ``value`` would lie from ``low`` to ``high``; or "".

    Of units of one size the first is told.

    >>> meant("mm", 4, 10, 200)
    'Values are in mm: 4 cm is 40, 4 in is 101.6.'
    """
    names = {size: name for name, size in reversed(OTHERS.get(unit, {}).items())}
    sizes = {name: round(value * size, 2) for size, name in reversed(names.items())}
    fits = [f"{shown(value)} {n} is {shown(v)}" for n, v in sizes.items() if v and low <= v <= high]
    words = ", ".join(fits) or (_LARGE.get(unit, "") if value > high else "")
    about = "factors" if unit in _FACTORS else f"in {unit}"
    return f"Values are {about}: {words}." if words else ""
