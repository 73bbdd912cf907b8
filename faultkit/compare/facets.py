"""A catalogue taken apart: every thing an author names, and what is said of it.

Two spellings of the same (``8 psig`` and ``8.0 psig``, ``usually`` and ``85 %``) give the
same value; ``text`` is what a reviewer reads.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from faultkit.model.catalogue import Catalogue
from faultkit.model.types import (
    Basis,
    Check,
    Common,
    Cut,
    EquipmentType,
    Event,
    Gate,
    Join,
    Link,
    Observable,
    Reading,
    Remedy,
    Row,
    Setting,
)
from faultkit.model.words import CHANCE_WORDS, HOW_COMMON_WORDS
from faultkit.units import Quantity, kind_of

__all__ = ["Bearing", "Facet", "Facets", "Thing", "facets_of"]


class Bearing(StrEnum):
    """What a change bears on: what is proved, how probable things are, how the work is done, or words only."""

    LOGIC = "logic"
    CHANCES = "chances"
    WORK = "work"
    WORDS = "words"


@dataclass(frozen=True, slots=True, order=True)
class Thing:
    """Something an author names: ``owner`` is an equipment type or ``common``, ``area`` a key of its file."""

    owner: str
    area: str
    name: str = ""


@dataclass(frozen=True, slots=True)
class Facet:
    """One thing said: a comparable value, and how it is shown."""

    value: Any
    text: str
    bearing: Bearing


Facets = Mapping[Thing, Mapping[str, Facet]]

_LOGIC, _CHANCES, _WORK, _WORDS = Bearing.LOGIC, Bearing.CHANCES, Bearing.WORK, Bearing.WORDS


def facets_of(catalogue: Catalogue) -> Facets:
    """Everything a catalogue says, by the thing it is said of."""
    found: dict[Thing, dict[str, Facet]] = {}
    for area, name, facets in _common(catalogue.common):
        found[Thing("common", area, name)] = facets
    for kind in catalogue.types.values():
        found[Thing(kind.name, "equipment")] = _words(title=kind.title, plain=kind.plain)
        for area, name, facets in _type(kind):
            found[Thing(kind.name, area, name)] = facets
    return found


def _common(common: Common) -> Iterator[tuple[str, str, dict[str, Facet]]]:
    for h in common.hazards.values():
        yield "hazards", h.name, _words(caution=h.caution) | _source(h.basis)
    for s in common.setups.values():
        yield "setups", s.name, _plain(_WORK, minutes=s.minutes, hazards=s.hazards) | _words(title=s.title) | _source(
            s.basis
        )
    for i in common.instruments.values():
        bound = {"accuracy": Facet((i.accuracy.percent, i.accuracy.absolute), i.accuracy.text, _LOGIC)}
        yield "instruments", i.name, bound | _words(title=i.title) | _source(i.basis)
    for name, title in common.tools.items():
        yield "tools", name, _words(title=title)


def _type(kind: EquipmentType) -> Iterator[tuple[str, str, dict[str, Facet]]]:
    for name, text in kind.states.items():
        yield "states", name, _words(title=text)
    for setting in kind.settings.values():
        yield "settings", setting.name, _setting(setting)
    for house in kind.house_events.values():
        switch = _plain(_LOGIC, default=house.default, alias=house.alias)
        yield "house_events", house.name, switch | _words(title=house.title)
    for join in kind.joins.values():
        yield "joins", join.name, _join(join)
    for event in kind.events.values():
        yield "events", event.name, _event(event)
    for reading in kind.readings.values():
        yield "readings", reading.name, _reading(reading)
    for observable in kind.observables().values():
        if observable.rows:
            yield "tells", observable.name, _rows(observable)
    for check in kind.checks.values():
        yield "checks", check.name, _check(check)
    for remedy in kind.remedies.values():
        yield "remedies", remedy.name, _remedy(remedy)


# -- small parts --------------------------------------------------------------


def _words(**texts: str) -> dict[str, Facet]:
    said = {k: Facet(v, v, _WORDS) for k, v in texts.items() if v}
    # Without words of its own the customer hears the title.
    if "plain" in said and texts["plain"].lower() == texts.get("title", "").lower():
        del said["plain"]
    return said


def _source(basis: Basis | None, key: str = "source") -> dict[str, Facet]:
    return {key: Facet(basis.source, basis.source, _WORDS)} if basis is not None else {}


def _plain(bearing: Bearing, **values: Any) -> dict[str, Facet]:
    """Facets of simple values; what is empty is not said. Lists of names are sets."""
    out = {}
    for key, value in values.items():
        if value in ("", None, (), False):
            continue
        if isinstance(value, tuple):
            names = sorted(map(str, value))
            out[key] = Facet(tuple(names), ", ".join(names), bearing)
        else:
            text = "yes" if value is True else f"{value:g}" if isinstance(value, float) else str(value)
            out[key] = Facet(value, text, bearing)
    return out


def _chance(value: float) -> str:
    return next((w for w, x in CHANCE_WORDS.items() if x == _round(value)), f"{100 * value:.4g} %")


def _round(value: float) -> float:
    """Without the noise of sharing what is left of a row."""
    return round(value, 12)


def _how_common(value: float) -> str:
    return next((w for w, x in HOW_COMMON_WORDS.items() if x == value), f"{value:.4g}")


def _links(label: str, links: tuple[Link, ...]) -> dict[str, Facet]:
    return {
        f"{label} {link.ref}": Facet(
            link.strength, _chance(link.strength), _LOGIC if link.strength == 1.0 else _CHANCES
        )
        for link in links
    }


# -- what a type holds --------------------------------------------------------


def _setting(s: Setting) -> dict[str, Facet]:
    default = {}
    if s.default is not None:
        value = (s.default.kind.value, s.default.value) if isinstance(s.default, Quantity) else s.default
        text = s.default.text if isinstance(s.default, Quantity) else s.default
        default["default"] = Facet(value, text, _LOGIC)
    # A voltage in kV is no other voltage: what counts is the kind.
    unit = {"unit": Facet(kind_of(s.unit), s.unit, _LOGIC)} if s.unit else {}
    rest = _plain(_LOGIC, holds=s.dimension.value, words=s.words, alias=s.alias, join=s.join)
    return default | unit | rest | _words(title=s.title)


def _join(j: Join) -> dict[str, Facet]:
    return _plain(
        _LOGIC, events=j.events, readings=j.readings, settings=j.settings, reverse_of=j.reverse_of, optional=j.optional
    ) | _words(title=j.title)


def _event(e: Event) -> dict[str, Facet]:
    gate = f"at_least {e.k}" if e.gate is Gate.AT_LEAST else e.gate.value
    out = _plain(_LOGIC, gate=gate, stays=e.stays, intermittent=e.intermittent, only_with=e.only_with)
    out |= _links("cause", e.inputs) | _links("broken_by", e.broken_by)
    if e.prior is not None:
        seasons = {**e.prior.seasons, "otherwise": e.prior.otherwise} if e.prior.seasons else {"": e.prior.otherwise}
        text = ", ".join(f"{s} {_how_common(p)}".strip() for s, p in seasons.items())
        out["how_common"] = Facet(tuple(sorted(seasons.items())), text, _CHANCES)
    if e.gate is Gate.ANY_OF:
        # That a gate is complete is logic; by which reason is words.
        out["complete"] = Facet(bool(e.complete), "yes" if e.complete else "no", _LOGIC)
        out |= _words(complete_because=e.complete)
        if not e.complete:
            out["other"] = Facet(e.other, f"{100 * e.other:.4g} %", _CHANCES)
    return out | _words(title=e.title, plain=e.plain) | _source(e.basis)


def _reading(r: Reading) -> dict[str, Facet]:
    out = _plain(_LOGIC, kind=r.kind.value, unit=r.unit, states=r.states, only_with=r.only_with)
    if r.accuracy is not None:
        out["accuracy"] = Facet((r.accuracy.percent, r.accuracy.absolute), r.accuracy.text, _LOGIC)
    if r.range is not None:
        out["range"] = Facet(r.range, f"{r.range[0]:.6g} to {r.range[1]:.6g} in SI units", _LOGIC)
    if r.calculation is not None:
        c = r.calculation
        args = {k: str(v) for given in (c.readings, c.settings, c.words) for k, v in given.items()}
        values = {k: (q.kind.value, q.value) for k, q in c.quantities.items()}
        shown = {**args, **{k: q.text for k, q in c.quantities.items()}}
        text = f"{c.calculator}({', '.join(f'{k}: {v}' for k, v in sorted(shown.items()))})"
        out["calculate"] = Facet((c.calculator, tuple(sorted({**args, **values}.items()))), text, _LOGIC)
    for o in r.observables:
        out |= _ruler(o)
    return out | _words(title=r.title, plain=r.plain) | _source(r.basis)


def _ruler(o: Observable) -> dict[str, Facet]:
    """Bands, and each cut named by the bands it parts."""
    state = f" in {o.state}" if " in " in o.name else ""
    out = {f"bands{state}": Facet(o.bands, ", ".join(o.bands), _LOGIC)}
    for low, high, cut in zip(o.bands, o.bands[1:], o.cuts, strict=False):
        key = f"cut {low} | {high}{state}"
        out[key] = Facet(_cut(cut), cut.text, _LOGIC)
        out |= _source(cut.basis, f"source of {key}")
    return out


def _cut(cut: Cut) -> tuple[Any, ...]:
    return (cut.kind.value, cut.value, cut.setting, cut.offset, cut.percent)


def _rows(o: Observable) -> dict[str, Facet]:
    out: dict[str, Facet] = {}
    for row in o.rows:
        name = str(row.event or "otherwise")
        out[f"row {name}"] = Facet(
            tuple(zip(o.bands, map(_round, row.chances), strict=True)), _bands(o, row), _CHANCES
        )
        out |= _source(row.basis, f"source of row {name}")
    order = tuple(str(r.event or "otherwise") for r in o.rows)
    out["order"] = Facet(order, ", ".join(order), _LOGIC)
    return out


def _bands(o: Observable, row: Row) -> str:
    return ", ".join(f"{b} {_chance(x)}" for b, x in zip(o.bands, row.chances, strict=True) if x > 0.0)


def _check(c: Check) -> dict[str, Facet]:
    return _plain(
        _WORK, gives=c.gives, minutes=c.minutes, place=c.place, setups=c.setups, power=c.power.value, tools=c.tools,
        hazards=c.hazards, crew=c.crew, outdoors=c.outdoors, who=c.who, only_with=c.only_with,
    ) | _words(title=c.title, steps=" ".join(c.steps)) | _source(c.basis)


def _remedy(r: Remedy) -> dict[str, Facet]:
    prove = tuple(f"{ref}: {band}" for ref, band in r.prove)
    return _plain(
        _WORK, ends=r.ends, minutes=r.minutes, parts=r.parts, place=r.place, setups=r.setups, power=r.power.value,
        tools=r.tools, hazards=r.hazards, crew=r.crew, who=r.who, disturbs=r.disturbs, prove=prove,
        only_with=r.only_with,
    ) | {
        k: Facet(f.value, f.text, _WORK) for k, f in _links("may_leave", r.may_leave).items()
    } | _words(title=r.title, steps=" ".join(r.steps)) | _source(r.basis)
