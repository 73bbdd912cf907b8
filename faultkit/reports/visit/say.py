"""Words of a report: plain ones for the customer, those of the shop otherwise."""

from __future__ import annotations

import re

from faultkit.call import Call
from faultkit.diagnosis.result import Probability
from faultkit.evidence.corrections import effective
from faultkit.model.entries import Fact
from faultkit.model.order import moment
from faultkit.network.ir import plain
from faultkit.reports.visit.data import Log, Mass
from faultkit.reports.words import Speaker, percent
from faultkit.units import format_si, from_si

__all__ = [
    "Say", "capital", "chance", "clock", "curve_rows", "day", "degrees", "hours", "likely", "mass", "temperature",
]

#: Words for a chance, from this chance on. faultkit's own scale.
_LIKELY = ((0.9, "very likely"), (0.66, "likely"), (0.34, "about as likely as not"), (0.1, "unlikely"))


def likely(p: Probability) -> str:
    """A chance in words."""
    return next((words for least, words in _LIKELY if p.middle >= least), "very unlikely")


def chance(p: Probability) -> str:
    """A chance in words and in percent."""
    return f"{likely(p)} ({percent(p)})"


def capital(text: str) -> str:
    """The text with a large first letter."""
    return text[:1].upper() + text[1:]


def day(time: str) -> str:
    """Date and time for a reader: ``2026-07-14 10:05``."""
    return time.replace("T", " ")


def clock(time: str, opened: str) -> str:
    """The time alone on the day of the call, else with its date."""
    same = moment(time).date() == moment(opened).date() and time[:10] == opened[:10]
    return time[11:] if same else day(time)


def hours(seconds: float) -> str:
    """``2 h 05 min``, ``40 min``."""
    minutes = round(seconds / 60)
    return f"{minutes // 60} h {minutes % 60:02d} min" if minutes >= 60 else f"{minutes} min"


def mass(m: Mass, *, stated: bool = True) -> str:
    """Pounds and kilograms with the accuracy."""
    def both(digits: int, unit: str) -> str:
        value = f"{from_si(m.kg, unit):.{digits}f}"
        return f"{value} ± {from_si(m.accuracy, unit):.{digits}f} {unit}" if stated else f"{value} {unit}"

    return f"{both(2, 'lb')} ({both(3, 'kg')})" + ("" if stated else ", accuracy not recorded")


class Say:
    """Names of one call → words for one reader."""

    def __init__(self, call: Call, *, customer: bool) -> None:
        self.call = call
        self.site = call.site
        self.customer = customer
        self.shop = Speaker(call)
        live, _ = effective(call.entries)
        self.values = {
            e.id: e.value if isinstance(e.value, str) else f"{e.value:.12g} {e.unit}".strip()
            for e in live if isinstance(e, Fact)
        }

    def event(self, name: str, near: str = "") -> str:
        """An event; for the customer its plain words, without the unit where ``near`` is of the same."""
        if not self.customer:
            return f"{self.shop.event(name)} [{name}]"
        found = self.site.events.get(plain(name))
        if found is not None:
            words = found.event.plain or _lower(found.event.title)
        else:
            base = self.site.events.get(plain(name).removesuffix(".other"))
            about = (base.event.plain or _lower(base.event.title)) if base else name
            words = f"a cause we have not identified; seen as: {about}"
        return self._of(name, words, near)

    def _of(self, name: str, words: str, near: str) -> str:
        same = near.partition(".")[0] == name.partition(".")[0]
        return words if same else f"{self.unit(name)}: {words}"

    def unit(self, name: str) -> str:
        """The unit of a name."""
        return self.shop.unit(name)

    def reading(self, sign: str, near: str = "") -> str:
        """A reading, a sign of it, or a complaint."""
        if not self.customer or sign.startswith("complaint:"):
            return self.shop.sign(sign)
        found = self.site.signs.get(plain(sign))
        reading = self.site.all_readings[found.reading if found else plain(sign)].reading
        return self._of(sign, reading.plain or _lower(reading.title), near)

    def remedy(self, name: str) -> str:
        """A remedy's title; the trees hold no other words for it."""
        return self.shop.remedy(name) + ("" if self.customer else f" [{name}]")

    def fact(self, ident: str, near: str = "") -> str:
        """What an entry said, as it stands after corrections."""
        entry = self.shop.entries.get(ident)
        name = getattr(entry, "reading", "")
        if not name:
            words = getattr(entry, "words", "")
            text = f"what we were told: “{words}”" if words else "what we were told"
        else:
            at = clock(entry.time, self.call.opened) if entry else ""
            text = f"{self.reading(name, near)}: {self.value(ident)}, at {at}"
        return text if self.customer else f"{text} [{ident}]"

    def value(self, ident: str) -> str:
        """The value of a fact in words and signs a reader knows."""
        value = self.values.get(ident, "")
        return degrees(value.replace("_", " "))

    def role(self, by: str) -> str:
        """Who said it."""
        return by.replace("_", " ")


def degrees(text: str) -> str:
    """``47.3 degF`` → ``47.3 °F``."""
    return re.sub(r"\b(?:delta[_ ])?deg([FC])\b", r"°\1", text)


def temperature(kelvin: float) -> str:
    """°F for a reader, to a tenth."""
    return degrees(format_si(kelvin, "degF", 3))


def curve_rows(log: Log) -> tuple[tuple[float, float, float], ...]:
    """Minutes, °F, ± °F."""
    return tuple((t / 60, round(from_si(k, "degF"), 2), round(a * 1.8, 2)) for t, k, a in log.rows)


def _lower(title: str) -> str:
    """A title inside a sentence; abbreviations stay."""
    return title[:1].lower() + title[1:] if title[1:2].islower() else title
