"""What a report says comes from the record: every mass, minute and time, every open item, no money of its own."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest

import faultkit
from faultkit.diagnosis.result import Probability, Verdict
from faultkit.problems import InputError
from faultkit.reports.visit.chain import outline
from faultkit.reports.visit.data import Report
from faultkit.reports.visit.gather import build_report
from faultkit.reports.visit.prices import load_prices
from faultkit.reports.visit.report import READERS, render
from faultkit.reports.visit.say import likely

Both = tuple[faultkit.Call, Report]

LB = 0.45359237  # exact, international pound


def flat(text: str) -> str:
    return " ".join(text.split())


def test_refrigerant_is_summed_with_its_accuracy(leak: Both) -> None:
    call, report = leak
    out, in_ = report.totals
    assert (out.way, out.refrigerant) == ("out", "R-404A")
    assert out.mass.kg == pytest.approx(3.4 * LB)
    assert in_.mass.kg == pytest.approx((5.0 + 1.25) * LB)
    assert in_.mass.accuracy == pytest.approx(0.2 * LB)
    for reader in READERS:
        said = flat(render(call, report, reader, "text"))
        assert "put in, in all: 6.25 ± 0.20 lb (2.835 ± 0.091 kg)" in said
        assert "taken out, in all: 3.40 ± 0.10 lb" in said
        assert "C-22" in said


def test_a_mass_without_accuracy_says_so(leak: Both) -> None:
    call = leak[0].add({
        "kind": "refrigerant", "unit": "roof_unit", "way": "in", "refrigerant": "R-404A", "mass": "8 oz",
        "time": "2026-06-09T20:10",
    })
    report = build_report(call, call.diagnose(advice=False))
    assert not report.totals[1].all_stated
    said = flat(render(call, report, "customer", "text"))
    assert "not every entry gave its accuracy" in said
    assert "0.50 lb (0.227 kg), accuracy not recorded" in said


def test_corrected_and_withdrawn_entries_are_corrected_and_withdrawn(leak: Both) -> None:
    call = leak[0].add({"kind": "correction", "corrects": "f1", "value": "49.1 degF"})
    call = call.add({"kind": "correction", "corrects": "g3", "retract": True})
    report = build_report(call, call.diagnose(advice=False))
    assert report.totals[1].mass.kg == pytest.approx(5.0 * LB)
    assert report.withdrawn == ("g3",)
    said = flat(render(call, report, "customer", "text"))
    assert "49.1 °F" in said
    assert "50.4 °F, at" not in said
    assert "(withdrawn)" in render(call, report, "shop", "text")


def test_time_above_the_limit_is_the_calculators(leak: Both) -> None:
    call, report = leak
    log = next(x for x in report.logs if x.food)
    assert log.entries == ("f1", "f14", "f15", "f16", "f17", "f19")
    # The same log, typed in by hand: minutes since 14:05.
    rows = "time (min), temperature (degF)\n0, 50.4\n270, 51.8\n290, 47.9\n310, 44.3\n330, 41.6\n350, 39.0"
    given = {"readings": rows, "accuracy": "0.7 delta_degF"}
    answer = faultkit.ask(faultkit.load_calculators()["cold_holding"], given)
    for name in ("above", "surely_above", "possibly_above", "highest", "unknown"):
        assert getattr(log, name) == pytest.approx(answer[name].value, abs=1e-6), name
    # By hand: 18:35 to 19:35 all above, then 41.6 to 39.0 in 20 minutes crosses 41 after 20 * 0.6 / 2.6 minutes.
    assert log.above == pytest.approx((60 + 20 * 0.6 / 2.6) * 60, abs=0.1)
    said = flat(render(call, report, "customer", "text"))
    assert "above 41 °F as read: 1 h 05 min" in said
    assert "4 h 30 min of this time is unknown" in said
    assert "local health authority" in said


def test_what_somebody_told_is_no_reading_of_food(leak: Both) -> None:
    call = leak[0].record("rail.warmest_pan", "90 degF", by="customer", time="2026-06-09T19:58")
    report = build_report(call, call.diagnose(advice=False))
    assert next(x for x in report.logs if x.food).rows == next(x for x in leak[1].logs if x.food).rows


def test_a_declined_remedy_stays_open_with_its_risk(leak: Both) -> None:
    call, report = leak
    item = next(o for o in report.open if o.kind == "declined")
    assert (item.what, item.events, item.proved) == ("roof_unit.clean_condenser", ("roof_unit.condenser_dirty",), True)
    assert "rail.pans_warm" in item.may_lead_to
    assert "roof_unit.high_pressure_tripped" in item.may_break
    said = flat(render(call, report, "customer", "text"))
    assert "You declined: Condensing unit on the roof: Wash the condenser" in said
    assert "For the food" in said
    assert "For the equipment" in said


def test_a_remedy_done_after_all_is_no_open_decision(leak: Both) -> None:
    call = leak[0].add({
        "kind": "remedy", "unit": "roof_unit", "remedy": "clean_condenser", "time": "2026-06-09T20:30",
    })
    report = build_report(call, call.diagnose(advice=False))
    assert "declined" not in {o.kind for o in report.open}
    assert "unproved" in {o.kind for o in report.open}


@pytest.mark.parametrize("reader", READERS)
def test_every_time_of_day_and_temperature_is_of_the_record(leak: Both, reader: str) -> None:
    call, report = leak
    times = {e.time[11:16] for e in call.entries} | {call.opened[11:16]}
    said = flat(render(call, report, reader, "text"))
    found = set(re.findall(r"\b\d\d:\d\d\b", said))
    assert len(found) > 10
    assert found <= times
    given = set(re.findall(r"[\d.]+(?= degF)", " ".join(str(e.to_dict()) for e in call.entries)))
    shown = set(re.findall(r"(?<![\d.])(?<!± )([\d.]+) °F", said))
    assert len(shown) > 5
    assert {float(x) for x in shown} <= {float(x) for x in given} | {41.0}


def test_minutes_are_those_between_entries_and_of_the_trees(leak: Both) -> None:
    call, report = leak
    assert report.minutes == 6 * 60 + 5  # 14:00 to 20:05; the complaint is the customer's
    remedies = call.site.remedies
    planned = sum(remedies[f"roof_unit.{r}"].remedy.minutes for r in ("repair_leak", "weigh_in_charge"))
    assert f"Repairs by the trees: {planned:g} min" in flat(render(call, report, "shop", "text"))
    assert report.until == "2026-06-09T20:05"


def test_the_customer_sees_neither_ids_nor_codes(calls: dict[str, Both]) -> None:
    for call, report in (both for name, both in calls.items() if name != "hostile"):
        said = render(call, report, "customer", "text")
        assert not re.search(r"\[[a-z]\w*[\w.]*\]", said)
        for name in (*call.site.events, *call.site.remedies, *call.site.all_readings):
            if "_" in name.rpartition(".")[2]:
                assert name not in said, name
        assert report.catalogue not in said


def test_the_shop_sees_every_entry_reading_and_the_catalogue(calls: dict[str, Both]) -> None:
    for call, report in calls.values():
        said = flat(render(call, report, "shop", "text"))
        assert report.catalogue in said
        assert [t.entry for t in report.taken] == [e.id for e in call.entries if e.kind == "fact"]
        for e in call.entries:
            assert e.id in said


def test_nothing_is_called_proved_that_the_engine_has_not_proved(calls: dict[str, Both]) -> None:
    for call, report in calls.values():
        d = call.diagnose(advice=False)
        for f in report.found:
            was = [p.verdict for p in d.events[f.event].past]
            assert Verdict.CONFIRMED in [*was, d.events[f.event].verdict]
            assert f.facts
        assert not {u.event for u in report.likely} & {f.event for f in report.found}
        assert "certain" not in render(call, report, "customer", "text").replace("uncertain", "")


def test_the_chain_goes_down_to_causes_and_up_to_the_complaint(calls: dict[str, Both]) -> None:
    spots = outline(calls["four_remedies"][1], short=True)
    told = [(s.depth, s.link, s.event) for s in spots]
    assert told == [
        (0, "", "rail.pans_warm"),
        (1, "may", "rail.coil.fan.left.motor_failed"),
        (2, "broke", "kitchen_circuit.splice_corroded"),
        (1, "may", "roof_unit.high_pressure_tripped"),
        (2, "broke", "roof_unit.condenser_dirty"),
    ]
    whole = outline(calls["four_remedies"][1], short=False)
    assert {s.event for s in spots} <= {s.event for s in whole}
    assert {f.event for f in calls["four_remedies"][1].found if f.basic} <= {s.event for s in whole}


def test_only_a_link_that_always_acts_is_said_to_have_caused(calls: dict[str, Both]) -> None:
    for call, report in calls.values():
        for link in report.links:
            if link.how == "caused" and link.cause in call.site.events:
                inputs = {x.cause: x.strength for x in call.site.events[link.effect].inputs}
                assert inputs[link.cause] == 1.0


def test_no_money_without_a_price_book(calls: dict[str, Both]) -> None:
    for name, (call, report) in calls.items():
        for reader in READERS:
            said = render(call, report, reader, "text")
            assert ("USD" in said) is (name == "priced")


def test_prices_are_the_books(calls: dict[str, Both]) -> None:
    money = calls["priced"][1].money
    assert money is not None
    sums = {x.what: x.sum for x in money.lines}
    assert sums["R-404A"] == 142.19  # 6.25 lb at 22.75 is 142.1875
    assert money.total == pytest.approx(4.5 + 38 + 142.19 + 410 + 95)
    assert money.missing == ()


def test_what_the_book_does_not_have_is_said(leak: Both, tmp_path: Path) -> None:
    path = tmp_path / "book.yaml"
    path.write_text("schema: 1\nprices: small\ncurrency: EUR\nparts: {braze_rod: 2}\n", encoding="utf-8")
    report = build_report(leak[0], leak[0].diagnose(advice=False), load_prices(path))
    assert report.money is not None
    assert report.money.missing == ("filter_drier", "R-404A")
    assert report.money.total == 2.0
    assert "in no sum: filter drier, R-404A" in flat(render(leak[0], report, "customer", "text"))


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("[1, 2]\n", "no price book"),
        ("schema: 1\ncall: c\n", "no price book"),
        ("schema: 1\nprices: p\ncurrency: dollars\n", "dollars"),
        ("schema: 1\nprices: p\ncurrency: USD\nparts: {fan: -1}\n", "-1"),
        ("schema: 1\nprices: p\ncurrency: USD\nparts: {fan: cheap}\n", "cheap"),
        ("schema: 1\nprices: p\ncurrency: USD\nparts: {fan: .nan}\n", "nan"),
        ("schema: 2\nprices: p\ncurrency: USD\n", "schema"),
        ("schema: 1\nprices: p\ncurrency: USD\nrefrigerants: {R-404A: {each: 2, per: cup}}\n", "cup"),
    ],
)
def test_a_bad_price_book_is_refused(tmp_path: Path, text: str, says: str) -> None:
    path = tmp_path / "book.yaml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(InputError, match=re.escape(says)):
        load_prices(path)


def test_a_call_closed_as_repaired_without_proof_says_so(calls: dict[str, Both]) -> None:
    call, _ = calls["four_remedies"]
    call = call.add({"kind": "closed", "outcome": "repaired", "time": "2026-07-14T16:40"})
    report = build_report(call, call.diagnose(advice=False))
    assert not report.closing.closable
    assert "do not prove all of it" in flat(render(call, report, "customer", "text"))
    good = replace(report, closing=replace(report.closing, closable=True, missing=()))
    assert "do not prove all of it" not in flat(render(call, good, "customer", "text"))


@pytest.mark.parametrize(
    ("p", "words"),
    [
        (0.95, "very likely"), (0.7, "likely"), (0.5, "about as likely as not"), (0.2, "unlikely"),
        (0.01, "very unlikely"),
    ],
)
def test_chances_have_words(p: float, words: str) -> None:
    assert likely(Probability(p, p)) == words
