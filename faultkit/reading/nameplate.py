"""Settings, house events and joins of one file, and what an including file hands down to a section."""

from __future__ import annotations

import re
from dataclasses import replace

from faultkit.model.types import Dimension, HouseEvent, Join, Setting
from faultkit.problems import Where, did_you_mean
from faultkit.reading.lookup import setting_of_join
from faultkit.reading.mistakes import flag, headed, members, one_word, same_twice, title_of, words
from faultkit.reading.nodes import Node
from faultkit.reading.scopes import Scope
from faultkit.units import Kind, Quantity, UnitError, kind_of, parse_quantity
from faultkit.units.kinds import described
from faultkit.units.quantity import split_number

__all__ = ["declare_nameplate", "quantity", "setting_kind"]

_NUMBER = re.compile(r"[-+\N{MINUS SIGN}.]?\d")


def setting_kind(setting: Setting) -> Kind | None:
    """What a setting measures; None for a word or an unreadable unit."""
    if setting.dimension is Dimension.WORD or not setting.unit:
        return None
    try:
        return kind_of(setting.unit)
    except UnitError:
        return None


def quantity(node: Node, scope: Scope, kind: Kind | None, what_for: str) -> Quantity | None:
    """The quantity of a text, of ``kind`` when that is known; None with a mistake noted otherwise."""
    if node.is_map or node.is_list or isinstance(node.value, bool) or node.value is None:
        scope.bad(node.where, f"{what_for}: this is no quantity", "a number with its unit, like 8 psig")
        return None
    try:
        return parse_quantity(str(node.value), kind)
    except UnitError as error:
        scope.bad(node.where, f"{what_for}: {error.what}", error.expected)
        return None


def declare_nameplate(scope: Scope, parent: Scope | None = None, include: Node | None = None) -> None:
    """Fill ``settings``, ``house_events`` and ``joins`` of a file scope.

    ``parent`` and ``include`` (the mapping under ``sections.<name>``) are given for a section.
    """
    for name, node, where in members(scope.node, "settings"):
        made = _setting(scope, name, node, where)
        if made is not None:
            scope.settings[name] = made
    for name, node, where in members(scope.node, "house_events"):
        given = node.get("default") if node.is_map else node
        title = headed(scope.label, node.text("title") or title_of(name))
        on = flag(given, scope.mistakes)
        scope.house_events[name] = HouseEvent(scope.prefix + name, on, title, where=where)
    if parent is None:
        for name, node, where in members(scope.node, "joins"):
            scope.joins[name] = _join(scope, name, node, where)
    elif scope.node.get("joins") is not None:
        scope.bad(
            scope.node.at_key("joins"),
            "a section has no joins",
            "name the events it uses under needs: events",
        )
    if parent is not None and include is not None:
        _hand_settings(scope, parent, include)
        _hand_house_events(scope, parent, include)


def _setting(scope: Scope, name: str, node: Node, where: Where) -> Setting | None:
    full, title = scope.prefix + name, headed(scope.label, node.text("title") or title_of(name))
    if node.get("words") is not None:
        if node.get("range") is not None:
            scope.bad(node.at_key("range"), f"'range' of setting '{name}' means nothing beside words", "only with unit")
        return _word_setting(scope, Setting(full, Dimension.WORD, title, where=where), node)
    given = node.get("default") if node.is_map else node
    unit = node.text("unit")
    kind: Kind | None = None
    if unit:
        try:
            kind = kind_of(unit)
        except UnitError as error:
            scope.bad(node.value["unit"].where, f"setting '{name}': {error.what}", error.expected)
            return Setting(full, Dimension.QUANTITY, title, where=where)
    elif given is None:
        scope.bad(
            where,
            f"setting '{name}' has neither a default nor a unit",
            "a quantity like 208 V, or {unit: V}, or {words: [...]}",
        )
        return None
    default = quantity(given, scope, kind, f"setting '{name}'") if given is not None else None
    if not unit and default is not None:
        unit = split_number(default.text)[1]
    limits = _limits(scope, name, node, kind or (default.kind if default is not None else None))
    if limits is not None and default is not None and not limits[0] <= default.value <= limits[1]:
        place = given.where if given is not None else where
        scope.bad(place, f"the default of setting '{name}' lies outside its range", "a default within the range")
    return Setting(full, Dimension.QUANTITY, title, unit, default, where=where, range=limits)


def _limits(scope: Scope, name: str, node: Node, kind: Kind | None) -> tuple[float, float] | None:
    """The ``range`` of a setting in SI."""
    ends = node.get("range")
    if ends is None or kind is None:
        return None
    both = [quantity(n, scope, kind, f"the range of setting '{name}'") for n in ends.list()]
    if len(both) != 2 or both[0] is None or both[1] is None:
        return None
    if not both[0].value < both[1].value:
        scope.bad(ends.where, f"the range of setting '{name}' does not rise", "[lowest, highest]")
        return None
    return both[0].value, both[1].value


def _word_setting(scope: Scope, bare: Setting, node: Node) -> Setting:
    known = words(node.value["words"], scope.mistakes, "a word")
    texts = [str(n.value).strip() for n in known]
    same_twice([(t, n.where) for t, n in zip(texts, known, strict=True)], scope.mistakes, "words")
    given = node.get("default")
    default = one_word(given, scope.mistakes, "one of the words") if given is not None else ""
    if given is not None and default and default not in texts:
        scope.bad(given.where, f"the default '{default}' is none of the words", did_you_mean(default, texts))
    return Setting(
        bare.name,
        Dimension.WORD,
        bare.title,
        "",
        default or None,
        tuple(dict.fromkeys(texts)),
        where=bare.where,
    )


def _join(scope: Scope, name: str, node: Node, where: Where) -> Join:
    lists: dict[str, tuple[str, ...]] = {}
    for key in ("events", "readings", "settings"):
        members = words(node.get(key), scope.mistakes, "a name")
        named = [(str(n.value).strip(), n.where) for n in members]
        same_twice(named, scope.mistakes, f"{key} of join '{name}'")
        lists[key] = tuple(dict.fromkeys(n for n, _ in named))
    return Join(
        name,
        node.text("title") or title_of(name),
        lists["events"],
        lists["readings"],
        lists["settings"],
        node.text("reverse_of"),
        flag(node.get("optional"), scope.mistakes),
        where,
    )


def _hand_settings(scope: Scope, parent: Scope, include: Node) -> None:
    handed = include.get("settings")
    for name, node in handed.items() if handed is not None else ():
        own = scope.settings.get(name)
        if own is None:
            scope.bad(
                handed.at_key(name) if handed else None,
                f"the section has no setting '{name}'",
                did_you_mean(name, scope.settings),
            )
        elif isinstance(node.value, str) and node.value in parent.settings:
            scope.settings[name] = _alias(scope, own, parent.settings[node.value], node, name)
        elif isinstance(node.value, str) and (far := setting_of_join(parent, node.value, node.where)):
            # Its kind and words are known when a site joins the units.
            scope.settings[name] = replace(own, default=None, alias=far.name, join=far.join or "")
        else:
            scope.settings[name] = _literal(scope, parent, own, node, name)


def _alias(scope: Scope, own: Setting, given: Setting, node: Node, name: str) -> Setting:
    kinds = setting_kind(own), setting_kind(given)
    extra = [w for w in given.words if w not in own.words] if own.dimension is Dimension.WORD else []
    if own.dimension is not given.dimension or (None not in kinds and kinds[0] is not kinds[1]):
        shown = [
            described(k) if k is not None else "a word" if s.words else "a quantity"
            for k, s in zip(kinds, (own, given), strict=True)
        ]
        scope.bad(
            node.where,
            f"'{node.value}' is {shown[1]}, but the section's setting '{name}' is {shown[0]}",
            "a setting of the same kind",
        )
    elif extra:
        scope.bad(
            node.where,
            f"'{node.value}' may be {', '.join(extra)}, which the section's setting '{name}' does not know",
            f"only {', '.join(own.words)}",
        )
    # One step: whoever resolves an alias never has to follow a chain.
    return Setting(
        own.name,
        own.dimension,
        own.title,
        own.unit,
        given.default,
        own.words,
        given.alias or given.name,
        given.join,
        own.where,
        own.range,
    )


def _literal(scope: Scope, parent: Scope, own: Setting, node: Node, name: str) -> Setting:
    default: Quantity | str | None
    if own.dimension is Dimension.WORD:
        default = one_word(node, scope.mistakes, "a word or a setting")
        if default and default not in own.words:
            hint = did_you_mean(default, [*own.words, *parent.settings])
            scope.bad(
                node.where,
                f"'{default}' is neither a word of the section's setting '{name}' nor a setting here",
                hint,
            )
    elif isinstance(node.value, str) and not _NUMBER.match(node.value.strip()):
        default = None
        scope.bad(
            node.where,
            f"no setting '{node.value}' here",
            f"{did_you_mean(node.value, parent.settings)}; or a quantity",
        )
    else:
        default = quantity(node, scope, setting_kind(own), f"the section's setting '{name}'")
    return Setting(
        own.name, own.dimension, own.title, own.unit, default, own.words, where=own.where, range=own.range
    )


def _hand_house_events(scope: Scope, parent: Scope, include: Node) -> None:
    handed = include.get("house_events")
    if handed is None:
        return
    for name, node in handed.items():
        own = scope.house_events.get(name)
        if own is None:
            scope.bad(
                handed.at_key(name),
                f"the section has no house event '{name}'",
                did_you_mean(name, scope.house_events),
            )
        elif node.value in ("yes", "no"):
            scope.house_events[name] = HouseEvent(own.name, node.value == "yes", own.title, where=own.where)
        elif isinstance(node.value, str) and node.value in parent.house_events:
            given = parent.house_events[node.value]
            scope.house_events[name] = HouseEvent(
                own.name, given.default, own.title, given.alias or given.name, own.where
            )
        else:
            scope.bad(
                node.where,
                f"no house event '{node.value}' here",
                f"{did_you_mean(str(node.value), parent.house_events)}; or yes or no",
            )
