"""What was put together, as tables of words: steps signed, runs at the bolts, traces, conditions of the tests."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from witnessmark.desk.left import open_doubts
from witnessmark.desk.sheets.order import Table
from witnessmark.desk.sheets.report_facts import cut, when
from witnessmark.record.job import Did, Job

DID = {"bolt_doubted": "in doubt: {why}", "bolt_settled": "settled: {how}"}


def step_table(job: Job) -> Table | None:
    """Every signature under a step, in the order of the record."""
    if not job.signed:
        return None
    rows = tuple((cut(one.text) or one.step, one.did, cut(one.note), one.by or "nobody named", when(one.at))
                 for one in job.signed)  # fmt: skip
    undone = tuple(n for n, one in enumerate(job.signed) if one.did != "done")
    return Table("Steps of assembly", ("step", "signed as", "note", "by", "when"), rows, (36, 11, 20, 12, 25), undone)


def run_tables(job: Job) -> Iterator[Table]:
    """One table for each run over the bolts of a joint: every bolt and stage, every doubt and what became of it."""
    doubts = {one.event for one in open_doubts(job.assembly).values()}
    for begun in job.assembly:
        if begun.kind == "tightening_begun":
            own = [one for one in job.assembly if one.body.get("run") == begun.event]
            heads = ("stage", "bolt", "what", "wrench · angle by", "final torque", "by", "when")
            strong = tuple(n for n, one in enumerate(own) if one.event in doubts)
            rows = tuple(_row(one, begun) for one in own)
            yield Table(_title(begun), heads, rows, (7, 7, 26, 17, 14, 11, 25), strong)


def trace_table(job: Job) -> Table | None:
    """The traces of torque over angle that came from a wrench, by name."""
    if not job.traces:
        return None
    rows = tuple((one.bolt, cut(one.name), f"{one.hash[:16]}", one.by or "nobody named", when(one.at))
                 for one in job.traces)  # fmt: skip
    return Table("Traces of torque over angle", ("bolt", "file", "hash begins with", "by", "when"), rows,
                 (8, 34, 24, 12, 25))  # fmt: skip


def conditions_table(job: Job) -> Table | None:
    """Under which conditions the tests were made; their results stand among the values of their round."""
    if not job.conditions:
        return None
    rows = tuple((name.replace("_", " "), cut(text)) for name, text in sorted(job.conditions.items()))
    return Table("Conditions of the tests", ("what", "entered"), rows, (40, 60))


def _title(begun: Did) -> str:
    body = begun.body
    what = f"{str(body['joint']).replace('_', ' ')}: {'loosened' if body['way'] == 'loosen' else 'tightened'}"
    told = (
        what, f"begun {when(begun.at)}" if begun.at else "", begun.by, _with("wrench", body.get("wrench")),
        _with("angle by", body.get("angle_by")), _with("threads", body.get("threads")), _extension(body),
    )  # fmt: skip
    return cut(", ".join(filter(None, told)))


def _with(word: str, value: Any) -> str:
    return f"{word} {value}" if value else ""


def _extension(body: Mapping[str, Any]) -> str:
    extension = body.get("extension")
    if not extension:
        return ""
    return "with an extension: " + ", ".join(f"{key} {extension[key]}" for key in sorted(extension))


def _row(one: Did, begun: Did) -> tuple[str, ...]:
    body = one.body
    what = stage_words(begun, str(body.get("stage", ""))) if one.kind == "bolt_turned" else DID[one.kind].format(**body)
    tools = (body.get("wrench") or begun.body.get("wrench"), body.get("angle_by") or begun.body.get("angle_by"))
    with_ = " · ".join(str(tool) for tool in tools if tool) if one.kind == "bolt_turned" else ""
    final = " ".join(str(body[key]) for key in ("final_torque", "unit") if body.get(key))
    note = f": {body['note']}" if body.get("note") else ""
    return (str(body.get("stage", "")), str(body["bolt"]), cut(what + note), with_, final, one.by or "nobody named",
            when(one.at))  # fmt: skip


def stage_words(begun: Did, number: str) -> str:
    """`torque 25 N·m`, `angle 90 deg`: a stage as the procedure says that the run was begun with."""
    stages = _stages(begun.body)
    if not number.isdigit() or not 1 <= int(number) <= len(stages):
        return "turned"
    stage = stages[int(number) - 1]
    return " ".join(str(stage[key]) for key in ("kind", "value", "unit") if stage.get(key)) or "turned"


def _stages(body: Mapping[str, Any]) -> Sequence[Mapping[str, Any]]:
    """The stages that the bolts went through; caps are drawn down before the first of them."""
    if body["way"] == "loosen":
        return ({"kind": "all a little first"}, {"kind": "out"})
    said = body["procedure"].get("stages")
    stages = [_stage(one) for one in said if isinstance(one, Mapping)] if isinstance(said, list | tuple) else []
    caps = str(body["procedure"].get("caps")).casefold() in ("true", "yes")
    return [{"kind": "caps drawn down evenly"}, *stages] if caps else stages


def _stage(one: Mapping[str, Any]) -> Mapping[str, Any]:
    """A stage as kind, value and unit, whether it is kept so or as `torque: 25`."""
    if "kind" in one:
        return one
    for kind, usual in _KINDS.items():
        if kind in one:
            value = "" if kind == "yield" else one[kind]
            again = f", again {one['again']}" if one.get("again") else ""
            return {"kind": f"to {kind}" if kind == "yield" else kind, "value": value,
                    "unit": (one.get("unit") or usual) + again}
    return {"kind": " ".join(f"{key} {value}" for key, value in one.items())}


_KINDS = {"torque": "N·m", "angle": "deg", "yield": "", "stretch": "mm"}
