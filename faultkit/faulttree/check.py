"""What can be wrong with the parts of a fault tree."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from faultkit.problems import Problem, did_you_mean

__all__ = ["OPS", "Shape", "check_tree", "find_loop"]

#: The gate words.
OPS = ("any_of", "all_of", "at_least", "not", "xor")

#: Gate word, inputs, k.
Shape = tuple[str, tuple[str, ...], int]


def check_tree(
    top: str, gates: Mapping[str, Shape], probabilities: Mapping[str, float], house: Mapping[str, bool]
) -> list[Problem]:
    """Every problem found, in the order of the input."""
    problems = [*_check_names(top, gates, probabilities, house)]
    for name, shape in gates.items():
        problems += _check_gate(name, shape)
    problems += _check_numbers(probabilities, house)
    loop = find_loop({name: shape[1] for name, shape in gates.items()})
    if loop:
        problems.append(
            Problem(
                f"gates depend on each other in a loop: {' → '.join(loop)}",
                "a fault tree without loops: make one of these inputs a basic event of its own",
            )
        )
    return problems


def _check_names(
    top: str, gates: Mapping[str, Shape], probabilities: Mapping[str, float], house: Mapping[str, bool]
) -> Iterator[Problem]:
    kinds = {"a gate": gates, "a basic event": probabilities, "a house event": house}
    known = [*gates, *probabilities, *house]
    if top not in known:
        yield Problem(f"the top event '{top}' is not defined", did_you_mean(top, known))
    counted: dict[str, list[str]] = {}
    for kind, names in kinds.items():
        for name in names:
            counted.setdefault(name, []).append(kind)
    for name, found in counted.items():
        if len(found) > 1:
            yield Problem(f"'{name}' is both {' and '.join(found)}", "a different name for each")
    for name, (_, inputs, _) in gates.items():
        for one in dict.fromkeys(inputs):
            if one not in counted:
                yield Problem(
                    f"gate '{name}': input '{one}' is not defined",
                    did_you_mean(one, known) + " (a basic event needs a probability)",
                )


def _check_gate(name: str, shape: Shape) -> Iterator[Problem]:
    op, inputs, k = shape
    if op not in OPS:
        yield Problem(f"gate '{name}': unknown kind of gate '{op}'", did_you_mean(op, OPS))
    if not inputs:
        yield Problem(f"gate '{name}' has no inputs", "one input or more; a constant is a house event")
    if op == "not" and len(inputs) > 1:
        yield Problem(f"gate '{name}': not takes one input, it has {len(inputs)}", "one input")
    if op == "at_least" and inputs and not (type(k) is int and 1 <= k <= len(inputs)):
        yield Problem(
            f"gate '{name}': at_least {k!r} of {len(inputs)} inputs",
            f"a whole number from 1 to {len(inputs)}",
        )
    if op in ("at_least", "xor"):
        for one in dict.fromkeys(i for i in inputs if inputs.count(i) > 1):
            yield Problem(f"gate '{name}': input '{one}' stands there twice", "each input once")


def _check_numbers(probabilities: Mapping[str, object], house: Mapping[str, object]) -> Iterator[Problem]:
    for name, p in probabilities.items():
        if not isinstance(p, int | float) or isinstance(p, bool) or not 0.0 <= p <= 1.0:
            yield Problem(f"probability of '{name}' is {p!r}", "a number from 0 to 1")
    for name, value in house.items():
        if not isinstance(value, bool):
            yield Problem(f"house event '{name}' is {value!r}", "True or False")


def find_loop(inputs: Mapping[str, tuple[str, ...]]) -> list[str]:
    """A loop as ``[a, b, a]``, or an empty list. Names with no entry have no inputs."""
    done: set[str] = set()
    for start in inputs:
        path: dict[str, None] = {}
        stack: list[tuple[str, bool]] = [(start, False)]
        while stack:
            name, leaving = stack.pop()
            if leaving:
                del path[name]
                done.add(name)
            elif name in path:
                names = list(path)
                return [*names[names.index(name) :], name]
            elif name not in done:
                path[name] = None
                stack.append((name, True))
                stack += [(i, False) for i in reversed(inputs.get(name, ()))]
    return []
