"""A store with the invented heads that have limits, sizes and prices, for tests of work, plan and order."""

from collections.abc import Iterator
from contextlib import contextmanager

import pytest

from shell.web.bench import bench
from witnessmark.shell.demo import demo_events

DAY = "2026-11-25T08:00:00Z"


@contextmanager
def heads(folder, *names) -> Iterator:
    """A client and its store with jobs of these names; the Wren is the smallest of them."""
    with bench(folder, jobs=False) as (client, store):
        for name in names:
            store.create(name, created_at=DAY, title=name, events=demo_events(name))
        yield client, store


def shop_of(*names):
    """A fixture: a client and its store with jobs of these names."""

    @pytest.fixture
    def shop(tmp_path):
        with heads(tmp_path, *names) as found:
            yield found

    return shop


def without(events, *kinds):
    """The events of a job without those of some kinds."""
    return [event for event in events if event.kind not in kinds]
