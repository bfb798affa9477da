"""Whether all settings of a family meet an obligation: which claims are tried, with which rules."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace

from scadgen.hinge.family import Hinge, definition
from scadgen.hinge.rules import Rule
from scadgen.trees.expr import free
from scadgen.trees.to_linear import structure
from tests.settings.conditions import Margins, joined
from tests.settings.obligations import Obligation
from tests.settings.samples import Samples, samples
from tests.settings.search import Outcome, Search

#: Boxes looked at before a search gives up; without any rule, for what holds by itself.
MOST, BARE = 20_000, 64


def guarding(
    rules: Sequence[Rule], asked: Obligation, given: Margins
) -> Iterator[tuple[bool, list[Rule]]]:
    """Rules that may guard an obligation: those near it, and those near these; then only some.

    A rule is near that shares a field. Some are one of them with those that bring no further
    field: few fields are few to split.
    """
    own = [e for claim in asked.claims for e in claim] + [c.node for c in asked.given]
    names = frozenset().union(*map(free, (*own, *given, *(c.count for c in asked.counters))))
    near = [rule for rule in rules if fields(rule) & names]
    yield False, near
    further = names.union(*map(fields, near))
    yield False, [rule for rule in rules if fields(rule) & further]
    for rule in near:
        yield True, [each for each in rules if fields(each) <= names | fields(rule)]


def fields(rule: Rule) -> frozenset[str]:
    """The fields that a rule is about."""
    return free(rule.holds)


@dataclass(eq=False)
class Prover:
    """A family with some of its rules; what was once proven of it is not proven again.

    With ``briefly`` every way to a proof is tried within so few boxes first, those with the fewest
    rules before others.
    """

    cls: type[Hinge]
    rules: Sequence[Rule]
    most: int = MOST
    briefly: int = 0
    brief: bool = False
    known: set[tuple[object, ...]] = field(default_factory=set)

    @property
    def samples(self) -> Samples:
        return samples(self.cls)

    def decided(self, asked: Obligation) -> Outcome:
        """Whether every setting that the rules let through meets the obligation.

        A claim that holds in all samples is tried by itself, part by part; then all together.
        """
        whole = Outcome(broken=self.samples.breaking(asked, self.rules))
        if whole.broken is None:
            for given in joined(asked.given):
                whole.add(self._in_case(asked, given))
        return whole

    def _in_case(self, asked: Obligation, given: Margins) -> Outcome:
        if self.briefly:
            brief = replace(self, most=self.briefly, briefly=0, brief=True)  # knowing the same
            found = brief._in_case(asked, given)
            if found.proven:
                return found
        found, held = Outcome(share=1.0), self.samples.held(asked, given, self.rules)
        for claim in held:
            found = Outcome()
            for part in claim:
                alone = replace(asked, claims=((part,),))
                key = (*alone.key, *map(structure, given))
                if key not in self.known:
                    found.add(self._part(alone, given))
                    self.known |= {key} if found.proven else set()
                if not found.proven:
                    break
            if found.proven:
                return found
        return found if held or asked.fixed else self._within_reach(asked, given)

    def _part(self, asked: Obligation, given: Margins) -> Outcome:
        """Without any rule, for what holds by itself; then with them."""
        bare = Search(definition(self.cls), (), asked, given).run(BARE)
        if bare.proven:
            return bare
        found = self._within_reach(asked, given)
        found.boxes += bare.boxes
        return found

    def _within_reach(self, asked: Obligation, given: Margins) -> Outcome:
        """With the rules that may guard it, chosen in several ways, until it is proven with some.

        A setting that these let through counts when other fields can be set so that all rules do.
        """
        found, boxes = Outcome(share=1.0), 0
        ways = list(guarding(self.rules, asked, given))
        for some, rules in sorted(ways, key=lambda way: len(way[1])) if self.brief else ways:
            tried = Search(definition(self.cls), rules, asked, given).run(self.most)
            boxes += tried.boxes
            if tried.proven or not some:
                found = tried
            if tried.proven:
                break
        found.boxes = boxes
        if found.broken is not None:
            found.broken = self.samples.completed(found.broken, self.rules)
            found.share = found.share or 1.0
        return found
