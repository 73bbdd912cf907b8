"""Bodies of readings and their calculations."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from faultkit.model.types import Basis, Calculation, Cut, Observable, Reading, ReadingKind, Ref, Row
from faultkit.problems import did_you_mean
from faultkit.reading.lookup import find_house, find_reading, find_setting, setting_of_join
from faultkit.reading.loops import note_loops
from faultkit.reading.mistakes import NAME, basis, deprecated, flag, headed, one_word, same_twice, title_of, words
from faultkit.reading.nameplate import quantity
from faultkit.reading.names import Sort, names_here
from faultkit.reading.nodes import Node
from faultkit.reading.rulers import read_ruler
from faultkit.reading.scopes import Declared, Scope
from faultkit.units import Accuracy, Kind, Quantity, UnitError, kind_of, parse_accuracy

__all__ = ["check_calculation_loops", "read_reading"]

#: One of a single word says nothing.
_CHOICE = 2
#: Lowest and highest.
_ENDS = 2
_FORMS = "yes_no, {one_of: [words]}, or {unit: …}"


def read_reading(scope: Scope, declared: Declared, rows: Mapping[str, tuple[Row, ...]]) -> Reading | None:
    """One reading with full names and the ``rows`` of its observables; None with a mistake noted."""
    node, name = declared.node, declared.name
    if not _one_kind(scope, declared):
        return None
    source = basis(node, scope.source)
    title = headed(scope.label, node.text("title") or title_of(name))
    spoken = node.text("plain")
    kind = _unit(scope, declared)
    _check_states(scope, declared)
    cuts = _cuts(scope, declared, kind, source)
    calculate = node.get("calculate")
    return Reading(
        scope.prefix + name,
        declared.kind or ReadingKind.QUANTITY,
        title,
        headed(scope.spoken, spoken) if spoken else title.lower(),
        node.text("unit"),
        _accuracy(scope, declared),
        _range(scope, declared, kind),
        declared.states,
        tuple(_observable(scope, declared, state, cuts, rows) for state in declared.bands),
        _calculation(scope, calculate, name) if calculate is not None else None,
        find_house(scope, node.get("only_with")),
        source,
        declared.where,
        deprecated(node, scope.prefix),
    )


def _one_kind(scope: Scope, declared: Declared) -> bool:
    node = declared.node
    keys = [k for k in ("unit", "yes_no", "one_of") if node.get(k) is not None]
    if not (node.value == "yes_no" or len(keys) == 1):
        wrong = f"is {' and '.join(keys)} at once" if keys else "does not say what kind of reading it is"
        scope.bad(declared.where, f"reading '{declared.name}' {wrong}", f"one of {_FORMS}")
        return False
    numbers = ("bands", "accuracy", "range", "calculate")
    for key in numbers if declared.kind is not ReadingKind.QUANTITY else ():
        if node.get(key) is not None:
            scope.bad(
                node.at_key(key),
                f"'{key}' of reading '{declared.name}' means nothing without a unit",
                "only with unit",
            )
    if keys == ["yes_no"] and not flag(node.get("yes_no"), scope.mistakes):
        scope.bad(
            node.at_key("yes_no"),
            f"reading '{declared.name}' is not a yes/no reading",
            f"yes_no: yes, or one of {_FORMS}",
        )
    if declared.kind is ReadingKind.ONE_OF:
        _check_words(scope, declared)
    return True


def _check_words(scope: Scope, declared: Declared) -> None:
    listed = words(declared.node.value["one_of"], scope.mistakes, "a word")
    same_twice(
        [(str(n.value), n.where) for n in listed], scope.mistakes, f"one_of of reading '{declared.name}'"
    )
    for n in listed:
        if not NAME.fullmatch(str(n.value)):
            scope.bad(
                n.where,
                f"'{n.value}' cannot name a band",
                "small letters, figures and _, beginning with a letter",
            )
    if len(listed) < _CHOICE:
        scope.bad(
            declared.node.at_key("one_of"), f"reading '{declared.name}' has no choice", "two words or more"
        )


def _unit(scope: Scope, declared: Declared) -> Kind | None:
    node = declared.node.get("unit")
    if node is None:
        return None
    try:
        return kind_of(str(node.value))
    except UnitError as error:
        scope.bad(node.where, f"reading '{declared.name}': {error.what}", error.expected)
        return None


def _check_states(scope: Scope, declared: Declared) -> None:
    known = scope.file.states
    given, rulers = declared.node.get("in"), declared.node.get("bands")
    named = [(str(n.value), n.where) for n in words(given, scope.mistakes, "the name of a state")]
    same_twice(named, scope.mistakes, "'in'")
    if rulers is not None and rulers.is_map:
        if given is not None:
            scope.bad(
                declared.node.at_key("in"),
                "states stand both under 'in' and under 'bands'",
                "only one of the two",
            )
        if not rulers.value:
            scope.bad(
                rulers.where,
                f"reading '{declared.name}' has no bands",
                "{<state>: [name, cut, name]}, or no bands",
            )
        named += [(state, rulers.at_key(state)) for state, _ in rulers.items()]
    for state, where in named:
        if state not in known:
            # Only names of this file: the same words whichever type includes it.
            scope.bad(where, f"no state '{state}'", did_you_mean(state, scope.file.own_states))


def _cuts(
    scope: Scope, declared: Declared, kind: Kind | None, source: Basis | None
) -> dict[str | None, tuple[Cut, ...]]:
    rulers = declared.node.get("bands")
    if declared.kind is not ReadingKind.QUANTITY or rulers is None:
        return {}
    if rulers.is_map:
        return {state: read_ruler(scope, ruler, kind, source) or () for state, ruler in rulers.items()}
    one = read_ruler(scope, rulers, kind, source) or ()
    return dict.fromkeys(declared.bands, one)


def _observable(
    scope: Scope,
    declared: Declared,
    state: str | None,
    cuts: Mapping[str | None, tuple[Cut, ...]],
    rows: Mapping[str, tuple[Row, ...]],
) -> Observable:
    name = declared.observable(state)
    return Observable(
        scope.prefix + name,
        scope.prefix + declared.name,
        state,
        declared.bands[state],
        cuts.get(state, ()),
        rows.get(name, ()),
    )


def _accuracy(scope: Scope, declared: Declared) -> Accuracy | None:
    node = declared.node.get("accuracy")
    if node is None or declared.kind is not ReadingKind.QUANTITY:
        return None
    text = one_word(node, scope.mistakes, "an accuracy like 1 % + 0.5 V")
    try:
        return parse_accuracy(text, declared.node.text("unit")) if text else None
    except UnitError as error:
        if _known(declared.node.text("unit")):
            scope.bad(node.where, f"reading '{declared.name}': {error.what}", error.expected)
        return None


def _known(unit: str) -> bool:
    try:
        kind_of(unit)
    except UnitError:
        return False
    return True


def _range(scope: Scope, declared: Declared, kind: Kind | None) -> tuple[float, float] | None:
    node = declared.node.get("range")
    if node is None or kind is None:
        return None
    ends = node.list()
    if not node.is_list or len(ends) != _ENDS:
        scope.bad(node.where, f"the range of reading '{declared.name}' has not two ends", "[lowest, highest]")
        return None
    low, high = (quantity(n, scope, kind, f"the range of reading '{declared.name}'") for n in ends)
    if low is None or high is None:
        return None
    if not low.value < high.value:
        scope.bad(node.where, f"the range of reading '{declared.name}' does not rise", "[lowest, highest]")
        return None
    return low.value, high.value


def _calculation(scope: Scope, node: Node, name: str) -> Calculation | None:
    use = node.get("use")
    if use is None:
        scope.bad(
            node.where,
            f"the calculation of reading '{name}' does not say which calculator it uses",
            "use: <name of a calculator>",
        )
        return None
    readings: dict[str, Ref] = {}
    settings: dict[str, Ref] = {}
    quantities: dict[str, Quantity] = {}
    fixed: dict[str, str] = {}
    for argument, member in node.items():
        if argument == "use":
            continue
        if _is_word(member):
            fixed[argument] = str(member.value).strip()
            continue
        found = _argument(scope, member, argument)
        if isinstance(found, Quantity):
            quantities[argument] = found
        elif found is not None and found[0] is Sort.SETTING:
            settings[argument] = found[1]
        elif found is not None:
            if found[1] in readings.values():
                scope.bad(
                    member.where,
                    f"reading '{member.value}' stands twice in one calculation",
                    "each reading once",
                )
            readings[argument] = found[1]
    return Calculation(
        one_word(use, scope.mistakes, "the name of a calculator"), readings, settings, quantities, fixed, node.where
    )


def _is_word(node: Node) -> bool:
    """A word as no reading or setting is spelt: a refrigerant, ``R-404A``."""
    return isinstance(node.value, str) and node.value.strip()[:1].isupper()


def _argument(scope: Scope, node: Node, argument: str) -> tuple[Sort, Ref] | Quantity | None:
    """What an argument is: a reading, a setting, or a quantity; None with a mistake noted."""
    text = str(node.value).strip() if isinstance(node.value, str) else ""
    if not text[:1].isalpha():
        return quantity(node, scope, None, f"argument '{argument}'")
    bare = text.removeprefix("each ").partition(" in ")[0].strip()
    here, known = names_here(Sort.SETTING, scope), names_here(Sort.READING, scope)
    each = names_here(Sort.READING, scope, each=True)
    if bare in known or bare in each:
        ref = find_reading(scope, node)
        return (Sort.READING, ref) if ref else None
    if text in here:
        joined = setting_of_join(scope, text, node.where)
        if joined is not None:
            return Sort.SETTING, joined
        setting = find_setting(scope, node, text)
        return (Sort.SETTING, Ref(setting.name, where=node.where)) if setting else None
    hint = did_you_mean(text, [*known, *here])
    scope.bad(
        node.where,
        f"argument '{argument}': '{text}' is neither a reading nor a setting here, nor a quantity",
        hint,
    )
    return None


def check_calculation_loops(readings: Mapping[str, tuple[Reading, Scope]], prefixes: Iterable[str]) -> None:
    """Note each loop of readings calculated from each other."""
    note_loops(
        {name: _inputs(reading) for name, (reading, _) in readings.items()},
        {name: (reading.where or scope.node.where, scope) for name, (reading, scope) in readings.items()},
        prefixes,
        "readings are calculated from each other in a loop",
        "one of them must be measured",
    )


def _inputs(reading: Reading) -> list[str]:
    refs = reading.calculation.readings.values() if reading.calculation else ()
    return [ref.name for ref in refs if ref.join is None]
