"""Bodies that are there several times, and the joint that chains them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from scadgen.product.bodies import Form
from scadgen.product.model import ProductJoint
from scadgen.tables.documents import JobError


def copy_name(name: str, number: int) -> str:
    """The name of one of several copies, counted from 1."""
    return f"{name}_{number}"


def repeated(
    bodies: Mapping[str, Form], copies: Mapping[str, int], joints: Mapping[str, ProductJoint]
) -> tuple[dict[str, Form], dict[str, ProductJoint]]:
    """Bodies and joints with each body as often as ``copies`` says.

    A joint from a body to itself joins each copy to the next. Raises JobError for copies that no
    joint chains, and for a name that is there already, of a body or of a joint.
    """
    more: dict[str, Form] = {}
    for name, form in bodies.items():
        count = copies.get(name, 1)
        numbered = [copy_name(name, k + 1) for k in range(count)] if count > 1 else [name]
        for copy in numbered:
            if copy in more or (copy in bodies and copy != name):
                key = f"bodies.{copy}"
                raise JobError(f"{key}: a copy of {name} has that name, too; name it apart.", key)
            more[copy] = replace(form, like=name) if count > 1 else form
        if count > 1 and not any(joint.pair == (name, name) for joint in joints.values()):
            key = f"bodies.{name}.copies"
            words = f"no joint has fixed = moving = {name}, which would chain them"
            raise JobError(f"{key} = {count}; {words}.", key)
    made: dict[str, ProductJoint] = {}
    for name, joint in joints.items():
        count = copies.get(joint.fixed, 1)
        if joint.fixed != joint.moving or count < 2:
            made[name] = joint
            continue
        for k in range(1, count):
            if (copy := copy_name(name, k)) in joints:
                key = f"joints.{copy}"
                raise JobError(f"{key}: a copy of {name} has that name, too; name it apart.", key)
            pair = copy_name(joint.fixed, k), copy_name(joint.fixed, k + 1)
            made[copy] = replace(joint, fixed=pair[0], moving=pair[1], like=name)
    return more, made
