"""A hand-made site with one of everything a fact can be wrong about."""

from __future__ import annotations

from faultkit.call import Call
from faultkit.model.site import SitePlan, Unit
from faultkit.model.types import (
    Check,
    Common,
    Cut,
    CutKind,
    EquipmentType,
    Event,
    Gate,
    Hazard,
    Instrument,
    Link,
    Observable,
    Prior,
    Reading,
    ReadingKind,
    Ref,
    Remedy,
    Row,
    Setup,
)
from faultkit.network.join import join_site
from faultkit.network.site import Site
from faultkit.units import parse_accuracy, to_si

__all__ = ["OPENED", "basic", "call_of", "gate", "one_unit", "quantity", "rig", "words"]

OPENED = "2026-07-14T10:05"


def basic(name: str, prior: float, **more: object) -> Event:
    return Event(name, Gate.BASIC, name, name, prior=Prior(prior), **more)  # type: ignore[arg-type]


def gate(name: str, kind: Gate, *inputs: str | tuple[str, float], k: int = 0, other: float = 0.0) -> Event:
    links = tuple(Link(Ref(i)) if isinstance(i, str) else Link(Ref(i[0]), i[1]) for i in inputs)
    return Event(name, kind, name, name, inputs=links, k=k, other=other, complete="" if other else "a test")


def rows(*given: tuple[str | None, tuple[float, ...]]) -> tuple[Row, ...]:
    return tuple(Row(None if e is None else Ref(e), c) for e, c in given)


def words(name: str, bands: tuple[str, ...], *given: tuple[str | None, tuple[float, ...]]) -> Reading:
    kind = ReadingKind.YES_NO if bands == ("yes", "no") else ReadingKind.ONE_OF
    return Reading(name, kind, observables=(Observable(name, name, None, bands, (), rows(*given)),))


def quantity(
    name: str,
    unit: str,
    cuts: tuple[float, ...],
    *given: tuple[str | None, tuple[float, ...]],
    accuracy: str = "",
    span: tuple[float, float] | None = None,
    states: tuple[str, ...] = (),
) -> Reading:
    bands = ("low", "normal", "high")[: len(cuts) + 1]
    made = tuple(Cut(CutKind.VALUE, f"{c:g} {unit}", to_si(c, unit)) for c in cuts)
    seen = tuple(
        Observable(name if len(states) < 2 else f"{name} in {s}", name, s, bands, made, rows(*given))
        for s in states or (None,)
    )
    return Reading(
        name,
        ReadingKind.QUANTITY,
        unit=unit,
        accuracy=parse_accuracy(accuracy, unit) if accuracy else None,
        range=(to_si(span[0], unit), to_si(span[1], unit)) if span else None,
        states=states,
        observables=seen,
    )


def one_unit(
    events: tuple[Event, ...],
    readings: tuple[Reading, ...],
    checks: tuple[Check, ...] = (),
    remedies: tuple[Remedy, ...] = (),
    common: Common | None = None,
    altitude: float = 0.0,
    states: tuple[str, ...] = (),
) -> Site:
    kind = EquipmentType(
        "kind",
        states={s: s for s in states},
        events={e.name: e for e in events},
        readings={r.name: r for r in readings},
        checks={c.name: c for c in checks},
        remedies={r.name: r for r in remedies},
    )
    plan = SitePlan("place", altitude=altitude, units={"u": Unit("u", "kind", "u", "kitchen")})
    return join_site(plan, {"kind": kind}, common or Common())


def call_of(site: Site) -> Call:
    return Call(site, OPENED)


def rig(altitude: float = 0.0) -> Site:
    """A unit with a pressure, a temperature, a voltage, a yes/no and a one-of reading."""
    common = Common(
        hazards={"live_voltage": Hazard("live_voltage", "Keep your hands off")},
        setups={"gauges_on": Setup("gauges_on", 6.0)},
        instruments={
            "meter": Instrument("meter", parse_accuracy("1 % + 0.5 V", "V")),
            "probe": Instrument("probe", parse_accuracy("2 delta_degF", "degF")),
        },
        tools={"multimeter": "Multimeter"},
    )
    tells = (("worn", (1.0, 0.0, 0.0)), (None, (0.0, 1.0, 0.0)))
    return one_unit(
        (basic("worn", 0.01),),
        (
            quantity("suction", "psig", (20.0, 60.0), *tells, states=("running", "off")),
            quantity("box", "degF", (33.0, 41.0), *tells, accuracy="1 delta_degF", span=(-60.0, 200.0)),
            quantity("feed", "V", (10.0, 187.0), *tells),
            words("turns", ("yes", "no"), ("worn", (0.0, 1.0)), (None, (1.0, 0.0))),
            words("frost", ("none", "part", "full"), ("worn", (0.0, 0.5, 0.5)), (None, (1.0, 0.0, 0.0))),
        ),
        remedies=(Remedy("mend", (Ref("worn"),), 20.0),),
        common=common,
        altitude=altitude,
        states=("running", "off", "defrost"),
    )
