"""The invented heads as the planner gets them, with limits, prices and readings changed for a test."""

from dataclasses import replace
from functools import cache

from witnessmark.desk.planning import bench_of
from witnessmark.desk.state import state
from witnessmark.limits.sheet import read_sheet
from witnessmark.plan.prices import read_prices
from witnessmark.record.replay import replay
from witnessmark.shell.demo import demo_events
from witnessmark.shell.resources import catalogue


@cache
def bench(name):
    """What a plan of a head is made of."""
    return bench_of(state(replay(demo_events(name)), catalogue()))


@cache
def job(name):
    return replay(demo_events(name))


def priced(made, **cost):
    """With another price for putting in the parts of some operations, and for doing them."""
    prices = made.prices
    work = {**prices.work, **{name: replace(prices.work[name], cost=each) for name, each in cost.items()}}
    parts = tuple(replace(one, cost=0.0) if one.fits in cost else one for one in prices.parts)
    return replace(made, prices=replace(prices, work=work, parts=parts))


def limited(made, limits, operations=""):
    """With other limits altogether: the body of a sheet."""
    text = ("format: witnessmark-limits-1\nsheet: {name: S, document: A book (invented), invented: yes}\nlimits:\n"
            f"{limits}operations:\n{operations}")  # fmt: skip
    return replace(made, sheet=read_sheet(text, "s.yaml", catalogue()), results=())


def listed(body):
    """A price list."""
    return read_prices(f"format: witnessmark-prices-1\nsheet: {{name: P, currency: EUR}}\n{body}", "p.yaml", catalogue())


def operations(plan):
    return {item.operation for item in plan.items}
