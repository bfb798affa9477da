"""The verdict on one page."""

from __future__ import annotations

from scadgen.findings.finding import Finding, Verdict
from scadgen.findings.page import page, summary

GOOD = Finding("gap at rest", True, "0.352 mm.", measured=0.352, needed=0.3, unit="mm", slack=0.02)
NEAR = Finding(
    "first layer",
    True,
    "0.31 mm apart.",
    measured=0.31,
    needed=0.3,
    unit="mm",
    slack=0.05,
    change="a foot of at least 0.4 mm.",
)
BAD = Finding("drop", False, "9 mm2.", measured=9, needed=4, at_least=False, change="turn it.")
PLAIN = Finding("fixed link", True, "1 piece.")


def test_margins_have_the_sign_of_the_verdict() -> None:
    assert GOOD.margin is not None
    assert abs(GOOD.margin - 0.052) < 1e-12
    assert (GOOD.marginal, NEAR.marginal, BAD.marginal, PLAIN.marginal) == (
        False,
        True,
        False,
        False,
    )
    assert BAD.margin == -5
    assert PLAIN.margin is None


def test_the_page_says_first_what_needs_a_person() -> None:
    lines = list(page(Verdict("captive_cone", (PLAIN, GOOD, NEAR, BAD), {"play (mm)": 0.4243})))
    assert [line.text for line in lines] == [
        "captive_cone: NOT proven, 1 of 4 measures failed.",
        "FAIL drop: 9 mm2.",
        "     by 5 too much (limit 4)",
        "     change: turn it.",
        "near first layer: 0.31 mm apart.",
        "     by 0.01 mm to spare (limit 0.3 mm)",
        "     change: a foot of at least 0.4 mm.",
        "ok   fixed link: 1 piece.",
        "ok   gap at rest: 0.352 mm.",
        "     play (mm): 0.424",
    ]
    assert [line.mood for line in lines] == ["bad"] * 4 + ["near"] * 3 + ["good"] * 2 + [""]


def test_a_proof_that_passed_says_how_closely() -> None:
    assert summary(Verdict("x", (GOOD,))) == "x: proven, all 1 measures passed."
    assert summary(Verdict("x", (GOOD, NEAR))) == "x: proven, all 2 measures passed; 1 only just."


def test_in_a_hurry_only_failures_are_told() -> None:
    lines = page(Verdict("x", (GOOD, NEAR, BAD)), failures_only=True)
    assert next(lines).text == "FAIL drop: 9 mm2."
    assert not any("near" in line.text for line in page(Verdict("x", (NEAR,)), failures_only=True))


def test_in_a_hurry_it_is_told_why_nothing_failed_and_nothing_is_proven() -> None:
    unsure = Finding("hold", True, "no way out was found.", leaves_open="is not certified")
    (line,) = page(Verdict("x", (GOOD, unsure)), failures_only=True)
    assert line.text == summary(Verdict("x", (GOOD, unsure)))
    assert "passed, not proven: hold is not certified" in line.text
    lines = list(page(Verdict("x", (BAD, unsure)), failures_only=True))
    assert not any("passed" in line.text for line in lines)


def test_as_data_every_finding_has_its_margin() -> None:
    found = Verdict("x", (GOOD, NEAR, PLAIN)).to_dict()
    assert [f["marginal"] for f in found["findings"]] == [False, True, False]
    assert found["findings"][2]["margin"] is None
    assert found["passed"] is True
