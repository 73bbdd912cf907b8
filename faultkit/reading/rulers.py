"""Rulers: band names and the cuts between them."""

from __future__ import annotations

import re
from itertools import pairwise

from faultkit.model.types import Basis, Cut, CutKind, Setting
from faultkit.reading.lookup import find_setting
from faultkit.reading.mistakes import NAME, basis, one_word, same_twice
from faultkit.reading.nameplate import quantity, setting_kind
from faultkit.reading.nodes import Node
from faultkit.reading.scopes import Scope
from faultkit.units import Kind, difference_kind
from faultkit.units.kinds import described

__all__ = ["read_ruler"]

_SETTING = r"([a-z][a-z0-9_.]*)"
_BARE = re.compile(_SETTING)
_OFFSET = re.compile(_SETTING + r"\s*([-+\N{MINUS SIGN}])\s*(\S.*)")
_PERCENT = re.compile(r"(\d+(?:\.\d+)?)\s*%\s+of\s+(\S+)")
#: Two bands and the cut between them.
_SHORTEST = 3
_FORMS = "a quantity, a setting, setting + quantity, setting - quantity, or 90 % of setting"


def read_ruler(scope: Scope, node: Node, kind: Kind | None, source: Basis | None) -> tuple[Cut, ...] | None:
    """The cuts of a ruler ``[name, cut, name, cut, name …]``; None with mistakes noted.

    ``kind`` is the kind of the reading (None when its unit is wrong: kinds are then not checked);
    ``source`` the basis of a cut that gives none.
    """
    members = node.list() if node.is_list else []
    if len(members) < _SHORTEST or len(members) % 2 == 0:
        scope.bad(
            node.where,
            f"a ruler of {len(members)} members",
            "names and cuts by turns: [name, cut, name, cut, name]",
        )
        return None
    before = len(scope.mistakes)
    names = members[::2]
    for name in names:
        text = one_word(name, scope.mistakes, "the name of a band")
        if text and not NAME.fullmatch(text):
            scope.bad(
                name.where,
                f"'{text}' stands where the name of a band belongs",
                "names and cuts by turns: [name, cut, name, cut, name]",
            )
    same_twice([(str(n.value), n.where) for n in names], scope.mistakes, "the bands of one reading")
    cuts = [_cut(scope, member, kind, source) for member in members[1::2]]
    whole = tuple(c for c in cuts if c is not None)
    _check_rise(scope, whole)
    return whole if len(scope.mistakes) == before else None


def _check_rise(scope: Scope, cuts: tuple[Cut, ...]) -> None:
    """Cuts from settings are compared when a site gives them their values."""
    fixed = [c for c in cuts if c.kind is CutKind.VALUE]
    for low, high in pairwise(fixed):
        if not low.value < high.value:
            scope.bad(
                high.where,
                f"the cut {high.text} does not lie above {low.text}",
                "cuts that rise from left to right",
            )


def _cut(scope: Scope, node: Node, kind: Kind | None, source: Basis | None) -> Cut | None:
    at = node.get("at") if node.is_map else node
    if at is None:
        scope.bad(node.where, "a cut without 'at'", f"{{at: <cut>, source: …}}, the cut being {_FORMS}")
        return None
    own = node.text("source") if node.is_map else ""
    where, made_by = at.where, basis(node, "") if own else source
    text = str(at.value).strip()
    if isinstance(at.value, str):
        if found := _PERCENT.fullmatch(text):
            return _percent(scope, at, found, kind, made_by)
        if found := _OFFSET.fullmatch(text):
            return _offset(scope, at, found, kind, made_by)
        if _BARE.fullmatch(text):
            ok = _setting(scope, at, text, kind)
            return Cut(CutKind.SETTING, text, setting=ok.name, basis=made_by, where=where) if ok else None
    value = quantity(at, scope, kind, "this cut")
    return Cut(CutKind.VALUE, text, value.value, basis=made_by, where=where) if value else None


def _setting(scope: Scope, node: Node, name: str, kind: Kind | None) -> Setting | None:
    """The setting of a cut, of the reading's kind; None with a mistake noted."""
    setting = find_setting(scope, node, name)
    if setting is None:
        return None
    own = setting_kind(setting)
    if setting.words:
        scope.bad(node.where, f"'{name}' is a setting of words", f"a cut is {_FORMS}")
        return None
    if kind is not None and own is not None and own is not kind:
        scope.bad(
            node.where,
            f"setting '{name}' is {described(own)}, the reading is {described(kind)}",
            f"a setting that is {described(kind)}",
        )
        return None
    return setting


def _offset(
    scope: Scope, node: Node, found: re.Match[str], kind: Kind | None, source: Basis | None
) -> Cut | None:
    setting = _setting(scope, node, found[1], kind)
    step = Node(node.where, found[3])
    value = quantity(step, scope, difference_kind(kind) if kind else None, f"what is added to '{found[1]}'")
    if setting is None or value is None:
        return None
    offset = value.value if found[2] == "+" else -value.value
    return Cut(
        CutKind.SETTING,
        str(node.value).strip(),
        setting=setting.name,
        offset=offset,
        basis=source,
        where=node.where,
    )


def _percent(
    scope: Scope, node: Node, found: re.Match[str], kind: Kind | None, source: Basis | None
) -> Cut | None:
    setting = _setting(scope, node, found[2], kind)
    if setting is None:
        return None
    percent = float(found[1])
    if setting_kind(setting) is Kind.TEMPERATURE:
        scope.bad(
            node.where,
            f"a percent of the temperature '{found[2]}' means nothing",
            f"'{found[2]} + 5 delta_degF' or the like",
        )
        return None
    if percent == 0.0:
        scope.bad(node.where, "a cut at 0 % of a setting does not depend on it", "a quantity")
        return None
    return Cut(
        CutKind.PERCENT,
        str(node.value).strip(),
        setting=setting.name,
        percent=percent,
        basis=source,
        where=node.where,
    )
