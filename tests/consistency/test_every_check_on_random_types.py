"""No check stumbles over a type with any feature of the format, joined with others or not."""

from __future__ import annotations

import random

from hypothesis import given, settings
from hypothesis import strategies as st

from faultkit.calculators.basic import BASIC
from faultkit.consistency import RULES, Severity
from faultkit.consistency.formats import FORMATS
from faultkit.consistency.run import Report
from faultkit.consistency.subject import Subject
from faultkit.consistency.testability.report import testability_of as report_of
from faultkit.model.catalogue import Catalogue
from faultkit.model.types import Join
from tests.engine.maker import Maker


@settings(max_examples=80)
@given(st.integers(0, 2**32))
def test_all_checks_run(seed: int) -> None:
    rng = random.Random(seed)  # noqa: S311
    lower = Maker(rng, "lower", 4)
    if rng.randrange(2):
        lower.join(Join("serves", reverse_of="fed_by", events=("b0",)))
    upper = Maker(rng, "upper", 4)
    feeder = lower.build(3, 3)
    upper.join(Join("fed_by", events=tuple(feeder.events), optional=rng.randrange(2) == 0))
    types = {"lower": feeder, "upper": upper.build(3, 3), "alone": Maker(rng, "alone", 5).build(4, 4)}
    subject = Subject(Catalogue(types), {c.name: c for c in BASIC})
    findings = [f for rule in RULES if rule.run is not None for f in rule.run(subject)]
    for f in findings:
        assert f.what
        assert f.cure
        assert f.equipment in types
        assert f.severity in Severity
        assert all(k for k, _ in f.witness)
    report = Report(tuple(findings), types=tuple(types), testability=tuple(report_of(subject, n) for n in types))
    for write in FORMATS.values():
        assert write(report)
