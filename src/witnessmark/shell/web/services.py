"""What the pages need from the world, handed in once: the store, the trade's catalogue, the clock, fresh names."""

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, Protocol

from witnessmark.record.event import Event
from witnessmark.record.job import Job
from witnessmark.shell.web.snapshots import Snapshots

if TYPE_CHECKING:
    from witnessmark.catalogue.entry import Catalogue


class Store(Protocol):
    """The part of the store that the pages use."""

    @property
    def photos(self) -> Any:
        """The photos that lie beside the jobs: `.put(jpeg)` gives the hash, `.get(hash)` the bytes."""
        ...

    @property
    def papers(self) -> Any:
        """The papers of closed jobs: `.put(pdf)` gives the hash, `.get(hash)` the bytes."""
        ...

    def append(self, job: str, events: tuple[Event, ...], received_at: str) -> Any:
        """Durable when it returns: `.stored` holds the events with their seq, `.again` tells a repeat."""
        ...

    def events(self, job: str, after: int = 0) -> Any:
        """The events of a job after a seq, in order."""
        ...

    def jobs(self) -> Any:
        """Every job with its title."""
        ...

    def create(self, job: str, *args: Any, **named: Any) -> Any:
        """A new, empty job."""
        ...

    def job(self, job: str) -> Job:
        """The snapshot of a job."""
        ...

    def subscribe(self, job: str, hook: Callable[..., None]) -> Any:
        """Calls `hook` with what was stored, after each commit."""
        ...


@dataclass(frozen=True, slots=True)
class Services:
    """Handed to every router. `clock` gives the time as text with its zone; `fresh` gives an unused name."""

    store: Store
    catalogue: "Catalogue"
    clock: Callable[[], str]
    fresh: Callable[[], str]
    snapshots: "Snapshots" = field(init=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "snapshots", Snapshots(self.store, self.catalogue))
