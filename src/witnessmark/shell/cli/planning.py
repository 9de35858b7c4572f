"""`plan` and `fit`: the cheapest way that holds, and the use of what lies on the shelf; as a table or as data."""

import sys
from collections.abc import Iterable
from itertools import groupby
from pathlib import Path

from witnessmark.desk.plan_data import fit_data, plan_data
from witnessmark.desk.planning import plan_of_job
from witnessmark.desk.state import State, state
from witnessmark.explain.dialect import catalogue_said
from witnessmark.explain.planned import amount, conflict_words, missing_words, place, questions_words, why_item
from witnessmark.plan.result import Item, Plan, Planned
from witnessmark.plan.solve import OUT_OF_TIME
from witnessmark.quantity.show import show_chance
from witnessmark.record.replay import replay
from witnessmark.shell.cli.opening import events_of
from witnessmark.shell.cli.saying import machine
from witnessmark.shell.quiet import quiet
from witnessmark.shell.resources import catalogue

GOVERNS = "Limits and prices are those you entered; service information and licensed practice govern."


def plan(job: str, data: Path, *, as_json: bool, strict: bool, unit: str, words: str = "") -> int:
    """Print the plan of a job; the exit status: 1 when strict and nothing holds as surely as asked."""
    spoken = catalogue() if as_json else catalogue_said(catalogue(), words)
    opened = state(replay(events_of(job, data)), spoken)
    found = plan_of_job(opened, quiet)
    if as_json:
        machine(plan_data(opened, found))
    else:
        _print(opened, found, unit)
    held = found.status not in ("impossible", OUT_OF_TIME) and found.conflict is None
    return 1 if strict and not held else 0


def _print(opened: State, found: Planned, unit: str) -> None:
    from rich.console import Console

    console = Console(highlight=False, width=None if sys.stdout.isatty() else 160)

    def say(text: str) -> None:
        console.print(text, markup=False)

    say(f"{opened.job.id} · {opened.job.header.get('engine') or ''} · plan: {found.status}")
    if found.status == OUT_OF_TIME:
        say("The solver ran out of time. Nothing was shown to be impossible: pin or forbid some work, and plan again.")
    if found.plans:
        for line in plan_lines(opened, found.plans[0], unit):
            say(line)
    for one in found.plans[1:]:
        say(f"{one.name}  {one.kind}: {money(one)}, {clock(one.minutes)}, right first time {chance(one)}")
    for line in conflict_words(found.conflict, opened.catalogue, unit) if found.conflict else ():
        say(line)
    for words in questions_words(found.questions, opened.catalogue, unit):
        say(f"? {words}")
    for lost in found.missing:
        say(f"not known: {missing_words(lost, opened.catalogue)}")
    say(GOVERNS)


def plan_lines(opened: State, one: Plan, unit: str) -> Iterable[str]:
    """A plan, line by line, in working order."""
    yield f"{one.name}  {one.kind}: {money(one)}, {clock(one.minutes)}, right first time {chance(one)}"
    if one.status != "optimal":
        yield f"   not proven the cheapest: up to {one.gap:.2f} {one.currency} might still be saved"
    for operation, several in groupby(one.items, key=lambda item: item.operation):
        items = list(several)
        term = opened.catalogue.operations[operation].term
        cost = sum(item.cost for item in items)
        yield f"   {term}  {cost:.2f}  {clock(sum(item.minutes for item in items))}"
        for item in items:
            yield f"      {place(item.location)}{_how_much(item, unit)}: {why_item(item, opened.catalogue, unit)}"


def _how_much(item: Item, unit: str) -> str:
    if item.amount is None:
        return ""
    if item.least is None or item.most is None or item.least == item.most:
        return f" {amount(item.amount, unit)}"
    return f" {amount(item.amount, unit)} ({amount(item.least, unit)} to {amount(item.most, unit)})"


def money(one: Plan) -> str:
    """The cost of a plan with its currency."""
    return f"{one.cost:.2f} {one.currency}".strip()


def clock(minutes: float) -> str:
    """Minutes as a bench counts them: `4 h 30`."""
    whole = round(minutes)
    return f"{whole // 60} h {whole % 60:02}" if whole >= 60 else f"{whole} min"


def chance(one: Plan) -> str:
    """The chance that all holds at the first try."""
    return "not tried" if one.first_pass_yield is None else show_chance(one.first_pass_yield)


def fit(job: str, data: Path, *, as_json: bool) -> int:
    """Print what goes where of shims and what is left of adjusters."""
    opened = state(replay(events_of(job, data)), catalogue())
    found = fit_data(opened)
    if as_json:
        machine(found)
        return 0
    from rich.console import Console

    console = Console(highlight=False, width=None if sys.stdout.isatty() else 160)
    for line in fit_lines(found):
        console.print(line, markup=False)
    return 0


def fit_lines(found: dict[str, object]) -> Iterable[str]:
    """The use of the shelf, line by line."""
    yield f"{found['job']} · shims and adjusters, {found['for']}, in {found['unit']}; set after re-measuring"
    shims, left, unfit, buy = (list(found[key]) for key in ("shims", "adjusters", "unfit", "buy"))  # type: ignore[call-overload]
    for one in shims:
        has = "not read" if one["has"] is None else f"{one['has']:g}"
        source = f"from {place(one['came_from'])}" if one["came_from"] else one["from"]
        yield f"   {place(one['location'])}: has {has}, needs {one['needed']:.3f}, gets {one['gets']:g} ({source})"
    for one in unfit:
        yield f"   {place(one['location'])}: needs {one['needed']:.3f}: none fits, {one['why']}"
    if buy:
        yield "   buy " + ", ".join(f"{one['quantity']} × {one['size']:g}" for one in buy)
    for one in left:
        yield (f"   {place(one['location'])}: plunger in by {one['preload']:.2f}, {one['inward']:.2f} left inward, "
               f"{one['outward']:.2f} outward")  # fmt: skip
    for where in list(found["unread"]):  # type: ignore[call-overload]
        yield f"   {place(where)}: lash or shim is not known"
    if not shims and not left and not unfit:
        yield "   nothing to fit: this gear has neither shims with sizes in the price list nor plungers with limits"
