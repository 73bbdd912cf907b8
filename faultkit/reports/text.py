"""A diagnosis as text: what is proved and why, what is suspected, what to do next."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from faultkit.call import Call
from faultkit.diagnosis.result import Diagnosis, EventResult, NextCheck, Outcome, Proof, Settles, Step, Verdict
from faultkit.evidence.look import FactStatus
from faultkit.reports.words import Speaker, minutes, percent, wrapped

__all__ = ["proof_lines", "render_text"]

SUSPECTS, CHECKS, SETS = 6, 3, 4
#: Suspects below this chance are counted, not listed.
WORTH_LISTING = 0.02


def render_text(call: Call, diagnosis: Diagnosis) -> str:
    """The whole report as plain text, at most 92 columns."""
    writer = _Writer(call, diagnosis)
    return "\n".join(writer.lines()) + "\n"


def proof_lines(call: Call, diagnosis: Diagnosis, proof: Proof) -> list[str]:
    """Facts and steps of one proof, as in the whole report."""
    return _Writer(call, diagnosis).proof(proof)


class _Writer:
    def __init__(self, call: Call, diagnosis: Diagnosis) -> None:
        self.call = call
        self.d = diagnosis
        self.say = Speaker(call)

    def lines(self) -> list[str]:
        opened = datetime.fromisoformat(self.call.opened)
        head = self.call.title or self.call.name or "call"
        out = [head, f"{self.say.site.plan.title or self.say.site.name}, {opened:%Y-%m-%d %H:%M}", ""]
        for part in (
            self.conflicts(), self.confirmed(), self.more(), self.suspects(), self.facts(), self.ruled_out(),
            self.next(),
        ):
            if part:
                out += [*part, ""]
        return out[:-1]

    # -- what is known --------------------------------------------------------

    def conflicts(self) -> list[str]:
        if self.d.consistent:
            return []
        out = ["THESE FACTS CANNOT ALL BE TRUE"]
        for n, c in enumerate(self.d.conflicts, 1):
            out.append(f"  {n}. one of these is wrong, or the tree is:")
            for f in c.facts:
                out += wrapped(f"- {self.say.fact(f)}", 5, 7)
            for check in c.retake[:3]:
                out += wrapped(f"take again: {self.say.check(check)} [{check}]", 5, 7)
            rows = "; ".join(f"{sign} under {row}" for sign, row in c.rows)
            out += wrapped(f"always/never rows involved: {rows}", 5, 7)
        out += wrapped(
            "Until one is taken again, chances below treat every fact as 1 % doubtful; proved is only "
            "what follows from the facts that clash with nothing.", 2,
        )
        return out

    def confirmed(self) -> list[str]:
        found = self.d.of(Verdict.CONFIRMED)
        causes = [e for e in found if e.basic]
        out = [f"PROVED CAUSES ({len(causes)})"]
        if not causes:
            out.append("  none yet")
        for n, e in enumerate(causes, 1):
            out += wrapped(f"{n}. {self.say.event(e.event)} [{e.event}]", 2, 5)
            if e.proof:
                out += self.proof(e.proof)
            for remedy in self.say.remedies_of(e.event):
                out += wrapped(f"mended by: {remedy}", 6, 8)
        rest = [e for e in found if not e.basic]
        if rest:
            out.append("  also proved, with the facts that prove it:")
            for unit, names in self.by_unit(rest).items():
                out += wrapped(f"{unit}: " + "; ".join(names), 4, 6)
        return out

    def by_unit(self, events: Iterable[EventResult]) -> dict[str, list[str]]:
        """Titles of events under the title of their unit, each with the facts of its proof."""
        out: dict[str, list[str]] = {}
        for e in events:
            facts = f" [{', '.join(e.proof.facts)}]" if e.proof else ""
            out.setdefault(self.say.unit(e.event), []).append(self.say.site.title(e.event) + facts)
        return out

    def proof(self, proof: Proof) -> list[str]:
        out = ["      because"]
        for f in proof.facts:
            out += wrapped(f"- {self.say.fact(f)}", 8, 10)
        out.append("      so")
        for step in proof.steps:
            out += wrapped(f"- {self.step(step)}", 8, 10)
        if proof.premises:
            rests = ", ".join(f"{name} {text}" for name, text in proof.premises)
            out += wrapped(f"rests on the nameplate: {rests}", 6, 8)
        if proof.retake:
            out += wrapped(f"rests on one reading; take it again with: {self.say.check(proof.retake[0])}", 6, 8)
        return out

    def step(self, s: Step) -> str:
        title = self.say.site.title
        needs = [title(n) + ("" if v else ": no") for n, v in s.needs]
        if s.rule == "reading":
            bands = next((look.bands for look in self.d.looks if look.sign == s.via), ())
            why = f"{self.say.sign(s.via)} reads {' or '.join(b for b, _ in bands)}"
            if needs:
                why += ", and " + ", ".join(needs)
        else:
            why = _RULES[s.rule] + "; ".join(needs)
        return f"{title(s.event)}: {'yes' if s.value else 'no'} ({why})"

    def more(self) -> list[str]:
        open_ones = [
            x for x in self.d.explained if x.status == "unexplained" or x.further.high >= WORTH_LISTING
        ]
        if not open_ones:
            return []
        out = [f"MORE TO FIND: chance of a further fault {percent(self.d.further_fault)}"]
        for x in open_ones:
            words = "not explained by what is proved" if x.status == "unexplained" else "perhaps explained"
            out += wrapped(f"- {self.say.sign(x.sign)}: {words}, further cause {percent(x.further)}", 2, 4)
        best = [e for e in self.d.explanations if len(e.events) <= 4][:SETS]
        if best:
            out.append("  smallest sets of causes that explain everything abnormal, likeliest first:")
            for e in best:
                out += wrapped("- " + " + ".join(self.say.event(x) for x in e.events), 4, 6)
        return out

    def suspects(self) -> list[str]:
        listed = [e for e in self.d.suspects() if e.probability.high >= WORTH_LISTING][:SUSPECTS]
        if not listed:
            return []
        out = ["SUSPECTED (not proved)"]
        for e in listed:
            out += wrapped(f"{percent(e.probability):>11}  {self.say.event(e.event)} [{e.event}]", 2, 15)
            out += self.reasons(e)
        if self.d.order_rests_on:
            names = ", ".join(self.say.event(n) for n in self.d.order_rests_on[:4])
            out += wrapped(f"The order rests on assumed frequency of: {names}", 2, 4)
        return out

    def reasons(self, e: EventResult) -> list[str]:
        out: list[str] = []
        if e.only_listed_cause_of:
            other = percent(e.other) if e.other else ""
            out += wrapped(
                f"the only listed cause left of {self.say.site.title(e.only_listed_cause_of)}; "
                f"chance of a cause not listed {other}", 15, 17,
            )
        for word, sign in (("speaks for it", 1), ("speaks against it", -1)):
            best = [w for w in e.weights if w.decibans * sign > 1.0][:2]
            if best:
                facts = "; ".join(f"{self.say.fact(w.fact)} ({w.decibans:+.0f} db)" for w in best)
                out += wrapped(f"{word}: {facts}", 15, 17)
        for word, settles in (("would confirm", e.would_confirm), ("would rule out", e.would_rule_out)):
            if settles:
                out += wrapped(f"{word}: {self.settles(settles[:2])}", 15, 17)
        return out

    def settles(self, found: Iterable[Settles]) -> str:
        return "; ".join(f"{self.say.sign(s.sign)} {' or '.join(s.bands)}" for s in found)

    # -- the facts ------------------------------------------------------------

    def facts(self) -> list[str]:
        out: list[str] = []
        for look in self.d.looks:
            if look.too_close:
                bands = " or ".join(f"{b} ({percent(s)})" for b, s in look.bands)
                out += wrapped(f"- too close to call: {self.say.sign(look.sign)} is {bands}", 2, 4)
        for f in self.d.facts:
            if f.status == FactStatus.NEEDS_STATE:
                out += wrapped(f"- kept, not used: {self.say.fact(f.fact)}: {f.why}", 2, 4)
            elif f.status in {FactStatus.SUPERSEDED, FactStatus.WITHDRAWN}:
                out += wrapped(f"- replaced: {self.say.fact(f.fact)}: {f.why}", 2, 4)
        if self.d.surprise > 3.0:
            out += wrapped(f"- the facts fit badly together ({self.d.surprise:.1f} bans): doubt the oddest one", 2, 4)
        if self.d.left_out:
            out += wrapped("- too much at once, chances are bounds; left out: " + ", ".join(self.d.left_out), 2, 4)
        return ["FACTS TO LOOK AT", *out] if out else []

    def ruled_out(self) -> list[str]:
        found = [e for e in self.d.of(Verdict.RULED_OUT) if e.basic and not e.event.endswith(".other")]
        if not found:
            return []
        out = [f"RULED OUT ({len(found)} causes)"]
        for unit, names in self.by_unit(found).items():
            out += wrapped(f"{unit}: " + "; ".join(names), 2, 4)
        return out

    # -- what to do -----------------------------------------------------------

    def next(self) -> list[str]:
        worth = [c for c in self.d.next_checks if c.saved > 0.0][:CHECKS]
        out = ["NEXT"]
        if self.d.conflicts:
            again = dict.fromkeys(check for c in self.d.conflicts for check in c.retake)
            out += wrapped("first take again what clashes: " + "; ".join(map(self.say.check, again)), 2, 4)
        if not worth:
            out += self.repair_first()
        for n, c in enumerate(worth, 1):
            out += self.check(n, c)
        if worth and self.d.while_there:
            out += wrapped(
                "worth doing while there: " + "; ".join(self.say.check(c) for c in self.d.while_there), 5, 7
            )
        if worth and self.d.next_repairs:
            out += ["  or repair without another check:", *self.repair_first()]
        for b in self.d.blocked:
            why = ", ".join(_REFUSALS[kind].format(what) for kind, what in b.reasons)
            out += wrapped(f"- not now: {self.say.check(b.check)}: {why}", 2, 4)
        return out if len(out) > 1 else []

    def repair_first(self) -> list[str]:
        out: list[str] = []
        for r in self.d.next_repairs:
            out += wrapped(
                f"- {self.say.remedy(r.remedy, r.events)}: chance that it is needed {percent(r.probability)}, "
                f"{minutes(r.minutes)} with its proof", 4, 6,
            )
        return out

    def check(self, n: int, c: NextCheck) -> list[str]:
        site_check = self.say.site.checks[c.check]
        price = f"{minutes(c.minutes)} in all"
        if c.travel:
            price += f", {minutes(c.travel)} of it on the way to {site_check.place}"
        out = wrapped(f"{n}. {self.say.check(c.check)} [{c.check}]", 2, 5)
        for caution, source in self.say.cautions(c.hazards):
            out += wrapped(f"CAUTION: {caution}" + (f" ({source})" if source else ""), 5, 7)
        out += wrapped(f"{price}; saves {_saved(c.saved)}; power: {site_check.check.power.value}", 5, 7)
        if c.setups:
            shown = [self.say.site.common.setups[s].title if s in self.say.site.common.setups else s for s in c.setups]
            out += wrapped("set up: " + ", ".join(shown), 5, 7)
        for step in site_check.check.steps:
            out += wrapped(f"- {step}", 5, 7)
        for o in c.outcomes[:4]:
            out += self.outcome(o, site_check.unit)
        return out

    def outcome(self, o: Outcome, unit: str) -> list[str]:
        bands = ", ".join(
            (f"{self.say.site.all_readings[self.say.site.signs[s].reading].reading.title} " if len(o.bands) > 1 else "")
            + band
            for s, band in o.bands
        )
        text = f"if {bands} ({percent(o.probability)}): "
        def title(event: str) -> str:
            return self.say.site.title(event) if event.startswith(f"{unit}.") else self.say.event(event)

        parts = []
        causes = [e for e in o.confirms if e in self.d.events and self.d.events[e].basic]
        if causes:
            parts.append("proves " + ", ".join(title(e) for e in causes[:3]))
        gone = [e for e in o.rules_out if e in self.d.events and self.d.events[e].basic]
        if gone:
            parts.append("rules out " + ", ".join(title(e) for e in gone[:3]) + (" and more" if len(gone) > 3 else ""))
        open_ones = [(e, q) for e, q in o.leaders if e not in causes and q < 1.0 and q >= WORTH_LISTING][:2]
        if open_ones:
            parts.append("then first " + ", ".join(f"{title(e)} {percent(q)}" for e, q in open_ones))
        return wrapped(text + "; ".join(parts or ["little changes"]), 7, 9)


def _saved(m: float) -> str:
    """Minutes saved; beyond two hours the number only says that everything is still open."""
    return f"about {minutes(m)}" if m <= 120.0 else "hours of trying"


_RULES = {
    "cause": "caused by: ",
    "no_cause": "nothing is left that would cause it: ",
    "needed": "it cannot be without: ",
    "prevented": "it would show: ",
    "elimination": "the only one left: ",
    "cases": "every other combination contradicts the facts: ",
}

_REFUSALS = {
    "hazard": "the call forbids the hazard {}",
    "power": "the call forbids power {}",
    "tool": "{} is missing",
    "crew": "needs a crew of {}",
    "weather": "outdoors in {}",
    "role": "needs a {} person",
}
