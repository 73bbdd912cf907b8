"""T501: faults that no set of checks tells apart though they ask for different repairs."""

from __future__ import annotations

from collections.abc import Iterator

from faultkit.consistency.finding import Finding, Rule, Severity
from faultkit.consistency.standalone import MAIN, local
from faultkit.consistency.subject import Subject, TypeView
from faultkit.consistency.testability.matrix import Matrix
from faultkit.consistency.testability.report import ambiguous, testability_of

__all__ = ["RULE"]


def _run(subject: Subject) -> Iterator[Finding]:
    for view in subject.views.values():
        report = testability_of(subject, view.kind.name)
        known = [set(g) for g in subject.baselines.get(view.kind.name, {}).get("ambiguity_groups", ())]
        for group in report.groups:
            if len(group) > 1 and ambiguous(report.matrix, group) and not any(k.issuperset(group) for k in known):
                yield _finding(view, report.matrix, group)


def _finding(view: TypeView, matrix: Matrix, group: tuple[str, ...]) -> Finding:
    a = matrix.index[group[0]]
    b = next(matrix.index[f] for f in group if matrix.remedy[matrix.index[f]] != matrix.remedy[a])
    one, two = matrix.faults[a], matrix.faults[b]
    rest = f", in a group of {len(group)}" if len(group) > 2 else ""
    shown = [(matrix.signs[s], matrix.band_names[s][band]) for s, band in sorted(matrix.shown(a))]
    return RULE.found(
        f"no set of checks tells '{one}' from '{two}'{rest}: both most likely show the same",
        _missing(view, matrix, a, b),
        view.kind.events[one].where,
        witness=shown[:4],
        equipment=view.kind.name,
        name=one,
        data={"group": list(group)},
    )


def _missing(view: TypeView, matrix: Matrix, a: int, b: int) -> str:
    """The observation that would tell two faults apart."""
    one, two = matrix.faults[a], matrix.faults[b]
    logic = view.logic
    roots = [logic.basics[f"{MAIN}.{n}"][1] for n in (one, two)]
    for sign in logic.signs():
        if local(sign.name) not in matrix.signs and len(logic.depends_on(sign) & set(roots)) == 1:
            return f"a check that gives '{local(sign.name)}', which tells of one of them only"
    weak = [
        (sum(abs(x - y) for x, y in zip(p, q, strict=True)) / 2.0, s)
        for s, (p, q) in enumerate(zip(matrix.chances[a], matrix.chances[b], strict=True))
    ]
    most, s = max(weak, default=(0.0, 0))
    if most > 0.0:
        first, second = matrix.chances[a][s], matrix.chances[b][s]
        band = max(range(len(first)), key=lambda i: abs(first[i] - second[i]))
        p, q = first[band], second[band]
        return (
            f"a reading that mostly comes differently for the two; '{matrix.signs[s]}' is "
            f"{matrix.band_names[s][band]} with {p:.0%} and {q:.0%}, which decides nothing"
        )
    return f"a reading with a row of its own for '{one}' or '{two}': nothing that is read depends on which it is"


RULE = Rule("T501", "ambiguity", "Faults that no checks tell apart", Severity.WARNING, _run)
