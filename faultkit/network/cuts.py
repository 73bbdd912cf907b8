"""Nameplate settings of a unit, and the edges that cuts make of them."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise

from faultkit.model.site import Unit
from faultkit.model.types import Cut, CutKind, Dimension, EquipmentType, Observable, Reading
from faultkit.problems import Where, did_you_mean
from faultkit.units import Quantity, difference_kind, format_si, kind_of

__all__ = ["Settings", "edges_of"]

Say = Callable[[str, str, Where | None], None]


class Settings:
    """The settings of one unit: given, handed down or by default."""

    def __init__(
        self, unit: Unit, kind: EquipmentType, say: Say, joined: Callable[[str], Settings | None] = lambda _: None
    ) -> None:
        self.unit = unit
        self.kind = kind
        self.say = say
        self.joined = joined
        self._complained: set[str] = set()

    def complain_unknown(self) -> None:
        """Settings that the type does not have, or that an including type already gives."""
        known = {
            name: f"{declared.join}.{declared.alias}".lstrip(".") for name, declared in self.kind.settings.items()
        } | {name: declared.alias for name, declared in self.kind.house_events.items()}
        for name in self.unit.settings:
            where = self.unit.places.get(name, self.unit.where)
            if name not in known:
                self.say(
                    f"'{name}' is not a setting of equipment type '{self.kind.name}'",
                    did_you_mean(name, [n for n, alias in known.items() if not alias]),
                    where,
                )
            elif known[name]:
                self.say(f"setting '{name}' is handed down from '{known[name]}'", f"{known[name]}: …", where)

    def house_events(self) -> dict[str, bool]:
        """Each house event of the unit, on or off."""
        values: dict[str, bool] = {}
        for name, declared in self.kind.house_events.items():
            root = declared
            while root.alias:
                root = self.kind.house_events[root.alias]
            given = self.unit.settings.get(root.name, root.default)
            if not isinstance(given, bool):
                self.say(
                    f"house event '{name}' of '{self.unit.name}' is {self._shown(given)}",
                    "yes or no",
                    self.unit.places.get(root.name, self.unit.where),
                )
                given = False
            values[name] = given
        return values

    @staticmethod
    def _shown(value: Quantity | str) -> str:
        return value.text if isinstance(value, Quantity) else f"'{value}'"

    def given_as(self, name: str) -> str:
        """The setting that a unit gives for this one: itself, or the one it is handed down from."""
        while self.kind.settings[name].alias and not self.kind.settings[name].join:
            name = self.kind.settings[name].alias
        return name

    def value(self, name: str, where: Where | None) -> Quantity | str | None:
        """The value of a setting; a problem is said once when there is none or it is of the wrong kind."""
        declared = self.kind.settings[self.given_as(name)]
        given: Quantity | str | bool | None
        if declared.join:
            other = self.joined(declared.join)
            given = other.value(declared.alias, where) if other else None
            place = where
            if given is None:
                return None  # said there, or nothing is joined and no one asks
        else:
            given = self.unit.settings.get(declared.name, declared.default)
            place = self.unit.places.get(declared.name, self.unit.where or where)
        if given is None:
            self._once(name, f"unit '{self.unit.name}' does not give the setting '{declared.name}'",
                       f"settings: {{{declared.name}: <value in {declared.unit or 'words'}>}}", place)
            return None
        if declared.dimension is Dimension.WORD:
            if not isinstance(given, str) or (declared.words and given not in declared.words):
                shown = self._shown(given) if not isinstance(given, bool) else ("yes" if given else "no")
                self._once(name, f"setting '{declared.name}' is {shown}",
                           did_you_mean(shown.strip("'"), declared.words), place)
                return None
            return given
        if not isinstance(given, Quantity) or (declared.unit and given.kind is not kind_of(declared.unit)):
            shown = given.text if isinstance(given, Quantity) else str(given)
            self._once(name, f"setting '{declared.name}' is '{shown}'", f"a value in {declared.unit}", place)
            return None
        for limits in (declared.range, self.kind.settings[name].range):
            if limits is not None and not limits[0] <= given.value <= limits[1]:
                low, high = (format_si(v, declared.unit) for v in limits)
                self._once(name, f"setting '{declared.name}' is '{given.text}'", f"{low} to {high}", place)
                return None
        return given

    def _once(self, name: str, what: str, expected: str, where: Where | None) -> None:
        if name not in self._complained:
            self._complained.add(name)
            self.say(what, expected, where)


def edges_of(
    o: Observable, reading: Reading, settings: Settings, say: Say
) -> tuple[tuple[float, ...], list[tuple[str, str]]]:
    """Edges between the bands in SI, and the settings (name, text) they rest on."""
    edges: list[float] = []
    premises: dict[str, str] = {}
    for cut in o.cuts:
        if cut.kind is CutKind.VALUE:
            edges.append(cut.value)
            continue
        value = settings.value(cut.setting, cut.where)
        if not isinstance(value, Quantity):
            return (), []
        premises[settings.given_as(cut.setting)] = value.text
        edges.append(_edge(cut, value, reading, say))
    for (a, b), (left, right) in zip(pairwise(edges), pairwise(o.cuts), strict=True):
        if not a < b:
            unit = settings.unit
            say(
                f"cuts of '{unit.name}.{o.name}' do not rise: '{left.text}' is {format_si(a, reading.unit)}, "
                f"'{right.text}' is {format_si(b, reading.unit)}",
                "cuts that rise with the settings of this unit",
                right.where or reading.where,
            )
    return tuple(edges), sorted(premises.items())


def _edge(cut: Cut, value: Quantity, reading: Reading, say: Say) -> float:
    if cut.kind is CutKind.PERCENT:
        return value.value * cut.percent / 100.0
    wanted = kind_of(reading.unit)
    if value.kind is not wanted and difference_kind(wanted) is not value.kind:
        say(f"cut '{cut.text}' of a reading in {reading.unit} is {value.text}", f"a value in {reading.unit}", cut.where)
    return value.value + cut.offset
