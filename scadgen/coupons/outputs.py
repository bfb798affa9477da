"""The files that a coupon gives, and the file of a printer that was measured with one."""

from __future__ import annotations

from collections.abc import Iterator

from scadgen.coupons.fit import Growth
from scadgen.coupons.plan import Plan, plan, plans
from scadgen.coupons.results import Results, contradiction_lines, results_file
from scadgen.coupons.sheet import coupon_sheet
from scadgen.coupons.solids import bodies, whole
from scadgen.coupons.text import emit_coupon
from scadgen.jobs.job import JobError, family_named
from scadgen.meshfiles.writing import stl, three_mf
from scadgen.openscad.emitter import emit
from scadgen.text.numbers import shown
from scadgen.text.quoting import plain, toml_string


def coupon_of(name: str, of: str = "") -> Plan:
    """The coupon of the family with that name, or of what of it is named. Raises JobError for one
    that has none.
    """
    cls = family_named(name)
    found = plan(cls, of)
    if of and found is None:
        others = [one.steps.of for one in plans(cls) if one.steps.of]
        told = f"it has one of its {' and '.join(others)}" if others else "it has none but its own"
        raise JobError(f"{cls.family}: no coupon of its {of}; {told}.")
    if found is None:
        why = "its family names no field that a small print could step"
        raise JobError(f"{cls.family}: no coupon; {why}.")
    return found


def coupon_files(printed: Plan) -> dict[str, bytes]:
    """The files of a coupon by name; the same coupon gives the same bytes.

    The module of the family, the coupon that uses it, both meshes, a sheet for the bench, and the
    results to fill in where growth of the lines, or the strain of an arm, can be fitted to them.
    """
    title = f"Coupon of {printed.family.family}"
    files = {
        f"{printed.family.family}.scad": emit(printed.family()).encode(),
        f"{printed.name}.scad": emit_coupon(printed).encode(),
        f"{printed.name}.stl": stl(whole(printed)),
        f"{printed.name}.3mf": three_mf(printed.name, title, bodies(printed)),
    }
    files[f"{printed.name}_sheet.html"] = coupon_sheet(printed)
    if printed.calibrates or printed.steps.strains:
        files[f"{printed.name}_results.toml"] = results_file(printed).encode()
    return files


def printer_file(results: Results, growth: Growth) -> str:
    """The text of a printer's file."""
    from scadgen.text.rendering import template

    turned = list(results.turned.values())
    source = f"measured with a coupon of {results.plan.family.family} at layers of"
    limit = "" if any(turned) and not all(turned) else ", a limit to one side only"
    return template("printer.toml.j2").render(
        name=toml_string(plain(results.name)),
        growth=growth,
        source=toml_string(f"{source} {results.layer:g} mm{limit}"),
    )


def calibration_lines(results: Results, growth: Growth) -> Iterator[str]:
    """What a calibration found, in sentences."""
    for line in contradiction_lines(results):
        yield f"contradiction: {line}"
    turned = results.turned.values()
    if all(turned):
        yield "Every piece turned: that gives no lower limit. Thicker layers or narrower steps do."
    elif not any(turned):
        yield "Every piece fused: that gives no upper limit. Thinner layers or wider steps do."
    yield (
        f"growth {growth.mean:+.3f} mm per side, give or take {growth.std:.3f} "
        f"({growth.low:+.3f} to {growth.high:+.3f} in 95 of 100 cases)"
    )
    snug = results.snuggest
    if snug is not None:
        yield f"snuggest that turned freely: {results.plan.steps.field} = {shown(snug)} mm"
