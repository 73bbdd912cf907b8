"""Joining the units of the example site: names, shared supply, reverse joins, house events, forms."""

from __future__ import annotations

import pickle
from dataclasses import replace
from pathlib import Path

import pytest

import faultkit
from faultkit.loading import load_catalogue, load_site
from faultkit.model.catalogue import Catalogue
from faultkit.network.join import join_site
from faultkit.network.site import Site
from faultkit.reading import load_site_file
from faultkit.units import Quantity, parse_quantity

SITE = Path(__file__).parents[2] / "examples" / "site.yaml"


@pytest.fixture(scope="module")
def catalogue() -> Catalogue:
    return load_catalogue()


@pytest.fixture(scope="module")
def site(catalogue: Catalogue) -> Site:
    return load_site(SITE, catalogue)


def test_rail_and_base_share_one_supply(site: Site) -> None:
    for unit in ("rail", "base"):
        causes = {i.cause for e in site.events.values() if e.unit == unit for i in e.inputs}
        assert "kitchen_circuit.dead" in causes


def test_the_condensing_unit_sees_both_of_its_sections(site: Site) -> None:
    seen = {
        i.cause.split(".")[0] for e in site.events.values() if e.unit == "roof_unit" for i in e.inputs
    }
    assert {"rail", "base"} <= seen


def test_events_come_after_their_causes(site: Site) -> None:
    place = {name: n for n, name in enumerate(site.events)}
    assert all(place[i.cause] < place[e.name] for e in site.events.values() for i in (*e.inputs, *e.broken_by))


def test_a_house_event_switches_what_it_stands_for(catalogue: Catalogue) -> None:
    plan = load_site_file(SITE)

    def with_valve(fitted: bool) -> Site:
        unit = plan.units["roof_unit"]
        changed = replace(unit, settings={**unit.settings, "head_pressure_valve": fitted})
        return join_site(
            replace(plan, units={**plan.units, "roof_unit": changed}),
            catalogue.types, catalogue.common, calculators=catalogue.calculators,
        )

    on, off = with_valve(True), with_valve(False)
    open_on = {n.name for n in on.network(1).nodes}
    open_off = {n.name for n in off.network(1).nodes}
    assert {n for n in open_on - open_off if "head_pressure_valve" in n or "valve" in n}
    assert not open_off - open_on


def test_a_cut_follows_the_nameplate(catalogue: Catalogue, site: Site) -> None:
    plan = load_site_file(SITE)
    unit = plan.units["kitchen_circuit"]
    volts: Quantity = parse_quantity("230 V")
    changed = replace(unit, settings={**unit.settings, "supply_voltage": volts})
    other = join_site(
        replace(plan, units={**plan.units, "kitchen_circuit": changed}),
        catalogue.types, catalogue.common, calculators=catalogue.calculators,
    )
    name = "kitchen_circuit.outlet_voltage"
    assert other.signs[name].edges[1] == pytest.approx(2 * site.signs[name].edges[1])
    assert [p.text for p in other.signs[name].premises] == ["230 V"]


def test_a_site_can_be_pickled(site: Site) -> None:
    site.network(7)
    again = pickle.loads(pickle.dumps(site))  # noqa: S301 - our own bytes
    assert again == site
    assert again.memo == {}
    assert [n.name for n in again.network(7).nodes] == [n.name for n in site.network(7).nodes]


def test_what_a_screen_needs_to_ask(site: Site) -> None:
    forms = {f.name: f for f in site.readings("rail")}
    pan = forms["rail.warmest_pan"]
    assert (pan.kind, pan.measures, pan.unit) == ("quantity", "temperature", "degF")
    assert {"degF", "degC"} <= set(pan.units)
    assert pan.bands[""] == ("cold", "warm")
    assert pan.edges[""][0] == pytest.approx((41 - 32) / 1.8 + 273.15)
    fan = forms["rail.coil.fan.left.motion"]
    assert fan.states["called"].startswith("Section warm")
    assert fan.bands["called"]
    given = site.readings(check="rail.coil.look_at_fans")
    assert {f.name for f in given} >= {"rail.coil.fan.left.motion", "rail.coil.fan.right.motion"}


def test_a_form_takes_what_it_offers(site: Site) -> None:
    call = faultkit.Call(site, "2026-07-14T10:05")
    for form in site.readings():
        if form.kind != "quantity" or form.calculated or not form.edges:
            continue
        for state, bands in form.bands.items():
            edge = form.edges[state][0]
            si = faultkit.Call(site, call.opened).record(
                form.name, f"{_from_si(edge, form.unit):.9f} {form.unit}", **({"state": state} if state else {})
            )
            assert si.entries
            assert len(bands) == len(form.edges[state]) + 1


def _from_si(value: float, unit: str) -> float:
    from faultkit.units import from_si

    return from_si(value, unit)
