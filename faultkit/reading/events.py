"""Bodies of events: basic events, gates, their causes; and loops among them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from faultkit.model.types import Event, Gate, Link
from faultkit.problems import Where
from faultkit.reading.chances import other_share, prior, strength
from faultkit.reading.lookup import find_events, find_house
from faultkit.reading.loops import note_loops
from faultkit.reading.mistakes import basis, deprecated, flag, headed, one_word, title_of
from faultkit.reading.nodes import Node
from faultkit.reading.scopes import Scope

__all__ = ["check_event_loops", "read_event", "read_links"]

#: Share of an any_of gate's prior that causes not listed have, unless the author says otherwise.
OTHER = 0.02
_FORMS = ("how_common", "any_of", "all_of", "at_least")
#: Keys that only some forms take.
_ONLY = {
    "complete": ("any_of",),
    "other": ("any_of",),
    "of": ("at_least",),
    "broken_by": ("how_common",),
    "intermittent": ("how_common",),
}


def read_event(scope: Scope, name: str, node: Node, where: Where) -> Event | None:
    """One event with full names; None with a mistake noted."""
    form = _form(scope, name, node, where)
    if form is None:
        return None
    title = headed(scope.label, node.text("title") or title_of(name))
    spoken = node.text("plain")
    given = prior(node.value["how_common"], scope.mistakes) if form == "how_common" else None
    inputs, k, complete, other = _gate(scope, name, node, form)
    causes = node.get("broken_by")
    return Event(
        scope.prefix + name,
        Gate.BASIC if form == "how_common" else Gate(form),
        title,
        headed(scope.spoken, spoken) if spoken else title.lower(),
        inputs,
        k,
        given,
        complete,
        other,
        read_links(scope, causes, "broken_by", house=False) if causes is not None else (),
        flag(node.get("stays"), scope.mistakes),
        flag(node.get("intermittent"), scope.mistakes),
        find_house(scope, node.get("only_with")),
        basis(node, scope.source),
        where,
        deprecated(node, scope.prefix),
    )


def _form(scope: Scope, name: str, node: Node, where: Where) -> str | None:
    forms = [f for f in _FORMS if node.get(f) is not None]
    if len(forms) != 1:
        wrong = "is both " + " and ".join(forms) if forms else "is neither a basic event nor a gate"
        scope.bad(where, f"event '{name}' {wrong}", f"one of {', '.join(_FORMS)}")
        return None
    for key, allowed in _ONLY.items():
        if node.get(key) is not None and forms[0] not in allowed:
            scope.bad(
                node.at_key(key),
                f"'{key}' of event '{name}' means nothing beside {forms[0]}",
                f"{key} only with {allowed[0]}",
            )
    return forms[0]


def _gate(scope: Scope, name: str, node: Node, form: str) -> tuple[tuple[Link, ...], int, str, float]:
    """Inputs, k, complete and other of a gate; nothing for a basic event."""
    if form == "how_common":
        return (), 0, "", 0.0
    listed = node.get("of") if form == "at_least" else node.get(form)
    inputs = read_links(scope, listed, f"the inputs of '{name}'") if listed is not None else ()
    if listed is None or not listed.value:
        scope.bad(
            node.at_key(form),
            f"gate '{name}' has no input",
            "of: [<events>]" if form == "at_least" else f"{form}: [<events>]",
        )
    if form == "at_least":
        return inputs, _threshold(scope, name, node.value["at_least"], inputs), "", 0.0
    if form == "all_of":
        return inputs, 0, "", 0.0
    reason, other = node.get("complete"), node.get("other")
    if reason is not None and other is not None:
        scope.bad(
            node.at_key("other"),
            f"gate '{name}' is complete and has other causes",
            "either complete: <reason>, or other: <share>",
        )
    if reason is not None:
        return inputs, 0, one_word(reason, scope.mistakes, "the reason why there are no other causes"), 0.0
    return inputs, 0, "", (other_share(other, scope.mistakes) or OTHER) if other is not None else OTHER


def _threshold(scope: Scope, name: str, node: Node, inputs: tuple[Link, ...]) -> int:
    k = node.value
    if not isinstance(k, int) or isinstance(k, bool) or k < 1:
        scope.bad(node.where, f"at_least of gate '{name}' is no count", "a whole number, 1 or more")
        return 1
    # How many units a reverse join leads to is known only at a site.
    if k > len(inputs) and inputs and not any(link.ref.each for link in inputs):
        scope.bad(
            node.where, f"at_least {k} of {len(inputs)} inputs can never hold", f"at most {len(inputs)}"
        )
    return k


def read_links(scope: Scope, node: Node, place: str, *, house: bool = True) -> tuple[Link, ...]:
    """Causes from a list of events and ``{event: how often}``, or one mapping of these; each once."""
    links: list[Link] = []
    for member in node.list():
        pairs: list[tuple[Node, Node | None]] = [(Node(member.at_key(k), k), n) for k, n in member.items()]
        for named, often in pairs or [(member, None)]:
            acts = strength(often, scope.mistakes) if often is not None else 1.0
            for ref in find_events(scope, named, house=house):
                if any(link.ref == ref for link in links):
                    scope.bad(named.where, f"'{named.value}' stands twice in {place}", "each event once")
                elif acts is not None:
                    links.append(Link(ref, acts))
    return tuple(links)


def check_event_loops(events: Mapping[str, tuple[Event, Scope]], prefixes: Iterable[str]) -> None:
    """Note each loop of events that cause themselves. Joins are leaves here."""
    note_loops(
        {name: _causes(event) for name, (event, _) in events.items()},
        {name: (event.where or scope.node.where, scope) for name, (event, scope) in events.items()},
        prefixes,
        "events cause each other in a loop",
        "one of these links must go: make one of them a reading's row or a separate basic event",
    )


def _causes(event: Event) -> list[str]:
    refs = (link.ref for link in (*event.inputs, *event.broken_by))
    return [ref.name for ref in refs if ref.join is None]
