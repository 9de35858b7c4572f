"""The API fuzzed from its own description: every status is a documented one, and none is ours to be ashamed of."""

import pytest
import schemathesis
from hypothesis import HealthCheck, given, settings
from schemathesis import checks

from shell.web.shop import JOB, Shop

CHECKS = [checks.not_a_server_error, checks.status_code_conformance, checks.content_type_conformance,
          checks.response_schema_conformance]  # fmt: skip


@pytest.fixture(scope="module")
def operations(tmp_path_factory):
    shop = Shop(tmp_path_factory.mktemp("described"))
    shop.open_job()
    shop.measure()
    described = schemathesis.openapi.from_asgi("/api/openapi.json", shop.app(hosts=["testserver", "localhost"]))
    # The stream has no end, so it has tests of its own.
    yield [found.ok() for found in described.exclude(path_regex="/stream$").get_all_operations()]
    shop.store.close()


def test_every_answer_is_a_documented_one(operations):
    assert len(operations) > 15
    for operation in operations:
        fuzz(operation)


def fuzz(operation):
    @settings(max_examples=12, deadline=None, database=None, suppress_health_check=list(HealthCheck))
    @given(case=operation.as_strategy())
    def answers(case):
        if len(str(case.path_parameters.get("job", ""))) % 2:
            case.path_parameters["job"] = JOB  # half of the cases reach a job that is there
        case.validate_response(case.call(), checks=CHECKS)

    answers()
