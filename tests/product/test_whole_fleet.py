"""What a fleet of printers makes of a whole product: of its joints, its rims and what is beside."""

from __future__ import annotations

from dataclasses import replace

import pytest
from manifold3d import Manifold

from scadgen.findings.finding import NO_FLEET
from scadgen.product.bodies import Plate
from scadgen.product.model import Product
from scadgen.product.proving import check_product
from scadgen.proof.fleet.population import Shares
from tests.product.support import Given, book, box, chain, named


def mushroom(height: float) -> Manifold:
    """A post 6 mm wide on a foot of 3 mm, so that it comes near only above the bed."""
    foot = Plate(length=3, width=3, height=0.4).solid
    head = Plate(length=6, width=6, height=height - 2).solid.translate((0, 0, 2))
    return Manifold.batch_hull([foot, head])


def test_a_printer_makes_the_product_if_it_makes_every_joint() -> None:
    made = chain(3)
    loose, close = (replace(j, values={**j.values, "clearance": c}) for j, c in zip(
        made.joints.values(), (0.4, 0.25), strict=True
    ))  # fmt: skip
    mixed = check_product(replace(made, joints={"pin_1": loose, "pin_2": close}))
    names = ("pin_1: rough fleet", "pin_2: rough fleet", "rough fleet, all together")
    one, other, every = (named(mixed, name).measured or 0 for name in names)
    assert one != other
    assert 0 < every <= min(one, other)
    plates = check_product(chain(2))
    assert not [found for found in plates.verdict.findings if "all together" in found.name]


def test_a_lid_whose_rims_and_hinge_fail_on_different_printers_is_not_proven() -> None:
    """Nine of ten printers make either; fewer make both."""
    lid = box(20.3, 9.1, clearance=0.27, cone=7, wall=2.4)
    made = check_product(replace(lid, layer_heights=(0.3,)))
    alone = [named(made, name).measured or 0 for name in ("rough fleet", "rims on the rough fleet")]
    assert min(alone) >= made.product.population.needed
    both = named(made, "rough fleet, all together")
    assert not both.passed
    assert both.measured is not None
    assert sum(alone) - 100 <= both.measured < min(alone)
    assert "hinge and rims" in both.words


@pytest.mark.parametrize(("gap", "good"), [(0.105, False), (0.3, True)])
def test_bodies_beside_each_other_must_print_apart_on_enough_printers(
    gap: float, good: bool
) -> None:
    """A printer that grows by half as much as they are apart prints them as one."""
    made = chain(2)
    post = Given(given=mushroom(6), at=(20 + 3 + gap, 0.0), loose=True)
    found = check_product(replace(made, bodies={**made.bodies, "post": post}))
    apart = named(found, "link 1 and post: gap at rest")
    assert apart.passed
    together = named(found, "rough fleet, all together")
    assert together.passed is good
    assert "link 1 and post apart" in together.words


@pytest.mark.parametrize(("radius", "good"), [(0.049, True), (0.12, False)])
def test_gaps_that_the_slicers_of_a_product_close_are_none(radius: float, good: bool) -> None:
    """Two plates that a lattice joins, and a part 0.2 mm beside them, above the bed."""
    plain = book()
    post = Given(given=mushroom(4), at=(32 + 3.2, 0.0), loose=True)
    closing = Shares((radius,), (1,), "made up")
    population = replace(plain.population, closing=closing)
    found = check_product(
        replace(plain, bodies={**plain.bodies, "post": post}, population=population)
    )
    assert named(found, "layers of 0.2 mm").passed is good


def test_loose_parts_without_a_joint_are_never_proven() -> None:
    """Nothing in them could work, or not, on any printer."""
    one = Plate(length=20, width=20, height=4, loose=True)
    found = check_product(Product(name="tag", bodies={"tag": one}, layer_heights=(0.2,))).verdict
    assert found.passed
    assert not found.proven
    assert found.doubts == (NO_FLEET,)
