"""The API fuzzed from its own description: no 500, every answer as described, every refusal a sentence, nothing half."""

import re

import pytest
import schemathesis
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from schemathesis import GenerationMode
from schemathesis.checks import CHECKS, load_all_checks

from shell.web.shop import JOB, LIMITS, TERN, Shop
from witnessmark.record.export import write_job
from witnessmark.shell.resources import catalogue
from witnessmark.shell.web.app import create_app

pytestmark = pytest.mark.slow
NAMES = ("not_a_server_error", "status_code_conformance", "content_type_conformance", "response_schema_conformance")
load_all_checks()
CHECKED = [CHECKS.get_one(name) for name in NAMES]
LEFT_OUT = "/api/jobs/{job}/stream"  # it never ends; tests of the stream hold it
BANNED = re.compile(r"\binvalid\b|error occurred|\bfailed\b|\bplease\b|Traceback", re.IGNORECASE)
JOB_FILE = """\
format: witnessmark-job-1
job: {id: HL-8, engine: Wren 125, invented: true}
engine: {layout: inline, cylinders: 1, valves: {inl: 1, exh: 1}, gear: rocker}
gauges: {M-1: {kind: micrometer, unit: mm, resolution: 0.001}}
readings: [{characteristic: stem_diameter, place: inl-1/top/along, gauge: M-1, raw: 5.951}]
"""
LIKELY = {
    "job": [JOB, JOB, "HL-9"], "characteristic": ["stem_diameter", "valve_lash", "guide_bore", "lobe_lift", "stem_hight"],
    "place": ["inl-1f/top/along", "inl-3f", "exh-2r/middle/across", "inl-99", "gasket-face/diagonal-1", "//"],
    "gauge": ["M-07", "M-11", "L-04", "assumed", "X-9"], "round": ["as found", "as assembled", "yesterday"],
    "line": ["5.951", "0.03 0.04", "0.2351", "5,951", "*", "*0", "*1", "*4", "*5", "*6", "-", "/", "", "nan", "1 5/8", "\u221271"],
    "supersedes": ["r1", "r2", "r99"], "event": ["r1", "r3", "e1", "nobody"], "reading": ["r1", "r2", "nobody"],
    "digit": ["1", "9"], "set_to": ["6.000", "0", "x"], "low": ["5.94", "x", ""], "high": ["5.9", "0.1", ""],
    "unit": ["mm", "in", "furlong"], "text": [LIMITS, LIMITS.replace("5.940", "five"), "a: &a [*a]", "\0", JOB_FILE, JOB_FILE.replace("5.9", "x")],
    "engine": [TERN, {**TERN, "cylinders": 17}, {**TERN, "valves": 5}, {**TERN, "banks": 3}, {"layout": None}, {}],
    "also_measure": [["stem_height"], ["stem_hight"]],
    "fields": [{"kind": "micrometer", "unit": "mm", "resolution": 0.001}, {"kind": "leaves", "set": 5}, {"kind": [1]}],
}  # fmt: skip


@pytest.fixture(scope="module")
def shop(tmp_path_factory):
    shop = Shop(tmp_path_factory.mktemp("fuzz"))
    shop.open_job()
    shop.measure()
    yield shop
    shop.store.close()


@pytest.fixture(scope="module")
def api(shop):
    return schemathesis.openapi.from_asgi("/api/openapi.json", shop.app(hosts=["localhost", "testserver"]))


def operations():
    """Method and address of everything that the description names."""
    described = create_app(None, catalogue(), str, str).openapi()["paths"]
    return sorted((method, path) for path, methods in described.items() for method in methods if path != LEFT_OUT)


def likely(case, draw):
    """Exchange what was made up by words that the bench knows, more often than not, so that the deeper doors open."""
    for place in (case.path_parameters, case.body):
        for key in sorted(set(place) & set(LIKELY)) if isinstance(place, dict) else ():
            if draw(st.integers(0, 3)):
                place[key] = draw(st.sampled_from(LIKELY[key]))
    return case


GOOD, BAD = (GenerationMode.POSITIVE, 40), (GenerationMode.NEGATIVE, 25)
ASKED = [
    (method, path, *how) for method, path in operations() for how in ((GOOD, BAD) if method == "post" else (GOOD,))
]


@pytest.mark.parametrize(("method", "path", "mode", "most"), ASKED)
def test_whatever_is_sent_is_answered_as_described(shop, api, method, path, mode, most):
    sent = api[path][method].as_strategy(generation_mode=mode)

    @settings(max_examples=most, derandomize=True, deadline=None, suppress_health_check=list(HealthCheck))
    @given(data=st.data())
    def ask(data):
        case = data.draw(sent)
        if mode is GenerationMode.POSITIVE:
            likely(case, data.draw)
        before = len(shop.store.events(JOB))
        answer = case.call()
        case.validate_response(answer, checks=CHECKED)
        told(answer)
        kept(shop, before, answer)

    ask()


def told(answer):
    """A refusal says what, where, what to do, in our words."""
    if answer.status_code >= 400:
        said = answer.json()
        assert set(said) == {"what", "where", "do", "faults"} and said["what"].strip(), said
        assert not BANNED.search(said["what"] + said["do"]), said


def kept(shop, before, answer):
    """What is refused leaves the log as it was, and whatever was kept can be judged and exported."""
    after = len(shop.store.events(JOB))
    assert after == before or answer.status_code < 300
    if after != before:
        state = shop.state()
        assert state.judged and write_job(shop.store.events(JOB))
