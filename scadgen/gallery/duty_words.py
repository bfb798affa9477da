"""A duty in a few words, as titles and tables tell it."""

from __future__ import annotations

from scadgen.strength.duty import Duty


def in_few_words(duty: Duty) -> str:
    """Its loads, how often, how long and warm if it says so, and the margin asked.

    >>> in_few_words(Duty())
    '3 N at 20 mm, 5 N along the axis, 1,000 times, margin 1.5'
    >>> in_few_words(Duty(load=0, pull=0, lever=0, cycles=1, margin=2))
    'once, margin 2'
    """
    parts = [f"{duty.load:g} N at {duty.lever:g} mm"] if duty.load else []
    parts += [f"{duty.pull:g} N along the axis"] if duty.pull else []
    parts.append("once" if duty.cycles == 1 else f"{duty.cycles:,.0f} times")
    if (duty.hours, duty.celsius) != (Duty.hours, Duty.celsius):
        parts.append(f"{duty.hours:g} h at {duty.celsius:g} deg C")
    parts.append(f"margin {duty.margin:g}")
    return ", ".join(parts)
