"""A check from its cautions to its last reading."""

from __future__ import annotations

from dataclasses import replace

from faultkit.diagnosis.moves import LOCK_OUT, Moves, refusals
from faultkit.guide.left_out import leave_out
from faultkit.guide.session import Ask, Choose, Confirm, Show, Take, Turn
from faultkit.guide.values import bands_of, read_value
from faultkit.model.types import Check, Power, Remedy
from faultkit.problems import InputError
from faultkit.reports.words import minutes

__all__ = [
    "begin_check", "cautions", "choose", "confirm", "prompt_confirm", "prompt_take", "refused", "show_steps", "take",
    "to_ready",
]

#: Words of a refusal by its kind.
_REFUSALS = {
    "hazard": "the call forbids the hazard '{}'", "power": "the call forbids power '{}'", "tool": "'{}' is missing",
    "crew": "it needs a crew of {}", "weather": "nobody is sent outdoors in {}", "role": "it needs a {} person",
}


def refused(reasons: tuple[tuple[str, str], ...]) -> str:
    """Why a job is refused."""
    return ", ".join(_REFUSALS[kind].format(what) for kind, what in reasons)


def begin_check(t: Turn, name: str) -> None:
    """Cautions first, then what has to be so, then the steps and the readings."""
    site = t.call.site
    check = site.checks[name]
    reasons = refusals(site, check, t.allowed)
    if reasons:
        t.say(f"? Not now: {t.speak.check(name)}: {refused(reasons)}", "problem")
        return
    t.say(f"{t.speak.check(name)} ({minutes(check.check.minutes)})", "head")
    ready = to_ready(t, name, check.unit, check.place, check.check)
    takes: list[Ask] = []
    asked = set()
    for given in check.gives:
        sign = site.signs.get(given)
        reading = sign.reading if sign else given
        if site.all_readings[reading].calculation is not None:
            continue
        unit, state = site.all_readings[reading].unit, (sign.state or "") if sign else ""
        if state and (unit, state) not in asked:
            asked.add((unit, state))
            takes.append(Confirm(name, "state", unit, state))
        takes.append(Take(name, reading, state))
    t.push(*ready, Show(name), *takes)


def to_ready(t: Turn, job: str, unit: str, place: str, what: Check | Remedy) -> list[Ask]:
    """The cautions of a job said once per state, and what must be confirmed before it."""
    site, at = t.call.site, t.standing
    setups = Moves.setups_of(what.setups, what.power)
    shared = [h for s in setups if s in site.common.setups for h in site.common.setups[s].hazards]
    cautions(t, tuple(dict.fromkeys((*shared, *what.hazards))), place, what.power)
    asks: list[Ask] = []
    if place and place != at.place:
        asks.append(Confirm(job, "place", unit, place))
    for s in setups:
        if s.startswith("no ") and (unit, s[3:]) in at.made:
            asks.append(Confirm(job, "off", unit, s[3:]))
        elif not s.startswith("no ") and (unit, s) not in at.made:
            asks.append(Confirm(job, "on", unit, s))
    # Power is locked out before anything is opened.
    return sorted(asks, key=lambda a: isinstance(a, Confirm) and (a.kind != "place", a.what != LOCK_OUT))


def cautions(t: Turn, hazards: tuple[str, ...], place: str, power: Power) -> None:
    """Cautions with their source, once while place and power stay as they are."""
    site = t.call.site
    locked = frozenset(m for m in t.standing.made if m[1] == LOCK_OUT)
    new = [h for h in hazards if (h, place + power.value, locked) not in t.session.shown]
    for h in new:
        for caution, source in t.speak.cautions([h]):
            t.say(f"CAUTION {h.replace('_', ' ')}: {caution}" + (f" ({source})" if source else ""), "caution")
    old = [h.replace("_", " ") for h in hazards if h not in new and h in site.common.hazards]
    if old:
        t.say("The cautions shown before still hold: " + ", ".join(old) + ".", "caution")
    t.session = replace(t.session, shown=t.session.shown | {(h, place + power.value, locked) for h in new})


def prompt_confirm(t: Turn, q: Confirm) -> str:
    """What is asked before a job."""
    site = t.call.site
    unit = t.speak.unit(q.unit) if q.unit else ""
    if q.kind == "place":
        way = site.minutes_between(t.standing.place, q.what)
        return f"At: {q.what}" + (f" ({minutes(way)} away)" if way else "") + ". Are you there? yes / skip"
    if q.kind == "state":
        return f"{unit}, {q.what}: {site.states[q.unit].get(q.what, q.what)}. Is it so now? yes / skip"
    if q.kind == "role":
        return "Only a licensed person may do this. Are you licensed for it? licensed / unlicensed"
    if q.kind == "off":
        return f"{unit}: power back on (the lock-out is off)? yes / skip"
    found = site.common.setups.get(q.what)
    return f"{unit}: {found.title if found else q.what.replace('_', ' ')}. Done? yes / skip"


def confirm(t: Turn, q: Confirm, word: str) -> bool:
    """Take the answer to what must be so; False where it is unclear."""
    if q.kind == "role":
        return _role(t, q, word)
    if word in {"no", "n"}:
        t.say("Then it waits. yes when it is so, skip to leave it.", "text")
        return True
    if word not in {"yes", "y", "done", "ok"}:
        return False
    t.pop()
    if q.kind == "place":
        t.put(kind="location", place=q.what)
    elif q.kind in {"on", "off"}:
        t.put(kind="setup", unit=q.unit, **{q.kind: [q.what]})
    return True


def _role(t: Turn, q: Confirm, word: str) -> bool:
    role = {"yes": "licensed", "y": "licensed", "no": "unlicensed", "n": "unlicensed"}.get(word, word)
    if role not in {"licensed", "unlicensed"}:
        return False
    t.put(kind="conditions", **conditions_now(t, role=role))
    if role == "unlicensed":
        t.say("? Refused: the catalogue gives this to a licensed person only. It stays open for one.", "problem")
        t.drop(q.job)
    else:
        t.pop()
    return True


def conditions_now(t: Turn, **change: object) -> dict[str, object]:
    """The conditions of the call with a change: an entry of them replaces the one before."""
    a = t.allowed
    forbid = {k: sorted(v) for k, v in (("hazards", a.hazards), ("power", a.power)) if v}
    return {
        "forbid": forbid, "missing_tools": sorted(a.tools), "crew": a.crew, "weather": a.weather, "role": a.role,
        **change,
    }


def show_steps(t: Turn, job: str) -> None:
    """How it is done."""
    site = t.call.site
    what: Check | Remedy = site.checks[job].check if job in site.checks else site.remedies[job].remedy
    if what.tools:
        t.say("With: " + ", ".join(site.common.tools.get(x, x) for x in what.tools))
    for n, step in enumerate(what.steps, 1):
        t.say(f"{n}. {step}", "step", 2)


def prompt_take(t: Turn, q: Take) -> str:
    """Title, state and the words or the unit that are wanted."""
    reading = t.call.site.all_readings[q.reading].reading
    words = bands_of(t.call.site, q.reading)
    how = " / ".join(f"{n} {b.replace('_', ' ')}" for n, b in enumerate(words, 1))
    how = how or f"a number with its unit ({reading.unit})"
    if set(words) == {"yes", "no"}:
        how = "yes / no"
    state = f" ({q.state})" if q.state else ""
    of_unit = t.call.site.checks[q.job].unit == t.call.site.all_readings[q.reading].unit
    part = q.reading.split(".")[1:-1]
    unit = "" if of_unit else f"{t.speak.unit(q.reading)}: "
    return f"{unit}{' '.join(part) + ': ' if part else ''}{reading.title}{state}? {how}"


def take(t: Turn, q: Take, line: str) -> None:
    """A typed reading: recorded, asked back, or refused with the reason."""
    value, _, instrument = line.partition(" with ")
    try:
        typed = read_value(t.call.site, q.reading, value.strip())
    except InputError as fault:
        t.refuse(fault)
        return
    instrument = instrument.strip().replace(" ", "_")
    if typed.options:
        tail = f" with {instrument}" if instrument else ""
        t.push(Choose(q.job, q, typed.why, tuple((name, v + tail) for name, v in typed.options)))
        return
    record_value(t, q, typed.value, instrument, sure=False)


def record_value(t: Turn, q: Take, value: str, instrument: str, *, sure: bool) -> None:
    """Record a reading, unless it is wrong or clashes with what was read and nobody said that it is right."""
    data = {"kind": "fact", "reading": q.reading, "value": value, "state": q.state, "instrument": instrument}
    try:
        new = t.with_fact(data)
        if not sure:
            then = new.diagnose(advice=False)
            ident = new.entries[-1].id
            clash = next((c for c in then.conflicts if ident in c.facts), None)
            if clash is not None:
                tail = f" with {instrument}" if instrument else ""
                others = "; ".join(t.fact(f) for f in clash.facts if f != ident)
                why = f"{value} cannot hold together with: {others}. Is it right?"
                t.push(Choose(q.job, q, why, (("yes", value + tail), ("no", "")), sure=True))
                return
        t.put(**data)
    except InputError as fault:
        t.refuse(fault)
        return
    t.say(f"Recorded: {value.replace('_', ' ')}" + (f" with {instrument}" if instrument else ""), "good")
    if t.session.todo[:1] == (q,):
        t.pop()


def choose(t: Turn, q: Choose, line: str) -> None:
    """The answer to a value that was asked back; anything else is taken as the reading typed again."""
    word = line.strip().lower()
    word = {"y": "yes", "n": "no"}.get(word, word)
    names = [name.lower() for name, _ in q.options]
    if not q.sure and word == "yes" and len(names) == 1:
        word = names[0]
    at = int(word) - 1 if not q.sure and word.isdigit() and 0 < int(word) <= len(names) else -1
    at = names.index(word) if word in names else at
    t.pop()
    if at < 0:
        take(t, q.take, line)
    elif q.options[at][1]:
        value, _, instrument = q.options[at][1].partition(" with ")
        record_value(t, q.take, value, instrument, sure=q.sure)


def skip(t: Turn, job: str, reason: str) -> None:
    """Leave a job and remember it."""
    leave_out(t, job, reason)
    t.say(f"Left out: {t.speak.check(job) if job in t.call.site.checks else t.speak.remedy(job)} ({reason}).")
    t.drop(job)


__all__ += ["conditions_now", "skip"]
