"""Small texts shared by reports: chances, minutes, facts, bands."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Mapping

from faultkit.call import Call
from faultkit.diagnosis.result import Probability
from faultkit.model.entries import Complaint, Entry, Fact
from faultkit.network.ir import plain, since

__all__ = ["Speaker", "minutes", "percent", "wrapped"]

WIDTH = 92


def percent(p: Probability | float) -> str:
    """A chance in words a person trusts: never 0 % or 100 %, bounds where there are bounds."""
    if isinstance(p, Probability):
        if p.high - p.low > 0.005:
            return f"{_one(p.low)} to {_one(p.high)}"
        p = p.middle
    return _one(p)


def _one(p: float) -> str:
    if p > 0.999:
        return "over 99.9 %"
    if p < 0.001:
        return "under 0.1 %"
    if p < 0.01 or p > 0.99:
        return f"{100 * p:.1f} %"
    return f"{100 * p:.0f} %"


def minutes(m: float) -> str:
    """Whole minutes."""
    return f"{m:.0f} min"


def wrapped(text: str, indent: int, hang: int | None = None) -> list[str]:
    """Lines of ``text`` with an indent, and one for the following lines."""
    first = " " * indent
    rest = " " * (indent if hang is None else hang)
    return textwrap.wrap(
        text, WIDTH, initial_indent=first, subsequent_indent=rest, break_long_words=False, break_on_hyphens=False
    )


class Speaker:
    """Ids → words of one call: titles of events, checks, signs; what a fact said."""

    def __init__(self, call: Call) -> None:
        self.call = call
        self.site = call.site
        self.entries: Mapping[str, Entry] = {e.id: e for e in call.entries}

    def unit(self, name: str) -> str:
        """Title of the unit a dotted name starts with."""
        unit = name.split(".", 1)[0]
        found = self.site.plan.units.get(unit)
        return found.title if found and found.title else unit

    def title(self, name: str) -> str:
        """Title of an event, with the remedy after which it is so."""
        found = self.site.title(plain(name))
        return f"{found} (after remedy {since(name)})" if since(name) else found

    def event(self, name: str) -> str:
        """Unit and title of an event."""
        return f"{self.unit(name)}: {self.title(name)}"

    def sign(self, name: str) -> str:
        """Unit and title of a reading, with its state and the remedy after which it was taken."""
        if since(name):
            return f"{self.sign(plain(name))} (after remedy {since(name)})"
        if name.startswith("complaint:"):
            return f"complaint '{self.site.title(name.removeprefix('complaint:'))}'"
        sign = self.site.signs.get(name)
        reading = self.site.all_readings[sign.reading if sign else name]
        title = f"{self.unit(name)}: {reading.reading.title}"
        return f"{title} ({sign.state})" if sign and sign.state else title

    def check(self, name: str) -> str:
        """Unit and title of a check."""
        return f"{self.unit(name)}: {self.site.checks[name].check.title}"

    def remedy(self, name: str, events: Iterable[str] = ()) -> str:
        """Unit and title of a remedy, or what it would have to end."""
        if not name:
            return "find and mend: " + ", ".join(self.event(e) for e in events)
        return f"{self.unit(name)}: {self.site.remedies[name].remedy.title}"

    def remedies_of(self, event: str) -> list[str]:
        """Titles and minutes of the remedies that end an event, quickest first."""
        found = sorted(
            (r for r in self.site.remedies.values() if event in r.ends), key=lambda r: (r.remedy.minutes, r.name)
        )
        return [f"{r.remedy.title} ({minutes(r.remedy.minutes)}) [{r.name}]" for r in found]

    def fact(self, ident: str) -> str:
        """What an entry said, shortly: ``f3 fan voltage 118 V``."""
        entry = self.entries.get(ident)
        if isinstance(entry, Fact):
            reading = self.site.all_readings[entry.reading]
            value = entry.value if isinstance(entry.value, str) else f"{entry.value:g} {entry.unit}"
            state = f" ({entry.state})" if entry.state else ""
            return f"{self.unit(entry.reading)}: {reading.reading.title}{state} = {value} [{ident}]"
        if isinstance(entry, Complaint):
            return f"complaint '{entry.words or self.site.title(entry.event)}' [{ident}]"
        return ident

    def cautions(self, hazards: Iterable[str]) -> list[tuple[str, str]]:
        """Caution and source of each hazard."""
        found = [self.site.common.hazards[h] for h in hazards if h in self.site.common.hazards]
        return [(h.caution, h.basis.source if h.basis else "") for h in found]
