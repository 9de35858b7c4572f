"""Every sheet of the application, from the application itself: a new one cannot be left out of a test by being forgotten."""

from collections.abc import Iterable, Iterator
from typing import Any

from fastapi import FastAPI

from stories.head import JOB

# What stands in an address, so that a sheet of the half measured Tern 2.0 comes.
FILLED = {"job": JOB, "place": "inl-1f", "name": "stem_diameter", "characteristic": "stem_diameter",
          "joint": "head"}
# Not sheets: what they give instead.
OTHERS = {
    "/jobs/{job}/bench/fields": "the parts of the bench that are put in place",
    "/jobs/{job}/photos/{photo}": "a picture",
    "/jobs/{job}/sheets/{code}": "leads on to the bench",
    "/at/{job}/{place}": "leads on to the bench",
}
# Addresses of the same sheet that look different.
MORE = (
    f"/jobs/{JOB}/bench?characteristic=stem_diameter&place=inl-1f/top/along",
    f"/jobs/{JOB}/bench?characteristic=head_cracks",
    f"/jobs/{JOB}/bench?characteristic=stem_diameter&place=inl-1f/top/along&open=budget",
    f"/jobs/{JOB}/head?valve=inl-1f&values=shown",
    f"/jobs/{JOB}/head?group=cams",
    f"/jobs/{JOB}/head?group=head",
    f"/jobs/{JOB}/part/bolt-1",
    f"/catalogue/head_cracks?job={JOB}",
    f"/jobs/{JOB}/limits?entry=stem_diameter;inl;;;worst",
    f"/jobs/{JOB}/tighten/cam_caps_inl",
    f"/jobs/{JOB}/assemble?step=head_tight",
    "/jobs/HL-9999",
)


def templates(app: FastAPI) -> Iterator[str]:
    """The templates of all addresses that a browser may GET, without the API and without files."""
    for route in _routes(app.routes):
        path = route.path.replace(":path}", "}")
        if "GET" in (route.methods or ()) and not path.startswith(("/api/", "/static/")) and not path.endswith((".pdf", ".zip")):
            yield path


def _routes(routes: Iterable[Any]) -> Iterator[Any]:
    for route in routes:
        inner = getattr(route, "original_router", None)
        if inner is not None:
            yield from _routes(inner.routes)
        else:
            yield route


def sheets(app: FastAPI) -> list[str]:
    """Addresses of all sheets; AssertionError with the cure where one has a name that no test can fill."""
    found = []
    for path in dict.fromkeys(templates(app)):
        if path in OTHERS:
            continue
        names = [part.partition("}")[0] for part in path.split("{")[1:]]
        unknown = set(names) - set(FILLED)
        assert not unknown, f"{path}: give {sorted(unknown)} a value in FILLED of {__file__}, or put it in OTHERS"
        found.append(path.format_map(FILLED))
    return [*found, *MORE]
