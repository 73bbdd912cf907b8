"""Books say what the model says, and every name in them leads somewhere."""

from __future__ import annotations

import faultkit
from faultkit.model.catalogue import Catalogue
from faultkit.reports.tree.book import Book, Kind
from faultkit.reports.tree.cross import cross, under
from faultkit.reports.tree.grow import Shape, grow
from faultkit.reports.tree.of_type import book_of_section


def test_every_name_is_known(books: list[Book]) -> None:
    for book in books:
        events = [c.event for i in book.events.values() for c in i.below]
        events += [h for i in book.events.values() for h in i.only_with]
        events += [row.event for r in book.readings.values() for k in r.rulers for row in k.rows if row.event]
        events += [e for t in book.remedies.values() for e in (*t.ends, *(c.event for c in t.may_leave))]
        readings = [g for t in (*book.checks.values(), *book.remedies.values()) for g in (*t.gives, *t.disturbs)]
        readings += [g for t in book.remedies.values() for g, _ in t.prove]
        assert set(events) <= set(book.events)
        assert {book.reading_of(r) for r in readings} <= set(book.readings)


def test_every_event_with_causes_is_drawn_once_and_every_link_is_drawn(books: list[Book]) -> None:
    for book in books:
        spots = [s for p in grow(book) for s in p.spots]
        drawn = [s.event for s in spots if s.is_gate]
        reached = {s.event for s in spots if s.event}
        assert len(drawn) == len(set(drawn))
        off = {n for n in drawn if book.events[n].fixed is False}  # by a house event of the site: a gate over nothing
        assert set(drawn) - off == {n for n in reached if book.events[n].below}
        links = sum(len(book.events[n].below) + bool(book.events[n].damage) for n in drawn)
        leaks = sum(s.shape is Shape.OTHER for s in spots)
        assert len(spots) == len(book.tops()) + links + leaks
        assert sorted(s.index for s in spots) == list(range(len(spots)))


def test_transfers_have_the_number_of_the_gate_they_lead_to(books: list[Book]) -> None:
    for book in books:
        spots = [s for p in grow(book) for s in p.spots]
        numbers = {s.event: s.transfer for s in spots if s.is_gate and s.transfer}
        assert sorted(numbers.values()) == list(range(1, len(numbers) + 1))
        assert {s.event for s in spots if s.shape is Shape.TRANSFER} == set(numbers)
        assert all(s.transfer == numbers[s.event] for s in spots if s.shape is Shape.TRANSFER)


def test_the_parts_of_a_site_are_those_of_its_joined_events(books: list[Book]) -> None:
    site = next(b for b in books if b.units)
    assert not [i for i in site.events.values() if i.kind is Kind.OUTSIDE]
    assert site.events["rail.no_power"].causes[0].event == "kitchen_circuit.dead"
    assert site.events["rail.lid_switch"].fixed is True
    assert list(site.units) == ["kitchen_circuit", "roof_circuit", "rail", "base", "roof_unit"]


def test_every_symbol_is_used(tricky: Book) -> None:
    spots = [s for p in grow(tricky) for s in p.spots]
    assert {s.shape for s in spots} == set(Shape)
    assert next(s for s in spots if s.event == "two" and s.is_gate).text == "2/3"


def test_folding(books: list[Book]) -> None:
    for book in books:
        for p in grow(book, 1):
            assert max(s.depth for s in p.visible()) == 1
        for p in grow(book, 0):
            assert [s.event for s in p.visible()] == [p.top]
        for p, full in zip(grow(book), grow(book, 99), strict=True):
            assert [s.index for s in p.spots] == [s.index for s in full.visible()]
            assert len(p.visible()) <= 40


def test_under_an_event_only_what_it_stands_on(tricky: Book) -> None:
    book = under(tricky, "two")
    assert set(book.events) == {"two", "a", "b", "c", "fitted"}
    assert set(book.readings) == {"size"}
    assert [p.top for p in grow(book)] == ["two"]


def test_a_check_of_a_calculated_reading_gives_its_inputs(catalogue: Catalogue, books: list[Book]) -> None:
    rail = next(b for b in books if b.name == "prep_rail_forced_air")
    found = cross(rail).checks["coil.superheat"]
    given = {g for c in found for g in rail.checks[c].gives}
    assert {"coil.coil_outlet_pressure", "coil.coil_outlet_temperature"} <= given
    assert catalogue.types["prep_rail_forced_air"].checks


def test_a_section_on_its_own(catalogue: Catalogue) -> None:
    section = faultkit.loading.load_sections(installed=False)["forced_air_coil"]
    assert section is not None
    book = book_of_section(section.kind, section.needs, catalogue.common)
    assert book.events["power_lost"].kind is Kind.OUTSIDE
    assert book.events["power_lost"].title == "No voltage at the section's terminal strip"
    assert "feed_short" in {s.event for p in grow(book) for s in p.spots}
