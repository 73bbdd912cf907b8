"""A first case for an equipment type: one thing seen, and what the tree proves of it today."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Iterator
from itertools import islice
from pathlib import Path

from faultkit.call import Call
from faultkit.diagnosis.verdict import Verdict
from faultkit.loading import load_site
from faultkit.model.catalogue import Catalogue
from faultkit.network.site import Site
from faultkit.problems import InputError, did_you_mean

__all__ = ["new_cases"]

_OPENED = "2026-07-01T10:00"
#: Facts tried before a case that proves nothing is written; one takes up to half a second in a large type.
_TRIES = 12


def new_cases(name: str, folder: Path, catalogue: Catalogue, site: str | None) -> dict[Path, str]:
    """Path → text of a file of cases for type ``name``; InputError where it needs a site and none is given."""
    if name not in catalogue.types:
        raise InputError(f"equipment type '{name}' is not known", did_you_mean(name, catalogue.types))
    if site is None:
        made, unit, place = _alone(name, catalogue), "unit", f"units:\n  unit: {{equipment: {name}}}"
    else:
        made = load_site(site, catalogue)
        unit = _unit_of(made, name, site)
        place = f"site: {Path(os.path.relpath(site, folder)).as_posix()}"
    return {folder / f"{name}.cases.yaml": _text(name, place, _seen(made, unit))}


def _alone(name: str, catalogue: Catalogue) -> Site:
    """A site of one unit with nothing on its nameplate."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder, "site.yaml")
        path.write_text(f"schema: 1\nsite: one_unit\nunits:\n  unit: {{equipment: {name}}}\n", encoding="utf-8")
        try:
            return load_site(path, catalogue)
        except InputError as fault:
            lacking = "; ".join(p.what for p in fault.problems)
            raise InputError(
                f"'{name}' cannot stand alone: {lacking}", "--site SITE.yaml, a site that has a unit of this type"
            ) from None


def _unit_of(site: Site, name: str, file: str) -> str:
    found = [u for u, unit in site.plan.units.items() if unit.equipment == name]
    if not found:
        raise InputError(f"no unit of '{file}' is of type '{name}'", "a site that has one")
    return found[0]


def _facts(site: Site, unit: str) -> Iterator[tuple[str, str, str]]:
    """Reading, value, state of what can be said in a word."""
    for form in site.readings(unit):
        if form.kind != "quantity" and not form.calculated:
            state = next(iter(form.states), "")
            for word in next(iter(form.bands.values()), ()):
                yield form.name, word, state


def _seen(site: Site, unit: str) -> tuple[tuple[str, str, str], str, str]:
    """The fact, the key of what is expected, and the event: the first fact that proves one, else what stays open."""
    facts = list(islice(_facts(site, unit), _TRIES))
    first = ""
    for fact in facts:
        reading, value, state = fact
        seen = Call(site, opened=_OPENED).record(reading, value, **({"state": state} if state else {}))
        own = [e for e in seen.diagnose(advice=False).events.values() if e.event.startswith(f"{unit}.")]
        proved = next((e.event for e in own if e.verdict is Verdict.CONFIRMED), "")
        if proved:
            return fact, "confirmed", proved
        if fact == facts[0]:
            first = next((e.event for e in own if e.verdict is Verdict.OPEN), "")
    if not first:
        raise InputError(f"no reading of '{unit}' is answered in a word", "a case of your own, see DEVELOPERS.md")
    return facts[0], "open", first


def _text(name: str, place: str, seen: tuple[tuple[str, str, str], str, str]) -> str:
    (reading, value, state), key, event = seen
    ends = f", state: {state}" if state else ""
    word = {"confirmed": "is proved", "open": "stays open"}[key]
    return f"""\
# yaml-language-server: $schema=../schemas/cases.v1.json
# It holds for the tree as it is now. Put a call you remember in its place: write the story first.
schema: 1
cases: {name}
opened: {_OPENED}
{place}

calls:
  first_look:
    story: >-
      Only {reading} was looked at: {value}. From that, {event} {word}.
    entries:
      - {{kind: fact, id: seen, reading: {reading}, value: "{value}"{ends}}}
    expect:
      {key}: [{event}]
"""
