"""What a product is told and nobody would look at is refused."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from scadgen.product.model import Product
from scadgen.product.repeating import repeated
from scadgen.tables.documents import JobError
from tests.product.support import book, box, chain, loaded
from tests.product.test_reading import TEXT

PLACE = "place = [0, 22, 90]"
MOVING = "moving_place = [0, 22, -90]"


def _told(product: Product, **joint: Any) -> Product:
    """The product with its first joint told more."""
    name, first = next(iter(product.joints.items()))
    return replace(product, joints={**product.joints, name: replace(first, **joint)})


@pytest.mark.parametrize(
    ("product", "joint", "key", "said"),
    [
        (book(), {"closes": True}, "spine.closes", "slit_lattice bends about no one line"),
        (book(), {"posture": "standing"}, "spine.posture", "slit_lattice prints flat on the bed"),
        (box(), {"posture": "standing"}, "hinge.posture", "side_cones prints lying"),
    ],
)
def test_what_a_joint_is_told_for_nothing_is_refused(
    product: Product, joint: dict[str, Any], key: str, said: str
) -> None:
    with pytest.raises(JobError) as caught:
        _ = _told(product, **joint).fitted
    assert caught.value.key == f"joints.{key}"
    assert said in str(caught.value)


@pytest.mark.parametrize(
    ("told", "key", "said"),
    [
        (f'{PLACE}\nedge = "back"', "edge", "place tells where it sits"),
        (f"{PLACE}\noffset = 3", "offset", "= 3; place tells where it sits"),
        (f'{PLACE}\nmoving_edge = "left"', "moving_edge", "leave it out, or tell moving_place"),
        (f'{MOVING}\nmoving_edge = "left"', "moving_edge", "moving_place tells where it sits"),
        (f'{MOVING}\nedge = "back"', "", ""),
        (PLACE, "", ""),
    ],
)
def test_a_side_or_an_offset_beside_a_place_is_refused(
    told: str, key: str, said: str, tmp_path: Path
) -> None:
    """It would go for nothing, and a hinge in another place be proven."""
    text = TEXT.replace("[joints.hinge.size]", f"{told}\n[joints.hinge.size]")
    if not key:
        assert loaded(tmp_path / "box.toml", text).fitted
        return
    with pytest.raises(JobError) as caught:
        loaded(tmp_path / "box.toml", text)
    assert caught.value.key == f"joints.hinge.{key}"
    assert said in str(caught.value)


@pytest.mark.parametrize("product", [book(), box()], ids=["book", "box"])
def test_a_posture_that_its_family_has_goes_without_a_word(product: Product) -> None:
    assert _told(product, posture="lying").fitted


def test_joints_of_the_same_bodies_are_told_one_turn_with_others() -> None:
    """Else the proof would reach as far as that of the first only."""
    made = chain(3)
    first = replace(made.joints["pin_1"], with_others=(0.0, 20.0), offset=2)
    second = replace(first, with_others=(0.0, 90.0), offset=-2)
    with pytest.raises(JobError, match=r"second turns the same bodies and has \[0, 90\]"):
        _ = replace(made, joints={**made.joints, "pin_1": first, "second": second}).fitted
    alike = replace(second, with_others=first.with_others)
    assert replace(made, joints={**made.joints, "pin_1": first, "second": alike}).fitted


def test_a_joint_that_is_called_as_a_copy_of_another_is_refused() -> None:
    """One of the two would be left out of the product."""
    made = chain(2)
    pin = replace(made.joints["pin_1"], fixed="link", moving="link")
    joints = {"pin_1": replace(pin, fixed="link_1", moving="link_2", offset=10), "pin": pin}
    link = {"link": made.bodies["link_1"]}
    with pytest.raises(JobError, match=r"joints.pin_1: a copy of pin has that name, too"):
        repeated(link, {"link": 3}, joints)
    other = {"own": joints["pin_1"], "pin": pin}
    assert list(repeated(link, {"link": 3}, other)[1]) == ["own", "pin_1", "pin_2"]
