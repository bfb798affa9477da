"""Bounds by weights on what is not negative, where some of that has no end in some boxes."""

from __future__ import annotations

import warnings

import numpy as np

from tests.settings.lowest import Rows, weighed

#: A form of one deviation in two boxes, from -1 to 3 in both.
FORM = Rows(np.array([1.0, 1.0]), np.array([[2.0], [2.0]]), np.zeros(2))
#: What is at least 0: the deviation less a half, in the second box with no end to its error.
OTHER = Rows(np.array([-0.5, -0.5]), np.array([[1.0], [1.0]]), np.array([0.0, np.inf]))


def test_a_box_in_which_the_other_has_no_end_keeps_its_own_bound_and_no_other_loses_by_it() -> None:
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        low, left = weighed(FORM, [OTHER])
    # Where the deviation is a half or more, the form is 2 or more; where nothing is known, -1.
    assert np.allclose(low, [2.0, -1.0])
    assert np.all(low <= [2.0, -1.0])  # rounded to the safe side
    assert np.all(np.isfinite(left.rest))


def test_a_bound_is_never_above_the_least_that_the_form_takes() -> None:
    rng = np.random.default_rng(3)
    boxes, ways = 40, 3
    shares = rng.normal(size=(2, boxes, ways))
    centres = rng.normal(size=(2, boxes))
    endless = np.where(rng.random(boxes) < 0.3, np.inf, 0.0)
    form = Rows(centres[0], shares[0], np.zeros(boxes))
    low, _ = weighed(form, [Rows(centres[1], shares[1], endless)])
    at = rng.uniform(-1, 1, (2000, boxes, ways))
    value, other = ((shares[k] * at).sum(-1) + centres[k] for k in (0, 1))
    counts = (other >= 0) | np.isinf(endless)
    assert np.all((value >= low) | ~counts)
    assert np.all(low[np.isinf(endless)] <= form.low[np.isinf(endless)])
